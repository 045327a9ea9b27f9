"""At which true temperatures a thermocouple circuit is worked out, and in which unit its numbers are told."""

from __future__ import annotations

from ...dataclass import dataclass
from ...model.quantities import Quantity, in_unit, show
from ..study import Point, Study
from .circuits import Loop


def limit_of(study: Study, loop: Loop) -> Quantity | None:
    """Highest value the engine's papers allow for what the loop measures."""
    found = study.model.engine_of(loop.probe)
    limit = (
        (found[1].limits or {}).get(loop.measure) if found is not None and loop.measure is not None else None
    )
    return limit.maximum if limit is not None else None


def true_values(study: Study, loop: Loop) -> list[tuple[Point, float]]:
    """True temperatures in degC at which to work the loop out: those of the operating points, else the engine's limit,
    else the middle of the dial."""
    given = [(p, r) for p in study.points if (r := p.reading(loop.measure)) is not None]
    if given:
        return [(p, float(r)) for p, r in given if r.kind == "temperature"]
    limit, scale = limit_of(study, loop), loop.spec.scale
    if limit is not None:
        return [(p, float(limit)) for p in study.points]
    if scale is not None and scale.lowest.kind == "temperature":
        return [(p, (scale.lowest + scale.highest) / 2) for p in study.points]
    return []


def unit_of(study: Study, loop: Loop) -> str:
    """Unit in which the document states the limits of the indication."""
    scale = loop.spec.scale
    return temperature_unit(
        limit_of(study, loop), loop.spec.budget, scale.highest if scale is not None else None
    )


def temperature_unit(*stated: Quantity | None) -> str:
    """Unit of the first of these that is a temperature or a difference of two: degF if none is."""
    return next((q.unit for q in stated if q is not None and q.kind.startswith("temperature")), "degF")


@dataclass(frozen=True, slots=True)
class Scale:
    """Numbers of one indication in the unit of its limits."""

    unit: str

    def at(self, c: float) -> str:
        """A temperature in degC as text."""
        return show(c, self.unit, "temperature")

    def degrees(self, c: float) -> float:
        """A temperature in degC as a number in the unit."""
        return in_unit(c, self.unit, "temperature")

    def apart(self, k: float) -> str:
        """A difference in K as text, without its sign."""
        return show(abs(k), self.unit, "temperature difference")

    def number(self, k: float) -> float:
        """A difference in K as a number in the unit."""
        return in_unit(k, self.unit, "temperature difference")

    def off(self, k: float) -> str:
        """An error in K in words: '30 degF low'."""
        return f"{self.apart(k)} {'low' if k < 0 else 'high'}"


def scale_of(study: Study, loop: Loop) -> Scale:
    """The unit the numbers of an indication are told in."""
    return Scale(unit_of(study, loop))
