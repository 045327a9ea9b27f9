import math
from itertools import pairwise

import fluids
import pytest
from hypothesis import given
from hypothesis import strategies as st

from installcheck.physics.flow import (
    SHARP_EDGE,
    SHORT_TUBE,
    Restrictor,
    Segment,
    line_flow,
    orifice_flow,
    pressure_drop,
)
from installcheck.physics.friction import friction_factor, hagen_poiseuille_flow, reynolds_number
from installcheck.physics.spill import US_QUART, quarts_per_minute, time_to_lose

bores = st.floats(0.3e-3, 12e-3)
lengths = st.floats(0.01, 6.0)
pressures = st.floats(10.0, 2e6)
densities = st.floats(650.0, 1000.0)
viscosities = st.floats(0.3e-6, 5e-3)
segments = st.builds(Segment, bores, lengths, st.floats(0.0, 5.0))
restrictors = st.builds(Restrictor, st.floats(0.2e-3, 5e-3), st.sampled_from([SHARP_EDGE, SHORT_TUBE]))
lines = st.lists(segments | restrictors, min_size=1, max_size=5)

# What the root finder may leave between two flows that should be equal.
SLACK = 1 + 1e-9


@pytest.mark.parametrize("reynolds", [10.0, 1260.0, 1999.0])
def test_laminar_friction_agrees_with_the_fluids_library(reynolds: float) -> None:
    assert friction_factor(reynolds) == pytest.approx(fluids.friction_factor(reynolds), rel=1e-12)


@pytest.mark.parametrize("reynolds", [4000.0, 4992.0, 10096.0, 29824.0, 58515.0, 1e6, 1e8])
def test_turbulent_friction_agrees_with_the_fluids_library(reynolds: float) -> None:
    assert friction_factor(reynolds) == pytest.approx(fluids.friction.Colebrook(reynolds, 0.0), rel=1e-9)


# Smooth-bore friction factors printed in White, Fluid Mechanics, section 6.6.
@pytest.mark.parametrize(
    ("reynolds", "printed"),
    [(4e3, 0.0399), (1e4, 0.0309), (1e5, 0.0180), (1e6, 0.0116), (1e7, 0.0081), (1e8, 0.0059)],
)
def test_turbulent_friction_as_printed(reynolds: float, printed: float) -> None:
    assert friction_factor(reynolds) == pytest.approx(printed, abs=0.00006)


def test_friction_in_the_critical_zone_never_exceeds_turbulent_friction() -> None:
    for reynolds in range(2000, 4001, 10):
        assert friction_factor(reynolds) <= fluids.friction.Colebrook(float(reynolds), 0.0) * (1 + 1e-12)


def test_friction_has_no_jump() -> None:
    factors = [friction_factor(1000 + step / 10) for step in range(50_000)]
    # The steepest part climbs by 0.0216 over 500, which is 4.4e-6 for each tenth.
    assert max(abs(b - a) for a, b in pairwise(factors)) < 7e-6


@given(st.floats(1.0, 9e7), st.floats(1.000001, 1.1))
def test_friction_loss_grows_with_flow(reynolds: float, more: float) -> None:
    # f Re^2 stands for the loss of pressure in one line.
    low, high = reynolds, reynolds * more
    assert friction_factor(low) * low**2 < friction_factor(high) * high**2


@given(st.floats(1e-3, 5e-3), st.floats(1e3, 2e6), st.floats(650.0, 1000.0))
def test_orifice_agrees_with_the_fluids_library(bore: float, pressure: float, density: float) -> None:
    # In a line of a hundred bores the velocity of approach no longer matters.
    mass_flow = fluids.flow_meter.flow_meter_discharge(  # type: ignore[no-untyped-call]
        D=100 * bore, Do=bore, P1=pressure + 1e5, P2=1e5, rho=density, C=SHARP_EDGE, expansibility=1.0
    )
    assert orifice_flow(bore, pressure, density, SHARP_EDGE) == pytest.approx(mass_flow / density, rel=1e-6)


