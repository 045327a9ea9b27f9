import csv
import doctest
from math import inf, nan
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from installcheck.physics import bulbs
from installcheck.physics.bulbs import (
    NICKEL,
    PT100,
    Bridge,
    bridge_apparent_ohm,
    bridge_current_a,
    curve_doubt,
    ratio_meter_apparent_ohm,
    ratio_meter_ratio,
    resistance_ohm,
    self_heating_c,
    slope_ohm_per_c,
    temperature_c,
    temperature_range_c,
    three_lead_ohm,
    two_lead_ohm,
)
from installcheck.physics.scale import OffScaleError

GAUGE = Bridge(200, 200, 100, 100, 28)
ohms = st.floats(1, 500)


def table(name: str) -> list[dict[str, str]]:
    with (Path(__file__).parent / "data" / f"{name}.csv").open(encoding="utf-8") as lines:
        return list(csv.DictReader(line for line in lines if not line.startswith("#")))


def test_doctests() -> None:
    assert doctest.testmod(bulbs).failed == 0


@pytest.mark.parametrize("row", table("nickel_points"), ids=lambda row: row["t_c"])
def test_nickel_points(row: dict[str, str]) -> None:
    t_c, ohm = float(row["t_c"]), float(row["ohm"])
    # 0.01 ohm is the last figure of the points; the fit through them runs within 0.003 of the inner ones.
    assert resistance_ohm(NICKEL, t_c) == pytest.approx(ohm, abs=0.011)
    assert temperature_c(NICKEL, resistance_ohm(NICKEL, t_c)) == pytest.approx(t_c, abs=1e-6)


def test_nickel_meets_the_service_note() -> None:
    # A public airline maintenance note: about 80 ohm at -30 degC and 112 ohm at 60 degC.
    assert resistance_ohm(NICKEL, -30) == pytest.approx(80.5, abs=0.6)
    assert resistance_ohm(NICKEL, 60) == pytest.approx(112, abs=0.5)


def test_nickel_says_how_good_it_is() -> None:
    assert curve_doubt(NICKEL, -30)[0] == 0.15
    assert curve_doubt(NICKEL, 60) == (0.01, "recalled")
    assert curve_doubt(NICKEL, 110) == (0.4, "extrapolated")
    with pytest.raises(OffScaleError, match=r"nickel 90\.38 bulb must be from -70 to 120 degC, not 150"):
        resistance_ohm(NICKEL, 150)


@pytest.mark.parametrize("row", table("pt100_points"), ids=lambda row: row["t_c"])
def test_pt100_points(row: dict[str, str]) -> None:
    assert resistance_ohm(PT100, float(row["t_c"])) == pytest.approx(float(row["ohm"]), abs=0.00051)
    assert slope_ohm_per_c(PT100, float(row["t_c"])) == pytest.approx(float(row["slope"]), abs=0.00006)


@given(st.sampled_from([NICKEL, PT100]), st.floats(0, 1), st.floats(0, 1))
def test_curves_rise_and_come_back(bulb: str, first: float, second: float) -> None:
    low, high = temperature_range_c(bulb)
    cooler, warmer = sorted((low + (high - low) * first, low + (high - low) * second))
    if warmer - cooler > 1e-6:
        assert resistance_ohm(bulb, cooler) < resistance_ohm(bulb, warmer)
    assert temperature_c(bulb, resistance_ohm(bulb, warmer)) == pytest.approx(warmer, abs=1e-6)


@given(st.sampled_from([NICKEL, PT100]), st.floats(-60, 100), st.floats(0, 1))
def test_leads_always_read_high_and_equal_three_leads_right(bulb: str, t_c: float, lead: float) -> None:
    ohm = resistance_ohm(bulb, t_c)
    assert temperature_c(bulb, two_lead_ohm(ohm, lead, lead)) >= t_c - 1e-6
    assert temperature_c(bulb, three_lead_ohm(ohm, lead, lead)) == pytest.approx(t_c, abs=1e-6)


def test_three_leads_into_unequal_arms() -> None:
    # 120 + 0.30 - 2 x 0.10 = 120.10 ohm.
    assert three_lead_ohm(120, 0.30, 0.10, 2.0) == pytest.approx(120.10)


def test_bridge_by_hand() -> None:
    # 100 ohm arms, 120 ohm bulb arm, 50 ohm galvanometer, 10 V. Open circuit 10 x (120/220 - 1/2) = 0.454545
    # V, behind 100 x 120 / 220 + 50 = 104.545 ohm: 0.454545 / 154.545 = 2.94118 mA.
    assert bridge_current_a(Bridge(100, 100, 100, 50, 10), 120, 10) == pytest.approx(2.94118e-3, rel=1e-5)


