"""Verdicts in the terminal, grouped by what a person does next."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from rich.console import Console

from ...causes.found import Causes
from ...document import Document, Problem
from ...rules.asking import asks
from ...rules.verdicts import Ledger, Outcome, Verdict
from ..alike import few, gathered
from ..wording import CAUTION, OUTCOME_WORDS, UNTRIED, ask_of, numbers, settled_of
from .causes import print_causes
from .implied import print_implied
from .words import indented, seen

_MARKS = {
    Outcome.DISCREPANCY: "▲",
    Outcome.ADVISORY: "◆",
    Outcome.UNDETERMINED: "?",
    Outcome.ACCEPTED: "≈",
    Outcome.MEETS: "○",
}
_STYLES = {
    Outcome.DISCREPANCY: "bold red",
    Outcome.ADVISORY: "yellow",
    Outcome.UNDETERMINED: "cyan",
    Outcome.ACCEPTED: "magenta",
    Outcome.MEETS: "green",
}


def print_problems(problems: Iterable[Problem], console: Console) -> None:
    """What keeps a document from being read, one line each."""
    for problem in problems:
        console.print(seen(str(problem.place), style="bold") + seen(f": {problem.message}"), soft_wrap=True)


def print_check(causes: Causes, console: Console, *, every: bool = False) -> None:
    """What is to be put right, the advisories left, what cannot be judged, counts, the caution.

    ``every`` lists each verdict by its outcome, what meets as well.
    """
    ledger, document = causes.ledger, causes.ledger.document
    header = document.installation.installation
    revision = f", revision {header.revision}" if header.revision else ""
    console.print(seen(f"{header.name}{revision}", style="bold") + seen(f"  ({document.name})"))
    print_causes(causes, console)
    listed = (Outcome.DISCREPANCY, Outcome.ACCEPTED, Outcome.ADVISORY) if every else (Outcome.ACCEPTED,)
    for outcome in listed:
        _group(document, outcome, [v for v in ledger.verdicts if v.outcome is outcome], console)
    if not every:
        _advisories(document, causes.advisories, console)
    _failed([v for v in ledger.verdicts if v.failed], console)
    _missing(ledger, console)
    if every:
        _group(document, Outcome.MEETS, [v for v in ledger.verdicts if v.outcome is Outcome.MEETS], console)
        _coverage(ledger, console)
        print_implied(document, console)
    console.print()
    console.print(seen(counted(ledger), style="bold"))
    indented(console, 0, seen(CAUTION, style="dim"))


_COUNT_WORDS = (
    (Outcome.DISCREPANCY, "discrepancies"),
    (Outcome.ACCEPTED, "accepted"),
    (Outcome.ADVISORY, "advisories"),
    (Outcome.UNDETERMINED, "cannot be judged"),
    (Outcome.MEETS, "meet"),
)


def counted(ledger: Ledger) -> str:
    """``3 discrepancies, 0 accepted...``: how many verdicts have each outcome."""
    return ", ".join(f"{ledger.count(o)} {w}" for o, w in _COUNT_WORDS)


def _group(document: Document, outcome: Outcome, verdicts: Sequence[Verdict], console: Console) -> None:
    if not verdicts:
        return
    console.print()
    console.print(seen(f"{OUTCOME_WORDS[outcome]} ({len(verdicts)})", style=_STYLES[outcome]))
    for verdict in verdicts:
        print_verdict(document, verdict, console)


def print_verdict(document: Document, verdict: Verdict, console: Console) -> None:
    """One verdict with its remedy, its numbers, its rule and its place."""
    outcome = verdict.outcome
    indented(console, 2, seen(f"{_MARKS[outcome]} ", style=_STYLES[outcome]) + seen(verdict.message))
    for label, text in _details(document, verdict):
        indented(console, 6, seen(f"{label}: ", style="dim") + seen(text))


def _advisories(document: Document, verdicts: Sequence[Verdict], console: Console) -> None:
    """What good practice asks for, each with its place and what it would take."""
    if not verdicts:
        return
    console.print()
    console.print(seen(f"ADVISORY ({len(verdicts)})", style=_STYLES[Outcome.ADVISORY]))
    for verdict, *others in gathered(verdicts):
        place = document.place(verdict.path)
        head = seen(f"{_MARKS[Outcome.ADVISORY]} ", style=_STYLES[Outcome.ADVISORY]) + seen(verdict.message)
        indented(console, 2, head + seen(f"  {place.short}", style="dim"))
        if verdict.remedy:
            indented(console, 6, seen(f"{UNTRIED}: ", style="dim") + seen(verdict.remedy))
        if others:
            told = f"{len(others)} more likewise: "
            indented(console, 6, seen(told, style="dim") + seen(few([v.at[0] for v in others])))


def _details(document: Document, verdict: Verdict) -> Iterator[tuple[str, str]]:
    if verdict.remedy:
        yield UNTRIED, verdict.remedy
    told = numbers(verdict)
    if told:
        yield "value", told
    if verdict.deviation:
        yield "deviation", verdict.deviation
    yield "rule", f"{verdict.rule}, {verdict.source}"
    yield "at", str(document.place(verdict.path))


def _failed(verdicts: list[Verdict], console: Console) -> None:
    """Rules that failed themselves."""
    if not verdicts:
        return
    console.print()
    console.print(seen(f"THE CHECKER ITSELF FAILED ({len(verdicts)})", style="bold red"))
    for verdict in verdicts:
        at = f" (at {', '.join(verdict.at)})" if verdict.at else ""
        indented(console, 2, seen("! ", style="bold red") + seen(f"{verdict.message}{at}"))


def _missing(ledger: Ledger, console: Console) -> None:
    """What could not be judged, as answers to give; the first is what to say next."""
    to_say = asks(ledger)
    if not to_say:
        return
    console.print()
    count = sum(len(ask.settles) for ask in to_say)
    console.print(
        seen(f"{OUTCOME_WORDS[Outcome.UNDETERMINED]} ({count})", style=_STYLES[Outcome.UNDETERMINED])
    )
    for number, ask in enumerate(to_say):
        mark = "next: " if not number and len(to_say) > 1 else ""
        indented(console, 2, seen(f"? {mark}", style="cyan") + seen(ask_of(ask)))
        indented(console, 6, seen("then judged: ", style="dim") + seen(settled_of(ask)))


def _coverage(ledger: Ledger, console: Console) -> None:
    from rich.table import Table

    table = Table(title="Coverage: items by rule", title_justify="left", box=None, pad_edge=False)
    for column in (
        "rule",
        "items",
        "meets",
        "discrepancy",
        "accepted",
        "advisory",
        "cannot be judged",
        "not concerned",
    ):
        table.add_column(column, justify="left" if column == "rule" else "right")
    for ident, t in ledger.coverage.items():
        table.add_row(
            ident,
            *(
                str(n)
                for n in (
                    t.items,
                    t.meets,
                    t.discrepancy,
                    t.accepted,
                    t.advisory,
                    t.undetermined,
                    t.not_concerned,
                )
            ),
        )
    console.print()
    console.print(table)
