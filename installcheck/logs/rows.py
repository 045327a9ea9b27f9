"""The rows of a log, cut into cells: plain lines all at once, other lines one by one."""

import csv
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from .cells import MOST_WORDS, WORD, Cells, Column, Words

Indices = NDArray[np.intp]
Mask = NDArray[np.bool_]

_FIRST, _TOGETHER = 1 << 14, 1 << 20
"""Bytes of the lines that are looked at together: few at first, as all texts are new then, and never more than a processor
holds near."""
_LONGEST = MOST_WORDS * WORD
_MASKS = np.array(
    [
        [(1 << 8 * min(max(0, length - at), WORD)) - 1 for length in range(_LONGEST + 1)]
        for at in range(0, _LONGEST, WORD)
    ],
    dtype=np.uint64,
)
"""What of each word belongs to a cell of this many bytes."""


def splitter(delimiter: str | None) -> Callable[[str], list[str]]:
    """What cuts a line into cells; `delimiter` ``None`` stands for runs of blanks."""

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


class _Block:
    """Lines that are looked at together: where each starts and stops, and how wide it is by its delimiters.

    `edges` are the bytes between cells; `first` tells for each line which of them is before its first cell. Without a
    delimiter each line is one cell.
    """

    def __init__(self, data: bytes, begin: int, end: int, delimiter: str | None) -> None:
        self._data, self._begin, self._end, self.delimiter = data, begin, end, delimiter
        self._bytes = np.frombuffer(data, np.uint8, end - begin, begin)
        newlines = self._bytes == ord("\n")
        at = np.flatnonzero(newlines if delimiter is None else newlines | (self._bytes == ord(delimiter)))
        last = np.flatnonzero(newlines[at]) + 1
        self.edges = np.concatenate(([-1], at)) + begin
        if not newlines[-1]:
            self.edges, last = np.append(self.edges, end), np.append(last, len(self.edges))
        self.first = np.append(0, last[:-1])
        self.widths = last - self.first
        self.starts, self.stops = self.edges[self.first] + 1, self.edges[last]

    def __len__(self) -> int:
        return len(self.stops)

    def beyond(self, width: int) -> Indices:
        """How many bytes of each line stand behind its cells of a width; 0 if it has fewer."""
        rest: Indices = self.stops - self.edges[self.first + np.minimum(width, self.widths)]
        return rest

    def visible(self) -> Mask:
        """Which lines hold a character of ASCII that is to be seen."""
        return self._lines_of((self._bytes > ord(" ")) & (self._bytes <= ord("~")))

    def quoted(self) -> Mask:
        """Which lines hold a quote."""
        there = self._data.find(b'"', self._begin, self._end) >= 0
        return self._lines_of(self._bytes == ord('"')) if there else np.zeros(len(self), dtype=bool)

    def holding(self, text: bytes) -> Mask:
        """Which lines hold a text."""
        lines = np.zeros(len(self), dtype=bool)
        at = self._data.find(text, self._begin, self._end)
        while at >= 0:
            line = np.searchsorted(self.stops, at)
            lines[line] = True
            at = self._data.find(text, self.stops[line], self._end)
        return lines

    def _lines_of(self, bytes_: Mask) -> Mask:
        """Which lines have any of some bytes."""
        lines: Mask = np.logical_or.reduceat(bytes_, self.starts - self._begin)
        return lines

    def texts(self, which: Mask) -> list[tuple[int, str]]:
        """Some of the lines as text, each with its place in the block, and no blank ones."""
        places = np.flatnonzero(which).tolist()
        lines = self._data[self._begin : self._end].decode().split("\n") if places else []
        return [(place, line) for place in places if (line := lines[place]).strip()]


