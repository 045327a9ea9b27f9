"""Harms done to wires: where they run, what holds them, how they end, and what they are made of."""

from __future__ import annotations

from collections.abc import Iterator

from harm import Found, kind
from installations import Plain

from installcheck.model.edits import Drop, Put, Swap

_HEAVY = {"4 AWG", "6 AWG", "2 AWG", "0 AWG", "8 AWG"}


def runs(plain: Plain) -> Iterator[tuple[str, Plain]]:
    """Runs by id."""
    yield from plain["wire_runs"].items()


def device(end: str) -> str:
    """The thing an end is at."""
    return end.partition(".")[0]


def is_couple(run: Plain) -> bool:
    """Whether a run is a lead of a thermocouple with both its legs."""
    return "thermocouple lead" in (run.get("part") or "") and "conductors" in run


def is_power(run: Plain) -> bool:
    """Whether a run is a single wire that carries a supply."""
    return "from" in run and not run.get("sensing") and "thermocouple" not in run


def crossings(thing: Plain) -> Iterator[int]:
    """Places in a route at which it crosses a wall."""
    yield from (i for i, step in enumerate(thing.get("route", ())) if "barrier" in step)


@kind(
    "no grommet",
    "AC 43.13-1B 11-117, 14 CFR 23.1191(c): a firewall is crossed by a fireproof grommet or fitting",
)
def no_grommet(plain: Plain) -> Iterator[Found]:
    for ident, run in runs(plain):
        for i in crossings(run):
            if run["route"][i].get("through") == "fireproof grommet":
                yield (
                    [Put(("wire_runs", ident, "route", i, "through"), "open hole")],
                    f"lead {ident} through an open hole",
                    (ident,),
                )


@kind(
    "grommet not fireproof", "14 CFR 23.1191(c): every opening in a firewall is closed by fireproof fittings"
)
def plain_grommet(plain: Plain) -> Iterator[Found]:
    for ident, run in runs(plain):
        for i in crossings(run):
            if run["route"][i].get("through") == "fireproof grommet":
                yield (
                    [Put(("wire_runs", ident, "route", i, "through"), "grommet")],
                    f"fit {ident} with a plain grommet in the firewall",
                    (ident,),
                )


@kind("supports too far apart", "AC 43.13-1B 11-146: wires are held at intervals of at most 24 in")
def lost_support(plain: Plain) -> Iterator[Found]:
    for ident in plain.get("bundles", ()):
        yield (
            [Put(("bundles", ident, "support_spacing"), "40 in")],
            f"take away every other clamp of {ident}",
            (ident,),
        )


@kind("held by a fluid line", "AC 43.13-1B 11-126: wires are never held by, or tied to, a fluid line")
def held_by_line(plain: Plain) -> Iterator[Found]:
    for ident in plain.get("bundles", ()):
        yield (
            [Put(("bundles", ident, "supported_by"), "fluid line")],
            f"tie {ident} to a fluid line",
            (ident,),
        )


@kind("bent too tight", "AC 43.13-1B 11-96: no tighter than ten times the thickest wire")
def tight_bundle(plain: Plain) -> Iterator[Found]:
    for ident in plain.get("bundles", ()):
        yield [Put(("bundles", ident, "bend_radius"), "0.4 in")], f"bend {ident} to 0.4 in", (ident,)


@kind(
    "no drip loop", "AC 43.13-1B 11-118: water runs down a bundle into the connector it enters", practice=True
)
def no_drip_loop(plain: Plain) -> Iterator[Found]:
    for ident, bundle in plain.get("bundles", {}).items():
        if bundle.get("drip_loop"):
            yield [Put(("bundles", ident, "drip_loop"), "no")], f"pull the drip loop out of {ident}", (ident,)


@kind("not marked", "AC 43.13-1B 11-205: every wire is marked at its ends and along its way", practice=True)
def not_marked(plain: Plain) -> Iterator[Found]:
    for ident, run in runs(plain):
        if run.get("marked") and run.get("status") != "existing":
            yield [Put(("wire_runs", ident, "marked"), "no")], f"leave {ident} without its mark", (ident,)


_CLOSE = {
    "exhaust": ("2 in", {"guarded": "no"}),
    "flammable line": ("0.25 in", {"clamped": "no"}),
    "control cable": ("0.25 in", {}),
}


@kind(
    "too close to what harms it",
    "AC 43.13-1B 11-96, 11-125: wires keep clear of exhaust, flammable lines and control cables",
    practice=True,
    most=3,
)
def too_close(plain: Plain) -> Iterator[Found]:
    for ident, bundle in plain.get("bundles", {}).items():
        for i, passed in enumerate(bundle.get("clearances", ())):
            if passed["kind"] in _CLOSE:
                distance, more = _CLOSE[passed["kind"]]
                changes = [Put(("bundles", ident, "clearances", i, "distance"), distance)]
                changes += [
                    Put(("bundles", ident, "clearances", i, word), value) for word, value in more.items()
                ]
                yield changes, f"lead {ident} {distance} from {passed['to']}", (ident,)


