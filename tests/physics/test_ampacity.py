"""Derating against the points AC 43.13-1B prints, its examples, and its tables taken whole."""

import csv
from math import inf, nan
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from installcheck.physics.ampacity import (
    altitude_factor,
    bundle_factor,
    bundle_total,
    chart_rating,
    derated_current,
    free_air_current,
    heat_conductors,
    pressure_ratio,
    smallest_rating,
    standard_ratings,
    table_applies,
    table_current,
)
from installcheck.physics.conductors import FOOT, balance_temperature, gauges, wire_resistance
from installcheck.physics.networks import Branch, Network, solve
from installcheck.physics.tables import read_table


@pytest.mark.parametrize(
    ("gauge", "rise", "printed", "tolerance"),
    [
        ("14", 150, 47, 0.015),  # 11-66 example 2, verified
        ("12", 175, 68, 0.021),  # the rest recalled
        ("12", 140, 61, 0.018),
        ("20", 140, 21.5, 0.005),
        ("22", 140, 16.2, 0.065),  # the formula is 6.4 percent low, the safe side
    ],
)
def test_free_air_points(gauge: str, rise: float, printed: float, tolerance: float) -> None:
    assert free_air_current(gauge, 200, 200 - rise, mean=True) == pytest.approx(printed, rel=tolerance)


def _points(name: str) -> list[dict[str, str]]:
    with (Path(__file__).parent / "data" / f"{name}.csv").open(encoding="utf-8", newline="") as lines:
        return list(csv.DictReader(line for line in lines if not line.startswith("#")))


def _bundle_points() -> list[tuple[int, float, float]]:
    """Points of data/bundle_points.csv, and the AC's own: 8 wires at 60 percent (seen) and 35 at 20 (recalled)."""
    rows = _points("bundle_points")
    read = [
        (int(row["n_wires"]), percent / 100, float(row[f"load_{percent}pct"]))
        for row in rows
        for percent in (20, 40, 60, 80, 100)
    ]
    assert len(read) == 95
    return [*read, (8, 0.6, 0.60), (35, 0.2, 0.52)]


@pytest.mark.parametrize(("wires", "load", "printed"), _bundle_points())
def test_bundle_factor_is_never_above_the_curves_and_little_below(
    wires: int, load: float, printed: float
) -> None:
    assert printed * 0.955 <= bundle_factor(wires, load) <= printed


@pytest.mark.parametrize(("feet", "printed"), [(20_000, 0.91), (60_000, 0.79)])
def test_altitude_points(feet: float, printed: float) -> None:
    assert altitude_factor(feet * FOOT) == pytest.approx(printed, rel=0.005)


@pytest.mark.parametrize(
    ("feet", "ratio"),
    [(0, 1.0), (10_000, 0.6877), (20_000, 0.4595), (35_000, 0.2353), (45_000, 0.1455), (60_000, 0.0708)],
)
def test_standard_atmosphere(feet: float, ratio: float) -> None:
    """Pressure ratios of the ISO 2533 tables."""
    assert pressure_ratio(feet * FOOT) == pytest.approx(ratio, abs=6e-5)


def test_example_2_of_11_66() -> None:
    """47 x .91 = 42.77, x .6 = 25.66 A, which the AC calls 26; the formulas stay within half an ampere of it."""
    found = derated_current("14", 200, 50, wires=8, load=0.6, altitude=20_000 * FOOT, mean=True)
    assert found.current == pytest.approx(25.66, abs=0.5)
    assert found.current == pytest.approx(found.free_air * found.bundle * found.altitude)


def test_harness_a_of_11_69() -> None:
    """10 size 20 and 25 size 22, 200 degC in 60 degC, 60,000 ft, 20 percent (recalled): 8.8 and 6.6 A, 50.6 A in all."""
    height = 60_000 * FOOT
    for gauge, printed in (("22", 6.6), ("20", 8.8)):
        found = derated_current(gauge, 200, 60, 35, 0.2, height, mean=True).current
        assert printed * 0.9 <= found <= printed
    assert bundle_total([6.6] * 25 + [8.8] * 10, 0.2) == pytest.approx(50.6)


@pytest.mark.parametrize(
    ("ambient", "feet", "each", "total"), [(25, 0, 29.2, 350.4), (60, 20_000, 23.8, 285.6)]
)
def test_harness_b_of_11_69(ambient: float, feet: float, each: float, total: float) -> None:
    """12 size 12, 200 degC, all loaded (recalled): the formulas give 28.9 and 23.5 A."""
    found = derated_current("12", 200, ambient, 12, 1.0, feet * FOOT, mean=True).current
    assert found == pytest.approx(each, rel=0.025)
    assert bundle_total([each] * 12, 1.0) == pytest.approx(total)


