"""A recorder log as text: its encoding, its header, and the rows below it."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import field
from difflib import get_close_matches

import numpy as np
from numpy.typing import NDArray

from ..dataclass import dataclass
from .cells import Cells
from .columns import count_roles, is_unit, letter_channels, meaning, tidy_name
from .rows import Rows, splitter

MAX_BYTES = 64 * 1024 * 1024
"""Some 120 hours of 20 columns at a row a second."""
MAX_LINES = 2_000_000
"""Some 110 hours of five rows a second."""
HEADER_SEARCH = 200
"""Lines among which the header is looked for."""
# What a line must hold to be worth a closer look: most lines of a log are no header.
_HINT = re.compile(r"cht|cyl|head|c[ _-]?0?1", re.IGNORECASE)
_MARKS = re.compile("(?:\ufeff)*+".encode())
_DELIMITERS = ("\t", ";", ",", "|", None)  # None stands for runs of blanks


class LogError(Exception):
    """A log that cannot be read: `file`, `line` (from 1) and `column` (its name) where known, and `text`,
    what is wrong."""

    def __init__(self, file: str, text: str, line: int | None = None, column: str | None = None) -> None:
        self.file, self.line, self.column, self.text = file, line, column, text
        place = file if line is None else f"{file}:{line}"
        super().__init__(f"{place}: {text}" if column is None else f"{place}: column '{column}': {text}")


@dataclass(frozen=True, slots=True)
class LogNote:
    """Something a reader of the result must know: `text`, and the `line` (from 1) and `column` it is
    about."""

    text: str
    line: int | None = None
    column: str | None = None

    def __str__(self) -> str:
        where = [f"line {self.line}"] if self.line is not None else []
        where += [f"column '{self.column}'"] if self.column is not None else []
        return f"{', '.join(where)}: {self.text}" if where else self.text


@dataclass(frozen=True, slots=True)
class Sheet:
    """The cells of a log: `names` and `units` of the columns, by number the cells of those that can be read, the line
    number (from 1) of each row.

    `restarts` are rows before which the recorder wrote its header again.
    """

    names: tuple[str, ...]
    units: tuple[str, ...]
    columns: Mapping[int, Cells]
    lines: NDArray[np.intp]
    header_line: int
    restarts: tuple[int, ...]
    notes: tuple[LogNote, ...]


@dataclass(slots=True)
class _Header:
    delimiter: str | None = None
    names: list[str] = field(default_factory=list)
    first: int = 0
    last: int = 0
    score: int = 0


def as_utf8(raw: bytes) -> tuple[bytes, list[LogNote]]:
    """The text of a log in UTF-8, whatever encoding it came in, and what had to be guessed."""
    notes: list[LogNote] = []
    encoding = _encoding(raw)
    if encoding is not None:
        data = raw.decode(encoding, errors="replace").encode()
    else:
        data = raw
        try:
            _ = raw.isascii() or raw.decode("utf-8")
        except UnicodeDecodeError as bad:
            line = raw.count(b"\n", 0, bad.start) + 1
            notes.append(LogNote("not UTF-8 from here on; the whole log is read as Windows Latin-1", line))
            data = raw.decode("cp1252", errors="replace").encode()
    if b"\0" in data:
        line = data.count(b"\n", 0, data.index(b"\0")) + 1
        notes.append(LogNote(f"{data.count(0):,} NUL characters left out", line))
        data = data.replace(b"\0", b"")
    marks = _MARKS.match(data)
    return data[marks.end() if marks else 0 :], notes


def _encoding(raw: bytes) -> str | None:
    marks = (
        (b"\xef\xbb\xbf", "utf-8-sig"),
        (b"\xff\xfe\0\0", "utf-32"),
        (b"\0\0\xfe\xff", "utf-32"),
        (b"\xff\xfe", "utf-16"),
        (b"\xfe\xff", "utf-16"),
    )
    for mark, name in marks:
        if raw.startswith(mark):
            return name
    head = raw[:4096]
    # Latin text in UTF-16 without a mark has a NUL for every other byte.
    even, odd = head[::2].count(0), head[1::2].count(0)
    if odd > 0.4 * len(head) / 2 and even * 10 < odd:
        return "utf-16-le"
    if even > 0.4 * len(head) / 2 and odd * 10 < even:
        return "utf-16-be"
    return None


def read_sheet(raw: bytes, file: str, wanted: Sequence[str] = ()) -> Sheet:
    """Cut a log into named columns. `wanted` are the column names a mapping gives; the header must have them
    all.

    Raises:
        LogError: no header is found, a wanted column is not there, or no row of data follows.
    """
    if len(raw) > MAX_BYTES:
        raise LogError(file, f"{len(raw):,} bytes: larger than the {MAX_BYTES // 1048576} MiB that are read")
    data, notes = as_utf8(raw)
    if b"\r" in data:
        data = data.replace(b"\r\n", b"\n").replace(b"\r", b"\n")
    count = data.count(b"\n")
    if count > MAX_LINES:
        raise LogError(file, f"{count:,} lines: more than the {MAX_LINES:,} that are read")
    begins = _line_begins(data)
    top = data[: begins[-1]].decode().split("\n")
    header = _find_header(top, file, wanted)
    if header is None:
        if not data.decode().strip():
            raise LogError(file, "the log is empty")
        raise LogError(
            file,
            f"no header that names cylinder head temperatures in the first {HEADER_SEARCH} lines "
            "(looked for names such as 'CHT1', 'E1 CHT1', 'Cyl 1 CHT'); give the names of the columns",
        )
    units, start = _units_beside(top, header)
    if header.first:
        above = sum(bool(line.strip()) for line in top[: header.first])
        if above:
            notes.append(LogNote(f"{above} line{'s' * (above > 1)} above the header not read as data", 1))
    rows = Rows(data, begins[start], start + 1, header.names, header.delimiter, _named(header.names, wanted))
    for bad, what in (
        (rows.long, "more fields than the header; left out"),
        (rows.broken, "broken off; its last field is not used"),
    ):
        if bad:
            notes.append(LogNote(f"{len(bad)} row{'s' * (len(bad) > 1)} {what}", bad[0]))
    if not len(rows.lines):
        raise LogError(file, "no rows of data below the header", header.last + 1)
    restarts = tuple(row for row in rows.restarts if row < len(rows.lines))
    if restarts:
        text = f"the header is written again {len(restarts)} times"
        notes.append(LogNote(text, rows.lines.item(restarts[0])))
    return Sheet(
        tuple(header.names), tuple(units), rows.columns, rows.lines, header.last + 1, restarts, tuple(notes)
    )


def _line_begins(data: bytes) -> list[int]:
    """Where the lines begin among which a header, or units below it, can stand, and where what follows them does."""
    begins = [0]
    while len(begins) < HEADER_SEARCH + 8 and begins[-1] < len(data):
        begins.append(data.find(b"\n", begins[-1]) + 1 or len(data))
    return begins


def _named(names: Sequence[str], wanted: Sequence[str]) -> list[int]:
    """The columns whose names mean something, by themselves or to the caller: no other is read."""
    letters, tidy_wanted = letter_channels(names), set(map(tidy_name, wanted))
    return [
        i
        for i, name in enumerate(names)
        if i in letters or meaning(name) is not None or tidy_name(name) in tidy_wanted
    ]


def _find_header(lines: Sequence[str], file: str, wanted: Sequence[str]) -> _Header | None:
    best = _Header()
    near: list[str] = []
    tidy_wanted = [tidy_name(name) for name in wanted]
    top = [line if len(line) < 20_000 else "" for line in lines[:HEADER_SEARCH]]
    hints = [bool(tidy_wanted or _HINT.search(line)) for line in top]
    hinted = [i for i in range(len(top)) if any(hints[max(0, i - 1) : i + 2])]
    for delimiter in _DELIMITERS:
        split = splitter(delimiter)
        above: list[str] = []
        for i in hinted:  # with the line above and below each, in which the other half of a name may stand
            cells = [cell.strip() for cell in split(top[i])]
            joined = _joined(above, cells)
            for first, names in ((i, cells), (i - 1, joined)):
                if not names or not (hints[i] or (first < i and hints[i - 1])):
                    continue
                tidy = {tidy_name(name) for name in names}
                missing = [name for name in tidy_wanted if name not in tidy]
                score = count_roles(names) + 3 * (len(tidy_wanted) - len(missing))
                if score > best.score:
                    best = _Header(delimiter, names, first, i, score)
            above = cells
    if wanted:
        tidy_found = {tidy_name(name): name for name in best.names}
        near = list(tidy_found.values())
        for name, tidy_one in zip(wanted, tidy_wanted, strict=True):
            if tidy_one not in tidy_found:
                close = get_close_matches(tidy_one, list(tidy_found), n=1)
                hint = (
                    f"; did you mean '{tidy_found[close[0]]}'?"
                    if close
                    else f"; it has: {', '.join(near[:40])}"
                )
                line_number = best.last + 1 if best.names else None
                raise LogError(file, f"no column '{name}' in the header{hint}", line_number)
    return best if best.names else None


def _joined(above: Sequence[str], below: Sequence[str]) -> list[str]:
    """Two header lines as one: a blank in the upper one stands for the name to its left, as in
    'CHT,,,,EGT'."""
    if not any(above) or len(below) < 2:
        return []
    names, group = [], ""
    for i, cell in enumerate(below):
        group = above[i] if i < len(above) and above[i] else group
        names.append(f"{group} {cell}".strip())
    return names


def _units_beside(lines: Sequence[str], header: _Header) -> tuple[list[str], int]:
    """Units from the line below or above the header, and the first line of data."""
    split = splitter(header.delimiter)
    below, after = header.last + 1, header.last + 1
    while below < len(lines) and below < header.last + 3 and not lines[below].strip():
        below += 1
    for at in (below, header.first - 1):
        if 0 <= at < len(lines):
            cells = [cell.strip() for cell in split(lines[at])]
            filled = [cell for cell in cells if cell]
            known = sum(map(is_unit, filled))
            if filled and known >= 2 and known >= 0.3 * len(filled):
                padded = (cells + [""] * len(header.names))[: len(header.names)]
                return padded, at + 1 if at == below else after
    return [""] * len(header.names), after
