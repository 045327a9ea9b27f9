"""A table as a section of the document: each row a thing, each cell a field of it, each at its own place.

What is wrong is gathered, so that a spreadsheet is told all of it at once.
"""

from __future__ import annotations

from hashlib import sha256

from .headings import FROM_PIN, NEEDED, TO_PIN, read
from .parts import Library
from .places import DocumentError, Place, Problem
from .rows import Rows, Wanted, columns, heading_row, needed, spoken
from .sheets import Likeness, Sheet, sheets
from .source import Source
from .wording import listed, unknown_word


def read_table(raw: bytes, name: str, wanted: Wanted, library: Library) -> Source:
    """A file as rows of a section.

    Raises:
        DocumentError: it cannot be read as a table, or holds none of that section.
    """
    found = sheets(raw, name, likeness(wanted.section))
    sheet = _chosen(found, name, wanted)
    source = Source(name, sheet=sheet.name, headings={}, digest=sha256(raw).digest())
    Rows(sheet, source, wanted, library).read()
    return source


def likeness(section: str) -> Likeness:
    """How many cells of a row are headings of a section."""
    return lambda row: len(columns(list(row), section))


def _refused(name: str, why: str, text: str = "") -> DocumentError:
    return DocumentError([Problem(Place(name, 1, 1), why, text)])


def _chosen(found: list[Sheet], name: str, wanted: Wanted) -> Sheet:
    """The sheet to read: the one named, or the only one that holds what is wanted."""
    if wanted.sheet:
        for sheet in found:
            if sheet.name.casefold() == wanted.sheet.casefold():
                return sheet
        if found and not found[0].name:
            raise _refused(name, "a text has no sheets; take 'sheet' out", text=wanted.sheet)
        raise _refused(name, unknown_word(wanted.sheet, [s.name for s in found], "sheet"), text=wanted.sheet)
    seen = [sheet for sheet in found if not sheet.hidden]
    if len(seen) == 1:
        return seen[0]
    fits = [sheet for sheet in seen if _fits(sheet, wanted.section)]
    whole = [sheet for sheet in fits if not _strange(sheet, wanted)]
    if len(fits) == 1 or len(whole) == 1:
        return whole[0] if len(whole) == 1 else fits[0]
    named = listed(sheet.name for sheet in (fits or seen or found))
    if fits:
        why = f"several sheets hold {spoken(wanted.section)}: {named}; name one: {{file: {name}, sheet: ...}}"
    elif any(_fits(sheet, wanted.section) for sheet in found):
        why = "the sheet that fits is hidden: show it, or name it with 'sheet'"
    else:
        why = f"no sheet has a row of headings with {needed(wanted.section)}; there are {named or 'none'}"
    raise _refused(name, why)


def _fits(sheet: Sheet, section: str) -> bool:
    row = heading_row(sheet, section)
    words = {one.word for one in columns(sheet.rows[row - 1], section).values()} if row else set()
    ends = {"from": FROM_PIN, "to": TO_PIN}
    return "id" in words and all(w in words or ends.get(w) in words for w in NEEDED.get(section, ()))


def _strange(sheet: Sheet, wanted: Wanted) -> bool:
    """Whether a sheet has headings that are not known."""
    cells = sheet.rows[heading_row(sheet, wanted.section) - 1]
    return any(text and read(wanted.section, text) is None for text in cells)
