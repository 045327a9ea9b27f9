"""Decisions of a reviewer, as the review record saves them: what was accepted, refused or commented, read back."""

from __future__ import annotations

import json
import re
from collections.abc import Iterable
from dataclasses import replace
from pathlib import Path

from ..dataclass import dataclass
from ..document import Document
from ..files.reading import UnreadableError, read_regular
from ..model.records import Deviation
from .verdicts import Outcome, Verdict

LARGEST = 2_000_000
"""Bytes of a decision file; one of a thousand causes is a tenth of it."""
_LONGEST = 400
_DAY = re.compile(r"\d{4}-\d{2}-\d{2}")
_WORDS = ("", "accept", "refuse")


class DecisionsError(Exception):
    """A decision file that cannot be read; the message says what is wrong and where."""


@dataclass(frozen=True, slots=True)
class Decided:
    """What was decided of one cause: its words, its verdicts by rule and item, the decision and the comment."""

    words: str
    verdicts: tuple[tuple[str, str], ...]
    decision: str
    comment: str


@dataclass(frozen=True, slots=True)
class Decisions:
    """A review: of which text (its digest), by whom, when, on what data, until when, and what was decided."""

    digest: str
    reviewer: str
    date: str
    data: str
    until: str
    causes: tuple[Decided, ...]


def read_decisions(path: Path) -> Decisions:
    """The decisions a review record saved.

    Raises:
        DecisionsError: no such file, or no file of decisions.
    """
    try:
        data = read_regular(path, LARGEST)
        if len(data) > LARGEST:
            raise DecisionsError(f"'{path}' is larger than any decision file")
        body = json.loads(data.decode("utf-8-sig"))
    except UnreadableError as bad:
        raise DecisionsError(f"'{path}' {bad}") from None
    except (ValueError, RecursionError) as bad:
        at = f":{bad.lineno}:{bad.colno}" if isinstance(bad, json.JSONDecodeError) else ""
        raise DecisionsError(f"'{path}'{at} is no JSON text") from None
    if not isinstance(body, dict) or body.get("decisions") != 1 or not isinstance(body.get("causes"), list):
        raise DecisionsError(f"'{path}' holds no decisions of a review record")
    told = {word: _text(path, body, word) for word in ("digest", "reviewer", "date", "data", "until")}
    return Decisions(
        **told, causes=tuple(_decided(path, n, one) for n, one in enumerate(body["causes"], start=1))
    )


def _text(path: Path, body: dict[str, object], word: str, where: str = "") -> str:
    value = body.get(word, "")
    if not isinstance(value, str) or len(value) > _LONGEST:
        raise DecisionsError(f"'{path}'{where}: '{word}' is no text of at most {_LONGEST} letters")
    if word in ("date", "until") and value and not _DAY.fullmatch(value):
        raise DecisionsError(f"'{path}'{where}: '{word}' is no day written YYYY-MM-DD")
    return value


def _decided(path: Path, number: int, one: object) -> Decided:
    where = f", cause {number}"
    verdicts = one.get("verdicts") if isinstance(one, dict) else None
    if not isinstance(one, dict) or not isinstance(verdicts, list):
        raise DecisionsError(f"'{path}'{where}: its 'verdicts' are missing")
    keys = []
    for verdict in verdicts:
        if not isinstance(verdict, dict):
            raise DecisionsError(f"'{path}'{where}: a verdict is no pair of rule and item")
        keys.append((_text(path, verdict, "rule", where), _text(path, verdict, "at", where)))
    decision = _text(path, one, "decision", where)
    if decision not in _WORDS:
        raise DecisionsError(f"'{path}'{where}: '{decision}' is neither 'accept' nor 'refuse'")
    return Decided(
        _text(path, one, "words", where), tuple(keys), decision, _text(path, one, "comment", where)
    )


def with_decisions(document: Document, found: Decisions) -> Document:
    """The document with what was accepted added to its deviations.

    Raises:
        DecisionsError: the review was of another text.
    """
    if found.digest != document.digest:
        raise DecisionsError(
            f"the decisions are of another text than {document.name}: review it again, or keep the text as it was"
        )
    added = [
        Deviation(
            rule=rule,
            at=(at,),
            accepted_by=found.reviewer or None,
            data=found.data or None,
            until=found.until or None,
            reason=one.comment or None,
        )
        for one in found.causes
        if one.decision == "accept"
        for rule, at in dict.fromkeys(one.verdicts)
        if at
    ]
    model = document.installation
    return replace(
        document, installation=model.model_copy(update={"deviations": [*model.deviations, *added]})
    )


def open_refusals(found: Decisions, verdicts: Iterable[Verdict]) -> list[Decided]:
    """What the review refused and still stands as a discrepancy."""
    standing = {(v.rule, v.at[0]) for v in verdicts if v.at and v.outcome is Outcome.DISCREPANCY}
    return [one for one in found.causes if one.decision == "refuse" and standing.intersection(one.verdicts)]
