"""A filled ring-out sheet read back: CSV or workbook, as a spreadsheet saves it again, in any hands."""

from __future__ import annotations

import csv
import io
import re
import zipfile
from collections.abc import Iterable, Sequence
from dataclasses import replace
from math import inf
from pathlib import Path

from ..dataclass import dataclass
from ..document import Document
from ..files.reading import UnreadableError, read_regular
from ..model.quantities import Quantity, QuantityError, parse
from ..model.records import Measurement
from .ring_out import COLUMNS, MEASURED

LARGEST = 20_000_000
"""Bytes of a sheet, unpacked ones as well; a ring-out sheet of 10 000 wires is a tenth of it."""
MOST_ROWS = 200_000
_MOST_PROBLEMS = 20
_OPEN = frozenset(("open", "ol", "o.l", "o.l.", "0l", "0.l", "infinite", "∞", "no continuity"))
_THROUGH = frozenset(("short", "shorted"))
_NUMBER = re.compile(r"^[<>≥≤]?\s*(\d+(?:\.\d*)?|\.\d+)(?:[eE]([+-]?\d{1,2}))?$")
_UNITS = (
    ("MΩ", "Mohm"),
    ("Mohm", "Mohm"),
    ("kΩ", "kohm"),
    ("kohm", "kohm"),
    ("M", "Mohm"),
    ("k", "kohm"),
    ("K", "kohm"),
)
_KINDS = {"insulation": "insulation"}


class ReadBackError(Exception):
    """A sheet that cannot be read; ``problems`` says what is wrong, with the row."""

    def __init__(self, problems: Iterable[str]) -> None:
        self.problems = tuple(problems)
        super().__init__("; ".join(self.problems))


@dataclass(frozen=True, slots=True)
class Filled:
    """One filled row: its number in the sheet, what it checks, and the ohms read (infinite for open)."""

    row: int
    check: str
    of: str
    start: str
    end: str
    ohms: float
    text: str
    by: str


def read_back(path: Path) -> list[Filled]:
    """The rows of a ring-out sheet somebody filled, in the sheet's order; rows left blank are left out.

    Raises:
        ReadBackError: no such file, no ring-out sheet, or cells that hold no reading; all of them are told.
    """
    try:
        data = read_regular(path, LARGEST)
    except UnreadableError as bad:
        raise ReadBackError([f"'{path}' {bad}"]) from None
    if len(data) > LARGEST:
        raise ReadBackError([f"'{path}' is larger than any ring-out sheet"])
    rows = _workbook(path, data) if data[:2] == b"PK" else _text_rows(path, data)
    return _filled(path, rows)


def _text_rows(path: Path, data: bytes) -> list[list[str]]:
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError:
        try:
            text = data.decode("utf-16") if data[:2] in (b"\xff\xfe", b"\xfe\xff") else data.decode("cp1252")
        except UnicodeDecodeError:
            raise ReadBackError([f"'{path}' is no text and no workbook"]) from None
    if "\x00" in text:
        raise ReadBackError([f"'{path}' is no text and no workbook"])
    first = next((line for line in text.splitlines() if MEASURED in line), "")
    separator = max(",;\t", key=first.count)
    try:
        return list(csv.reader(io.StringIO(text, newline=""), delimiter=separator))
    except csv.Error as bad:
        raise ReadBackError([f"'{path}' is no table: {bad}"]) from None


def _workbook(path: Path, data: bytes) -> list[list[str]]:
    import openpyxl

    try:
        with zipfile.ZipFile(io.BytesIO(data)) as packed:
            if sum(one.file_size for one in packed.infolist()) > 5 * LARGEST:
                raise ReadBackError([f"'{path}' unpacks to more than any ring-out sheet"])
        book = openpyxl.load_workbook(io.BytesIO(data), read_only=True)
        for sheet in book.worksheets:
            rows = [
                ["" if cell is None else str(cell) for cell in row]
                for row in sheet.iter_rows(max_row=MOST_ROWS, max_col=50, values_only=True)
            ]
            if any(_is_heading(row) for row in rows[:20]):
                return rows
    except ReadBackError:
        raise
    except Exception as bad:  # a damaged workbook fails in the library in many ways
        raise ReadBackError([f"'{path}' cannot be read as a workbook: {bad}"]) from None
    raise ReadBackError([_no_heading(path)])


def _is_heading(row: Sequence[str]) -> bool:
    cells = [_plain(cell) for cell in row]
    return all(name in cells for name in ("check", "of", "from", "to", MEASURED))


def _no_heading(path: Path) -> str:
    return f"'{path}' has no row of headings {', '.join(repr(c) for c in COLUMNS[:4])} and '{MEASURED}': fill the sheet 'lists --paper ring-out' writes"


def _plain(cell: str) -> str:
    text = cell.strip()
    return text[1:].strip() if text.startswith("'") else text


