"""The record of one file that was checked: what the forms for other machines print, free of the document itself.

It is small and can be sent from one process to another, so that many files are checked on all cores.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import TypeAlias

from ..causes.found import Causes
from ..dataclass import dataclass
from ..document import Place, Problem
from ..model.edits import Edit
from ..rules.asking import Fact, asks
from ..rules.verdicts import Ledger, Outcome, Tally, Verdict


@dataclass(frozen=True, slots=True)
class Told:
    """A cause with the verdicts it explains.

    Attributes:
        heading: what is wrong, in words.
        place: where the document tells of what is to be changed.
        edits: the cure; empty if no change that was tried is one.
        verdicts: places, in the list of verdicts, of those that vanish with it alone, the one that tells most first.
        shared: such places of those that vanish only when other causes are cured as well, with the numbers of those from 1.
        after: numbers of the causes to be cured first.
        instead: other changes, each as good as the cure.
    """

    heading: str
    place: Place
    edits: tuple[Edit, ...]
    verdicts: tuple[int, ...]
    shared: tuple[tuple[int, tuple[int, ...]], ...]
    after: tuple[int, ...]
    instead: tuple[Edit, ...] = ()

    @property
    def all(self) -> tuple[int, ...]:
        """All it makes wrong, by place in the list of verdicts."""
        return (*self.verdicts, *(place for place, _ in self.shared))

    @property
    def cure(self) -> str:
        """What is done, in words; empty if no change that was tried is a cure."""
        return "; ".join(edit.words for edit in self.edits)


@dataclass(frozen=True, slots=True)
class ToSay:
    """One answer to give, as :class:`installcheck.rules.asking.Ask`, with the verdicts by place in their list."""

    facts: tuple[Fact, ...]
    settles: tuple[int, ...]
    waits: int


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
        causes: what is to be put right, worst first; empty when only counts were asked for.
        to_say: what to say for more to be judged, what settles most first; empty when only counts were asked for.
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
    causes: tuple[Told, ...] = ()
    to_say: tuple[ToSay, ...] = ()


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


def record(ledger: Ledger, causes: Causes | None = None, *, counts_only: bool = False) -> Checked:
    """The record of a judged document, with its causes where they were looked for."""
    document = ledger.document
    header = document.installation.installation
    placed = () if counts_only else tuple((_plain(v), document.place(v.path)) for v in ledger.verdicts)
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
        () if causes is None else tuple(_told(causes)),
        () if counts_only else tuple(_to_say(ledger)),
    )


def _to_say(ledger: Ledger) -> Iterator[ToSay]:
    at = {id(v): i for i, v in enumerate(ledger.verdicts)}
    for ask in asks(ledger):
        settles = tuple(at[id(v)] for v in ask.settles)
        yield ToSay(ask.facts, settles, ask.waits)


def _plain(verdict: Verdict) -> Verdict:
    """A verdict that can be sent to another process: without what works out a cure."""
    return replace(verdict, cure=None)


def _told(causes: Causes) -> Iterator[Told]:
    at = {id(v): i for i, v in enumerate(causes.ledger.verdicts)}
    for cause in causes.causes:
        yield Told(
            cause.heading,
            causes.ledger.document.place(cause.path),
            cause.edits,
            tuple(at[id(v)] for v in cause.explains),
            tuple((at[id(v)], others) for v, others in cause.shares),
            cause.after,
            cause.instead,
        )


def exit_status(records: Sequence[Record]) -> int:
    """3 if the checker itself failed on any file, else 2 if any could not be read, else 1 for a discrepancy, else 0."""
    if any(one.failed for one in records):
        return 3
    if any(isinstance(one, Unreadable) for one in records):
        return 2
    return int(any(isinstance(one, Checked) and one.counts[Outcome.DISCREPANCY] for one in records))
