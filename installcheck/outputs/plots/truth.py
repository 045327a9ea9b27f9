"""True against indicated over the dial of each indication, with its limit.

Line art in black and grey that prints; colour carries nothing. Above, what is shown for each true value; below, the error.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import partial

from ...analysis.errors.truth_curves import AtLimit, TruthCurve
from ...analysis.true_value import difference_kind
from ...drawing.ink import Disc, Ink, Page, Text, line, rectangle
from ...drawing.kinds import Paper
from ...drawing.text_width import printable, shorten, text_width, wrap
from ...model.quantities import show
from ..wording import CAUTION
from .flow import LARGE, MARGIN, SMALL, TEXT, Flow
from .truth_panel import AXIS, BETWEEN, FOOT, LOWER, RIGHT, TOLERANCE, UNITY, panel

WIDTH, GAP = 1040.0, 20.0
COLUMNS = 3
PANEL = (WIDTH - 2 * MARGIN - (COLUMNS - 1) * GAP) / COLUMNS
SIDE = PANEL - AXIS - RIGHT
LINE = 13.0
LEGEND_LINE = 17.0
_DASHES = ("", "7 3", "2 2.5", "9 3 2 3", "4 2", "1 2", "12 3", "12 3 2 3 2 3")


def truth_pages(curves: Sequence[TruthCurve], title: str, paper: Paper | None = Paper.A4) -> list[Page]:
    """The drawing of ``curves`` on pages of paper, without paper on one as long as it takes; ``title`` names what they are of."""
    flow = Flow(f"True against indicated, {title}", WIDTH, paper)
    flow.paragraph(flow.title, LARGE, bold=True)
    flow.gap(12)
    names = list(dict.fromkeys(track.point for curve in curves for track in curve.tracks))
    dashes = {name: _DASHES[i % len(_DASHES)] for i, name in enumerate(names)}
    if curves:
        legend = _legend(dashes)
        flow.block(LEGEND_LINE * len(legend) + 4, partial(_draw_legend, legend))
    else:
        flow.paragraph("No indication with a dial can be worked out.", TEXT)
    for start in range(0, len(curves), COLUMNS):
        row = [(curve, _heading(curve), _notes(curve)) for curve in curves[start : start + COLUMNS]]
        head = LINE * max(len(heading) for _, heading, _ in row) + LINE + 4
        below = head + SIDE + BETWEEN + LOWER + FOOT
        foot = LINE * max(len(notes) for _, _, notes in row) + 26
        flow.block(below + foot, partial(_row, row, dashes, head, below))
    flow.paragraph(CAUTION, SMALL)
    return flow.pages()


def _row(
    row: Sequence[tuple[TruthCurve, list[str], list[str]]],
    dashes: dict[str, str],
    head: float,
    below: float,
    top: float,
) -> Iterator[Ink]:
    for i, (curve, heading, notes) in enumerate(row):
        x = MARGIN + i * (PANEL + GAP)
        for j, words in enumerate(heading):
            yield Text(x, top + LINE * (j + 1), words, TEXT if j == 0 else SMALL, j == 0)
        yield from panel(curve, dashes, x, top + head, SIDE)
        for j, words in enumerate(notes):
            yield Text(x, top + below + LINE * (j + 1), words, SMALL)


def _heading(curve: TruthCurve) -> list[str]:
    width = PANEL
    sources = wrap(printable(", ".join(curve.sources)), SMALL, width)
    if len(sources) > 2:
        sources = (sources[0], shorten(" ".join(sources[1:]), SMALL, width))
    return [shorten(printable(curve.name), TEXT, width, bold=True), *sources]


def _notes(curve: TruthCurve) -> list[str]:
    told = [_finding(curve, limit) for limit in curve.limits]
    if not curve.limits:
        told.append("No engine limit is given for it on this dial.")
    if curve.missing:
        told.append(f"Not the whole truth: the document lacks the {' and the '.join(curve.missing)}.")
    if curve.budget is not None:
        told.append(f"Budget {_apart(curve, curve.budget)}, dotted.")
    return [words for text in told for words in wrap(printable(text), SMALL, PANEL)]


def _apart(curve: TruthCurve, size: float) -> str:
    return show(abs(size), curve.unit, difference_kind(curve.kind))


def _finding(curve: TruthCurve, limit: AtLimit) -> str:
    start = f"At the {limit.side} of {limit.text}"
    if limit.shown is None:
        stop = (
            f"the pointer stands {limit.beyond} its dial" if limit.beyond else "what it shows cannot be told"
        )
        return f"{start} {stop} ({limit.point})."
    error = limit.shown - limit.value
    way = "low" if error < 0 else "high"
    return f"{start} it shows {show(limit.shown, curve.unit, curve.kind)}, {_apart(curve, error)} {way} ({limit.point})."


def _legend(dashes: dict[str, str]) -> list[list[tuple[str, str, float]]]:
    """What the strokes mean, in lines that fit the page: words, kind of stroke, width."""
    entries = [(f"at {printable(name)}", f"dash:{dash}") for name, dash in dashes.items()]
    entries += [
        ("shown = true", "thin"),
        ("with tolerances, root of the sum of squares", "band"),
        ("engine limit", "limit"),
        ("true value given for the point", "ring"),
    ]
    lines: list[list[tuple[str, str, float]]] = [[]]
    used = 0.0
    for label, mark in entries:
        words = shorten(label, SMALL, 300)
        wide = 34 + text_width(words, SMALL) + 18
        if lines[-1] and used + wide > WIDTH - 2 * MARGIN:
            lines.append([])
            used = 0.0
        lines[-1].append((words, mark, wide))
        used += wide
    return lines


def _draw_legend(lines: Sequence[Sequence[tuple[str, str, float]]], top: float) -> Iterator[Ink]:
    for number, entries in enumerate(lines):
        x, y = MARGIN, top + number * LEGEND_LINE + 6
        for words, mark, wide in entries:
            yield _mark(mark, x, y - 3.5)
            yield Text(x + 34, y, words, SMALL)
            x += wide


def _mark(mark: str, x: float, y: float) -> Ink:
    if mark.startswith("dash:"):
        return line(x, y, x + 28, y, 1.5, dash=mark[5:])
    if mark == "thin":
        return line(x, y, x + 28, y, 0.7, color=UNITY)
    if mark == "limit":
        return line(x, y, x + 28, y, 1.4, dash="8 3")
    if mark == "band":
        return rectangle(x, y - 5, 28, 10, stroke=0, fill=TOLERANCE)
    return Disc(x + 14, y, 2.8, 1.1)
