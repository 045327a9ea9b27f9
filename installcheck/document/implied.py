"""What a document implies of a thing, and where it said so: the path of a text, and of a word within it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import field
from typing import NamedTuple

from ..dataclass import dataclass
from .places import DocPath
from .source import Plain


class Said(NamedTuple):
    """Where something was said: the path of a value, and which character of its text, or -1 for the whole."""

    path: DocPath
    offset: int = -1
    words: str = ""


class Layer(NamedTuple):
    """Fields said once for many things: their values, the path they stand at, and whose they are in words."""

    values: Mapping[str, Plain]
    path: DocPath
    words: str


@dataclass(slots=True)
class Implied:
    """What is implied of one thing.

    Attributes:
        layers: fields said elsewhere, nearest first; the thing's own words win.
        marks: paths within the thing, whose text was read from a line, and where in it.
        own: words the thing writes itself.
    """

    layers: tuple[Layer, ...] = ()
    marks: dict[DocPath, Said] = field(default_factory=dict)
    own: Mapping[str, Plain] = field(default_factory=dict)

    def said(self, inner: DocPath) -> Said | None:
        """Where the value at a path within the thing was said; ``None`` if the thing writes it itself, or nobody does."""
        for length in range(len(inner), 0, -1):
            mark = self.marks.get(inner[:length])
            if mark is not None:
                return mark if mark.offset >= 0 else Said((*mark.path, *inner[length:]), -1, mark.words)
        word = str(inner[0])
        if word in self.own:
            return None
        for layer in self.layers:
            if word in layer.values:
                return Said((*layer.path, *inner), -1, layer.words)
        return None

    def words(self) -> Iterator[tuple[str, Said]]:
        """Every field that is implied, with where it was said."""
        told = dict.fromkeys(str(path[0]) for path in self.marks)
        told.update(dict.fromkeys(word for layer in reversed(self.layers) for word in layer.values))
        for word in told:
            said = self.said((word,))
            if said is not None:
                yield word, said
