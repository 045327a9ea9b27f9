"""What the page is told of a check, as plain values: problems, verdicts, causes, places, sheets and cards."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from ..causes.found import Cause, Causes
from ..document import Document, Place, Problem
from ..model.edits import Edit
from ..outputs.cause_words import cure_of, path_of, wrong_of
from ..outputs.machine.verdicts_json import number
from ..outputs.numbering import findings
from ..outputs.wording import OUTCOME_WORDS, ask_of, numbers, remedy_of, settled_of
from ..rules.asking import asks
from ..rules.verdicts import Ledger, Outcome, Verdict
from .cards import Card, to_its_limit
from .checked import Checked

Answer = dict[str, Any]
_ASKING = (Outcome.DISCREPANCY, Outcome.ADVISORY, Outcome.UNDETERMINED, Outcome.ACCEPTED)
MOST_TOLD = 400
"""Verdicts of one outcome that are told one by one; of more, how many there are."""


def checked(one: Checked) -> Answer:
    """A check: ``problems`` if the texts cannot be read; ``verdicts`` of them, or of those before that could be."""
    answer: Answer = {
        "serial": one.serial,
        "problems": [problem(p) for p in one.problems],
        "of_before": bool(one.problems),
    }
    if one.ledger is not None:
        answer.update(judged(one.ledger))
    return answer


def problem(one: Problem) -> Answer:
    """A problem of a text."""
    return {"message": one.message, "text": one.text, **place(one.place)}


def place(one: Place) -> Answer:
    """A place, as the editor counts: lines and columns from 1."""
    cell = {"cell": one.cell} if one.cell else {}
    return {"file": one.file, "line": one.line, "column": one.column, **cell}


def judged(ledger: Ledger) -> Answer:
    """Counts, what asks for something, and where each thing stands."""
    document = ledger.document
    asking: dict[Outcome, list[tuple[int, Verdict]]] = {outcome: [] for outcome in _ASKING}
    counts = dict.fromkeys(Outcome, 0)
    for n, one in enumerate(ledger.verdicts):
        counts[one.outcome] += 1
        if one.outcome in asking and len(asking[one.outcome]) < MOST_TOLD:
            asking[one.outcome].append((n, one))
    return {
        "counts": {outcome.value: count for outcome, count in counts.items()},
        "failed": list(ledger.failed),
        "verdicts": [{"number": n, **verdict(document, v)} for held in asking.values() for n, v in held],
        "things": dict(_things(document)),
    }


def verdict(document: Document, one: Verdict) -> Answer:
    """One verdict, with its place and its figures in words."""
    return {
        "rule": one.rule,
        "outcome": one.outcome.value,
        "label": OUTCOME_WORDS[one.outcome],
        "at": list(one.at),
        "path": list(one.path),
        "message": one.message,
        "numbers": numbers(one),
        "remedy": remedy_of(one),
        "missing": list(one.missing),
        "source": one.source,
        "value": number(one.value),
        "to_its_limit": to_its_limit(one),
        **place(document.place(one.path)),
    }


def causes(found: Causes) -> Answer:
    """What is to be put right, each with all it makes wrong and the cures that were tried; and what is missing most."""
    document = found.ledger.document
    number_of = {id(v): n for n, v in enumerate(found.ledger.verdicts)}
    return {
        "causes": [
            {
                "number": n,
                "heading": wrong_of(one),
                "makes": [v.message for v in one.verdicts],
                "verdicts": sorted(number_of[id(v)] for v in one.verdicts),
                "cure": cure_of(found, one),
                "ways": [edit.words for edit in ways_of(found, one)],
                "at": list(dict.fromkeys(ident for v in one.verdicts for ident in v.at)),
                **place(document.place(path_of(one))),
            }
            for n, one in enumerate(found.causes, start=1)
        ],
        "flags": [number_of[id(finding.verdicts[0])] for finding in findings(found.ledger, found)],
        "whole": found.whole,
        "missing": [{"what": ask_of(ask), "settles": settled_of(ask)} for ask in asks(found.ledger)],
    }


def ways_of(found: Causes, one: Cause) -> tuple[Edit, ...]:
    """The changes that cure a cause, each with those it stands on; a figure that is still to be measured is never written."""
    before = [found.causes[n - 1] for n in sorted(one.after)]
    if not one.edits or not all(cause.writable for cause in before):
        return ()
    first = [edit for cause in before for edit in cause.edits]
    ways = [one.edits, *((edit,) for edit in one.instead)]
    return tuple(
        Edit(
            tuple(change for edit in (*first, *way) for change in edit.changes),
            "; ".join(edit.words for edit in (*first, *way)),
        )
        for way in ways
        if not any(edit.must_measure for edit in way)
    )


def _things(document: Document) -> Iterator[tuple[str, Answer]]:
    """Section and place of every thing, by its id."""
    model = document.installation
    for section in type(model).model_fields:
        held = getattr(model, section)
        if isinstance(held, dict):
            for ident in held:
                yield ident, {"section": section, **place(document.place((section, ident)))}


def card(document: Document, one: Card) -> Answer:
    """A card as plain values."""
    return {
        "section": one.section,
        "id": one.ident,
        "title": one.title,
        "figures": [list(row) for row in one.figures],
        "causes": [{"of": heading, "rows": [list(row) for row in rows]} for heading, rows in one.causes],
        "verdicts": [verdict(document, v) for v in one.verdicts],
        "tests": [[list(cell) for cell in row] for row in one.tests],
        **place(document.place((one.section, one.ident))),
    }
