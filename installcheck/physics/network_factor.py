"""Factor the conductance matrix of a grounded network once, then solve it for many right-hand sides.

Wiring is nearly a tree, so nodes of one or two neighbours are eliminated first by the star-mesh transformation. It
adds, multiplies and divides positive conductances only, so it loses no digits however far they lie apart, and it
creates no new neighbours. What is left, the meshed core, is inverted densely, or factored by scipy when it is large.
"""

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.intp]

DENSE_CORE = 300
"""Largest core inverted densely: beyond it a sparse factor saves more than the import of scipy costs (measured)."""


class Factor:
    """The factored conductance matrix of rows 0 to `count` - 1; row `count` is the reference.

    Every row must have a path to the reference.
    """

    def __init__(
        self, count: int, start: IntArray, end: IntArray, conductance: FloatArray, eliminate: bool = True
    ):
        self.count = count
        near = _neighbours(count, start, end, conductance)
        self._steps = _eliminate(count, near)
        gone = np.zeros(count, dtype=bool)
        gone[[step[0] for step in self._steps]] = True
        self._core = np.flatnonzero(~gone)
        self._solve_core = _factor_core(count, self._core, near)

    def solve(self, injected: FloatArray) -> FloatArray:
        """Potentials [V] of the rows, one column per column of `injected` [A], each `count` rows high."""
        if injected.shape[1] == 1:
            return self._solve_one(injected[:, 0])[:, np.newaxis]
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

    def _solve_one(self, injected: FloatArray) -> FloatArray:
        """One column alone: plain floats are faster than arrays of one."""
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


def _neighbours(
    count: int, start: IntArray, end: IntArray, conductance: FloatArray
) -> list[dict[int, float]]:
    """Conductance [S] from each row to each neighbour, parallel branches added; the last entry is the reference."""
    near: list[dict[int, float]] = [{} for _ in range(count + 1)]
    for a, b, g in zip(start.tolist(), end.tolist(), conductance.tolist(), strict=True):
        if a != b and g != 0.0:
            near[a][b] = near[a].get(b, 0.0) + g
            near[b][a] = near[b].get(a, 0.0) + g
    return near


def _eliminate(count: int, near: list[dict[int, float]]) -> list[_Step]:
    """Take out every row of at most two neighbours besides the reference; `near` is left with the core."""
    steps: list[_Step] = []
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
        total = sum(arms.values())
        shares = [(other, g / total) for other, g in arms.items() if other != count]
        ends = list(arms)
        for end in ends:
            del near[end][row]
        for i, a in enumerate(ends):
            for b in ends[i + 1 :]:
                g = arms[a] * (arms[b] / total)
                near[a][b] = near[a].get(b, 0.0) + g
                near[b][a] = near[b].get(a, 0.0) + g
        ready.extend(other for other, _ in shares)
        steps.append((row, total, shares))
    return steps


def _factor_core(
    count: int, core: IntArray, near: list[dict[int, float]]
) -> Callable[[FloatArray], FloatArray]:
    size = len(core)
    place = {row: i for i, row in enumerate(core.tolist())}
    i, j, g = [], [], []
    diagonal = np.zeros(size)
    for row, at in place.items():
        arms = near[row]
        diagonal[at] = sum(arms.values())
        for other, conductance in arms.items():
            if other != count:
                i.append(at)
                j.append(place[other])
                g.append(-conductance)
    if size <= DENSE_CORE:
        matrix = np.diag(diagonal)
        matrix[i, j] = g
        inverse = np.linalg.inv(matrix)
        return lambda injected: inverse @ injected
    from scipy.sparse import csc_matrix
    from scipy.sparse.linalg import splu

    span = np.arange(size)
    sparse = csc_matrix(
        (
            np.r_[diagonal, g],
            (np.r_[span, np.array(i, dtype=np.intp)], np.r_[span, np.array(j, dtype=np.intp)]),
        ),
        shape=(size, size),
    )
    lu = splu(sparse, permc_spec="MMD_AT_PLUS_A", diag_pivot_thresh=0.0, options={"SymmetricMode": True})
    return lambda injected: np.asarray(lu.solve(injected), dtype=np.float64)
