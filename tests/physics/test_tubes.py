import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from installcheck.physics.tubes import (
    PSI,
    ROUNDNESS_IN_BEND,
    barlow_pressure,
    drawn_walls,
    flare_torque,
    held_fast_stress,
    keeps_round,
    lame_pressure,
    least_bend_radius,
    least_bore_in_bend,
    outside_diameter_of_dash,
    pressure_margin,
    proof_pressure,
    tube_bore,
    tube_mass_per_length,
    tube_material,
    tube_materials,
)

INCH = 0.0254
INCH_POUND = 0.112984829


@given(st.floats(1e-3, 0.05), st.floats(0.01, 0.49))
def test_barlow_is_the_lower_of_the_two(outside: float, share: float) -> None:
    wall = outside * share
    assert barlow_pressure(1.7e8, outside, wall) <= lame_pressure(1.7e8, outside, wall)


# Bores, in inch, as the arithmetic of outside diameter less two walls.
@pytest.mark.parametrize(
    ("dash", "wall", "bore"), [(2, 0.032, 0.061), (3, 0.035, 0.1175), (4, 0.035, 0.180), (6, 0.049, 0.277)]
)
def test_bore_of_the_usual_sizes(dash: int, wall: float, bore: float) -> None:
    assert tube_bore(outside_diameter_of_dash(dash), wall * INCH) == pytest.approx(bore * INCH)


def test_walls_drawn() -> None:
    assert drawn_walls(0.25 * INCH) == pytest.approx(
        [wall * INCH for wall in (0.020, 0.028, 0.032, 0.035, 0.049, 0.065)]
    )
    assert drawn_walls(0.26 * INCH) == ()


# Mass of empty tube in g/m: pi/4 (D^2 - d^2) rho.
@pytest.mark.parametrize(
    ("metal", "outside", "wall", "grams"),
    [
        ("5052-O", 0.125, 0.032, 16.17),
        ("304 annealed", 0.1875, 0.035, 86.55),
        ("copper C12200 annealed", 0.125, 0.020, 38.05),
    ],
)
def test_mass_of_empty_tube(metal: str, outside: float, wall: float, grams: float) -> None:
    mass = tube_mass_per_length(outside * INCH, wall * INCH, tube_material(metal).density)
    assert mass * 1000 == pytest.approx(grams, rel=1e-3)


def test_yield_comes_before_burst_for_every_metal() -> None:
    assert all(0 < metal.yields_at < metal.ultimate for metal in tube_materials().values())


def test_margin_at_working_and_proof_pressure() -> None:
    # 1/4 x 0.035 of 5052-O yields at 2 x 9500 x 0.035/0.25 = 2660 psi; at 100 psi the proof is 200 psi: 13.3 times.
    soft = tube_material("5052-O")
    yields = barlow_pressure(soft.yields_at, 0.25 * INCH, 0.035 * INCH)
    assert yields / PSI == pytest.approx(2660)
    assert pressure_margin(yields, proof_pressure(100 * PSI)) == pytest.approx(13.3)


# Twice the operating pressure, and 100 psi at least when it is below 50 psi: NAVEDTRA 14018.
@pytest.mark.parametrize(("operating", "proof"), [(5, 100), (50, 100), (51, 102), (1000, 2000)])
def test_proof_pressure(operating: float, proof: float) -> None:
    assert proof_pressure(operating * PSI) == pytest.approx(proof * PSI)


def test_a_straight_tube_held_fast_yields_in_the_warmth_of_an_engine() -> None:
    # 69.3 GPa x 23.8e-6 x 80 K = 131.9 MPa, over the 65.5 MPa (9500 psi) at which 5052-O yields.
    soft = tube_material("5052-O")
    assert held_fast_stress(soft, 80) == pytest.approx(131.9e6, rel=1e-3)
    assert held_fast_stress(soft, 80) > soft.yields_at


