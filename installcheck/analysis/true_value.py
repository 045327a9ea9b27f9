"""The true value an indication is worked out at: the document's own reading, else the engine limit, else mid-scale."""

from __future__ import annotations

from ..dataclass import dataclass
from ..model.devices import Curve, InputSpec
from ..model.fields import Measure
from ..model.installation import Thing
from .sender_curves import kind_of, middle
from .study import Point, Study

_US = {
    "temperature": "degF",
    "pressure": "psi",
    "speed": "rpm",
    "ratio": "%",
    "volume": "gal",
    "flow": "gal/h",
}


@dataclass(frozen=True, slots=True)
class Truth:
    """A true value in SI (degC), its kind, the unit the document uses for it, and where it comes from.

    ``basis`` is 'reading', 'limit' or 'middle'; the last is a guess that serves to lay the circuit, not to judge.
    """

    value: float
    kind: str
    unit: str
    basis: str


def truth(
    study: Study, point: Point, measure: Measure | None, thing: Thing, spec: InputSpec, curve: Curve
) -> Truth:
    """The true value of what a sender senses at an operating point."""
    reading = point.reading(measure)
    kind = kind_of(curve)
    unit = _unit(spec, kind)
    if reading is not None and reading.kind == kind:
        return Truth(float(reading), kind, reading.unit, "reading")
    engine = study.model.engine_of(thing)
    limit = (engine[1].limits or {}).get(measure) if engine is not None and measure is not None else None
    if limit is not None:
        for value in (limit.maximum, limit.normal_high, limit.minimum, limit.normal_low):
            if value is not None and value.kind == kind:
                return Truth(float(value), kind, value.unit, "limit")
    return Truth(_mid_scale(spec, curve, kind), kind, unit, "middle")


def _unit(spec: InputSpec, kind: str) -> str:
    for quantity in (spec.budget, spec.scale.lowest if spec.scale is not None else None):
        if quantity is not None and difference_kind(kind) in (quantity.kind, difference_kind(quantity.kind)):
            return quantity.unit
    return _US.get(kind, {"voltage": "V", "current": "A", "angle": "deg"}.get(kind, ""))


def _mid_scale(spec: InputSpec, curve: Curve, kind: str) -> float:
    if curve.points is None and spec.scale is not None and spec.scale.lowest.kind == kind:
        return (float(spec.scale.lowest) + float(spec.scale.highest)) / 2
    return middle(curve)


def difference_kind(kind: str) -> str:
    """Kind of a difference of two values of a kind."""
    return "temperature difference" if kind == "temperature" else kind
