"""Harms done to supplies, protectors, grounds and loads."""

from __future__ import annotations

from collections.abc import Iterator

from harm import Found, kind
from harm_wires import device, is_power, runs
from installations import Plain

from installcheck.model.edits import Drop, Put, Swap

_PROTECTORS = ("breaker", "fuse", "current limiter")


def protectors(plain: Plain) -> Iterator[tuple[str, Plain]]:
    """Breakers, fuses and limiters by id."""
    for ident, supply in plain["supplies"].items():
        if supply.get("kind", supply.get("part", "")) in _PROTECTORS:
            yield ident, supply


def behind(plain: Plain, ident: str) -> tuple[str, ...]:
    """The runs that begin or end at a protector."""
    return tuple(i for i, r in runs(plain) if ident in (device(r.get("from", "")), device(r.get("to", ""))))


def rated(supply: Plain, amperes: float) -> list[tuple[str, str]]:
    """Words that give a protector another rating."""
    return [("kind", supply.get("kind", supply.get("part", ""))), ("rating", f"{amperes:g} A")]


def amperes(supply: Plain) -> float:
    """The rating of a protector."""
    return float(supply.get("rating", supply.get("size", "0 A")).split()[0])


def is_sense(ident: str) -> bool:
    """Whether a protector guards sense wires only."""
    return "sense" in ident or "volt" in ident


@kind(
    "protector above its wire",
    "AC 43.13-1B 11-48, table 11-3: the wire burns before the protector opens",
    most=2,
)
def large_breaker(plain: Plain) -> Iterator[Found]:
    for ident, supply in protectors(plain):
        bigger = 50.0 if amperes(supply) < 20 else 4 * amperes(supply)
        yield (
            [Put(("supplies", ident, word), value) for word, value in rated(supply, bigger)],
            f"fit {ident} of {bigger:g} A",
            (ident,),
        )


@kind("protector below its load", "it opens in normal use and takes the load away", most=2)
def small_breaker(plain: Plain) -> Iterator[Found]:
    for ident, supply in protectors(plain):
        if "alternator" in ident or ident in ("light breaker", "pump breaker", "lights breaker"):
            yield (
                [Put(("supplies", ident, word), value) for word, value in rated(supply, 1)],
                f"fit {ident} of 1 A",
                (ident,),
            )


@kind("protector passed by", "AC 43.13-1B 11-47: every wire to a load has a protector", most=2)
def bypassed(plain: Plain) -> Iterator[Found]:
    for ident, run in runs(plain):
        start = device(run.get("from", ""))
        if (
            start in dict(protectors(plain))
            and run["from"].endswith(".out")
            and not is_sense(start)
            and "bus" not in run["to"]
            and "shunt" not in run["to"]
        ):
            yield (
                [Put(("wire_runs", ident, "from"), "main bus")],
                f"join {ident} to the bus past {start}",
                (ident,),
            )


@kind(
    "protector far from its source", "AC 43.13-1B 11-47: a fault between source and protector is not cleared"
)
def far_protector(plain: Plain) -> Iterator[Found]:
    for ident, supply in protectors(plain):
        if "distance_from_source" in supply and not is_sense(ident):
            first = next((i for i, r in runs(plain) if r.get("to") == f"{ident}.in"), None)
            changes = [Put(("supplies", ident, "distance_from_source"), "8 ft")]
            if first is not None:
                changes.append(Put(("wire_runs", first, "route", 0, "length"), "8 ft"))
            yield changes, f"fit {ident} 8 ft from its source", (ident, *([first] if first else ()))


@kind("thin feeder", "AC 43.13-1B table 11-3: it carries more than it may before its protector opens", most=2)
def thin_feeder(plain: Plain) -> Iterator[Found]:
    for ident, run in runs(plain):
        if (
            is_power(run)
            and run["gauge"] in ("0 AWG", "2 AWG", "4 AWG", "6 AWG")
            and not run["to"].startswith(("engine case", "firewall stud"))
        ):
            yield [Put(("wire_runs", ident, "gauge"), "14 AWG")], f"run {ident} in 14 AWG", (ident,)


@kind("thin load wire", "AC 43.13-1B table 11-3: 24 AWG behind a protector made for thicker wire", most=2)
def thin_load(plain: Plain) -> Iterator[Found]:
    for ident, run in runs(plain):
        if is_power(run) and run["gauge"] in ("14 AWG", "16 AWG", "18 AWG") and ".-" not in run["from"]:
            yield [Put(("wire_runs", ident, "gauge"), "24 AWG")], f"run {ident} in 24 AWG", (ident,)


@kind("battery reversed", "reversed polarity destroys diodes and instruments")
def battery_reversed(plain: Plain) -> Iterator[Found]:
    ends = {run["from"]: ident for ident, run in runs(plain) if "from" in run}
    if "battery.+" in ends and "battery.-" in ends:
        a, b = ends["battery.+"], ends["battery.-"]
        yield (
            [Swap(("wire_runs", a, "from"), ("wire_runs", b, "from"))],
            "join the battery the wrong way round",
            ("battery", a, b),
        )


