"""Zones side by side: the order in which runs and lines pass through the fewest zones they are not in."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from itertools import pairwise

_MOST = 24
"""Zones up to which another order is looked for; beyond, they stand as they are written."""

Steps = Mapping[tuple[str, str], int]


def abreast(
    zones: Sequence[str], ways: Iterable[Iterable[str | None]], joined: Iterable[Iterable[str]]
) -> list[str]:
    """Zones in the order in which neighbours on the ways stand together; that of the document where it is as good.

    The steps of all ways from zone to zone are made as short as moving one zone at a time makes them, so that each
    engine's zones come to stand on its own side of the cabin.

    Args:
        zones: in the order of the document.
        ways: the zones each run or line passes, in its order; others than those of ``zones`` are passed over.
        joined: zones with a barrier between them, which counts as one step.

    >>> abreast(["left", "right", "cabin"], [["left", "cabin"], ["right", "cabin"]], [])
    ['left', 'cabin', 'right']
    """
    known = set(zones)
    steps: Counter[tuple[str, str]] = Counter()
    for way in (*ways, *joined):
        for a, b in pairwise([zone for zone in way if zone is not None and zone in known]):
            if a != b:
                steps[min(a, b), max(a, b)] += 1
    order = list(zones)
    if len(order) > _MOST:
        return order
    written = {zone: number for number, zone in enumerate(zones)}
    while True:
        moved = [_moved(order, zone, to) for zone in order for to in range(len(order))]
        best = min(moved, key=lambda one: (_length(one, steps), _turned(one, written)), default=order)
        if _length(best, steps) >= _length(order, steps):
            return order
        order = best


def _moved(order: Sequence[str], zone: str, to: int) -> list[str]:
    others = [one for one in order if one != zone]
    return [*others[:to], zone, *others[to:]]


def _length(order: Sequence[str], steps: Steps) -> int:
    place = {zone: number for number, zone in enumerate(order)}
    return sum(count * abs(place[a] - place[b]) for (a, b), count in steps.items())


def _turned(order: Sequence[str], written: Mapping[str, int]) -> int:
    """Pairs that stand the other way round than they are written."""
    places = [written[zone] for zone in order]
    return sum(a > b for number, a in enumerate(places) for b in places[number + 1 :])
