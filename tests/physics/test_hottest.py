"""Hottest-cylinder statistics against hand calculations; tolerances of probes from ASTM E230 and IEC
60584-1."""

import doctest
from math import inf, nan

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.special import stdtrit

from installcheck.physics import hottest
from installcheck.physics.hottest import (
    candidates,
    chance_wrong_gaussian,
    chance_wrong_of_several,
    chance_wrong_triangular,
    probe_tolerance,
    rectangular_difference,
    repeats,
    swap,
    t_needed,
    weigh_stages,
    worst_case_difference,
)

STANDARD = 2.2 * 1.8  # degF
SIX = (401.0, 418.0, 409.0, 422.0, 415.0, 398.0)  # degF, cylinders 1 to 6

# degF, corrected; limit 460 degF; rows climb, lean cruise, idle descent, ground
STAGES = ((430, 446, 438, 441), (389, 380, 402, 384), (300, 296, 305, 291), (352, 345, 340, 361))


def test_doctests() -> None:
    assert doctest.testmod(hottest).failed == 0


@pytest.mark.parametrize(
    ("temperature", "grade", "kind", "standard", "tolerance"),
    [
        (230, "standard", "J", "ASTM E230", 2.2),
        (290, "standard", "K", "ASTM E230", 2.2),  # 0.75 % of 290 is 2.175
        (296, "standard", "K", "ASTM E230", 2.22),  # past the crossover at 293 degC
        (270, "special", "K", "ASTM E230", 1.1),
        (300, "special", "K", "ASTM E230", 1.2),
        (230, "standard", "E", "ASTM E230", 1.7),
        (230, "class 2", "K", "IEC 60584-1", 2.5),
        (333, "class 2", "J", "IEC 60584-1", 2.5),
        (230, "class 1", "K", "IEC 60584-1", 1.5),
        (0, "standard", "K", "ASTM E230", 2.2),
        (-150, "standard", "K", "ASTM E230", 3.0),  # 2 % of 150
    ],
)
def test_probe_tolerance(temperature: float, grade: str, kind: str, standard: str, tolerance: float) -> None:
    assert probe_tolerance(temperature, grade, kind, standard) == pytest.approx(tolerance, abs=0.006)


def test_probe_tolerance_knows_its_table() -> None:
    with pytest.raises(ValueError, match="did you mean 'special'"):
        probe_tolerance(200, "specail")
    with pytest.raises(ValueError, match="no type among the thermocouple limits 'X'"):
        probe_tolerance(200, kind="X")
    with pytest.raises(ValueError, match="no standard among"):
        probe_tolerance(200, standard="none")
    with pytest.raises(ValueError, match="temperature of special type K in ASTM E230"):
        probe_tolerance(-20, "special")


@pytest.mark.parametrize(("tolerance", "difference"), [(2.2, 7.92), (1.1, 3.96), (2.5, 9.0)])
def test_worst_case(tolerance: float, difference: float) -> None:
    assert worst_case_difference(tolerance) * 1.8 == pytest.approx(difference)


@pytest.mark.parametrize(("tail", "difference"), [(0.025, 6.14903), (0.05, 5.41548)])
def test_rectangular(tail: float, difference: float) -> None:
    # (2 - sqrt(0.2)) x 3.96 and (2 - sqrt(0.4)) x 3.96
    assert rectangular_difference(STANDARD, tail) == pytest.approx(difference, abs=1e-4)


def test_chance_of_the_wrong_one() -> None:
    # sigma = 3.96 / sqrt(3) = 2.2863; Phi(-5 / (2.2863 sqrt 2)) = Phi(-1.5464)
    assert chance_wrong_gaussian(5, STANDARD) == pytest.approx(0.0610046, abs=1e-6)
    # (7.92 - 5)^2 / (8 x 3.96^2)
    assert chance_wrong_triangular(5, STANDARD) == pytest.approx(0.067965, abs=1e-6)
    assert chance_wrong_triangular(8, STANDARD) == 0
    assert chance_wrong_gaussian(0, STANDARD) == chance_wrong_triangular(0, STANDARD) == 0.5


def test_six_cylinders() -> None:
    assert candidates(SIX, 0) == (3,)  # cylinder 4
    assert candidates(SIX, worst_case_difference(STANDARD)) == (1, 3, 4)  # cylinders 2, 4, 5
    # Differences 21, 4, 13, 7, 24: 0 + 0.1080 + 0.00003 + 0.0152 + 0
    assert chance_wrong_of_several(SIX, STANDARD) == pytest.approx(0.123247, abs=1e-5)