@kind("alternator return left off", "it comes home through its mounting alone, if at all", practice=True)
def no_return(plain: Plain) -> Iterator[Found]:
    for ident, run in runs(plain):
        if run.get("from", "").endswith("alternator.-"):
            yield (
                [Drop(("wire_runs", ident))],
                f"leave off {ident}, the return of the alternator",
                (ident, device(run["from"])),
            )


@kind("no engine strap", "engine currents return through instruments and controls: AC 43.13-1B 11-185")
def no_strap(plain: Plain) -> Iterator[Found]:
    for ident, ground in plain["grounds"].items():
        if ground["kind"] == "strap":
            changes = [Drop(("grounds", ident))]
            for other, stud in plain["grounds"].items():
                if ident in stud.get("stack", ()):
                    changes.append(Put(("grounds", other, "stack"), [s for s in stud["stack"] if s != ident]))
            yield changes, f"leave off {ident}", (ident, ground["from"])


@kind("bad strap", "AC 43.13-1B 11-189: a strap with its joints is at most 5 milliohm here")
def bad_strap(plain: Plain) -> Iterator[Found]:
    for ident, ground in plain["grounds"].items():
        if ground["kind"] == "strap":
            yield (
                [Put(("grounds", ident, "resistance"), "60 milliohm")],
                f"let the joints of {ident} corrode",
                (ident,),
            )


@kind("bad ground joint", "AC 43.13-1B 11-189: 0.003 ohm at a bonding joint")
def bad_joint(plain: Plain) -> Iterator[Found]:
    for ident, ground in plain["grounds"].items():
        if "joins" in ground:
            yield (
                [Put(("grounds", ident, "resistance"), "0.5 ohm")],
                f"let the joint of {ident} corrode",
                (ident,),
            )


@kind("ground of an indicator left off", "no return: it works through other wires or not at all", most=2)
def gauge_ground_off(plain: Plain) -> Iterator[Found]:
    for ident, run in runs(plain):
        if run.get("from", "").endswith(".ground") and device(run["from"]) in plain["indicators"]:
            yield (
                [Drop(("wire_runs", ident))],
                f"leave off {ident}, the ground of {device(run['from'])}",
                (ident, device(run["from"])),
            )


@kind(
    "sources overloaded",
    "14 CFR 23.1351(a), AC 43.13-1B 11-35: continuous load within 80 percent of the source",
)
def overload(plain: Plain) -> Iterator[Found]:
    for ident, load in plain["loads"].items():
        if "current" in load and load.get("duty") == "continuous" and load.get("connected_at") == "main bus":
            yield (
                [Put(("loads", ident, "current"), "200 A")],
                f"let {ident} draw 200 A",
                (ident, *(s for s in plain["supplies"] if "alternator" in s)),
            )


@kind("small alternator", "14 CFR 23.1351(a): the source carries every load of each phase")
def small_alternator(plain: Plain) -> Iterator[Found]:
    if "alternator" in plain["supplies"]:  # of two, the other carries the loads
        yield (
            [Put(("supplies", "alternator", "rated_current"), "3 A")],
            "fit an alternator of 3 A",
            ("alternator",),
        )


@kind("small battery", "14 CFR 23.1353(h): 30 minutes of the essential loads", practice=True)
def small_battery(plain: Plain) -> Iterator[Found]:
    if any(load.get("essential") for load in plain["loads"].values()):
        yield [Put(("supplies", "battery", "capacity"), "2 Ah")], "fit a battery of 2 Ah", ("battery",)


@kind("battery of another voltage", "12 V and 24 V batteries on one bus, or on the wrong system")
def other_battery(plain: Plain) -> Iterator[Found]:
    if "system_voltage" in plain.get("aircraft", {}):
        volts = "12 V" if plain["aircraft"]["system_voltage"] == "28 V" else "24 V"
        yield [Put(("supplies", "battery", "voltage"), volts)], f"fit a battery of {volts}", ("battery",)


@kind("weak switch", "the contacts' own limit")
def weak_switch(plain: Plain) -> Iterator[Found]:
    for ident, supply in plain["supplies"].items():
        if ident.endswith("switch") or supply.get("kind") == "contactor":
            yield [Put(("supplies", ident, "max_current"), "0.5 A")], f"fit {ident} for 0.5 A", (ident,)


