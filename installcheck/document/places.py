"""Where things stand in a file, and what is wrong there."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple, TypeAlias

Key: TypeAlias = "str | int"
DocPath: TypeAlias = "tuple[Key, ...]"


class Place(NamedTuple):
    """Where a value stands: file, 1-based line and column."""

    file: str
    line: int
    column: int

    @property
    def sheet(self) -> str:
        """The sheet of a workbook; nothing in a text."""
        return ""

    def __str__(self) -> str:
        return f"{self.file}:{self.line}:{self.column}"


class Cell(Place):
    """A cell of a sheet of a workbook, by its row and column."""

    in_sheet: str

    @classmethod
    def of(cls, file: str, sheet: str, row: int, column: int) -> Cell:
        """The cell of a sheet."""
        made = cls(file, row, column)
        made.in_sheet = sheet
        return made

    @property
    def sheet(self) -> str:
        """The sheet of a workbook."""
        return self.in_sheet

    def __eq__(self, other: object) -> bool:
        return super().__eq__(other) and isinstance(other, Place) and self.sheet == other.sheet

    def __hash__(self) -> int:
        return super().__hash__()

    def __str__(self) -> str:
        return f"{self.file}, sheet '{self.sheet}', row {self.line}, column {column_letters(self.column)}"


def column_letters(number: int) -> str:
    """The letters of a column of a sheet by its 1-based number.

    >>> column_letters(1), column_letters(28)
    ('A', 'AB')
    """
    letters = ""
    while number > 0:
        number, rest = divmod(number - 1, 26)
        letters = chr(65 + rest) + letters
    return letters


class Problem(NamedTuple):
    """One thing wrong with a document: where, what, and the offending text."""

    place: Place
    message: str
    text: str = ""

    def __str__(self) -> str:
        return f"{self.place}: {self.message}"


class DocumentError(Exception):
    """A document that cannot be read. ``problems`` holds everything found, sorted by place."""

    def __init__(self, problems: Sequence[Problem]) -> None:
        self.problems = tuple(
            sorted(set(problems), key=lambda p: (p.place.file, p.place.line, p.place.column, p.message))
        )
        super().__init__("\n".join(str(p) for p in self.problems))
