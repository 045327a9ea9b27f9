"""Every indication against the engine limit it has to show: where the pointer stands when the engine is at its limit."""

from __future__ import annotations

from dataclasses import replace
from math import inf

from ...analysis import missing
from ...analysis.circuit.supplied import live_points
from ...analysis.errors.error_budget import ErrorBudget
from ...analysis.errors.indicated import Reader, reader, readers
from ...analysis.missing import Missing
from ...analysis.power.unfed import lacking_supply
from ...analysis.study import Point, Study, once
from ...analysis.true_value import difference_kind
from ...dataclass import dataclass
from ...model.aircraft import Limit
from ...model.comparing import at_least, at_most
from ...model.quantities import Quantity, in_unit, plain_number, show
from ..verdicts import Verdict
from ..vocabulary import Subject, rule
from .budgets import alike, apart, cure, subject_of

_LIMITED = {
    "oil pressure": (True, True),
    "fuel pressure": (True, True),
    "oil temperature": (False, True),
    "head temperature": (False, True),
    "engine speed": (False, True),
}
"""Whether every engine has a lowest and a highest of it: 14 CFR 23.1521(c)(4) (edition 2014) of temperatures, 33.7(b)(4) and (5)
of pressures, 33.7(b)(1) of speed (recalled). Others, as exhaust temperature, are limited on some engines only."""


@dataclass(frozen=True, slots=True)
class _Short:
    """How far the pointer stands on the unsafe side of a limit at one point, in SI: ``likely`` with its tolerances."""

    point: Point
    unsafe: float
    likely: float
    shown: ErrorBudget


@rule(
    "true-at-the-limit",
    title="At an engine limit the pointer does not stand short of it",
    why="A gauge that reads 30 degF low shows 470 degF on an engine that is at its limit of 500, even where that is within its "
    "tolerance. An error that is seen on the dial, or is larger than what is left to the limit in flight, hides the limit.",
    source="engine limits from its papers; plain physics of the circuit",
    formula="short = limit - indicated(limit) for a highest, the reverse for a lowest; against the smaller of one division and "
    "the margin between the limit and the values in flight",
    example="2.6 ohm on a 2 ohm loop: 30 degF short of 500 degF, one division being 25 degF",
    over=lambda study: [r.ident for r in readers(study) if r.limit is not None],
)
def true_at_limit(study: Study, only: str | None = None) -> list[Verdict]:
    """Every indication with an engine limit on its dial."""
    numbers = [n for n, one in enumerate(readers(study)) if only in (None, one.ident)]
    told = (_told(study, number, low) for number in numbers for low in (False, True))
    return alike(replace(verdict) for verdict in told if verdict is not None)


@once
def _told(study: Study, number: int, low: bool) -> Verdict | None:
    """The verdict on one reader at its lowest or highest; ``None`` if it has none on its dial."""
    one = reader(study, number)
    limit = _limit(one.limit, low=low)
    if limit is None and one.limit is not None and _LIMITED.get(one.measure or "", (False, False))[not low]:
        return subject_of(study, one).lacks(missing.ENGINE_LOWEST if low else missing.ENGINE_HIGHEST)
    if limit is None or not _covers(one, limit):
        return None
    return _at_limit(subject_of(study, one), one, limit, low=low)


def _limit(limit: Limit | None, *, low: bool) -> Quantity | None:
    return None if limit is None else limit.minimum if low else limit.maximum


def _covers(reader: Reader, limit: Quantity) -> bool:
    """Whether the limit is on the dial; a rule of its own tells where it is not."""
    dial = reader.spec.scale
    return (
        dial is None
        or dial.lowest.kind != limit.kind
        or (at_least(limit, dial.lowest) and at_most(limit, dial.highest))
    )


