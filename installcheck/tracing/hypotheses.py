"""What could be wrong: one hypothesis a fault at a place, with the sizes it can have."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import numpy as np

from ..dataclass import dataclass
from ..document.source import DocPath
from .changes import World

SIZES_OHM: tuple[float, ...] = tuple(float(r) for r in np.geomspace(0.03, 30_000.0, 19))
"""ohm a bad joint may have, before the size that explains is sought between them."""


@dataclass(frozen=True, slots=True)
class Member:
    """One size or sort of a fault: the world it makes, its size in ``Hypothesis.unit``, or the words that tell its sort."""

    world: World
    size: float | None = None
    sort: str = ""


@dataclass(frozen=True, slots=True, eq=False)
class Hypothesis:
    """One thing that could be wrong.

    Attributes:
        kind: as in the weights: 'open', 'bad joint'...
        at: ids of what it is in: a wire, a joint, a sender, a gauge.
        text: in words, without its size or sort.
        members: the sizes or sorts it can have; one for what has none.
        kind_of_size, unit: of the sizes, to tell the one that explains; empty where there is none.
        make: the world of any size between those of the members.
        path: where the document tells of the thing.
        where: zone of the place; empty if it is not known.
        weight: what its kind's weight is multiplied by; of two at once, the weights of both.
        kinds: of two at once, the kind of each.
    """

    kind: str
    at: tuple[str, ...]
    text: str
    members: tuple[Member, ...]
    kind_of_size: str = ""
    unit: str = ""
    make: Callable[[float], World] | None = None
    path: DocPath = ()
    where: str = ""
    weight: float = 1.0
    kinds: tuple[str, ...] = ()

    @property
    def key(self) -> str:
        """Kind and place, by which a person or a record names it."""
        kind = f"{self.kind} ({' and '.join(self.kinds)})" if self.kinds else self.kind
        return f"{kind} at {', '.join(self.at)}"


def of_one(
    kind: str, at: Sequence[str], text: str, world: World, path: DocPath, where: str = ""
) -> Hypothesis:
    """A fault without a size."""
    return Hypothesis(kind, tuple(at), text, (Member(world),), path=path, where=where)


def of_sizes(
    kind: str,
    at: Sequence[str],
    text: str,
    sizes: Sequence[float],
    make: Callable[[float], World],
    of: tuple[str, str],
    path: DocPath,
    where: str = "",
) -> Hypothesis:
    """A fault that has a size; ``of`` is the kind of quantity and the unit it is told in, sizes in SI."""
    members = tuple(Member(make(s), s) for s in sizes)
    return Hypothesis(kind, tuple(at), text, members, of[0], of[1], make, path, where)


def of_sorts(
    kind: str,
    at: Sequence[str],
    text: str,
    sorts: Sequence[tuple[str, World]],
    path: DocPath,
    where: str = "",
) -> Hypothesis:
    """A fault that has one of several sorts: another part, and which one."""
    members = tuple(Member(world, sort=sort) for sort, world in sorts)
    return Hypothesis(kind, tuple(at), text, members, path=path, where=where)
