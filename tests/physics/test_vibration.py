import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from installcheck.physics.tubes import tube_bore, tube_mass_per_length, tube_material
from installcheck.physics.vibration import (
    firing_frequency,
    resonance_gain,
    second_moment,
    span_for_frequency,
    span_frequency,
    stem_frequency,
    stem_stress,
    support_spacing,
    supports_between,
)

INCH = 0.0254


# AC 43.13-1B chapter 9 and MIL-H-8891A table II, inch.
@pytest.mark.parametrize(
    ("outside", "aluminium", "steel"),
    [
        (0.125, 9.5, 11.5),
        (0.1875, 12, 14),
        (0.25, 13.5, 16),
        (0.375, 16.5, 20),
        (0.5, 19, 23),
        (1.0, 26.5, 30),
    ],
)
def test_support_spacing(outside: float, aluminium: float, steel: float) -> None:
    assert support_spacing(outside * INCH, "aluminium") == pytest.approx(aluminium * INCH)
    assert support_spacing(outside * INCH, "steel") == pytest.approx(steel * INCH)
    # A fifth less with unions or tees.
    assert support_spacing(outside * INCH, "steel", True) == pytest.approx(steel * 0.8 * INCH)


def test_a_size_between_two_rows_is_judged_by_the_smaller() -> None:
    assert support_spacing(0.4375 * INCH, "aluminium") == pytest.approx(16.5 * INCH)
    # 6 mm, between 3/16 and 1/4.
    assert support_spacing(6e-3, "aluminium") == pytest.approx(12 * INCH)


@pytest.mark.parametrize("outside", [0.0625 * INCH, 2.0 * INCH, math.nan])
def test_a_size_outside_the_table_is_refused(outside: float) -> None:
    with pytest.raises(ValueError, match="outside diameter"):
        support_spacing(outside, "steel")


@pytest.mark.parametrize("outside", [0.125, 0.1875, 0.25, 0.375])
def test_copper_at_its_distance_is_as_stiff_as_aluminium_at_its_own(outside: float) -> None:
    frequencies = {}
    for metal, family in (("5052-O", "aluminium"), ("copper C12200 annealed", "copper")):
        material = tube_material(metal)
        bore = tube_bore(outside * INCH, 0.032 * INCH)
        frequencies[family] = span_frequency(
            material.elastic_modulus,
            second_moment(outside * INCH, bore),
            tube_mass_per_length(outside * INCH, 0.032 * INCH, material.density),
            support_spacing(outside * INCH, material.family),
        )
    assert frequencies["copper"] == pytest.approx(frequencies["aluminium"], rel=0.01)


@pytest.mark.parametrize(("run", "clamps"), [(0, 0), (13.5, 0), (13.6, 1), (27, 1), (27.1, 2), (60, 4)])
def test_supports_between(run: float, clamps: int) -> None:
    assert supports_between(run * INCH, 13.5 * INCH) == clamps


@given(st.floats(0, 20), st.floats(0.05, 1))
def test_supports_are_near_enough(run: float, spacing: float) -> None:
    count = supports_between(run, spacing)
    assert run / (count + 1) <= spacing * (1 + 1e-9)
    assert count == 0 or run / count > spacing * (1 - 1e-9)


@given(st.floats(5, 500))
def test_span_for_frequency_undoes_span_frequency(frequency: float) -> None:
    moment = second_moment(6.35e-3, 4.572e-3)
    span = span_for_frequency(69.3e9, moment, 0.056, frequency)
    assert span_frequency(69.3e9, moment, 0.056, span) == pytest.approx(frequency)


# Every second turn: 2400 rpm of six cylinders is 40 x 3.
@pytest.mark.parametrize(("rpm", "cylinders", "hertz"), [(2400, 6, 120), (2400, 1, 20), (0, 4, 0)])
def test_firing_frequency(rpm: float, cylinders: int, hertz: float) -> None:
    assert firing_frequency(rpm, cylinders) == pytest.approx(hertz)


def test_resonance() -> None:
    # At resonance 1 / (2 zeta); far above it 1 / (r^2 - 1).
    assert resonance_gain(1.0, 0.02) == pytest.approx(25)
    assert resonance_gain(0.0, 0.02) == 1
    assert resonance_gain(3.0, 1e-6) == pytest.approx(1 / 8)
    with pytest.raises(ValueError, match="damping"):
        resonance_gain(1.0, 0.0)


def test_stem_by_hand() -> None:
    # Solid 10 mm round: I = pi/64 x 1e-8 = 4.9087e-10 m4. 200 GPa, 0.2 kg at 50 mm:
    # sqrt(3 x 200e9 x 4.9087e-10 / (0.2 x 1.25e-4)) / (2 pi) = sqrt(1.17809e7) / 6.28319 = 546.28 Hz
    assert stem_frequency(200e9, second_moment(10e-3, 0), 0.2, 0.05) == pytest.approx(546.28, rel=1e-4)
    # 0.2 x 100 x 0.05 = 1 N m over pi d^3/32 = 9.8175e-8 m3
    assert stem_stress(0.2, 100, 0.05, 10e-3, 0) == pytest.approx(10.186e6, rel=1e-4)


def test_impossible_numbers_are_refused() -> None:
    with pytest.raises(ValueError, match="bore"):
        second_moment(5e-3, 6e-3)
    with pytest.raises(ValueError, match="second moment"):
        second_moment(5e-3, 5e-3)
    with pytest.raises(ValueError, match="span"):
        span_frequency(1e9, 1e-10, 0.1, 0)
    with pytest.raises(ValueError, match="cylinders"):
        firing_frequency(2400, 0)
    with pytest.raises(ValueError, match="engine speed"):
        firing_frequency(math.inf, 4)
