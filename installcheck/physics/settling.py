"""Least-squares slopes of a temperature all along a log, so that the stretches in which it has settled can be
found."""

import numpy as np
from numpy.typing import NDArray

from ..dataclass import dataclass
from .validity import not_negative, positive

Floats = NDArray[np.float64]
Indices = NDArray[np.intp]


@dataclass(frozen=True, slots=True)
class Rolling:
    """For each sample the least-squares `rate` [degC/s] in the window about it and its `standard_error`
    [degC/s], NaN where the window holds too few samples or reaches past its piece."""

    rate: Floats
    standard_error: Floats


def rolling_slope(
    times: Floats, temperatures: Floats, window: float, starts: Indices, division: float = 0.0
) -> Rolling:
    """Slopes in a `window` [s] centred on each sample, in one pass over the log.

    `times` [s] never decrease; `temperatures` [degC] may hold NaN for a missing sample; `starts` lists the
    first sample of each unbroken piece (0 first). A window counts when it lies whole inside one piece and at
    least half of its samples, and three or more, are there. The scatter is never taken as less than
    `division` [degC] / sqrt(12).
    """
    positive("window", window, "s")
    not_negative("division", division, "degC")
    n = len(times)
    piece = np.repeat(np.arange(len(starts)), np.diff(np.append(starts, n)))
    begin, end = starts[piece], np.append(starts, n)[piece + 1]
    first = np.maximum(np.searchsorted(times, times - window / 2, "left"), begin)
    last = np.minimum(np.searchsorted(times, times + window / 2, "right"), end)
    known = np.isfinite(temperatures)
    # Sums run over times and temperatures moved near zero, or the squares would swallow the slope.
    t = np.where(known, times - times[begin], 0.0)
    y = np.where(known, temperatures - (temperatures[known].mean() if known.any() else 0.0), 0.0)

    def window_sum(values: Floats) -> Floats:
        total = np.concatenate(([0.0], np.cumsum(values)))
        inside: Floats = total[last] - total[first]
        return inside

    count = window_sum(known.astype(np.float64))
    sum_t, sum_y = window_sum(t), window_sum(y)
    whole = (times - window / 2 >= times[begin]) & (times + window / 2 <= times[end - 1])
    enough = whole & (count >= 3) & (2 * count >= last - first)
    safe = np.where(enough, count, 1.0)
    sxx = window_sum(t * t) - sum_t**2 / safe
    sxy = window_sum(t * y) - sum_t * sum_y / safe
    syy = window_sum(y * y) - sum_y**2 / safe
    enough &= sxx > 0
    sxx = np.where(enough, sxx, 1.0)
    rate = np.where(enough, sxy / sxx, np.nan)
    variance = np.maximum((syy - sxy**2 / sxx) / np.maximum(count - 2, 1), division**2 / 12)
    return Rolling(rate, np.where(enough, np.sqrt(variance / sxx), np.nan))
