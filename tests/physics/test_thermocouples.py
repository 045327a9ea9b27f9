import csv
import doctest
from itertools import groupby
from math import inf, nan
from pathlib import Path

import pytest
import thermocouple_its90
from hypothesis import given
from hypothesis import strategies as st

from installcheck.physics import scale, thermocouples
from installcheck.physics.scale import OffScaleError
from installcheck.physics.thermocouples import (
    LEGS,
    TYPES,
    UnknownLegError,
    emf_mv,
    j_constantan_minus_constantan_mv,
    leg_emf_mv,
    seebeck_mv_per_c,
    temperature_c,
    temperature_range_c,
)

HALF_A_MICROVOLT = 0.0005


def table(name: str) -> list[dict[str, str]]:
    with (Path(__file__).parent / "data" / f"{name}.csv").open(encoding="utf-8") as lines:
        return list(csv.DictReader(line for line in lines if not line.startswith("#")))


def whole_range(kind: str, steps: int) -> list[float]:
    low, high = temperature_range_c(kind)
    return [low + (high - low) * i / steps for i in range(steps + 1)]


def test_doctests() -> None:
    assert doctest.testmod(thermocouples).failed == 0
    assert doctest.testmod(scale).failed == 0


def test_table_points_are_met_within_half_a_microvolt() -> None:
    rows = table("its90_points")
    assert {row["type"] for row in rows} == set(TYPES)
    misses = {
        (row["type"], row["t_c"]): abs(emf_mv(row["type"], float(row["t_c"])) - float(row["emf_mv"]))
        for row in rows
    }
    worst = max(misses, key=lambda at: misses[at])
    # Table values are rounded to a microvolt, so half a microvolt is the most a right function can miss.
    assert misses[worst] <= HALF_A_MICROVOLT, worst
    assert misses[worst] == pytest.approx(0.00049, abs=0.00001), (
        "the largest difference that is stated in the records"
    )


@pytest.mark.parametrize("row", table("its90_points"), ids=lambda row: f"{row['type']} {row['t_c']}")
def test_table_emf_gives_the_table_temperature_back(row: dict[str, str]) -> None:
    kind, t_c, emf = row["type"], float(row["t_c"]), float(row["emf_mv"])
    low, high = (emf_mv(kind, t) for t in temperature_range_c(kind))
    emf = min(max(emf, low), high)
    assert temperature_c(kind, emf) == pytest.approx(
        t_c, abs=1.5 * HALF_A_MICROVOLT / seebeck_mv_per_c(kind, t_c)
    )


@pytest.mark.parametrize("kind", TYPES)
def test_an_independent_transcription_agrees_over_the_whole_range(kind: str) -> None:
    other = thermocouple_its90.get(kind)
    assert other.range == temperature_range_c(kind)
    for t_c in whole_range(kind, 4000):
        assert emf_mv(kind, t_c) == pytest.approx(other.emf(t_c), abs=1e-9)
        assert seebeck_mv_per_c(kind, t_c) == pytest.approx(other.seebeck(t_c), abs=1e-9)
        # Below -200 degC the slope nears zero and so the inverse loses digits; no aircraft gauge goes there.
        assert temperature_c(kind, other.emf(t_c)) == pytest.approx(t_c, abs=1e-6)


@pytest.mark.parametrize(
    ("key", "rows"),
    [
        (key, list(rows))
        for key, rows in groupby(
            table("its90_inverse"), lambda r: (r["type"], r["emf_low_mv"], r["emf_high_mv"])
        )
    ],
    ids=str,
)
def test_published_inverse_agrees_within_its_own_error_band(
    key: tuple[str, str, str], rows: list[dict[str, str]]
) -> None:
    kind, low, high = key[0], float(key[1]), float(key[2])
    coefficients = [float(row["coefficient"]) for row in rows]
    assert [int(row["order"]) for row in rows] == list(range(len(rows)))
    err_low, err_high = float(rows[0]["error_low_c"]), float(rows[0]["error_high_c"])
    # The printed top emf of types E and N is rounded up past the end of the function.
    high = min(high, emf_mv(kind, temperature_range_c(kind)[1]))
    for i in range(201):
        emf = low + (high - low) * i / 200
        approximate = sum(d * emf**order for order, d in enumerate(coefficients))
        # The published band is rounded to 0.01 degC.
        assert err_low - 0.005 <= approximate - temperature_c(kind, emf) <= err_high + 0.005


