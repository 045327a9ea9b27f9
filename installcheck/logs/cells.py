"""The cells of one column of a log: different texts, and which of them stands in each row.

A recorder writes the same few thousand texts again and again, so a long log fits into little and each text is read once.
"""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from itertools import count
from typing import overload

import numpy as np
from numpy.typing import NDArray

from ..dataclass import dataclass

Codes = NDArray[np.int32]
Words = NDArray[np.uint64]

WORD = 8
"""Bytes of a word."""
MOST_WORDS = 8
"""Words of the longest cell that is kept as words."""
_NO_TEXT = np.uint64(2**64 - 1)
"""A word of no text: UTF-8 has no such byte."""
_MIXERS = np.array([0x9E3779B97F4A7C15 * n % 2**64 for n in range(1, 2 * MOST_WORDS, 2)], dtype=np.uint64)
"""The golden ratio of 64 bits and odd multiples: the highest bits of words times these tell texts apart that differ little."""
_LARGEST_TABLE = 1 << 18


@dataclass(frozen=True, slots=True, eq=False)
class Cells(Sequence[str]):
    """The cells of a column: `texts`, hardly any of them twice, and of each row the number of its text (`codes`)."""

    texts: Sequence[str]
    codes: Codes

    @classmethod
    def of(cls, cells: Iterable[str]) -> "Cells":
        """The cells as they stand in the rows."""
        column = Column()
        column.add(list(cells))
        return column.cells()

    def __iter__(self) -> Iterator[str]:
        return map(self.texts.__getitem__, self.codes.tolist())

    def __len__(self) -> int:
        return len(self.codes)

    @overload
    def __getitem__(self, row: int) -> str: ...
    @overload
    def __getitem__(self, row: slice) -> "Cells": ...
    def __getitem__(self, row: int | slice) -> "str | Cells":
        if isinstance(row, slice):
            return Cells(self.texts, self.codes[row])
        return self.texts[int(self.codes[row])]

    def counts(self) -> NDArray[np.intp]:
        """In how many rows each of the texts stands."""
        return np.bincount(self.codes, minlength=len(self.texts))


class Column:
    """A column that is being read, some rows at a time, as texts or as words.

    Words hold the UTF-8 bytes of cells, eight in each and the first in the lowest byte, filled up with zeros.
    """

    def __init__(self) -> None:
        # What came as text has its own numbers, each given when it is first asked for.
        self._numbers: defaultdict[str, int] = defaultdict(count().__next__)
        # (words, texts) of what came as words; and where the hash of a text says, its number.
        self._words = np.full((1, 1), _NO_TEXT)
        self._table = np.zeros(256, np.int32)
        self._codes: list[tuple[Codes, bool]] = []

    def add(self, cells: Sequence[str]) -> None:
        """Put the cells of the next rows below."""
        codes = np.fromiter(map(self._numbers.__getitem__, cells), np.int32, len(cells))
        self._codes.append((codes, False))

    def add_words(self, words: Words) -> None:
        """Put the cells of the next rows below, (words, rows)."""
        most = max(len(words), len(self._words))
        words, self._words = _as_deep(words, most), _as_deep(self._words, most)
        slots = self._slots(words)
        codes = self._table[slots]
        new = np.flatnonzero(_differ(self._words, codes, words))
        if len(new):
            slots = slots[new]
            # One row stands for all of its slot but those that differ from it, which stand for themselves.
            self._table[slots] = new
            like = self._table[slots]
            like = np.where(_differ(words, like, words[:, new]), new, like)
            own = new[like == new]
            codes[own] = np.arange(len(own)) + self._words.shape[1]
            self._table[slots] = codes[new] = codes[like]
            self._words = np.append(self._words, words[:, own], axis=1)
            known = self._words.shape[1]
            if len(self._table) < min(16 * known, _LARGEST_TABLE):
                self._table = np.zeros(4 * len(self._table), np.int32)
                self._table[self._slots(self._words)] = np.arange(known)
        self._codes.append((codes, True))

    def _slots(self, words: Words) -> NDArray[np.int64]:
        """Where in the table the numbers of texts are looked for; further words of zeros change nothing."""
        mixed = words[0] * _MIXERS[0]
        for word, mixer in zip(words[1:], _MIXERS[1:], strict=False):
            mixed += word * mixer
        slots: NDArray[np.int64] = (mixed >> np.uint64(65 - len(self._table).bit_length())).view(np.int64)
        return slots

    def cells(self, order: NDArray[np.intp] | None = None) -> Cells:
        """What has been read, its rows in another `order` if one is given."""
        joined = b"\n".join(_bytes(self._words[:, 1:]).tolist()).decode()
        texts = joined.split("\n") if self._words.shape[1] > 1 else []
        codes = [codes - 1 if of_words else codes + len(texts) for codes, of_words in self._codes]
        rows = np.concatenate([np.zeros(0, np.int32), *codes])
        return Cells(texts + list(self._numbers), rows if order is None else rows[order])


def _bytes(words: Words) -> NDArray[np.bytes_]:
    """The bytes each column of words stands for."""
    return np.ascontiguousarray(words.T, "<u8").view(f"S{WORD * len(words)}").ravel()


def _as_deep(words: Words, most: int) -> Words:
    """As many words of each text, those it has not zeros."""
    return words if len(words) == most else np.pad(words, ((0, most - len(words)), (0, 0)))


def _differ(words: Words, at: NDArray[np.integer], others: Words) -> NDArray[np.bool_]:
    """Which of the texts at these places are not these others."""
    differ: NDArray[np.bool_] = words[0][at] != others[0]
    for word, other in zip(words[1:], others[1:], strict=True):
        differ |= word[at] != other
    return differ
