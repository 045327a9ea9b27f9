"""What a save has changed, in the terminal."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import datetime

from rich.console import Console

from ...causes.pairing import difference, faults
from ...document import Problem
from ...rules.verdicts import Ledger, Verdict
from .verdicts import counted, print_problems, print_verdict
from .words import indented, seen


def print_change(name: str, before: Iterable[Verdict], ledger: Ledger, console: Console) -> None:
    """What has gone and what has come since it was judged last, and the counts as they are now."""
    was = faults(before)
    found = difference(was, faults(ledger.verdicts))
    _head(name, console)
    for index in sorted(found.gone):
        indented(console, 2, seen("gone: ", style="green") + seen(was[index].message))
    for verdict in found.come:
        print_verdict(ledger.document, verdict, console)
    if not found.gone and not found.come:
        indented(console, 2, seen("nothing has come or gone"))
    console.print(seen(counted(ledger), style="bold"))


def print_refused(name: str, problems: Sequence[Problem], console: Console) -> None:
    """What keeps it from being read as it was saved."""
    _head(f"{name} cannot be read as it was saved", console)
    print_problems(problems, console)


def _head(words: str, console: Console) -> None:
    console.print()
    console.print(seen(f"{datetime.now():%H:%M:%S}  {words}", style="bold"))
