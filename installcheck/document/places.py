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

    def __str__(self) -> str:
        return f"{self.file}:{self.line}:{self.column}"


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
