"""What a file says, as plain values (every scalar as its text), with the place of each kept beside them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import field
from typing import NamedTuple, TypeAlias, get_args

from ..dataclass import dataclass
from ..model.fields import Measure
from .equivalents import meant
from .places import Cell, DocPath, DocumentError, Key, Place, Problem
from .yaml_text import character_at

__all__ = ["DocPath", "DocumentError", "Key", "Place", "Plain", "Problem", "Source", "mapping"]

Plain: TypeAlias = "str | list[Plain] | dict[str, Plain] | None"

NULLS = frozenset(("", "~", "null", "Null", "NULL"))


class Spot(NamedTuple):
    """Where an entry of a mapping or list stands: 1-based line and column of its key and of its value."""

    key_line: int
    key_column: int
    line: int
    column: int


_START = Spot(1, 1, 1, 1)


@dataclass(slots=True)
class Source:
    """One YAML file: its plain value, and beside it the spot of every entry.

    Spots are kept by the identity of the mapping or list they are in, so ``plain`` is never changed once read.
    """

    name: str
    plain: Plain = None
    digest: bytes = b""
    problems: list[Problem] = field(default_factory=list)
    unknowns: set[tuple[int, Key]] = field(default_factory=set)
    top: Spot = _START
    spots: dict[int, dict[Key, Spot]] = field(default_factory=dict)
    raw: bytes = b""
    """The file as it was read."""
    merged: list[Mapping[str, Plain]] = field(default_factory=list)
    """What merge keys name, as it was put into others: kept, since spots go by identity."""
    before: Source | None = None
    """What this was changed from: kept, since spots go by identity."""
    sheet: str = ""
    """The sheet of a workbook a table was read from."""
    headings: Mapping[int, str] | None = None
    """Of a table, what stands over each of its columns: its spots are cells. ``None`` of a text."""

    def find(self, path: DocPath) -> tuple[Plain, Spot, int]:
        """The deepest value on ``path``, its spot, and how many steps of the path were found."""
        value, spot, depth = self.plain, self.top, 0
        for step in path:
            if isinstance(value, dict) and (word := key_in(value, str(step))) is not None:
                spot, value = self.spots[id(value)][word], value[word]
            elif isinstance(value, list) and isinstance(step, int) and step < len(value):
                spot, value = self.spots[id(value)][step], value[step]
            else:
                break
            depth += 1
        return value, spot, depth

    def place(self, path: DocPath, *, of_key: bool = False) -> Place:
        """The place of the value at ``path``, or of the key of its nearest parent that exists in this file."""
        value, spot, depth = self.find(path)
        if of_key or depth < len(path) or isinstance(value, (dict, list)):
            return self._at(spot.key_line, spot.key_column)
        return self._at(spot.line, spot.column)

    def _at(self, line: int, column: int) -> Place:
        if self.headings is None:
            return Place(self.name, line, column)
        return Cell.of(self.name, line, column, sheet=self.sheet, heading=self.headings.get(column, ""))

    def inside(self, path: DocPath, offset: int) -> Place:
        """The place of a character of the text at ``path``, ``offset`` characters from its start."""
        value, spot, depth = self.find(path)
        if not self.raw or depth < len(path) or not isinstance(value, str):
            return self.place(path)
        return Place(self.name, *character_at(self.raw, (spot.line, spot.column), value, offset))

    def holds(self, path: DocPath) -> bool:
        """Whether a value is written at ``path``."""
        return self.find(path)[2] == len(path)

    def declared_unknown(self, path: DocPath) -> bool:
        """Whether the document says ``unknown`` at ``path``."""
        if not path or not self.holds(path):
            return False
        parent, step = self.find(path[:-1])[0], path[-1]
        return (id(parent), key_in(parent, str(step)) if isinstance(parent, dict) else step) in self.unknowns

    def unknown_paths(self) -> Iterator[DocPath]:
        """Every path at which the document says ``unknown``, in its order. Cost: linear in the values, if there is any."""
        left: list[tuple[DocPath, Plain]] = [((), self.plain)] if self.unknowns else []
        while left:
            path, value = left.pop()
            steps: list[tuple[Key, Plain]] = []
            if isinstance(value, dict):
                steps = [*value.items()]
            elif isinstance(value, list):
                steps = [*enumerate(value)]
            for step, inner in reversed(steps):
                if (id(value), step) in self.unknowns:
                    yield (*path, step)
                elif isinstance(inner, (dict, list)):
                    left.append(((*path, step), inner))


_MEASURES = get_args(Measure)


def key_in(value: Mapping[str, Plain], word: str) -> str | None:
    """The key that says ``word``: itself, or for an indication another word for it, as 'RPM' says 'engine speed'."""
    if word in value:
        return word
    if word not in _MEASURES:
        return None
    return next((key for key in value if meant(key, _MEASURES) == word), None)


def mapping(value: Plain) -> Mapping[str, Plain]:
    """A value as a mapping; an empty one if it is anything else."""
    return value if isinstance(value, dict) else {}
