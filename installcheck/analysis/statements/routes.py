"""The way of a run or line against where its ends are, and against its own length."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations, pairwise
from typing import TypeAlias

from ...graph import spare_length, total_length, zone_lengths
from ...graph.joining import shortest
from ...model.aircraft import Barrier
from ...model.comparing import at_most
from ...model.fluid import Fitting, FluidLine
from ...model.installation import split_end
from ...model.quantities import show
from ...model.wiring import Junction, WireRun
from ..missing import ROUTE_END_ZONE
from ..routing import wires
from ..study import Study, once
from ..zones import is_open
from .pairs import Field, Pair, rounding

Run: TypeAlias = "WireRun | FluidLine"


def runs(study: Study) -> Iterator[tuple[str, str, Run]]:
    """(section, id, run) of every wire run and fluid line."""
    for ident, run in study.model.wire_runs.items():
        yield "wire_runs", ident, run
    for ident, line in study.model.fluid_lines.items():
        yield "fluid_lines", ident, line


def lengths(study: Study) -> Iterator[Pair]:
    """Runs and lines that give their length as a whole and by zone."""
    for section, ident, run in runs(study):
        split = zone_lengths(run)
        if run.length is None or split is None:
            continue
        total = sum(length for _, length in split)
        steps = [s.length for s in run.route or () if s.length is not None]
        extra = (run.slack, getattr(run, "coiled", None))
        spare = [s for t in extra if t is not None and (s := spare_length(t, run.length)) is not None]
        allowed = rounding(run.length) + sum(map(rounding, steps))
        off = min(abs(run.length - total - more) for more in (0.0, *spare, sum(spare)))
        told = f"{ident} is {run.length.text} long, and its route adds up to"
        fields: list[Field] = [(section, ident, "length")]
        fields += [(section, ident, "route", i, "length") for i, s in enumerate(run.route or ()) if s.zone]
        yield Pair(
            ident,
            (section, ident, "length"),
            at_most(off, allowed),
            f"{told} {show(total, run.length.unit, 'length')}",
            "measure it, and correct the length or the route",
            open=tuple(fields),
        )


def rises(study: Study) -> Iterator[Pair]:
    """Lines that give their length and how far they rise: none rises or falls more than it is long."""
    for ident, line in study.model.fluid_lines.items():
        length = total_length(line)
        if line.rise is None or not length:
            continue
        yield Pair(
            ident,
            ("fluid_lines", ident, "rise"),
            at_most(abs(line.rise), length + rounding(line.rise)),
            f"{ident} rises {line.rise.text}, and is {show(length, 'in', 'length')} long",
            "measure it, and correct the length or the rise",
            open=(("fluid_lines", ident, "rise"),),
        )


def extents(study: Study) -> Iterator[Pair]:
    """Lengths against routes, and rises against lengths."""
    yield from lengths(study)
    yield from rises(study)


def ways(study: Study) -> Iterator[Pair]:
    """Runs and lines with a route: it begins and ends where their ends are, and leaves out no zone between."""
    for section, ident, run in runs(study):
        if run.route:
            yield _way(study, section, ident)


@once
def _way(study: Study, section: str, ident: str) -> Pair:
    run = study.model.wire_runs[ident] if section == "wire_runs" else study.model.fluid_lines[ident]
    faults = [*_inside(study, run), *_at_ends(study, run)]
    unplaced = () if faults else tuple(_unplaced(study, run))
    beside = tuple(dict.fromkeys(name for names, *_ in faults for name in names)) or unplaced
    fields: list[Field] = [(section, ident, "route")]
    for name in beside:
        found = study.model.find(name)
        if found is not None and getattr(found[1], "zone", None) is not None:
            fields.append((found[0], name, "zone"))
    return Pair(
        ident,
        (section, ident, "route"),
        not faults,
        f"the route of {ident} {' and '.join(text for _, text, _ in faults)}"
        if faults
        else f"the route of {ident} begins and ends where its ends are",
        "correct the route, or the zone of what it ends at",
        beside=beside,
        open=tuple(fields),
        certain=any(certain for *_, certain in faults) or not faults,
        lacks=(ROUTE_END_ZONE,) if unplaced else (),
    )


Fault: TypeAlias = tuple[tuple[str, ...], str, bool]
"""Ids it concerns, what is wrong, and whether it is certain."""


def _inside(study: Study, run: Run) -> Iterator[Fault]:
    """Barriers whose two sides the route does not join, and steps into a zone that only another zone leads to."""
    walls, steps = study.model.barriers, run.route or []
    before: str | None = None
    wall: str | None = None
    for step in steps:
        if step.zone is not None:
            if wall is not None and step.zone not in walls[wall].between:
                yield (wall,), f"passes the {wall} into the {step.zone}, which is on neither side of it", True
            elif wall is not None and step.zone == before:
                yield (wall,), f"passes the {wall} and is in the {step.zone} as before", True
            elif wall is None and before is not None and (over := _left_out(study, before, step.zone)):
                told = (
                    f"goes from the {before} into the {step.zone} and leaves out the {' and the '.join(over)}"
                )
                yield (step.zone,), told, True
            before, wall = step.zone, None
        elif step.barrier in walls:
            sides = walls[step.barrier].between
            if wall is not None:
                shared = set(sides) & set(walls[wall].between)
                what = f"leaves out the {shared.pop()}" if len(shared) == 1 else "leaves out what is"
                yield (wall, step.barrier), f"{what} between the {wall} and the {step.barrier}", True
                before = None
            elif before is not None and before not in sides:
                yield (
                    (step.barrier,),
                    f"passes the {step.barrier} from the {before}, which is on neither side of it",
                    True,
                )
            wall = step.barrier


@once
def _left_out(study: Study, one: str, other: str) -> tuple[str, ...]:
    """Zones and walls between two zones that neither touch nor are open to each other; empty where nothing tells of any."""
    zones = _neighbours(study)
    way = None if one == other else shortest(zones, one, other)
    if way is None or len(way) == 2:
        return ()
    steps = [(zones[a][b], b) for a, b in pairwise(way)]
    return tuple(name for wall, zone in steps for name in (wall, zone) if name and name != other)


@once
def _neighbours(study: Study) -> dict[str, dict[str, str]]:
    """Zones and those beside them, with the wall that is told between the two; '' where they can be open to each other."""
    found: dict[str, dict[str, str]] = {}
    for one, other in combinations(study.model.zones, 2):
        if is_open(study, one, other):
            found.setdefault(one, {})[other] = found.setdefault(other, {})[one] = ""
    for ident, wall in study.model.barriers.items():
        one, other = wall.between
        found.setdefault(one, {})[other] = found.setdefault(other, {})[one] = ident
    return found


def _ends(run: Run) -> list[tuple[str, str]]:
    """Both ends of each conductor."""
    return [wire.ends for wire in wires(run)] if isinstance(run, WireRun) else [(run.from_, run.to)]


def _unplaced(study: Study, run: Run) -> Iterator[str]:
    """What a run ends at and nobody says the zone of; structure is everywhere."""
    for ident in dict.fromkeys(split_end(end)[0] for ends in _ends(run) for end in ends):
        found = study.model.find(ident)
        if found is not None and _places(study, ident) is None and not _is_structure(study, ident):
            yield ident


def _is_structure(study: Study, ident: str) -> bool:
    return (ground := study.model.grounds.get(ident)) is not None and ground.kind == "structure"


def _at_ends(study: Study, run: Run) -> list[Fault]:
    """Ends that are elsewhere than the route; it may be told from either end of each conductor."""
    first, last = _outermost(run, 0), _outermost(run, -1)
    faults: list[Fault] = []
    for a, b in _ends(run):
        told = _ended(study, a, first, b, last)
        turned = _ended(study, b, first, a, last)
        faults += told if len(told) <= len(turned) else turned
    passed = {step.zone for step in run.route or ()}
    # A thing between two zones that are open to each other is reached from either, if the route passes both.
    return [
        (names, text, certain or not passed.intersection(_zones(study, names)))
        for names, text, certain in dict.fromkeys(faults)
    ]


def _zones(study: Study, names: tuple[str, ...]) -> set[str | None]:
    found = (study.model.find(name) for name in names)
    return {getattr(one[1], "zone", None) for one in found if one is not None}


def _outermost(run: Run, which: int) -> tuple[str, str | None]:
    """The zone a route begins or ends in, and the barrier it stops at, where it stops at one."""
    step = (run.route or [])[which]
    return (step.zone, None) if step.zone is not None else ("", step.barrier)


def _ended(
    study: Study, a: str, first: tuple[str, str | None], b: str, last: tuple[str, str | None]
) -> list[Fault]:
    found: list[Fault] = []
    for end, (zone, barrier), verb in ((a, first, "begins"), (b, last, "ends")):
        ident = split_end(end)[0]
        where = _places(study, ident)
        if where is None:
            continue
        own, sides = where
        if barrier is not None:
            if barrier in study.model.barriers and own not in sides - {own}:
                found += _at_wall(study.model.barriers[barrier], barrier, ident, own, sides, verb)
        elif zone not in sides:
            text = f"{verb} in the {zone}, and {ident} is in the {own}"
            found.append(((ident,), text, not is_open(study, zone, own)))
    return found


def _at_wall(
    wall: Barrier, barrier: str, ident: str, own: str, sides: set[str], verb: str
) -> Iterator[Fault]:
    if len(sides) > 1:
        return
    if own in wall.between:
        yield (ident,), f"{verb} at the {barrier} and says nothing of its way in the {own} to {ident}", True
    else:
        yield (ident,), f"{verb} at the {barrier}, and {ident} is in the {own}", True


@once
def _places(study: Study, ident: str) -> tuple[str, set[str]] | None:
    """The zone of a thing, and the zones a run can reach it from: both sides, for what is fixed in a barrier."""
    found = study.model.find(ident)
    if found is None:
        return None
    thing = found[1]
    zone = getattr(thing, "zone", None)
    if zone is None or _is_structure(study, ident):
        return None
    sides = {zone}
    walls = study.model.barriers
    if isinstance(thing, Fitting) and thing.barrier in walls:
        sides.update(walls[thing.barrier].between)
    elif isinstance(thing, Junction) and thing.side is not None:
        for wall in walls.values():
            if zone in wall.between:
                sides.update(wall.between)
    return zone, sides
