"""Verdicts as JSON. The fields are stable and published as ``verdicts.schema.json`` beside this module."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import asdict
from importlib.resources import files
from typing import Any

from ...batch.record import Checked, Record, Told, Unreadable, record
from ...document import Document, Place, Problem
from ...model.edits import Change, Put, Swap
from ...rules.verdicts import Ledger, Outcome, Verdict
from ..wording import CAUTION, VERSION
from .json_text import json_text


def number(value: float | None) -> float | None:
    """A number with six significant digits; nothing for what JSON cannot write."""
    if value is None or not math.isfinite(value):
        return None
    return float(f"{value:.6g}")


def place_fields(place: Place) -> dict[str, Any]:
    """A place as a JSON object; of a table its line is the row, and ``cell`` says it in words."""
    cell = {"cell": place.cell} if place.cell else {}
    return {"file": place.file, "line": place.line, "column": place.column, **cell}


def verdict_fields(document: Document, verdict: Verdict) -> dict[str, Any]:
    """One verdict as a JSON object."""
    return _verdict(verdict, document.place(verdict.path))


def _verdict(verdict: Verdict, place: Place) -> dict[str, Any]:
    return {
        "rule": verdict.rule,
        "outcome": verdict.outcome.value,
        "at": list(verdict.at),
        "path": list(verdict.path),
        "message": verdict.message,
        "value": number(verdict.value),
        "limit": number(verdict.limit),
        "margin": number(verdict.margin),
        "unit": verdict.unit,
        "remedy": verdict.remedy,
        "missing": list(verdict.missing),
        "deviation": verdict.deviation,
        "failed": verdict.failed,
        "source": verdict.source,
        "place": place_fields(place),
    }


def summary(ledger: Ledger) -> dict[str, int]:
    """Counts of verdicts by outcome."""
    return {outcome.value: ledger.count(outcome) for outcome in Outcome}


def _head() -> dict[str, Any]:
    return {"tool": {"name": "installcheck", "version": VERSION}, "caution": CAUTION}


def _checked(one: Checked) -> dict[str, Any]:
    return {
        "installation": {
            "name": one.title,
            "revision": one.revision,
            "date": one.date,
            "file": one.name,
            "digest": one.digest,
        },
        "summary": {outcome.value: n for outcome, n in one.counts.items()},
        "coverage": {ident: asdict(tally) for ident, tally in one.coverage.items()},
        "verdicts": [_verdict(verdict, place) for verdict, place in one.verdicts],
        "causes": [_cause(number, told) for number, told in enumerate(one.causes, 1)],
        "to_say": [
            {
                "facts": [
                    {"words": fact.words, "section": fact.section, "items": list(fact.items)}
                    for fact in ask.facts
                ],
                "settles": list(ask.settles),
                "waits": ask.waits,
            }
            for ask in one.to_say
        ],
    }


def _cause(number: int, told: Told) -> dict[str, Any]:
    return {
        "number": number,
        "heading": told.heading,
        "place": place_fields(told.place),
        "cure": told.cure,
        "changes": [_change(change) for edit in told.edits for change in edit.changes],
        "verdicts": list(told.verdicts),
        "shared": [{"verdict": place, "with": list(others)} for place, others in told.shared],
        "after": list(told.after),
        "instead": [
            {"cure": edit.words, "changes": [_change(change) for change in edit.changes]}
            for edit in told.instead
        ],
    }


def _change(change: Change) -> dict[str, Any]:
    made: dict[str, Any] = {"do": type(change).__name__.lower(), "path": list(change.path)}
    if isinstance(change, Put):
        made["value"] = change.value
    elif isinstance(change, Swap):
        made["other"] = list(change.other)
    return made


def _problem(problem: Problem) -> dict[str, Any]:
    return {"message": problem.message, "text": problem.text, "place": place_fields(problem.place)}


def as_json(ledger: Ledger) -> str:
    """The check of one document as JSON text, keys in a fixed order."""
    return json_text({**_head(), **_checked(record(ledger))})


def many_as_json(records: Sequence[Record], *, single: bool = False) -> str:
    """The check of several files as JSON text: ``documents``, those ``unreadable``, and one summary.

    ``single`` gives one document that was read the shape of :func:`as_json`.
    """
    if single and len(records) == 1 and isinstance(records[0], Checked):
        return json_text({**_head(), **_checked(records[0])})
    checked = [one for one in records if isinstance(one, Checked)]
    total = {outcome.value: sum(one.counts[outcome] for one in checked) for outcome in Outcome}
    body = {
        **_head(),
        "summary": {"documents": len(checked), "unreadable": len(records) - len(checked), **total},
        "documents": [_checked(one) for one in checked],
        "unreadable": [
            {"file": one.name, "problems": [_problem(problem) for problem in one.problems]}
            for one in records
            if isinstance(one, Unreadable)
        ],
    }
    return json_text(body)


def verdicts_schema() -> str:
    """The published schema of this form, as JSON text."""
    return files(__package__ or "").joinpath("verdicts.schema.json").read_text(encoding="utf-8")
