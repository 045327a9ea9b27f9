"""Title block and revision table of a sheet."""

from collections.abc import Iterator

from .border import MM, inside
from .captions import SMALL
from .ink import THIN, Ink, Path, Text
from .sheet import Sheet
from .text_width import printable, text_width

TITLE_HEIGHT = 14 * MM  # two rows of 7 mm
_WIDTH = 180 * MM  # ISO 7200, 5
_REVISIONS = 3  # rows of the revision table


def revision_table(sheet: Sheet) -> Iterator[Ink]:
    """What each revision is, beside the title block; as many of the last ones as have room."""
    left, _, right, bottom = inside(sheet.paper)
    top, end = bottom - TITLE_HEIGHT, right - _WIDTH
    yield Path(((left, top), (end, top)), THIN)
    columns = ((0.0, 0.14), (0.14, 0.6), (0.74, 0.26))
    rows = [("Rev.", "Change", "Date"), *sheet.revisions[-_REVISIONS:]]
    for number, row in enumerate(rows):
        base = top + 7.4 + number * (TITLE_HEIGHT / (_REVISIONS + 1))
        if number:
            yield Path(((left, base - 7.4), (end, base - 7.4)), THIN)
        for (at, share), words in zip(columns, row, strict=True):
            x = left + (end - left) * at
            if at and not number:
                yield Path(((x, top), (x, bottom)), THIN)
            yield Text(x + 3, base, cut_to(printable(words), (end - left) * share - 6, SMALL), SMALL)


def title_block(sheet: Sheet) -> Iterator[Ink]:
    """Title block in the lower right corner with the fields of ISO 7200; who checks it signs by hand."""
    _, _, right, bottom = inside(sheet.paper)
    left, top = right - _WIDTH, bottom - TITLE_HEIGHT
    middle = top + TITLE_HEIGHT / 2
    yield Path(((left, bottom), (left, top), (right, top)), 1.4)
    yield Path(((left, middle), (right, middle)), THIN)
    upper = (
        ("Shown", sheet.subject, 0.62),
        ("Document type", "wiring and line diagram", 0.22),
        ("Drawing number", sheet.drawing, 0.16),
    )
    lower = (
        ("Title", sheet.installation, 0.4),
        ("Drawn by", sheet.creator, 0.14),
        ("Checked by", "", 0.14),
        ("Rev.", sheet.revision, 0.08),
        ("Date of issue", sheet.date, 0.13),
        ("Sheet", f"{sheet.number} of {sheet.count}", 0.11),
    )
    for row_top, cells in ((top, upper), (middle, lower)):
        x = left
        for number, (label, value, share) in enumerate(cells):
            width = _WIDTH * share
            if number:
                yield Path(((x, row_top), (x, row_top + TITLE_HEIGHT / 2)), THIN)
            yield Text(x + 3, row_top + 6.6, label, SMALL)
            size = 9.0 if text_width(printable(value), 9.0, bold=True) <= width - 6 else 7.0
            words = cut_to(printable(value), width - 6, size, bold=True)
            yield Text(x + 3, row_top + 16.4, words, size, bold=True)
            x += width


def cut_to(words: str, width: float, size: float, *, bold: bool = False) -> str:
    """A text that is no wider than ``width``, cut with dots; it stands in full in the title of the page."""
    if text_width(words, size, bold=bold) <= width:
        return words
    while words and text_width(words + "…", size, bold=bold) > width:
        words = words[:-1]
    return words.rstrip() + "…"
