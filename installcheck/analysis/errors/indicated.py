"""What any indication shows for any true value: one reader for each, whatever it works by."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from functools import partial
from math import inf

from ...dataclass import dataclass
from ...document.source import DocPath
from ...graph import Indication
from ...graph.indications import measure_of, source_of
from ...model.aircraft import Limit
from ...model.devices import InputSpec
from ...model.fields import Measure
from ...physics.bulbs import temperature_range_c
from ...physics.scale import OffScaleError
from .. import missing
from ..circuit.measuring import read_by_circuit
from ..circuit.supplied import unsupplied
from ..sender_pairs import Pair
from ..study import Point, Study, once
from ..thermocouple.circuits import loops
from ..thermocouple.groups import group_of
from .capillary_budget import capillaries, capillary_budget, capillary_budgets
from .count_budget import count_budget, count_budgets, counters, limit_of_pair
from .direct_budget import direct_budget, direct_budgets, direct_gauges
from .error_budget import Cause, ErrorBudget
from .line_head import HEAD
from .meter_budget import meter_budget, meter_budgets, plain_meters
from .reading import curve_read, indicated
from .reading_back import budget_at, budgets_of, electrical_budgets, lacking, sensed_off, tolerances
from .synchro_budget import joined_right, synchro_budget, synchro_budgets
from .thermocouple_budget import thermocouple_budget, thermocouple_budgets


@once
def all_budgets(study: Study) -> list[ErrorBudget]:
    """The budget of every indication at every operating point at which its indicator has a supply."""
    every = (*thermocouple_budgets(study), *electrical_budgets(study), *_without_network(study))
    return _shown(study, every)


def budgets_of_indicator(study: Study, ident: str) -> list[ErrorBudget]:
    """Those of :func:`all_budgets` that are of one indicator, in the same order; some of the others may be there."""
    of_circuit = (
        b for one in read_by_circuit(study) if one.indicator == ident for b in budgets_of(study, one)
    )
    found = (*thermocouple_budgets(study), *of_circuit, *_without_network(study))
    return _shown(study, found)


def _shown(study: Study, budgets: Iterable[ErrorBudget]) -> list[ErrorBudget]:
    """Those at whose point the indicator has a supply: a dead one shows nothing, and has no error to tell."""
    return [b for b in budgets if (b.path[1], b.point) not in unsupplied(study)]


def _without_network(study: Study) -> Iterator[ErrorBudget]:
    yield from capillary_budgets(study)
    yield from direct_budgets(study)
    yield from count_budgets(study)
    yield from synchro_budgets(study)
    yield from meter_budgets(study)


@dataclass(frozen=True, slots=True)
class Reader:
    """One indication, ready to be read at any true value.

    Attributes:
        name, source: as in its budgets.
        measure: what it is of.
        path: where the document tells of the input.
        spec: the input.
        limit: limits of the engine for it.
        averaged: whether several probes make one reading.
        sources: every sender or probe that makes it.
        at: the budget at an operating point for a true value in SI (degC).
    """

    name: str
    source: str
    measure: Measure | None
    path: DocPath
    spec: InputSpec
    limit: Limit | None
    averaged: bool
    sources: tuple[str, ...]
    at: Callable[[Point, float], ErrorBudget]

    @property
    def ident(self) -> str:
        """Id of the indicator."""
        return str(self.path[1])


@once
def readers(study: Study) -> list[Reader]:
    """A reader for every indication that a budget can be worked out for; one for an averaged input."""
    return [
        *_thermocouples(study),
        *_electrical(study),
        *_capillaries(study),
        *_direct(study),
        *_counters(study),
        *_synchros(study),
        *_meters(study),
    ]


@once
def _numbered(study: Study) -> dict[int, Reader]:
    return dict(enumerate(readers(study)))


@once
def reader(study: Study, number: int) -> Reader:
    """One of :func:`readers` by its number: what reads it this way is not touched by a change of the others."""
    return _numbered(study)[number]


def _limits(study: Study, thing: object, measure: Measure | None) -> Limit | None:
    engine = study.model.engine_of(thing)  # type: ignore[arg-type]
    return (engine[1].limits or {}).get(measure) if engine is not None and measure is not None else None


def _thermocouples(study: Study) -> Iterator[Reader]:
    seen: set[str] = set()
    for loop in loops(study):
        one = loop.indication
        if one.averaged and one.name in seen:
            continue
        seen.add(one.name)
        yield Reader(
            one.name,
            loop.probe_id,
            loop.measure,
            one.path,
            one.spec,
            _limits(study, loop.probe, loop.measure),
            one.averaged,
            tuple(other.probe_id for other in group_of(study, loop)),
            partial(thermocouple_budget, study, loop),
        )


def _electrical(study: Study) -> Iterator[Reader]:
    for one in read_by_circuit(study):
        measure, sender = measure_of(study.graph, one), source_of(study.graph, one)
        yield Reader(
            one.name,
            one.source,
            measure,
            one.path,
            one.spec,
            _limits(study, sender, measure),
            False,
            (one.source,),
            partial(_of_circuit, study, one, measure),
        )


def _of_circuit(
    study: Study, one: Indication, measure: Measure | None, point: Point, true: float
) -> ErrorBudget:
    budget = budget_at(study, one.key, point)
    kind, unit = (budget.kind, budget.unit) if budget is not None else ("", "")
    data = lacking(study, one, point)
    value, beyond = None, ""
    try:
        shown = indicated(study, one, point, true)
        value, beyond = shown.value, shown.beyond
        if beyond and _table_ends(study, one):
            beyond, data = "", (*data, missing.SENDER_CURVE_REACH)
    except OffScaleError:
        data = (*data, missing.SENDER_CURVE_REACH)
    except ValueError:
        data = data or (missing.INDICATOR_CIRCUIT,)
    causes: tuple[Cause, ...] = ()
    if value is not None:
        heads = sensed_off(study, one)
        causes = (Cause(_largest(budget), value - true), *heads, *tolerances(study, one))
        value += sum(c.amount for c in heads)
    return ErrorBudget(
        one.name, one.source, measure, point.name, one.path, kind, unit, true, value, causes, beyond, data
    )


def _table_ends(study: Study, one: Indication) -> bool:
    """Whether the law of the bulb is known less far than the dial goes: what lies beyond it is not told, not off scale."""
    curve, dial = curve_read(study, one), one.spec.scale
    if curve is None or curve.law is None or dial is None:
        return False
    low, high = temperature_range_c(curve.law)
    return bool(dial.lowest < low or dial.highest > high)


def _largest(budget: ErrorBudget | None) -> str:
    """The largest cause of error with a sign at the point, which stands for all but the head of its line at another true value."""
    signed = [c for c in budget.causes if not c.tolerance and c.name != HEAD] if budget is not None else []
    return max(signed, key=lambda c: abs(c.amount)).name if signed else "circuit"


def _capillaries(study: Study) -> Iterator[Reader]:
    for one in capillaries(study):
        limit = _limits(study, one.bulb, one.measure)
        yield Reader(
            one.name,
            one.bulb_id,
            one.measure,
            one.path,
            one.spec,
            limit,
            False,
            (one.bulb_id,),
            partial(capillary_budget, study, one),
        )


def _direct(study: Study) -> Iterator[Reader]:
    for one in direct_gauges(study):
        yield Reader(
            one.name,
            one.source,
            one.measure,
            one.path,
            one.spec,
            one.limit,
            False,
            (one.source,) if one.source else (),
            partial(direct_budget, study, one),
        )


def _counters(study: Study) -> Iterator[Reader]:
    return (_pair_reader(study, pair, count_budget) for pair in counters(study))


def _synchros(study: Study) -> Iterator[Reader]:
    return (_pair_reader(study, pair, synchro_budget) for pair in joined_right(study))


def _meters(study: Study) -> Iterator[Reader]:
    for one in plain_meters(study):
        sources = (one.source,) if one.source else ()
        at = partial(meter_budget, study, one)
        yield Reader(one.name, one.source, one.measure, one.path, one.spec, None, False, sources, at)


def _pair_reader(
    study: Study, pair: Pair, budget: Callable[[Study, Pair, Point, float], ErrorBudget]
) -> Reader:
    return Reader(
        pair.indication.name,
        pair.source,
        measure_of(study.graph, pair.indication),
        pair.indication.path,
        pair.reads,
        limit_of_pair(study, pair),
        False,
        (pair.source,),
        partial(budget, study, pair),
    )


def worst_budgets(budgets: list[ErrorBudget]) -> list[ErrorBudget]:
    """The budget of each indication at the operating point where its error is largest; none where nothing is known to be shown."""
    worst: dict[tuple[str, str], ErrorBudget] = {}
    for budget in budgets:
        if budget.indicated is None and not budget.beyond:
            continue
        key = (budget.indication, budget.source)
        if key not in worst or _size(budget) > _size(worst[key]):
            worst[key] = budget
    return list(worst.values())


def _size(budget: ErrorBudget) -> float:
    return inf if budget.worst_case is None else budget.worst_case
