"""Factor the conductance matrix of a grounded network once, then solve it for many right-hand sides.

Wiring is nearly a tree, so nodes of one or two neighbours are eliminated first by the star-mesh transformation. It
adds, multiplies and divides positive conductances only, so it loses no digits however far they lie apart, and it
creates no new neighbours. What is left, the meshed core, is inverted densely, or factored by scipy when it is large.
"""

from collections.abc import Callable, Iterator
from typing import Self

import numpy as np

from ..dataclass import dataclass
from .network_inverse import Inverse
from .network_topology import BoolArray, FloatArray, IntArray, gathering

_Taken = tuple[int, list[int], list[tuple[int, int]], list[tuple[int, int, int]]]
_Flat = tuple[int, int, int, int, int, int, int, int, int]
DENSE_CORE = 300
"""Largest core inverted densely: beyond it a sparse factor saves more than the import of scipy costs (measured)."""


SMALL = 250
"""Rows up to which a matrix is inverted for good when columns are asked for: each block of them is then one product of
matrices, a tenth of the price (measured); 0.5 MB at most."""

WIDE = 32
"""Rows that a wave takes out, on average, from which on arrays are faster than plain floats (measured)."""


@dataclass(frozen=True, slots=True)
class Wave:
    """Rows of a plan that none of the others is a neighbour of: they are taken out at once.

    Attributes:
        rows: which they are.
        arms: the pairs of each with its first, its second neighbour and the reference; -1 for one it has not.
        near: those two neighbours; the reference for one it has not.
        added: the pair of these two, of the first and the reference, and of the second and the reference; -1 likewise.
        order, cuts, targets: how what goes to the neighbours is summed, as :func:`gathering` tells.
    """

    rows: IntArray
    arms: IntArray
    near: IntArray
    added: IntArray
    order: IntArray
    cuts: IntArray
    targets: IntArray


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
        waves: the steps in waves, where those are wide; else none.
        flat: else the steps, each as one row of numbers: the row, three pairs, the first and second neighbour, and the pairs
            added to of these two, of the first and the last, and of the second and the last; `pairs` and `count` for none.
    """

    count: int
    pair: IntArray
    pairs: int
    steps: list[_Taken]
    core: list[int]
    arms: list[list[int]]
    inner: list[tuple[int, int, int]]
    waves: list[Wave]
    flat: list[_Flat]


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
    steps: list[_Taken] = []
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
        ends = sorted(arms, key=count.__eq__)  # the reference last
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
        steps.append((row, [arms[other] for other in ends], others, added))
    core = [row for row in range(count) if not gone[row]]
    place = {row: i for i, row in enumerate(core)}
    inner = [
        (place[row], place[other], known)
        for row in core
        for other, known in near[row].items()
        if other != count
    ]
    waves = _waves(count, steps)
    return Plan(
        count,
        np.array(pair, dtype=np.intp),
        pairs,
        steps,
        core,
        [list(near[row].values()) for row in core],
        inner,
        waves,
        [] if waves else [_flat(count, pairs, step) for step in steps],
    )


def _flat(count: int, none: int, step: _Taken) -> _Flat:
    row, pairs, others, added = step
    first, second, third = (*pairs, none, none)[:3]
    near, far = (*(other for other, _ in others), count, count)[:2]
    between, near_last, far_last = (*(pair for pair, _, _ in added), none, none, none)[:3]
    return row, first, second, third, near, far, between, near_last, far_last


def _waves(count: int, steps: list[_Taken]) -> list[Wave]:
    wave = [0] * (count + 1)
    waves: list[list[_Taken]] = []
    for step in steps:
        number = wave[step[0]]
        if number == len(waves):
            waves.append([])
        waves[number].append(step)
        for other, _ in step[2]:
            wave[other] = max(wave[other], number + 1)
    return [_wave(count, taken) for taken in waves] if len(steps) >= WIDE * len(waves) else []


def _wave(count: int, taken: list[_Taken]) -> Wave:
    arms = np.full((len(taken), 3), -1, dtype=np.intp)
    near = np.full((len(taken), 2), count, dtype=np.intp)
    added = np.full((len(taken), 3), -1, dtype=np.intp)
    for n, (_, pairs, others, more) in enumerate(taken):
        place = [0, 1, 2] if len(others) == 2 else [0, 2] if others else [2]
        for i, pair in enumerate(pairs):
            arms[n, place[i]] = pair
        for other, i in others:
            near[n, i] = other
        for pair, i, j in more:
            added[n, place[i] + place[j] - 1] = pair
    rows = np.array([row for row, *_ in taken], dtype=np.intp)
    return Wave(rows, arms, near, added, *gathering(near.ravel()))


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
        self._count = plan.count
        self._inverse: Inverse | None = None
        self._steps: list[_Step] = []
        self._waves: list[tuple[Wave, FloatArray, FloatArray]] = []
        if plan.waves:
            g = self._take_out(plan, g)
        else:
            self._steps = _taken_out(plan, g)
        self._core = np.array(plan.core, dtype=np.intp)
        self._solve_core = _factor_core(plan, g)

    def _take_out(self, plan: Plan, g: list[float]) -> list[float]:
        """As :func:`eliminated`, wave by wave; the conductance of each pair after it [S]."""
        pairs = np.array([*g, 0.0])
        for wave in plan.waves:
            arms = pairs[wave.arms]
            total = arms.sum(axis=1)[:, np.newaxis]
            share = arms / total
            np.add.at(pairs, wave.added, arms[:, [0, 0, 1]] * share[:, [1, 2, 2]])
            self._waves.append((wave, total, share[:, :2]))
        left: list[float] = pairs[:-1].tolist()
        return left

    @classmethod
    def of(cls, count: int, start: IntArray, end: IntArray, conductance: FloatArray) -> Self:
        """The factored matrix of branches between rows 0 to `count` - 1 and the reference, row `count`."""
        return cls(planned(count, start, end, conductance != 0.0), conductance)

    def solve(self, injected: FloatArray) -> FloatArray:
        """Potentials [V] of the rows, one column per column of `injected` [A], each `count` rows high."""
        inverse = self.inverse()
        if inverse is not None:
            return inverse.solve(injected)
        return self._solve_waves(injected) if self._waves else self._solve_steps(injected)

    def inverse(self) -> Inverse | None:
        """The inverse of the matrix; ``None`` of a large one."""
        if self._inverse is None and self._count <= SMALL:
            unit = np.eye(self._count)
            self._inverse = Inverse(self._solve_waves(unit) if self._waves else self._solve_steps(unit))
        return self._inverse

    def _solve_steps(self, injected: FloatArray) -> FloatArray:
        x = injected.copy()
        rows = list(x)  # each a view: found in a list sooner than in an array
        none = len(rows)
        for row, _, near, share, far, other in self._steps:
            if near < none:
                rows[near] += share * rows[row]
            if far < none:
                rows[far] += other * rows[row]
        if len(self._core):
            x[self._core] = self._solve_core(x[self._core])
        for row, total, near, share, far, other in reversed(self._steps):
            found = rows[row]
            found /= total
            if near < none:
                found += share * rows[near]
            if far < none:
                found += other * rows[far]
        return x

    def solve_one(self, injected: FloatArray) -> FloatArray:
        """As :meth:`solve`, of one column `count` long: plain floats are faster than arrays of one."""
        if self._waves:
            return self._solve_waves(injected[:, np.newaxis])[:, 0]
        x: list[float] = injected.tolist()
        x.append(0.0)  # the place of a neighbour that is not there
        for row, _, near, share, far, other in self._steps:
            value = x[row]
            x[near] += share * value
            x[far] += other * value
        if len(self._core):
            core = self._solve_core(np.array([x[row] for row in self._core]))
            for row, value in zip(self._core.tolist(), core.tolist(), strict=True):
                x[row] = value
        x[-1] = -0.0  # adds nothing to any number, not even the sign of a zero
        for row, total, near, share, far, other in reversed(self._steps):
            x[row] = x[row] / total + share * x[near] + other * x[far]
        x.pop()
        return np.array(x)

    def _solve_waves(self, injected: FloatArray) -> FloatArray:
        columns = injected.shape[1]
        x = np.concatenate((injected, np.zeros((1, columns))))  # the reference last, at 0 V
        for wave, _, share in self._waves:
            given = (share[:, :, np.newaxis] * x[wave.rows][:, np.newaxis]).reshape(-1, columns)
            x[wave.targets] += np.add.reduceat(given[wave.order], wave.cuts, axis=0)
        if len(self._core):
            x[self._core] = self._solve_core(x[self._core])
        for wave, total, share in reversed(self._waves):
            x[wave.rows] = x[wave.rows] / total + (share[:, :, np.newaxis] * x[wave.near]).sum(axis=1)
        return x[:-1]


_Step = tuple[int, float, int, float, int, float]
"""A row, the sum of its conductances [S], and its two neighbours, each with its share of them."""


def _taken_out(plan: Plan, g: list[float]) -> list[_Step]:
    """As :func:`eliminated`, with what there is to do for each row."""
    none, steps = plan.pairs, list[_Step]()
    for row, first, second, third, near, far, between, near_last, far_last in plan.flat:
        a = g[first]
        if second == none:
            steps.append((row, a, near, a / a, far, 0.0))
            continue
        b = g[second]
        if third == none:
            total = a + b
            steps.append((row, total, near, a / total, far, b / total))
            g[between] += a * (b / total)
            continue
        c = g[third]
        total = a + b + c
        steps.append((row, total, near, a / total, far, b / total))
        g[between] += a * (b / total)
        g[near_last] += a * (c / total)
        g[far_last] += b * (c / total)
    return steps


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