@kind("long feed", "AC 43.13-1B table 11-6: the drop is above its limit")
def long_feed(plain: Plain) -> Iterator[Found]:
    for ident, run in runs(plain):
        start = device(run.get("from", ""))
        if (
            device(run.get("to", "")) in plain["loads"]
            and run["to"].endswith("+")
            and start in plain["supplies"]
            and plain["loads"][device(run["to"])].get("current", "0 A") not in ("20 mA", "120 A")
        ):
            yield (
                [Put(("wire_runs", ident, "route", 0, "length"), "90 ft")],
                f"lead {ident} over 90 ft",
                (ident, device(run["to"])),
            )


@kind("long on, called intermittent", "AC 43.13-1B 11-66: intermittent is two minutes at most", practice=True)
def long_on(plain: Plain) -> Iterator[Found]:
    for ident, load in plain["loads"].items():
        if load.get("duty") == "intermittent":
            yield [Put(("loads", ident, "on_time"), "20 min")], f"let {ident} run for 20 minutes", (ident,)


@kind("firewall of light alloy", "14 CFR 23.1191(d): stainless steel 0.015 in, or as good")
def light_firewall(plain: Plain) -> Iterator[Found]:
    for ident, barrier in plain.get("barriers", {}).items():
        if barrier.get("kind") == "firewall":
            yield (
                [Put(("barriers", ident, "material"), "aluminium alloy")],
                f"make {ident} of aluminium",
                (ident,),
            )


@kind(
    "sense wires without fuse", "a fault to ground in an unprotected sense wire burns it: AC 43.13-1B 11-47"
)
def bare_sense(plain: Plain) -> Iterator[Found]:
    for ident, run in runs(plain):
        start = device(run.get("from", ""))
        if is_sense(start) and run["from"].endswith(".out"):
            feeds = next(r["from"] for _, r in runs(plain) if r.get("to") == f"{start}.in")
            yield [Put(("wire_runs", ident, "from"), feeds)], f"join {ident} past {start}", (ident,)


@kind(
    "compass beside a power wire",
    "the field of a straight wire, mu0 I / 2 pi r, turns the card",
    practice=True,
)
def compass_close(plain: Plain) -> Iterator[Found]:
    for ident, bundle in plain.get("bundles", {}).items():
        for i, passed in enumerate(bundle.get("clearances", ())):
            if passed["kind"] == "compass":
                yield (
                    [Put(("bundles", ident, "clearances", i, "distance"), "0.5 in")],
                    f"lead {ident} 0.5 in from the compass",
                    (ident, passed["to"]),
                )


@kind(
    "breaker out in flight", "14 CFR 23.1301: a required instrument that is dead while an engine runs", most=2
)
def breaker_out(plain: Plain) -> Iterator[Found]:
    points = [
        i for i, p in plain.get("operating_points", {}).items() if p.get("phase") in ("climb", "cruise")
    ]
    for ident, _ in protectors(plain):
        fed = [
            device(r["to"])
            for _, r in runs(plain)
            if r.get("from") == f"{ident}.out" and r["to"].endswith(".power")
        ]
        needed = [i for i in fed if plain["indicators"].get(i, {}).get("required", True)]
        if needed and points:
            yield (
                [Put(("operating_points", points[-1], "open_switches"), [ident])],
                f"leave {ident} out at {points[-1]}",
                (*needed, ident),
            )


def _beside(plain: Plain, ident: str, start: str, end: str) -> list[Put]:
    """A wire like another, between two other ends."""
    like = {w: v for w, v in plain["wire_runs"][ident].items() if w not in ("notes", "length")}
    return [Put(("wire_runs", "Z1"), {**like, "from": start, "to": end})]


@kind("wire round a protector", "AC 43.13-1B 11-47: what it is led round opens nothing", most=2)
def round_protector(plain: Plain) -> Iterator[Found]:
    for ident, _ in protectors(plain):
        feed = next((i for i, r in runs(plain) if r.get("to") == f"{ident}.in"), None)
        if feed is not None and not is_sense(ident):
            changes = _beside(plain, feed, f"{ident}.in", f"{ident}.out")
            yield changes, f"lead a wire round {ident}", (ident, "Z1")


@kind("wire round a switch", "the load is on whatever the switch says", most=2)
def round_switch(plain: Plain) -> Iterator[Found]:
    for ident, supply in plain["supplies"].items():
        feed = next((i for i, r in runs(plain) if r.get("to") == f"{ident}.in"), None)
        if supply.get("kind") in ("switch", "contactor") and feed is not None:
            changes = _beside(plain, feed, f"{ident}.out", f"{ident}.in")
            yield changes, f"lead a wire round {ident}", (ident, "Z1")


@kind("coil fed through its own contact", "a contact that waits for itself stays open")
def own_contact(plain: Plain) -> Iterator[Found]:
    for ident, run in runs(plain):
        for end, other in (("from", "to"), ("to", "from")):
            if run.get(end, "").endswith(".coil +"):
                master = device(run[end])
                changes = [Put(("wire_runs", ident, other), f"{master}.out")]
                yield changes, f"feed the coil of {master} from its far side", (master,)
