"""A recorder log as text: bytes decoded, lines split, the header found, rows cut into cells."""

import csv
import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import field
from difflib import get_close_matches
from functools import cached_property

from ..dataclass import dataclass
from .cells import Cells, Column
from .columns import count_roles, is_unit, letter_channels, meaning, tidy_name

MAX_BYTES = 64 * 1024 * 1024
"""Some 120 hours of 20 columns at a row a second."""
_TOGETHER = 4096
"""Lines that are cut before their cells are put away: few enough to hold."""
HEADER_SEARCH = 200
"""Lines among which the header is looked for."""
# What a line must hold to be worth a closer look: most lines of a log are no header.
_HINT = re.compile(r"cht|cyl|head|c[ _-]?0?1", re.IGNORECASE)
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
    lines: tuple[int, ...]
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


def decode(raw: bytes) -> tuple[str, list[LogNote]]:
    """Bytes as text in whatever encoding they are, and what had to be guessed."""
    notes: list[LogNote] = []
    encoding = _encoding(raw)
    if encoding is None:
        try:
            text = raw.decode("utf-8")
        except UnicodeDecodeError as bad:
            line = raw.count(b"\n", 0, bad.start) + 1
            notes.append(LogNote("not UTF-8 from here on; the whole log is read as Windows Latin-1", line))
            text = raw.decode("cp1252", errors="replace")
    else:
        text = raw.decode(encoding, errors="replace")
    if "\0" in text:
        line = text.count("\n", 0, text.index("\0")) + 1
        notes.append(LogNote(f"{text.count(chr(0)):,} NUL characters left out", line))
        text = text.replace("\0", "")
    return text.lstrip("\ufeff"), notes


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
    text, notes = decode(raw)
    if "\r" in text:
        text = text.replace("\r\n", "\n").replace("\r", "\n")
    lines = text.split("\n")
    del text
    header = _find_header(lines, file, wanted)
    units, start = _units_beside(lines, header)
    if header.first:
        above = sum(bool(line.strip()) for line in lines[: header.first])
        if above:
            notes.append(LogNote(f"{above} line{'s' * (above > 1)} above the header not read as data", 1))
    return _cut(lines, start, header, _named(header.names, wanted), units, file, notes)


def _named(names: Sequence[str], wanted: Sequence[str]) -> list[int]:
    """The columns whose names mean something, by themselves or to the caller: no other is read."""
    letters, tidy_wanted = letter_channels(names), set(map(tidy_name, wanted))
    return [
        i
        for i, name in enumerate(names)
        if i in letters or meaning(name) is not None or tidy_name(name) in tidy_wanted
    ]


def _splitter(delimiter: str | None) -> Callable[[str], list[str]]:
    def quoted(line: str) -> list[str]:
        try:
            # A field never runs over the end of a line: an unclosed quote would otherwise swallow the rest of
            # the log.
            return next(csv.reader([line], delimiter=delimiter or " ", skipinitialspace=True), [])
        except csv.Error:
            return []

    def split(line: str) -> list[str]:
        return quoted(line) if '"' in line else line.split(delimiter)

    return split


def _find_header(lines: Sequence[str], file: str, wanted: Sequence[str]) -> _Header:
    best = _Header()
    near: list[str] = []
    tidy_wanted = [tidy_name(name) for name in wanted]
    top = [line if len(line) < 20_000 else "" for line in lines[:HEADER_SEARCH]]
    hints = [bool(tidy_wanted or _HINT.search(line)) for line in top]
    hinted = [i for i in range(len(top)) if any(hints[max(0, i - 1) : i + 2])]
    for delimiter in _DELIMITERS:
        split = _splitter(delimiter)
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
    if not best.names:
        if not any(line.strip() for line in lines):
            raise LogError(file, "the log is empty")
        raise LogError(
            file,
            f"no header that names cylinder head temperatures in the first {HEADER_SEARCH} lines "
            "(looked for names such as 'CHT1', 'E1 CHT1', 'Cyl 1 CHT'); give the names of the columns",
        )
    return best


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
    split = _splitter(header.delimiter)
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


