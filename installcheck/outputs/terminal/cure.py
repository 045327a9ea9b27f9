"""Cures written into a text, in the terminal: what is done, the change as a unified diff, and what is left."""

from __future__ import annotations

from rich.console import Console

from ...causes.cure import Cured
from ...rules.verdicts import Outcome, Verdict
from ..wording import CAUTION, count_of
from .diff import print_diff
from .words import indented, seen


def print_cured(cured: Cured, out: str | None, console: Console) -> None:
    """What was done, the change, and what is left; ``out`` is the file it is written to, if any."""
    document = cured.causes.ledger.document
    header = document.installation.installation
    revision = f", revision {header.revision}" if header.revision else ""
    console.print(seen(f"{header.name}{revision}", style="bold") + seen(f"  ({document.name})"))
    console.print()
    for number in sorted((*cured.revision.made, *cured.revision.left_out)):
        _done(cured, number, console)
    print_diff(document, cured.revision.texts, out, console)
    _left(cured, console)
    indented(console, 0, seen(CAUTION, style="dim"))


def _done(cured: Cured, number: int, console: Console) -> None:
    cause, document = cured.cause(number), cured.causes.ledger.document
    place = document.place(cause.edits[0].changes[0].path)
    indented(
        console,
        1,
        seen(f"{number:2} ", style="bold") + seen(cause.words) + seen(f"  {place.short}", style="dim"),
    )
    if number in cured.revision.left_out:
        indented(console, 5, seen(f"not written: {cured.revision.left_out[number]}", style="yellow"))


def _left(cured: Cured, console: Console) -> None:
    left, new = cured.left, {id(v) for v in cured.come}
    console.print()
    told = count_of(len(left), "discrepancy", "discrepancies")
    console.print(
        seen(f"Judged again: {told} left" if left else "Judged again: no discrepancy is left", style="bold")
    )
    for verdict in left:
        _verdict(cured, verdict, console, new=id(verdict) in new)
    for verdict in cured.come:
        if verdict.outcome is Outcome.ADVISORY:
            _verdict(cured, verdict, console, new=True)


def _verdict(cured: Cured, verdict: Verdict, console: Console, *, new: bool) -> None:
    place = cured.ledger.document.place(verdict.path)
    kind = "new advisory, " if verdict.outcome is Outcome.ADVISORY else "new, " if new else ""
    told = seen(f"{kind}{verdict.message}") + seen(f"  {place.short} {verdict.rule}", style="dim")
    indented(console, 2, told)
