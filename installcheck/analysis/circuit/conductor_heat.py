"""The heat a conductor makes itself: the current it may carry, and how far its current warms it."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from ...graph import Edge
from ...physics.ampacity import derated_current, table_current
from ..study import Point, Study, once
from .assembly import Assembly

FloatArray = NDArray[np.float64]

_WARMS = 0.1
"""A, current below which a conductor's own heat is not worked out: size 26 warms by less than 0.1 degC."""


@once
def current_limit(study: Study, edge: Edge, point: Point) -> float | None:
    """Current a conductor may carry continuously in A: derated for its bundle and altitude, else table 11-9 as it stands.

    ``None`` where the document does not give gauge, rating or the temperature along it.
    """
    run = edge.run
    if run is None:
        return None
    gauge = (edge.conductor.gauge if edge.conductor is not None else None) or run.gauge
    rating = run.spec.temperature_rating
    if gauge is None or rating is None:
        return None
    ambient = surroundings(edge, point)
    bundle = study.model.bundles.get(run.bundle) if run.bundle is not None else None
    altitude = point.given.altitude if point.given is not None else None
    altitude = altitude if altitude is not None else study.model.aircraft.ceiling
    wires = 1 if run.free_air else bundle.wires if bundle is not None else None
    share = 1.0 if run.free_air else bundle.load_share if bundle is not None else None
    try:
        if ambient is not None and wires is not None and share is not None and altitude is not None:
            return derated_current(
                str(gauge), float(rating), ambient, wires, float(share), max(0.0, float(altitude))
            ).current
        return table_current(str(gauge), float(rating))
    except ValueError:
        try:
            return table_current(str(gauge), float(rating))
        except ValueError:
            return None


def surroundings(edge: Edge, point: Point) -> float | None:
    """Temperature in degC of the hottest zone a run passes; ``None`` if not all are known."""
    hottest: float | None = None
    for step in (edge.run.route if edge.run is not None else None) or ():
        if step.zone is not None:
            here = point.zones.get(step.zone)
            if here is None:
                return None
            if hottest is None or here > hottest:
                hottest = here
    return hottest


def own_heat_of(assembly: Assembly, current: FloatArray, conductors: NDArray[np.bool_]) -> FloatArray:
    """Rise of each conductor by its own current in degC: the heat balance (rating - ambient) (I / limit)^2."""
    rise = np.zeros(len(current))
    warm = np.flatnonzero((np.abs(np.nan_to_num(current)) > _WARMS) & conductors)
    for number in warm.tolist():
        edge = assembly.branches.edge[number]
        if edge is None or edge.run is None or edge.run.spec.temperature_rating is None:
            continue
        limit = current_limit(assembly.study, edge, assembly.point)
        ambient = surroundings(edge, assembly.point)
        if limit is None or ambient is None:
            continue
        share = min(1.0, abs(float(current[number])) / limit)
        rise[number] = max(0.0, float(edge.run.spec.temperature_rating) - ambient) * share**2
    return rise
