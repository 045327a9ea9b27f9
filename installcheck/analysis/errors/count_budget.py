"""Tachometers and flow meters that count: what the drive, the poles and the pulses do to the reading."""

from __future__ import annotations

from collections.abc import Iterator

from ...graph.indications import measure_of
from ...model.aircraft import Limit
from ...model.fields import Measure
from ...model.quantities import Quantity
from ...physics.synchros import indicated_speed
from .. import missing
from ..missing import Missing
from ..sender_pairs import Pair, pairs
from ..study import Point, Study, once
from .error_budget import Cause, ErrorBudget, tolerance

DRIVE, PULSES, K_FACTOR = "drive ratio and poles", "pulses per revolution", "pulses per gallon"
_KINDS = {"engine speed": ("speed", "rpm"), "fuel flow": ("flow", "gal/h")}


@once
def counters(study: Study) -> tuple[Pair, ...]:
    """Every tachometer and every flow meter that follows a count of its sender."""
    return tuple(
        p
        for p in pairs(study)
        if (p.reads.principle == "synchronous tachometer" and p.gives.principle == "tachometer generator")
        or (p.reads.principle == "pulse counter" and measure_of(study.graph, p.indication) in _KINDS)
    )


def limit_of_pair(study: Study, pair: Pair) -> Limit | None:
    """Limits of the engine for what a pair shows; rated speed stands in for a speed limit that is not given."""
    measure, engine = measure_of(study.graph, pair.indication), pair.engine
    if engine is None or measure is None:
        return None
    limit = (engine.limits or {}).get(measure)
    if limit is None and measure == "engine speed" and engine.speed is not None:
        return Limit(maximum=engine.speed)
    return limit


def count_budgets(study: Study) -> list[ErrorBudget]:
    """A budget for each at each operating point that tells its true value, else at the engine's limit."""
    return [
        count_budget(study, pair, point, true)
        for pair in counters(study)
        for point, true in at_points(study, pair, _kind(study, pair)[0])
    ]


def at_points(study: Study, pair: Pair, kind: str) -> Iterator[tuple[Point, float]]:
    """Every operating point with the true value of an indication there, else with the engine's limit."""
    limit, measure = limit_of_pair(study, pair), measure_of(study.graph, pair.indication)
    for point in study.points:
        true: Quantity | None = point.reading(measure)
        if true is None or true.kind != kind:
            true = limit.maximum if limit is not None else None
        if true is not None and true.kind == kind:
            yield point, float(true)


def _kind(study: Study, pair: Pair) -> tuple[str, str]:
    return _KINDS.get(measure_of(study.graph, pair.indication) or "engine speed", ("speed", "rpm"))


def count_budget(study: Study, pair: Pair, point: Point, true: float) -> ErrorBudget:
    """The budget of a tachometer or flow meter at a true value in SI."""
    kind, usual = _kind(study, pair)
    lacks: list[Missing] = []
    name, factor = _factor(study, pair, lacks)
    causes: list[Cause] = []
    shown: float | None = None
    if factor is not None:
        shown = true * factor
        if abs(factor - 1) > 0:
            causes.append(Cause(name, shown - true))
    causes += tolerance("indicator accuracy", pair.reads.accuracy, kind, missing.INDICATOR_ACCURACY, lacks)
    if name == K_FACTOR:
        causes += tolerance("sender tolerance", pair.gives.tolerance, kind, missing.SENDER_TOLERANCE, lacks)
    measure = measure_of(study.graph, pair.indication)
    return pair_budget(pair, measure, point, (kind, usual), true, shown, causes, lacks)


def pair_budget(
    pair: Pair,
    measure: Measure | None,
    point: Point,
    unit: tuple[str, str],
    true: float,
    shown: float | None,
    causes: list[Cause],
    lacks: list[Missing],
) -> ErrorBudget:
    """A budget of a sender and its indicator; ``unit`` is the kind of quantity and the unit where the document uses none.

    What would be shown beyond the dial is not shown.
    """
    kind, usual = unit
    dial, beyond = pair.reads.scale, ""
    if shown is not None and dial is not None and dial.lowest.kind == kind:
        beyond = "below" if shown < dial.lowest else "above" if shown > dial.highest else ""
    if beyond:
        shown, causes = None, []
    units = (pair.reads.budget, dial.highest if dial is not None else None)
    return ErrorBudget(
        pair.indication.name,
        pair.source,
        measure,
        point.name,
        pair.indication.path,
        kind,
        next((q.unit for q in units if q is not None and q.kind == kind), usual),
        true,
        shown,
        tuple(causes),
        beyond,
        tuple(dict.fromkeys(lacks)),
    )


def _factor(study: Study, pair: Pair, lacks: list[Missing]) -> tuple[str, float | None]:
    """What is shown for what is true, and the cause that makes the difference."""
    gives, reads = pair.gives, pair.reads
    if reads.principle == "synchronous tachometer":
        drive = pair.sender.drive_ratio
        path = ("engines", pair.engine_id or "", "tachometer_drive")
        if pair.engine is not None and study.document.declared_unknown(path):
            drive = None
        elif drive is None and pair.engine is not None:
            drive = pair.engine.tachometer_drive
        facts = (
            (missing.SENDER_DRIVE, drive),
            (missing.INDICATOR_ENGINE_RATIO, reads.engine_ratio),
            (missing.SENDER_POLES, gives.poles),
            (missing.INDICATOR_POLES, reads.generator_poles),
        )
        lacks += [word for word, value in facts if value is None]
        if drive and reads.engine_ratio and gives.poles and reads.generator_poles and not gives.poles % 2:
            made = reads.generator_poles
            return DRIVE, indicated_speed(1.0, 1 / drive, gives.poles, 1 / reads.engine_ratio, made)
        return DRIVE, None
    if measure_of(study.graph, pair.indication) == "fuel flow":
        name, sent, made_for = K_FACTOR, gives.pulses_per_gallon, reads.pulses_per_gallon
        words = (missing.SENDER_PULSES_PER_GALLON, missing.INDICATOR_PULSES_PER_GALLON)
    else:
        name, sent, made_for = PULSES, gives.pulses_per_revolution, reads.pulses_per_revolution
        words = (missing.SENDER_PULSES, missing.INDICATOR_PULSES)
    lacks += [word for word, value in zip(words, (sent, made_for), strict=True) if value is None]
    return name, sent / made_for if sent is not None and made_for is not None else None
