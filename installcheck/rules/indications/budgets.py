"""Every indication's total error against its budget, and against the engine limit it has to show."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from math import hypot, inf

from ...analysis.errors.error_budget import Cause, ErrorBudget
from ...analysis.errors.indicated import Reader, all_budgets, readers
from ...analysis.study import Point, Study
from ...analysis.true_value import difference_kind
from ...model.aircraft import Limit
from ...model.quantities import (
    Quantity,
    in_unit,
    plain_number,
    show,
)
from ..verdicts import (
    Verdict,
    advisory,
    discrepancy,
    meets,
    undetermined,
)
from ..vocabulary import rule

__all__ = ["all_budgets", "true_at_limit", "within_budget"]

BUDGET = "error budget of the indication ('budget')"
SAME_KIND = "error budget in the unit of the indication"
TRUE_VALUE = "true value of the indication at an operating point ('readings'), or its limit"
DIVISION = "smallest division of the dial, or accuracy of the indicator"
ERROR = "data of the circuit that the error depends on"
_CURES = {
    "lead resistance": "trim the loop, or use heavier lead",
    "lead heating": "lead it through cooler zones, or use heavier lead",
    "lead resistance by table": "measure the loop and state it under 'measured'",
    "lead resistance, inner resistance not known": "find the indicator's inner resistance by a known resistor in its lead",
    "ground offset": "bring the sender's return to the indicator by a wire of its own",
    "contact resistance": "clean and bond the joints of the return",
    "supply sag": "use an indicator whose reading does not follow the supply, or heavier feed wires",
    "sender mismatch": "fit the sender the indicator is made for",
    "probe and indicator of different couples": "fit a probe and lead of the indicator's couple",
    "metal and polarity of the lead": "run the couple's own metals to the indicator, the right way round",
    "metal of a joint with unequal ends": "fit contacts of the couple's own metals",
    "reference junction": "end the couple's metals where the indicator takes its reference",
    "couple tolerance": "fit a probe of special grade",
    "lead tolerance": "use lead of special tolerance",
    "indicator accuracy": "fit an indicator of better accuracy",
    "sender tolerance": "fit a sender of closer tolerance",
    "altitude": "use a remote indicator, or a gauge with a sealed case",
}


def _groups(study: Study) -> dict[tuple[str, str], list[ErrorBudget]]:
    """Budgets of each indication by name and source, over the operating points; an averaged input once."""
    averaged = {r.name for r in readers(study) if r.averaged}
    found: dict[tuple[str, str], list[ErrorBudget]] = {}
    for budget in all_budgets(study):
        key = (budget.indication, "" if budget.indication in averaged else budget.source)
        group = found.setdefault(key, [])
        if all(b.point != budget.point for b in group):
            group.append(budget)
    return found


def _indicators(study: Study) -> list[str]:
    return [r.indicator for r in readers(study)]


def _apart(size: float, unit: str, kind: str, *, sign: bool = False) -> str:
    text = show(abs(size), unit, difference_kind(kind))
    return f"{'-' if size < 0 else '+'}{text}" if sign else text


@rule(
    "indication-within-budget",
    title="The total error of each indication is within its budget",
    why="An indication is as true as the sum of all that is between the engine and the pointer. Each share may be small and "
    "allowed, and the sum not.",
    source="error budget stated for the indication; plain physics of its circuit",
    formula="|error with its sign| + sum of tolerances <= budget",
    example="1.5 degF low by lead heating, 4 + 4 + 8 degF of tolerances: 17.5 degF against 20 degF",
    over=_indicators,
)
def within_budget(study: Study) -> Iterator[Verdict]:
    """Every indication for which an error can be worked out."""
    yield from _alike(_judged(study))


def _judged(study: Study) -> Iterator[Verdict]:
    groups = _groups(study)
    specs = {(r.name, r.source): r for r in readers(study)}
    by_name = {r.name: r for r in readers(study)}
    for (name, source), group in groups.items():
        reader = specs.get((name, source)) or by_name.get(name)
        if reader is not None:
            yield _within(reader, group)
    told = {name for name, _ in groups}
    for reader in readers(study):
        if reader.name not in told:
            yield undetermined((reader.indicator, reader.source), reader.path, TRUE_VALUE)


def _alike(verdicts: Iterable[Verdict]) -> list[Verdict]:
    """Probes behind one selector that end alike, as one verdict that names them all."""
    found: dict[tuple[object, ...], Verdict] = {}
    for verdict in verdicts:
        key = (verdict.at[0], verdict.outcome, verdict.message, verdict.remedy, verdict.missing)
        first = found.setdefault(key, verdict)
        if first is not verdict:
            first.at = tuple(dict.fromkeys((*first.at, *verdict.at)))
    return list(found.values())


def _on_dial(reader: Reader, budget: ErrorBudget) -> bool:
    dial = reader.spec.scale
    return dial is None or dial.lowest.kind != budget.kind or dial.lowest <= budget.true <= dial.highest


def _within(reader: Reader, group: list[ErrorBudget]) -> Verdict:
    at, path, limit = (reader.indicator, group[0].source), reader.path, reader.spec.budget
    here = [b for b in group if _on_dial(reader, b)]
    off = next((b for b in here if b.beyond), None)
    if off is not None and not off.missing:
        true = show(off.true, off.unit, off.kind)
        text = f"{reader.name} is driven {off.beyond} its scale at {off.point}, where {true} is true"
        return discrepancy(at, path, text, remedy="see what the other rules say of its lead and sender")
    sized = [b for b in here if b.worst_case is not None]
    missing = tuple(dict.fromkeys(word for b in here for word in b.missing))
    if not sized:
        return undetermined(at, path, missing or (TRUE_VALUE,))
    worst = max(sized, key=lambda b: b.worst_case or 0.0)
    text = _told(reader, worst)
    if limit is None or limit.kind != difference_kind(worst.kind):
        return undetermined(at, path, BUDGET if limit is None else SAME_KIND, text)
    size = worst.worst_case or 0.0
    value, most = (in_unit(x, limit.unit, limit.kind) for x in (size, float(limit)))
    numbers = {"value": value, "limit": most, "margin": most - value, "unit": limit.unit}
    text += f", against a budget of {plain_number(most)} {limit.unit}"
    if size > limit * (1 + 1e-9):
        return discrepancy(at, (*path, "budget"), text, remedy=_cure(worst), **numbers)
    if missing:
        return undetermined(at, path, missing, f"{text}: not all of its causes are known")
    return meets(at, (*path, "budget"), text, **numbers)


def _told(reader: Reader, budget: ErrorBudget) -> str:
    """The error of a budget in words, with its largest causes."""
    error, unit, kind = budget.error or 0.0, budget.unit, budget.kind
    way = "low" if error < 0 else "high"
    sized = sorted(budget.causes, key=lambda c: -abs(c.amount))[:4]
    causes = ", ".join(
        f"{c.name} {'±' + _apart(c.amount, unit, kind) if c.tolerance else _apart(c.amount, unit, kind, sign=True)}"
        for c in sized
    )
    return (
        f"{reader.name} at {budget.point} reads {_apart(error, unit, kind)} {way} at a true "
        f"{show(budget.true, unit, kind)}, up to {_apart(budget.worst_case or 0.0, unit, kind)} off with all tolerances "
        f"({causes or 'no cause of error'})"
    )


def _cure(budget: ErrorBudget) -> str:
    """What to do about the largest cause, and what that leaves."""
    signed = [c for c in budget.causes if not c.tolerance]
    largest: Cause | None = max(budget.causes, key=lambda c: abs(c.amount), default=None)
    if largest is None:
        return "state a budget the installation can keep"
    # An error with a sign is cured before a tolerance is bought down, where it is worth it.
    if largest.tolerance and signed:
        worst_signed = max(signed, key=lambda c: abs(c.amount))
        if abs(worst_signed.amount) > 0.5 * abs(largest.amount):
            largest = worst_signed
    kept = [c for c in budget.causes if c is not largest]
    rest = abs(sum(c.amount for c in kept if not c.tolerance)) + sum(
        abs(c.amount) for c in kept if c.tolerance
    )
    cure = _CURES.get(largest.name, f"cure the {largest.name}")
    return f"{cure}: without the {largest.name} {_apart(rest, budget.unit, budget.kind)} are left"


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
    over=lambda study: [r.indicator for r in readers(study) if r.limit is not None],
)
def true_at_limit(study: Study) -> Iterator[Verdict]:
    """Every indication with an engine limit on its dial."""
    yield from _alike(
        _at_limit(study, reader, limit, low=low)
        for reader in readers(study)
        for low in (False, True)
        if (limit := _limit(reader.limit, low=low)) is not None and _covers(reader, limit)
    )


def _limit(limit: Limit | None, *, low: bool) -> Quantity | None:
    return None if limit is None else limit.minimum if low else limit.maximum


def _covers(reader: Reader, limit: Quantity) -> bool:
    """Whether the limit is on the dial; a rule of its own tells where it is not."""
    dial = reader.spec.scale
    return dial is None or dial.lowest.kind != limit.kind or dial.lowest <= limit <= dial.highest


def _at_limit(study: Study, reader: Reader, limit: Quantity, *, low: bool) -> Verdict:
    at = (reader.indicator, reader.source)
    found: list[_Short] = []
    missing: list[str] = []
    for point in study.points:
        budget = reader.at(point, float(limit))
        missing += budget.missing
        unsafe = _unsafe(budget, low=low)
        if unsafe is not None:
            tolerance = hypot(*(c.amount for c in budget.causes if c.tolerance))
            found.append(_Short(point, unsafe, unsafe + tolerance, budget))
    if not found:
        return undetermined(at, reader.path, tuple(dict.fromkeys(missing)) or (ERROR,))
    worst = max(found, key=lambda s: s.unsafe)
    seen = _visible(reader, limit)
    if seen is None:
        return undetermined(at, reader.path, DIVISION)
    left = _left(study, reader, limit, low=low)
    allowed = seen if left is None else min(seen, left)
    return _shortfall(reader, limit, worst, allowed, left, tuple(dict.fromkeys(missing)), low=low)


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
    apart = [float(r - limit) if low else float(limit - r) for r in given]
    inside = [a for a in apart if a > 0]
    return min(inside) if inside else None


def _shortfall(
    reader: Reader,
    limit: Quantity,
    worst: _Short,
    allowed: float,
    left: float | None,
    missing: tuple[str, ...],
    *,
    low: bool,
) -> Verdict:
    at, path, unit, kind = (reader.indicator, reader.source), reader.path, limit.unit, limit.kind
    apart = difference_kind(kind)
    most = in_unit(allowed, unit, apart)
    finite = abs(worst.unsafe) != inf
    value = in_unit(worst.unsafe, unit, apart) if finite else None
    numbers = {
        "value": value,
        "limit": most,
        "margin": most - value if value is not None else None,
        "unit": unit,
    }
    shown = worst.shown.indicated
    what = show(shown, unit, kind) if shown is not None else f"a pointer {worst.shown.beyond} its scale"
    text = f"at the {'lowest' if low else 'highest'} of {limit.text} {reader.name} shows {what} ({worst.point.name})"
    if worst.unsafe > allowed:
        short = f", {_apart(worst.unsafe, unit, kind)} short of the limit" if finite else ""
        why = " where flight leaves no more" if left is not None and left <= allowed else ""
        text += f"{short}, more than {plain_number(most)} {unit}{why}"
        mark = in_unit(shown, unit, kind) if shown is not None else None
        remedy = _cure(worst.shown)
        if mark is not None:
            remedy += f"; until then the limit stands at {plain_number(mark)} {unit} on this dial"
        return discrepancy(at, path, text, remedy=remedy, **numbers)
    if missing:
        return undetermined(at, path, missing, f"{text}: not all of its causes are known")
    if left is not None and worst.likely > left:
        text += (
            f", and with its tolerances may be {_apart(worst.likely, unit, kind)} short, "
            f"more than the {show(left, unit, apart)} flight leaves"
        )
        return advisory(at, path, text, remedy=_cure(worst.shown), **numbers)
    return meets(at, path, text, **numbers)
