"""Changes of a document, as data: what is written, taken out or exchanged, and where.

A remedy is an edit of the document, so that it can be tried on a copy before anyone is told of it. Values are plain, as a
person writes them in YAML: texts, lists and mappings of texts.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TypeAlias

from ..dataclass import dataclass

Path: TypeAlias = tuple[str | int, ...]
"""Steps from the top of a document to a value: ``("wire_runs", "E3", "gauge")``."""

Written: TypeAlias = "str | Sequence[Written] | Mapping[str, Written]"
"""A plain value, as it is written in a document."""


Key: TypeAlias = "tuple[Path, object] | tuple[Path]"
"""What a change does, for a dictionary: of two changes that do the same it is the same."""


@dataclass(frozen=True, slots=True)
class Put:
    """Write ``value`` at ``path``: in place of what stands there, or as a new word or thing where nothing does."""

    path: Path
    value: Written

    @property
    def key(self) -> Key:
        """What it does."""
        return self.path, (self.value if isinstance(self.value, str) else (repr(self.value),))


@dataclass(frozen=True, slots=True)
class Drop:
    """Take out what stands at ``path``, with its word."""

    path: Path

    @property
    def key(self) -> Key:
        """What it does."""
        return (self.path,)


@dataclass(frozen=True, slots=True)
class Swap:
    """Exchange the values at two paths."""

    path: Path
    other: Path

    @property
    def key(self) -> Key:
        """What it does, whichever of the two is told first."""
        return (), frozenset((self.path, self.other))


Change: TypeAlias = "Put | Drop | Swap"


@dataclass(frozen=True, slots=True)
class Edit:
    """Changes that belong together.

    Attributes:
        changes: in the order in which they are made.
        words: what a mechanic does, in the imperative, without a full stop: 'exchange the leads of T14 at selector'.
        must_measure: whether it is done only once a measurement shows the figure: it is tried, but never written unmeasured.
        wrong: what is wrong as it stands, where that can be said: 'the leads of T14 are crossed at selector'.
    """

    changes: tuple[Change, ...]
    words: str
    wrong: str = ""
    must_measure: bool = False

    @property
    def key(self) -> tuple[Key, ...]:
        """What it does: of two edits that do the same it is the same, whatever their words."""
        return tuple(change.key for change in self.changes)

    @property
    def paths(self) -> tuple[Path, ...]:
        """Every path it changes, in the order of the changes."""
        return tuple(
            p for c in self.changes for p in ((c.path, c.other) if isinstance(c, Swap) else (c.path,))
        )

    @property
    def touches(self) -> tuple[tuple[str, str], ...]:
        """Section and id of every thing it changes, each once."""
        return tuple(dict.fromkeys((str(p[0]), str(p[1])) for p in self.paths if len(p) > 1))
