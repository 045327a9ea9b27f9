"""Deviations: a discrepancy somebody accepted, on some data, until some day. Never hidden, and itself judged."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from functools import lru_cache

from ..document.items import Deviation
from .case import Case
from .verdicts import Outcome, Verdict, advisory, rule

RULE = "deviation-in-order"


@lru_cache(maxsize=1)
def _today() -> date:
    return date.today()


def apply_deviations(case: Case, verdicts: list[Verdict]) -> list[Verdict]:
    """Turn discrepancies a valid deviation covers into ``accepted``; returns advisories on the deviations themselves."""
    made: list[Verdict] = []
    for i, deviation in enumerate(case.model.deviations):
        problem = _fault(case, deviation)
        wanted = set(deviation.at)
        matched = [
            v
            for v in verdicts
            if v.rule == deviation.rule
            and wanted & set(v.at)
            and v.outcome in (Outcome.DISCREPANCY, Outcome.ACCEPTED)
        ]
        if not matched:
            problem = (
                problem or f"matches no discrepancy of '{deviation.rule}' at {', '.join(sorted(wanted))}"
            )
        if problem is None:
            told = f"accepted by {deviation.accepted_by} on {deviation.data}, until {deviation.until}"
            for verdict in matched:
                verdict.outcome, verdict.deviation = Outcome.ACCEPTED, told
            continue
        fault = advisory(
            sorted(wanted),
            ("deviations", i),
            f"the deviation from '{deviation.rule}' {problem}; the discrepancy stands",
            remedy="state who accepted it, the data it rests on and a last day, or take the deviation out",
        )
        fault.rule = RULE
        fault.source = "the document's own deviations"
        made.append(fault)
    return made


def _fault(case: Case, deviation: Deviation) -> str | None:
    if not (deviation.accepted_by and deviation.data and deviation.until):
        missing = [
            w
            for w, v in (
                ("who accepted it", deviation.accepted_by),
                ("its data", deviation.data),
                ("its last day", deviation.until),
            )
            if not v
        ]
        return f"is vague: it does not say {' or '.join(missing)}"
    try:
        last = date.fromisoformat(deviation.until)
    except ValueError:
        return f"has a last day that is no date: '{deviation.until}'"
    if last < _today():
        return f"ended on {deviation.until}"
    return None


@rule(
    RULE,
    title="A deviation names who accepted it, on what data and until when, and matches a discrepancy",
    why="A deviation that is vague, out of date or matches nothing hides a change: what was accepted is no longer what is there.",
    source="14 CFR 43.9 and 43.13 ask for a record of the data a deviation rests on",
    formula="valid if accepted_by, data and until are given, until is not past, and rule and place match a discrepancy",
    example="a deviation that ended 2020-01-01 is told, and its discrepancy stands",
    over=lambda case: [str(i) for i in range(len(case.model.deviations))],
)
def deviation_in_order(case: Case) -> Iterator[Verdict]:
    """Judged by the engine after all other rules; see :func:`apply_deviations`."""
    return iter(())
