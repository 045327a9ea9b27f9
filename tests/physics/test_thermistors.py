import csv
import doctest
from math import inf, nan
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from installcheck.physics import thermistors
from installcheck.physics.bulbs import PT100, resistance_ohm
from installcheck.physics.scale import OffScaleError
from installcheck.physics.thermistors import (
    SenderCurve,
    SteinhartHart,
    curve_c,
    curve_ohm,
    ground_offset_ohm,
    sender_curve,
    series_ohm,
    steinhart_hart_c,
    steinhart_hart_ohm,
    steinhart_hart_slope,
    steinhart_hart_through,
    typical_curve,
)


def celsius(t_f: float) -> float:
    return (t_f - 32) / 1.8


def fahrenheit(t_c: float) -> float:
    return 1.8 * t_c + 32


# A gauge maker's published falling curve, degF and ohm.
OIL_SENDER = tuple(
    (celsius(t), ohm) for t, ohm in ((100, 450), (150, 158.2), (200, 64.3), (250, 29.5), (300, 14.96))
)


def table(name: str) -> list[dict[str, str]]:
    with (Path(__file__).parent / "data" / f"{name}.csv").open(encoding="utf-8") as lines:
        return list(csv.DictReader(line for line in lines if not line.startswith("#")))


def test_doctests() -> None:
    assert doctest.testmod(thermistors).failed == 0


@pytest.mark.parametrize("row", table("thermistor_points"), ids=lambda row: f"{row['curve']} {row['t_c']}")
def test_typical_curves(row: dict[str, str]) -> None:
    curve, t_c, ohm = typical_curve(row["curve"]), float(row["t_c"]), float(row["ohm"])
    assert steinhart_hart_ohm(curve, t_c) == pytest.approx(ohm, abs=0.006)
    assert steinhart_hart_c(curve, ohm) == pytest.approx(t_c, abs=0.001)
    assert steinhart_hart_slope(curve, t_c) == pytest.approx(float(row["slope"]), abs=0.0006)


def test_three_points_give_the_coefficients() -> None:
    # A public sensor note: -40 degC 44864 ohm, 30 degC 1683 ohm, 100 degC 186.6 ohm.
    curve = steinhart_hart_through([(-40, 44864), (30, 1683), (100, 186.6)])
    assert curve.a == pytest.approx(1.286605e-3, rel=1e-6)
    assert curve.b == pytest.approx(2.621206e-4, rel=1e-6)
    assert curve.c == pytest.approx(1.585108e-7, rel=1e-5)


@given(
    st.floats(5e-4, 2e-3),
    st.floats(1e-4, 4e-4),
    st.sampled_from([0, 1e-12, 1e-9, 1e-7, 4e-7]),
    st.floats(-50, 150),
)
def test_thermistor_there_and_back(a: float, b: float, c: float, t_c: float) -> None:
    curve = SteinhartHart(a, b, c)
    assert steinhart_hart_c(curve, steinhart_hart_ohm(curve, t_c)) == pytest.approx(t_c, abs=1e-6)
    assert steinhart_hart_ohm(curve, t_c + 0.01) < steinhart_hart_ohm(curve, t_c)


@pytest.mark.parametrize("name", ["10 kohm", "2 kohm"])
def test_the_ends_of_a_curve_lie_on_it(name: str) -> None:
    curve = typical_curve(name)
    for t_c in (curve.t_low_c, curve.t_high_c):
        assert steinhart_hart_c(curve, steinhart_hart_ohm(curve, t_c)) == pytest.approx(t_c, abs=1e-6)


def test_thermistor_beyond_its_range() -> None:
    curve = typical_curve("10 kohm")
    for ohm, side in ((0, "above"), (-5, "above"), (1, "above"), (1e-9, "above"), (1e8, "below")):
        with pytest.raises(OffScaleError) as off:
            steinhart_hart_c(curve, ohm)
        assert off.value.side == side


# Resistance in series with the maker's sender at 200 degF; hand figures run the logarithm straight against
# degF between points, which bends less well than ours against 1/T: up to 0.9 degF apart at +20 ohm.
@pytest.mark.parametrize(("added", "shown_f"), [(0, 200.0), (2, 198.3), (5, 195.8), (10, 192.0), (20, 185.0)])
def test_bad_ground_makes_a_falling_sender_read_low(added: float, shown_f: float) -> None:
    curve = sender_curve(OIL_SENDER)
    shown = fahrenheit(curve_c(curve, series_ohm(curve_ohm(curve, celsius(200)), added)))
    assert shown == pytest.approx(shown_f, abs=1.0)
    exact = steinhart_hart_through(OIL_SENDER[:3])
    assert shown == pytest.approx(fahrenheit(steinhart_hart_c(exact, 64.3 + added)), abs=0.15)


def test_spacing_suits_the_sender() -> None:
    thermistor = typical_curve("10 kohm")
    assert sender_curve(OIL_SENDER).spacing == "thermistor"
    assert (
        sender_curve([(t, steinhart_hart_ohm(thermistor, t)) for t in range(0, 121, 20)]).spacing
        == "thermistor"
    )
    assert sender_curve([(t, resistance_ohm(PT100, t)) for t in range(0, 121, 20)]).spacing == "linear"
    assert sender_curve([(40, 240), (80, 171), (120, 102), (160, 33)]).spacing == "linear"
    assert sender_curve([(40, 240), (160, 33)]).spacing == "thermistor"
    assert sender_curve([(40, 10), (160, 180)]).spacing == "linear"


