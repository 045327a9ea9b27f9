"""The cells of one column of a log: each different text once, and which of them stands in each row.

A recorder writes the same few thousand texts again and again, so a long log fits into little and each text is read once.
"""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from itertools import count
from typing import overload

import numpy as np
from numpy.typing import NDArray

from ..dataclass import dataclass

Codes = NDArray[np.int32]


@dataclass(frozen=True, slots=True, eq=False)
class Cells(Sequence[str]):
    """The cells of a column: its different `texts` as they are first met, and of each row the number of its text (`codes`)."""

    texts: Sequence[str]
    codes: Codes

    @classmethod
    def of(cls, cells: Iterable[str]) -> "Cells":
        """The cells as they stand in the rows."""
        column = Column()
        column.add(list(cells))
        return column.cells()

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
        """In how many rows each text stands."""
        return np.bincount(self.codes, minlength=len(self.texts))

    def first_row(self, text: str) -> int:
        """The first row with a text that is there."""
        return int(np.argmax(self.codes == self.texts.index(text)))


class Column:
    """A column that is being read, some rows at a time."""

    def __init__(self) -> None:
        # The number of each text, given when it is first asked for.
        self._numbers: defaultdict[str, int] = defaultdict(count().__next__)
        self._codes: list[Codes] = []

    def add(self, cells: Sequence[str]) -> None:
        """Put the cells of the next rows below."""
        self._codes.append(np.fromiter(map(self._numbers.__getitem__, cells), np.int32, len(cells)))

    def cells(self) -> Cells:
        """What has been read."""
        return Cells(
            list(self._numbers), np.concatenate(self._codes) if self._codes else np.zeros(0, np.int32)
        )
