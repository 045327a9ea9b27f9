"""Tables into CSV, XLSX and the terminal; text from a document never becomes a formula."""

from __future__ import annotations

import csv
import io
from collections.abc import Sequence
from datetime import datetime

from rich.console import Console
from rich.table import Table as Shown
from rich.text import Text

from ..document import Document
from ..papers.tables import Cell, Table
from .wording import CAUTION

_FORMULA = ("=", "+", "-", "@", "\t", "\r")
_LONGEST = 60


def plain_cell(value: Cell) -> str:
    """A cell as text a spreadsheet takes as text: what could be a formula starts with an apostrophe."""
    if value is None:
        return ""
    if isinstance(value, str):
        return f"'{value}" if value.startswith(_FORMULA) else value
    return f"{value:.6g}" if isinstance(value, float) else str(value)


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
        sheet.append([f"{header.name}, revision {header.revision or '-'}: {table.name}"])
        sheet["A1"].font = Font(bold=True, size=13)
        sheet.append([])
        for at, name in enumerate(table.columns, start=1):
            cell = sheet.cell(3, at, name)
            cell.font, cell.border = Font(bold=True), thin
            cell.alignment = Alignment(wrap_text=True, vertical="top")
        for down, row in enumerate(table.rows, start=4):
            for at, value in enumerate(row, start=1):
                cell = sheet.cell(down, at)
                cell.value = value
                if isinstance(value, str):
                    cell.data_type, cell.quotePrefix = "s", True
        last = 3 + len(table.rows)
        for down, note in enumerate((*table.notes, CAUTION), start=last + 2):
            cell = sheet.cell(down, 1)
            cell.value = note
            cell.data_type = "s"
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
    stamp = datetime.fromisoformat(header.date) if header.date else datetime(2000, 1, 1)
    book.properties.created = book.properties.modified = stamp
    book.properties.creator = "installcheck"
    return _repacked(book, stamp)


def _repacked(book: object, stamp: datetime) -> bytes:
    """The workbook zipped with one fixed date, so that equal documents give equal bytes."""
    import re
    import zipfile

    first = io.BytesIO()
    book.save(first)  # type: ignore[attr-defined]
    out = io.BytesIO()
    date = (max(1980, stamp.year), stamp.month, stamp.day, 0, 0, 0)
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


def print_table(table: Table, console: Console) -> None:
    """One table in the terminal."""
    shown = Shown(
        title=table.name,
        title_justify="left",
        title_style="bold",
        box=None,
        pad_edge=False,
        header_style="bold",
    )
    numbers = [all(not isinstance(row[at], str) for row in table.rows) for at in range(len(table.columns))]
    for name, number in zip(table.columns, numbers, strict=True):
        shown.add_column(name, justify="right" if number else "left", overflow="fold")
    for row in table.rows:
        shown.add_row(*(Text(plain_cell(cell).removeprefix("'")) for cell in row))
    console.print(shown)
    for note in table.notes:
        console.print(Text(note, style="dim"))
