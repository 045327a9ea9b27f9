"""Cooling-test arithmetic: the hot day, the corrected temperature, its margin, and whether a temperature has
settled.

Follows the cooling-test paragraphs of 14 CFR part 23 (2014 edition), part 25 and CS-22. Temperatures in degC,
altitudes in m, times in s.
"""

from collections.abc import Sequence
from math import sqrt

from ..dataclass import dataclass
from .validity import finite, kelvin, not_negative, positive, within

HEADS_AND_FLUIDS = 1.0
"""Share of the difference from the hot day added to heads, oil and other fluids [-]: 14 CFR 23.1043(c),
25.1043(c)."""
BARRELS = 0.7
"""Share of the difference from the hot day added to cylinder barrels [-]: 14 CFR 25.1043(d)."""
STABILISED_RATE = 2 / 1.8 / 60
"""Rate below which a temperature counts as settled [degC/s]: 2 degF a minute, 14 CFR 25.1045(a); used for
reciprocating engines by practice."""
Z_95 = 1.96
"""Standard errors either side that hold 95 % of a normal distribution [-]."""


@dataclass(frozen=True, slots=True)
class HotDay:
    """The hot day a rule asks for: `sea_level` [degC], `lapse` [degC/m], `floor` [degC] or None, and its
    `source`."""

    sea_level: float
    lapse: float
    floor: float | None
    source: str


HOT_DAY = HotDay(
    (100 - 32) / 1.8,
    3.6 / 1.8 / 304.8,
    -56.5,
    "14 CFR 23.1043(b), 25.1043(b): 100 degF less 3.6 degF per 1000 ft",
)
SAILPLANE_HOT_DAY = HotDay(38.0, 6.5 / 1000, None, "CS 22.1047(c): 38 degC less 6.5 degC per 1000 m")


def hot_day_ambient(altitude: float, day: HotDay = HOT_DAY) -> float:
    """Ambient temperature [degC] of the hot `day` at a pressure `altitude` [m], -500 to 20,000 m.

    >>> round(hot_day_ambient(7000 * 0.3048) * 1.8 + 32, 1)  # degF at 7000 ft
    74.8
    """
    ambient = day.sea_level - day.lapse * within("altitude", altitude, -500, 20_000, "m")
    return ambient if day.floor is None else max(ambient, day.floor)


@dataclass(frozen=True, slots=True)
class Corrected:
    """A temperature on the hot day [degC]; `difference` is hot day less outside air [degC], `added` what was
    added [degC].

    `clamped` says that the day was hotter than the hot day and nothing was taken off.
    """

    temperature: float
    difference: float
    added: float
    clamped: bool


def corrected_temperature(
    observed: float,
    outside_air: float,
    altitude: float,
    *,
    share: float = HEADS_AND_FLUIDS,
    clamp: bool = True,
    day: HotDay = HOT_DAY,
) -> Corrected:
    """The `observed` temperature [degC] carried to the hot day, from `outside_air` [degC] and `altitude` [m].

    Outside air and altitude are those at the first occurrence of the maximum of this temperature. `share` [-]
    is 1.0 for heads and fluids, 0.7 for barrels (14 CFR 23.1043(c), 25.1043(c),(d)). The rules do not say
    that a negative correction may be taken, so with `clamp` none is.

    >>> head = corrected_temperature((412 - 32) / 1.8, (45 - 32) / 1.8, 5500 * 0.3048)  # 412 degF, 45 degF, 5500 ft
    >>> round(head.temperature * 1.8 + 32, 1)  # degF
    447.2
    """
    kelvin("observed temperature", observed)
    kelvin("outside air", outside_air)
    within("share", share, 0, 1, "")
    difference = hot_day_ambient(altitude, day) - outside_air
    clamped = clamp and difference < 0
    added = 0.0 if clamped else share * difference
    return Corrected(observed + added, difference, added, clamped)


def margin(limit: float, corrected: float, system_error: float = 0.0) -> float:
    """What is left [degC] of the `limit` [degC] above the `corrected` temperature [degC] and the
    `system_error` bound [degC]."""
    return (
        kelvin("limit", limit)
        - kelvin("corrected temperature", corrected)
        - not_negative("system error", system_error, "degC")
    )


@dataclass(frozen=True, slots=True)
class Slope:
    """A least-squares `rate` [degC/s], its `standard_error` [degC/s] and the `samples` it rests on."""

    rate: float
    standard_error: float
    samples: int


def slope(times: Sequence[float], temperatures: Sequence[float]) -> Slope:
    """Least-squares slope of `temperatures` [degC] over `times` [s], three samples or more.

    The standard error is s / sqrt(Sxx), with s from the residuals on n - 2 degrees of freedom.
    """
    n = len(times)
    if n < 3 or len(temperatures) != n:
        raise ValueError("a slope with its error needs 3 or more times and as many temperatures")
    t_mean = sum(finite("time", t, "s") for t in times) / n
    y_mean = sum(finite("temperature", y, "degC") for y in temperatures) / n
    sxx = sum((t - t_mean) ** 2 for t in times)
    if sxx <= 0:
        raise ValueError("a slope needs times that differ")
    pairs = [(t - t_mean, y - y_mean) for t, y in zip(times, temperatures, strict=True)]
    rate = sum(t * y for t, y in pairs) / sxx
    return Slope(rate, sqrt(sum((y - rate * t) ** 2 for t, y in pairs) / (n - 2) / sxx), n)


def slope_error_of_reading(samples: int, interval: float, division: float) -> float:
    """Standard error [degC/s] of a slope of `samples` readings `interval` [s] apart, each read to one
    `division` [degC].

    A reading to one division scatters by division / sqrt(12); Sxx = interval^2 n (n^2 - 1) / 12.
    """
    within("samples", samples, 2, 1e9, "")
    sxx = positive("interval", interval, "s") ** 2 * samples * (samples**2 - 1) / 12
    return positive("division", division, "degC") / sqrt(12) / sqrt(sxx)


def stabilised(rate: float, standard_error: float = 0.0, limit: float = STABILISED_RATE) -> bool:
    """Whether a `rate` [degC/s] is below the `limit` [degC/s] with all of its 95 % error band."""
    return (
        abs(finite("rate", rate, "degC/s")) + Z_95 * not_negative("standard error", standard_error, "degC/s")
        < limit
    )


def still_to_come(time_constant: float, rate: float) -> float:
    """Change [degC] still to come of a temperature that settles with a `time_constant` [s] and now moves at
    `rate` [degC/s].

    A settled rate is not a settled temperature:

    >>> round(still_to_come(4 * 60, STABILISED_RATE) * 1.8, 6)  # degF
    8.0
    """
    return positive("time constant", time_constant, "s") * finite("rate", rate, "degC/s")