# AC 43.13-1B table 9-2, bend radius in inch.
@pytest.mark.parametrize(
    ("dash", "aluminium", "steel"),
    [(2, 3 / 8, None), (3, 7 / 16, 21 / 32), (4, 9 / 16, 7 / 8), (6, 15 / 16, 1 + 5 / 16), (8, 1.25, 1.75)],
)
def test_least_bend_radius(dash: int, aluminium: float, steel: float | None) -> None:
    outside = outside_diameter_of_dash(dash)
    assert least_bend_radius(outside, "aluminium") == pytest.approx(aluminium * INCH)
    found = least_bend_radius(outside, "steel")
    assert found == (None if steel is None else pytest.approx(steel * INCH))
    assert least_bend_radius(outside, "copper") is None
    assert least_bend_radius(0.26 * INCH, "aluminium") is None


def test_a_bend_keeps_three_quarters() -> None:
    assert keeps_round(0.25, 0.1875) == ROUNDNESS_IN_BEND
    # NAVEDTRA 14315 table 10-14: 1/4 inch, 6061, 0.150 inch.
    assert least_bore_in_bend(0.25 * INCH, "6061") == pytest.approx(0.150 * INCH)
    assert least_bore_in_bend(0.26 * INCH, "6061") is None


def test_flare_torque_is_what_both_sources_allow() -> None:
    # Aluminium -4: 40-65 by one, 50-65 by the other.
    torque = flare_torque(0.25 * INCH, "aluminium")
    assert torque is not None
    assert (torque.least, torque.most) == pytest.approx((50 * INCH_POUND, 65 * INCH_POUND))
    assert torque.disputed
    assert torque.source == "AC 43.13-1B table 9-2 and TM 55-1520-240-23-1 par. 1-13"
    # Aluminium -6: 75-125 and 100-125.
    torque = flare_torque(0.375 * INCH, "aluminium")
    assert torque is not None
    assert (torque.least, torque.most) == pytest.approx((100 * INCH_POUND, 125 * INCH_POUND))
    # Steel -4: 135-150 in both; -5 in one only; a hose nut in the other only.
    steel = flare_torque(0.25 * INCH, "steel")
    assert steel is not None
    assert (steel.least, steel.most) == pytest.approx((135 * INCH_POUND, 150 * INCH_POUND))
    assert not steel.disputed
    five = flare_torque(0.3125 * INCH, "steel")
    assert five is not None
    assert five.source == "AC 43.13-1B table 9-2"
    hose = flare_torque(0.25 * INCH, "hose")
    assert hose is not None
    assert (hose.least, hose.most) == pytest.approx((100 * INCH_POUND, 120 * INCH_POUND))
    assert hose.source == "TM 55-1520-240-23-1 par. 1-13"


@pytest.mark.parametrize(
    ("inches", "aluminium", "steel", "hose"),
    [
        # as two Army maintenance manuals agree on: pound-inches, least and most, at the sizes where the other table has none
        # or is wider
        (0.625, (300, 350), (650, 700), (400, 480)),
        (0.75, (425, 500), (900, 1000), (725, 850)),
        (1.0, (600, 700), (1200, 1400), (900, 1150)),
        (1.25, (680, 800), (1200, 1400), (950, 1150)),
    ],
)
def test_flare_torque_of_large_sizes(inches, aluminium, steel, hose) -> None:
    found = [flare_torque(inches * INCH, on) for on in ("aluminium", "steel", "hose")]
    for torque, seen in zip(found, (aluminium, steel, hose), strict=True):
        assert torque is not None
        assert (torque.least, torque.most) == pytest.approx([x * INCH_POUND for x in seen])


def test_no_torque_is_made_up() -> None:
    assert flare_torque(0.125 * INCH, "steel") is None
    assert flare_torque(0.4375 * INCH, "aluminium") is None


def test_impossible_tubes_are_refused() -> None:
    with pytest.raises(ValueError, match="leaves no bore"):
        tube_bore(0.25, 0.125)
    with pytest.raises(ValueError, match="leaves no bore"):
        barlow_pressure(1e8, 0.25, 0.2)
    with pytest.raises(ValueError, match="strength"):
        barlow_pressure(math.nan, 0.25, 0.035)
    with pytest.raises(ValueError, match="applied pressure"):
        pressure_margin(1e6, 0)
    with pytest.raises(ValueError, match="did you mean '6061-T6'"):
        tube_material("6061-T3")
    with pytest.raises(ValueError, match="dash number"):
        outside_diameter_of_dash(0)
