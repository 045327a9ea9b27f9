"""Compose a page: the drawing, and under it the verdicts, notes, legend, caution and title block."""

from dataclasses import replace

from .draw import Pencil
from .foot import (
    MARGIN,
    PAD,
    PAPER_SIZES,
    PAPERS,
    draw_foot,
    foot,
    inner_width,
)
from .ink import Ink, Page, rectangle
from .items import LOW, NARROW, Spacing
from .layout import Layout, lay_out, least_size
from .sheet import Sheet
from .text_width import printable

_LARGEST = 1.35  # a small drawing is enlarged up to this
_SMALLEST = 0.97  # and a full one made smaller down to this, which leaves the smallest text at 6.8 pt
_LEAST_ROOM = 60.0  # height left for a drawing under any list [pt]
_SPREAD = 200.0  # and its channels are opened up to this [pt]


def room(sheet: Sheet) -> tuple[float, float]:
    """Room for the drawing of a sheet above its lists [pt]."""
    height = PAPERS[sheet.paper][1] - 2 * MARGIN
    return inner_width(sheet) - 2 * PAD, height - foot(sheet).height - 2 * PAD


def compose(sheet: Sheet) -> Page:
    """The finished page of a sheet. A sheet too full for its paper is made smaller; `split_sheet` avoids that."""
    paper = PAPERS[sheet.paper]
    inks: list[Ink] = [rectangle(MARGIN, MARGIN, paper[0] - 2 * MARGIN, paper[1] - 2 * MARGIN, stroke=1.4)]
    if not sheet.is_list:
        inks += place(sheet).draw()
    inks += draw_foot(sheet, foot(sheet), paper)
    return Page(*paper, page_title(sheet), tuple(inks), PAPER_SIZES[sheet.paper])


def place(sheet: Sheet) -> Pencil:
    """Lay a sheet out and place the drawing on the page, as large as it may be."""
    wide, high = room(sheet)
    high = max(high, _LEAST_ROOM)
    layout, scale = _best_layout(sheet, wide, high)
    spread = min(_SPREAD, (wide / scale - layout.width) / max(len(layout.channels), 1))
    drop = (high / scale - layout.height) / 2
    layout = replace(layout, spread=max(0.0, spread), drop=max(0.0, drop))
    left = MARGIN + PAD + (wide - layout.width * scale) / 2
    return Pencil(layout, left, MARGIN + PAD, scale, MARGIN + PAD + high)


def fits(sheet: Sheet) -> bool:
    """Whether a sheet can be drawn on its paper at a readable size."""
    wide, high = room(sheet)
    if sheet.is_list:
        return high >= 0
    if high < _LEAST_ROOM:
        return False
    wide, high = wide / _SMALLEST, high / _SMALLEST
    for spacing in (NARROW, LOW):
        width, height = least_size(sheet, spacing)
        if width > wide or height > high:
            continue
        layout = lay_out(sheet, spacing, high)
        if layout.width <= wide and layout.height <= high:
            return True
    return False


def _best_layout(sheet: Sheet, wide: float, high: float) -> tuple[Layout, float]:
    """The layout that can be drawn largest in a room [pt], and its scale."""

    def scaled(spacing: Spacing) -> tuple[Layout, float]:
        layout = lay_out(sheet, spacing, high / _SMALLEST)
        return layout, min(wide / layout.width, high / layout.height, _LARGEST)

    return max((scaled(spacing) for spacing in (LOW, NARROW)), key=lambda pair: pair[1])


def page_title(sheet: Sheet) -> str:
    """Title of the page in one line."""
    return printable(f"{sheet.installation}: {sheet.subject}, sheet {sheet.number} of {sheet.count}")