# Sharp-edged flow with Cd 0.62, 870 kg/m3 and 60 psi, worked as 0.62 (pi/4) d^2 sqrt(2 dp/rho): the velocity is
# sqrt(2 x 413685 / 870) = 30.84 m/s. 0.169 in is a plain nipple, 0.098 in a number 40 drill.
@pytest.mark.parametrize(
    ("bore_in", "quarts", "seconds_for_six"),
    [(0.169, 17.5, 21), (0.098, 5.9, 61), (0.060, 2.2, 163), (0.040, 0.98, 366)],
)
def test_time_in_which_a_broken_oil_gauge_line_empties_the_sump(
    bore_in: float, quarts: float, seconds_for_six: float
) -> None:
    leak = orifice_flow(bore_in * 0.0254, 60 * 6894.757, 870, 0.62)
    assert quarts_per_minute(leak) == pytest.approx(quarts, rel=0.012)
    assert time_to_lose(6 * US_QUART, leak) == pytest.approx(seconds_for_six, abs=0.7)


@given(segments, st.floats(1e-8, 1e-3), densities, viscosities)
def test_a_segment_loses_what_the_fluids_library_says(
    segment: Segment, flow: float, density: float, viscosity: float
) -> None:
    reynolds = reynolds_number(flow, segment.bore, viscosity)
    if 2000 < reynolds < 4000 or reynolds > 1e8:
        return
    velocity = 4 * flow / (math.pi * segment.bore**2)
    factor = 64 / reynolds if reynolds <= 2000 else fluids.friction.Colebrook(reynolds, 0.0)
    k = fluids.core.K_from_f(fd=factor, L=segment.length, D=segment.bore) + segment.minor_loss + 1.5
    expected = fluids.core.dP_from_K(K=k, rho=density, V=velocity)
    assert pressure_drop([segment], flow, density, viscosity) == pytest.approx(expected, rel=1e-8)


@given(lines, pressures, densities, viscosities)
def test_the_flow_found_takes_the_pressure_given(
    line: list[Segment | Restrictor], pressure: float, density: float, viscosity: float
) -> None:
    flow = line_flow(line, pressure, density, viscosity)
    assert pressure_drop(line, flow, density, viscosity) == pytest.approx(pressure, rel=1e-7)


@given(lines, restrictors, st.integers(0, 5), pressures, densities, viscosities)
def test_a_restrictor_never_increases_the_flow(
    line: list[Segment | Restrictor],
    restrictor: Restrictor,
    place: int,
    pressure: float,
    density: float,
    viscosity: float,
) -> None:
    without = line_flow(line, pressure, density, viscosity)
    restricted = line_flow([*line[:place], restrictor, *line[place:]], pressure, density, viscosity)
    assert restricted <= without * SLACK
    alone = orifice_flow(restrictor.bore, pressure, density, restrictor.discharge_coefficient)
    assert restricted <= alone * SLACK


@given(lines, pressures, st.floats(1.001, 3.0), densities, viscosities)
def test_more_pressure_means_more_flow(
    line: list[Segment | Restrictor], pressure: float, more: float, density: float, viscosity: float
) -> None:
    assert line_flow(line, pressure, density, viscosity) < line_flow(
        line, pressure * more, density, viscosity
    )


@given(lines, st.floats(1.001, 3.0), pressures, densities, viscosities)
def test_larger_bores_mean_more_flow(
    line: list[Segment | Restrictor], more: float, pressure: float, density: float, viscosity: float
) -> None:
    wider = [
        Segment(part.bore * more, part.length, part.minor_loss)
        if isinstance(part, Segment)
        else Restrictor(part.bore * more, part.discharge_coefficient)
        for part in line
    ]
    assert line_flow(line, pressure, density, viscosity) < line_flow(wider, pressure, density, viscosity)


def test_flow_does_not_jump_where_laminar_turns_turbulent() -> None:
    line = [Segment(4.572e-3, 1.5)]
    pressures_tried = [20_000 * 1.001**step for step in range(3700)]
    flows = [line_flow(line, pressure, 840, 10e-6) for pressure in pressures_tried]
    reynolds = [reynolds_number(flow, 4.572e-3, 10e-6) for flow in flows]
    assert reynolds[0] < 3000
    assert reynolds[-1] > 4500
    # Flow grows at most in step with pressure, which rises by a thousandth.
    assert all(1 < b / a < 1.001001 for a, b in pairwise(flows))


