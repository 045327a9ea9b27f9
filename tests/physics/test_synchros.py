"""Synchro and tachometer miswiring against the tables of US Navy NEETS module 15, and against a circuit solution."""

from itertools import permutations
from math import atan2, cos, degrees, nan, radians, sin

import pytest
from hypothesis import given
from hypothesis import strategies as st

from installcheck.physics.synchros import (
    AXES,
    LEADS,
    Connection,
    TachometerEffect,
    generator_frequency,
    indicated_speed,
    lead_imbalance_error,
    open_lead,
    synchro_law,
    synchro_reading,
    synchronous_speed,
    tachometer_effect,
)

RIGHT: Connection = ("S1", "S2", "S3")
S12: Connection = ("S2", "S1", "S3")
S23: Connection = ("S1", "S3", "S2")
S13: Connection = ("S3", "S2", "S1")
ONWARD: Connection = ("S2", "S3", "S1")  # S1 to S2, S2 to S3, S3 to S1
BACKWARD: Connection = ("S3", "S1", "S2")  # S1 to S3, S2 to S1, S3 to S2


@pytest.mark.parametrize(
    ("connection", "reversed_rotor", "zero", "sense"),
    [
        (RIGHT, False, 0, "counterclockwise"),
        (S12, False, 240, "clockwise"),
        (S23, False, 120, "clockwise"),
        (S13, False, 0, "clockwise"),
        (ONWARD, False, 120, "counterclockwise"),
        (BACKWARD, False, 240, "counterclockwise"),
        (RIGHT, True, 180, "counterclockwise"),
        (S12, True, 60, "clockwise"),
        (S23, True, 300, "clockwise"),
        (S13, True, 180, "clockwise"),
        (ONWARD, True, 300, "counterclockwise"),
        (BACKWARD, True, 60, "counterclockwise"),
    ],
)
def test_neets_module_15_tables_1_6_and_1_7(
    connection: Connection, reversed_rotor: bool, zero: float, sense: str
) -> None:
    law = synchro_law(connection, reversed_rotor)
    assert law.zero == pytest.approx(zero, abs=1e-6)
    assert law.sense.value == sense


@pytest.mark.parametrize(("connection", "transmitter", "receiver"), [(S13, 90, 270), (S23, 30, 90)])
def test_worked_angles(connection: Connection, transmitter: float, receiver: float) -> None:
    assert synchro_reading(transmitter, connection) == pytest.approx(receiver, abs=1e-9)


@given(st.floats(-720, 720), st.sampled_from(list(permutations(LEADS))), st.booleans())
def test_the_law_holds_at_every_angle(angle: float, connection: Connection, reversed_rotor: bool) -> None:
    reading = synchro_reading(angle, connection, reversed_rotor)
    law = synchro_law(connection, reversed_rotor).reading(angle)
    assert abs((reading - law + 180) % 360 - 180) < 1e-5


@pytest.mark.parametrize(
    ("lead", "mirror", "turns"), [("S1", 300, (150, 330)), ("S2", 180, (90, 270)), ("S3", 60, (30, 210))]
)
def test_open_lead(lead: str, mirror: float, turns: tuple[float, float]) -> None:
    assert open_lead(lead).mirror == pytest.approx(mirror)
    assert open_lead(lead).turning_points == pytest.approx(turns)


@given(st.floats(0, 360), st.sampled_from(LEADS))
def test_the_mirror_angle_gives_the_pair_left_the_same_voltage(angle: float, lead: str) -> None:
    a, b = (AXES[other] for other in LEADS if other != lead)

    def between(t: float) -> float:
        return cos(radians(t - a)) - cos(radians(t - b))

    assert between(open_lead(lead).mirror - angle) == pytest.approx(between(angle), abs=1e-9)


@given(st.floats(0, 360), st.floats(0, 0.01), st.sampled_from(LEADS))
def test_imbalance_bound(angle: float, share: float, lead: str) -> None:
    """Three windings in star with voltages cos(t - axis), legs of 1 ohm and one of 1 + share, solved for the star point."""
    legs = {name: 1.0 + share * (name == lead) for name in LEADS}
    emf = {name: cos(radians(angle - AXES[name])) for name in LEADS}
    star = sum(emf[n] / legs[n] for n in LEADS) / sum(1 / legs[n] for n in LEADS)
    seen = {n: (emf[n] - star) / legs[n] for n in LEADS}
    east = sum(seen[n] * cos(radians(AXES[n])) for n in LEADS)
    north = sum(seen[n] * sin(radians(AXES[n])) for n in LEADS)
    error = (degrees(atan2(north, east)) - angle + 180) % 360 - 180
    assert abs(error) <= lead_imbalance_error(share, 1.0) * 1.001 + 1e-9


def test_imbalance_of_one_percent() -> None:
    """0.01 / 3 rad = 0.191 deg."""
    assert lead_imbalance_error(0.5, 50) == pytest.approx(0.191, abs=5e-4)
    with pytest.raises(ValueError, match="a tenth"):
        lead_imbalance_error(6, 50)


def test_tachometer_leads() -> None:
    """A swap reverses the field; moving all three on does not: a checker that faults the latter raises a false alarm."""
    for swapped in (S12, S23, S13):
        assert tachometer_effect(swapped) is TachometerEffect.REVERSED
    for same in (RIGHT, ONWARD, BACKWARD):
        assert tachometer_effect(same) is TachometerEffect.TRUE
    assert tachometer_effect(RIGHT, open_leads=1) is TachometerEffect.NO_ROTATING_FIELD


def test_tachometer_speeds() -> None:
    """2 poles x 4200 / 120 = 70 Hz; 120 x 70 / 4 = 2100 rpm."""
    assert generator_frequency(4200, 2) == 70
    assert synchronous_speed(70, 4) == 2100


def test_wrong_drive_or_generator_scales_the_reading() -> None:
    """Made for a half-speed drive and 2 poles: right at 0.5; double at 1.0; double with 4 poles."""
    assert indicated_speed(2400, 0.5, 2, 0.5, 2) == pytest.approx(2400)
    assert indicated_speed(2400, 1.0, 2, 0.5, 2) == pytest.approx(4800)
    assert indicated_speed(2400, 0.5, 4, 0.5, 2) == pytest.approx(4800)


def test_impossible_input_is_refused() -> None:
    with pytest.raises(ValueError, match="once each"):
        synchro_law(("S1", "S1", "S3"))
    with pytest.raises(ValueError, match="once each"):
        tachometer_effect(("S1", "S2", "S4"))
    with pytest.raises(ValueError, match="S1, S2 and S3"):
        open_lead("R1")
    with pytest.raises(ValueError, match="finite"):
        synchro_reading(nan, RIGHT)
    with pytest.raises(ValueError, match="pairs"):
        generator_frequency(100, 3)
    with pytest.raises(ValueError, match="0 to 3"):
        tachometer_effect(RIGHT, open_leads=4)