def _at_limit(subject: Subject, reader: Reader, limit: Quantity, *, low: bool) -> Verdict:
    found: list[_Short] = []
    lacking: list[Missing] = []
    points = live_points(subject.study, reader.ident)
    if not points:
        return subject.lacks(lacking_supply(subject.study, reader.ident))
    for point in points:
        budget = reader.at(point, float(limit))
        if budget.kind != limit.kind:
            continue  # what drives it measures something else, which is told where they are joined
        lacking += budget.missing
        unsafe = _unsafe(budget, low=low)
        if unsafe is not None:
            found.append(_Short(point, unsafe, unsafe + budget.tolerances, budget))
    if not found:
        return subject.lacks(*(lacking or (missing.INDICATOR_ERROR_DATA,)))
    worst = max(found, key=lambda s: s.unsafe)
    seen = _visible(reader, limit)
    if seen is None:
        return subject.lacks(missing.INDICATOR_DIVISION_OR_ACCURACY)
    left = _left(subject.study, reader, limit, low=low)
    allowed = seen if left is None else min(seen, left)
    return _shortfall(subject, reader, limit, worst, allowed, left, lacking, low=low)


def _unsafe(budget: ErrorBudget, *, low: bool) -> float | None:
    """Error towards the unsafe side: reading low at a highest, high at a lowest."""
    if budget.beyond:
        return inf if (budget.beyond == "below") != low else -inf
    if budget.error is None:
        return None
    return budget.error if low else -budget.error


def _visible(reader: Reader, limit: Quantity) -> float | None:
    """The smallest error a pilot can see: one division of the dial, else what the indicator itself may be off."""
    dial = reader.spec.scale
    division = dial.division if dial is not None else None
    for stated in (division, reader.spec.accuracy):
        if stated is not None and stated.kind == difference_kind(limit.kind):
            return float(stated)
    return None


def _left(study: Study, reader: Reader, limit: Quantity, *, low: bool) -> float | None:
    """What is left in flight between the limit and the value nearest to it; ``None`` if no value is given."""
    given = [r for p in study.points if (r := p.reading(reader.measure)) is not None and r.kind == limit.kind]
    room = [float(r - limit) if low else float(limit - r) for r in given]
    inside = [a for a in room if a > 0]
    return min(inside) if inside else None


def _shortfall(
    subject: Subject,
    reader: Reader,
    limit: Quantity,
    worst: _Short,
    allowed: float,
    left: float | None,
    lacking: list[Missing],
    *,
    low: bool,
) -> Verdict:
    unit, kind, width = limit.unit, limit.kind, difference_kind(limit.kind)
    most = in_unit(allowed, unit, width)
    shown = worst.shown.indicated
    what = show(shown, unit, kind) if shown is not None else f"a pointer {worst.shown.beyond} its scale"
    text = f"at the {'lowest' if low else 'highest'} of {limit.text} {reader.name} shows {what} ({worst.point.name})"
    why = (
        ", and flight comes as near as that to the limit"
        if left is not None and at_most(left, allowed)
        else ""
    )

    def cured() -> str:
        if shown is None:
            return _cure(worst.shown, unit)
        mark = plain_number(in_unit(shown, unit, kind))
        return f"{_cure(worst.shown, unit)}; until then the limit stands at {mark} {unit} on this dial"

    if worst.unsafe == inf:
        return subject.discrepancy(f"{text}; {plain_number(most)} {unit} is the most{why}", remedy=cured)
    if lacking and at_most(worst.unsafe, allowed):
        return subject.lacks(*lacking, because=f"{text}: not all of its causes are known")
    if worst.unsafe == -inf:
        return subject.meets(text)
    value = in_unit(worst.unsafe, unit, width) or 0.0
    short = f"{text}, {apart(worst.unsafe, unit, kind)} on the unsafe side; {plain_number(most)} {unit} is the most{why}"
    verdict = subject.at_most(value, most, unit, text, broken=short, remedy=cured)
    if left is None or not at_most(worst.unsafe, allowed) or at_most(worst.likely, left):
        return verdict
    return subject.at_most(
        in_unit(worst.likely, unit, width),
        in_unit(left, unit, width),
        unit,
        f"{text}, and with its tolerances may be {apart(worst.likely, unit, kind)} on the unsafe side, "
        f"more than the {show(left, unit, width)} flight leaves",
        remedy=lambda: _cure(worst.shown, unit),
        practice=True,
    )


def _cure(budget: ErrorBudget, unit: str) -> str:
    """What to do, in the unit the limit is written in."""
    if not budget.causes:
        return "see that the scale and the sender are made for each other"
    return cure(budget, unit)
