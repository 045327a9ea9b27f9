"""A survey of head temperatures as an SVG drawing: a bar for each cylinder in each phase, against the limit.

Line art in black, grey and hatching, so that it prints; colour carries nothing.
"""

from dataclasses import dataclass
from math import ceil, floor
from xml.sax.saxutils import escape

from ...drawing.text_width import printable, text_width, wrap
from ...survey import Head, Phase, Survey
from ..wording import CAUTION

FONT = "Arimo, Liberation Sans, Helvetica, Arial, sans-serif"
SMALL, TEXT, LARGE = 10.0, 11.0, 14.0
WIDTH = 1040.0
MARGIN, AXIS, LIMIT_ROOM = 20.0, 56.0, 96.0
BAR, STEP, PANEL_GAP = 30.0, 44.0, 26.0
PLOT, TITLE_ROOM, FOOT_ROOM = 240.0, 52.0, 62.0
ROOMY = 1.17
"""How much wider than measured a text may be, where the viewer has none of these fonts and takes its own."""


@dataclass(frozen=True, slots=True)
class _Scale:
    """Temperatures in the unit of the log to heights above the foot of the bars."""

    low: float
    high: float
    step: float

    def height(self, value: float) -> float:
        return PLOT * (min(max(value, self.low), self.high) - self.low) / (self.high - self.low)


def survey_svg(survey: Survey) -> str:
    """The drawing of `survey` as the text of an SVG file."""
    # A radial's bars may need more than a page.
    widest = max((_panel_width(phase) for phase in survey.phases), default=0.0)
    page = max(WIDTH, widest + PANEL_GAP + AXIS + LIMIT_ROOM + 2 * MARGIN)
    width = page - 2 * MARGIN
    heading = [
        *_paragraph(f"Head temperatures by phase, {printable(survey.file)}", LARGE, width, bold=True),
        *_paragraph(_capital(survey.finding) + ".", TEXT, width),
    ]
    rows = _rows(survey, width - AXIS - LIMIT_ROOM)
    scale = _scale(survey)
    body: list[str] = []
    y = MARGIN
    for line, size, bold in heading:
        y += size * 1.4
        body.append(_text(MARGIN, y, line, size, bold=bold))
    y += 10
    for row in rows:
        body.extend(_row(survey, row, scale, y))
        y += TITLE_ROOM + PLOT + FOOT_ROOM
    body.extend(_legend(survey, scale, y))
    y += 30
    notes = [*(phase.finding for phase in survey.phases), *survey.notes]
    notes += [f"'{one.column}' is left out: {one.reason}" for one in survey.left_out]
    for note in [*notes, CAUTION]:
        for i, (line, size, bold) in enumerate(_paragraph(printable(_capital(note)), SMALL, width - 12)):
            y += size * 1.4
            if i == 0:
                body.append(_text(MARGIN, y, "-", size))
            body.append(_text(MARGIN + 12, y, line, size, bold=bold))
    height = y + MARGIN
    return (
        '<?xml version="1.0" encoding="UTF-8"?>\n'
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{page:.0f}" height="{height:.0f}" '
        f'viewBox="0 0 {page:.0f} {height:.0f}" font-family="{FONT}" role="img">\n'
        f"<title>{escape(printable(f'Head temperatures by phase, {survey.file}'))}</title>\n"
        '<defs><pattern id="hatch" width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">'
        '<rect width="6" height="6" fill="#fff"/><path d="M0 0V6" stroke="#000" stroke-width="2.4"/></pattern></defs>\n'
        f'<rect width="{page:.0f}" height="{height:.0f}" fill="#fff"/>\n' + "\n".join(body) + "\n</svg>\n"
    )


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def _paragraph(text: str, size: float, width: float, *, bold: bool = False) -> list[tuple[str, float, bool]]:
    return [(line, size, bold) for line in wrap(text, size, width / ROOMY, bold=bold)]


