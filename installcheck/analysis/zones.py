"""What zones hold, by what runs through them."""

from __future__ import annotations

from .fluid.facts import FLAMMABLE, carried, lines, zones_of
from .study import Study, once


@once
def flammable_zones(study: Study) -> frozenset[str]:
    """Zones that a line with something that burns in it runs through; a line of unknown medium counts."""
    found: set[str] = set()
    for part in lines(study):
        media = carried(study, part.ident)
        if not media or media & FLAMMABLE:
            found.update(zones_of(study, part.line) or ())
    return frozenset(found)


@once
def hot_zones(study: Study) -> frozenset[str]:
    """Zones that exhaust parts run through; a fire zone that does not say is taken for one."""
    return frozenset(
        ident
        for ident, zone in study.model.zones.items()
        if (zone.hot_parts if zone.hot_parts is not None else zone.fire_zone)
    )


def stops_fire(study: Study, ident: str) -> bool | None:
    """Whether what crosses the wall must stop fire too; None where nobody says and fire can stand on one side of it only.

    A zone that does not say can be a fire zone, unless people sit in it. Between two fire zones none is asked for.
    """
    wall = study.model.barriers[ident]
    if wall.kind is not None or wall.fireproof is not None:
        return wall.stops_fire
    sides = [study.model.zones[name] for name in wall.between if name in study.model.zones]
    if len(sides) == 2 and all(zone.fire_zone for zone in sides):
        return False
    return (
        None
        if any(zone.fire_zone or (zone.fire_zone is None and not zone.occupied) for zone in sides)
        else False
    )


def is_open(study: Study, one: str, other: str) -> bool:
    """Whether two zones can be open to each other: no wall is told between them, and both are of one sort."""
    walls, zones = study.model.barriers.values(), study.model.zones
    if any({one, other} == set(wall.between) for wall in walls) or not {one, other} <= zones.keys():
        return False
    a, b = zones[one], zones[other]
    return bool(a.occupied) == bool(b.occupied) and bool(a.fire_zone) == bool(b.fire_zone)