def test_points_25_degrees_apart_find_a_thermistor_within_a_third_of_a_degree() -> None:
    thermistor = typical_curve("10 kohm")
    curve = sender_curve([(t, steinhart_hart_ohm(thermistor, t)) for t in range(0, 151, 25)])
    assert max(abs(curve_c(curve, steinhart_hart_ohm(thermistor, t)) - t) for t in range(151)) < 0.3


def test_linear_curve_by_hand() -> None:
    curve = SenderCurve(((40, 240), (160, 33)), "linear")
    # 240 - 207 x (100 - 40) / 120 = 136.5
    assert curve_ohm(curve, 100) == pytest.approx(136.5)
    assert curve_c(curve, 136.5) == pytest.approx(100)


curves = st.tuples(
    st.lists(st.integers(-50, 200), min_size=2, max_size=8, unique=True),
    st.lists(st.integers(1, 5000), min_size=8, max_size=8, unique=True),
    st.booleans(),
    st.booleans(),
).map(
    lambda drawn: SenderCurve(
        tuple(
            zip(
                map(float, sorted(drawn[0])),
                map(float, sorted(drawn[1], reverse=drawn[2])[: len(drawn[0])]),
                strict=True,
            )
        ),
        "linear" if drawn[3] else "thermistor",
    )
)


@given(curves, st.floats(0, 1), st.floats(0, 1))
def test_sender_curves_are_monotone_and_come_back(curve: SenderCurve, first: float, second: float) -> None:
    low, high = curve.points[0][0], curve.points[-1][0]
    cooler, warmer = sorted((low + (high - low) * first, low + (high - low) * second))
    change = curve_ohm(curve, warmer) - curve_ohm(curve, cooler)
    assert change <= 1e-9 if curve.falling else change >= -1e-9
    assert curve_c(curve, curve_ohm(curve, warmer)) == pytest.approx(warmer, abs=1e-4)
    for t_c, ohm in curve.points:
        assert curve_ohm(curve, t_c) == pytest.approx(ohm)
        assert curve_c(curve, ohm) == pytest.approx(t_c)


def test_side_of_the_scale_follows_the_temperature() -> None:
    falling, rising = sender_curve(OIL_SENDER), sender_curve([(0, 10), (100, 100), (150, 150)])
    for curve, ohm, side in (
        (falling, 5, "above"),
        (falling, 900, "below"),
        (rising, 5, "below"),
        (rising, 900, "above"),
    ):
        with pytest.raises(OffScaleError) as off:
            curve_c(curve, ohm)
        assert off.value.side == side


@pytest.mark.parametrize(
    ("points", "message"),
    [
        (((0, 10),), "at least two"),
        (((0, 10), (0, 20)), "must rise"),
        (((0, 10), (50, 30), (100, 20)), "rise at every point or fall"),
        (((0, 10), (50, 10)), "rise at every point or fall"),
        (((0, 10), (50, 0)), "more than 0 ohm"),
        (((0, 10), (50, nan)), "finite"),
        (((-300, 10), (50, 20)), "-273.15"),
    ],
)
def test_impossible_curves_are_refused(points: tuple[tuple[float, float], ...], message: str) -> None:
    with pytest.raises(ValueError, match=message):
        SenderCurve(points, "linear")


def test_ground_offset_by_hand() -> None:
    # 12 V, 100 ohm, 90 ohm sender, +0.20 V: 62.1 mA, 5.7895 V at the terminal, 93.22 ohm.
    v = 0.20 + (12 - 0.20) / 190 * 90
    assert v == pytest.approx(5.7895, abs=0.0001)
    assert ground_offset_ohm(90, 0.20, 100, 12) == pytest.approx(100 * v / (12 - v))
    assert ground_offset_ohm(90, 0.20, 100, 12) == pytest.approx(93.22, abs=0.01)


@given(st.floats(1, 5000), st.floats(-0.5, 0.5), st.floats(10, 2000), st.floats(4, 32))
def test_ground_offset_is_exact(sender: float, offset: float, pull_up: float, supply: float) -> None:
    v = offset + (supply - offset) * sender / (pull_up + sender)
    assert ground_offset_ohm(sender, offset, pull_up, supply) == pytest.approx(
        pull_up * v / (supply - v), abs=1e-6
    )


@pytest.mark.parametrize("bad", [nan, inf, -1.0])
def test_impossible_numbers_are_refused(bad: float) -> None:
    with pytest.raises(ValueError, match="added resistance"):
        series_ohm(100, bad)
    with pytest.raises(ValueError, match="sender resistance"):
        ground_offset_ohm(bad, 0, 100, 12)
    with pytest.raises(ValueError, match="pull-up"):
        ground_offset_ohm(100, 0, bad, 12)
    with pytest.raises(ValueError, match="coefficient b"):
        SteinhartHart(1e-3, bad, 1e-7)


def test_an_offset_as_large_as_the_supply_is_refused() -> None:
    with pytest.raises(ValueError, match="20 V must be less than the supply of 12 V"):
        ground_offset_ohm(100, 20, 100, 12)
    with pytest.raises(ValueError, match="finite"):
        ground_offset_ohm(100, nan, 100, 12)


def test_unknown_curve_is_named() -> None:
    with pytest.raises(ValueError, match="no thermistor curve '3 kohm'"):
        typical_curve("3 kohm")
    with pytest.raises(ValueError, match="different resistance"):
        steinhart_hart_through([(0, 100), (50, 100), (100, 50)])