def _filled(path: Path, rows: list[list[str]]) -> list[Filled]:
    heading = next((n for n, row in enumerate(rows[:20]) if _is_heading(row)), None)
    if heading is None:
        raise ReadBackError([_no_heading(path)])
    if len(rows) > MOST_ROWS:
        raise ReadBackError([f"'{path}' has more rows than any ring-out sheet"])
    at = {_plain(name): n for n, name in reversed(list(enumerate(rows[heading])))}
    found: list[Filled] = []
    problems: list[str] = []
    seen: dict[tuple[str, ...], int] = {}
    for number, row in enumerate(rows[heading + 1 :], start=heading + 2):

        def cell(name: str, row: list[str] = row) -> str:
            n = at.get(name, len(row))
            return _plain(row[n]) if n < len(row) else ""

        text = cell(MEASURED)
        if not text or text == "None":
            continue
        key = (cell("check"), cell("of"), cell("from"), cell("to"))
        if not all(key[:3]):
            problems.append(f"row {number}: '{_cut(text)}' stands beside no check")
            continue
        if key in seen:
            problems.append(f"row {number}: the same check as row {seen[key]}")
            continue
        seen[key] = number
        try:
            ohms = reading(text)
        except ValueError as bad:
            problems.append(f"row {number}, {key[0]} of {_cut(key[1])}: {bad}")
            continue
        found.append(Filled(number, *key, ohms, text, cell("initials")[:80]))
    if problems:
        more = len(problems) - _MOST_PROBLEMS
        raise ReadBackError([*problems[:_MOST_PROBLEMS], *([f"and {more} more"] if more > 0 else [])])
    return found


def _cut(text: str) -> str:
    shown = "".join(c if c.isprintable() else "?" for c in text)
    return shown if len(shown) <= 40 else f"{shown[:39]}…"


def reading(text: str) -> float:
    """Ohms of what somebody wrote in a cell; infinite for open.

    Raises:
        ValueError: it is no reading; the message says what would be.

    >>> reading("0,118"), reading("4.7 k"), reading("OL"), reading("> 20 Mohm")
    (0.118, 4700.0, inf, 20000000.0)
    """
    words = text.strip().lower()
    if words in _OPEN:
        return inf
    if words in _THROUGH:
        return 0.0
    body = text.strip()
    if body.count(",") == 1 and "." not in body:
        body = body.replace(",", ".")
    mark, _ = (body[0], body[1:]) if body[:1] in "<>≥≤" else ("", body)
    body = body.lstrip("<>≥≤").strip()
    factor, number = _factor(body)
    match = _NUMBER.match(number)
    if match is None:
        raise ValueError(f"'{_cut(text)}' is not a reading: write a number in ohm, or 'open'")
    ohms = float(f"{match[1]}e{match[2] or 0}") * factor
    if ohms > 1e15 or (mark in ("<", "≤") and ohms > 1.0):
        raise ValueError(f"'{_cut(text)}' is not a reading: write what the meter showed")
    return ohms


def _factor(body: str) -> tuple[float, str]:
    try:
        got = parse(body, "resistance")
    except QuantityError:
        pass
    else:
        return 1.0, repr(float(got))
    for spelling, unit in _UNITS:
        if body.endswith(spelling) and _NUMBER.match(body[: -len(spelling)].strip()):
            return float(parse(f"1 {unit}", "resistance")), body[: -len(spelling)].strip()
    return 1.0, body


def with_measured(
    document: Document, filled: Sequence[Filled], temperature: Quantity | None = None
) -> Document:
    """The document with the values of a filled sheet added to its own ``measured``, all at one temperature of the wiring.

    Raises:
        ReadBackError: a row names a terminal this document does not have: the sheet is of another revision.
    """
    model = document.installation
    problems = [
        f"row {one.row}, {_cut(one.of)}: '{_cut(end)}' is no terminal of {document.name}; is the sheet of another revision?"
        for one in filled
        for end in (one.start, one.end)
        if not end.endswith(" shield") and model.find(end.partition(".")[0]) is None
    ]
    if problems:
        raise ReadBackError(problems[:_MOST_PROBLEMS])
    added = [_measurement(one, temperature) for one in filled]
    changed = model.model_copy(update={"measured": [*model.measured, *added]})
    return replace(document, installation=changed)


def _measurement(one: Filled, temperature: Quantity | None) -> Measurement:
    value: Quantity | str = (
        "open" if one.ohms == inf else Quantity(one.ohms, f"{one.ohms:g} ohm", "ohm", "resistance")
    )
    return Measurement.model_validate(
        {
            "between": (one.start, one.end),
            "of": one.of[:130],
            "value": value,
            "what": _KINDS.get(one.check, "resistance"),
            "at_temperature": temperature,
            "by": one.by or None,
        }
    )
