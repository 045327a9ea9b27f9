"""How the way and the length of a run or line differ."""

from __future__ import annotations

from collections.abc import Iterator

from ..document.source import DocPath
from ..graph import total_length, zone_lengths
from ..model.comparing import same
from ..model.fluid import FluidLine
from ..model.routes import RouteStep
from ..model.wiring import WireRun
from .change import Change, Detail, Kind, length_told, length_unit, noun
from .differences import NOT_GIVEN, Pair, in_words


def route_changes(
    section: str, ident: str, was: WireRun | FluidLine, run: WireRun | FluidLine, pair: Pair
) -> Iterator[Change]:
    path: DocPath = (section, ident, "route") if run.route else (section, ident)
    name = noun(section, run)
    before, after = _way(was.route, pair), _way(run.route, None)
    if before and after and before != after:
        detail = Detail("route", _way_told(was), _way_told(run))
        yield Change(Kind.REROUTED, section, ident, name, (detail,), "", path)
    old, new = total_length(was), total_length(run)
    lengths = []
    if _differ(old, new):
        unit = length_unit(was) or length_unit(run) or "ft"
        lengths.append(Detail("length", length_told(old, unit), length_told(new, unit)))
    elif before == after and not _same_split(was, run):
        lengths.append(Detail("length by zone", _way_told(was), _way_told(run)))
    if lengths:
        yield Change(Kind.RELENGTHENED, section, ident, name, tuple(lengths), "", path)
    if bool(before) != bool(after):
        detail = Detail("route", _way_told(was), _way_told(run))
        yield Change(Kind.CHANGED, section, ident, name, (detail,), "", path)
    elif before == after:
        crossed = zip(_crossings(was.route), _crossings(run.route), strict=True)
        details = [
            Detail(f"clearance at {b.barrier}", in_words(a.clearance), in_words(b.clearance, a.clearance))
            for a, b in crossed
            if _differ(a.clearance, b.clearance)
        ]
        if details:
            yield Change(Kind.CHANGED, section, ident, name, tuple(details), "", path)


def _differ(old: float | None, new: float | None) -> bool:
    """Whether a figure is given in one document only, or is another in each."""
    return (old is None) is not (new is None) or (old is not None and new is not None and not same(old, new))


def _crossings(route: list[RouteStep] | None) -> list[RouteStep]:
    return [step for step in route or () if step.barrier is not None]


def _way(route: list[RouteStep] | None, pair: Pair | None) -> list[tuple[str, ...]]:
    """Zones and crossings in order; steps that stay in one zone are one."""
    made: list[tuple[str, ...]] = []
    for step in route or ():
        zone, barrier, fitting = step.zone, step.barrier, step.fitting
        if pair is not None:
            zone = zone and pair.names.of("zones", zone)
            barrier = barrier and pair.names.of("barriers", barrier)
            fitting = fitting and pair.names.of("fittings", fitting)
        told = (zone,) if zone else (barrier or "", step.through or "", fitting or "", "crossing")
        if not made or made[-1] != told:
            made.append(told)
    return made


def _same_split(was: WireRun | FluidLine, run: WireRun | FluidLine) -> bool:
    old, new = _by_zone(was), _by_zone(run)
    return old is None or new is None or all(map(same, old, new))


def _by_zone(run: WireRun | FluidLine) -> list[float] | None:
    """Length of each unbroken stretch in one zone."""
    split = zone_lengths(run)
    if split is None:
        return None
    made: list[float] = []
    last = None
    for step in run.route or ():
        if step.zone is not None and step.length is not None:
            if step.zone == last:
                made[-1] += step.length
            else:
                made.append(float(step.length))
        last = step.zone
    return made


def _way_told(run: WireRun | FluidLine) -> str:
    if not run.route:
        return NOT_GIVEN
    steps = []
    for step in run.route:
        if step.zone is not None:
            steps.append(f"{step.zone} {step.length.text}" if step.length is not None else step.zone)
        else:
            by = f" by {step.fitting or step.through}" if step.fitting or step.through else ""
            steps.append(f"through {step.barrier}{by}")
    return ", ".join(steps)
