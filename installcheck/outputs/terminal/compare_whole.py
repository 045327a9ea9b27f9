"""Every change of things and of verdicts in full, as ``compare --every`` prints them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby

from rich.console import Console
from rich.padding import Padding

from ...comparison import Change, Kind, VerdictChange
from ...model.quantities import plain_number
from ...rules.verdicts import Outcome, Verdict
from ..wording import OUTCOME_WORDS, UNTRIED, numbers
from .words import seen

_TRENDS = ("new", "worse", "better", "gone")


def _head(console: Console, title: str, count: int) -> None:
    console.print()
    console.print(seen(f"{title} ({count})", style="bold cyan"))


def _line(console: Console, mark: str, text: str, indent: int = 2) -> None:
    console.print(Padding(seen(f"{mark} {text}" if mark else text), (0, 0, 0, indent), expand=False))


def print_changes(changes: Sequence[Change], console: Console) -> None:
    """Each change of each thing, with what it was and is."""
    for kind, group in groupby(changes, lambda change: change.kind):
        listed = list(group)
        _head(console, kind.value.upper(), len(listed))
        mark = {Kind.REMOVED: "-", Kind.ADDED: "+"}.get(kind, "~")
        for change in listed:
            told = change.message.removeprefix(f"{change.noun} {change.ident}".strip()).strip()
            told = told.removeprefix(kind.value).removeprefix(":").strip()
            _line(console, mark, f"{f'{change.noun} {change.ident}'.strip()}: {told}")


def print_verdicts(changes: Sequence[VerdictChange], console: Console) -> None:
    """Each verdict that is new, worse, better or gone, with its remedy and rule."""
    for trend in _TRENDS:
        listed = [change for change in changes if change.trend == trend]
        if not listed:
            continue
        _head(console, f"VERDICTS {trend.upper()}", len(listed))
        whole = [c for c in listed if trend in ("worse", "better") or c.either.outcome is Outcome.DISCREPANCY]
        for change in whole:
            _line(console, "*", f"{_outcomes(change)}: {change.either.message}")
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
        yield UNTRIED, change.new.remedy
    yield "rule", f"{change.either.rule}, {change.either.source}"


def _value(verdict: Verdict) -> str:
    """``20 in (margin -5 in)``."""
    if verdict.value is None:
        return ""
    unit = f" {verdict.unit}" if verdict.unit else ""
    margin = "" if verdict.margin is None else f" (margin {plain_number(verdict.margin)}{unit})"
    return f"{plain_number(verdict.value)}{unit}{margin}"
