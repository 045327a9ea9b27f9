"""How an indication scatters when everything that may fall either way does: a seeded trial of many installations."""

from __future__ import annotations

import numpy as np

from ...dataclass import dataclass
from .error_budget import ErrorBudget

_COMES_AND_GOES = frozenset(("ground offset", "ground offset of the couple", "supply sag", "lead heating"))
"""Causes that stand at anything from nothing to their amount, as loads are switched and the engine bay warms."""


@dataclass(frozen=True, slots=True)
class Scatter:
    """Percentiles of the error of an indication, in SI (K for temperatures)."""

    low: float
    median: float
    high: float
    trials: int


def scatter(budget: ErrorBudget, trials: int = 10_000, seed: int = 0, tail: float = 5.0) -> Scatter | None:
    """The ``tail``, 50 and 100 - ``tail`` percentiles of the error over ``trials``; ``None`` without a reading.

    Tolerances fall evenly within their limits, causes that come and go evenly between nothing and their amount, the
    rest stays as computed.
    """
    if budget.error is None or trials < 1:
        return None
    random = np.random.default_rng(seed)
    error = np.full(trials, budget.error)
    for cause in budget.causes:
        if cause.tolerance:
            error += abs(cause.amount) * random.uniform(-1.0, 1.0, trials)
        elif cause.name in _COMES_AND_GOES:
            error -= cause.amount * random.uniform(0.0, 1.0, trials)
    low, median, high = np.percentile(error, (tail, 50.0, 100.0 - tail))
    return Scatter(float(low), float(median), float(high), trials)
