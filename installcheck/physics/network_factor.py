"""Factor the conductance matrix of a grounded network once, then solve it for many right-hand sides.

Wiring is nearly a tree, so nodes of one or two neighbours are eliminated first by the star-mesh transformation. It
adds, multiplies and divides positive conductances only, so it loses no digits however far they lie apart, and it
creates no new neighbours. What is left, the meshed core, is inverted densely, or factored by scipy when it is large.
"""

from collections.abc import Callable, Iterator
from typing import Self

import numpy as np

from ..dataclass import dataclass
from .network_topology import BoolArray, FloatArray, IntArray

DENSE_CORE = 300
"""Largest core inverted densely: beyond it a sparse factor saves more than the import of scipy costs (measured)."""


@dataclass(frozen=True, slots=True)
class Plan:
    """How the matrix of a network is factored, by its shape alone: which rows go in which order, and which stay.

    Conductances between two rows are counted as pairs, those between the same two as one.

    Attributes:
        count: of rows; row `count` is the reference.
        pair: of each branch; -1 for one that joins nothing.
        pairs: how many there are, those that come about on the way included.
        steps: the rows that are taken out: the row, the pair with each neighbour, the neighbours besides the reference with
            their place in that list, and the pairs that are added to, with the places of the two neighbours they join.
        core: the rows that stay.
        arms: for each of those, its pairs.
        inner: the pairs between two of them: place of the one, of the other, and the pair.
    """

    count: int
    pair: IntArray
    pairs: int
    steps: list[tuple[int, list[int], list[tuple[int, int]], list[tuple[int, int, int]]]]
    core: list[int]
    arms: list[list[int]]
    inner: list[tuple[int, int, int]]


def planned(count: int, start: IntArray, end: IntArray, conducting: BoolArray) -> Plan:
    """Plan how to factor the matrix of branches between rows; row `count` is the reference.

    Every row must have a path to the reference.
    """
    near: list[dict[int, int]] = [{} for _ in range(count + 1)]
    pair, pairs = [], 0
    for a, b, conducts in zip(start.tolist(), end.tolist(), conducting.tolist(), strict=True):
        if a == b or not conducts:
            pair.append(-1)
            continue
        if b not in near[a]:
            near[a][b] = near[b][a] = pairs
            pairs += 1
        pair.append(near[a][b])
    steps = []
    gone = bytearray(count)
    ready = list(range(count - 1, -1, -1))
    while ready:
        row = ready.pop()
        if gone[row]:
            continue
        arms = near[row]
        if len(arms) - (count in arms) > 2:
            continue
        gone[row] = 1
        ends = list(arms)
        for other in ends:
            del near[other][row]
        added = []
        for i, a in enumerate(ends):
            for j in range(i + 1, len(ends)):
                b = ends[j]
                if b not in near[a]:
                    near[a][b] = near[b][a] = pairs
                    pairs += 1
                added.append((near[a][b], i, j))
        others = [(other, i) for i, other in enumerate(ends) if other != count]
        ready.extend(other for other, _ in others)
        steps.append((row, list(arms.values()), others, added))
    core = [row for row in range(count) if not gone[row]]
    place = {row: i for i, row in enumerate(core)}
    inner = [
        (place[row], place[other], known)
        for row in core
        for other, known in near[row].items()
        if other != count
    ]
    return Plan(
        count,
        np.array(pair, dtype=np.intp),
        pairs,
        steps,
        core,
        [list(near[row].values()) for row in core],
        inner,
    )


def between_rows(plan: Plan, conductance: FloatArray) -> list[float]:
    """Conductance of each pair of rows [S], from that of each branch."""
    joined = plan.pair >= 0
    g: list[float] = np.bincount(
        plan.pair[joined], weights=conductance[joined], minlength=plan.pairs
    ).tolist()
    return g


def eliminated(plan: Plan, g: list[float]) -> Iterator[tuple[list[float], float]]:
    """Take out the rows of a plan one after another; of each the conductances to its neighbours and their sum [S].

    What that puts between its neighbours is added to `g`, the conductance of each pair.
    """
    for _, pairs, _, added in plan.steps:
        arms = [g[pair] for pair in pairs]
        total = sum(arms)
        yield arms, total
        for pair, i, j in added:
            g[pair] += arms[i] * (arms[j] / total)


class Factor:
    """The factored conductance matrix of the rows of a plan, for the `conductance` [S] of each branch."""

    def __init__(self, plan: Plan, conductance: FloatArray):
        g = between_rows(plan, conductance)
        self._steps: list[_Step] = []
        for (row, _, others, _), (arms, total) in zip(plan.steps, eliminated(plan, g), strict=True):
            self._steps.append((row, total, [(other, arms[i] / total) for other, i in others]))
        self._core = np.array(plan.core, dtype=np.intp)
        self._solve_core = _factor_core(plan, g)

    @classmethod
    def of(cls, count: int, start: IntArray, end: IntArray, conductance: FloatArray) -> Self:
        """The factored matrix of branches between rows 0 to `count` - 1 and the reference, row `count`."""
        return cls(planned(count, start, end, conductance != 0.0), conductance)

    def solve(self, injected: FloatArray) -> FloatArray:
        """Potentials [V] of the rows, one column per column of `injected` [A], each `count` rows high."""
        if injected.shape[1] == 1:
            return self.solve_one(injected[:, 0])[:, np.newaxis]
        x = injected.copy()
        for row, _, shares in self._steps:
            for other, share in shares:
                x[other] += share * x[row]
        if len(self._core):
            x[self._core] = self._solve_core(x[self._core])
        for row, total, shares in reversed(self._steps):
            x[row] /= total
            for other, share in shares:
                x[row] += share * x[other]
        return x

    def solve_one(self, injected: FloatArray) -> FloatArray:
        """As :meth:`solve`, of one column `count` long: plain floats are faster than arrays of one."""
        x: list[float] = injected.tolist()
        for row, _, shares in self._steps:
            for other, share in shares:
                x[other] += share * x[row]
        if len(self._core):
            core = self._solve_core(np.array([x[row] for row in self._core]))
            for row, value in zip(self._core.tolist(), core.tolist(), strict=True):
                x[row] = value
        for row, total, shares in reversed(self._steps):
            value = x[row] / total
            for other, share in shares:
                value += share * x[other]
            x[row] = value
        return np.array(x)


_Step = tuple[int, float, list[tuple[int, float]]]


def _factor_core(plan: Plan, g: list[float]) -> Callable[[FloatArray], FloatArray]:
    size = len(plan.core)
    diagonal = np.array([sum(g[pair] for pair in arms) for arms in plan.arms], dtype=np.float64)
    i, j = ([inner[k] for inner in plan.inner] for k in (0, 1))
    between = [-g[pair] for _, _, pair in plan.inner]
    if size <= DENSE_CORE:
        matrix = np.diag(diagonal)
        matrix[i, j] = between
        inverse = np.linalg.inv(matrix)
        return lambda injected: inverse @ injected
    from scipy.sparse import csc_matrix
    from scipy.sparse.linalg import splu

    span = np.arange(size)
    sparse = csc_matrix(
        (
            np.r_[diagonal, between],
            (np.r_[span, np.array(i, dtype=np.intp)], np.r_[span, np.array(j, dtype=np.intp)]),
        ),
        shape=(size, size),
    )
    lu = splu(sparse, permc_spec="MMD_AT_PLUS_A", diag_pivot_thresh=0.0, options={"SymmetricMode": True})
    return lambda injected: np.asarray(lu.solve(injected), dtype=np.float64)
