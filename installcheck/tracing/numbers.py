"""The numbers seen as they lie in one world: tolerances and the truth move several of them together, and those of tests to come."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from math import hypot, sqrt

import numpy as np
from numpy.typing import NDArray

from ..dataclass import dataclass
from .doubts import Frame
from .expected import Expect
from .looks import Look, Observation
from .weights import Weights

_MOST = 3.0
"""Standard deviations by which a number seen may move what is expected: beyond that it was misread, or this is not the world."""
_LEAST = 1e-12
"""Standard deviation below which nothing is told apart, in the unit of what is seen."""


@dataclass(frozen=True, slots=True)
class Numbers:
    """Numbers seen in one world.

    Attributes:
        which: of each, its place among all that was seen.
        names: the doubts they hang on, each with its column in ``gains``.
        gains: what a standard deviation of each doubt moves each number by.
        root: the lower Cholesky factor of their covariance.
        apart: how far each was from what is expected, in standard deviations given those before it.
    """

    which: tuple[int, ...]
    names: dict[str, int]
    gains: NDArray[np.float64]
    root: NDArray[np.float64]
    apart: NDArray[np.float64]

    def to_come(self, look: Look, frame: Frame, expect: Expect, weights: Weights) -> tuple[Expect, float]:
        """What a look that expects a value will show, with its standard deviation: the normal distribution, given these numbers."""
        assert expect.value is not None
        doubts = frame.doubts_at(look, expect, weights)
        whole = hypot(*(sd for _, sd in doubts), _LEAST)
        shared = [(self.names[name], sd) for name, sd in doubts if name in self.names]
        if not shared:
            return expect, whole
        columns, sds = zip(*shared, strict=True)
        moves = np.linalg.solve(self.root, self.gains[:, columns] @ np.array(sds))
        left = whole**2 - float(moves @ moves)
        by = float(moves @ np.clip(self.apart, -_MOST, _MOST))
        return replace(expect, value=expect.value + by), sqrt(max(left, _LEAST**2))


def numbers_of(
    seen: Sequence[Observation], frames: Sequence[Frame], expected: Sequence[Expect], weights: Weights
) -> Numbers:
    """The numbers among what was seen where a number is expected."""
    which: list[int] = []
    rows: list[dict[str, float]] = []
    apart: list[float] = []
    for i, (one, frame, expect) in enumerate(zip(seen, frames, expected, strict=True)):
        if one.result.value is not None and expect.value is not None:
            doubts = dict(frame.doubts_at(one.look, expect, weights))
            doubts[f"noise {i}"] = doubts.pop("noise", frame.seen)
            which.append(i)
            rows.append(doubts)
            apart.append(one.result.value - expect.value)
    if not rows:
        return _NONE
    names = {name: k for k, name in enumerate(dict.fromkeys(n for row in rows for n in row))}
    gains = np.array([[row.get(name, 0.0) for name in names] for row in rows])
    root = np.linalg.cholesky(gains @ gains.T + np.eye(len(rows)) * 1e-18)
    return Numbers(tuple(which), names, gains, root, np.linalg.solve(root, np.array(apart)))


_NONE = Numbers((), {}, np.zeros((0, 0)), np.zeros((0, 0)), np.zeros(0))
