"""The gauges in which the wire of a run is made, with resistance and weight of each."""

from __future__ import annotations

from collections.abc import Sequence

from ...dataclass import dataclass
from ...document.parts import Part
from ...model.fields import Metal
from ...model.quantities import Gauge, QuantityError, parse, parse_gauge
from ...model.wiring import WireRun
from ...physics.conductors import bare_copper_mass, conductor, gauge_number, gauges
from ..study import Study, once


@dataclass(frozen=True, slots=True)
class WireSize:
    """A gauge with its resistance [ohm/m at 20 degC] and weight [kg/m]; ``insulated`` tells if the weight is whole."""

    gauge: Gauge
    resistance: float
    weight: float
    insulated: bool


def sizes_of(study: Study, run: WireRun) -> Sequence[WireSize]:
    """Gauges the run's part is made in, thinnest first; the bare metal's of table 11-9 for a run without a part.

    Empty for a cable or a lead that comes in one size.
    """
    return _sizes_of(study, run.part, run.spec.metal, bool(run.spec.legs))


@once
def _sizes_of(study: Study, name: str | None, metal: Metal | None, has_legs: bool) -> list[WireSize]:
    part = study.document.library.parts.get(name) if name is not None else None
    return _of_part(part) if part is not None else [] if has_legs else _of_metal(metal)


def _of_part(part: Part) -> list[WireSize]:
    found = []
    for size in part.sizes:
        figures = part.figures(size)
        try:
            gauge = parse_gauge(f"{size} AWG")
            ohm = parse(str(figures["resistance"]), "resistance per length")
            weight = parse(str(figures["linear_weight"]), "mass per length")
        except (KeyError, QuantityError):
            continue
        found.append(WireSize(gauge, float(ohm), float(weight), True))
    return sorted(found, key=lambda s: -gauge_number(s.gauge))


def _of_metal(metal: Metal | None) -> list[WireSize]:
    if metal is None or "copper" not in metal:
        return []
    try:
        made = conductor(metal)
    except ValueError:
        return []
    return [
        WireSize(parse_gauge(f"{g} AWG"), made.ohm_per_metre[g], bare_copper_mass(g, 1.0), False)
        for g in gauges(metal)
        if g in gauges()
    ]
