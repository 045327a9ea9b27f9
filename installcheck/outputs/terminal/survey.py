"""A survey of head temperatures in the terminal: the answer, a table of the phases, and what bounds its worth."""

from __future__ import annotations

from collections.abc import Iterator

from rich.console import Console
from rich.padding import Padding
from rich.table import Table

from ...drawing.text_width import printable
from ...model.quantities import in_unit
from ...survey import Head, Phase, Survey
from ...survey.words import listed
from ..wording import CAUTION
from .words import seen

_TOP, _NEAR = "▲", "~"
"""Marks of the hottest, and of those that probe tolerance cannot tell from it."""


def print_survey(survey: Survey, console: Console) -> None:
    """The finding, temperatures by phase and cylinder, a sentence for each phase, order changes, notes, the caution."""
    console.print(seen(f"Head temperatures by phase, {printable(survey.file)}", style="bold"))
    console.print(Padding(seen(f"{_capital(survey.finding)}."), (1, 0, 1, 0)))
    console.print(_table(survey))
    day = "highest, carried to the hot day" if survey.corrected else "highest as read"
    key = (
        f"{survey.unit}, {day}; {_TOP} hottest, {_NEAR} cannot be excluded with these probes ({survey.grade})"
    )
    console.print(Padding(seen(key, style="dim"), (0, 0, 1, 0)))
    for title, lines in _sections(survey):
        if lines:
            console.print(seen(title, style="bold"))
            for line in lines:
                console.print(Padding(seen(f"- {_capital(printable(line))}"), (0, 0, 0, 2)))
    console.print()
    console.print(seen(CAUTION, style="dim"))


def _sections(survey: Survey) -> Iterator[tuple[str, list[str]]]:
    yield "Phases", [phase.finding for phase in survey.phases]
    yield (
        "The order changes",
        [
            f"{c.phase}: cylinder {listed(c.hottest)}; {c.other_phase}: cylinder {listed(c.other_hottest)}"
            + ("" if c.sure else ", which probe tolerance could explain")
            for c in survey.changes
        ],
    )
    if survey.probed is not None:
        yield (
            f"The probed cylinder {survey.probed} reads below the hottest",
            [f"{phase}: {survey.show_difference(short)}" for phase, short in survey.shortfall.items()],
        )
    yield "Left out", [f"'{one.column}': {one.reason}" for one in survey.left_out]
    yield "Notes", [*survey.notes, *(str(note) for note in survey.log_notes)]


def _table(survey: Survey) -> Table:
    table = Table(box=None, pad_edge=False, padding=(0, 2, 0, 0))
    table.add_column("phase")
    for cylinder in survey.cylinders:
        table.add_column(f"cyl {cylinder}", justify="right")
    table.add_column("lead", justify="right")
    if survey.limit is not None:
        table.add_column(f"to {survey.show(survey.limit)}", justify="right")
    table.add_column("minutes", justify="right")
    for phase in survey.phases:
        table.add_row(*map(seen, _row(survey, phase)))
    return table


def _row(survey: Survey, phase: Phase) -> Iterator[str]:
    heads = {head.cylinder: head for head in phase.heads}
    yield f"{phase.name} (governs)" if phase.name == survey.governing else phase.name
    for cylinder in survey.cylinders:
        yield _cell(survey, phase, heads.get(cylinder))
    yield survey.show_difference(phase.by_peak.lead) if phase.by_peak.lead else "tie"
    if survey.limit is not None:
        yield "" if phase.margin is None else survey.show_difference(phase.margin)
    yield f"{phase.seconds / 60:.1f}"


def _cell(survey: Survey, phase: Phase, head: Head | None) -> str:
    if head is None:
        return "-"
    value = head.peak if head.corrected is None else head.corrected
    ranking = phase.by_peak
    mark = _TOP if head.cylinder in ranking.hottest else _NEAR if head.cylinder in ranking.candidates else " "
    return f"{in_unit(value, survey.unit, 'temperature'):.0f} {mark}"


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
