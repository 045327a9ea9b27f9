"""Cooling-test arithmetic against hand calculations from 14 CFR 23.1043(b)-(d), 25.1043, 25.1045(a) and CS 22.1047(c)."""

import doctest
from math import inf, nan

import pytest
from hypothesis import given
from hypothesis import strategies as st

from installcheck.physics import cooling
from installcheck.physics.cooling import (
    BARRELS,
    SAILPLANE_HOT_DAY,
    STABILISED_RATE,
    corrected_temperature,
    hot_day_ambient,
    margin,
    slope,
    slope_error_of_reading,
    stabilised,
    still_to_come,
)

FOOT = 0.3048
PER_MINUTE = 1 / 1.8 / 60


def c(fahrenheit: float) -> float:
    return (fahrenheit - 32) / 1.8


def f(celsius: float) -> float:
    return celsius * 1.8 + 32


def test_doctests() -> None:
    assert doctest.testmod(cooling).failed == 0


@pytest.mark.parametrize(
    ("feet", "fahrenheit"),
    [
        (0, 100),  # 23.1043(b)
        (7000, 74.8),  # 100 - 3.6 x 7
        (12000, 56.8),  # 100 - 3.6 x 12
        (47138.9, -69.7),  # (100 + 69.7) / 3.6 x 1000 ft is where the floor is met
        (50000, -69.7),  # max(100 - 180, -69.7)
        (6561.68, 76.378),  # 100 - 3.6 x 6.56168
    ],
)
def test_hot_day(feet: float, fahrenheit: float) -> None:
    assert f(hot_day_ambient(feet * FOOT)) == pytest.approx(fahrenheit, abs=0.01)


def test_hot_day_lapse_is_two_degrees_a_thousand_feet() -> None:
    assert hot_day_ambient(0) - hot_day_ambient(1000 * FOOT) == pytest.approx(2.0, abs=1e-9)


def test_sailplane_hot_day() -> None:
    assert hot_day_ambient(2000, SAILPLANE_HOT_DAY) == pytest.approx(25.0)  # 38 - 6.5 x 2
    # The two rules part by 0.35 degC there: 25 against 24.654.
    assert hot_day_ambient(2000) == pytest.approx(24.654, abs=0.001)


@pytest.mark.parametrize(
    ("observed", "outside", "feet", "share", "corrected"),
    [
        (412, 45, 5500, 1.0, 447.2),  # hot day 80.2; 412 + 35.2
        (310, 45, 5500, BARRELS, 334.64),  # 310 + 0.7 x 35.2
        (205, 30, 8000, 1.0, 246.2),  # hot day 71.2; 205 + 41.2
    ],
)
def test_corrected(observed: float, outside: float, feet: float, share: float, corrected: float) -> None:
    got = corrected_temperature(c(observed), c(outside), feet * FOOT, share=share)
    assert f(got.temperature) == pytest.approx(corrected, abs=0.01)
    assert not got.clamped


def test_a_day_hotter_than_the_hot_day_takes_nothing_off_unless_asked() -> None:
    # Hot day at 1000 ft 96.4 degF; 104 degF outside: difference -7.6, so 447.4 by plain arithmetic and 455 clamped.
    plain = corrected_temperature(c(455), c(104), 1000 * FOOT, clamp=False)
    assert f(plain.temperature) == pytest.approx(447.4, abs=0.01)
    assert not plain.clamped
    held = corrected_temperature(c(455), c(104), 1000 * FOOT)
    assert f(held.temperature) == pytest.approx(455)
    assert held.clamped
    assert held.difference * 1.8 == pytest.approx(-7.6, abs=0.01)
    assert held.added == 0


def test_margin() -> None:
    assert margin(c(460), c(447.2)) * 1.8 == pytest.approx(12.8)  # 460 - (412 + 35.2)
    assert margin(c(460), c(447.2), 12 / 1.8) * 1.8 == pytest.approx(0.8)


