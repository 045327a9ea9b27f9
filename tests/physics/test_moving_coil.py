import doctest
from math import inf, nan

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from installcheck.physics import moving_coil
from installcheck.physics.moving_coil import (
    circulating_ma,
    common_point_mv,
    length_to_cut_m,
    loop_ohm_per_inch,
    meter_ohm_from_trial,
    parallel_couples,
    shown_emf_bounds_mv,
    shown_emf_mv,
    spool_ohm,
)
from installcheck.physics.thermocouple_wire import FOOT

ohms = st.floats(0.1, 50)
emfs = st.floats(0.1, 60)


def test_doctests() -> None:
    assert doctest.testmod(moving_coil).failed == 0


def test_too_much_resistance_reads_low() -> None:
    # 10 mV, scale for 8 ohm, 20 ohm indicator: 10 x 28 / 28.4 and 10 x 28 / 27.5.
    assert shown_emf_mv(10, 8, 8.4, 20) == pytest.approx(9.8592, abs=0.0001)
    assert shown_emf_mv(10, 8, 7.5, 20) == pytest.approx(10.1818, abs=0.0001)


@given(emfs, ohms, ohms, st.floats(0, 1000))
def test_bounds_hold_for_every_indicator(
    emf: float, calibrated: float, external: float, meter: float
) -> None:
    low, high = shown_emf_bounds_mv(emf, calibrated, external)
    assert low - 1e-9 <= shown_emf_mv(emf, calibrated, external, meter) <= high + 1e-9


@given(emfs, ohms, ohms, st.floats(1, 200), st.floats(0.5, 20))
def test_a_trial_resistance_finds_the_indicator(
    emf: float, calibrated: float, external: float, meter: float, inserted: float
) -> None:
    without = shown_emf_mv(emf, calibrated, external, meter)
    with_it = shown_emf_mv(emf, calibrated, external + inserted, meter)
    assert meter_ohm_from_trial(inserted, without, with_it, external) == pytest.approx(meter, rel=1e-6)


@given(ohms, st.floats(0, 5), st.floats(0, 5), emfs, st.floats(0, 100))
def test_the_spool_brings_the_reading_back(
    calibrated: float, couple: float, lead: float, emf: float, meter: float
) -> None:
    spool = spool_ohm(calibrated, couple, lead)
    assume(spool >= 0)
    assert shown_emf_mv(emf, calibrated, couple + lead + spool, meter) == pytest.approx(emf)


def test_a_lead_too_long_leaves_no_room_for_a_spool() -> None:
    # 2 ohm loop, 0.5 ohm couple, 12 ft of AWG 22 type J at 0.584 ohm per double foot.
    assert spool_ohm(2, 0.5, 12 * 0.584) == pytest.approx(-5.508)


def test_inches_of_lead() -> None:
    # 1 ft of AWG 20 type J is 0.367 ohm of loop, an inch 0.0306; 0.2 ohm too much is 6.54 in.
    per_m = 0.367 / FOOT
    assert loop_ohm_per_inch(per_m) == pytest.approx(0.0306, abs=0.0001)
    assert length_to_cut_m(0.2, per_m) / 0.0254 == pytest.approx(6.54, abs=0.01)
    assert length_to_cut_m(-0.367, per_m) == pytest.approx(-FOOT)


def test_parallel_couples_by_hand() -> None:
    # Two branches 10 mV, 1 ohm and 12 mV, 2 ohm into 4 ohm: (10 + 6) / (1 + 0.5 + 0.25) = 9.1429 mV;
    # 0.857 mA forwards, 1.429 mA forwards, together the 2.286 mA of the load.
    assert common_point_mv(parallel_couples([10, 12], [1, 2]), 4) == pytest.approx(9.142857, abs=1e-6)
    assert circulating_ma([10, 12], [1, 2], 4) == pytest.approx((0.857143, 1.428571), abs=1e-6)
    assert circulating_ma([10, 12], [1, 1]) == pytest.approx((-1, 1))


@given(st.lists(st.tuples(emfs, ohms), min_size=1, max_size=8), ohms)
def test_parallel_couples_obey_the_node_law(branches: list[tuple[float, float]], load: float) -> None:
    sources, resistances = zip(*branches, strict=True)
    across = common_point_mv(parallel_couples(sources, resistances), load)
    assert sum(circulating_ma(sources, resistances, load)) == pytest.approx(across / load, rel=1e-9)
    by_definition = sum(e / r for e, r in branches) / (sum(1 / r for r in resistances) + 1 / load)
    assert across == pytest.approx(by_definition, rel=1e-9)


@given(st.lists(emfs, min_size=1, max_size=8), ohms)
def test_equal_branches_give_the_true_mean(sources: list[float], ohm: float) -> None:
    assert parallel_couples(sources, [ohm] * len(sources)).emf_mv == pytest.approx(
        sum(sources) / len(sources)
    )


def test_parallel_couples_on_a_moving_coil() -> None:
    # Four equal 8 ohm branches make a 2 ohm source: on a 2 ohm, 10 ohm indicator it reads the mean, on an 8
    # ohm scale high.
    source = parallel_couples([20, 22, 24, 26], [8, 8, 8, 8])
    assert (source.emf_mv, source.ohm) == pytest.approx((23, 2))
    assert shown_emf_mv(source.emf_mv, 2, source.ohm, 10) == pytest.approx(23)
    assert shown_emf_mv(source.emf_mv, 8, source.ohm, 10) == pytest.approx(23 * 18 / 12)


@pytest.mark.parametrize("bad", [nan, inf, -1.0])
def test_impossible_resistances_are_refused(bad: float) -> None:
    with pytest.raises(ValueError, match="external resistance"):
        shown_emf_mv(10, 8, bad, 20)
    with pytest.raises(ValueError, match="branch resistance"):
        parallel_couples([10], [bad])
    with pytest.raises(ValueError, match="lead resistance"):
        spool_ohm(8, 1, bad)
    with pytest.raises(ValueError, match="at least one branch"):
        parallel_couples([], [])
    with pytest.raises(ValueError, match="fall of the reading"):
        meter_ohm_from_trial(1, 10, 10, 8)
