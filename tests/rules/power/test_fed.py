"""What devices get against what they work on, and sources against their system."""

import pytest

TEXT = """
aircraft: {{system_voltage: {system}}}
supplies:
  alternator: {{kind: alternator, voltage: {volts}}}
  bus: {{kind: bus}}
  breaker: {{kind: breaker, rating: 5 A}}
grounds: {{airframe: {{kind: structure}}}}
indicators:
  gauge: {{terminals: [S], supply_terminals: [power, ground], supply_current: 0.1 A, supply_voltage: {{lowest: 10 V, highest: 16 V}}}}
loads: {{radio: {{power: 100 W, min_voltage: 12 V}}}}
wire_runs:
  A1: {{from: alternator.+, to: bus, metal: copper, resistance: 1 ohm/km, length: 1 m}}
  A2: {{from: alternator.-, to: airframe, metal: copper, resistance: 1 ohm/km, length: 1 m}}
  L1: {{from: bus, to: breaker.in, metal: copper, resistance: 10 ohm/km, length: 0.1 m}}
  L2: {{from: breaker.out, to: gauge.{power}, metal: copper, resistance: 10 ohm/km, length: 3 m}}
  L3: {{from: gauge.{ground}, to: airframe, metal: copper, resistance: 10 ohm/km, length: 0.3 m}}
  R1: {{from: bus, to: radio.+, metal: copper, resistance: {radio}, length: 10 m}}
  R2: {{from: radio.-, to: airframe, metal: copper, resistance: 1 ohm/km, length: 0.1 m}}
{points}
"""


def document(**more):
    told = {"system": "14 V", "volts": "14 V", "power": "power", "ground": "ground", "radio": "10 ohm/km"}
    return TEXT.format(**told | {"points": ""} | more)


def of(verdicts, ident):
    return next(v for v in verdicts if v.at[0] == ident)


def test_gauge_within_its_range(judged):
    verdict = of(judged(document(), "fed-within-range"), "gauge")
    assert (verdict.outcome, verdict.limit) == ("meets", 16)
    # 14 V less 0.1 A through 34 milliohm and the radio's 7.5 A through 2 milliohm of the alternator's wires
    assert verdict.value == pytest.approx(14 - 0.0034 - 7.6 * 0.002, abs=1e-3)


def test_twelve_volt_gauge_on_a_28_volt_bus(judged):
    verdict = of(judged(document(volts="28 V", system="28 V"), "fed-within-range"), "gauge")
    assert (verdict.outcome, verdict.limit) == ("discrepancy", 16)
    assert verdict.value == pytest.approx(28, abs=0.05)


def test_nominal_voltage_where_no_source_is_drawn(judged):
    text = document(system="28 V").replace("  alternator: {kind: alternator, voltage: 14 V}\n", "")
    text = "\n".join(line for line in text.splitlines() if not line.startswith("  A"))
    verdict = of(judged(text, "fed-within-range"), "gauge")
    assert (verdict.outcome, verdict.value) == ("discrepancy", 28)
    assert "nominal" in verdict.message


def test_power_and_ground_exchanged(judged):
    verdict = of(judged(document(power="ground", ground="power"), "fed-within-range"), "gauge")
    assert (verdict.outcome, verdict.limit) == ("discrepancy", 10)
    assert verdict.value == pytest.approx(-14, abs=0.05)


def test_a_load_of_constant_power_at_its_lowest_voltage(judged):
    assert of(judged(document(), "fed-within-range"), "radio").outcome == "meets"
    verdict = of(judged(document(radio="25 ohm/km"), "fed-within-range"), "radio")
    # V (14 - V) / 0.25 ohm = 100 W, so V^2 - 14 V + 25 = 0: V = 7 + sqrt(24) = 11.90 V, a little less by the other wires
    assert (verdict.outcome, verdict.limit) == ("discrepancy", 12)
    assert verdict.value == pytest.approx(11.9, abs=0.05)


def test_a_breaker_open_on_purpose_is_not_held_against_the_gauge(judged):
    points = "operating_points: {cruise: {phase: cruise}, lost: {phase: emergency, open_switches: [breaker]}}"
    assert of(judged(document(points=points), "fed-within-range"), "gauge").outcome == "meets"


def test_a_breaker_open_at_every_point_leaves_the_gauge_dead(judged):
    points = "operating_points: {cruise: {phase: cruise, open_switches: [breaker]}}"
    assert not [v for v in judged(document(points=points), "fed-within-range") if v.at[0] == "gauge"]
    verdict = of(judged(document(points=points), "circuit-solvable"), "gauge")
    assert verdict.outcome == "undetermined"


@pytest.mark.parametrize(("system", "outcome"), [("14 V", "meets"), ("28 V", "discrepancy")])
def test_system_voltage_against_the_source(judged, system, outcome):
    assert of(judged(document(system=system), "system-voltage"), "alternator").outcome == outcome


def test_drop_is_held_to_the_lower_of_two_systems(judged):
    # The alternator gives 14 V in an aircraft of 28 V: 0.5 V, not 1 V, holds for both.
    verdict = of(judged(document(system="28 V", radio="9 ohm/km"), "voltage-drop"), "radio")
    assert verdict.limit == 0.5


def test_source_the_wrong_way_round(judged):
    text = document().replace("alternator.+, to: bus", "alternator.-, to: bus")
    text = text.replace("alternator.-, to: airframe", "alternator.+, to: airframe")
    verdict = of(judged(text, "circuit-solvable"), "alternator")
    assert verdict.outcome == "discrepancy"
    assert "wrong way round" in verdict.message


def test_source_without_a_way_home_but_through_loads(judged):
    text = document().replace("alternator.-, to: airframe", "alternator.-, to: gauge.S")
    verdict = of(judged(text, "circuit-solvable"), "alternator")
    assert verdict.outcome == "undetermined"
    assert "nothing ties its negative to ground" in verdict.message
