"""Deviations: a discrepancy somebody accepted, on some data, until some day. Never hidden, and itself judged."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import replace
from datetime import date

from ..analysis.study import Study
from ..document.wording import unknown_word
from ..model.records import Deviation
from .verdicts import Outcome, Verdict
from .vocabulary import REGISTRY, Subject, rule

RULE = "deviation-in-order"
SOURCE = "14 CFR 43.9 and 43.13 ask for a record of the data a deviation rests on"
_TELL = "state who accepted it, the data it rests on and a last day, or take the deviation out"
_PLACE_HOLDERS = frozenset(
    ("tbd", "tba", "tbc", "n/a", "na", "none", "unknown", "todo", "pending", "xx", "xxx")
)


def _today() -> date:
    return date.today()


def apply_deviations(
    study: Study, verdicts: list[Verdict], judged: Collection[str] | None = None
) -> list[Verdict]:
    """Turn discrepancies a deviation in order covers into ``accepted``; returns verdicts on the deviations themselves.

    A deviation covers a discrepancy of its rule if it names the item the rule judged; naming only something beside it,
    such as the barrier a line crosses, would accept every later line as well. One of a rule that was not ``judged`` is
    left alone.
    """
    made: list[Verdict] = []
    if not study.model.deviations:
        return made
    by_item: dict[tuple[str, str], list[int]] = {}
    for number, verdict in enumerate(verdicts):
        if verdict.at and verdict.outcome in (Outcome.DISCREPANCY, Outcome.ACCEPTED):
            by_item.setdefault((verdict.rule, verdict.at[0]), []).append(number)
    for i, deviation in enumerate(study.model.deviations):
        if judged is not None and deviation.rule in REGISTRY and deviation.rule not in judged:
            continue
        names = tuple(dict.fromkeys(deviation.at))
        subject = Subject(study, names, ("deviations", i))
        fault = _fault(deviation)
        if fault is not None:
            word, problem = fault
            text = f"the deviation from '{deviation.rule}' {problem}"
            made.append(subject.field(word).advisory(text, remedy=_TELL))
            continue
        for name in names:
            one = Subject(study, (name,), ("deviations", i))
            covered = by_item.get((deviation.rule, name), [])
            for number in covered:
                verdicts[number] = _accepted(verdicts[number], deviation)
            made.append(_matched(one, deviation, covered=bool(covered)))
    for told in made:
        told.rule, told.source = RULE, SOURCE
    return made


def _accepted(verdict: Verdict, deviation: Deviation) -> Verdict:
    why = f": {deviation.reason}" if deviation.reason else ""
    told = f"accepted by {deviation.accepted_by} on {deviation.data}, until {deviation.until}{why}"
    return replace(verdict, outcome=Outcome.ACCEPTED, deviation=told)


def _matched(subject: Subject, deviation: Deviation, *, covered: bool) -> Verdict:
    text = f"the deviation from '{deviation.rule}'"
    if covered:
        return subject.meets(f"{text} at {subject.ident} is in order until {deviation.until}")
    return subject.field("at").advisory(
        f"{text} matches no discrepancy at {subject.ident}: it accepts nothing there",
        remedy="take it out, or name the item that the rule judges",
    )


def _fault(deviation: Deviation) -> tuple[str, str] | None:
    """The field at fault in a deviation and what is wrong with it; ``None`` if it is in order."""
    if deviation.rule not in REGISTRY:
        return "rule", f"is of no rule: {unknown_word(deviation.rule, REGISTRY, 'rule')}"
    if not deviation.at:
        return "at", "names no item; the discrepancy stands"
    for word, what in (("accepted_by", "who accepted it"), ("data", "its data"), ("until", "its last day")):
        if _says_nothing(getattr(deviation, word)):
            return word, f"is vague: it does not say {what}; the discrepancy stands"
    until = deviation.until or ""
    try:
        last = date.fromisoformat(until)
    except ValueError:
        return "until", f"has a last day that is no date: '{until}'; the discrepancy stands"
    if last < _today():
        return "until", f"ended on {until}; the discrepancy stands"
    return None


def _says_nothing(text: str | None) -> bool:
    """Whether a text is missing or only holds a place: 'TBD', 'n/a', '?'."""
    said = (text or "").strip().lower()
    return sum(letter.isalnum() for letter in said) < 2 or said in _PLACE_HOLDERS


@rule(
    RULE,
    title="A deviation names who accepted it, on what data and until when, and matches a discrepancy",
    why="A deviation that is vague, out of date or matches nothing hides a change: what was accepted is no longer what is there.",
    source=SOURCE,
    formula="in order if accepted_by, data and until are given, until is not past, and the rule has a discrepancy whose item it names",
    example="a deviation that ended 2020-01-01 is told, and its discrepancy stands",
    over=lambda study: [str(i) for i in range(len(study.model.deviations))],
)
def deviation_in_order(study: Study) -> Iterator[Verdict]:
    """Judged by the engine after all other rules; see :func:`apply_deviations`."""
    return iter(())