def _text(x: float, y: float, text: str, size: float, *, anchor: str = "start", bold: bool = False) -> str:
    weight = ' font-weight="bold"' if bold else ""
    return (
        f'<text x="{x:.1f}" y="{y:.1f}" font-size="{size:g}" text-anchor="{anchor}"{weight} fill="#000">'
        f"{escape(text)}</text>"
    )


def _line(x1: float, y1: float, x2: float, y2: float, width: float, more: str = "") -> str:
    stroke = "" if "stroke=" in more else ' stroke="#000"'
    return f'<line x1="{x1:.1f}" y1="{y1:.1f}" x2="{x2:.1f}" y2="{y2:.1f}"{stroke} stroke-width="{width:g}"{more}/>'


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
    return max(
        STEP * len(phase.heads), *(ROOMY * text_width(line, SMALL, bold=True) for line in _title(phase))
    )


def _title(phase: Phase) -> tuple[str, ...]:
    passes = f"{phase.passes} pass{'es' if phase.passes > 1 else ''}"
    lines = (phase.name, f"{passes}, {phase.seconds / 60:.0f} min")
    return (*lines, "peaks left from before") if phase.carried_in else lines


def _degrees(survey: Survey, temperature: float) -> float:
    return temperature * 1.8 + 32 if survey.unit == "degF" else temperature


def _scale(survey: Survey) -> _Scale:
    values = [
        value for phase in survey.phases for head in phase.heads for value in (head.peak, head.corrected)
    ]
    values += [mean for phase in survey.phases for one in phase.steady for mean in one.means.values()]
    shown = [
        _degrees(survey, value) for value in (*values, survey.limit) if value is not None and value == value
    ]
    low, high = min(shown), max(shown)
    step = next(step for step in (5, 10, 20, 25, 50, 100, 200) if high - low <= 8 * step or step == 200)
    # The lowest bar still stands above its foot, and a number fits above the highest.
    floor_at = step * floor((low - 0.6 * step) / step)
    return _Scale(floor_at, step * ceil((high + 0.5 * step) / step), step)


def _row(survey: Survey, phases: list[Phase], scale: _Scale, top: float) -> list[str]:
    parts: list[str] = []
    numbers: list[str] = []
    foot = top + TITLE_ROOM + PLOT
    left = MARGIN + AXIS
    right = left + sum(_panel_width(phase) + PANEL_GAP for phase in phases)
    ticks = round((scale.high - scale.low) / scale.step)
    for i in range(ticks + 1):
        value = scale.low + i * scale.step
        y = foot - scale.height(value)
        parts.append(_line(left, y, right - PANEL_GAP, y, 0.5, ' stroke="#999"'))
        parts.append(_text(left - 6, y + 3.5, f"{value:g}", SMALL, anchor="end"))
    parts.append(_text(MARGIN, top + 38, survey.unit, SMALL))
    x = left
    for phase in phases:
        wide = _panel_width(phase)
        for i, line in enumerate(_title(phase)):
            parts.append(_text(x + wide / 2, top + 12 + 13 * i, line, SMALL, anchor="middle", bold=i == 0))
        first = x + (wide - STEP * len(phase.heads)) / 2
        for i, head in enumerate(phase.heads):
            bar, number = _bar(survey, phase, head, scale, first + STEP * (i + 0.5), foot)
            parts.extend(bar)
            numbers.extend(number)
        parts.append(_line(x, foot, x + wide, foot, 1.2))
        x += wide + PANEL_GAP
    for i, label in enumerate(("cylinder", "hottest in", "rows")):
        parts.append(_text(left - 6, foot + 15 + 13 * i, label, SMALL, anchor="end"))
    if survey.limit is not None:
        y = foot - scale.height(_degrees(survey, survey.limit))
        parts.append(_line(left, y, right - PANEL_GAP + 8, y, 4, ' stroke="#fff"'))
        parts.append(_line(left, y, right - PANEL_GAP + 8, y, 1.6, ' stroke-dasharray="9 4"'))
        parts.append(
            _text(right - PANEL_GAP + 12, y + 3.5, f"limit {survey.show(survey.limit)}", SMALL, bold=True)
        )
    # Numbers come last, so that no line runs through one.
    return parts + numbers


