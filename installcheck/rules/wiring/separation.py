"""What wires keep clear of: lines that burn, hot parts, controls, edges; judged once for a bundle, or for a run that lies alone."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator

from ...analysis import missing
from ...analysis.fluid.separation import Case, apart
from ...analysis.missing import Missing
from ...analysis.routing import Carrier, carrier_zones, carriers
from ...analysis.study import Study
from ...analysis.zones import flammable_zones, hot_zones
from ...model.comparing import at_least
from ...model.quantities import in_unit, plain_number
from ...model.routes import Clearance
from ..verdicts import Verdict
from ..vocabulary import Subject, rule

_BURNS = frozenset(("flammable line", "oxygen line", "tank"))
_TANK = "practice: as from a line that burns, AC 43.13-1B 11-96; no figure for tanks was found"
_HOT = frozenset(("exhaust", "hot equipment"))
_HOT_IN = 6.0
"""Inch from exhaust: shop practice; no published figure was found."""
_CONTROLS_IN = {"control cable": 3.0, "movable control": 0.5, "structure edge": 0.375}
"""Inch from control cables without a guard and from other moving controls: AC practice, 11-125 (recalled); from an edge:
AC 43.13-1B 11-115, which asks it at the edge of a hole."""

Judge = Callable[[Subject, Carrier, Clearance, float | None], Verdict]


def _carriers(study: Study) -> Iterator[Carrier]:
    return carriers(study, "clearances")


def _told(subject: Subject, carrier: Carrier, kinds: Collection[str], judge: Judge) -> list[Verdict]:
    """A verdict on every clearance of some kinds; the distance is handed to ``judge`` in inches."""
    return [
        judge(
            subject.field("clearances", i).along(one.to),
            carrier,
            one,
            in_unit(one.distance, "in", "length") if one.distance is not None else None,
        )
        for i, one in enumerate(carrier.said.clearances or ())
        if one.kind in kinds
    ]


def _untold(
    study: Study, subject: Subject, carrier: Carrier, holds: Collection[str], what: Missing
) -> Verdict | None:
    """What is asked of a carrier that tells no such clearance: nothing, if none of its zones holds such a thing."""
    if not holds:
        return None
    zones = carrier_zones(study, carrier)
    if zones is None:
        return subject.lacks(missing.RUN_ROUTE)
    if zones.isdisjoint(holds):
        return None
    if carrier.said.clearances is None:
        return subject.lacks(missing.CARRIER_CLEARANCES)
    if carrier.said.clearances:
        return subject.field("clearances").lacks(what)
    return subject.field("clearances").meets(f"{carrier.name} passes nothing that can hurt it")


def _passes(carrier: Carrier, one: Clearance, inches: float) -> str:
    return f"{carrier.name} passes {one.to} ({one.kind}) at {plain_number(inches)} in"


@rule(
    "wire-from-flammable-line",
    title="Wires run above lines that burn and at least 6 in from them, or 2 in with both clamped",
    why="A leak drips on what is below it; a chafed wire that touches a fuel line burns a hole in it and lights what comes out.",
    source="AC 43.13-1B 11-96 (6 in, 2 in); above the line: FAA-H-8083-31; 1/2 in: a military wiring specification (second-hand)",
    formula="distance >= 6 in; or not below the line, both clamped and >= 2 in",
    example="3 in above a fuel hose, both clamped: meets; 3 in below it: a discrepancy",
    over=_carriers,
)
def wire_from_flammable_line(
    study: Study, subject: Subject, carrier: Carrier
) -> list[Verdict] | Verdict | None:
    """Every bundle, and every run that lies alone, in a zone with such a line."""
    return _told(subject, carrier, _BURNS, _burning) or _untold(
        study, subject, carrier, flammable_zones(study), missing.CLEARANCE_TO_FLAMMABLE_LINES
    )


_TOO_NEAR: dict[Case, str] = {
    "least": "; 2 in with both clamped is the least",
    "drip": ", below it: a leak drips on the wires",
    "loose": " without both being clamped; 6 in is the least then",
    "clamped": ", clamped; 2 in is the least but where they are positively clamped together",
}


def _burning(subject: Subject, carrier: Carrier, one: Clearance, inches: float | None) -> Verdict:
    if inches is None:
        return subject.lacks(missing.CLEARANCE_TO_LINE)
    asked = apart(inches, one.position, one.clamped)
    if isinstance(asked, Missing):
        return subject.lacks(asked)
    text = _passes(carrier, one, inches)
    return subject.at_least(
        inches,
        asked.limit,
        "in",
        text if asked.case == "far" else f"{text}, {one.position} it and clamped",
        broken=f"{text}{_TOO_NEAR.get(asked.case, '')}",
        remedy="move the wires 2 in away, or see that they are held apart whatever clamp is lost"
        if asked.practice
        else "move the wires 6 in away, or above the line with both clamped to structure",
        practice=asked.practice or one.kind == "tank",
        source=_TANK if one.kind == "tank" else "",
    )


@rule(
    "wire-from-heat",
    title="Wires keep clear of exhaust and other hot parts, or a shield stands between",
    why="Radiant heat chars insulation well below the temperature of the air around it says.",
    source="FAA-H-8083-31, TM 1-1500-204-23-4 (kept apart; no distance published); 6 in: shop practice",
    formula="distance >= 6 in, or a shield between",
    example="8 in from the stacks: 2 in to spare",
    over=_carriers,
)
def wire_from_heat(study: Study, subject: Subject, carrier: Carrier) -> list[Verdict] | Verdict | None:
    """Every bundle, and every run that lies alone, in a zone with exhaust parts."""
    return _told(subject, carrier, _HOT, _hot) or _untold(
        study, subject, carrier, hot_zones(study), missing.CLEARANCE_TO_EXHAUST
    )


def _hot(subject: Subject, carrier: Carrier, one: Clearance, inches: float | None) -> Verdict:
    if inches is None:
        return subject.lacks(missing.CLEARANCE_TO_HOT_PART)
    text, touches = _passes(carrier, one, inches), inches <= 0
    if one.guarded and not touches and not at_least(inches, _HOT_IN):
        return subject.meets(f"{text}, with a shield between")
    return subject.at_least(
        inches,
        _HOT_IN,
        "in",
        text,
        broken=f"{text}: it touches" if touches else f"{text}; 6 in or a shield is practice",
        remedy="clamp it 6 in away"
        if touches
        else f"move it {plain_number(_HOT_IN - inches)} in further off, or fit a heat shield",
        practice=not touches,
    )


@rule(
    "wire-from-controls",
    title="Wires keep clear of control cables, moving controls and bare edges",
    why="A cable saws through a wire, and a wire that fouls a control jams it.",
    source="edges: AC 43.13-1B 11-115; AC 43.13-1B 11-125 (1/2 in, recalled); 3 in or a guard at control cables: AC practice (recalled)",
    formula="control cable: >= 3 in or guarded; other controls >= 1/2 in; edges >= 3/8 in; touching none",
    example="1 in from a control cable with no guard: 2 in short",
    over=_carriers,
)
def wire_from_controls(study: Study, subject: Subject, carrier: Carrier) -> list[Verdict]:
    """Every such clearance that is told: the document does not say where controls run."""
    return _told(subject, carrier, _CONTROLS_IN, _moving)


def _moving(subject: Subject, carrier: Carrier, one: Clearance, inches: float | None) -> Verdict:
    if inches is None:
        return subject.lacks(missing.CLEARANCE_TO_CONTROL)
    text, least, touches = _passes(carrier, one, inches), _CONTROLS_IN[one.kind], inches <= 0
    if one.guarded:
        return subject.meets(f"{text}, guarded")
    return subject.at_least(
        inches,
        least,
        "in",
        text,
        broken=f"{text}: it chafes"
        if touches
        else f"{text}; {plain_number(least)} in or a guard is practice",
        remedy="clamp it clear, or guard it"
        if touches
        else f"clamp it {plain_number(least - inches)} in further off, or fit a guard",
        practice=not touches,
    )
