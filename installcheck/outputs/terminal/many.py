"""Many documents in the terminal: a progress bar while they are checked, then one table."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager

from rich.console import Console
from rich.table import Table

from ...batch.record import Checked, Record, Unreadable
from ...rules.verdicts import Outcome
from ..wording import CAUTION
from .verdicts import print_problems
from .words import seen

_COLUMNS = (
    (Outcome.DISCREPANCY, "discrepancies"),
    (Outcome.ACCEPTED, "accepted"),
    (Outcome.ADVISORY, "advisories"),
    (Outcome.UNDETERMINED, "not judged"),
    (Outcome.MEETS, "meet"),
)


@contextmanager
def progress(total: int, console: Console) -> Iterator[Callable[[int], None] | None]:
    """A bar of files checked, on a terminal only; gives the function that moves it on."""
    if not console.is_terminal:
        yield None
        return
    from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn, TimeRemainingColumn

    columns = (TextColumn("checking"), BarColumn(), MofNCompleteColumn(), TimeRemainingColumn())
    with Progress(*columns, console=console, transient=True) as bar:
        task = bar.add_task("checking", total=total)
        yield lambda n: bar.advance(task, n)


def print_many(records: Sequence[Record], console: Console, errors: Console) -> None:
    """One line a document with its counts, the problems of files that cannot be read, and the totals."""
    checked = [one for one in records if isinstance(one, Checked)]
    broken = [one for one in records if isinstance(one, Unreadable)]
    table = Table(box=None, pad_edge=False)
    table.add_column("document", overflow="fold", no_wrap=True)
    table.add_column("installation", overflow="fold")
    for _, word in _COLUMNS:
        table.add_column(word, justify="right")
    for one in records:
        if isinstance(one, Checked):
            revision = f" {one.revision}" if one.revision else ""
            counts = (str(one.counts[outcome]) for outcome, _ in _COLUMNS)
            table.add_row(seen(one.name), seen(f"{one.title}{revision}"), *counts)
        else:
            table.add_row(seen(one.name), seen("cannot be checked" if one.failed else "cannot be read"))
    console.print(table)
    for one in broken:
        print_problems(one.problems, errors)
    for one in checked:
        if one.failed:
            told = f": the checker itself failed in {', '.join(one.failed)}; please report it together with the document"
            errors.print(seen(one.name, style="bold") + seen(told), soft_wrap=True)
    totals = ", ".join(f"{sum(one.counts[outcome] for one in checked)} {word}" for outcome, word in _COLUMNS)
    console.print()
    console.print(
        seen(f"{len(checked)} checked, {len(broken)} cannot be read: {totals}", style="bold"), soft_wrap=True
    )
    if any(one.counts[Outcome.DISCREPANCY] for one in checked):
        console.print(
            "'installcheck check FILE' lists the discrepancies of one document with their remedies."
        )
    console.print(seen(CAUTION, style="dim"))
