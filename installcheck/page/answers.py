"""What the page is told of a check, as plain values: problems, verdicts, causes, places, sheets and cards."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from ..causes.found import Cause, Causes
from ..document import Document, Place, Problem
from ..outputs.cause_words import cure_of, path_of, wrong_of
from ..outputs.machine.verdicts_json import number
from ..outputs.numbering import findings
from ..outputs.wording import OUTCOME_WORDS, ask_of, numbers, remedy_of, settled_of
from ..rules.asking import asks
from ..rules.verdicts import Ledger, Outcome, Verdict
from .cards import Card, to_its_limit
from .desk import Checked

Answer = dict[str, Any]
_ASKING = (Outcome.DISCREPANCY, Outcome.ADVISORY, Outcome.UNDETERMINED, Outcome.ACCEPTED)


def checked(one: Checked) -> Answer:
    """A check: ``problems`` if the text cannot be read; ``verdicts`` of it, or of the text before that could be."""
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
    """Counts, what asks for something, what is missing most, and where each thing stands."""
    document = ledger.document
    asking = [(n, v) for outcome in _ASKING for n, v in enumerate(ledger.verdicts) if v.outcome is outcome]
    return {
        "counts": {outcome.value: ledger.count(outcome) for outcome in Outcome},
        "failed": list(ledger.failed),
        "verdicts": [{"number": n, **verdict(document, v)} for n, v in asking],
        "missing": [{"what": ask_of(ask), "settles": settled_of(ask)} for ask in asks(ledger)],
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
    """What is to be put right, each with all it makes wrong and the cure that was tried."""
    document = found.ledger.document
    return {
        "causes": [_cause(found, document, number, one) for number, one in enumerate(found.causes, start=1)],
        "flags": list(_flags(found)),
        "whole": found.whole,
    }


def _flags(found: Causes) -> Iterator[int]:
    """The verdict each number on the drawing leads to, the first of its own."""
    place_of = {id(one): n for n, one in enumerate(found.ledger.verdicts)}
    for finding in findings(found.ledger, found):
        yield place_of[id(finding.verdicts[0])]


def _cause(found: Causes, document: Document, number: int, one: Cause) -> Answer:
    verdicts = one.verdicts
    return {
        "number": number,
        "heading": wrong_of(one),
        "makes": [v.message for v in verdicts],
        "verdicts": [n for n, v in enumerate(found.ledger.verdicts) if any(v is one for one in verdicts)],
        "cure": cure_of(found, one),
        "possible": bool(one.edits),
        "at": list(dict.fromkeys(ident for v in verdicts for ident in v.at)),
        **place(document.place(path_of(one))),
    }


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
