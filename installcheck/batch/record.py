"""The record of one file that was checked: what the forms for other machines print, free of the document itself.

It is small and can be sent from one process to another, so that many files are checked on all cores.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TypeAlias

from ..document import Place, Problem
from ..rules.verdicts import Ledger, Outcome, Tally, Verdict


@dataclass(frozen=True, slots=True)
class Checked:
    """A document that was read and judged.

    Attributes:
        name: the main file as it was named.
        title, revision, date: what the document calls itself.
        digest: SHA-256 over all files read.
        files: every file of the document with the SHA-256 of its bytes.
        counts: verdicts by outcome.
        coverage: by rule.
        failed: rules that failed themselves.
        verdicts: each with the place it points at; empty when only counts were asked for.
    """

    name: str
    title: str
    revision: str | None
    date: str | None
    digest: str
    files: tuple[tuple[str, str], ...]
    counts: dict[Outcome, int]
    coverage: dict[str, Tally]
    failed: tuple[str, ...]
    verdicts: tuple[tuple[Verdict, Place], ...]


@dataclass(frozen=True, slots=True)
class Unreadable:
    """A file that could not be read as an installation, or that the checker itself failed on.

    Attributes:
        failed: whether the checker is at fault rather than the file.
    """

    name: str
    problems: tuple[Problem, ...]
    failed: bool = False


Record: TypeAlias = Checked | Unreadable


def record(ledger: Ledger, *, counts_only: bool = False) -> Checked:
    """The record of a judged document."""
    document = ledger.document
    header = document.installation.installation
    placed = () if counts_only else tuple((v, document.place(v.path)) for v in ledger.verdicts)
    return Checked(
        document.name,
        header.name,
        header.revision,
        header.date,
        document.digest,
        tuple((source.name, source.digest.hex()) for source in document.sources),
        {outcome: ledger.count(outcome) for outcome in Outcome},
        {} if counts_only else ledger.coverage,
        ledger.failed,
        placed,
    )


def exit_status(records: Sequence[Record]) -> int:
    """3 if the checker itself failed on any file, else 2 if any could not be read, else 1 for a discrepancy, else 0."""
    if any(one.failed for one in records):
        return 3
    if any(isinstance(one, Unreadable) for one in records):
        return 2
    return int(any(isinstance(one, Checked) and one.counts[Outcome.DISCREPANCY] for one in records))
