"""Thermistor and other resistive temperature senders: curves both ways, and what their circuit adds.

Resistance in ohm, temperature in degC. A fault ends in an apparent resistance; the curve the indicator is
made for turns it into the reading. `OffScaleError.side` speaks of the temperature, whichever way the curve
runs.
"""

from bisect import bisect_left
from collections.abc import Sequence
from itertools import pairwise
from math import asinh, exp, log, sinh, sqrt
from typing import Literal

from ..dataclass import dataclass
from .scale import OffScaleError, Side, on_scale
from .tables import read_table, unknown
from .validity import ABSOLUTE_ZERO, finite, kelvin, not_negative, positive


@dataclass(frozen=True, slots=True)
class SteinhartHart:
    """1/T = a + b ln R + c (ln R)^3, T [K], R [ohm]; good from `t_low_c` to `t_high_c` [degC].

    The range is a guard of ours where the sender's own is not given: beyond it three coefficients follow no
    thermistor.
    """

    a: float
    b: float
    c: float
    t_low_c: float = -60.0
    t_high_c: float = 200.0

    def __post_init__(self) -> None:
        finite("coefficient a", self.a, "1/K")
        positive("coefficient b", self.b, "1/K")
        not_negative("coefficient c", self.c, "1/K")
        if not kelvin("lowest temperature", self.t_low_c) < kelvin("highest temperature", self.t_high_c):
            raise ValueError(f"range {self.t_low_c:g} to {self.t_high_c:g} degC must rise")


def typical_curve(name: str) -> SteinhartHart:
    """Coefficients of a typical sender by its name in the table: 10 kohm or 2 kohm."""
    rows = read_table("thermistor_curves")
    for row in rows:
        if row["curve"] == name:
            return SteinhartHart(float(row["a"]), float(row["b"]), float(row["c"]))
    raise unknown("thermistor curve", name, [row["curve"] for row in rows])


def steinhart_hart_through(points: Sequence[tuple[float, float]]) -> SteinhartHart:
    """The curve through three points of temperature [degC] and resistance [ohm]."""
    (x1, y1), (x2, y2), (x3, y3) = (
        (log(positive("sender resistance", ohm, "ohm")), 1 / kelvin("sender temperature", t))
        for t, ohm in points
    )
    if len({x1, x2, x3}) < 3 or x1 + x2 + x3 == 0:
        raise ValueError("three points of different resistance are needed for a thermistor curve")
    g2, g3 = (y2 - y1) / (x2 - x1), (y3 - y1) / (x3 - x1)
    c = (g3 - g2) / (x3 - x2) / (x1 + x2 + x3)
    b = g2 - c * (x1 * x1 + x1 * x2 + x2 * x2)
    return SteinhartHart(y1 - b * x1 - c * x1**3, b, c)


def steinhart_hart_ohm(curve: SteinhartHart, t_c: float) -> float:
    """Resistance [ohm] of a thermistor at `t_c` [degC].

    >>> round(steinhart_hart_ohm(typical_curve("10 kohm"), 25))
    9877
    """
    on_scale("temperature of thermistor", t_c, curve.t_low_c, curve.t_high_c, "degC")
    rest = curve.a - 1 / kelvin("temperature of thermistor", t_c)
    if curve.c == 0:
        return exp(-rest / curve.b)
    # The one real root of c x^3 + b x + rest = 0 for b, c > 0, in the form that loses no digits when c is
    # small.
    p = curve.b / curve.c
    return exp(-2 * sqrt(p / 3) * sinh(asinh(1.5 * rest / curve.b * sqrt(3 / p)) / 3))


def steinhart_hart_c(curve: SteinhartHart, ohm: float) -> float:
    """Temperature [degC] at which a thermistor has `ohm` [ohm].

    >>> round(steinhart_hart_c(typical_curve("10 kohm"), 1000), 2)
    94.67
    """
    low, high = steinhart_hart_ohm(curve, curve.t_high_c), steinhart_hart_ohm(curve, curve.t_low_c)
    if not low <= finite("thermistor resistance", ohm, "ohm") <= high:
        side: Side = "above" if ohm < low else "below"
        raise OffScaleError(f"thermistor resistance must be from {low:g} to {high:g} ohm, not {ohm:g}", side)
    x = log(ohm)
    return 1 / (curve.a + curve.b * x + curve.c * x**3) + ABSOLUTE_ZERO


def steinhart_hart_slope(curve: SteinhartHart, t_c: float) -> float:
    """Slope [ohm/degC] of a thermistor at `t_c` [degC]: -R / (T^2 (b + 3 c (ln R)^2)).

    >>> round(steinhart_hart_slope(typical_curve("10 kohm"), 100), 1)
    -23.4
    """
    ohm = steinhart_hart_ohm(curve, t_c)
    return -ohm / (kelvin("temperature", t_c) ** 2 * (curve.b + 3 * curve.c * log(ohm) ** 2))


Spacing = Literal["linear", "thermistor"]


@dataclass(frozen=True, slots=True)
class SenderCurve:
    """A sender's curve by points of temperature [degC] and resistance [ohm], temperature rising.

    Between two points resistance runs straight against temperature (`linear`) or its logarithm straight
    against 1/T (`thermistor`), so the curve is as monotone as its points.
    """

    points: tuple[tuple[float, float], ...]
    spacing: Spacing

    def __post_init__(self) -> None:
        if len(self.points) < 2:
            raise ValueError("a sender curve needs at least two points")
        for t_c, ohm in self.points:
            kelvin("temperature of a curve point", t_c)
            positive("resistance of a curve point", ohm, "ohm")
        pairs = list(pairwise(self.points))
        if any(t1 <= t0 for (t0, _), (t1, _) in pairs):
            raise ValueError("temperatures of a sender curve must rise from point to point")
        if len({r1 > r0 for (_, r0), (_, r1) in pairs}) > 1 or any(r1 == r0 for (_, r0), (_, r1) in pairs):
            raise ValueError("resistance of a sender curve must rise at every point or fall at every point")

    @property
    def falling(self) -> bool:
        """True where resistance falls as temperature rises."""
        return self.points[-1][1] < self.points[0][1]


