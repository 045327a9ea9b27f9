"""Every indication's total error against its budget."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from ...analysis import missing
from ...analysis.circuit.supplied import live_points
from ...analysis.errors.error_budget import Cause, ErrorBudget
from ...analysis.errors.indicated import Reader, all_budgets, budgets_of_indicator, readers
from ...analysis.power.unfed import lacking_supply
from ...analysis.study import Study
from ...analysis.true_value import difference_kind
from ...model.comparing import at_least, at_most
from ...model.quantities import in_unit, plain_number, show
from ..verdicts import Verdict
from ..vocabulary import Subject, rule
from .ranges import settled_by_limits

_CURES = {
    "lead resistance": "clean the joints on the way and measure again; for what is left, trim the loop or use heavier lead",
    "lead heating": "lead it through cooler zones, or use heavier lead",
    "lead resistance by table": "measure the loop and state it under 'measured'",
    "lead resistance, inner resistance not known": "find the indicator's inner resistance by a known resistor in its lead",
    "ground offset": "bring the sender's return to the indicator by a wire of its own",
    "ground offset of the couple": "fit a probe with an isolated junction, or an indicator with isolated inputs",
    "measured ground offset": "clean and bond the joint it was measured across, and measure again",
    "contact resistance": "clean and bond the joints of the return",
    "supply sag": "clean the joints and straps of its feed and return; else use heavier feed wires, or an indicator whose reading does not "
    "follow the supply",
    "sender mismatch": "fit the sender the indicator is made for",
    "probe and indicator of different couples": "fit a probe and lead of the indicator's couple",
    "metal and polarity of the lead": "run the couple's own metals to the indicator, the right way round",
    "metal of a joint with unequal ends": "fit contacts of the couple's own metals",
    "reference junction": "end the couple's metals where the indicator takes its reference",
    "couple tolerance": "fit a probe of special grade",
    "lead tolerance": "use lead of special tolerance",
    "indicator accuracy": "fit an indicator of better accuracy",
    "sender tolerance": "fit a sender of closer tolerance",
    "head of the line": "put a sender at the height of the tap, or mark the dial for the head",
    "drive ratio and poles": "fit the indicator made for the generator and its drive",
    "range of the transmitter": "fit the transmitter the indicator is made for",
    "pulses per revolution": "set the indicator to the pulses its pick-up gives",
    "pulses per gallon": "set the indicator to the pulses per gallon of its sender",
    "leads exchanged": "exchange its two leads",
    "other loads on its lead": "bring it a lead of its own from the bus",
    "shunt and ammeter of different range": "fit the shunt the ammeter is made for",
    "shunt tolerance": "fit a shunt of closer tolerance",
    "altitude": "use a remote indicator, or a gauge with a sealed case",
}


def _groups(study: Study, only: str | None) -> dict[tuple[str, str], list[ErrorBudget]]:
    """Budgets of each indication by name and source, over the operating points; an averaged input once."""
    averaged = {r.name for r in readers(study) if r.averaged}
    found: dict[tuple[str, str], list[ErrorBudget]] = {}
    for budget in all_budgets(study) if only is None else budgets_of_indicator(study, only):
        key = (budget.indication, "" if budget.indication in averaged else budget.source)
        group = found.setdefault(key, [])
        if all(b.point != budget.point for b in group):
            group.append(budget)
    return found


def apart(size: float, unit: str, kind: str, *, sign: bool = False) -> str:
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
    over=lambda study: [*(r.ident for r in readers(study)), *_of_no_principle(study)],
)
def within_budget(study: Study, only: str | None = None) -> list[Verdict]:
    """Every indication; where no error can be worked out, what it lacks."""
    return alike(_judged(study, only))


def _judged(study: Study, only: str | None) -> Iterator[Verdict]:
    groups = _groups(study, only)
    specs = {(r.name, r.source): r for r in readers(study)}
    by_name = {r.name: r for r in readers(study)}
    for (name, source), group in groups.items():
        reader = specs.get((name, source)) or by_name.get(name)
        if reader is not None and only in (None, reader.ident):
            yield _within(Subject(study, (reader.ident, group[0].source), reader.path), reader, group)
    told = {name for name, _ in groups}
    for reader in readers(study):
        if reader.name not in told and only in (None, reader.ident):
            live = live_points(study, reader.ident)
            lacking = missing.POINT_READING if live else lacking_supply(study, reader.ident)
            yield subject_of(study, reader).lacks(*settled_by_limits(study, reader.name, [lacking]))
    for ident in _of_no_principle(study):
        if only in (None, ident):
            yield Subject(study, (ident,), ("indicators", ident)).lacks(missing.INDICATOR_PRINCIPLE)


def _of_no_principle(study: Study) -> list[str]:
    """Indicators of which nobody says how they work, so that no error can be worked out."""
    return [i for i in study.model.indicators if all(one.principle is None for _, one in study.inputs(i))]


def subject_of(study: Study, reader: Reader) -> Subject:
    return Subject(study, (reader.ident, reader.source), reader.path)


def alike(verdicts: Iterable[Verdict]) -> list[Verdict]:
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
    lacking = settled_by_limits(subject.study, reader.name, (word for b in here for word in b.missing))
    worst = max(
        (b for b in here if b.worst_case is not None), key=lambda b: b.worst_case or 0.0, default=None
    )
    if worst is None:
        told = lacking or settled_by_limits(subject.study, reader.name, [missing.POINT_READING])
        return subject.lacks(*told)
    text = _told(reader, worst)
    if limit is None or limit.kind != difference_kind(worst.kind):
        lacks = missing.INDICATOR_BUDGET if limit is None else missing.INDICATOR_BUDGET_OF_KIND
        return subject.lacks(lacks, because=text)
    value, most = (in_unit(x, limit.unit, limit.kind) for x in (worst.worst_case or 0.0, float(limit)))
    text += f", against a budget of {plain_number(most)} {limit.unit}"
    if lacking and at_most(value, most):
        return subject.lacks(*lacking, because=f"{text}: not all of its causes are known")
    return subject.field("budget").at_most(value, most, limit.unit, text, remedy=lambda: cure(worst))


def _told(reader: Reader, budget: ErrorBudget) -> str:
    """The error of a budget in words, with its largest causes."""
    error, unit, kind = budget.error or 0.0, budget.unit, budget.kind
    sized = sorted(budget.causes, key=lambda c: -abs(c.amount))[:4]
    causes = ", ".join(
        f"{c.name}{f' at {c.at}' if c.at else ''} {'±' + apart(c.amount, unit, kind) if c.tolerance else apart(c.amount, unit, kind, sign=True)}"
        for c in sized
    )
    way = f"{apart(error, unit, kind)} {'low' if error < 0 else 'high'}" if error else "true"
    return (
        f"{reader.name} at {budget.point} reads {way} at a true {show(budget.true, unit, kind)}, up to "
        f"{apart(budget.worst_case or 0.0, unit, kind)} off with all tolerances ({causes or 'no cause of error'})"
    )


def cure(budget: ErrorBudget, unit: str = "") -> str:
    """What to do about the largest cause, and what that leaves, in ``unit`` or else that of the budget."""
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
    return f"{cure}: without the {largest.name} {apart(rest, unit or budget.unit, budget.kind)} are left"
