"""Wires through walls: an edge they cannot chafe on, and in a firewall a way through that fire does not open."""

from __future__ import annotations

from collections.abc import Iterator

from ...analysis import missing
from ...analysis.fluid.stock import fitting_bears
from ...analysis.routing import end_zone, wires
from ...analysis.study import Study, once
from ...analysis.zones import stops_fire
from ...model.quantities import in_unit, plain_number
from ...model.routes import RouteStep
from ...model.wiring import WireRun
from ..part_23 import breach
from ..verdicts import Verdict
from ..vocabulary import Subject, rule

_CLEAR_IN = 0.375
"""3/8 in between wire and edge, below which a grommet is needed (AC 43.13-1B 11-115)."""
_SEALS = frozenset(("sealed plug", "bulkhead fitting", "sealed hole", "conduit"))
_CHAFE = "AC 43.13-1B 11-115"


@rule(
    "wire-through-barrier",
    title="A wire crosses a wall by a grommet or a sealed fitting, and a firewall by a fireproof one",
    why="A wire on a bare edge is sawn through by vibration. A soft grommet in the firewall burns out and opens it to the cabin.",
    source="14 CFR 23.1191 as before amendment 23-64 (recalled; same substance in 25.1191, 125.145); AC 43.13-1B 11-115",
    formula="firewall: fireproof grommet or fitting; elsewhere a grommet, or >= 3/8 in clear of the edge",
    example="an open hole with 1/4 in of clearance: 1/8 in short of doing without a grommet",
    over="wire_runs",
)
def wire_through_barrier(study: Study, subject: Subject, run: WireRun) -> Iterator[Verdict]:
    """Every crossing of every run, and every run that must cross a wall and does not say how."""
    walls = study.model.barriers
    for i, step in enumerate(run.route or ()):
        if step.barrier is not None and step.barrier in walls:
            along = (step.barrier,) if step.fitting is None else (step.barrier, step.fitting)
            yield _crossing(study, subject.field("route", i).along(*along), step, step.barrier)
    for barrier in _untold(study, run) if walls else ():
        yield subject.along(barrier).lacks(missing.BARRIERS_CROSSED)


@once
def _between(study: Study) -> dict[frozenset[str], str]:
    """The wall between two zones."""
    return {frozenset(wall.between): ident for ident, wall in study.model.barriers.items()}


def _untold(study: Study, run: WireRun) -> list[str]:
    """Walls between neighbouring zones of a run that its route does not name; a route may be told from either end."""
    first = next(wires(run), None)
    if first is None:
        return []
    between = _between(study)
    near, far = end_zone(study, first.ends[0]), end_zone(study, first.ends[1])
    there = _walls(run, near, far, between)
    return min(there, _walls(run, far, near, between), key=len) if there else there


def _walls(run: WireRun, near: str | None, far: str | None, between: dict[frozenset[str], str]) -> list[str]:
    here, crossed = near, False
    found: list[str] = []
    for step in (*(run.route or ()), None):
        if step is not None and step.barrier is not None:
            crossed = True
            continue
        there = far if step is None else step.zone
        if here is not None and there is not None and here != there and not crossed:
            wall = between.get(frozenset((here, there)))
            if wall is not None:
                found.append(wall)
        here, crossed = there if there is not None else here, False
    return found


def _crossing(study: Study, subject: Subject, step: RouteStep, wall: str) -> Verdict:
    if step.through is None and step.fitting is None:
        return subject.lacks(missing.CROSSED_BY)
    stops = stops_fire(study, wall)
    if stops:
        return _in_firewall(study, subject, step)
    if stops is None:
        kept = _in_firewall(study, subject, step)
        return (
            kept if kept.outcome == "meets" else subject.placed("barriers", wall).lacks(missing.BARRIER_KIND)
        )
    if step.through in ("open hole", "sealed hole"):
        return _in_hole(subject, step)
    return subject.meets(
        f"run {subject.ident} crosses the {step.barrier} by a {step.through or step.fitting}"
    )


def _in_hole(subject: Subject, step: RouteStep) -> Verdict:
    if step.clearance is None:
        return subject.lacks(missing.HOLE_CLEARANCE)
    inches = in_unit(step.clearance, "in", "length")
    text = f"run {subject.ident} passes a hole in the {step.barrier} {plain_number(inches)} in from its edge"
    return subject.at_least(
        inches,
        _CLEAR_IN,
        "in",
        text,
        broken=f"{text} without a grommet; 3/8 in is the least",
        remedy="fit a grommet, or clamp the wire 3/8 in clear of the edge",
        source=_CHAFE,
    )


def _in_firewall(study: Study, subject: Subject, step: RouteStep) -> Verdict:
    text = f"run {subject.ident} crosses the {step.barrier} by"
    fitting = study.model.fittings.get(step.fitting or "")
    if fitting is not None:
        bears = fitting_bears(fitting)
        if bears == "fire":
            return subject.meets(f"{text} the fireproof fitting {step.fitting}")
        if bears == "unknown":
            return subject.placed("fittings", str(step.fitting)).lacks(missing.CROSSING_FIRE_RATING)
    elif step.through == "fireproof grommet":
        return subject.meets(f"{text} a fireproof grommet")
    elif step.through in _SEALS or step.through is None:
        return subject.lacks(missing.CROSSING_FIRE_RATING)
    what = f"the fitting {step.fitting}" if fitting is not None else _article(str(step.through))
    return breach(
        subject,
        f"{text} {what}, which does not stop fire",
        remedy="cross by a fireproof grommet or a steel bulkhead fitting, sealed all round",
    )


def _article(word: str) -> str:
    return f"an {word}" if word[0] in "aeiou" else f"a {word}"