def test_instrument_bundle() -> None:
    """6 size 22, 150 degC in 70 degC, 12,500 ft: 1.225 x 80^0.5 = 10.96, x 3.6^-0.46 = 0.555 x 0.944 = 5.74 A; the table says 5."""
    found = derated_current("22", 150, 70, 6, 1.0, 12_500 * FOOT)
    assert found.free_air == pytest.approx(10.96, abs=0.005)
    assert found.bundle == pytest.approx(0.5547, abs=5e-4)
    assert found.altitude == pytest.approx(0.944, abs=5e-4)
    assert found.current == pytest.approx(5.74, abs=0.01)
    assert table_current("22", 150) == 5


def test_the_formulas_never_exceed_table_11_9_on_its_own_terms() -> None:
    """The least constant under the table's conditions gives no more than any column; the mean stays within 10 percent."""
    for gauge in gauges()[1:]:
        wires, load = (33, 0.2) if gauge not in gauges()[9:] else (9, 0.2)
        for rating in (105, 150, 200):
            printed = table_current(gauge, rating)
            assert derated_current(gauge, rating, 70, wires, load, 60_000 * FOOT).current <= printed * 1.0005
            mean = derated_current(gauge, rating, 70, wires, load, 60_000 * FOOT, mean=True).current
            assert mean == pytest.approx(printed, rel=0.12)


@pytest.mark.parametrize("row", _points("copper_wire_points"), ids=lambda row: row["awg"])
def test_table_11_9_row_by_row(row: dict[str, str]) -> None:
    for rating in (105, 150, 200):
        assert table_current(row["awg"], rating) == float(row[f"A_at_{rating}C"])
    ohms = wire_resistance(row["awg"], 1000 * FOOT)
    assert ohms == pytest.approx(float(row["ohm_per_1000ft_20C"]))


def test_table_columns() -> None:
    assert table_current("24", 105) == 2.5
    assert table_current("10", 260) == 32
    assert table_current("8", 105) == 38
    assert table_current("4/0", 200) == 395
    assert table_current("8", 200, "aluminium") == 45
    with pytest.raises(ValueError, match="no current for"):
        table_current("26", 150)
    with pytest.raises(ValueError, match="no current for"):
        table_current("20", 90)
    with pytest.raises(ValueError, match="size '22'"):
        table_current("22", 150, "aluminium")


def test_table_conditions() -> None:
    assert table_applies("22", 70, 33, 0.2, 18_288)
    assert not table_applies("22", 71, 33, 0.2, 0)
    assert not table_applies("22", 70, 34, 0.2, 0)
    assert not table_applies("22", 70, 33, 0.21, 0)
    assert not table_applies("8", 70, 10, 0.2, 0)
    assert table_applies("8", 70, 9, 0.2, 0)
    assert not table_applies("22", nan, 1, 0.1, 0)


@pytest.mark.parametrize(
    ("gauge", "breaker", "fuse"),
    [
        ("22", 5, 5),
        ("20", 7.5, 5),
        ("18", 10, 10),
        ("16", 15, 10),
        ("14", 20, 15),
        ("12", 30, 20),
        ("10", 40, 30),
        ("8", 50, 50),
        ("6", 80, 70),
        ("4", 100, 70),
        ("2", 125, 100),
        ("1", None, 150),
        ("0", None, 150),
    ],
)
def test_table_11_3(gauge: str, breaker: float | None, fuse: float) -> None:
    assert (chart_rating(gauge).breaker, chart_rating(gauge).fuse) == (breaker, fuse)
    if breaker is not None:
        assert breaker in standard_ratings("breaker")
    assert fuse in standard_ratings("fuse")


def test_choice_of_breaker() -> None:
    """Size 20 with 4 A: the chart allows 7.5 A, the table at 150 degC 7 A; 5 A meets both, 7.5 A only the chart, 10 A neither."""
    assert (
        smallest_rating("breaker", 4.0, min(table_current("20", 150), chart_rating("20").breaker or 0)) == 5
    )
    assert table_current("20", 150) < 7.5 <= (chart_rating("20").breaker or 0) < 10
    assert smallest_rating("breaker", 130, 200) is None
    with pytest.raises(ValueError, match="no protector 'link'"):
        standard_ratings("link")


def test_two_parallel_wires_and_one_open() -> None:
    """32.5 A of breakers behind two size 12 wires: 16.25 A each, but 32.5 A on one against 30 A of table 11-3; size 10, 40 A."""
    assert (chart_rating("12").breaker or 0) < 32.5 < (chart_rating("10").breaker or 0)


