import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from installcheck.physics.flow import Restrictor, Segment
from installcheck.physics.spill import (
    burst_leak,
    line_up_to,
    liquid_to_explosive_limit,
    litres_per_minute,
    quantity_spilled,
    quarts_per_minute,
    time_to_explosive_limit,
    time_to_lose,
    vapour_volume,
)

BORE = 4.572e-3
HOLE = Restrictor(1.016e-3)
HOSE, TUBE = Segment(BORE, 0.5, 0.9), Segment(BORE, 1.5, 0.3)


def test_a_restrictor_in_the_source_protects_the_whole_line() -> None:
    assert line_up_to([HOLE, HOSE, TUBE], 0.0) == (HOLE, Segment(BORE, 0.0))
    assert line_up_to([HOLE, HOSE, TUBE], 0.2) == (HOLE, Segment(BORE, 0.2))
    assert line_up_to([HOLE, HOSE, TUBE], 2.0) == (HOLE, HOSE, TUBE)


def test_a_restrictor_further_along_protects_only_what_lies_behind_it() -> None:
    line: list[Segment | Restrictor] = [HOSE, HOLE, TUBE]
    assert line_up_to(line, 0.4) == (Segment(BORE, 0.4),)
    assert line_up_to(line, 0.5) == (HOSE,)
    *before, cut = line_up_to(line, 0.625)
    assert before == [HOSE, HOLE]
    assert cut == Segment(BORE, 0.125)


def test_a_restrictor_at_the_gauge_protects_nothing() -> None:
    assert line_up_to([HOSE, TUBE, HOLE], 2.0) == (HOSE, TUBE)


def test_a_break_at_a_summed_length_is_at_the_end() -> None:
    thirds = [Segment(BORE, 0.1)] * 3
    assert line_up_to(thirds, 0.1 + 0.1 + 0.1) == tuple(thirds)


def test_a_break_beyond_the_line_is_refused() -> None:
    with pytest.raises(ValueError, match="beyond the end of the line at 2 m"):
        line_up_to([HOSE, TUBE], 2.1)


parts = st.lists(
    st.builds(Segment, st.just(BORE), st.floats(0.01, 3.0), st.floats(0.0, 3.0))
    | st.builds(Restrictor, st.floats(0.3e-3, 4e-3)),
    min_size=1,
    max_size=5,
).filter(lambda line: any(isinstance(part, Segment) for part in line))


@given(parts, st.floats(0, 1), st.floats(0, 1), st.floats(1e3, 1e6), st.floats(0.4e-6, 1e-4))
def test_a_burst_further_along_never_leaks_more(
    line: list[Segment | Restrictor], one: float, other: float, pressure: float, viscosity: float
) -> None:
    total = sum(part.length for part in line if isinstance(part, Segment))
    near, far = sorted((one * total, other * total))
    leak_near = burst_leak(line, near, pressure, 800, viscosity)
    assert burst_leak(line, far, pressure, 800, viscosity) <= leak_near * (1 + 1e-9)


@given(parts, st.floats(0.3e-3, 4e-3), st.floats(0, 1), st.floats(1e3, 1e6), st.floats(0.4e-6, 1e-4))
def test_a_restrictor_at_the_source_never_increases_a_leak(
    line: list[Segment | Restrictor], hole: float, place: float, pressure: float, viscosity: float
) -> None:
    distance = place * sum(part.length for part in line if isinstance(part, Segment))
    restricted = burst_leak([Restrictor(hole), *line], distance, pressure, 800, viscosity)
    assert restricted <= burst_leak(line, distance, pressure, 800, viscosity) * (1 + 1e-9)


def test_units_of_flow() -> None:
    # One US gallon is 3.785411784 L, four quarts.
    assert litres_per_minute(3.785411784e-3 / 60) == pytest.approx(3.785411784)
    assert quarts_per_minute(3.785411784e-3 / 60) == pytest.approx(4)


def test_what_spills_until_the_cock_is_shut() -> None:
    # 0.6 L/min for 20 s is 0.2 L; the line then drains its 33 mL.
    assert quantity_spilled(1e-5, 20, 33e-6) == pytest.approx(0.233e-3)


def test_vapour_of_a_mole() -> None:
    # One mole of ideal gas at 0 degC and one atmosphere is 22.414 L (CODATA).
    assert vapour_volume(1e-3, 100, 0.1, 0) == pytest.approx(22.41397e-3, rel=1e-6)


def test_a_leak_of_nothing_has_no_time() -> None:
    with pytest.raises(ValueError, match="flow must be more than 0"):
        time_to_lose(1e-3, 0.0)


@pytest.mark.parametrize("limit", [0.0, 1.3, -0.013, math.nan])
def test_an_explosive_limit_is_a_fraction(limit: float) -> None:
    with pytest.raises(ValueError, match="lower explosive limit"):
        liquid_to_explosive_limit(limit, 2.0, 720, 0.1, 20)


def test_a_smaller_cabin_is_reached_sooner() -> None:
    # Time goes with the volume.
    two, one = (time_to_explosive_limit(1e-5, 0.013, volume, 720, 0.1, 20) for volume in (2.0, 1.0))
    assert two == pytest.approx(2 * one)
