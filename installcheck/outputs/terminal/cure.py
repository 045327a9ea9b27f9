"""Cures written into a text, in the terminal: what is done, the change as a unified diff, and what is left."""

from __future__ import annotations

from collections.abc import Iterator
from difflib import unified_diff

from rich.console import Console

from ...causes.cure import Cured
from ...rules.verdicts import Outcome, Verdict
from ..wording import CAUTION, count_of
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
    for line in diff_of(cured, out):
        style = {"+": "green", "-": "red", "@": "cyan"}.get(line[:1], "")
        console.print(seen(line, style=style), soft_wrap=True)
    _left(cured, console)
    indented(console, 0, seen(CAUTION, style="dim"))


def _done(cured: Cured, number: int, console: Console) -> None:
    cause, document = cured.cause(number), cured.causes.ledger.document
    place = document.place(cause.edits[0].changes[0].path)
    indented(
        console,
        1,
        seen(f"{number:2} ", style="bold")
        + seen(cause.words)
        + seen(f"  {place.file}:{place.line}", style="dim"),
    )
    if number in cured.revision.left_out:
        indented(console, 5, seen(f"not written: {cured.revision.left_out[number]}", style="yellow"))


def diff_of(cured: Cured, out: str | None = None) -> Iterator[str]:
    """The change as lines of a unified diff."""
    document = cured.causes.ledger.document
    for source in document.sources:
        if source.name not in cured.revision.texts:
            continue
        old, new = source.raw.decode(), cured.revision.texts[source.name].decode()
        named = out if out is not None and source.name == document.name else source.name
        yield ""
        for line in unified_diff(_lines(old), _lines(new), source.name, named, lineterm="", n=1):
            yield from line.split("\0")


def _lines(text: str) -> list[str]:
    lines = text.removeprefix("\ufeff").replace("\r\n", "\n").split("\n")
    last = lines.pop()
    return [*lines, f"{last}\0\\ No newline at end of file"] if last else lines


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
    told = seen(f"{kind}{verdict.message}") + seen(f"  {place.file}:{place.line} {verdict.rule}", style="dim")
    indented(console, 2, told)
