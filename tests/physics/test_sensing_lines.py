import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from installcheck.physics.flow import Segment
from installcheck.physics.sensing_lines import (
    acoustic_delay,
    head_pressure,
    line_inventory,
    liquid_lag,
    pneumatic_lag,
    thermal_growth,
    thermal_lock_pressure,
    time_to_show,
)

AIR = 1.81e-5


def test_a_gauge_below_its_tap_reads_high() -> None:
    assert head_pressure(870, -0.6) == -head_pressure(870, 0.6)


@given(st.floats(0.1, 5), st.floats(0.05, 0.95), st.floats(0.5e-3, 6e-3), st.floats(0, 1e-4))
def test_lag_does_not_depend_on_how_a_line_is_cut(
    length: float, share: float, bore: float, volume: float
) -> None:
    whole = [Segment(bore, length)]
    cut = [Segment(bore, length * share), Segment(bore, length * (1 - share))]
    assert pneumatic_lag(cut, volume, 7e4, AIR) == pytest.approx(pneumatic_lag(whole, volume, 7e4, AIR))
    assert liquid_lag(cut, 1e-13, 0.4) == pytest.approx(liquid_lag(whole, 1e-13, 0.4))
    assert line_inventory(cut) == pytest.approx(line_inventory(whole))


def test_a_narrow_piece_at_the_tap_delays_more_than_at_the_gauge() -> None:
    narrow, wide = Segment(1e-3, 0.1), Segment(4e-3, 2.0)
    assert pneumatic_lag([narrow, wide], 1e-5, 7e4, AIR) > pneumatic_lag([wide, narrow], 1e-5, 7e4, AIR)


def test_lag_of_two_bores_by_hand() -> None:
    # R = 128 mu L / (pi d^4): 1 mm x 0.1 m has 128 x 1.81e-5 x 0.1 / (pi 1e-12) = 7.3747e7 Pa s/m3;
    # 4 mm x 2 m has 5.7615e6. Volumes 7.854e-8 and 2.51327e-5 m3, gauge 1e-5.
    # (7.3747e7 (1e-5 + 2.51327e-5 + 3.927e-8) + 5.7615e6 (1e-5 + 1.256637e-5)) / 7e4 = 0.038912 s
    lag = pneumatic_lag([Segment(1e-3, 0.1), Segment(4e-3, 2.0)], 1e-5, 7e4, AIR)
    assert lag == pytest.approx(0.038912, rel=1e-4)


def test_a_step_is_shown_by_63_percent_after_one_time_constant() -> None:
    assert time_to_show(8.0, 1 - math.exp(-1)) == pytest.approx(8.0)
    # ln 10 = 2.302585
    assert time_to_show(8.11435, 0.9) == pytest.approx(18.684, rel=1e-4)
    with pytest.raises(ValueError, match="fraction shown"):
        time_to_show(8.0, 1.0)


def test_a_cooled_tube_shrinks() -> None:
    # 17.2e-6 x 0.5 x -60 = -0.516 mm
    assert thermal_growth(17.2e-6, 0.5, -60) == pytest.approx(-0.516e-3)


@pytest.mark.parametrize("wrong", [math.nan, math.inf, -1.0])
def test_impossible_numbers_are_refused(wrong: float) -> None:
    line = [Segment(4e-3, 1)]
    with pytest.raises(ValueError, match="instrument volume"):
        pneumatic_lag(line, wrong, 7e4, AIR)
    with pytest.raises(ValueError, match="pressure"):
        pneumatic_lag(line, 1e-5, wrong, AIR)
    with pytest.raises(ValueError, match="viscosity"):
        pneumatic_lag(line, 1e-5, 7e4, wrong)
    with pytest.raises(ValueError, match="displacement"):
        liquid_lag(line, wrong, 0.4)
    with pytest.raises(ValueError, match="density"):
        head_pressure(wrong, 1)
    with pytest.raises(ValueError, match="speed of sound"):
        acoustic_delay(1, wrong)
    with pytest.raises(ValueError, match="temperature rise"):
        thermal_lock_pressure(1e-3, 1e9, wrong)