def test_slope_of_a_settled_temperature() -> None:
    minutes = [60.0 * m for m in range(5)]
    got = slope(minutes, [c(t) for t in (398, 400, 401, 402, 402.5)])
    # By hand: mean 400.7; sum (t - 2)(T - mean) = -2(-2.7) -1(-0.7) + 1(1.3) + 2(1.8) = 11; Sxx = 10; 1.1 degF/min.
    assert got.rate / PER_MINUTE == pytest.approx(1.1)
    # Residuals -0.5, 0.4, 0.3, 0.2, -0.4: SSE 0.70; s = sqrt(0.70 / 3) = 0.48305; / sqrt(10) = 0.152753
    assert got.standard_error / PER_MINUTE == pytest.approx(0.152753, abs=1e-5)
    assert got.samples == 5
    assert stabilised(got.rate, got.standard_error)


def test_slope_of_a_temperature_still_rising() -> None:
    got = slope([60.0 * m for m in range(5)], [c(t) for t in (380, 384, 387.5, 390.5, 393)])
    assert got.rate / PER_MINUTE == pytest.approx(3.25)
    assert not stabilised(got.rate)


@pytest.mark.parametrize(("samples", "band"), [(21, 1.01951), (51, 0.269125)])
def test_slope_error_of_a_dial_read_to_5_degf(samples: int, band: float) -> None:
    # sigma = 5 / sqrt(12); Sxx = 0.1^2 n (n^2 - 1) / 12 = 7.7 and 110.5 min^2; 1.96 sigma / sqrt(Sxx)
    got = 1.96 * slope_error_of_reading(samples, 6, 5 / 1.8)
    assert got / PER_MINUTE == pytest.approx(band, abs=1e-4)


def test_a_coarse_dial_cannot_show_that_a_slow_slope_has_settled() -> None:
    error = slope_error_of_reading(21, 6, 5 / 1.8)
    assert stabilised(1.2 * PER_MINUTE)
    assert not stabilised(1.2 * PER_MINUTE, error)


@pytest.mark.parametrize(("minutes", "rise"), [(1.5, 3), (4, 8)])
def test_still_to_come(minutes: float, rise: float) -> None:
    assert still_to_come(minutes * 60, STABILISED_RATE) * 1.8 == pytest.approx(rise)


@pytest.mark.parametrize("bad", [nan, inf, -inf])
def test_no_formula_lets_a_number_that_is_none_through(bad: float) -> None:
    for call in (
        lambda: hot_day_ambient(bad),
        lambda: corrected_temperature(bad, 0, 0),
        lambda: corrected_temperature(200, bad, 0),
        lambda: margin(bad, 200),
        lambda: margin(200, 200, bad),
        lambda: slope([0, 1, bad], [1, 2, 3]),
        lambda: slope([0, 1, 2], [1, bad, 3]),
        lambda: slope_error_of_reading(20, bad, 1),
        lambda: stabilised(bad),
        lambda: still_to_come(bad, 1),
        lambda: still_to_come(1, bad),
    ):
        with pytest.raises(ValueError, match=r"finite|from"):
            call()


def test_out_of_range() -> None:
    with pytest.raises(ValueError, match=r"altitude must be from -500 to 20000 m, not 30000"):
        hot_day_ambient(30_000)
    with pytest.raises(ValueError, match="share must be from 0 to 1"):
        corrected_temperature(200, 20, 0, share=1.1)
    with pytest.raises(ValueError, match="times that differ"):
        slope([5, 5, 5], [1, 2, 3])
    with pytest.raises(ValueError, match="3 or more"):
        slope([1, 2], [1, 2])


@given(st.floats(-500, 19_000), st.floats(0, 1000))
def test_the_hot_day_never_warms_with_height(low: float, more: float) -> None:
    assert hot_day_ambient(low + more) <= hot_day_ambient(low)


@given(st.floats(-50, 400), st.floats(-60, 60), st.floats(0, 9000))
def test_a_clamped_correction_never_lowers_a_temperature(
    observed: float, outside: float, altitude: float
) -> None:
    assert corrected_temperature(observed, outside, altitude).temperature >= observed
