"""Alternator load, battery endurance and load sums against hand calculation."""

from math import inf, nan

import pytest
from hypothesis import given
from hypothesis import strategies as st

from installcheck.physics.sources import (
    Duty,
    Load,
    battery_endurance,
    battery_endurance_after_shedding,
    continuous_load_limit,
    load_totals,
)


def test_eighty_percent_rule() -> None:
    """60 A alternator: 48 A; 12 + 4.5 + 6 + 8.5 + 5.2 + 1.0 = 37.2 A (62 percent) is inside, 11 A more (48.2 A) is not."""
    loads = [Load(a) for a in (12, 4.5, 6, 8.5, 5.2, 1.0)]
    total = load_totals(loads)
    assert total.continuous == pytest.approx(37.2)
    assert total.continuous / 60 == pytest.approx(0.62)
    assert total.continuous <= continuous_load_limit(60) == 48
    assert load_totals([*loads, Load(11)]).continuous > continuous_load_limit(60)
    assert load_totals([*loads, Load(11)]).continuous <= continuous_load_limit(60, monitored=True)


def test_duty() -> None:
    total = load_totals([Load(10, essential=True), Load(5), Load(8, Duty.INTERMITTENT, essential=True)])
    assert (total.continuous, total.intermittent, total.peak, total.essential) == (15, 8, 23, 10)
    assert load_totals([]).peak == 0


@pytest.mark.parametrize(("k", "amps", "minutes"), [(0.8, 12, 96.0), (0.75, 14, 77.1)])
def test_battery(k: float, amps: float, minutes: float) -> None:
    """60 x 24 Ah x k / I."""
    assert battery_endurance(24 * 3600, k, amps) / 60 == pytest.approx(minutes, abs=0.05)


def test_battery_before_the_loss_is_noticed() -> None:
    """24 Ah x 0.75 = 18 Ah; 5 min at 30 A takes 2.5 Ah; 15.5 Ah at 10 A last 93 min more. 36 min at 30 A take all."""
    assert battery_endurance_after_shedding(86_400, 0.75, 30, 300, 10) / 60 == pytest.approx(98.0)
    assert battery_endurance_after_shedding(86_400, 0.75, 30, 3600, 10) / 60 == pytest.approx(36.0)


@given(st.floats(1, 1e6), st.floats(0.1, 1), st.floats(0.1, 100), st.floats(0, 1e5), st.floats(0.1, 100))
def test_shedding_uses_up_the_same_charge(
    capacity: float, k: float, full: float, wait: float, essential: float
) -> None:
    time = battery_endurance_after_shedding(capacity, k, full, wait, essential)
    before = min(wait, time)
    assert before * full + (time - before) * essential == pytest.approx(capacity * k, rel=1e-6)


@pytest.mark.parametrize("wrong", [nan, inf, -1.0])
def test_impossible_numbers_are_refused(wrong: float) -> None:
    for call in (
        lambda: continuous_load_limit(wrong),
        lambda: battery_endurance(wrong, 0.8, 10),
        lambda: battery_endurance(1, wrong, 10),
        lambda: battery_endurance(1, 0.8, wrong),
        lambda: load_totals([Load(wrong)]),
    ):
        with pytest.raises(ValueError, match="must be"):
            call()