def sender_curve(points: Sequence[tuple[float, float]]) -> SenderCurve:
    """The curve through `points` of temperature [degC] and resistance [ohm], in the spacing that suits them.

    Each inner point is left out in turn and found again from its neighbours; the spacing that misses less is
    taken. Two points alone: a falling curve is a thermistor's.
    """
    ordered = tuple(sorted(points))
    linear, thermistor = SenderCurve(ordered, "linear"), SenderCurve(ordered, "thermistor")
    if len(ordered) == 2:
        return thermistor if linear.falling else linear
    return min(thermistor, linear, key=_miss)


def _miss(curve: SenderCurve) -> float:
    """Sum of the misses [degC] when each inner point is found from its neighbours."""
    triples = zip(curve.points, curve.points[1:], curve.points[2:], strict=False)
    return sum(
        abs(curve_c(SenderCurve((before, after), curve.spacing), point[1]) - point[0])
        for before, point, after in triples
    )


def _straight(curve: SenderCurve) -> tuple[list[float], list[float]]:
    """Coordinates in which the curve is straight between points: of temperature and of resistance."""
    if curve.spacing == "linear":
        return [t for t, _ in curve.points], [ohm for _, ohm in curve.points]
    return [-1 / (t - ABSOLUTE_ZERO) for t, _ in curve.points], [log(ohm) for _, ohm in curve.points]


def _between(xs: Sequence[float], ys: Sequence[float], x: float) -> float:
    """Straight line through the two points around `x`; `xs` rising."""
    upper = min(max(bisect_left(xs, x), 1), len(xs) - 1)
    x0, x1, y0, y1 = xs[upper - 1], xs[upper], ys[upper - 1], ys[upper]
    share = (x - x0) / (x1 - x0)
    return y0 * (1 - share) + y1 * share


def curve_ohm(curve: SenderCurve, t_c: float) -> float:
    """Resistance [ohm] of a sender at `t_c` [degC], no further than its first and last point."""
    on_scale("temperature of sender", t_c, curve.points[0][0], curve.points[-1][0], "degC")
    temperatures, resistances = _straight(curve)
    if curve.spacing == "linear":
        return _between(temperatures, resistances, t_c)
    ohm = exp(_between(temperatures, resistances, -1 / kelvin("temperature of sender", t_c)))
    first, last = curve.points[0][1], curve.points[-1][1]
    # Rounding in exp(log(...)) must not push the end of a curve off its own scale.
    return min(max(ohm, min(first, last)), max(first, last))


def curve_c(curve: SenderCurve, ohm: float) -> float:
    """Temperature [degC] at which a sender has `ohm` [ohm], no further than its first and last point.

    >>> oil = sender_curve([(40, 450), (65, 158), (90, 64), (120, 30), (150, 15)])
    >>> round(curve_c(oil, 64), 6)
    90.0
    """
    first, last = curve.points[0][1], curve.points[-1][1]
    low, high = min(first, last), max(first, last)
    if not low <= finite("sender resistance", ohm, "ohm") <= high:
        side: Side = "above" if (ohm < low) == curve.falling else "below"
        raise OffScaleError(f"sender resistance must be from {low:g} to {high:g} ohm, not {ohm:g}", side)
    temperatures, resistances = _straight(curve)
    x = ohm if curve.spacing == "linear" else log(ohm)
    if curve.falling:
        temperatures, resistances = temperatures[::-1], resistances[::-1]
    found = _between(resistances, temperatures, x)
    return found if curve.spacing == "linear" else -1 / found + ABSOLUTE_ZERO


def series_ohm(sender_ohm: float, added_ohm: float) -> float:
    """Apparent resistance [ohm] of a sender with `added_ohm` [ohm] of lead, joint, sealant or paint in
    series.

    A falling curve then reads low, a rising one high.
    """
    return positive("sender resistance", sender_ohm, "ohm") + not_negative(
        "added resistance", added_ohm, "ohm"
    )


def ground_offset_ohm(sender_ohm: float, offset_v: float, pull_up_ohm: float, supply_v: float) -> float:
    """Apparent resistance [ohm] of a sender whose case stands `offset_v` [V] above the indicator's ground.

    The indicator feeds `supply_v` [V], held against its own ground, through `pull_up_ohm` [ohm] and reads the
    voltage at the sender: R' = (R V_s + V_g R_p) / (V_s - V_g), the sender current falling with the offset.
    May come out below zero for an offset below ground.

    >>> round(ground_offset_ohm(90, 0.20, 100, 12), 2)
    93.22
    """
    positive("sender resistance", sender_ohm, "ohm")
    positive("pull-up resistance", pull_up_ohm, "ohm")
    positive("supply voltage", supply_v, "V")
    if finite("ground offset", offset_v, "V") >= supply_v:
        raise ValueError(f"ground offset {offset_v:g} V must be less than the supply of {supply_v:g} V")
    return (sender_ohm * supply_v + offset_v * pull_up_ohm) / (supply_v - offset_v)
