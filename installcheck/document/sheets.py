"""The cells of a table as text: CSV with commas, semicolons or tabs between, or the sheets of a workbook.

Nothing in a cell is ever worked out: of a formula the value the spreadsheet saved is taken, and without one it is told.
"""

from __future__ import annotations

import csv
import re
import warnings
from collections.abc import Callable, Iterator, Sequence
from dataclasses import field
from datetime import date, datetime, time
from io import BytesIO, StringIO
from pathlib import Path
from typing import Any
from zipfile import BadZipFile, ZipFile

from ..dataclass import dataclass
from .places import Cell, DocumentError, Place, Problem
from .yaml_text import read_text

MAX_BYTES = 16 * 1024 * 1024
"""Bytes of a table; a wire list of 20,000 runs is 3 MB."""
_MOST_UNPACKED = 256 * 1024 * 1024
MAX_ROWS = 50_000
MAX_COLUMNS = 256
MAX_CELL = 2000
"""Characters of a cell."""
_TEXT = (".csv", ".tsv", ".txt")
_WORKBOOKS = (".xlsx", ".xlsm")
ENDINGS = (*_TEXT, *_WORKBOOKS)
_LOOKED_AT = 40
"""Rows in which headings are looked for."""
_MERGED = re.compile(rb'<(?:\w+:)?mergeCell\s[^>]*?ref="([A-Z]{1,3})(\d{1,7}):([A-Z]{1,3})(\d{1,7})"')

Likeness = Callable[[Sequence[str]], int]
"""How many cells of a row are headings."""


@dataclass(slots=True)
class Sheet:
    """A table as it stands.

    Attributes:
        name: of the sheet of a workbook; empty for a text.
        rows: the text of its cells, row by row; a row is as long as its last cell.
        wrong: why a cell cannot be taken, by its 1-based row and column.
        dates: cells a spreadsheet holds as a date; their text is YYYY-MM-DD.
        merged: cells joined over several rows, by the first of them, in words.
        hidden: whether the workbook hides it.
    """

    name: str
    rows: list[list[str]]
    wrong: dict[tuple[int, int], str] = field(default_factory=dict)
    dates: set[tuple[int, int]] = field(default_factory=set)
    merged: dict[tuple[int, int], str] = field(default_factory=dict)
    hidden: bool = False


def sheets(raw: bytes, name: str, likeness: Likeness) -> list[Sheet]:
    """The tables of a file: one of a text, each sheet of a workbook.

    Args:
        raw: the file.
        name: what it is called; its ending says what it is.
        likeness: how many cells of a row are headings: the separator of a text is the one that gives most.

    Raises:
        DocumentError: it is no table, is broken, or is larger than any wire list.
    """
    ending = Path(name).suffix.lower()
    if len(raw) > MAX_BYTES:
        raise _refused(
            name, f"the file is larger than the {MAX_BYTES // 1048576} MiB that are read of a table"
        )
    if ending in _WORKBOOKS:
        return _workbook(raw, name)
    if ending not in _TEXT:
        raise _refused(name, f"a table is a file that ends in {', '.join(ENDINGS)}; save it as one of these")
    if raw[:4] == b"PK\x03\x04":
        raise _refused(name, "this is a workbook, not a text; call it .xlsx")
    return [of_text(read_text(raw, name), name, likeness)]


def _refused(name: str, why: str) -> DocumentError:
    return DocumentError([Problem(Place(name, 1, 1), why)])


def of_text(text: str, name: str, likeness: Likeness) -> Sheet:
    """A text as a table.

    Raises:
        DocumentError: it is none.
    """
    best: list[list[str]] = []
    told: csv.Error | None = None
    most = -1
    for separator in "\t;,":
        try:
            reader = csv.reader(StringIO(text, newline=""), delimiter=separator, strict=True)
            rows = [row for row, _ in zip(reader, range(MAX_ROWS + _LOOKED_AT + 1), strict=False)]
        except csv.Error as bad:
            told = told or bad
            continue
        likely = max((likeness(row) for row in rows[:_LOOKED_AT]), default=0)
        if likely > most:
            best, most = rows, likely
    if most < 1 and told is not None:
        raise _refused(name, f"this cannot be read as a table: {told}; a quotation mark may be left open")
    sheet = Sheet("", [])
    for number, row in enumerate(best, start=1):
        _check_size(name, "", number, len(row))
        sheet.rows.append([_text_cell(sheet, text, number, at) for at, text in enumerate(row, start=1)])
    return sheet


def _check_size(name: str, sheet: str, row: int, columns: int) -> None:
    if row > MAX_ROWS:
        raise DocumentError(
            [Problem(Cell.of(name, row, 1, sheet=sheet), f"more than the {MAX_ROWS:,} rows that are read")]
        )
    if columns > MAX_COLUMNS:
        why = f"more than the {MAX_COLUMNS} columns that are read; clear what stands out here"
        raise DocumentError([Problem(Cell.of(name, row, MAX_COLUMNS + 1, sheet=sheet), why)])


