"""Harms in the details: covers, conduits, materials, ratings, what a thing is said to be made of or for."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from harm import Found, kind
from harm_wires import device, is_power, runs
from installations import Plain

from installcheck.model.edits import Drop, Put


def _each(
    plain: Plain, section: str, path: str, value: Any, words: str, *, having: str = ""
) -> Iterator[Found]:
    """A word put in each thing of a section, in those that have another if asked."""
    for ident, one in plain.get(section, {}).items():
        if having in one or not having:
            yield [Put((section, ident, *path.split(".")), value)], words.format(ident), (ident,)


@kind("conduit too narrow", "AC 43.13-1B 11-249: wires forced into a tight tube are skinned", most=2)
def narrow_conduit(plain: Plain) -> Iterator[Found]:
    conduit = {"kind": "metal", "bore": "0.2 in"}
    yield from _each(
        plain, "bundles", "conduit", conduit, "lead {} in a conduit of 0.2 in", having="outside_diameter"
    )


@kind("conduit of household pipe", "14 CFR 23.1365(b): it softens, burns and smokes", practice=True)
def household_pipe(plain: Plain) -> Iterator[Found]:
    conduit = {"kind": "household pipe", "bore": "2 in"}
    yield from _each(
        plain, "bundles", "conduit", conduit, "lead {} in household pipe", having="outside_diameter"
    )


@kind("conduit too cool for its zone", "the conduit's own limit", most=2)
def cool_conduit(plain: Plain) -> Iterator[Found]:
    for ident in plain.get("bundles", {}):
        if "engine" in ident:
            conduit = {"kind": "nonmetallic", "bore": "2 in", "temperature_rating": "60 degC"}
            changes = [Put(("bundles", ident, "conduit"), conduit)]
            yield changes, f"lead {ident} in plastic conduit for 60 degC", (ident, *_in(plain, ident))


def _in(plain: Plain, bundle: str) -> tuple[str, ...]:
    return tuple(i for i, run in runs(plain) if run.get("bundle") == bundle)


@kind("bundle too thick", "AC 43.13-1B 11-115: 2 in is the most", practice=True)
def thick_bundle(plain: Plain) -> Iterator[Found]:
    yield from _each(
        plain, "bundles", "outside_diameter", "2.6 in", "make {} 2.6 in thick", having="outside_diameter"
    )


@kind("ground on magnesium", "AC 43.13-1B 11-189a: magnesium corrodes at once under a foreign lug", most=2)
def on_magnesium(plain: Plain) -> Iterator[Found]:
    for ident, ground in plain.get("grounds", {}).items():
        if ground.get("kind") == "stud":
            yield [Put(("grounds", ident, "material"), "magnesium")], f"set {ident} in magnesium", (ident,)


@kind("bare power terminals", "AC 43.13-1B 11-159: a dropped tool shorts the battery", practice=True)
def bare_posts(plain: Plain) -> Iterator[Found]:
    for ident, supply in plain["supplies"].items():
        if "battery" in supply.get("part", supply.get("kind", "")):
            yield [Put(("supplies", ident, "covered"), "no")], f"leave the posts of {ident} bare", (ident,)


@kind("wire with PVC insulation", "14 CFR 23.1365(b): it burns and smokes", practice=True)
def burning_wire(plain: Plain) -> Iterator[Found]:
    for ident, run in runs(plain):
        if is_power(run):
            yield [Put(("wire_runs", ident, "insulation"), "PVC")], f"run {ident} in PVC wire", (ident,)


@kind("wire too thin to handle", "AC 43.13-1B 11-66: smaller than 22 AWG breaks in handling", practice=True)
def hair_wire(plain: Plain) -> Iterator[Found]:
    for ident, run in runs(plain):
        if run.get("gauge") == "22 AWG" and run.get("part") == "AS22759/16":
            yield [Put(("wire_runs", ident, "gauge"), "24 AWG")], f"run {ident} in 24 AWG", (ident,)


@kind("wire for a lower voltage", "the wire's own limit", most=2)
def low_voltage_wire(plain: Plain) -> Iterator[Found]:
    for ident, run in runs(plain):
        if is_power(run):
            yield (
                [Put(("wire_runs", ident, "voltage_rating"), "6 V")],
                f"run {ident} in wire for 6 V",
                (ident,),
            )


@kind("firewall between two cool zones", "one side of a firewall is the fire's")
def no_fire_side(plain: Plain) -> Iterator[Found]:
    for ident, wall in plain.get("barriers", {}).items():
        if wall.get("kind") == "firewall":
            changes = [Put(("zones", zone, "fire_zone"), "no") for zone in wall["between"]]
            at = (ident, *wall["between"])
            yield changes, f"say that neither side of {ident} is a fire zone", at


@kind("strap of less than its wire", "AC 43.13-1B table 11-9: 10 ft of 10 AWG alone has 12.6 milliohm")
def strap_told(plain: Plain) -> Iterator[Found]:
    for ident, ground in plain.get("grounds", {}).items():
        if ground.get("kind") == "strap":
            words = {"gauge": "10 AWG", "length": "10 ft", "resistance": "0.5 milliohm"}
            changes = [Put(("grounds", ident, word), value) for word, value in words.items()]
            yield changes, f"say that {ident} is 10 ft of 10 AWG and has 0.5 milliohm", (ident,)


@kind("sender in another zone than its port", "it is where it is screwed in")
def apart_from_port(plain: Plain) -> Iterator[Found]:
    for section in ("fittings", "senders"):
        for ident, one in plain.get(section, {}).items():
            if "screwed_into" in one and one.get("zone") == "engine":
                yield [Put((section, ident, "zone"), "cabin")], f"say that {ident} is in the cabin", (ident,)


@kind("removed wire left open", "AC 43.13-1B 11-96: unused wires are dead-ended")
def left_open(plain: Plain) -> Iterator[Found]:
    removed = {"kind": "wire", "title": "old sender wire", "left": "open", "zone": "cabin"}
    yield [Put(("removed", "old wire"), removed)], "leave an old wire open", ("old wire",)


@kind("removed line left open", "what leaks there burns")
def line_left_open(plain: Plain) -> Iterator[Found]:
    for ident, one in plain.get("removed", {}).items():
        if one.get("left") == "capped":
            yield [Put(("removed", ident, "left"), "open")], f"leave {ident} open", (ident,)


@kind("one of several head probes of another kind", "they read differently, and are compared", practice=True)
def mixed_probes(plain: Plain) -> Iterator[Found]:
    heads = [i for i, p in plain.get("probes", {}).items() if p.get("measures") == "head temperature"]
    if len(heads) > 2:
        part = (
            "gasket ring probe 18 mm K"
            if "K" in plain["probes"][heads[1]]["part"]
            else "gasket ring probe 18 mm J"
        )
        changes = [Put(("probes", heads[1], "part"), part), Put(("probes", heads[1], "mount"), "upper plug")]
        yield changes, f"fit {heads[1]} as a ring under a plug", tuple(heads)


@kind("cylinders numbered from the other end", "the hot cylinder is looked for at the wrong end", most=1)
def numbered_otherwise(plain: Plain) -> Iterator[Found]:
    for engine, one in plain.get("engines", {}).items():
        other = {"propeller end": "accessory end", "accessory end": "propeller end"}
        if one.get("numbered_from") in other and "seats" in one and len(plain.get("probes", ())) > 1:
            path = ("engines", engine, "numbered_from")
            yield [Put(path, other[one["numbered_from"]])], f"number {engine} from its other end", (engine,)


@kind("required instrument called an extra", "14 CFR 91.205: it is required", most=2)
def called_extra(plain: Plain) -> Iterator[Found]:
    for ident, gauge in plain.get("indicators", {}).items():
        whole = plain.get("installation", {}).get("scope") != "part"
        if whole and gauge.get("required") in ("yes", True) and "oil" in ident:
            yield [Put(("indicators", ident, "required"), "no")], f"call {ident} an extra", (ident,)


@kind("gauge of something else", "it shows another thing than its sender senses", most=2)
def other_measure(plain: Plain) -> Iterator[Found]:
    for ident, sender in plain.get("senders", {}).items():
        if sender.get("measures") == "fuel pressure":
            changes = [Put(("senders", ident, "measures"), "oil pressure")]
            yield changes, f"fit {ident} for oil pressure", (ident,)


@kind("open circuit shows a reading", "a broken lead is believed", practice=True)
def believable(plain: Plain) -> Iterator[Found]:
    for ident, gauge in plain.get("indicators", {}).items():
        if "temperature" in ident and gauge.get("part", "").startswith(("bridge", "electronic")):
            changes = [Put(("indicators", ident, "open_shows"), "150 degF")]
            yield changes, f"fit {ident} that shows 150 degF when open", (ident,)


@kind("pulses too fast for the indicator", "it drops counts at full speed")
def too_fast(plain: Plain) -> Iterator[Found]:
    for ident, sender in plain.get("senders", {}).items():
        if "pulses_per_revolution" in sender:
            for gauge, one in plain.get("indicators", {}).items():
                if one.get("part") == "pulse tachometer":
                    changes = [Put(("indicators", gauge, "max_pulse_rate"), "50 Hz")]
                    yield changes, f"fit {gauge} that follows 50 Hz", (gauge, ident)


@kind("return of a gauge left off", "it comes home through its sender's ground, if at all", most=2)
def gauge_return(plain: Plain) -> Iterator[Found]:
    for ident, run in runs(plain):
        if run.get("from", "").endswith(".ground"):
            yield [Drop(("wire_runs", ident))], f"leave off {ident}", (ident, device(run["from"]))


@kind("stud tied to nothing", "what is grounded on it has no return", most=2)
def loose_stud(plain: Plain) -> Iterator[Found]:
    for ident, ground in plain.get("grounds", {}).items():
        if "joins" in ground and plain.get("installation", {}).get("scope") != "part":
            yield [Drop(("grounds", ident, "joins"))], f"fasten {ident} to nothing", (ident,)


@kind("load returned to the live side", "no voltage stands across it", most=2)
def live_return(plain: Plain) -> Iterator[Found]:
    for ident, run in runs(plain):
        load = device(run.get("from", ""))
        if load in plain.get("loads", {}) and run["from"].endswith(".-"):
            changes = [Put(("wire_runs", ident, "to"), "main bus")]
            yield changes, f"return {load} to the bus", (load, ident)


@kind("bus cut off from every source", "what it feeds is dead")
def dead_bus(plain: Plain) -> Iterator[Found]:
    for ident, run in runs(plain):
        if run.get("from", "").endswith("inverter.out") or run.get("to", "").endswith("inverter.in"):
            yield [Drop(("wire_runs", ident))], f"leave off {ident}", ("inverter", "synchro bus", ident)


@kind("alternator of no output", "it gives nothing, and its neighbour carries all")
def no_output(plain: Plain) -> Iterator[Found]:
    for ident, supply in plain["supplies"].items():
        if "alternator" in supply.get("kind", supply.get("part", "")):
            yield [Put(("supplies", ident, "rated_current"), "0 A")], f"fit {ident} of 0 A", (ident,)


@kind("line without its mark", "AC 43.13-1B 8-31: a line is known by its mark", practice=True)
def unmarked_line(plain: Plain) -> Iterator[Found]:
    yield from _each(plain, "fluid_lines", "marked", "no", "leave {} without marks", having="marked")


@kind("fuel that is shut too late", "more than a quart runs out of a broken line first", practice=True)
def late_shutoff(plain: Plain) -> Iterator[Found]:
    for ident, tap in plain.get("taps", {}).items():
        if tap.get("shutoff_time") and tap.get("medium") == "fuel" and len(plain.get("fluid_lines", ())) > 1:
            changes = [Put(("taps", ident, "shutoff_time"), "10 min")]
            yield changes, f"take 10 min to shut {ident}", (ident,)


@kind("exhaust probe fitted to a head", "there is no exhaust in a head", most=2)
def exhaust_in_head(plain: Plain) -> Iterator[Found]:
    for ident, probe in plain.get("probes", {}).items():
        if probe.get("measures") == "exhaust temperature":
            yield [Put(("probes", ident, "mount"), "well")], f"fit {ident} to a head", (ident,)


@kind("plastic fitting on the engine", "14 CFR 23.1183(a): it melts, and feeds the fire", most=2)
def plastic_fitting(plain: Plain) -> Iterator[Found]:
    for ident in plain.get("fittings", {}):
        if "oil" in ident and "bulkhead" not in ident and "gauge" not in ident:
            yield [Put(("fittings", ident, "material"), "plastic")], f"fit {ident} of plastic", (ident,)


@kind("nut that nothing locks", "it shakes loose", practice=True)
def loose_nut(plain: Plain) -> Iterator[Found]:
    for ident, ground in plain.get("grounds", {}).items():
        if "stack" in ground:
            stack = [one for one in ground["stack"] if "lock" not in one]
            yield [Put(("grounds", ident, "stack"), stack)], f"leave the lock washer off {ident}", (ident,)
