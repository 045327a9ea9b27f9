"""A survey of head temperatures: a bar for each cylinder in each phase, against the limit.

Line art in black, grey and hatching, so that it prints; colour carries nothing.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import partial
from math import ceil, floor

from ...dataclass import dataclass
from ...drawing.ink import HATCH, Ink, Page, Path, Text, line, rectangle
from ...drawing.kinds import Paper
from ...drawing.text_width import text_width
from ...survey import Head, Phase, Survey
from ..wording import CAUTION
from .flow import LARGE, MARGIN, SMALL, TEXT, Flow

WIDTH = 1040.0
AXIS, LIMIT_ROOM = 56.0, 96.0
BAR, STEP, PANEL_GAP = 30.0, 44.0, 26.0
PLOT, TITLE_ROOM, FOOT_ROOM = 240.0, 52.0, 62.0
HOTTEST = "#444444"
_GRID = "#999999"


@dataclass(frozen=True, slots=True)
class _Scale:
    """Temperatures in the unit of the log to heights above the foot of the bars."""

    low: float
    high: float
    step: float

    def height(self, value: float) -> float:
        return PLOT * (min(max(value, self.low), self.high) - self.low) / (self.high - self.low)


def survey_pages(survey: Survey, paper: Paper | None = Paper.A4) -> list[Page]:
    """The drawing of `survey` on pages of paper; without paper on one page as long as it takes."""
    # A radial's bars may need more than the usual width.
    widest = max((_panel_width(phase) for phase in survey.phases), default=0.0)
    flow = Flow(
        f"Head temperatures by phase, {survey.file}",
        max(WIDTH, widest + PANEL_GAP + AXIS + LIMIT_ROOM + 2 * MARGIN),
        paper,
    )
    flow.paragraph(flow.title, LARGE, bold=True)
    flow.paragraph(f"{_capital(survey.finding)}.", TEXT)
    flow.gap(10)
    scale = _scale(survey)
    if scale is not None:
        for row in _rows(survey, flow.width - 2 * MARGIN - AXIS - LIMIT_ROOM):
            flow.block(TITLE_ROOM + PLOT + FOOT_ROOM, partial(_row, survey, row, scale))
        flow.block(30, partial(_legend, survey, scale))
    notes = [*(phase.finding for phase in survey.phases), *survey.notes]
    notes += [f"'{one.column}' is left out: {one.reason}" for one in survey.left_out]
    for note in [*notes, CAUTION]:
        flow.paragraph(_capital(note), SMALL, indent=12.0)
    return flow.pages()


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def _rows(survey: Survey, room: float) -> list[list[Phase]]:
    """Phases laid side by side as long as they fit the page."""
    rows: list[list[Phase]] = [[]]
    used = 0.0
    for phase in survey.phases:
        wide = _panel_width(phase) + PANEL_GAP
        if rows[-1] and used + wide > room:
            rows.append([])
            used = 0.0
        rows[-1].append(phase)
        used += wide
    return [row for row in rows if row]


def _panel_width(phase: Phase) -> float:
    # The title needs its room where there are few bars.
    return max(STEP * len(phase.heads), *(text_width(words, SMALL, bold=True) for words in _title(phase)))


def _title(phase: Phase) -> tuple[str, ...]:
    passes = f"{phase.passes} pass{'es' if phase.passes > 1 else ''}"
    lines = (phase.name, f"{passes}, {phase.seconds / 60:.0f} min")
    return (*lines, "peaks left from before") if phase.carried_in else lines


def _degrees(survey: Survey, temperature: float) -> float:
    return temperature * 1.8 + 32 if survey.unit == "degF" else temperature


def _scale(survey: Survey) -> _Scale | None:
    """The scale of all bars; none where there is no temperature to draw."""
    values = [
        value for phase in survey.phases for head in phase.heads for value in (head.peak, head.corrected)
    ]
    values += [mean for phase in survey.phases for one in phase.steady for mean in one.means.values()]
    shown = [_degrees(survey, value) for value in values if value is not None and value == value]
    if not shown:
        return None
    if survey.limit is not None:
        shown.append(_degrees(survey, survey.limit))
    low, high = min(shown), max(shown)
    step = next(step for step in (5, 10, 20, 25, 50, 100, 200) if high - low <= 8 * step or step == 200)
    # The lowest bar still stands above its foot, and a number fits above the highest.
    floor_at = step * floor((low - 0.6 * step) / step)
    return _Scale(floor_at, step * ceil((high + 0.5 * step) / step), step)


def _row(survey: Survey, phases: Sequence[Phase], scale: _Scale, top: float) -> Iterator[Ink]:
    numbers: list[Ink] = []
    foot = top + TITLE_ROOM + PLOT
    left = MARGIN + AXIS
    right = left + sum(_panel_width(phase) + PANEL_GAP for phase in phases)
    ticks = round((scale.high - scale.low) / scale.step)
    for i in range(ticks + 1):
        value = scale.low + i * scale.step
        y = foot - scale.height(value)
        yield line(left, y, right - PANEL_GAP, y, 0.5, color=_GRID)
        yield Text(left - 6, y + 3.5, f"{value:g}", SMALL, anchor="end")
    yield Text(MARGIN, top + 38, survey.unit, SMALL)
    x = left
    for phase in phases:
        wide = _panel_width(phase)
        for i, words in enumerate(_title(phase)):
            yield Text(x + wide / 2, top + 12 + 13 * i, words, SMALL, i == 0, "middle")
        first = x + (wide - STEP * len(phase.heads)) / 2
        for i, head in enumerate(phase.heads):
            bar, number = _bar(survey, phase, head, scale, first + STEP * (i + 0.5), foot)
            yield from bar
            numbers.extend(number)
        yield line(x, foot, x + wide, foot, 1.2)
        x += wide + PANEL_GAP
    for i, label in enumerate(("cylinder", "hottest in", "rows")):
        yield Text(left - 6, foot + 15 + 13 * i, label, SMALL, anchor="end")
    if survey.limit is not None:
        y = foot - scale.height(_degrees(survey, survey.limit))
        yield line(left, y, right - PANEL_GAP + 8, y, 4, color="white")
        yield line(left, y, right - PANEL_GAP + 8, y, 1.6, dash="9 4")
        yield Text(right - PANEL_GAP + 12, y + 3.5, f"limit {survey.show(survey.limit)}", SMALL, bold=True)
    # Numbers come last, so that no line runs through one.
    yield from numbers


def _bar(
    survey: Survey, phase: Phase, head: Head, scale: _Scale, x: float, foot: float
) -> tuple[list[Ink], list[Ink]]:
    # The fill tells who is hottest in the phase itself; a peak may be heat of the phase before, and is only
    # bold.
    hottest, near = head.cylinder in phase.own.hottest, head.cylinder in phase.own.candidates
    top_peak = head.cylinder in phase.by_peak.hottest
    fill = HOTTEST if hottest else HATCH if near else "white"
    read = scale.height(_degrees(survey, head.peak))
    parts: list[Ink] = [_box(x - BAR / 2, foot - read, BAR, read, fill)]
    value, top = head.peak, read
    if head.corrected is not None and head.corrected > head.peak:
        value, top = head.corrected, scale.height(_degrees(survey, head.corrected))
        parts.append(_box(x - BAR / 2, foot - top, BAR, top - read, "white", dashed=True))
    settled = [one for one in phase.steady if head.cylinder in one.means]
    if settled:
        rows = sum(one.rows for one in settled)
        mean = sum(one.means[head.cylinder] * one.rows for one in settled) / rows
        mark = scale.height(_degrees(survey, mean))
        parts += _settled_mark(x, foot - mark)
        top = max(top, mark + 2)
    parts.append(Text(x, foot + 15, str(head.cylinder), SMALL, hottest, "middle"))
    share = f"{100 * head.rows_hottest / phase.rows_compared:.0f} %" if phase.rows_compared else "-"
    parts.append(Text(x, foot + 34, share, SMALL, anchor="middle"))
    number = f"{_degrees(survey, value):.0f}"
    wide = text_width(number, SMALL, bold=top_peak) + 4
    y = foot - top - 4
    ground = rectangle(x - wide / 2, y - 8, wide, 9.5, stroke=0)
    return parts, [ground, Text(x, y, number, SMALL, top_peak, "middle")]


def _box(x: float, y: float, width: float, height: float, fill: str, *, dashed: bool = False) -> Path:
    return rectangle(x, y, width, max(height, 0), stroke=1.0, fill=fill, dash="3 2" if dashed else "")


def _settled_mark(x: float, y: float) -> Iterator[Path]:
    for stroke, color in ((5.0, "white"), (2.0, "black")):
        yield line(x - BAR / 2 - 5, y, x + BAR / 2 + 5, y, stroke, color=color)


def _legend(survey: Survey, scale: _Scale, top: float) -> Iterator[Ink]:
    corrected = any(head.corrected is not None for phase in survey.phases for head in phase.heads)
    settled = any(phase.steady for phase in survey.phases)
    entries: list[tuple[Path, str]] = [
        (_box(0, -9, 16, 11, HOTTEST), "hottest in the phase"),
        (_box(0, -9, 16, 11, HATCH), "cannot be excluded with these probes"),
        (_box(0, -9, 16, 11, "white"), "cooler"),
    ]
    if corrected:
        entries.append((_box(0, -9, 16, 11, "white", dashed=True), "added to reach the hot day"))
    if settled:
        entries.append((line(0, -3.5, 16, -3.5, 2), "mean once settled, as read"))
    x = MARGIN
    for sample, label in entries:
        yield replace(sample, points=tuple((x + px, top + py) for px, py in sample.points))
        yield Text(x + 22, top, label, SMALL)
        x += 22 + text_width(label, SMALL) + 16
    yield Text(x, top, f"Bars start at {scale.low:g} {survey.unit}.", SMALL)