@given(
    st.sampled_from(gauges()[1:]),
    st.floats(-40, 104),
    st.integers(1, 39),
    st.floats(0, 1),
    st.floats(0, 17_000),
)
def test_harder_conditions_never_allow_more(
    gauge: str, ambient: float, wires: int, load: float, altitude: float
) -> None:
    here = derated_current(gauge, 150, ambient, wires, load, altitude).current
    assert derated_current(gauge, 150, ambient + 1, wires, load, altitude).current < here
    assert derated_current(gauge, 150, ambient, wires + 1, load, altitude).current <= here
    assert derated_current(gauge, 150, ambient, wires, load, altitude + 500).current < here
    assert derated_current(gauge, 150, ambient, wires, load, altitude, mean=True).current >= here


def test_altitude_below_the_sea_gives_no_more() -> None:
    assert altitude_factor(-300) == 1.0


@pytest.mark.parametrize("wrong", [nan, inf])
def test_impossible_numbers_are_refused(wrong: float) -> None:
    for call in (
        lambda: free_air_current("20", wrong, 20),
        lambda: free_air_current("20", 150, wrong),
        lambda: bundle_factor(5, wrong),
        lambda: altitude_factor(wrong),
        lambda: bundle_total([wrong], 1.0),
        lambda: smallest_rating("breaker", wrong, 5),
        lambda: table_current("20", wrong),
    ):
        with pytest.raises(ValueError, match=r"must be|finite|ends at"):
            call()


def test_outside_the_data() -> None:
    with pytest.raises(ValueError, match="1 to 40 wires, not 41"):
        bundle_factor(41, 0.2)
    with pytest.raises(ValueError, match="1 to 40 wires, not 0"):
        bundle_factor(0, 0.2)
    with pytest.raises(ValueError, match="60,000 ft"):
        altitude_factor(18_300)
    with pytest.raises(ValueError, match="carries nothing"):
        free_air_current("20", 150, 150)
    with pytest.raises(ValueError, match="size '26'"):
        free_air_current("26", 150, 20)


def test_constants_follow_from_table_11_9() -> None:
    """k = amps / ((rating - 70)^0.5 x bundle factor x altitude factor), least and mean of the three columns."""
    height = (0.48 + 0.52 * 0.0708**0.5) ** 0.5
    for row, table in zip(read_table("free_air_constants"), read_table("copper_wire")[1:], strict=True):
        assert row["awg"] == table["awg"]
        wires = 33 if row["awg"] in ("24", "22", "20", "18", "16", "14", "12", "10") else 9
        factor = (wires * 0.2) ** -0.34 * height
        found = [float(table[f"amps_{t}c"]) / ((t - 70) ** 0.5 * factor) for t in (105, 150, 200)]
        assert float(row["k_min"]) == pytest.approx(min(found), rel=2e-3)
        assert float(row["k_mean"]) == pytest.approx(sum(found) / 3, rel=2e-3)


def test_heat_raises_resistance_until_both_agree() -> None:
    """0.5 ohm wire in series with 1 ohm on 14 V: T = 50 + 150 (I/10)^2 and I = 14/(1 + 0.5 (234.5+T)/254.5) together."""

    def currents(resistance: np.ndarray) -> np.ndarray:
        return solve(Network.of(2, [Branch(0, 1, 1.0, 14.0), Branch(1, 0, float(resistance[0]))])).current[1:]

    found = heat_conductors(
        currents, np.array([0.5]), np.array([50.0]), np.array([200.0]), np.array([10.0]), tolerance=1e-9
    )
    amps, celsius = float(found.current[0]), float(found.temperature[0])
    assert found.settled
    assert not found.over_limit.any()
    assert celsius == pytest.approx(balance_temperature(50, 200, amps, 10), abs=1e-6)
    assert amps == pytest.approx(14 / (1 + 0.5 * (234.5 + celsius) / 254.5), rel=1e-9)
    assert amps < 14 / 1.5


def test_heat_above_the_limit_is_said() -> None:
    found = heat_conductors(
        lambda r: np.full_like(r, 12.0),
        np.array([0.1]),
        np.array([20.0]),
        np.array([150.0]),
        np.array([10.0]),
    )
    assert found.over_limit.tolist() == [True]
    assert found.temperature.tolist() == [150.0]


def test_heat_of_impossible_conductors() -> None:
    one = np.array([1.0])
    with pytest.raises(ValueError, match="rated above"):
        heat_conductors(lambda r: r, one, one * 150, one * 150, one)
    with pytest.raises(ValueError, match="finite"):
        heat_conductors(lambda r: r, one * nan, one, one * 150, one)
    with pytest.raises(ValueError, match=r"power 0\.5 or 2"):
        heat_conductors(lambda r: r, one, one, one * 150, one, power=1.0)
