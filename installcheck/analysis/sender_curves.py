"""A sender's curve as the document gives it, both ways: what it puts out, and what an indicator made for it shows."""

from __future__ import annotations

from functools import lru_cache

from ..model.devices import Curve
from ..model.quantities import Quantity
from ..physics.bulbs import resistance_ohm, temperature_c, temperature_range_c
from ..physics.scale import OffScaleError, Side
from ..physics.thermistors import (
    SenderCurve,
    SteinhartHart,
    curve_c,
    curve_ohm,
    steinhart_hart_c,
    steinhart_hart_ohm,
)

_OVERRUN = 0.1
"""Share of its span a table of points is carried on straight beyond its ends: a pointer follows its law to the stop."""


@lru_cache(maxsize=4096)
def _logarithmic(points: tuple[tuple[float, float], ...]) -> SenderCurve:
    return SenderCurve(points, "thermistor")


def _points(curve: Curve) -> tuple[tuple[float, float], ...]:
    return tuple((float(reading), float(output)) for reading, output in curve.points or ())


def is_logarithmic(curve: Curve) -> bool:
    """Whether the table is that of a thermistor: a resistance that falls as the temperature rises."""
    points = curve.points
    return (
        points is not None
        and points[0][0].kind == "temperature"
        and points[0][1].kind == "resistance"
        and points[0][1] > points[-1][1] > 0
    )


def falls(curve: Curve) -> bool:
    """Whether the output falls as the reading rises."""
    if curve.points is not None:
        return curve.points[0][1] > curve.points[-1][1]
    return curve.steinhart_hart is not None


def of_each_station(curve: Curve, stations: int) -> Curve:
    """The curve each of several equal indicators sees on one resistive sender: all their currents flow through it, so
    that at each the voltage, and with it the resistance it takes the sender for, is as many times as large.

    Any other output is the same for all of them.
    """
    if stations == 1 or curve.points is None or curve.points[0][1].kind != "resistance":
        return curve
    points = [
        (reading, Quantity(ohm * stations, ohm.text, ohm.unit, ohm.kind)) for reading, ohm in curve.points
    ]
    return curve.model_copy(update={"points": points})


def output(curve: Curve, true: float) -> float:
    """What a sender puts out [ohm, V, A or Hz] at a true value [SI, degC].

    Between points a thermistor's resistance runs straight in its logarithm against 1/T, everything else straight.

    Raises:
        ValueError: beyond the curve.
    """
    if curve.law is not None:
        return resistance_ohm(curve.law, true)
    if curve.steinhart_hart is not None:
        return steinhart_hart_ohm(SteinhartHart(*curve.steinhart_hart), true)
    points = _points(curve)
    if is_logarithmic(curve) and points[0][0] <= true <= points[-1][0]:
        return curve_ohm(_logarithmic(points), true)
    return _along(points, true)


_NEAR_END_K = 1.0
"""K over which the slope of a bulb's law is taken at its end."""


def output_carried(curve: Curve, true: float) -> float:
    """What a sender puts out [ohm, V, A or Hz] at a true value [SI, degC] that may lie beyond its curve.

    Beyond a bulb's law it goes on by the slope at the end; beyond drawn points or a thermistor's range it stays at the last, as a
    sender at its stop does.
    """
    if curve.law is not None:
        low, high = temperature_range_c(curve.law)
        end = min(max(true, low), high)
        inner = end - _NEAR_END_K if end == high else end + _NEAR_END_K
        slope = (output(curve, end) - output(curve, inner)) / (end - inner) if true != end else 0.0
        return max(output(curve, end) + slope * (true - end), 0.0)
    if curve.steinhart_hart is not None:
        law = SteinhartHart(*curve.steinhart_hart)
        return steinhart_hart_ohm(law, min(max(true, law.t_low_c), law.t_high_c))
    points = _points(curve)
    return output(curve, min(max(true, points[0][0]), points[-1][0]))


def shown(curve: Curve, out: float) -> float:
    """The reading [SI, degC] an indicator made for the curve gives for an output [ohm, V, A or Hz].

    Raises:
        OffScaleError: beyond the curve; its side speaks of the reading.
    """
    if curve.law is not None:
        return temperature_c(curve.law, out)
    if curve.steinhart_hart is not None:
        return steinhart_hart_c(SteinhartHart(*curve.steinhart_hart), out)
    points = _points(curve)
    low, high = sorted((points[0][1], points[-1][1]))
    if is_logarithmic(curve) and low <= out <= high:
        return curve_c(_logarithmic(points), out)
    turned = tuple((o, r) for r, o in points)
    if falls(curve):
        turned = turned[::-1]
    span = turned[-1][0] - turned[0][0]
    if not turned[0][0] - _OVERRUN * span <= out <= turned[-1][0] + _OVERRUN * span:
        side: Side = "above" if (out > turned[-1][0]) != falls(curve) else "below"
        raise OffScaleError(f"an output of {out:g} is beyond the curve", side)
    return _straight(turned, out)


def reach(curve: Curve) -> tuple[float, float]:
    """The lowest and the highest reading [SI, degC] that :func:`shown` can give."""
    if curve.law is not None:
        return temperature_range_c(curve.law)
    if curve.steinhart_hart is not None:
        law = SteinhartHart(*curve.steinhart_hart)
        return law.t_low_c, law.t_high_c
    turned = sorted((o, r) for r, o in _points(curve))
    over = _OVERRUN * (turned[-1][0] - turned[0][0])
    ends = _straight(tuple(turned), turned[0][0] - over), _straight(tuple(turned), turned[-1][0] + over)
    return min(ends), max(ends)


def _along(points: tuple[tuple[float, float], ...], x: float) -> float:
    span = points[-1][0] - points[0][0]
    if not points[0][0] - _OVERRUN * span <= x <= points[-1][0] + _OVERRUN * span:
        side: Side = "above" if x > points[-1][0] else "below"
        raise OffScaleError(f"a true value of {x:g} is beyond the curve", side)
    return _straight(points, x)


def _straight(points: tuple[tuple[float, float], ...], x: float) -> float:
    upper = next((i for i in range(1, len(points)) if x <= points[i][0]), len(points) - 1)
    (x0, y0), (x1, y1) = points[upper - 1], points[upper]
    return y0 + (y1 - y0) * (x - x0) / (x1 - x0)


def middle(curve: Curve) -> float:
    """A reading in the middle of the curve [SI, degC]."""
    if curve.points is not None:
        return (float(curve.points[0][0]) + float(curve.points[-1][0])) / 2
    return 80.0 if curve.law is None else 60.0


def kind_of(curve: Curve) -> str:
    """Kind of quantity a curve reads in."""
    return curve.points[0][0].kind if curve.points is not None else "temperature"


def output_kind(curve: Curve) -> str:
    """Kind of quantity a curve puts out."""
    return curve.points[0][1].kind if curve.points is not None else "resistance"
