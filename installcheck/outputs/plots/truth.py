"""True against indicated over the dial of each indication, with its limit, as an SVG drawing.

Line art in black and grey that prints; colour carries nothing. Above, what is shown for each true value; below, the error.
"""

from __future__ import annotations

from collections.abc import Sequence
from xml.sax.saxutils import escape

from ...analysis.errors.truth_curves import AtLimit, TruthCurve
from ...analysis.true_value import difference_kind
from ...drawing.text_width import (
    printable,
    shorten,
    text_width,
    wrap,
)
from ...model.quantities import show
from ..wording import CAUTION
from .survey import FONT, ROOMY
from .truth_panel import (
    AXIS,
    BETWEEN,
    FOOT,
    LOWER,
    RIGHT,
    SMALL,
    panel,
    stroke,
    text_at,
)

TEXT, LARGE = 11.0, 14.0
WIDTH, MARGIN, GAP = 1040.0, 20.0, 20.0
COLUMNS = 3
PANEL = (WIDTH - 2 * MARGIN - (COLUMNS - 1) * GAP) / COLUMNS
SIDE = PANEL - AXIS - RIGHT
LINE = 13.0
_DASHES = ("", "7 3", "2 2.5", "9 3 2 3", "4 2", "1 2", "12 3", "12 3 2 3 2 3")


def truth_svg(curves: Sequence[TruthCurve], title: str) -> str:
    """The drawing of ``curves`` as the text of an SVG file; what the installation is called stands in its title."""
    y = MARGIN
    body: list[str] = []
    for line in wrap(
        printable(f"True against indicated, {title}"), LARGE, (WIDTH - 2 * MARGIN) / ROOMY, bold=True
    ):
        y += LARGE * 1.4
        body.append(text_at(MARGIN, y, line, LARGE, bold=True))
    y += 12
    names = list(dict.fromkeys(track.point for curve in curves for track in curve.tracks))
    dashes = {name: _DASHES[i % len(_DASHES)] for i, name in enumerate(names)}
    if not curves:
        y += TEXT * 1.4
        body.append(text_at(MARGIN, y, "No indication with a dial can be worked out.", TEXT))
    for start in range(0, len(curves), COLUMNS):
        row = curves[start : start + COLUMNS]
        heads = [_heading(curve) for curve in row]
        notes = [_notes(curve) for curve in row]
        top = y + LINE * max(map(len, heads)) + LINE + 4
        for i, curve in enumerate(row):
            x = MARGIN + i * (PANEL + GAP)
            for j, words in enumerate(heads[i]):
                body.append(text_at(x, y + LINE * (j + 1), words, TEXT if j == 0 else SMALL, bold=j == 0))
            body += panel(curve, dashes, x, top, SIDE)
            below = top + SIDE + BETWEEN + LOWER + FOOT
            body += [text_at(x, below + LINE * (j + 1), words, SMALL) for j, words in enumerate(notes[i])]
        y = top + SIDE + BETWEEN + LOWER + FOOT + LINE * max(map(len, notes)) + 26
    legend, y = _legend(dashes, y)
    body += legend
    for words in wrap(CAUTION, SMALL, (WIDTH - 2 * MARGIN) / ROOMY):
        y += SMALL * 1.4
        body.append(text_at(MARGIN, y, words, SMALL))
    height = y + MARGIN
    return (
        '<?xml version="1.0" encoding="UTF-8"?>\n'
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{WIDTH:.0f}" height="{height:.0f}" '
        f'viewBox="0 0 {WIDTH:.0f} {height:.0f}" font-family="{FONT}" role="img">\n'
        f"<title>{escape(printable(f'True against indicated, {title}'))}</title>\n"
        f'<rect width="{WIDTH:.0f}" height="{height:.0f}" fill="#fff"/>\n' + "\n".join(body) + "\n</svg>\n"
    )


def _heading(curve: TruthCurve) -> list[str]:
    width = PANEL / ROOMY
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
    return [line for text in told for line in wrap(printable(text), SMALL, PANEL / ROOMY)]


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


def _legend(dashes: dict[str, str], y: float) -> tuple[list[str], float]:
    """What the strokes mean, wrapped to the page; the foot of it."""
    entries: list[tuple[str, str]] = [
        (f"at {printable(name)}", f"dash:{dash}") for name, dash in dashes.items()
    ]
    entries += [
        ("shown = true", "thin"),
        ("with tolerances, root of the sum of squares", "band"),
        ("engine limit", "limit"),
        ("true value given for the point", "ring"),
    ]
    parts: list[str] = []
    x = MARGIN
    for label, mark in entries:
        label = shorten(label, SMALL, 300)
        wide = 34 + ROOMY * text_width(label, SMALL) + 18
        if x + wide > WIDTH - MARGIN and x > MARGIN:
            x, y = MARGIN, y + 17
        parts += [_mark(mark, x, y - 3.5), text_at(x + 34, y, label, SMALL)]
        x += wide
    return parts, y + 10


def _mark(mark: str, x: float, y: float) -> str:
    if mark.startswith("dash:"):
        return stroke(x, y, x + 28, y, 1.5, dash=mark[5:])
    if mark == "thin":
        return stroke(x, y, x + 28, y, 0.7, grey="#888")
    if mark == "limit":
        return stroke(x, y, x + 28, y, 1.4, dash="8 3")
    if mark == "band":
        return f'<rect x="{x:.1f}" y="{y - 5:.1f}" width="28" height="10" fill="#ddd"/>'
    return f'<circle cx="{x + 14:.1f}" cy="{y:.1f}" r="2.8" fill="#fff" stroke="#000" stroke-width="1.1"/>'
