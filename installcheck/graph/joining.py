"""What hangs together: groups, sets that are joined, and what every way to a thing passes."""

from __future__ import annotations

from collections import deque
from collections.abc import Hashable, Iterable, Iterator, Mapping, Sequence
from typing import Generic, TypeVar

T = TypeVar("T", bound=Hashable)


class Joined(Generic[T]):
    """Sets that are joined two by two; each is told by one of its members. Nearly constant cost for each step.

    Source: R. E. Tarjan, Efficiency of a good but not linear set union algorithm, 1975 (halving of paths, union by size).
    """

    def __init__(self) -> None:
        self._over: dict[T, T] = {}
        self._sizes: dict[T, int] = {}

    def __getitem__(self, one: T) -> T:
        """The member that tells of the set of ``one``; of itself alone if it was joined to nothing."""
        over = self._over
        if one not in over:
            over[one], self._sizes[one] = one, 1
            return one
        while over[one] != one:
            over[one] = one = over[over[one]]
        return one

    def union(self, one: T, other: T) -> None:
        """Make the sets of two members one."""
        small, large = self[one], self[other]
        if small == large:
            return
        if self._sizes[small] > self._sizes[large]:
            small, large = large, small
        self._over[small] = large
        self._sizes[large] += self._sizes[small]


def groups(links: Iterable[tuple[T, T]]) -> list[set[T]]:
    """What hangs together by some links, in the order in which each group is first named."""
    joined: Joined[T] = Joined()
    members: dict[T, None] = {}
    for one, other in links:
        joined.union(one, other)
        members[one] = members[other] = None
    found: dict[T, set[T]] = {}
    for member in members:
        found.setdefault(joined[member], set()).add(member)
    return list(found.values())


def shortest(leads: Mapping[T, Iterable[T]], start: T, end: T) -> list[T] | None:
    """The way with the fewest steps from one thing to another, both named in it; ``None`` if there is none."""
    came: dict[T, T] = {start: start}
    ahead = deque((start,))
    while ahead and end not in came:
        here = ahead.popleft()
        for there in leads.get(here, ()):
            if there not in came:
                came[there] = here
                ahead.append(there)
    if end not in came:
        return None
    way = [end]
    while way[-1] != start:
        way.append(came[way[-1]])
    return way[::-1]


def dominators(leads: Mapping[T, Sequence[T]], root: T) -> dict[T, T]:
    """For everything that can be reached from ``root``, the nearest thing that every way to it passes; of the root itself.

    Cost: linear but for passes over loops, of which there are few in wiring. Source: K. D. Cooper, T. J. Harvey,
    K. Kennedy, A simple, fast dominance algorithm, 2001.
    """
    order = list(_left_last(leads, root))
    number = {one: i for i, one in enumerate(order)}
    before: dict[T, list[T]] = {one: [] for one in order}
    for one in order:
        for other in leads.get(one, ()):
            before[other].append(one)
    above = {root: root}

    def meeting(one: T, other: T) -> T:
        while one != other:
            while number[one] < number[other]:
                one = above[one]
            while number[other] < number[one]:
                other = above[other]
        return one

    changed = True
    while changed:
        changed = False
        for one in reversed(order[:-1]):
            known = [other for other in before[one] if other in above]
            nearest = known[0]
            for other in known[1:]:
                nearest = meeting(nearest, other)
            if above.get(one) != nearest:
                above[one] = nearest
                changed = True
    return above


def _left_last(leads: Mapping[T, Sequence[T]], root: T) -> Iterator[T]:
    """Everything reached from ``root``, each after all that is first reached through it."""
    seen = {root}
    ways = [(root, iter(leads.get(root, ())))]
    while ways:
        here, further = ways[-1]
        for there in further:
            if there not in seen:
                seen.add(there)
                ways.append((there, iter(leads.get(there, ()))))
                break
        else:
            ways.pop()
            yield here
