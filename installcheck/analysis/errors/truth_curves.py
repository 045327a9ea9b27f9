"""What each indication shows over its whole dial, at every operating point, for the plots of true against indicated."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from ...dataclass import dataclass
from ...model.fields import Measure
from ...model.quantities import Quantity
from ..study import Point, Study
from .error_budget import ErrorBudget
from .indicated import Reader, readers

_STEPS = 48
_ALIKE = 1e-6
"""Share of the dial below which two curves are one."""


@dataclass(frozen=True, slots=True)
class Sample:
    """One true value and what is shown for it in SI (degC): ``None`` where that cannot be told.

    ``low`` and ``high`` are what may be shown with the tolerances joined as root of the sum of squares; ``beyond`` tells
    the stop the pointer stands at.
    """

    true: float
    shown: float | None
    low: float | None
    high: float | None
    beyond: str = ""


@dataclass(frozen=True, slots=True)
class Track:
    """What an indication shows at one operating point over its dial, and the true value there if one is given."""

    point: str
    samples: tuple[Sample, ...]
    here: float | None


@dataclass(frozen=True, slots=True)
class AtLimit:
    """A limit of the engine: 'highest' or 'lowest', as written and in SI, with what is shown there at the worst point."""

    side: str
    text: str
    unit: str
    value: float
    shown: float | None
    beyond: str
    point: str


@dataclass(frozen=True, slots=True)
class TruthCurve:
    """One indication over its dial.

    Attributes:
        name: name of the indication.
        sources: senders or probes that read alike.
        measure: what it is of.
        kind, unit: of its values.
        low, high, division: ends of the dial and its smallest division in SI.
        budget: error budget in SI, if one is stated.
        tracks: what it shows, by operating point.
        limits: limits of the engine on the dial.
        missing: data without which it is not the whole truth.
    """

    name: str
    sources: tuple[str, ...]
    measure: Measure | None
    kind: str
    unit: str
    low: float
    high: float
    division: float | None
    budget: float | None
    tracks: tuple[Track, ...]
    limits: tuple[AtLimit, ...]
    missing: tuple[str, ...]


def truth_curves(study: Study, kinds: Iterable[str] = ("temperature",)) -> list[TruthCurve]:
    """A curve for each indication of these kinds that has a dial; probes that read alike share one."""
    wanted = frozenset(kinds)
    found: list[TruthCurve] = []
    named: dict[str, list[int]] = {}
    for reader in readers(study):
        dial = reader.spec.scale
        if dial is None or dial.lowest.kind not in wanted:
            continue
        places = named.setdefault(reader.name, [])
        twin = next((i for i in places if _reads_as(study, reader, found[i])), None)
        if twin is None:
            curve = _curve(study, reader)
            twin = next((i for i in places if _alike(found[i], curve)), None)
        if twin is None:
            places.append(len(found))
            found.append(curve)
        else:
            found[twin] = replace(found[twin], sources=(*found[twin].sources, *reader.sources))
    return found


def _curve(study: Study, reader: Reader) -> TruthCurve:
    dial = reader.spec.scale
    assert dial is not None
    low, high = float(dial.lowest), float(dial.highest)
    tracks: list[Track] = []
    missing: list[str] = []
    for point in study.points:
        budgets = [reader.at(point, low + (high - low) * i / _STEPS) for i in range(_STEPS + 1)]
        samples = [_sample(b) for b in budgets]
        # What is missing at one end only is a table that ends, not a gap in the document.
        missing += [word for word in budgets[0].missing if all(word in b.missing for b in budgets)]
        reading = point.reading(reader.measure)
        here = float(reading) if reading is not None and reading.kind == dial.lowest.kind else None
        tracks.append(Track(point.name, tuple(samples), here))
    limits = [
        _at_limit(study.points, reader, side, limit)
        for side, limit in (
            ("lowest", reader.limit.minimum if reader.limit is not None else None),
            ("highest", reader.limit.maximum if reader.limit is not None else None),
        )
        if limit is not None and limit.kind == dial.lowest.kind and low <= limit <= high
    ]
    stated = reader.spec.budget
    return TruthCurve(
        reader.name,
        reader.sources,
        reader.measure,
        dial.lowest.kind,
        limits[-1].unit if limits else dial.highest.unit,
        low,
        high,
        float(dial.division) if dial.division is not None else None,
        float(stated) if stated is not None and _same_kind(stated, dial.lowest) else None,
        tuple(tracks),
        tuple(limits),
        tuple(dict.fromkeys(missing)),
    )


def _sample(budget: ErrorBudget) -> Sample:
    return Sample(budget.true, budget.indicated, budget.lowest, budget.highest, budget.beyond)


def _same_kind(difference: Quantity, value: Quantity) -> bool:
    return difference.kind in (value.kind, f"{value.kind} difference")


def _at_limit(points: tuple[Point, ...], reader: Reader, side: str, limit: Quantity) -> AtLimit:
    """The limit with the reading furthest on its unsafe side."""
    seen = [(reader.at(point, float(limit)), point) for point in points]

    def unsafe(budget: ErrorBudget) -> float:
        if budget.indicated is None:
            end = {"above": float("inf"), "below": float("-inf")}.get(budget.beyond)
            error = end if end is not None else 0.0
        else:
            error = budget.indicated - budget.true
        return error if side == "lowest" else -error

    worst, point = max(seen, key=lambda one: unsafe(one[0]))
    return AtLimit(side, limit.text, limit.unit, float(limit), worst.indicated, worst.beyond, point.name)


def _reads_as(study: Study, reader: Reader, curve: TruthCurve) -> bool:
    """Whether a probe reads as another of its input at both ends and in the middle of the dial, and so everywhere.

    Leads and grounds shift and scale the emf of the couple, and no two couples have the same emf at three temperatures.
    """
    if reader.spec.thermocouple is None:
        return False
    for point, track in zip(study.points, curve.tracks, strict=True):
        for there in (track.samples[i] for i in (0, _STEPS // 2, _STEPS)):
            here = reader.at(point, there.true)
            if tuple(dict.fromkeys(here.missing)) != curve.missing or not _same(_sample(here), there, curve):
                return False
    return True


def _alike(one: TruthCurve, other: TruthCurve) -> bool:
    if one.name != other.name or one.missing != other.missing:
        return False
    return all(
        _same(a, b, one)
        for mine, theirs in zip(one.tracks, other.tracks, strict=True)
        for a, b in zip(mine.samples, theirs.samples, strict=True)
    )


def _same(a: Sample, b: Sample, curve: TruthCurve) -> bool:
    if a.shown is None or b.shown is None:
        return a.beyond == b.beyond and a.shown == b.shown
    return a.beyond == b.beyond and abs(a.shown - b.shown) <= _ALIKE * (curve.high - curve.low)