def test_swap() -> None:
    got = swap(4, 11)
    assert (got.cylinders, got.probes) == (7.5, -3.5)


def test_repeated_climbs() -> None:
    got = repeats([6, 3, 8, 5, 4])
    assert got.mean == pytest.approx(5.2)
    # squares 0.64 + 4.84 + 7.84 + 0.04 + 1.44 = 14.8; s = sqrt(3.7); t = 5.2 sqrt(5) / s
    assert got.t == pytest.approx(6.04488, abs=1e-4)
    assert got.t_needed == pytest.approx(
        2.132, abs=0.001
    )  # Student's table, 5 % one-sided, 4 degrees of freedom
    assert got.proven


def test_student_table_against_a_library() -> None:
    for degrees in range(1, 31):
        assert t_needed(degrees) == pytest.approx(float(stdtrit(degrees, 0.95)), abs=0.001)
    # Between rows the value is never too small.
    for degrees in (31, 39, 50, 99, 101, 5000):
        assert t_needed(degrees) >= float(stdtrit(degrees, 0.95)) - 0.001
    with pytest.raises(ValueError, match="degrees of freedom"):
        t_needed(0)


def test_repeats_that_do_not_prove() -> None:
    assert not repeats([5, -5, 3]).proven
    same = repeats([4, 4])
    assert same.t is None
    assert same.proven
    assert not repeats([0, 0]).proven
    with pytest.raises(ValueError, match="2 or more"):
        repeats([4])


def test_stages_are_weighed_by_their_margin() -> None:
    got = weigh_stages(STAGES, [460] * 4)
    assert got.margins == (14, 58, 155, 99)
    assert got.governing == 0
    assert got.hottest == (1,)  # cylinder 2
    assert got.shortfall[0] == (16, 0, 8, 5)
    assert got.worst == (16, 22, 21, 18)
    # A plain least-worst-shortfall would name cylinder 1, which is the hottest nowhere.
    assert got.worst.index(min(got.worst)) == 0
    assert got.index == (2, -14, -6, -9)
    assert got.index.index(min(got.index)) == 1


def test_a_tie_in_the_governing_stage_names_both() -> None:
    assert weigh_stages([[400, 410, 410]], [460]).hottest == (1, 2)


@pytest.mark.parametrize("bad", [nan, inf, -inf])
def test_no_formula_lets_a_number_that_is_none_through(bad: float) -> None:
    for call in (
        lambda: probe_tolerance(bad),
        lambda: worst_case_difference(bad),
        lambda: rectangular_difference(bad, 0.05),
        lambda: rectangular_difference(1, bad),
        lambda: chance_wrong_gaussian(bad, 1),
        lambda: chance_wrong_gaussian(1, bad),
        lambda: chance_wrong_triangular(bad, 1),
        lambda: chance_wrong_of_several([400, bad], 1),
        lambda: candidates([400, bad], 1),
        lambda: candidates([400, 401], bad),
        lambda: swap(bad, 1),
        lambda: repeats([1, bad]),
        lambda: weigh_stages([[1, bad]], [460]),
        lambda: weigh_stages([[1, 2]], [bad]),
    ):
        with pytest.raises(ValueError, match="finite"):
            call()


def test_ragged_stages_are_refused() -> None:
    with pytest.raises(ValueError, match="one temperature for each cylinder"):
        weigh_stages([[1, 2], [1]], [460, 460])
    with pytest.raises(ValueError, match="one temperature for each cylinder"):
        weigh_stages([], [])


@given(st.floats(0, 30), st.floats(0, 10), st.floats(0.1, 5))
def test_a_wider_difference_is_never_less_sure(difference: float, more: float, tolerance: float) -> None:
    for chance in (chance_wrong_gaussian, chance_wrong_triangular):
        assert 0 <= chance(difference + more, tolerance) <= chance(difference, tolerance) <= 0.5


@given(st.floats(0.1, 10), st.floats(0.001, 0.5))
def test_rectangular_and_triangular_are_inverse(tolerance: float, tail: float) -> None:
    assert chance_wrong_triangular(rectangular_difference(tolerance, tail), tolerance) == pytest.approx(tail)
