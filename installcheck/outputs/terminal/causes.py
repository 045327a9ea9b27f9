"""What is to be put right, in the terminal: each cause with what it makes wrong and a cure that was tried."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from rich.console import Console
from rich.text import Text

from ...causes.found import Cause, Causes
from ...model.quantities import plain_number
from ...rules.verdicts import Outcome, Verdict
from ..wording import clause, count_of
from .words import indented, seen

_ROOM = 96
"""Characters of a sentence that a line shows."""


def print_causes(causes: Causes, console: Console) -> None:
    """The causes, worst first."""
    if not causes.causes:
        return
    cured = [c for c in causes.causes if c.edits]
    console.print()
    console.print(seen(count_of(len(causes.causes), "THING", "THINGS") + " TO PUT RIGHT", style="bold red"))
    for number, cause in enumerate(causes.causes, 1):
        _cause(causes, number, cause, console)
    if cured:
        left = sum(1 for v in causes.after if v.outcome is Outcome.DISCREPANCY)
        told = "none is left" if not left else f"{left} are left"
        indented(
            console,
            2,
            seen(
                f"All {len(cured)} cures made together on a copy: of the discrepancies {told}.", style="dim"
            ),
        )
    if not causes.whole:
        indented(console, 2, seen("More could have been tried: the search ended at its bound.", style="dim"))


def _cause(causes: Causes, number: int, cause: Cause, console: Console) -> None:
    document = causes.ledger.document
    verdicts = cause.verdicts
    path = cause.edits[0].changes[0].path if cause.edits else verdicts[0].path
    place = document.place(path)
    wrong = (
        cause.edits[0].wrong if cause.edits and cause.edits[0].wrong else clause(verdicts[0].message, _ROOM)
    )
    head = (
        seen(f"{number:2} ", style="bold red")
        + seen(wrong, style="bold")
        + seen(f"  {place.file}:{place.line}", style="dim")
    )
    indented(console, 1, head)
    indented(console, 5, Text.assemble(*_joined(_consequences(cause))))
    if cause.edits:
        indented(console, 5, seen("cure: ", style="green") + seen(_cure(causes, cause)))
    else:
        told = f"; the rule says, not tried: {verdicts[0].remedy}" if verdicts[0].remedy else ""
        indented(
            console, 5, seen("cure: ", style="green") + seen(f"no change that was tried puts it right{told}")
        )


def _joined(parts: Iterable[str]) -> list[Text]:
    return [seen("; ".join(parts))]


def _consequences(cause: Cause) -> Iterator[str]:
    """The first of all it makes wrong in a sentence, the others by rule with their numbers."""
    first, *others = cause.verdicts
    yield clause(first.message, _ROOM) if cause.edits else first.message
    shared = {id(v): by for v, by in cause.shares}
    by_rule: dict[str, list[Verdict]] = {}
    for verdict in others:
        by_rule.setdefault(verdict.rule, []).append(verdict)
    for rule, group in by_rule.items():
        told = [_short(v, shared.get(id(v), ())) for v in group]
        yield f"{rule} {', '.join(told)}"


def _short(verdict: Verdict, shared: tuple[int, ...]) -> str:
    """``P9A 15 A (at most 7.5 A)``."""
    told = verdict.at[0] if verdict.at else ""
    if verdict.value is not None and verdict.limit is not None:
        unit = f" {verdict.unit}" if verdict.unit else ""
        told += f" {plain_number(verdict.value)}{unit} ({plain_number(verdict.limit)})"
    return f"{told} with {' and '.join(map(str, shared))}" if shared else told


def _cure(causes: Causes, cause: Cause) -> str:
    told = cause.words
    then = _then(causes.after, cause.verdicts[0])
    if then:
        told += f"; then {then}"
    if cause.after:
        told += f"; once {' and '.join(map(str, cause.after))} is done"
    return told


def _then(after: Iterable[Verdict], verdict: Verdict) -> str:
    """What the figure of a verdict is with every cure made."""
    for now in after:
        if now.rule == verdict.rule and now.at[:1] == verdict.at[:1] and now.value is not None:
            if now.limit is None or now.outcome is not Outcome.MEETS or now.value < 0:
                return ""
            return f"{plain_number(now.value)} {now.unit} (limit {plain_number(now.limit)})"
    return ""