def _cut(
    lines: Sequence[str],
    start: int,
    header: _Header,
    named: Sequence[int],
    units: list[str],
    file: str,
    notes: list[LogNote],
) -> Sheet:
    names = header.names
    numbers = [i + 1 for i in range(start, len(lines)) if lines[i].strip()]
    rows = _Rows(header, lambda: _widths(lines, numbers, header.delimiter))
    columns = {i: Column() for i in named}
    kept: list[int] = []
    restarts: list[int] = []
    for at in range(0, len(numbers), _TOGETHER):
        even, their, again = rows.cut(lines, numbers[at : at + _TOGETHER])
        restarts += [len(kept) + n for n in again]
        kept += their
        for i, cells in enumerate(zip(*even, strict=True)):
            if i in columns:
                columns[i].add(cells)
    for bad, what in (
        (rows.long, "more fields than the header; left out"),
        (rows.broken, "broken off; its last field is not used"),
    ):
        if bad:
            notes.append(LogNote(f"{len(bad)} row{'s' * (len(bad) > 1)} {what}", bad[0]))
    restarts = [n for n in restarts if n < len(kept)]
    if restarts:
        notes.append(LogNote(f"the header is written again {len(restarts)} times", kept[restarts[0]]))
    if not kept:
        raise LogError(file, "no rows of data below the header", header.last + 1)
    told = {i: column.cells() for i, column in columns.items()}
    return Sheet(
        tuple(names), tuple(units), told, tuple(kept), header.last + 1, tuple(restarts), tuple(notes)
    )


def _widths(lines: Sequence[str], numbers: Sequence[int], delimiter: str | None) -> dict[int, int]:
    """How many rows have how many fields."""
    found: dict[int, int] = {}
    split = _splitter(delimiter)
    for number in numbers:
        line = lines[number - 1]
        plain = delimiter is not None and '"' not in line
        width = line.count(str(delimiter)) + 1 if plain else len(split(line))
        found[width] = found.get(width, 0) + 1
    return found


class _Rows:
    """Cuts lines into rows of one width: blanks beyond the header dropped, short rows filled up, others left out."""

    def __init__(self, header: _Header, widths: Callable[[], dict[int, int]]) -> None:
        self.delimiter, self.split = header.delimiter, _splitter(header.delimiter)
        self.names, self.width = header.names, len(header.names)
        self._widths = widths
        # Without a name a first cell tells no header: then rows must be known to be uneven before any is looked at.
        self.even = bool(self.names[0]) or set(widths()) <= {self.width}
        self.long: list[int] = []
        self.broken: list[int] = []

    def cut(
        self, lines: Sequence[str], numbers: Sequence[int]
    ) -> tuple[list[list[str]], list[int], list[int]]:
        """The rows of some lines, their numbers, and before which of these rows the header is written again."""
        some = [lines[number - 1] for number in numbers]
        plain = not any('"' in line for line in some)
        rows = [line.split(self.delimiter) for line in some] if plain else list(map(self.split, some))
        kept = list(numbers)
        if not self.even or set(map(len, rows)) - {self.width}:
            self.even = False
            rows, kept = self._even_out(rows, kept)
        first = self.names[0]
        if (first or not self.even) and first in {cell.strip() for cell in {row[0] for row in rows}}:
            return _without_headers(rows, kept, self.names)
        return rows, kept, []

    @cached_property
    def usual(self) -> int:
        """How many fields most rows of the log have."""
        widths = self._widths()
        return max(widths, key=lambda n: widths[n])

    def _even_out(self, rows: list[list[str]], numbers: list[int]) -> tuple[list[list[str]], list[int]]:
        width = self.width
        even: list[list[str]] = []
        kept: list[int] = []
        for row, number in zip(rows, numbers, strict=True):
            if len(row) > width:
                if any(cell.strip() for cell in row[width:]):
                    self.long.append(number)
                    continue
                row = row[:width]
            elif len(row) < width:
                if len(row) != self.usual:
                    self.broken.append(number)
                    # The last cell of a row that breaks off may have lost digits: 412 cut to 41.
                    row = row[:-1]
                row = row + [""] * (width - len(row))
            even.append(row)
            kept.append(number)
        return even, kept


def _without_headers(
    rows: list[list[str]], numbers: list[int], names: Sequence[str]
) -> tuple[list[list[str]], list[int], list[int]]:
    kept_rows: list[list[str]] = []
    kept_numbers: list[int] = []
    restarts: list[int] = []
    for row, number in zip(rows, numbers, strict=True):
        if [cell.strip() for cell in row] == list(names):
            restarts.append(len(kept_rows))
        else:
            kept_rows.append(row)
            kept_numbers.append(number)
    return kept_rows, kept_numbers, restarts
