"""What is to be put right, in the terminal: each cause with what it makes wrong and a cure that was tried."""

from __future__ import annotations

from rich.console import Console

from ...causes.found import Cause, Causes
from ...rules.verdicts import Outcome
from ..alike import alike, few
from ..cause_words import consequences, cure_of, path_of, wrong_of
from ..wording import count_of
from .words import indented, seen


def print_causes(causes: Causes, console: Console) -> None:
    """The causes, worst first."""
    if not causes.causes:
        return
    cured = [c for c in causes.causes if c.edits]
    console.print()
    console.print(seen(count_of(len(causes.causes), "THING", "THINGS") + " TO PUT RIGHT", style="bold red"))
    for group in alike(causes.causes):
        number = causes.causes.index(group[0]) + 1
        _cause(causes, number, group[0], console)
        if len(group) > 1:
            names = few([cause.verdicts[0].at[0] for cause in group[1:]])
            told = (
                f"{number + 1} to {number + len(group) - 1} likewise: "
                if len(group) > 2
                else f"{number + 1} likewise: "
            )
            indented(console, 5, seen(told, style="dim") + seen(names))
    if cured:
        left = sum(1 for v in causes.after if v.outcome is Outcome.DISCREPANCY)
        made = {1: "The cure made", 2: "Both cures made together"}.get(
            len(cured), f"All {len(cured)} cures made together"
        )
        told = "none is left" if not left else f"{left} are left"
        indented(console, 2, seen(f"{made} on a copy: of the discrepancies {told}.", style="dim"))


def _cause(causes: Causes, number: int, cause: Cause, console: Console) -> None:
    place = causes.ledger.document.place(path_of(cause))
    head = (
        seen(f"{number:2} ", style="bold red")
        + seen(wrong_of(cause), style="bold")
        + seen(f"  {place.short}", style="dim")
    )
    indented(console, 1, head)
    told = [text for text in consequences(cause) if text != wrong_of(cause)]
    if told:
        indented(console, 5, seen("; ".join(told)))
    indented(console, 5, seen("cure: ", style="green") + seen(cure_of(causes, cause)))
