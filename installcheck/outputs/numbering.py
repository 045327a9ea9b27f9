"""The number under which a finding is flagged: that of the thing to put right, worst first; then one for each that is left."""

from __future__ import annotations

import re
from collections.abc import Iterator

from ..causes.found import Causes
from ..dataclass import dataclass
from ..document.source import DocPath
from ..rules.verdicts import Ledger, Outcome, Verdict
from .cause_words import first_of, path_of, wrong_of
from .wording import drawn_together

_ROOM = 60
_NAMES = 3
"""Letters that names of things may take in one finding, and how many are named where they take more."""
_FLAGGED = (Outcome.DISCREPANCY, Outcome.ACCEPTED, Outcome.ADVISORY, Outcome.UNDETERMINED)


@dataclass(frozen=True, slots=True)
class Finding:
    """What has one number on the sheets, on the first page of the record and in the terminal.

    Attributes:
        number: counted from 1.
        outcome: of the worst of its verdicts.
        text: what a sheet says of it.
        verdicts: all it makes wrong.
        at: the thing that is to be changed, where that is known.
        shared: those of its verdicts that other findings make wrong as well.
    """

    number: int
    outcome: Outcome
    text: str
    verdicts: tuple[Verdict, ...]
    at: DocPath = ()
    shared: tuple[Verdict, ...] = ()


def flagged(ledger: Ledger) -> list[Verdict]:
    """Every verdict that asks for something, worst outcome first."""
    return [v for outcome in _FLAGGED for v in ledger.verdicts if v.outcome is outcome]


def findings(ledger: Ledger, causes: Causes | None = None) -> list[Finding]:
    """Every finding in the order of its number; verdicts that say the same of several things are one finding."""
    return list(_numbered(ledger, causes))


def _numbered(ledger: Ledger, causes: Causes | None) -> Iterator[Finding]:
    number = 0
    explained: set[int] = set()
    for number, cause in enumerate(causes.causes if causes is not None else (), start=1):
        explained |= {id(v) for v in cause.verdicts}
        wrong, first = wrong_of(cause), first_of(cause)
        text = first if not cause.edits else f"{wrong}: {first}"
        shared = tuple(v for v, _ in cause.shares)
        yield Finding(number, Outcome.DISCREPANCY, text, cause.verdicts, path_of(cause), shared)
    alike: dict[tuple[Outcome, str, str, str], list[Verdict]] = {}
    for verdict in flagged(ledger):
        if id(verdict) not in explained:
            before, after = _around(verdict)
            alike.setdefault((verdict.outcome, verdict.rule, before, after), []).append(verdict)
    for at, ((outcome, _, before, after), group) in enumerate(alike.items(), start=number + 1):
        text = group[0].message if len(group) == 1 else f"{before}{_names(group)}{after}"
        yield Finding(at, outcome, text, tuple(group))


def _around(verdict: Verdict) -> tuple[str, str]:
    """What a verdict says before and after the name of the thing it is about; all of it where it does not name that."""
    name = verdict.at[0] if verdict.at else ""
    found = re.search(rf"(?<![\w.]){re.escape(name)}(?![\w.])", verdict.message) if name else None
    if found is None:
        return verdict.message, ""
    return verdict.message[: found.start()], verdict.message[found.end() :]


def _names(group: list[Verdict]) -> str:
    """``W1 to W20``, or ``W1, W7, T3 and 12 more`` where that would be long."""
    idents = list(dict.fromkeys(v.at[0] for v in group))
    told = drawn_together(idents)
    more = len(idents) - _NAMES
    return told if len(told) <= _ROOM or more <= 1 else f"{', '.join(idents[:_NAMES])} and {more} more"
