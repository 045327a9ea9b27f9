"""What a line passes: exhaust, wires, controls and edges."""

from __future__ import annotations

from collections.abc import Iterator

from ...analysis.fluid.facts import (
    FLAMMABLE,
    LIQUID,
    Part,
    carried,
    runs,
)
from ...analysis.study import Study
from ...document.source import DocPath
from ...model.quantities import in_unit, plain_number
from ...model.routes import Clearance
from ..verdicts import (
    Verdict,
    advisory,
    discrepancy,
    meets,
    undetermined,
)
from ..vocabulary import rule

_EXHAUST_IN = 6.0
"""Inch: shop practice; no government figure was found."""
_CONTROL_IN = 0.5
"""Inch at full travel: practice (recalled)."""
_WIRE_IN, _WIRE_LEAST_IN, _WIRE_CLAMPED_IN = 6.0, 2.0, 0.5
"""Inch: where possible, at least, and with both clamped. AC 43.13-1B 11-126 (recalled)."""
_TANK_IN = 0.5
_WIRES = frozenset(("wire", "high-current wire", "ignition lead", "aerial lead"))
_HOT = frozenset(("exhaust", "hot equipment"))
_MOVING = frozenset(("control cable", "movable control"))
CLEARANCES = "clearances of the line: what it passes and how far off ('clearances: []' if nothing)"


@rule(
    "line-clearance",
    title="A line keeps clear of exhaust, wires, controls and edges, and wires run above it",
    why="A gauge line that cracked beside a wire bundle above the tail pipe burned a cabin. A drip onto a wire or a hot pipe is "
    "a fire; a rub is a leak.",
    source="no chafing, wire above the line: AC 43.13-1B 8-31; wires: 11-126 (recalled); exhaust 6 in and controls 0.5 in: practice",
    formula="exhaust 6 in, or a shield between; wires 6 in, 2 in at least, 0.5 in with both clamped; controls 0.5 in; edges: no "
    "contact",
    example="a fuel line 1 in from a wire, not clamped: 2 in is the least",
    over="fluid_lines",
)
def line_clearance(study: Study) -> Iterator[Verdict]:
    """Every line that burns when it leaks, and every other one for what it states."""
    for part in runs(study):
        told = carried(study, part.ident)
        burns = not told or bool(told & FLAMMABLE)
        given = part.line.clearances
        if given is None:
            if burns:
                yield undetermined((part.ident,), part.path, CLEARANCES)
            continue
        if not given:
            yield meets(
                (part.ident,),
                (*part.path, "clearances"),
                f"line {part.ident} passes nothing that can hurt it",
            )
        for i, one in enumerate(given):
            yield _judge(part, one, bool(told & LIQUID), (*part.path, "clearances", i))


def _judge(part: Part, one: Clearance, liquid: bool, path: DocPath) -> Verdict:
    at = (part.ident, one.to)
    if one.distance is None:
        return undetermined(at, path, "smallest distance to what the line passes")
    distance = in_unit(one.distance, "in", "length")
    text = f"line {part.ident} passes {one.to} ({one.kind}) at {plain_number(distance)} in"
    if one.kind in _HOT:
        return _hot(at, path, one, distance, text)
    if one.kind in _WIRES:
        return _wire(at, path, one, distance, text, liquid)
    if one.kind in _MOVING:
        return _least(at, path, one, distance, text, _CONTROL_IN, "over its full travel, 0.5 in is practice")
    if one.kind == "tank":
        return _least(at, path, one, distance, text, _TANK_IN, "0.5 in of clear space is practice")
    return _touch(at, path, one, distance, text)


def _hot(at: tuple[str, ...], path: DocPath, one: Clearance, distance: float, text: str) -> Verdict:
    numbers = {"value": distance, "limit": _EXHAUST_IN, "margin": distance - _EXHAUST_IN, "unit": "in"}
    if distance <= 0:
        return discrepancy(at, path, f"{text}: it touches", remedy="reroute the line 6 in away", **numbers)
    if distance >= _EXHAUST_IN:
        return meets(at, path, text, **numbers)
    if one.guarded:
        return meets(at, path, f"{text}, with a shield or sleeve between")
    return advisory(
        at,
        path,
        f"{text}; 6 in or a shield is practice",
        remedy="reroute the line, or put a shield or fire sleeve between",
        **numbers,
    )


def _wire(
    at: tuple[str, ...], path: DocPath, one: Clearance, distance: float, text: str, liquid: bool
) -> Verdict:
    least = _WIRE_CLAMPED_IN if one.clamped else _WIRE_LEAST_IN
    numbers = {"value": distance, "limit": least, "margin": distance - least, "unit": "in"}
    if distance <= 0:
        return discrepancy(
            at, path, f"{text}: they touch", remedy="part them, and clamp both to structure", **numbers
        )
    if liquid and one.position == "above" and distance < _WIRE_IN:
        return discrepancy(
            at,
            path,
            f"{text}, above it: a drip falls on the wire",
            remedy="run the line below the wire, or 6 in away",
            source="AC 43.13-1B 8-31: where they cannot be parted the line goes below the wiring",
            **{**numbers, "limit": _WIRE_IN, "margin": distance - _WIRE_IN},
        )
    if not liquid:
        return meets(at, path, text)
    if distance < _WIRE_CLAMPED_IN:
        return discrepancy(
            at, path, f"{text}; 0.5 in with both clamped is the least", remedy="part them", **numbers
        )
    if distance < least:
        if one.clamped is None:
            return undetermined(at, path, "clamping of line and wire ('clamped: yes' or 'no')")
        return advisory(
            at,
            path,
            f"{text} without being clamped; 2 in is the least",
            remedy="part them by 2 in, or clamp both so that they cannot touch",
            **numbers,
        )
    return meets(at, path, text, **numbers)


def _least(
    at: tuple[str, ...], path: DocPath, one: Clearance, distance: float, text: str, least: float, why: str
) -> Verdict:
    numbers = {"value": distance, "limit": least, "margin": distance - least, "unit": "in"}
    if distance <= 0:
        return discrepancy(at, path, f"{text}: it chafes", remedy=f"clamp it {least} in away", **numbers)
    if distance < least and not one.guarded:
        return advisory(at, path, f"{text}; {why}", remedy=f"clamp it {least} in away", **numbers)
    return meets(at, path, text, **numbers)


def _touch(at: tuple[str, ...], path: DocPath, one: Clearance, distance: float, text: str) -> Verdict:
    if distance <= 0 and not one.guarded:
        return discrepancy(
            at, path, f"{text}: it chafes", remedy="hold it off in a cushioned clamp, or guard the edge"
        )
    return meets(at, path, text)
