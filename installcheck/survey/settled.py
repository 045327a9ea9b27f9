"""Finds the stretches of a flight in which every head had settled, and who is hottest in them."""

from collections.abc import Mapping
from math import isfinite

import numpy as np

from ..logs.flight_log import FlightLog
from ..physics.cooling import STABILISED_RATE, Z_95
from ..physics.settling import Floats, rolling_slope
from .ranking import Probes, rank
from .result import Ranking, Stretch


def settled_rates(log: FlightLog, heads: Mapping[int, Floats], window: float) -> Floats:
    """For each row the greatest slope of any head with its 95 % band [degC/s], NaN where a slope is
    missing."""
    worst = np.zeros(len(log.time))
    for values in heads.values():
        rolling = rolling_slope(log.time, values, window, log.starts, log.division)
        worst = np.maximum(worst, np.abs(rolling.rate) + Z_95 * rolling.standard_error)
    return worst


def stretches(
    log: FlightLog, heads: Mapping[int, Floats], passes: list[slice], settled: Floats, window: float
) -> list[Stretch]:
    """Stretches of a phase whose windows all show every head settled: 2 degF a minute, 14 CFR 25.1045(a)."""
    found = []
    for one in passes:
        times = log.time[one]
        inside = (times - window / 2 >= times[0]) & (times + window / 2 <= times[-1])
        steady = np.flatnonzero(inside & (settled[one] < STABILISED_RATE))
        if not len(steady):
            continue
        for run in np.split(steady, np.flatnonzero(np.diff(steady) > 1) + 1):
            first = int(np.searchsorted(times, times[run[0]] - window / 2)) + one.start
            last = int(np.searchsorted(times, times[run[-1]] + window / 2, "right")) + one.start
            means = {number: float(np.nanmean(values[first:last])) for number, values in heads.items()}
            seconds = float(log.time[last - 1] - log.time[first])
            rate = float(settled[one][run].max())
            found.append(
                Stretch(int(log.lines[first]), int(log.lines[last - 1]), seconds, last - first, means, rate)
            )
    return found


def steady_ranking(steady: tuple[Stretch, ...], division: float, probes: Probes) -> Ranking | None:
    """Ranks the means over all steady stretches, each weighted by its rows."""
    if not steady:
        return None
    rows = sum(stretch.rows for stretch in steady)
    means = {
        number: sum(stretch.means[number] * stretch.rows for stretch in steady) / rows
        for number in steady[0].means
    }
    return rank(means, division, probes) if all(map(isfinite, means.values())) else None
