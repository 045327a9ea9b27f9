"""Capillary temperature gauges: what altitude, height and the warmth along the capillary do to the reading."""

from __future__ import annotations

from collections.abc import Iterator

from ...dataclass import dataclass
from ...document.source import DocPath
from ...graph import zone_lengths
from ...model.comparing import at_least
from ...model.devices import Indicator, InputSpec, Sender
from ...model.fields import Measure
from ...model.fluid import FluidLine
from ...model.installation import split_end
from ...model.quantities import Quantity
from ...physics.capillaries import (
    SEA_LEVEL_PA,
    capillary_volume_m3,
    isa_pressure_pa,
    liquid_filled_error_c,
    vapour_fill,
    vapour_indicated_c,
)
from .. import missing
from ..missing import Missing
from ..study import Point, Study, once
from ..thermocouple.points import temperature_unit
from .error_budget import Cause, ErrorBudget, tolerance

_FILLED_AT_C = 20.0
"""degC at which a liquid-filled system is taken to be calibrated: the room (assumed)."""


@dataclass(frozen=True, slots=True)
class Capillary:
    """A capillary indication: gauge, bulb and the line between them."""

    indicator_id: str
    indicator: Indicator
    input: str
    spec: InputSpec
    bulb_id: str
    bulb: Sender
    line_id: str
    line: FluidLine

    @property
    def name(self) -> str:
        """As an indication is named."""
        return f"{self.indicator_id} {self.input}".strip()

    @property
    def path(self) -> DocPath:
        """Where the document tells of the input."""
        return ("indicators", self.indicator_id, *(("inputs", self.input) if self.input else ()))

    @property
    def measure(self) -> Measure | None:
        """What it is of."""
        return self.spec.measures if self.spec.measures is not None else self.bulb.spec.measures


@once
def capillaries(study: Study) -> list[Capillary]:
    """Every capillary gauge with the bulb at the other end of its line."""
    return list(_found(study))


def _found(study: Study) -> Iterator[Capillary]:
    at: dict[str, list[tuple[str, str]]] = {}
    for ident, line in study.model.fluid_lines.items():
        at.setdefault(split_end(line.from_)[0], []).append((ident, split_end(line.to)[0]))
        at.setdefault(split_end(line.to)[0], []).append((ident, split_end(line.from_)[0]))
    for ident, indicator in study.model.indicators.items():
        for name, spec in study.inputs(ident):
            if spec.principle != "capillary":
                continue
            for line_id, other in at.get(ident, ()):
                bulb = study.model.senders.get(other)
                if bulb is not None:
                    line = study.model.fluid_lines[line_id]
                    yield Capillary(ident, indicator, name, spec, other, bulb, line_id, line)


def capillary_limit(study: Study, one: Capillary) -> Quantity | None:
    """Highest value the engine's papers allow."""
    engine = study.model.engine_of(one.bulb)
    limit = (
        (engine[1].limits or {}).get(one.measure) if engine is not None and one.measure is not None else None
    )
    return limit.maximum if limit is not None else None


@once
def capillary_budgets(study: Study) -> list[ErrorBudget]:
    """A budget for each capillary gauge at each operating point."""
    return list(_budgets(study))


def _budgets(study: Study) -> Iterator[ErrorBudget]:
    for one in capillaries(study):
        limit = capillary_limit(study, one)
        for point in study.points:
            reading = point.reading(one.measure)
            true = reading if reading is not None and reading.kind == "temperature" else limit
            if true is not None:
                yield capillary_budget(study, one, point, float(true))


def capillary_budget(study: Study, one: Capillary, point: Point, true_c: float) -> ErrorBudget:
    """The budget of one capillary gauge at one operating point with its bulb at ``true_c`` degC."""
    lacks: list[Missing] = []
    liquid = one.bulb.spec.principle == "liquid-filled bulb"
    causes = _warmth(one, point, lacks) if liquid else _vapour(study, one, point, true_c, lacks)
    shown: float | None = None
    if causes is not None:
        shown = true_c + sum(c.amount for c in causes)
    whole = list(causes or ())
    # Bulb, line and gauge are made as one, and the accuracy of the gauge is that of the whole unless the bulb has its own.
    if one.bulb.spec.tolerance is not None:
        whole += tolerance(
            "bulb tolerance", one.bulb.spec.tolerance, "temperature", missing.SENDER_TOLERANCE, lacks
        )
    whole += tolerance(
        "indicator accuracy", one.spec.accuracy, "temperature", missing.INDICATOR_ACCURACY, lacks
    )
    dial, beyond = one.spec.scale, ""
    if shown is not None and dial is not None and not dial.lowest <= shown <= dial.highest:
        beyond = "below" if shown < dial.lowest else "above"
        shown = None
    unit = temperature_unit(
        capillary_limit(study, one), one.spec.budget, dial.highest if dial is not None else None
    )
    return ErrorBudget(
        one.name,
        one.bulb_id,
        one.measure,
        point.name,
        one.path,
        "temperature",
        unit,
        true_c,
        shown,
        tuple(whole) if shown is not None else (),
        beyond,
        tuple(dict.fromkeys(lacks)),
    )


