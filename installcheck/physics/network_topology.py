"""Which nodes of a network are one piece of metal, which hang together, and which branch alone holds a part on."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from ..dataclass import dataclass

IntArray = NDArray[np.intp]
FloatArray = NDArray[np.float64]
BoolArray = NDArray[np.bool_]

SAME_POTENTIAL = 1e-9
"""Two potentials given to one node agree within this [V]: below any meter, above the rounding of a long sum."""


@dataclass(frozen=True, slots=True)
class Merged:
    """Nodes joined by ideal branches: group of each node, its offset above the group [V], groups in conflict."""

    group: IntArray
    offset: FloatArray
    conflict: BoolArray


def merge_ideal(node_count: int, start: Sequence[int], end: Sequence[int], emf: Sequence[float]) -> Merged:
    """Join the nodes of ideal branches, each of which holds `end` at `emf` [V] above `start`.

    A loop of them whose emfs do not cancel puts its group in conflict. Cost grows linearly.
    """
    parent = list(range(node_count))
    above = [0.0] * node_count  # potential of a node above its parent

    def find(node: int) -> tuple[int, float]:
        path, top = [], node
        while parent[top] != top:
            path.append(top)
            top = parent[top]
        total = 0.0
        for step in reversed(path):
            total += above[step]
            parent[step], above[step] = top, total
        return top, total

    quarrels = []
    size = [1] * node_count
    for low, high, rise in zip(start, end, emf, strict=True):
        (a, above_a), (b, above_b) = find(low), find(high)
        difference = above_a + rise - above_b  # potential of root b above root a
        if a == b:
            if abs(difference) > SAME_POTENTIAL:
                quarrels.append(a)
        elif size[a] >= size[b]:
            parent[b], above[b] = a, difference
            size[a] += size[b]
        else:
            parent[a], above[a] = b, -difference
            size[b] += size[a]

    found = (
        [find(node) for node in range(node_count)] if len(start) else [(n, 0.0) for n in range(node_count)]
    )
    roots = np.array([root for root, _ in found], dtype=np.intp)
    is_root = np.zeros(node_count, dtype=bool)
    is_root[roots] = True
    group = (np.cumsum(is_root) - 1)[roots]
    conflict = np.zeros(int(is_root.sum()), dtype=bool)
    conflict[group[[find(node)[0] for node in quarrels]]] = True
    return Merged(group.astype(np.intp), np.array([rise for _, rise in found], dtype=np.float64), conflict)


def label_islands(count: int, start: Sequence[int], end: Sequence[int]) -> IntArray:
    """Number the connected parts of a graph of `count` vertices, from 0 in order of their first vertex."""
    parent = list(range(count))
    for a, b in zip(start, end, strict=True):
        while parent[a] != a:
            parent[a] = parent[parent[a]]
            a = parent[a]
        while parent[b] != b:
            parent[b] = parent[parent[b]]
            b = parent[b]
        if a != b:
            parent[max(a, b)] = min(a, b)
    label = list(range(count))
    parts = 0
    for vertex in range(count):  # a parent always has the lower number, so its label is already final
        if parent[vertex] == vertex:
            label[vertex] = parts
            parts += 1
        else:
            label[vertex] = label[parent[vertex]]
    return np.array(label, dtype=np.intp)


def gathering(ends: IntArray) -> tuple[IntArray, IntArray, IntArray]:
    """How figures that belong to rows are summed by row: their order, where each row begins in it, and which row that is."""
    order = np.argsort(ends, kind="stable")
    sorted_ends = ends[order]
    cuts = np.flatnonzero(np.diff(sorted_ends, prepend=-1))
    return order, cuts, sorted_ends[cuts]


@dataclass(frozen=True, slots=True)
class Bridges:
    """Branches whose loss cuts a part off: for each branch the root of that part, or -1.

    A vertex v hangs below vertex c when enter[c] <= enter[v] <= leave[c].
    """

    below: IntArray
    enter: IntArray
    leave: IntArray

    def cut_off(self, branch: int) -> tuple[int, int] | None:
        """First and last `enter` number of the part that loses its root when `branch` opens, or None."""
        child = self.below[branch]
        return None if child < 0 else (int(self.enter[child]), int(self.leave[child]))

    def within(self, part: tuple[int, int]) -> BoolArray:
        """Which vertices are of a part that :meth:`cut_off` tells."""
        return np.asarray((self.enter >= part[0]) & (self.enter <= part[1]))


def find_bridges(count: int, start: Sequence[int], end: Sequence[int], roots: Sequence[int]) -> Bridges:
    """Find every branch that alone joins two parts, by one walk of the graph from `roots`; cost grows linearly.

    `roots` holds one vertex of each island; parallel branches are never bridges.
    """
    touching: list[list[tuple[int, int]]] = [[] for _ in range(count)]
    for branch, (a, b) in enumerate(zip(start, end, strict=True)):
        if a != b:
            touching[a].append((b, branch))
            touching[b].append((a, branch))
    enter, low, leave = [-1] * count, [0] * count, [0] * count
    below = [-1] * len(start)
    clock = 0
    for root in roots:
        enter[root] = low[root] = clock
        clock += 1
        stack = [(root, -1, iter(touching[root]))]
        while stack:
            vertex, entry, rest = stack[-1]
            for other, branch in rest:
                if branch == entry:
                    continue
                if enter[other] >= 0:
                    low[vertex] = min(low[vertex], enter[other])
                    continue
                enter[other] = low[other] = clock
                clock += 1
                stack.append((other, branch, iter(touching[other])))
                break
            else:
                stack.pop()
                leave[vertex] = clock - 1
                if stack:
                    above = stack[-1][0]
                    low[above] = min(low[above], low[vertex])
                    if low[vertex] > enter[above]:
                        below[entry] = vertex
    return Bridges(
        np.array(below, dtype=np.intp), np.array(enter, dtype=np.intp), np.array(leave, dtype=np.intp)
    )