def _text_cell(sheet: Sheet, text: str, row: int, column: int) -> str:
    """A cell as text: the apostrophe by which spreadsheets mark one is taken off."""
    words = " ".join(text.split())
    if words.startswith("'"):
        words = words[1:].strip()
    elif words.startswith("="):
        sheet.wrong[row, column] = f"'{words[:40]}' is a formula; write the value it gives"
    if len(words) > MAX_CELL:
        sheet.wrong[row, column] = f"a cell of {len(words):,} characters is too long to be meant"
        return words[:40]
    if not words.isprintable():
        sheet.wrong[row, column] = "the cell holds a hidden character; take it out"
        return "".join(c for c in words if c.isprintable())
    return words


def _workbook(raw: bytes, name: str) -> list[Sheet]:
    from openpyxl import load_workbook

    if raw[:8] == b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1":
        raise _refused(name, "this is an old or a locked workbook; save it as .xlsx without a password")
    try:
        with ZipFile(BytesIO(raw)) as packed:
            if sum(one.file_size for one in packed.infolist()) > _MOST_UNPACKED:
                raise _refused(name, "the workbook unpacks to far more than any wire list")
            with warnings.catch_warnings():
                warnings.simplefilter("ignore")
                shown = load_workbook(BytesIO(raw), read_only=True)
                saved = load_workbook(BytesIO(raw), read_only=True, data_only=True)
                return [
                    _sheet(one, two, name, packed)
                    for one, two in zip(shown.worksheets, saved.worksheets, strict=True)
                ]
    except DocumentError:
        raise
    except BadZipFile as bad:
        raise _refused(name, f"this is no workbook, or a damaged one: {bad}") from None
    except Exception as bad:  # a damaged workbook fails in the library in many ways
        why = " ".join(str(bad).split())[:120]
        raise _refused(name, f"this cannot be read as a workbook: {type(bad).__name__} {why}") from None


def _sheet(shown: Any, saved: Any, name: str, packed: ZipFile) -> Sheet:
    sheet = Sheet(shown.title, [], hidden=shown.sheet_state != "visible")
    widest = shown.max_column
    if widest is not None and widest > 16_384:
        raise _refused(name, f"sheet '{shown.title}' says that it is {widest:,} columns wide")
    shown.reset_dimensions()
    saved.reset_dimensions()
    formulas = False
    for number, row in enumerate(shown.iter_rows(max_col=MAX_COLUMNS + 1), start=1):
        filled = next((at for at in range(len(row), 0, -1) if row[at - 1].value not in (None, "")), 0)
        if filled:
            _check_size(name, sheet.name, number, filled)
            sheet.rows.extend([] for _ in range(number - 1 - len(sheet.rows)))
            cells = []
            for at, cell in enumerate(row[:filled], start=1):
                if cell.data_type == "f":
                    formulas = True
                    sheet.wrong[number, at] = (
                        "the formula has no value saved; open and save it in a spreadsheet"
                    )
                    cells.append("")
                else:
                    cells.append(_value(sheet, cell.value, cell.data_type, number, at))
            sheet.rows.append(cells)
        if number > 2 * 1_048_576:
            raise _refused(name, f"sheet '{shown.title}' has more rows than a sheet can hold")
    if formulas:
        _worked_out(sheet, saved)
    path = getattr(shown, "_worksheet_path", None)
    if path is not None:
        sheet.merged.update(_merged(packed.read(path)))
    return sheet


def _worked_out(sheet: Sheet, saved: Any) -> None:
    """Take the values a spreadsheet saved for its formulas."""
    wanted = {row for row, _ in sheet.wrong}
    for number, row in enumerate(saved.iter_rows(max_row=max(wanted), max_col=MAX_COLUMNS), start=1):
        if number not in wanted:
            continue
        for at, cell in enumerate(row, start=1):
            if (number, at) in sheet.wrong and cell.value is not None and at <= len(sheet.rows[number - 1]):
                del sheet.wrong[number, at]
                sheet.rows[number - 1][at - 1] = _value(sheet, cell.value, cell.data_type, number, at)


def _value(sheet: Sheet, value: object, kind: str, row: int, column: int) -> str:
    """The value of a cell of a workbook as the text a person would write."""
    if value is None:
        return ""
    if kind == "e":
        sheet.wrong[row, column] = f"the spreadsheet shows an error here: {value}"
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, (datetime, date, time)):
        sheet.dates.add((row, column))
        return value.isoformat()[:10]
    if isinstance(value, (int, float)):
        return str(int(value)) if value == int(value) else f"{value:.12g}"
    words = _text_cell(sheet, str(value), row, column)
    if str(value).lstrip().startswith("="):
        sheet.wrong.pop((row, column), None)
    return words


def _merged(xml: bytes) -> Iterator[tuple[tuple[int, int], str]]:
    """Cells joined over several rows, by the first of them."""
    for left, top, right, bottom in _MERGED.findall(xml):
        if top != bottom:
            words = f"{left.decode()}{top.decode()}:{right.decode()}{bottom.decode()}"
            yield (int(top), _number(left.decode())), words


def _number(letters: str) -> int:
    """The 1-based number of a column by its letters.

    >>> _number("A"), _number("AB")
    (1, 28)
    """
    number = 0
    for letter in letters:
        number = 26 * number + ord(letter) - 64
    return number
