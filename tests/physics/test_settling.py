"""Rolling slopes against the plain least-squares slope of each window."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from installcheck.physics.cooling import slope
from installcheck.physics.settling import Floats, rolling_slope

START = np.array([0])


def test_a_straight_rise_has_its_slope_everywhere() -> None:
    times = np.arange(0.0, 600, 6)
    got = rolling_slope(times, 100 + 0.02 * times, 120, START)
    inside = np.isfinite(got.rate)
    # Windows of 120 s fit from 60 s to 594 - 60 = 534 s: samples 10 to 89.
    assert inside.nonzero()[0].tolist() == list(range(10, 90))
    assert got.rate[inside] == pytest.approx(0.02)
    assert got.standard_error[inside] == pytest.approx(0, abs=1e-6)


def test_no_window_reaches_across_a_break() -> None:
    times = np.concatenate([np.arange(0.0, 300, 6), np.arange(5000.0, 5300, 6)])
    values = np.concatenate([np.full(50, 100.0), np.full(50, 200.0)])
    got = rolling_slope(times, values, 120, np.array([0, 50]))
    assert np.nanmax(np.abs(got.rate)) == pytest.approx(0, abs=1e-9)
    assert np.isnan(got.rate[45:55]).all()


def test_missing_samples() -> None:
    times = np.arange(0.0, 600, 6)
    values = 100 + 0.02 * times
    values[30:60] = np.nan
    got = rolling_slope(times, values, 120, START)
    assert np.isnan(got.rate[45])
    assert got.rate[25] == pytest.approx(0.02)
    assert np.isnan(rolling_slope(times, np.full(100, np.nan), 120, START).rate).all()


def test_the_reading_scatters_by_its_division() -> None:
    times = np.arange(0.0, 600, 6)
    got = rolling_slope(times, np.full(100, 200.0), 120, START, division=5 / 1.8)
    # As by hand for 21 samples of a dial read to 5 degF: 1.0195 degF/min at 95 %.
    assert 1.96 * got.standard_error[50] * 1.8 * 60 == pytest.approx(1.0195, abs=1e-3)


@pytest.mark.parametrize("offset", [0.0, 1.7e9])
def test_a_long_log_keeps_its_slopes(offset: float) -> None:
    rng = np.random.default_rng(3)
    times: Floats = offset + np.arange(72_000.0)
    values = 200 + 20 * np.sin(times / 500) + rng.normal(0, 0.5, 72_000)
    got = rolling_slope(times, values, 120, START)
    for at in (100, 36_000, 71_900):
        plain = slope(list(times[at - 60 : at + 61] - offset), list(values[at - 60 : at + 61]))
        assert got.rate[at] == pytest.approx(plain.rate, abs=1e-6)
        assert got.standard_error[at] == pytest.approx(plain.standard_error, rel=1e-3)


@given(st.lists(st.floats(50, 260), min_size=25, max_size=60))
def test_agrees_with_the_plain_slope(values: list[float]) -> None:
    times = np.arange(len(values)) * 6.0
    got = rolling_slope(times, np.array(values), 120, START)
    at = 12
    plain = slope(list(times[at - 10 : at + 11]), values[at - 10 : at + 11])
    assert got.rate[at] == pytest.approx(plain.rate, abs=1e-9)
    assert got.standard_error[at] == pytest.approx(plain.standard_error, abs=1e-5)
