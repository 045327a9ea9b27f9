"""Tables into CSV and XLSX; text from a document never becomes a formula."""

from __future__ import annotations

import csv
import io
from collections.abc import Sequence
from datetime import datetime
from typing import TYPE_CHECKING
from unicodedata import category, normalize

from ...document import Document
from ...papers.figures import Figure
from ...papers.tables import Cell, Table, cell_text
from ..wording import CAUTION

if TYPE_CHECKING:
    from openpyxl.cell.cell import Cell as OpenCell

_FORMULA = frozenset("=+-@|")
_CONTROL = dict.fromkeys([*range(9), 11, 12, *range(14, 32), 0xFFFE, 0xFFFF])
"""Characters no workbook can hold."""
_LONGEST = 60
_OLDEST = datetime(1980, 1, 1)
"""The earliest date a zip file can carry."""


def plain_cell(value: Cell) -> str:
    """A cell as text a spreadsheet takes as text: what could be a formula starts with an apostrophe."""
    if isinstance(value, str) and _could_be_a_formula(value):
        return f"'{value}"
    return cell_text(value)


def _could_be_a_formula(text: str) -> bool:
    """Whether a spreadsheet may take a text for a formula: by its first sign, full width too, or after what is not seen."""
    if text[:1] in ("\t", "\r", "\n"):
        return True
    seen = next((c for c in text if not c.isspace() and category(c) not in ("Cc", "Cf")), "")
    return normalize("NFKC", seen)[:1] in _FORMULA


def as_csv(table: Table) -> bytes:
    """One table as CSV in UTF-8 with a byte-order mark, notes and caution under it."""
    stream = io.StringIO()
    writer = csv.writer(stream, lineterminator="\r\n")
    writer.writerow(table.columns)
    writer.writerows([plain_cell(cell) for cell in row] for row in table.rows)
    for note in (*table.notes, CAUTION):
        writer.writerow([plain_cell(note)])
    return stream.getvalue().encode("utf-8-sig")


def as_xlsx(document: Document, tables: Sequence[Table]) -> bytes:
    """Several tables as one workbook, a sheet each; the same document gives the same bytes."""
    from openpyxl import Workbook
    from openpyxl.styles import Alignment, Border, Font, Side
    from openpyxl.utils import get_column_letter

    book = Workbook()
    book.remove(book.worksheets[0])
    header = document.installation.installation
    thin = Border(bottom=Side(style="thin"))
    for table in tables:
        sheet = book.create_sheet(table.name[:31])
        _text(sheet.cell(1, 1), f"{header.name}, revision {header.revision or '-'}: {table.name}")
        sheet["A1"].font = Font(bold=True, size=13)
        for at, name in enumerate(table.columns, start=1):
            cell = sheet.cell(3, at, name)
            cell.font, cell.border = Font(bold=True), thin
            cell.alignment = Alignment(wrap_text=True, vertical="top")
        for down, row in enumerate(table.rows, start=4):
            for at, value in enumerate(row, start=1):
                if isinstance(value, (str, Figure)):
                    _text(sheet.cell(down, at), cell_text(value))
                else:
                    sheet.cell(down, at).value = value
        last = 3 + len(table.rows)
        for down, note in enumerate((*table.notes, CAUTION), start=last + 2):
            _text(sheet.cell(down, 1), note)
        for at, name in enumerate(table.columns, start=1):
            widest = max(
                [len(name.split(" [")[0]), *(len(plain_cell(row[at - 1])) for row in table.rows)], default=8
            )
            sheet.column_dimensions[get_column_letter(at)].width = min(_LONGEST, widest + 2)
        sheet.freeze_panes = "A4"
        sheet.page_setup.orientation = "landscape"
        sheet.page_setup.fitToWidth, sheet.page_setup.fitToHeight = 1, 0
        sheet.sheet_properties.pageSetUpPr.fitToPage = True
        sheet.print_title_rows = "3:3"
    stamp = _stamp(header.date)
    book.properties.created = book.properties.modified = stamp
    book.properties.creator = "installcheck"
    return _repacked(book, stamp)


def _text(cell: OpenCell, words: str) -> None:
    """Put words in a cell as text, whatever they start with."""
    cell.value = words.translate(_CONTROL)
    cell.data_type, cell.quotePrefix = "s", True


def _stamp(date: str | None) -> datetime:
    """The document's own date, for the workbook's properties; a fixed one where it gives none, or none of the calendar."""
    try:
        return max(datetime.fromisoformat(date), _OLDEST) if date else _OLDEST
    except ValueError:
        return _OLDEST


def _repacked(book: object, stamp: datetime) -> bytes:
    """The workbook zipped with one fixed date, so that equal documents give equal bytes."""
    import re
    import zipfile

    first = io.BytesIO()
    book.save(first)  # type: ignore[attr-defined]
    out = io.BytesIO()
    date = (stamp.year, stamp.month, stamp.day, 0, 0, 0)
    with zipfile.ZipFile(first) as source, zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as target:
        for name in source.namelist():
            data = source.read(name)
            if name == "docProps/core.xml":
                data = re.sub(
                    rb"(<dcterms:modified[^>]*>)[^<]*",
                    rb"\g<1>" + stamp.strftime("%Y-%m-%dT00:00:00Z").encode(),
                    data,
                )
            target.writestr(zipfile.ZipInfo(name, date), data, zipfile.ZIP_DEFLATED)
    return out.getvalue()
