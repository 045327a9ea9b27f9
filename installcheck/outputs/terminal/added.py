"""What an added indication takes and what is to be filled in, in the terminal."""

from __future__ import annotations

from collections.abc import Mapping

from rich.console import Console

from ...model.edits import Edit
from ...rules.verdicts import Ledger, Outcome, Verdict
from ..wording import count_of
from .diff import print_diff
from .words import indented, seen


def print_added(
    before: Ledger, after: Ledger, edit: Edit, texts: Mapping[str, bytes], out: str | None, console: Console
) -> None:
    """What comes, section by section, the change as a unified diff, and what the checker says of it."""
    document = before.document
    console.print(seen(f"{edit.words} to {document.name}", style="bold"))
    held: dict[str, list[str]] = {}
    for section, ident in edit.touches:
        held.setdefault(section, []).append(ident)
    for section, idents in held.items():
        indented(console, 2, seen(f"{section.replace('_', ' ')}: {', '.join(idents)}"))
    print_diff(document, texts, out, console)
    console.print()
    known = {_of(v) for v in before.verdicts if v.outcome in _GRAVE}
    come = [v for v in after.verdicts if v.outcome in _GRAVE and _of(v) not in known]
    for verdict in come:
        place = after.document.place(verdict.path)
        indented(
            console,
            2,
            seen(f"new {verdict.outcome.value}: {verdict.message}")
            + seen(f"  {place.short} {verdict.rule}", style="dim"),
        )
    asked = after.count(Outcome.UNDETERMINED) - before.count(Outcome.UNDETERMINED)
    told = count_of(max(asked, 0), "verdict waits", "verdicts wait")
    console.print(
        seen(f"Fill in what is 'unknown': {told} for it; 'installcheck check' says for what first.")
    )


_GRAVE = (Outcome.DISCREPANCY, Outcome.ADVISORY)


def _of(verdict: Verdict) -> tuple[str, tuple[str, ...]]:
    return verdict.rule, verdict.at[:1]
