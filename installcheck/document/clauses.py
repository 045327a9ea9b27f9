"""A line of text with commas as its clauses, each with where it begins."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple


class Clause(NamedTuple):
    """A part of a line: its text, and the character of the line it begins at."""

    text: str
    offset: int

    def cut(self, start: int, end: int | None = None) -> Clause:
        """A piece of it, without the spaces at its ends."""
        piece = self.text[start:end]
        lead = len(piece) - len(piece.lstrip())
        return Clause(piece.strip(), self.offset + start + lead)


def clauses(text: str) -> Iterator[Clause]:
    """The clauses of a line; an empty one stays, so that it can be told."""
    at = 0
    for piece in text.split(","):
        yield Clause(text, 0).cut(at, at + len(piece))
        at += len(piece) + 1
