"""Wires through walls: an edge they cannot chafe on, and in a firewall a way through that fire does not open."""

from __future__ import annotations

from collections.abc import Iterator

from ...analysis.routing import end_zone, wires
from ...analysis.study import Study
from ...document.source import DocPath
from ...model.aircraft import Barrier
from ...model.quantities import in_unit, plain_number
from ...model.routes import RouteStep
from ...model.wiring import WireRun
from ..fluid.barriers import fitting_bears
from ..fluid.part_23 import breach
from ..verdicts import (
    Verdict,
    discrepancy,
    meets,
    undetermined,
)
from ..vocabulary import rule

_CLEAR_M = 0.375 * 0.0254
"""3/8 in between wire and edge, below which a grommet is needed (AC 43.13-1B 11-115)."""
_SEALS = frozenset(("sealed plug", "bulkhead fitting", "sealed hole", "conduit"))
_HOW = "grommet, fitting or plug the run crosses the barrier by"
_WHERE = "barriers the run crosses in its route, and what it crosses each by"
_FIREPROOF = (
    "fire rating of what the run crosses the firewall by: a fitting of known material, or a fireproof grommet"
)
_CHAFE = "AC 43.13-1B 11-115"


@rule(
    "wire-through-barrier",
    title="A wire crosses a wall by a grommet or a sealed fitting, and a firewall by a fireproof one",
    why="A wire on a bare edge is sawn through by vibration. A soft grommet in the firewall burns out and opens it to the cabin.",
    source="14 CFR 23.1191 as before amendment 23-64 (recalled; same substance in 25.1191, 125.145); AC 43.13-1B 11-115",
    formula="firewall: fireproof grommet or fitting; elsewhere a grommet, or >= 3/8 in clear of the edge",
    example="an open hole with 1/4 in of clearance: 1/8 in short of doing without a grommet",
    over=lambda study: [i for i, r in study.model.wire_runs.items() if any(s.barrier for s in r.route or ())],
)
def wire_through_barrier(study: Study) -> Iterator[Verdict]:
    """Every crossing of every run, and every run that must cross a wall and does not say how."""
    walls = study.model.barriers
    between = {frozenset(wall.between): ident for ident, wall in walls.items()}
    for ident, run in study.model.wire_runs.items():
        for i, step in enumerate(run.route or ()):
            if step.barrier is not None and step.barrier in walls:
                yield _crossing(study, ident, step, walls[step.barrier], ("wire_runs", ident, "route", i))
        if between:
            for barrier in _untold(study, run, between):
                yield undetermined((ident, barrier), ("wire_runs", ident), _WHERE)


def _untold(study: Study, run: WireRun, between: dict[frozenset[str], str]) -> list[str]:
    """Walls between neighbouring zones of a run that its route does not name; a route may be told from either end."""
    first = next(wires(run), None)
    if first is None:
        return []
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


def _crossing(study: Study, ident: str, step: RouteStep, wall: Barrier, path: DocPath) -> Verdict:
    barrier = str(step.barrier)
    at = (ident, barrier) if step.fitting is None else (ident, barrier, step.fitting)
    if step.through is None and step.fitting is None:
        return undetermined(at, path, _HOW)
    if wall.stops_fire:
        return _in_firewall(study, ident, step, at, path)
    if step.through in ("open hole", "sealed hole"):
        return _in_hole(ident, step, at, path)
    return meets(at, path, f"run {ident} crosses the {barrier} by a {step.through or step.fitting}")


def _in_hole(ident: str, step: RouteStep, at: tuple[str, ...], path: DocPath) -> Verdict:
    if step.clearance is None:
        return undetermined(at, path, "clearance between the wire and the edge of the hole, or its grommet")
    inches = in_unit(step.clearance, "in", "length")
    numbers = {"value": inches, "limit": 0.375, "margin": inches - 0.375, "unit": "in", "source": _CHAFE}
    text = f"run {ident} passes a hole in the {step.barrier} {plain_number(inches)} in from its edge"
    if step.clearance >= _CLEAR_M * 0.999:
        return meets(at, path, text, **numbers)
    return discrepancy(
        at,
        path,
        f"{text} without a grommet; 3/8 in is the least",
        remedy="fit a grommet, or clamp the wire 3/8 in clear of the edge",
        **numbers,
    )


def _in_firewall(study: Study, ident: str, step: RouteStep, at: tuple[str, ...], path: DocPath) -> Verdict:
    barrier = step.barrier
    fitting = study.model.fittings.get(step.fitting or "")
    if fitting is not None:
        bears = fitting_bears(fitting)
        if bears == "fire":
            return meets(
                at, path, f"run {ident} crosses the {barrier} by the fireproof fitting {step.fitting}"
            )
        if bears == "unknown":
            return undetermined(at, ("fittings", str(step.fitting)), _FIREPROOF)
    elif step.through == "fireproof grommet":
        return meets(at, path, f"run {ident} crosses the {barrier} by a fireproof grommet")
    elif step.through in _SEALS or step.through is None:
        return undetermined(at, path, _FIREPROOF)
    what = f"the fitting {step.fitting}" if fitting is not None else _article(str(step.through))
    return breach(
        study,
        at,
        path,
        f"run {ident} crosses the {barrier} by {what}, which does not stop fire",
        remedy="cross by a fireproof grommet or a steel bulkhead fitting, sealed all round",
    )


def _article(word: str) -> str:
    return f"an {word}" if word[0] in "aeiou" else f"a {word}"
