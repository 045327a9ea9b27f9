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
    def cell(self) -> str:
        """The row and column of a table in words; nothing in a text."""
        return ""

    @property
    def short(self) -> str:
        """The file and the line, for a list in which the column would be too much."""
        return f"{self.file}:{self.line}"

    @property
    def spoken(self) -> str:
        """The file and the line in a sentence."""
        return f"{self.file}, line {self.line}"

    def __str__(self) -> str:
        return f"{self.file}:{self.line}:{self.column}"


class Cell(Place):
    """A cell of a table: its row and column, the sheet of a workbook it is in, or the heading of a text's column."""

    sheet: str
    heading: str

    @classmethod
    def of(cls, file: str, row: int, column: int, *, sheet: str = "", heading: str = "") -> Cell:
        """The cell of a sheet, or of a text with a heading over it."""
        made = cls(file, row, column)
        made.sheet, made.heading = sheet, heading
        return made

    @property
    def cell(self) -> str:
        """The row and column in words."""
        if self.sheet:
            return f"sheet '{self.sheet}' cell {column_letters(self.column)}{self.line}"
        return f"row {self.line} {self.heading}".rstrip()

    @property
    def short(self) -> str:
        """The file and the row, or the cell of a workbook."""
        return str(self) if self.sheet else f"{self.file} row {self.line}"

    @property
    def spoken(self) -> str:
        """The file and the cell in a sentence."""
        return str(self)

    def __eq__(self, other: object) -> bool:
        return super().__eq__(other) and isinstance(other, Place) and self.cell == other.cell

    def __hash__(self) -> int:
        return super().__hash__()

    def __str__(self) -> str:
        return f"{self.file} {self.cell}"


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