@kind(
    "below a flammable line",
    "FAA-H-8083-31: within 6 in, electrical wire runs above lines that carry fuel or oil",
)
def below_line(plain: Plain) -> Iterator[Found]:
    for ident, bundle in plain.get("bundles", {}).items():
        for i, passed in enumerate(bundle.get("clearances", ())):
            if passed["kind"] == "flammable line":
                changes = [
                    Put(("bundles", ident, "clearances", i, "position"), "below"),
                    Put(("bundles", ident, "clearances", i, "distance"), "3 in"),
                ]
                yield changes, f"lead {ident} 3 in below {passed['to']}", (ident,)


@kind("beside ignition leads", "pick-up from ignition leads in signal wires; general practice", practice=True)
def beside_ignition(plain: Plain) -> Iterator[Found]:
    for ident, bundle in plain.get("bundles", {}).items():
        for i, passed in enumerate(bundle.get("clearances", ())):
            if passed["kind"] == "ignition lead":
                yield (
                    [Put(("bundles", ident, "clearances", i, "distance"), "0.5 in")],
                    f"lead {ident} 0.5 in from {passed['to']}",
                    (ident,),
                )


@kind(
    "signal beside feeders",
    "FAA-H-8083-31 ch. 9: signal wires do not lie in the bundle of unprotected power",
    practice=True,
)
def beside_feeders(plain: Plain) -> Iterator[Found]:
    if "power harness" not in plain.get("bundles", {}):
        return
    wires = plain["bundles"]["power harness"]["wires"]
    for ident, run in runs(plain):
        if run.get("sensing") and any(s.get("zone") == "engine bay" for s in run["route"]):
            yield (
                [Put(("wire_runs", ident, "bundle"), "power harness"), Put(("bundles", "power harness", "wires"), str(wires + 4))],
                f"tie {ident} into the power harness",
                (ident,),
            )  # fmt: skip


@kind("terminal too small for its wire", "AC 43.13-1B 11-174: a terminal takes the gauge of its wire", most=2)
def small_terminal(plain: Plain) -> Iterator[Found]:
    for ident, run in runs(plain):
        if "terminations" in run and "from" in run and run["gauge"] in _HEAVY:
            yield (
                [Put(("wire_runs", ident, "terminations", 1, "smallest_gauge"), "22 AWG"), Put(("wire_runs", ident, "terminations", 1, "largest_gauge"), "18 AWG")],
                f"crimp a red terminal on {ident}",
                (ident,),
            )  # fmt: skip


@kind(
    "terminal too large for its wire",
    "a crimp barrel made for thicker wire does not hold: AC 43.13-1B 11-174",
)
def large_terminal(plain: Plain) -> Iterator[Found]:
    for ident, run in runs(plain):
        if "terminations" in run and run["gauge"] in ("22 AWG", "20 AWG"):
            yield (
                [Put(("wire_runs", ident, "terminations", 0, "smallest_gauge"), "12 AWG"), Put(("wire_runs", ident, "terminations", 0, "largest_gauge"), "10 AWG")],
                f"crimp a yellow terminal on {ident}",
                (ident,),
            )  # fmt: skip


@kind("terminal does not fit its stud", "AC 43.13-1B 11-174: the hole is that of the stud")
def wrong_hole(plain: Plain) -> Iterator[Found]:
    for ident, run in runs(plain):
        if (
            run.get("to") in ("firewall stud", "panel stud", "panel ground", "signal ground")
            and "terminations" in run
        ):
            yield (
                [Put(("wire_runs", ident, "terminations", 1, "stud"), "0.112 in")],
                f"put a No. 4 terminal on {ident} at {run['to']}",
                (ident,),
            )


@kind("terminal carries too much", "the terminal's own limit")
def weak_terminal(plain: Plain) -> Iterator[Found]:
    for ident, run in runs(plain):
        if "terminations" in run and run.get("from") in (
            "alternator.+",
            "left alternator.+",
            "boost pump.-",
            "light switch.out",
        ):
            yield (
                [Put(("wire_runs", ident, "terminations", 0, "max_current"), "1 A")],
                f"end {ident} in a terminal for 1 A",
                (ident,),
            )


@kind(
    "wire not made for the heat",
    "AC 43.13-1B 11-67: a wire is rated for the hottest place it runs through",
    most=2,
)
def cool_wire(plain: Plain) -> Iterator[Found]:
    hottest = {
        z: zone["temperature"]["highest"] for z, zone in plain["zones"].items() if "temperature" in zone
    }
    for ident, run in runs(plain):
        zones = [s["zone"] for s in run["route"] if "zone" in s]
        if run.get("part") == "AS22759/16" and any(
            float(hottest.get(z, "0 degC").split()[0]) > 105 for z in zones
        ):
            yield (
                [Put(("wire_runs", ident, "part"), "copper wire 105 degC")],
                f"run {ident} in wire of 105 degC",
                (ident,),
            )


