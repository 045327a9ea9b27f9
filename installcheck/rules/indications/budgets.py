"""Every indication's total error against its budget, and against the engine limit it has to show."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from math import inf

from ...analysis import missing
from ...analysis.errors.error_budget import Cause, ErrorBudget
from ...analysis.errors.indicated import Reader, all_budgets, readers
from ...analysis.missing import Missing
from ...analysis.study import Point, Study
from ...analysis.true_value import difference_kind
from ...model.aircraft import Limit
from ...model.comparing import at_least, at_most
from ...model.quantities import Quantity, in_unit, plain_number, show
from ..verdicts import Verdict
from ..vocabulary import Subject, rule

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
    over=lambda study: [r.ident for r in readers(study)],
)
def within_budget(study: Study) -> list[Verdict]:
    """Every indication for which an error can be worked out."""
    return _alike(_judged(study))


def _judged(study: Study) -> Iterator[Verdict]:
    groups = _groups(study)
    specs = {(r.name, r.source): r for r in readers(study)}
    by_name = {r.name: r for r in readers(study)}
    for (name, source), group in groups.items():
        reader = specs.get((name, source)) or by_name.get(name)
        if reader is not None:
            yield _within(Subject(study, (reader.ident, group[0].source), reader.path), reader, group)
    told = {name for name, _ in groups}
    for reader in readers(study):
        if reader.name not in told:
            yield _subject(study, reader).lacks(missing.POINT_READING)


def _subject(study: Study, reader: Reader) -> Subject:
    return Subject(study, (reader.ident, reader.source), reader.path)


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
    return (
        dial is None
        or dial.lowest.kind != budget.kind
        or (at_least(budget.true, dial.lowest) and at_most(budget.true, dial.highest))
    )


def _within(subject: Subject, reader: Reader, group: list[ErrorBudget]) -> Verdict:
    limit = reader.spec.budget
    here = [b for b in group if _on_dial(reader, b)]
    off = next((b for b in here if b.beyond and not b.missing), None)
    if off is not None:
        true = show(off.true, off.unit, off.kind)
        return subject.discrepancy(
            f"{reader.name} is driven {off.beyond} its scale at {off.point}, where {true} is true",
            remedy="see what the other rules say of its lead and sender",
        )
    lacking = tuple(dict.fromkeys(word for b in here for word in b.missing))
    worst = max(
        (b for b in here if b.worst_case is not None), key=lambda b: b.worst_case or 0.0, default=None
    )
    if worst is None:
        return subject.lacks(*(lacking or (missing.POINT_READING,)))
    text = _told(reader, worst)
    if limit is None or limit.kind != difference_kind(worst.kind):
        lacks = missing.INDICATOR_BUDGET if limit is None else missing.INDICATOR_BUDGET_OF_KIND
        return subject.lacks(lacks, because=text)
    value, most = (in_unit(x, limit.unit, limit.kind) for x in (worst.worst_case or 0.0, float(limit)))
    text += f", against a budget of {plain_number(most)} {limit.unit}"
    if lacking and at_most(value, most):
        return subject.lacks(*lacking, because=f"{text}: not all of its causes are known")
    return subject.field("budget").at_most(value, most, limit.unit, text, remedy=lambda: _cure(worst))


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
    over=lambda study: [r.ident for r in readers(study) if r.limit is not None],
)
def true_at_limit(study: Study) -> list[Verdict]:
    """Every indication with an engine limit on its dial."""
    return _alike(
        _at_limit(_subject(study, reader), reader, limit, low=low)
        for reader in readers(study)
        for low in (False, True)
        if (limit := _limit(reader.limit, low=low)) is not None and _covers(reader, limit)
    )


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
    for point in subject.study.points:
        budget = reader.at(point, float(limit))
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
    apart = [float(r - limit) if low else float(limit - r) for r in given]
    inside = [a for a in apart if a > 0]
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
    unit, kind, apart = limit.unit, limit.kind, difference_kind(limit.kind)
    most = in_unit(allowed, unit, apart)
    shown = worst.shown.indicated
    what = show(shown, unit, kind) if shown is not None else f"a pointer {worst.shown.beyond} its scale"
    text = f"at the {'lowest' if low else 'highest'} of {limit.text} {reader.name} shows {what} ({worst.point.name})"
    why = " where flight leaves no more" if left is not None and at_most(left, allowed) else ""

    def cure() -> str:
        if shown is None:
            return _cure(worst.shown)
        mark = plain_number(in_unit(shown, unit, kind))
        return f"{_cure(worst.shown)}; until then the limit stands at {mark} {unit} on this dial"

    if worst.unsafe == inf:
        return subject.discrepancy(f"{text}, more than {plain_number(most)} {unit}{why}", remedy=cure)
    if lacking and at_most(worst.unsafe, allowed):
        return subject.lacks(*lacking, because=f"{text}: not all of its causes are known")
    if worst.unsafe == -inf:
        return subject.meets(text)
    value = in_unit(worst.unsafe, unit, apart)
    short = f"{text}, {_apart(worst.unsafe, unit, kind)} short of the limit, more than {plain_number(most)} {unit}{why}"
    verdict = subject.at_most(value, most, unit, text, broken=short, remedy=cure)
    if left is None or not at_most(worst.unsafe, allowed) or at_most(worst.likely, left):
        return verdict
    return subject.at_most(
        in_unit(worst.likely, unit, apart),
        in_unit(left, unit, apart),
        unit,
        f"{text}, and with its tolerances may be {_apart(worst.likely, unit, kind)} short, "
        f"more than the {show(left, unit, apart)} flight leaves",
        remedy=lambda: _cure(worst.shown),
        practice=True,
    )