def _vapour(
    study: Study, one: Capillary, point: Point, true_c: float, lacks: list[Missing]
) -> list[Cause] | None:
    """Errors of a vapour-pressure system: the pressure round its gauge, and the liquid standing in the capillary."""
    filling = one.bulb.spec.filling
    if filling is None:
        lacks.append(missing.SENDER_FILLING)
        return None
    try:
        fill = vapour_fill(filling)
    except ValueError:
        lacks.append(missing.SENDER_FILLING_CURVE)
        return None
    ambient = _ambient_pa(study, one, point, lacks)
    height = _bulb_above_gauge(one, point, true_c, lacks)
    try:
        high = vapour_indicated_c(fill, true_c, ambient_pa=ambient)
        both = vapour_indicated_c(fill, true_c, ambient_pa=ambient, bulb_above_gauge_m=height)
    except ValueError:
        lacks.append(missing.SENDER_FILLING_RANGE)
        return None
    found = (Cause("altitude", high - true_c), Cause("head of the liquid", both - high))
    return [c for c in found if abs(c.amount) > 1e-9]


def _ambient_pa(study: Study, one: Capillary, point: Point, lacks: list[Missing]) -> float:
    zone = study.model.zones.get(one.indicator.zone or "")
    if zone is not None and zone.pressurised:
        lacks.append(missing.GAUGE_CASE_PRESSURE)
        return SEA_LEVEL_PA
    altitude = point.given.altitude if point.given is not None else None
    if altitude is None:
        lacks.append(missing.POINT_ALTITUDE)
        return SEA_LEVEL_PA
    return isa_pressure_pa(float(altitude))


def _bulb_above_gauge(one: Capillary, point: Point, true_c: float, lacks: list[Missing]) -> float:
    """Height in metres that counts: none where vapour fills the line, that is where all of it is warmer than the bulb.

    Where part of the line is warmer, liquid stands in the rest: the whole height is the most it can be.
    """
    along = [point.zones.get(step.zone) for step in one.line.route or () if step.zone is not None]
    if not along:
        lacks.append(missing.LINE_ROUTE)
    elif any(t is None for t in along):
        lacks.append(missing.ZONE_TEMPERATURE)
    else:
        warmer = [at_least(t, true_c) for t in along if t is not None]
        if all(warmer):
            return 0.0
        if any(warmer):
            lacks.append(missing.CAPILLARY_HEIGHTS)
    rise = one.line.rise
    if rise is not None:
        from_bulb = split_end(one.line.from_)[0] == one.bulb_id
        return -float(rise) if from_bulb else float(rise)
    if one.indicator.elevation is not None:
        return -float(one.indicator.elevation)
    lacks.append(missing.GAUGE_HEIGHT)
    return 0.0


def _warmth(one: Capillary, point: Point, lacks: list[Missing]) -> list[Cause] | None:
    """Error of a liquid-filled system from the warmth of its capillary."""
    volume, bore = one.bulb.spec.bulb_volume, one.bulb.spec.capillary_bore
    split = zone_lengths(one.line)
    if volume is None or bore is None or split is None:
        lacks += [
            w
            for w, known in ((missing.SENDER_VOLUMES, volume and bore), (missing.LINE_ROUTE, split))
            if not known
        ]
        return None
    parts = []
    for zone, length in split:
        if zone not in point.zones:
            lacks.append(missing.ZONE_TEMPERATURE)
            return None
        parts.append((capillary_volume_m3(float(bore), length), point.zones[zone]))
    return [Cause("warmth of the capillary", liquid_filled_error_c(float(volume), parts, _FILLED_AT_C))]
