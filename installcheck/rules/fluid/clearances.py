"""What a line passes: exhaust, wires, controls and edges."""

from __future__ import annotations

from collections.abc import Iterator

from ...analysis import missing
from ...analysis.fluid.facts import FLAMMABLE, LIQUID, Part, carried, lines, runs
from ...analysis.fluid.separation import Case, apart
from ...analysis.missing import Missing
from ...analysis.study import Study
from ...model.comparing import at_least
from ...model.quantities import in_unit, plain_number
from ...model.routes import Clearance
from ..verdicts import Verdict
from ..vocabulary import Subject, rule

_EXHAUST_IN = 6.0
"""Inch: shop practice; no government figure was found."""
_CONTROL_IN = 0.5
"""Inch at full travel: practice (recalled)."""
_TANK_IN = 0.5
_WIRES = frozenset(("wire", "high-current wire", "ignition lead", "aerial lead"))
_HOT = frozenset(("exhaust", "hot equipment"))
_MOVING = frozenset(("control cable", "movable control"))


@rule(
    "line-clearance",
    title="A line keeps clear of exhaust, wires, controls and edges, and wires run above it",
    why="A gauge line that cracked beside a wire bundle above the tail pipe burned a cabin. A drip onto a wire or a hot pipe is "
    "a fire; a rub is a leak.",
    source="no chafing, wire above the line: AC 43.13-1B 8-31; wires 6 in and 2 in: AC 43.13-1B 11-96; exhaust 6 in and controls "
    "0.5 in: practice",
    formula="exhaust 6 in, or a shield between; wires 6 in, or 2 in with the line below and both clamped; controls 0.5 in; edges: no "
    "contact",
    example="a fuel line 1 in from a wire, not clamped: 5 in short of 6 in",
    over=lambda study: [
        *runs(study),
        *(part for part in lines(study, capillaries=True) if part.is_capillary),
    ],
)
def line_clearance(study: Study, subject: Subject, part: Part) -> Iterator[Verdict]:
    """What it passes, for a line that burns when it leaks, and for any other, a capillary too, what it states."""
    told = carried(study, part.ident)
    given = part.line.clearances
    if given is None:
        if not told or told & FLAMMABLE:
            yield subject.lacks(missing.LINE_CLEARANCES)
        return
    if not given:
        yield subject.field("clearances").meets(f"line {part.ident} passes nothing that can hurt it")
    for i, one in enumerate(given):
        yield _judge(subject.field("clearances", i).along(one.to), one, bool(told & LIQUID))


def _judge(subject: Subject, one: Clearance, liquid: bool) -> Verdict:
    if one.distance is None:
        return subject.lacks(missing.LINE_DISTANCE)
    distance = in_unit(one.distance, "in", "length")
    text = f"line {subject.ident} passes {one.to} ({one.kind}) at {plain_number(distance)} in"
    if one.kind in _HOT:
        return _hot(subject, one, distance, text)
    if one.kind in _WIRES:
        return _wire(subject, one, distance, text, liquid)
    if one.kind in _MOVING:
        return _least(subject, one, distance, text, _CONTROL_IN, "over its full travel, 0.5 in is practice")
    if one.kind == "tank":
        return _least(subject, one, distance, text, _TANK_IN, "0.5 in of clear space is practice")
    if distance <= 0 and not one.guarded:
        return subject.discrepancy(
            f"{text}: it chafes", remedy="hold it off in a cushioned clamp, or guard the edge"
        )
    return subject.meets(text)


def _hot(subject: Subject, one: Clearance, distance: float, text: str) -> Verdict:
    if distance <= 0:
        return subject.at_least(
            distance, _EXHAUST_IN, "in", f"{text}: it touches", remedy="reroute the line 6 in away"
        )
    if one.guarded and not at_least(distance, _EXHAUST_IN):
        return subject.meets(f"{text}, with a shield or sleeve between")
    return subject.at_least(
        distance,
        _EXHAUST_IN,
        "in",
        text,
        broken=f"{text}; 6 in or a shield is practice",
        remedy="reroute the line, or put a shield or fire sleeve between",
        practice=True,
    )


_TOO_NEAR: dict[Case, str] = {
    "least": "; 2 in with both clamped is the least",
    "drip": ", above it: a drip falls on the wire",
    "loose": " without both being clamped; 6 in is the least then",
    "clamped": ", clamped; 2 in is the least but where they are positively clamped together",
}
_OPPOSITE = {"above": "below", "below": "above"}


def _wire(subject: Subject, one: Clearance, distance: float, text: str, liquid: bool) -> Verdict:
    if not liquid:
        if distance <= 0:
            return subject.discrepancy(f"{text}: they touch", remedy="part them, and clamp both to structure")
        return subject.meets(text)
    wires = _OPPOSITE.get(one.position, one.position) if one.position is not None else None
    asked = apart(distance, wires, one.clamped)
    if isinstance(asked, Missing):
        return subject.lacks(asked)
    return subject.at_least(
        distance,
        asked.limit,
        "in",
        text if asked.case == "far" else f"{text}, {one.position} it and clamped",
        broken=f"{text}{_TOO_NEAR.get(asked.case, '')}",
        remedy="part them by 2 in, or see that they are held apart whatever clamp is lost"
        if asked.practice
        else "run the line 6 in away, or below the wire with both clamped to structure",
        practice=asked.practice,
    )


def _least(subject: Subject, one: Clearance, distance: float, text: str, least: float, why: str) -> Verdict:
    if one.guarded and distance > 0 and not at_least(distance, least):
        return subject.meets(f"{text}, with a guard between")
    return subject.at_least(
        distance,
        least,
        "in",
        text,
        broken=f"{text}: it chafes" if distance <= 0 else f"{text}; {why}",
        remedy=f"clamp it {least} in away",
        practice=distance > 0,
    )