class Rows:
    """The rows below the header, all as wide as it: blanks beyond it dropped, short rows filled up, longer ones left out.

    `columns` are the cells of each column that is read, `lines` the line number of each row, `restarts` the rows before
    which the header is written again; `long` and `broken` the numbers of lines left out and of those that break off.
    """

    def __init__(
        self,
        data: bytes,
        start: int,
        line: int,
        names: Sequence[str],
        delimiter: str | None,
        read: Iterable[int],
    ) -> None:
        """Cut UTF-8 `data` from byte `start` on, where the line numbered `line` begins, into columns of these `names`; keep
        those whose indices are to be `read`."""
        self._data, self._start = data, start
        self._names, self._delimiter, self._split = list(names), delimiter, splitter(delimiter)
        # The longest name: where it does not stand, no header does.
        self._sign = max(range(len(names)), key=lambda i: len(names[i]))
        # The word that begins at each byte.
        self._words = np.ndarray(max(0, len(data) - WORD + 1), "<u8", data, strides=1)
        self._columns = {i: Column() for i in read}
        self._again: list[int] = []
        self.long: list[int] = []
        self.broken: list[int] = []
        kept: list[Indices] = [np.zeros(0, np.intp)]
        for block in self._blocks():
            plain = self._put_plain(block)
            kept.append(line + np.flatnonzero(plain))
            kept.append(self._put_others((line + place, text) for place, text in block.texts(~plain)))
            line += len(block)
        self.lines: Indices = np.concatenate(kept)
        order = np.argsort(self.lines, kind="stable")
        self.lines = self.lines[order]
        self.restarts: list[int] = np.searchsorted(self.lines, self._again).tolist()
        self.columns: dict[int, Cells] = {i: column.cells(order) for i, column in self._columns.items()}

    def _blocks(self) -> Iterator[_Block]:
        """All lines, many together."""
        data, begin, size = self._data, self._start, _FIRST
        while begin < len(data):
            end = min(begin + size, len(data))
            if end < len(data):
                end = data.rfind(b"\n", begin, end) + 1 or data.find(b"\n", end) + 1 or len(data)
            # A line so long is no plain one.
            yield _Block(data, begin, end, self._delimiter if end - begin <= _TOGETHER else None)
            begin, size = end, min(2 * size, _TOGETHER)

    def _put_plain(self, block: _Block) -> Mask:
        """Put the cells of all lines away that can be cut at their delimiters, and tell which lines these are."""
        width = len(self._names)
        if block.delimiter is None:
            return np.zeros(len(block), dtype=bool)
        # As wide as the header, or wider by cells that hold nothing.
        plain: Mask = block.beyond(width) == block.widths - width
        plain &= block.stops + _LONGEST <= len(self._data)
        plain &= ~(block.quoted() | block.holding(self._names[self._sign].encode()))
        if width == 1 or block.delimiter.isspace():
            plain &= block.visible()
        before = block.first[plain] + np.array(list(self._columns), np.intp)[:, None]
        starts = block.edges[before]
        starts += 1
        before += 1
        lengths = block.edges[before]
        lengths -= starts
        if (lengths > _LONGEST).any():
            fits = (lengths <= _LONGEST).all(axis=0)
            plain[plain] = fits
            starts, lengths = starts[:, fits], lengths[:, fits]
        if plain.any():
            for column, start, length in zip(self._columns.values(), starts, lengths, strict=True):
                column.add_words(self._pack(start, length))
        return plain

    def _pack(self, starts: Indices, lengths: Indices) -> Words:
        """The words of cells that start at these bytes."""
        words = np.empty((max(1, -(-int(lengths.max()) // WORD)), len(starts)), np.uint64)
        for n, word in enumerate(words):
            np.bitwise_and(self._words[starts + WORD * n], _MASKS[n][lengths], out=word)
        return words

    def _put_others(self, lines: Iterable[tuple[int, str]]) -> Indices:
        """Put the cells of lines away that need a closer look, and return the numbers of those that are rows."""
        rows: list[list[str]] = []
        numbers: list[int] = []
        sign = self._names[self._sign]
        for number, line in lines:
            cells = self._even_out(self._split(line), number)
            if cells is None:
                continue
            if cells[self._sign].strip() == sign and [cell.strip() for cell in cells] == self._names:
                self._again.append(number)
            else:
                rows.append(cells)
                numbers.append(number)
        for i, column in enumerate(zip(*rows, strict=True)):
            if i in self._columns:
                self._columns[i].add(column)
        return np.array(numbers, np.intp)

    def _even_out(self, cells: list[str], number: int) -> list[str] | None:
        """The cells of a line, as many as the header has; ``None`` where more of them hold something."""
        width = len(self._names)
        if len(cells) > width:
            if any(cell.strip() for cell in cells[width:]):
                self.long.append(number)
                return None
            return cells[:width]
        if len(cells) < width:
            if len(cells) != self._usual:
                self.broken.append(number)
                # The last cell of a row that breaks off may have lost digits: 412 cut to 41.
                cells = cells[:-1]
            return cells + [""] * (width - len(cells))
        return cells

    @cached_property
    def _usual(self) -> int:
        """How many cells most lines have."""
        found: Counter[int] = Counter()
        for block in self._blocks():
            unsure = block.quoted() | ~block.visible() | (block.delimiter is None)
            widths = np.where(unsure, -1, block.widths).tolist()
            for place, line in block.texts(unsure):
                widths[place] = len(self._split(line))
            found.update(widths)
        del found[-1]
        return max(found, key=found.__getitem__)