def _bar(
    survey: Survey, phase: Phase, head: Head, scale: _Scale, x: float, foot: float
) -> tuple[list[str], list[str]]:
    # The fill tells who is hottest in the phase itself; a peak may be heat of the phase before, and is only
    # bold.
    hottest, near = head.cylinder in phase.own.hottest, head.cylinder in phase.own.candidates
    top_peak = head.cylinder in phase.by_peak.hottest
    fill = "#444" if hottest else "url(#hatch)" if near else "#fff"
    read = scale.height(_degrees(survey, head.peak))
    parts = [_box(x - BAR / 2, foot - read, BAR, read, fill)]
    value, top = head.peak, read
    if head.corrected is not None and head.corrected > head.peak:
        value, top = head.corrected, scale.height(_degrees(survey, head.corrected))
        parts.append(_box(x - BAR / 2, foot - top, BAR, top - read, "#fff", dashed=True))
    settled = [one for one in phase.steady if head.cylinder in one.means]
    if settled:
        rows = sum(one.rows for one in settled)
        mean = sum(one.means[head.cylinder] * one.rows for one in settled) / rows
        mark = scale.height(_degrees(survey, mean))
        parts.append(_settled_mark(x, foot - mark))
        top = max(top, mark + 2)
    parts.append(_text(x, foot + 15, str(head.cylinder), SMALL, anchor="middle", bold=hottest))
    share = f"{100 * head.rows_hottest / phase.rows_compared:.0f} %" if phase.rows_compared else "-"
    parts.append(_text(x, foot + 34, share, SMALL, anchor="middle"))
    number = f"{_degrees(survey, value):.0f}"
    wide = ROOMY * text_width(number, SMALL, bold=top_peak)
    y = foot - top - 4
    ground = f'<rect x="{x - wide / 2:.1f}" y="{y - 8:.1f}" width="{wide:.1f}" height="9.5" fill="#fff"/>'
    return parts, [ground, _text(x, y, number, SMALL, anchor="middle", bold=top_peak)]


def _box(x: float, y: float, width: float, height: float, fill: str, *, dashed: bool = False) -> str:
    dash = ' stroke-dasharray="3 2"' if dashed else ""
    return (
        f'<rect x="{x:.1f}" y="{y:.1f}" width="{width:.1f}" height="{max(height, 0):.1f}" fill="{fill}" '
        f'stroke="#000" stroke-width="1"{dash}/>'
    )


def _settled_mark(x: float, y: float) -> str:
    ends = (x - BAR / 2 - 5, y, x + BAR / 2 + 5, y)
    return _line(*ends, 5, ' stroke="#fff"') + _line(*ends, 2)


def _legend(survey: Survey, scale: _Scale, y: float) -> list[str]:
    corrected = any(head.corrected is not None for phase in survey.phases for head in phase.heads)
    settled = any(phase.steady for phase in survey.phases)
    entries = [
        ("#444", "hottest in the phase"),
        ("url(#hatch)", "cannot be excluded with these probes"),
        ("#fff", "cooler"),
    ]
    parts: list[str] = []
    x = MARGIN
    for fill, label in entries:
        parts += [_box(x, y - 9, 16, 11, fill), _text(x + 22, y, label, SMALL)]
        x += 22 + ROOMY * text_width(label, SMALL) + 16
    if corrected:
        label = "added to reach the hot day"
        parts += [_box(x, y - 9, 16, 11, "#fff", dashed=True), _text(x + 22, y, label, SMALL)]
        x += 22 + ROOMY * text_width(label, SMALL) + 16
    if settled:
        label = "mean once settled, as read"
        parts += [_line(x, y - 3.5, x + 16, y - 3.5, 2), _text(x + 22, y, label, SMALL)]
        x += 22 + ROOMY * text_width(label, SMALL) + 16
    parts.append(_text(x, y, f"Bars start at {scale.low:g} {survey.unit}.", SMALL))
    return parts
