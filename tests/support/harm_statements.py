"""Harms done to what a document says: two statements that cannot both be true, and meters that show another thing."""

from __future__ import annotations

from collections.abc import Iterator

from harm import Found, kind
from harm_wires import runs
from installations import Plain

from installcheck.model.edits import Put, Swap


def _meters(plain: Plain, part: str) -> Iterator[str]:
    """Indicators of a part."""
    return (i for i, one in plain["indicators"].items() if one.get("part") == part)


def _routed(plain: Plain) -> Iterator[tuple[str, Plain]]:
    """Runs with a route that passes a wall, without a whole length."""
    for ident, run in runs(plain):
        if any("barrier" in step for step in run.get("route", ())) and "length" not in run:
            yield ident, run


@kind(
    "shunt of another range",
    "an ammeter for 50 or 60 A takes the 50 mV of a 100 A shunt for its own full scale",
)
def other_shunt(plain: Plain) -> Iterator[Found]:
    for meter in _meters(plain, "shunt ammeter"):
        yield [Put(("junctions", "shunt", "size"), "100 A")], "fit a shunt of 100 A", (meter, "shunt")


@kind("leads of a meter exchanged", "the pointer is driven against its lower stop", most=2)
def meter_exchanged(plain: Plain) -> Iterator[Found]:
    for part in ("shunt ammeter", "voltmeter"):
        for meter in _meters(plain, part):
            ends = [
                (("wire_runs", i, end), run[end])
                for i, run in runs(plain)
                for end in ("from", "to")
                if run.get(end) in (f"{meter}.+", f"{meter}.-")
            ]
            if len(ends) == 2:
                yield [Swap(ends[0][0], ends[1][0])], f"exchange the leads of {meter}", (meter,)


@kind("resistance in a sense lead", "16 ohm beside the 50 ohm of an ammeter take a quarter of its reading")
def slow_fuse(plain: Plain) -> Iterator[Found]:
    for meter in _meters(plain, "shunt ammeter"):
        changes = [Put(("supplies", f"sense fuse {x}", "inner_resistance"), "8 ohm") for x in "AB"]
        changes.append(Put(("indicators", meter, "budget"), "3 A"))
        yield changes, f"fit fuses of 8 ohm in the sense leads of {meter}", (meter,)


@kind("point hotter than its zone", "a range and a value in it: one of the two judges another aircraft")
def hot_point(plain: Plain) -> Iterator[Found]:
    for point, told in plain.get("operating_points", {}).items():
        for zone in told.get("zone_temperatures", {}):
            if "highest" in plain["zones"][zone].get("temperature", {}):
                changes = [Put(("operating_points", point, "zone_temperatures", zone), "260 degC")]
                yield changes, f"say that the {zone} has 260 degC at {point}", (point, zone)


@kind("length ten times its route", "one run has one length", most=2)
def other_whole(plain: Plain) -> Iterator[Found]:
    for ident, _ in _routed(plain):
        yield [Put(("wire_runs", ident, "length"), "90 ft")], f"say that {ident} is 90 ft long", (ident,)


@kind(
    "route that ends before its wall",
    "a run goes from where one of its ends is to where the other is",
    most=2,
)
def short_route(plain: Plain) -> Iterator[Found]:
    for ident, run in _routed(plain):
        wall = next(i for i, step in enumerate(run["route"]) if "barrier" in step)
        if wall:
            changes = [Put(("wire_runs", ident, "route"), run["route"][:wall])]
            yield changes, f"end the route of {ident} before the wall", (ident,)


@kind("limits exchanged", "a minimum above the maximum makes every reading right, or none")
def limits_exchanged(plain: Plain) -> Iterator[Found]:
    for engine, one in plain.get("engines", {}).items():
        for measure, limit in one.get("limits", {}).items():
            if "minimum" in limit and "maximum" in limit:
                path = ("engines", engine, "limits", measure)
                changes = [Swap((*path, "minimum"), (*path, "maximum"))]
                yield changes, f"exchange the limits of {measure} of {engine}", (engine, measure)


@kind("watts beside other amperes", "P = V I: the two make a voltage the system can have")
def other_watts(plain: Plain) -> Iterator[Found]:
    for ident, load in plain.get("loads", {}).items():
        if "current" in load and "power" not in load:
            yield [Put(("loads", ident, "power"), "1 W")], f"say that {ident} takes 1 W", (ident,)


