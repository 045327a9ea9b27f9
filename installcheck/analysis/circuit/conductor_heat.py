"""The heat a conductor makes itself: the current it may carry, and how far its current warms it."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from ...graph import Edge
from ...model.comparing import SAME
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


@once
def _heating(study: Study, edge: Edge, point: Point) -> tuple[float, float] | None:
    """The current that warms a conductor to its rating [A], and what that is above its surroundings [degC]."""
    rating = edge.run.spec.temperature_rating if edge.run is not None else None
    limit, ambient = current_limit(study, edge, point), surroundings(edge, point)
    if rating is None or limit is None or ambient is None:
        return None
    return limit, max(0.0, float(rating) - ambient)


class OwnHeat:
    """What the current of each conductor of an assembly warms it by; what does not hang on the current is looked up once."""

    def __init__(self, assembly: Assembly, conductors: NDArray[np.bool_]) -> None:
        self._assembly, self._conductors = assembly, conductors
        self._told: dict[int, tuple[float, float] | None] = {}

    def of(self, current: FloatArray) -> FloatArray:
        """Rise of each branch in degC, 0 where it is no conductor: the heat balance (rating - ambient) (I / limit)^2."""
        rise, told_of = np.zeros(len(current)), self._told
        amps = np.abs(np.nan_to_num(current))
        warmed = np.flatnonzero((amps > _WARMS * (1 + SAME)) & self._conductors)
        for number, amp in zip(warmed.tolist(), amps[warmed].tolist(), strict=True):
            if number not in told_of:
                told_of[number] = self._heating(number)
            told = told_of[number]
            if told is not None:
                rise[number] = told[1] * min(1.0, amp / told[0]) ** 2
        return rise

    def _heating(self, number: int) -> tuple[float, float] | None:
        edge = self._assembly.branches[number].edge
        return None if edge is None else _heating(self._assembly.study, edge, self._assembly.point)
