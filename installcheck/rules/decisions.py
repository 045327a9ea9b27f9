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
from .asking import asks, key_of
from .verdicts import Ledger, Outcome, Verdict

LARGEST = 2_000_000
"""Bytes of a decision file; one of a thousand causes is a tenth of it."""
_LONGEST, _LONG_TEXT = 400, 4000
_DAY = re.compile(r"\d{4}-\d{2}-\d{2}")
_WORDS = ("", "accept", "refuse")
_OPEN_WORDS = ("", "leave open", "ask for")
_NOTHING = {"decision": "", "comment": ""}


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
class LeftOpen:
    """What was decided of one thing that could not be judged: what tells it from others, its words, the decision, the comment."""

    key: str
    words: str
    decision: str
    comment: str


@dataclass(frozen=True, slots=True)
class Decisions:
    """A review: of which text (its digest), by whom, when, on what data, until when, and what was decided.

    Of each cause, of the whole change, and of what could not be judged.
    """

    digest: str
    reviewer: str
    date: str
    data: str
    until: str
    causes: tuple[Decided, ...]
    whole: Decided = Decided("the whole change", (), "", "")
    open: tuple[LeftOpen, ...] = ()


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
    whole, asked = body.get("whole", _NOTHING), body.get("open", [])
    if not isinstance(whole, dict) or not isinstance(asked, list):
        raise DecisionsError(f"'{path}' holds no decisions of a review record")
    return Decisions(
        **told,
        causes=tuple(_decided(path, n, one) for n, one in enumerate(body["causes"], start=1)),
        whole=Decided(
            "the whole change",
            (),
            _decision(path, whole, _WORDS, ", the whole change"),
            _text(path, whole, "comment", ", the whole change"),
        ),
        open=tuple(_left_open(path, n, one) for n, one in enumerate(asked, start=1)),
    )


def _left_open(path: Path, number: int, one: object) -> LeftOpen:
    where = f", what is not judged, {number}"
    if not isinstance(one, dict):
        raise DecisionsError(f"'{path}'{where}: it is no decision")
    key, words, comment = (_text(path, one, word, where, _LONG_TEXT) for word in ("key", "words", "comment"))
    return LeftOpen(key, words, _decision(path, one, _OPEN_WORDS, where), comment)


def _decision(path: Path, body: dict[str, object], words: tuple[str, ...], where: str) -> str:
    decision = _text(path, body, "decision", where)
    if decision not in words:
        raise DecisionsError(f"'{path}'{where}: '{decision}' is neither '{words[1]}' nor '{words[2]}'")
    return decision


def _text(path: Path, body: dict[str, object], word: str, where: str = "", longest: int = _LONGEST) -> str:
    value = body.get(word, "")
    if not isinstance(value, str) or len(value) > longest:
        raise DecisionsError(f"'{path}'{where}: '{word}' is no text of at most {longest} letters")
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
    return Decided(
        _text(path, one, "words", where),
        tuple(keys),
        _decision(path, one, _WORDS, where),
        _text(path, one, "comment", where),
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
    """What the review refused and still stands: causes with a discrepancy left, and the whole until it is reviewed again."""
    standing = {(v.rule, v.at[0]) for v in verdicts if v.at and v.outcome is Outcome.DISCREPANCY}
    causes = [one for one in found.causes if one.decision == "refuse" and standing.intersection(one.verdicts)]
    return [found.whole, *causes] if found.whole.decision == "refuse" else causes


def still_asked(found: Decisions, ledger: Ledger) -> list[LeftOpen]:
    """What the review asked for and still cannot be judged; what it asked for without naming it, as long as anything is open."""
    keys = {key_of(ask) for ask in asks(ledger)}
    return [
        one
        for one in found.open
        if one.decision == "ask for" and (one.key in keys or (one.key == "others" and keys))
    ]
