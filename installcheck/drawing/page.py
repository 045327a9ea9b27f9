"""Compose a page: the drawing, and under it the verdicts, notes, legend, caution and title block."""

from dataclasses import replace

from .border import PAPER_SIZES, PAPERS, draw_border, inside
from .draw import Pencil
from .foot import PAD, draw_foot
from .ink import Ink, Page
from .setting import setting
from .sheet import Sheet
from .text_width import printable

_SPREAD = 200.0  # the channels of a narrow drawing are opened up to this [pt]


def compose(sheet: Sheet) -> Page:
    """The finished page of a sheet. A sheet too full for its paper is made smaller; `split_sheet` avoids that."""
    paper = PAPERS[sheet.paper]
    inks: list[Ink] = [*draw_border(sheet.paper)]
    if not sheet.is_list:
        inks += place(sheet).draw()
    inks += draw_foot(sheet, setting(sheet).foot)
    return Page(*paper, page_title(sheet), tuple(inks), PAPER_SIZES[sheet.paper])


def place(sheet: Sheet) -> Pencil:
    """Place the drawing of a sheet on its page, as large as it may be."""
    on = setting(sheet)
    layout, scale = on.best
    spread = min(_SPREAD, (on.wide / scale - layout.width) / max(len(layout.channels), 1))
    drop = (on.high / scale - layout.height) / 2
    layout = replace(layout, spread=max(0.0, spread), drop=max(0.0, drop))
    left, top, _, _ = inside(sheet.paper)
    left += PAD + (on.wide - layout.width * scale) / 2
    return Pencil(layout, left, top + PAD, scale, top + PAD + on.high)


def page_title(sheet: Sheet) -> str:
    """Title of the page in one line."""
    return printable(f"{sheet.installation}: {sheet.subject}, sheet {sheet.number} of {sheet.count}")