# Microvolt/degC at 25, 100, 200 and 700 degC by central differences on printed NIST tables.
SLOPES = {"J": (51.8, 54.4, 55.5, 62.2), "K": (40.5, 41.4, 40.0, 41.9), "E": (61.0, 67.5, 74.0, 79.7)}


@pytest.mark.parametrize("kind", SLOPES)
def test_slope_against_published_values(kind: str) -> None:
    for t_c, slope in zip((25, 100, 200, 700), SLOPES[kind], strict=True):
        assert 1000 * seebeck_mv_per_c(kind, t_c) == pytest.approx(slope, abs=0.06)


@given(st.sampled_from(TYPES), st.floats(0, 1), st.floats(0, 1))
def test_emf_rises_with_temperature_and_comes_back(kind: str, first: float, second: float) -> None:
    low, high = temperature_range_c(kind)
    cooler, warmer = sorted((low + (high - low) * first, low + (high - low) * second))
    if warmer - cooler > 1e-3:
        assert emf_mv(kind, cooler) < emf_mv(kind, warmer)
    assert temperature_c(kind, emf_mv(kind, warmer)) == pytest.approx(warmer, abs=1e-6)


@pytest.mark.parametrize("value", [nan, inf, -inf])
def test_no_impossible_number_passes(value: float) -> None:
    with pytest.raises(ValueError, match="finite"):
        emf_mv("K", value)
    with pytest.raises(ValueError, match="finite"):
        temperature_c("K", value)
    with pytest.raises(ValueError, match="finite"):
        leg_emf_mv("iron", value)


def test_beyond_the_range_the_error_tells_the_side() -> None:
    with pytest.raises(OffScaleError, match="from -270 to 1372 degC, not 1400") as hot:
        emf_mv("K", 1400)
    with pytest.raises(OffScaleError, match="mV, not -10") as cold:
        temperature_c("J", -10)
    assert (hot.value.side, cold.value.side) == ("above", "below")


def test_unknown_type_is_named() -> None:
    with pytest.raises(ValueError, match="no thermocouple type 'X'"):
        emf_mv("X", 20)


@pytest.mark.parametrize("metal", ["chromel", "alumel", "constantan", "iron", "J constantan"])
def test_single_legs_against_copper(metal: str) -> None:
    for row in table("leg_emf"):
        assert leg_emf_mv(metal, float(row["t_c"])) == pytest.approx(float(row[metal]), abs=0.0001)


@given(st.sampled_from([kind for kind in TYPES if kind != "N"]), st.floats(-75, 400))
def test_two_legs_make_their_type(kind: str, t_c: float) -> None:
    positive, negative = LEGS[kind]
    assert leg_emf_mv(positive, t_c) - leg_emf_mv(negative, t_c) == pytest.approx(
        emf_mv(kind, t_c), abs=1e-12
    )


@pytest.mark.parametrize("metal", ["nicrosil", "nisil", "brass"])
def test_a_leg_without_published_figure_is_refused(metal: str) -> None:
    with pytest.raises(UnknownLegError, match=metal):
        leg_emf_mv(metal, 100)


def test_copper_is_the_zero_only_where_the_other_legs_are_known() -> None:
    assert leg_emf_mv("copper", 300) == 0
    with pytest.raises(OffScaleError):
        leg_emf_mv("copper", 500)


# Trapezium rule by hand on the differences 0.4, 0.2, 0.4, 0.1, 0.1, 0.2, 0.1, -0.1 microvolt/degC at 0, 100
# ... 700 degC.
@pytest.mark.parametrize(
    ("t_c", "microvolt"),
    [(-50, -20), (0, 0), (50, 17.5), (100, 30), (200, 60), (300, 85), (400, 95), (700, 125)],
)
def test_j_constantan_differs_a_little_from_constantan(t_c: float, microvolt: float) -> None:
    assert 1000 * j_constantan_minus_constantan_mv(t_c) == pytest.approx(microvolt, abs=1e-9)