def test_series_segments_add_their_losses() -> None:
    # Laminar, no end losses: resistances 128 mu L / (pi d^4) add, 1.5 m of 1.5494 mm and 1 m of 3 mm bore.
    narrow, wide = Segment(1.5494e-3, 1.5), Segment(3e-3, 1.0)
    viscosity = 4e-3
    # 128 x 4e-3 / pi = 0.162975; x (1.5 / 5.7630e-12 + 1 / 8.1e-11) = 4.44317e10 Pa s/m3; 4e5 Pa over it.
    found = line_flow([narrow, wide], 4e5, 1000, viscosity / 1000, inlet_loss=0, exit_loss=0)
    assert found == pytest.approx(9.0026e-6, rel=1e-4)
    assert hagen_poiseuille_flow(1.5494e-3, 1.5, 4e5, viscosity) > found


def test_the_inlet_counts_in_the_first_bore_and_the_exit_in_the_last() -> None:
    # 1e-5 m3/s runs at 3.18310 m/s in 2 mm and 0.79577 m/s in 4 mm: 400 (0.5 x 10.1321 + 0.63326) = 2279.7 Pa
    assert pressure_drop([Segment(2e-3, 0), Segment(4e-3, 0)], 1e-5, 800, 1e-6) == pytest.approx(
        2279.7, rel=1e-4
    )


def test_a_hole_alone_passes_its_orifice_flow() -> None:
    assert line_flow([Restrictor(1e-3)], 1e5, 800, 1e-6) == pytest.approx(orifice_flow(1e-3, 1e5, 800))


def test_a_length_of_next_to_nothing_is_a_length_of_nothing() -> None:
    flow = line_flow([Segment(4e-3, 5e-324)], 1e5, 720, 1e-6)
    assert flow == line_flow([Segment(4e-3, 0.0)], 1e5, 720, 1e-6)
    with pytest.raises(ValueError, match="resistance of the line"):
        hagen_poiseuille_flow(4e-3, 5e-324, 1e5, 1e-3)


def test_no_pressure_no_flow() -> None:
    assert line_flow([Segment(4e-3, 1)], 0.0, 720, 1e-6) == 0
    assert pressure_drop([Segment(4e-3, 1)], 0.0, 720, 1e-6) == 0


@pytest.mark.parametrize("wrong", [math.nan, math.inf, -1.0, 0.0])
def test_impossible_numbers_are_refused(wrong: float) -> None:
    line = [Segment(4e-3, 1)]
    with pytest.raises(ValueError, match="density"):
        line_flow(line, 1e5, wrong, 1e-6)
    with pytest.raises(ValueError, match="viscosity"):
        line_flow(line, 1e5, 720, wrong)
    with pytest.raises(ValueError, match="bore"):
        Segment(wrong, 1)
    with pytest.raises(ValueError, match="bore"):
        Restrictor(wrong)
    with pytest.raises(ValueError, match="discharge coefficient"):
        Restrictor(1e-3, wrong)
    with pytest.raises(ValueError, match="Reynolds"):
        friction_factor(wrong)


def test_suction_is_not_a_leak() -> None:
    with pytest.raises(ValueError, match="pressure difference must be 0 Pa or more"):
        line_flow([Segment(4e-3, 1)], -1.0, 720, 1e-6)


def test_an_empty_line_and_a_flow_off_the_chart_are_refused() -> None:
    with pytest.raises(ValueError, match="at least one segment"):
        line_flow([], 1e5, 720, 1e-6)
    with pytest.raises(ValueError, match="Reynolds number would exceed"):
        line_flow([Segment(10.0, 0.0)], 1e6, 720, 1e-7)
    with pytest.raises(ValueError, match="discharge coefficient"):
        Restrictor(1e-3, 1.2)
