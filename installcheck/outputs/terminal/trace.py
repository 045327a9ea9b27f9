"""A trace in the terminal: what was seen, what could be wrong, what is excluded and why, the next best test."""

from __future__ import annotations

from rich.console import Console
from rich.table import Table

from ...document import Document
from ...tracing.next_test import Choice
from ...tracing.predict import Predictor
from ...tracing.ranking import Ranked
from ...tracing.trace import Trace
from ...tracing.wording import (
    merged,
    names_told,
    nothing_left_told,
    outcome_told,
    range_told,
    told,
    verdict_told,
    why_excluded,
)
from ..wording import CAUTION
from .words import seen

_SHOWN, _EXCLUDED, _OTHERS = 8, 4, 3


def print_trace(
    document: Document, trace: Trace, predictor: Predictor, console: Console, *, every: bool = False
) -> None:
    """One step of a trace; ``every`` lists all hypotheses, and why each excluded one is."""
    header = document.installation.installation
    console.print(seen(f"{header.name}: tracing a fault", style="bold") + seen(f"  ({document.name})"))
    for one in trace.seen:
        console.print(seen(f"  seen: {one.said}"))
    console.print()
    for danger in trace.dangers:
        console.print(seen(f"SAFETY  {danger.text}", style="bold red"))
        console.print()
    for line in verdict_told(trace):
        console.print(seen(line, style="bold"))
    _hypotheses(trace.shown, console, every=every)
    _excluded(trace, predictor, console, every=every)
    if trace.tests:
        print_test(trace, trace.tests[0], console, "NEXT TEST")
        _others(trace, console)
    elif trace.seen:
        console.print()
        console.print(seen(nothing_left_told(trace)))
    console.print()
    console.print(seen(f"Weights: {trace.weights.source} (--weights changes them).", style="dim"))
    console.print(seen(CAUTION, style="dim"))


def _hypotheses(standing: tuple[Ranked, ...], console: Console, *, every: bool) -> None:
    shown = standing if every else standing[:_SHOWN]
    if not shown:
        return
    table = Table(box=None, pad_edge=False, show_header=True, header_style="bold")
    table.add_column("  share", justify="right")
    table.add_column("what could be wrong", overflow="fold")
    for one in shown:
        table.add_row(seen(f"{one.share:.0%}" if one.share >= 0.005 else "<1%"), seen(told(one)))
    console.print(table)
    rest = standing[len(shown) :]
    if rest:
        console.print(
            seen(f"  and {len(rest)} others, together {sum(r.share for r in rest):.0%} (--every lists them)")
        )


def _excluded(trace: Trace, predictor: Predictor, console: Console, *, every: bool) -> None:
    excluded = trace.ranking.excluded
    if not excluded:
        return
    console.print()
    console.print(seen(f"EXCLUDED BY WHAT WAS SEEN: {len(excluded)}", style="bold"))
    for one in excluded if every else excluded[:_EXCLUDED]:
        console.print(seen(f"  {one.hypothesis.text}: {why_excluded(predictor, trace, one)}"))
    if not every and len(excluded) > _EXCLUDED:
        console.print(seen(f"  and {len(excluded) - _EXCLUDED} more (--every lists them)"))


def print_test(trace: Trace, choice: Choice, console: Console, title: str) -> None:
    """One test: what must be safe, what to do, what to expect under each hypothesis."""
    console.print()
    console.print(seen(f"{title}  (about {choice.minutes:.0f} minutes)", style="bold"))
    for hazard in choice.test.hazards:
        console.print(seen(f"  first  {hazard}"))
    console.print(seen(f"  do     {choice.test.words}"))
    meter = range_told(choice)
    if meter:
        console.print(seen(f"  meter  {meter} range"))
    table = Table(box=None, pad_edge=False, show_header=True, header_style="bold")
    for title_, justify in (("  result", "right"), ("chance", "right"), ("then it is", "left")):
        table.add_column(title_, justify=justify, overflow="fold")  # type: ignore[arg-type]
    for outcome in merged(choice):
        result = outcome_told(trace.study, choice.test.look, outcome)
        table.add_row(seen(f"  {result}"), seen(f"{outcome.share:.0%}"), seen(names_told(outcome)))
    console.print(table)


def _others(trace: Trace, console: Console) -> None:
    others = trace.tests[1 : 1 + _OTHERS]
    if others:
        console.print()
        console.print(seen("Else, in this order:"))
        for number, one in enumerate(others, start=2):
            console.print(seen(f"  {number}. {one.test.words} (about {one.minutes:.0f} minutes)"))


def print_seen(trace: Trace, console: Console) -> None:
    """What the last answer was read as."""
    if trace.seen:
        last = trace.seen[-1]
        console.print(seen(f"taken down: {last.said}"))