@kind(
    "crowded bundle at full load",
    "AC 43.13-1B curves for bundle and altitude: each wire may carry less in a full bundle",
)
def full_bundle(plain: Plain) -> Iterator[Found]:
    for ident in plain.get("bundles", ()):
        if "power" in ident or "feeder" in ident:
            carried = tuple(r for r, run in runs(plain) if run.get("bundle") == ident)
            yield (
                [Put(("bundles", ident, "wires"), "60"), Put(("bundles", ident, "load_share"), "100 %")],
                f"tie 60 loaded wires into {ident}",
                (ident, *carried),
            )


@kind("too many on one stud", "AC 43.13-1B 11-174b: no more than four terminals")
def crowded_stud(plain: Plain) -> Iterator[Found]:
    for block, post, other in (("power block", "3", "2"), ("gauge block", "2", "1")):
        for ident, run in runs(plain):
            if (
                block in plain.get("junctions", {})
                and run.get("from") == f"{block}.{other}"
                and ".power" in run["to"]
            ):
                yield (
                    [Put(("wire_runs", ident, "from"), f"{block}.{post}")],
                    f"put {ident} on post {post} of {block} with the four others",
                    (ident, block),
                )


@kind("terminal above the nut", "AC 43.13-1B 11-174: terminals lie below the nut, with its washers")
def above_nut(plain: Plain) -> Iterator[Found]:
    for ident, ground in plain.get("grounds", {}).items():
        if ground.get("stack"):
            stack = [s for s in ground["stack"] if s != "nut"]
            yield (
                [Put(("grounds", ident, "stack"), [*stack[:2], "nut", *stack[2:]])],
                f"put terminals above the nut of {ident}",
                (ident,),
            )


@kind(
    "shield grounded at both ends",
    "a loop through the shield carries ground current beside the signal",
    practice=True,
)
def shield_twice(plain: Plain) -> Iterator[Found]:
    for ident, run in runs(plain):
        if run.get("shield", {}).get("from") == "open":
            ground = next((g for g in plain["grounds"] if "engine case" in g), None)
            if ground is not None:
                yield (
                    [Put(("wire_runs", ident, "shield", "from"), ground)],
                    f"ground the shield of {ident} at the engine as well",
                    (ident,),
                )


@kind("shield grounded nowhere", "a floating shield couples what it was to keep out", practice=True)
def shield_floats(plain: Plain) -> Iterator[Found]:
    for ident, run in runs(plain):
        if "shield" in run:
            yield (
                [Put(("wire_runs", ident, "shield", "to"), "open")],
                f"cut the ground of the shield of {ident}",
                (ident,),
            )


@kind(
    "splice near the end of its wire",
    "FAA-H-8083-31: at least 12 in from a termination",
    practice=True,
    most=2,
)
def splice_near_end(plain: Plain) -> Iterator[Found]:
    for ident, joint in plain.get("junctions", {}).items():
        if "splice" in joint.get("part", ""):
            yield (
                [Put(("junctions", ident, "distance_from_end"), "3 in")],
                f"put {ident} 3 in from the end",
                (ident,),
            )


@kind(
    "splice not sealed",
    "moisture enters a joint outside the cabin: AC 43.13-1B 11-167",
    practice=True,
    most=2,
)
def splice_open(plain: Plain) -> Iterator[Found]:
    for ident, joint in plain.get("junctions", {}).items():
        if "splice" in joint.get("part", ""):
            yield [Put(("junctions", ident, "sealed"), "no")], f"leave {ident} unsealed", (ident,)


@kind("splice too small", "a barrel made for thinner wire: AC 43.13-1B 11-167")
def splice_small(plain: Plain) -> Iterator[Found]:
    for ident, joint in plain.get("junctions", {}).items():
        if joint.get("part") == "environmental splice 16-12":
            yield (
                [Put(("junctions", ident, "part"), "environmental splice 26-20")],
                f"crimp {ident} with a splice for 26 to 20 AWG",
                (ident,),
            )


@kind("pins of a plug exchanged", "two circuits change places between plug and receptacle", most=2)
def plug_pins(plain: Plain) -> Iterator[Found]:
    for ident, joint in plain.get("junctions", {}).items():
        if "mates" in joint and "receptacle" not in ident:
            for a, b in (("1", "2"), ("3", "4"), ("5", "6")):
                yield (
                    [Swap(("wire_runs", f"X{a}", "conductors", leg, "to"), ("wire_runs", f"X{b}", "conductors", leg, "to")) for leg in "+-"],
                    f"put X{a} and X{b} into each other's cavities",
                    (f"X{a}", f"X{b}", f"exhaust {a}", f"exhaust {b}"),
                )  # fmt: skip


@kind("wire left off", "a terminal with nothing on it: the circuit is open", most=2)
def left_off(plain: Plain) -> Iterator[Found]:
    for ident, run in runs(plain):
        if (
            "from" in run
            and (run.get("sensing") or run["to"].endswith(".power"))
            and "thermocouple" not in run
        ):
            ends = tuple(dict.fromkeys(run[e].partition(".")[0] for e in ("from", "to")))
            yield [Drop(("wire_runs", ident))], f"leave {ident} off", (ident, *ends)
