"""What an alteration changes, in the terminal: what happened to things, what it leaves, verdicts, figures, tests."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby

from rich.console import Console
from rich.padding import Padding
from rich.table import Table

from ...comparison import Change, Comparison, Kind, LargestError, Left, VerdictChange
from ...document import Document
from ...model.quantities import plain_number, show
from ...rules.verdicts import Outcome, Verdict
from ..wording import CAUTION, OUTCOME_WORDS, load_lines, numbers, weight_lines
from .words import seen

_TRENDS = {"new": "new", "worse": "worse", "better": "better", "gone": "gone"}


def print_comparison(found: Comparison, console: Console, *, every: bool = False) -> None:
    """The comparison; ``every`` adds what was only reworded and the verdicts that meet."""
    console.print(
        seen(_name(found.new), style="bold") + seen("  against  ") + seen(_name(found.old), style="bold")
    )
    _things(found.changes, console, every=every)
    _left(found.left, console)
    _verdicts([v for v in found.verdicts if every or v.matters], console)
    _indications(found, console)
    _figures(found, console)
    _tests(found, console)
    console.print()
    console.print(seen(_counts(found), style="bold"), soft_wrap=True)
    console.print(seen(CAUTION, style="dim"))


def _name(document: Document) -> str:
    header = document.installation.installation
    revision = f", revision {header.revision}" if header.revision else ""
    return f"{header.name}{revision} ({document.name})"


def _head(console: Console, title: str, count: int) -> None:
    console.print()
    console.print(seen(f"{title} ({count})", style="bold cyan"))


def _line(console: Console, mark: str, text: str, indent: int = 2) -> None:
    console.print(Padding(seen(f"{mark} {text}" if mark else text), (0, 0, 0, indent), expand=False))


def _things(changes: Sequence[Change], console: Console, *, every: bool) -> None:
    shown = [change for change in changes if every or change.kind is not Kind.REWORDED]
    for kind, group in groupby(shown, lambda change: change.kind):
        listed = list(group)
        _head(console, kind.value.upper(), len(listed))
        mark = {Kind.REMOVED: "-", Kind.ADDED: "+"}.get(kind, "~")
        for change in listed:
            told = change.message.removeprefix(f"{change.noun} {change.ident}".strip()).strip()
            told = told.removeprefix(kind.value).removeprefix(":").strip()
            _line(console, mark, f"{f'{change.noun} {change.ident}'.strip()}: {told}")
    reworded = len(changes) - len(shown)
    if reworded:
        console.print()
        _line(console, "", f"{reworded} more only say the same in other words", 0)


def _left(left: Sequence[Left], console: Console) -> None:
    if left:
        _head(console, "LEFT BEHIND", len(left))
        for one in left:
            _line(console, "!", f"{one.kind}: {one.message}")
            if one.remedy:
                _line(console, "", f"remedy: {one.remedy}", 6)


def _verdicts(changes: Sequence[VerdictChange], console: Console) -> None:
    for trend in _TRENDS:
        listed = [change for change in changes if change.trend == trend]
        if not listed:
            continue
        _head(console, f"VERDICTS {trend.upper()}", len(listed))
        whole = [c for c in listed if trend in ("worse", "better") or c.either.outcome is Outcome.DISCREPANCY]
        for change in whole:
            verdict = change.either
            _line(console, "*", f"{_outcomes(change)}: {verdict.message}")
            for label, text in _details(change):
                _line(console, "", f"{label}: {text}", 6)
        rest = sorted((c for c in listed if c not in whole), key=lambda c: (c.either.outcome, c.either.rule))
        for (outcome, rule), group in groupby(rest, lambda c: (c.either.outcome, c.either.rule)):
            at = dict.fromkeys(", ".join(c.either.at) for c in group)
            _line(console, "*", f"{OUTCOME_WORDS[outcome].lower()}, {rule}: {'; '.join(at)}")


def _outcomes(change: VerdictChange) -> str:
    words = [OUTCOME_WORDS[v.outcome].lower() for v in (change.old, change.new) if v is not None]
    return " to ".join(dict.fromkeys(words))


def _details(change: VerdictChange) -> Iterator[tuple[str, str]]:
    if change.old is not None and change.new is not None:
        values = [_value(v) for v in (change.old, change.new)]
        if any(values):
            yield "value", f"was {values[0] or 'not known'}, now {values[1] or 'not known'}"
    elif numbers(change.either):
        yield "value", numbers(change.either)
    if change.new is not None and change.new.remedy:
        yield "remedy", change.new.remedy
    yield "rule", f"{change.either.rule}, {change.either.source}"


def _value(verdict: Verdict) -> str:
    """``20 in (margin -5 in)``."""
    if verdict.value is None:
        return ""
    unit = f" {verdict.unit}" if verdict.unit else ""
    margin = "" if verdict.margin is None else f" (margin {plain_number(verdict.margin)}{unit})"
    return f"{plain_number(verdict.value)}{unit}{margin}"


def _indications(found: Comparison, console: Console) -> None:
    shown = [
        one
        for one in found.indications
        if one.fate != "kept" or error_told(one.old_error) != error_told(one.new_error)
    ]
    if not shown:
        return
    _head(console, "INDICATIONS", len(shown))
    table = Table(box=None, pad_edge=False, padding=(0, 2, 0, 0))
    for title in ("indication", "what became of it", "reads", "largest error was", "now"):
        table.add_column(title, overflow="fold")
    for one in shown:
        reads = ", ".join(one.new_source or one.old_source) or "nothing"
        if one.old_source and one.new_source and one.old_source != one.new_source:
            reads = f"{', '.join(one.new_source)}; was {', '.join(one.old_source)}"
        table.add_row(
            *(
                seen(cell)
                for cell in (one.name, one.fate, reads, error_told(one.old_error), error_told(one.new_error))
            )
        )
    console.print(Padding(table, (0, 0, 0, 2), expand=False))


def error_told(error: LargestError | None) -> str:
    """``18.2 degF (climb)``; empty where the rules make no budget."""
    if error is None:
        return ""
    least = "" if error.whole else "at least "
    if error.size is None:
        return f"off the scale, {error.beyond} ({error.point})"
    kind = "temperature difference" if error.kind == "temperature" else error.kind
    return f"{least}{show(error.size, error.unit, kind)} ({error.point})"


def _figures(found: Comparison, console: Console) -> None:
    lines = [*load_lines(found.load), *weight_lines(found.weight)]
    if lines:
        _head(console, "LOAD AND WEIGHT", len(lines))
        for line in lines:
            _line(console, "", line)


def _tests(found: Comparison, console: Console) -> None:
    if found.retests:
        _head(console, "TEST, INSPECT OR RECORD AGAIN", len(found.retests))
        for i, one in enumerate(found.retests, 1):
            _line(console, f"{i}.", one.what)
            _line(console, "", f"at: {', '.join(one.at)}", 6)
            _line(console, "", f"because: {one.why}", 6)


def _counts(found: Comparison) -> str:
    alarming = sum(1 for v in found.verdicts if v.alarming)
    return (
        f"{_plural(len(found.changes), 'change')}, {len(found.left)} left behind, "
        f"{_plural(alarming, 'discrepancy', 'discrepancies')} new or worse, "
        f"{_plural(len(found.retests), 'thing')} to test, inspect or record again"
    )


def _plural(count: int, word: str, words: str = "") -> str:
    return f"{count} {word if count == 1 else words or word + 's'}"
