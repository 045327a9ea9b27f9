import csv
import doctest
from math import inf, nan
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from installcheck.physics import capillaries
from installcheck.physics.capillaries import (
    SEA_LEVEL_PA,
    capillary_volume_m3,
    coil_turns,
    head_pa,
    isa_pressure_pa,
    least_bend_radius_m,
    liquid_filled_error_c,
    spare_length_m,
    vapour_fill,
    vapour_indicated_c,
    vapour_pressure_pa,
    vapour_temperature_c,
)
from installcheck.physics.scale import OffScaleError

ETHER = vapour_fill("diethyl ether")
SULFUR_DIOXIDE = vapour_fill("sulfur dioxide")
AT_10_000_FT = isa_pressure_pa(3048)
fills = st.sampled_from([ETHER, SULFUR_DIOXIDE])


def table(name: str) -> list[dict[str, str]]:
    with (Path(__file__).parent / "data" / f"{name}.csv").open(encoding="utf-8") as lines:
        return list(csv.DictReader(line for line in lines if not line.startswith("#")))


def test_doctests() -> None:
    assert doctest.testmod(capillaries).failed == 0


@pytest.mark.parametrize("row", table("vapour_points"), ids=lambda row: f"{row['fill']} {row['t_c']}")
def test_vapour_curves(row: dict[str, str]) -> None:
    fill, t_c, slope = vapour_fill(row["fill"]), float(row["t_c"]), 1000 * float(row["slope"])
    assert vapour_pressure_pa(fill, t_c) == pytest.approx(1000 * float(row["p_kpa"]), abs=51)
    rise = vapour_pressure_pa(fill, t_c + 0.05) - vapour_pressure_pa(fill, t_c - 0.05)
    assert rise / 0.1 == pytest.approx(slope, abs=10)
    # The listed errors are first-order, pressure over slope.
    assert (SEA_LEVEL_PA - AT_10_000_FT) / slope == pytest.approx(float(row["error_10000_ft_c"]), abs=0.02)
    assert head_pa(fill.density, 0.5) / slope == pytest.approx(float(row["error_head_c"]), abs=0.01)


@given(fills, st.floats(-19, 149), st.floats(0.01, 1))
def test_vapour_pressure_rises_and_comes_back(fill: capillaries.VapourFill, t_c: float, step: float) -> None:
    assert vapour_pressure_pa(fill, t_c + step) > vapour_pressure_pa(fill, t_c)
    assert vapour_temperature_c(fill, vapour_pressure_pa(fill, t_c)) == pytest.approx(t_c, abs=1e-9)


def test_vented_gauge_reads_high_at_altitude_and_a_strong_fill_less() -> None:
    # 402.9 + 101.3 - 69.7 = 434.5 kPa of ether: 2564 / (14.17 - ln 434.5) + 39.37 - 273.15 = 82.9 degC.
    assert vapour_indicated_c(ETHER, 80, AT_10_000_FT) == pytest.approx(82.93, abs=0.02)
    assert vapour_indicated_c(SULFUR_DIOXIDE, 80, AT_10_000_FT) == pytest.approx(80.75, abs=0.01)
    assert vapour_indicated_c(ETHER, 80) == pytest.approx(80)


@given(fills, st.floats(40, 120), st.floats(0, 6000))
def test_altitude_never_reads_low_and_a_sealed_case_does_not_care(
    fill: capillaries.VapourFill, t_c: float, altitude: float
) -> None:
    assert vapour_indicated_c(fill, t_c, isa_pressure_pa(altitude)) >= t_c - 1e-9
    assert vapour_indicated_c(fill, t_c, 90_000, 90_000) == pytest.approx(t_c)


def test_head_of_liquid() -> None:
    # Bulb 0.5 m below: 713 x 9.80665 x 0.5 = 3496 Pa less; 0.85 degC at 40, 0.33 degC at 80 (4.18, 10.49
    # kPa/degC).
    assert head_pa(713, -0.5) == pytest.approx(-3496, abs=1)
    assert vapour_indicated_c(ETHER, 40, bulb_above_gauge_m=-0.5) == pytest.approx(40 - 0.85, abs=0.01)
    assert vapour_indicated_c(ETHER, 80, bulb_above_gauge_m=-0.5) == pytest.approx(80 - 0.33, abs=0.01)


# ISO 2533 standard atmosphere [Pa], printed to the pascal.
@pytest.mark.parametrize(
    ("altitude", "pressure"),
    [(0, 101_325), (1000, 89_874), (3000, 70_108), (5000, 54_020), (8000, 35_600), (11_000, 22_632)],
)
def test_standard_atmosphere(altitude: float, pressure: float) -> None:
    assert isa_pressure_pa(altitude) == pytest.approx(pressure, rel=0.001)


def test_liquid_filled_gauge_feels_its_capillary() -> None:
    # 1 mm bore: 3 m hold 2.356e-6 m3; bulb 20e-6 m3. 2 m at 60 and 1 m at 30 degC, set at 20 degC:
    # (1.571e-6 x 40 + 0.785e-6 x 10) / 20e-6 = 3.53 degC; a compensator that takes 80 percent leaves 0.71.
    assert capillary_volume_m3(0.001, 3) == pytest.approx(2.356e-6, rel=1e-3)
    parts = [(capillary_volume_m3(0.001, 2), 60.0), (capillary_volume_m3(0.001, 1), 30.0)]
    assert liquid_filled_error_c(20e-6, parts, 20) == pytest.approx(3.53, abs=0.01)
    assert liquid_filled_error_c(20e-6, parts, 20, compensated_share=0.8) == pytest.approx(0.71, abs=0.01)
    assert liquid_filled_error_c(20e-6, [(volume, 20.0) for volume, _ in parts], 20) == 0


def test_run_of_the_capillary() -> None:
    assert spare_length_m(3.6, 3.0) == pytest.approx(0.6)
    assert spare_length_m(3.0, 3.2) == pytest.approx(-0.2)
    # One turn of 50 mm radius takes 0.314 m.
    assert coil_turns(0.6, least_bend_radius_m("default")) == pytest.approx(1.91, abs=0.01)
    assert (least_bend_radius_m("stainless steel"), least_bend_radius_m("copper")) == (0.050, 0.005)


def test_beyond_the_fill() -> None:
    with pytest.raises(OffScaleError) as hot:
        vapour_temperature_c(ETHER, 5e6)
    with pytest.raises(OffScaleError) as cold:
        vapour_pressure_pa(ETHER, -40)
    assert (hot.value.side, cold.value.side) == ("above", "below")


@pytest.mark.parametrize("bad", [nan, inf, -1.0])
def test_impossible_numbers_are_refused(bad: float) -> None:
    with pytest.raises(ValueError, match="ambient pressure"):
        vapour_indicated_c(ETHER, 80, bad)
    with pytest.raises(ValueError, match="density"):
        head_pa(bad, 1)
    with pytest.raises(ValueError, match="altitude"):
        isa_pressure_pa(20_000 if bad == -1 else bad)
    with pytest.raises(ValueError, match="bulb volume"):
        liquid_filled_error_c(bad, [], 20)
    with pytest.raises(ValueError, match="spare length"):
        coil_turns(bad, 0.05)


def test_unknown_names_are_named() -> None:
    with pytest.raises(ValueError, match="no capillary fill 'water'"):
        vapour_fill("water")
    with pytest.raises(ValueError, match="no capillary metal 'brass'"):
        least_bend_radius_m("brass")
