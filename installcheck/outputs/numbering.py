"""The number under which a finding is flagged: that of the thing to put right, worst first; then one for each that is left."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from ..causes.found import Causes
from ..document.source import DocPath
from ..rules.verdicts import Ledger, Outcome, Verdict
from .cause_words import consequences, path_of, wrong_of

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
    """Every finding in the order of its number; each verdict has one of its own where no causes are given."""
    return list(_numbered(ledger, causes))


def _numbered(ledger: Ledger, causes: Causes | None) -> Iterator[Finding]:
    number = 0
    explained: set[int] = set()
    for number, cause in enumerate(causes.causes if causes is not None else (), start=1):
        explained |= {id(v) for v in cause.verdicts}
        wrong, first = wrong_of(cause), next(consequences(cause))
        text = first if not cause.edits else f"{wrong}: {first}"
        shared = tuple(v for v, _ in cause.shares)
        yield Finding(number, Outcome.DISCREPANCY, text, cause.verdicts, path_of(cause), shared)
    for verdict in flagged(ledger):
        if id(verdict) not in explained:
            number += 1
            yield Finding(number, verdict.outcome, verdict.message, (verdict,))
