"""What a sender, probe or gauge port feels in a world, from what is true: lines, seats, exchanged hoses and stuck parts."""

from __future__ import annotations

from ..analysis.study import Point, Study
from ..graph.indications import measure_of
from ..model.fields import Measure
from .changes import Drifts, Feels, FeelsOther, Truly, World
from .looks import Setup
from .states import stopped

_DAY_PA = 101_325.0
"""Pa, of a standard day at sea level (ICAO Doc 7488)."""


def measure_of_source(study: Study, source: str) -> Measure | None:
    """What a source is read for."""
    for one in study.indications:
        if one.source == source:
            return measure_of(study.graph, one)
    indicator = study.model.indicators.get(source)
    return indicator.spec.measures if indicator is not None else None


def true_of(study: Study, setup: Setup, point: Point, source: str, stated: float) -> float:
    """What is true of a source in a setup: as known at the time, else as the operating point says."""
    for ident, value in (*setup.bathed, *setup.known):
        if ident == source:
            return value
    return stated


def sensed(study: Study, setup: Setup, point: Point, source: str, stated: float, world: World) -> float:
    """What a source feels [SI, degC]."""
    value = true_of(study, setup, point, source, stated)
    known = any(ident == source for ident, _ in setup.known)
    for change in world:
        if (
            isinstance(change, Truly)
            and change.source == source
            and not known
            and setup.point != stopped(study).name
        ):
            value += change.offset
        elif isinstance(change, FeelsOther) and change.source == source:
            value = _other(study, setup, point, source, change.other, value)
    for change in world:
        if isinstance(change, Feels) and change.source == source:
            toward = change.toward if change.toward is not None else around(study, point, source)
            value = toward + change.share * (value - toward) + change.offset
        elif isinstance(change, Drifts) and change.source == source:
            value += change.offset
    return value


def _other(study: Study, setup: Setup, point: Point, source: str, other: str, fallback: float) -> float:
    for ident, value in setup.known:
        if ident == other:
            return value
    measure = measure_of_source(study, other)
    reading = point.reading(measure)
    if reading is None:
        return fallback
    return _in_scale(float(reading), measure, measure_of_source(study, source))


def _in_scale(value: float, measure: Measure | None, other: Measure | None) -> float:
    """A pressure of one measure as the scale of another tells it: absolute, over the surroundings, or below them."""
    if measure is None or other is None or not {measure, other} & {"manifold pressure", "vacuum"}:
        return value
    absolute = (
        value
        if measure == "manifold pressure"
        else _DAY_PA - value
        if measure == "vacuum"
        else _DAY_PA + value
    )
    return (
        absolute
        if other == "manifold pressure"
        else _DAY_PA - absolute
        if other == "vacuum"
        else absolute - _DAY_PA
    )


def around(study: Study, point: Point, source: str) -> float:
    """What surrounds a source: no pressure over the surroundings, the barometer for manifold pressure, its zone's air."""
    measure = measure_of_source(study, source)
    if measure is not None and "temperature" not in measure:
        resting = stopped(study).reading(measure)
        return float(resting) if resting is not None else 0.0
    found = study.model.find(source)
    zone = getattr(found[1], "zone", None) if found is not None else None
    return point.zones.get(zone or "", 20.0)