@kind("bundle of fewer wires than lie in it", "the more wires lie together, the less each may carry")
def small_bundle(plain: Plain) -> Iterator[Found]:
    for ident in plain.get("bundles", {}):
        beside = [i for i, run in runs(plain) if run.get("bundle") == ident]
        if len(beside) > 4:
            yield [Put(("bundles", ident, "wires"), 2)], f"say that {ident} holds 2 wires", (ident,)


@kind("fire zone denied", "14 CFR 23.1181: where hot parts and what burns are together")
def no_fire_zone(plain: Plain) -> Iterator[Found]:
    for ident, zone in plain["zones"].items():
        lines = [i for i, line in plain.get("fluid_lines", {}).items() if ident in str(line.get("route"))]
        if zone.get("hot_parts") in ("yes", True) and zone.get("fire_zone") in ("yes", True) and lines:
            changes = [Put(("zones", ident, "fire_zone"), "no")]
            yield changes, f"say that the {ident} is no fire zone", (ident, *lines)


@kind("wall thicker than its tube", "outside diameter less two walls leaves a bore")
def thick_wall(plain: Plain) -> Iterator[Found]:
    for ident, line in plain.get("fluid_lines", {}).items():
        if "tube" in str(line.get("part", line.get("kind", ""))):
            changes = [Put(("fluid_lines", ident, "wall"), "2 in")]
            yield changes, f"say that the wall of {ident} is 2 in", (ident,)


@kind("sender said to sense elsewhere than its tap", "one of two places of one pressure is wrong", most=2)
def other_place_told(plain: Plain) -> Iterator[Found]:
    for ident, sender in plain["senders"].items():
        place = {
            "gallery": "sump",
            "carburettor inlet": "divider",
            "servo inlet": "divider",
            "plenum": "airbox",
        }
        if sender.get("location") in place and _on_a_line(plain, ident):
            there = place[sender["location"]]
            changes = [Put(("senders", ident, "location"), there)]
            yield changes, f"say that {ident} senses at the {there}", (ident,)


@kind("sender said to be higher than its line rises", "rho g h: the head is off by the difference", most=2)
def other_height(plain: Plain) -> Iterator[Found]:
    for ident in plain["senders"]:
        if _on_a_line(plain, ident):
            changes = [Put(("senders", ident, "elevation"), "30 in")]
            yield changes, f"say that {ident} is 30 in above its tap", (ident,)


@kind("sender said to be carried by another thing", "one thing has one place", most=2)
def other_carrier(plain: Plain) -> Iterator[Found]:
    for ident, sender in plain["senders"].items():
        if sender.get("mounted_on") == "firewall":
            changes = [Put(("senders", ident, "location"), "engine")]
            yield changes, f"say that {ident} is on the engine", (ident,)


def _on_a_line(plain: Plain, ident: str) -> bool:
    """Whether a line that tells its rise ends at a sender, or at what is screwed into it, with a liquid or gas of its own."""
    fittings = plain.get("fittings", {}).items()
    held = {ident, *(i for i, f in fittings if f.get("screwed_into", "").startswith(f"{ident}."))}
    lines = plain.get("fluid_lines", {}).values()
    there = [line for line in lines if line["to"].partition(".")[0] in held]
    return bool(there) and all("rise" in line and line.get("medium") != "bulb filling" for line in there)


@kind("line that bursts below its rating", "what has burst bears no pressure")
def bursts_early(plain: Plain) -> Iterator[Found]:
    for ident in plain.get("fluid_lines", {}):
        changes = [Put(("fluid_lines", ident, "burst_pressure"), "40 psi")]
        yield changes, f"say that {ident} bursts at 40 psi", (ident,)


@kind("face of another gauge", "14 CFR 23.1301: labelled as to its function")
def other_face(plain: Plain) -> Iterator[Found]:
    for ident, gauge in plain.get("indicators", {}).items():
        if "oil" in ident and "inputs" not in gauge:
            yield (
                [Put(("indicators", ident, "label"), "FUEL FLOW")],
                f"fit {ident} with another face",
                (ident,),
            )


@kind("wire in a bundle said to lie alone", "in free air it may carry half as much again", most=2)
def said_alone(plain: Plain) -> Iterator[Found]:
    for ident, run in runs(plain):
        if "bundle" in run:
            yield [Put(("wire_runs", ident, "free_air"), "yes")], f"say that {ident} lies alone", (ident,)