@given(ohms, ohms, ohms, ohms, st.floats(0.1, 500), st.floats(0.1, 100), st.floats(1, 32))
def test_bridge_against_node_equations(
    p: float, q: float, r: float, x: float, g: float, s: float, volts: float
) -> None:
    # Nodes: after the supply resistance, bulb side, comparison side; the common is zero.
    conductance = np.array(
        [
            [1 / s + 1 / p + 1 / q, -1 / p, -1 / q],
            [-1 / p, 1 / p + 1 / x + 1 / g, -1 / g],
            [-1 / q, -1 / g, 1 / q + 1 / r + 1 / g],
        ]
    )
    _, bulb_side, comparison_side = np.linalg.solve(conductance, [volts / s, 0, 0])
    current = bridge_current_a(Bridge(p, q, r, g, 28, s), x, volts)
    assert current == pytest.approx((bulb_side - comparison_side) / g, rel=1e-6, abs=1e-12)


@given(ohms, ohms, ohms, ohms, st.floats(0, 500), st.floats(0, 100), st.floats(1, 32))
def test_bridge_reads_its_own_current_back(
    p: float, q: float, r: float, x: float, g: float, s: float, volts: float
) -> None:
    bridge = Bridge(p, q, r, g, volts, s)
    assert bridge_apparent_ohm(bridge, bridge_current_a(bridge, x, volts)) == pytest.approx(x, rel=1e-5)


@given(st.floats(1, 32))
def test_supply_does_not_move_a_balanced_bridge(volts: float) -> None:
    assert bridge_apparent_ohm(GAUGE, bridge_current_a(GAUGE, 100, volts)) == pytest.approx(100)


@given(st.floats(80, 150), st.floats(0.7, 0.99))
def test_low_supply_pulls_the_reading_towards_balance(x: float, share: float) -> None:
    apparent = bridge_apparent_ohm(GAUGE, bridge_current_a(GAUGE, x, share * 28))
    assert abs(apparent - 100) <= abs(x - 100)
    assert (apparent - 100) * (x - 100) >= -1e-9


def test_low_supply_in_degrees() -> None:
    # Pt100 at 100 degC, 138.505 ohm, 200 ohm arms, 100 ohm galvanometer, 24 V on a 28 V scale. By Thevenin:
    # 24 x (0.409167 - 0.333333) = 1.8200 V behind 81.8335 + 66.6667 + 100 = 248.500 ohm: 7.3239 mA.
    # At 28 V that current belongs to X with 28 (y - 1/3) = 7.3239e-3 (200 y + 166.667), y = X / (200 + X):
    # y = 10.55398 / 26.53522 = 0.39774, X = 132.08 ohm, 83.1 degC by the table: the gauge reads 16.9 degC
    # low.
    current = bridge_current_a(GAUGE, 138.505, 24)
    assert current == pytest.approx(7.3239e-3, rel=2e-5)
    assert bridge_apparent_ohm(GAUGE, current) == pytest.approx(132.08, abs=0.01)
    assert temperature_c(PT100, bridge_apparent_ohm(GAUGE, current)) == pytest.approx(83.1, abs=0.05)


def test_third_lead_in_the_supply_matters_only_off_balance() -> None:
    assert bridge_current_a(GAUGE, 100.2, 28, comparison_lead_ohm=0.2, supply_lead_ohm=0.2) == pytest.approx(
        0, abs=1e-12
    )
    with_leads = bridge_current_a(GAUGE, 138.505 + 0.2, 28, comparison_lead_ohm=0.2, supply_lead_ohm=0.2)
    assert 138.0 < bridge_apparent_ohm(GAUGE, with_leads) < 138.505


def test_open_and_shorted_bulb_leave_the_scale() -> None:
    with pytest.raises(OffScaleError, match="open bulb") as hot:
        bridge_apparent_ohm(GAUGE, 1.0)
    with pytest.raises(OffScaleError, match="shorted bulb") as cold:
        bridge_apparent_ohm(GAUGE, -1.0)
    assert (hot.value.side, cold.value.side) == ("above", "below")
    with pytest.raises(OffScaleError) as open_bulb:
        temperature_c(NICKEL, bridge_apparent_ohm(GAUGE, bridge_current_a(GAUGE, 1e7, 28)))
    assert open_bulb.value.side == "above"


@given(st.floats(50, 200), st.floats(10, 32), st.floats(0, 100), st.floats(50, 300))
def test_ratio_meter_knows_no_supply(x: float, volts: float, coil: float, fixed: float) -> None:
    ratio = (volts / fixed) / (volts / (coil + x))
    assert ratio_meter_ratio(x, coil, fixed) == pytest.approx(ratio)
    assert ratio_meter_apparent_ohm(ratio, coil, fixed) == pytest.approx(x)


@pytest.mark.parametrize("bad", [nan, inf, -1.0])
def test_impossible_numbers_are_refused(bad: float) -> None:
    with pytest.raises(ValueError, match="ohm"):
        two_lead_ohm(100, bad, 0)
    with pytest.raises(ValueError, match="bulb arm"):
        bridge_current_a(GAUGE, bad, 28)
    with pytest.raises(ValueError, match="supply"):
        bridge_current_a(GAUGE, 100, bad)
    with pytest.raises(ValueError, match="dissipation"):
        self_heating_c(0.005, 100, bad)
    with pytest.raises(ValueError, match="galvanometer_ohm"):
        Bridge(100, 100, 100, bad, 28)


def test_unknown_bulb_is_named() -> None:
    with pytest.raises(ValueError, match="did you mean 'Pt100'"):
        resistance_ohm("Pt1000", 20)
