"""States of the aircraft a look is taken in: operating points with other loads, and the stopped engine."""

from __future__ import annotations

from dataclasses import replace

from ..analysis.study import Point, Study, once
from ..model.aircraft import OperatingPoint
from ..model.fields import Measure
from ..model.quantities import Quantity, parse
from .looks import STOPPED, Setup

DAY_C = 20.0
"""degC, taken for everything on a parked aircraft where nobody wrote the temperature down."""
_STOPPED: dict[Measure, tuple[str, str]] = {
    "oil pressure": ("0 psi", "pressure"),
    "fuel pressure": ("0 psi", "pressure"),
    "hydraulic pressure": ("0 psi", "pressure"),
    "vacuum": ("0 inHg", "pressure"),
    "manifold pressure": ("29.92 inHg", "pressure"),
    "engine speed": ("0 rpm", "speed"),
    "fuel flow": ("0 gal/h", "flow"),
    **dict.fromkeys(
        (
            "oil temperature",
            "head temperature",
            "exhaust temperature",
            "turbine inlet temperature",
            "carburettor air temperature",
            "outside air temperature",
            "coolant temperature",
        ),
        (f"{DAY_C:g} degC", "temperature"),
    ),
}
"""What is true with the engine stopped and cold: no pressure but the barometer's (29.92 inHg at sea level on a standard
day, ICAO Doc 7488; the field's own is written with 'where ... is true')."""


def known_at_rest(measure: Measure | None) -> bool:
    """Whether the stopped engine tells what is true of a measure: not of a tank, nor of the bus."""
    return measure in _STOPPED


def point_names(study: Study) -> list[str]:
    """States an observation can name."""
    return [*(p.name for p in study.points), STOPPED]


@once
def usual(study: Study) -> Point:
    """The point looks are taken at where none is named: a cruise, else the first in which the engine is not being started."""
    for wanted in ("cruise", "climb"):
        for point in study.points:
            if point.given is not None and point.given.phase == wanted:
                return point
    return next((p for p in study.points if p.given is None or p.given.phase != "start"), study.points[0])


@once
def stopped(study: Study) -> Point:
    """Parked: cold, the engine stopped, the battery alone alive, no load on."""
    model = study.model
    alternators = [i for i, s in model.supplies.items() if s.spec.kind in ("alternator", "generator")]
    flown = usual(study).given
    readings: dict[Measure, Quantity] = {**((flown.readings if flown is not None else None) or {})}
    readings |= {m: parse(t, k) for m, (t, k) in _STOPPED.items()}
    given = OperatingPoint.model_construct(
        title="parked, engine stopped",
        phase="ground",
        readings=readings,
        loads_on=[],
        dead_supplies=alternators,
    )
    return Point(STOPPED, dict.fromkeys(model.zones, DAY_C), {}, given)


@once
def with_loads(study: Study, point: Point, loads: tuple[tuple[str, bool], ...]) -> Point:
    """The same point with some loads switched otherwise."""
    from ..analysis.circuit.solved import circuit

    on = set(circuit(study, point).loads_on)
    for ident, is_on in loads:
        (on.add if is_on else on.discard)(ident)
    given = point.given or OperatingPoint()
    return replace(point, given=given.model_copy(update={"loads_on": sorted(on)}))


def point_of(study: Study, setup: Setup) -> Point:
    """The operating point a look is taken at, loads as switched.

    Raises:
        KeyError: no such point.
    """
    if setup.point == STOPPED:
        point = stopped(study)
    elif setup.point:
        point = next((p for p in study.points if p.name == setup.point), None) or _unknown(setup.point)
    else:
        point = usual(study)
    return with_loads(study, point, setup.loads) if setup.loads else point


def _unknown(name: str) -> Point:
    raise KeyError(name)
