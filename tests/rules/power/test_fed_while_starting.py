"""What devices get while an engine is started: the starter is held to it, an indicator may brown out."""

import pytest

TEXT = """
supplies:
  battery: {{kind: battery, voltage: 12.6 V, inner_resistance: {inner}}}
  alternator: {{kind: alternator, voltage: 14 V}}
  bus: {{kind: bus}}
  contactor: {{kind: contactor, terminals: [in, out], inner_resistance: 0 ohm}}
grounds: {{airframe: {{kind: structure}}}}
indicators:
  gauge: {{terminals: [S], supply_terminals: [power, ground], supply_current: 0.1 A, supply_voltage: {{lowest: 11 V, highest: {highest}}}}}
loads:
  starter: {{current: 120 A, min_voltage: 8 V, duty: intermittent}}
  pump: {{current: 2 A, min_voltage: 9 V, connected_at: bus}}
wire_runs:
  A1: {{from: alternator.+, to: bus, metal: copper, resistance: 1 ohm/km, length: 0.1 m}}
  A2: {{from: alternator.-, to: airframe, metal: copper, resistance: 1 ohm/km, length: 0.1 m}}
  B1: {{from: battery.+, to: bus, metal: copper, resistance: 1 ohm/km, length: 0.1 m}}
  B2: {{from: battery.-, to: airframe, metal: copper, resistance: 1 ohm/km, length: 0.1 m}}
  S1: {{from: battery.+, to: contactor.in, metal: copper, resistance: 1 ohm/km, length: 0.1 m}}
  S2: {{from: contactor.out, to: starter.+, metal: copper, resistance: 1 ohm/km, length: 0.1 m}}
  S3: {{from: starter.-, to: airframe, metal: copper, resistance: 1 ohm/km, length: 0.1 m}}
  L2: {{from: bus, to: gauge.power, metal: copper, resistance: 10 ohm/km, length: 1 m}}
  L3: {{from: gauge.ground, to: airframe, metal: copper, resistance: 10 ohm/km, length: 1 m}}
operating_points: {{{points}}}
"""
CRANKING = "cranking: {{phase: start, dead_supplies: [alternator]{on}}}"
STARTS = CRANKING.format(on=", loads_on: [starter]")
CRUISE = "cruise: {phase: cruise, loads_on: [pump]}"


def fed(judged, ident, inner="60 milliohm", points=f"{CRUISE}, {STARTS}", highest="16 V"):
    text = TEXT.format(inner=inner, points=points, highest=highest)
    return next((v for v in judged(text, "fed-within-range") if v.at[0] == ident), None)


def test_a_starter_is_judged_where_it_cranks(judged):
    verdict = fed(judged, "starter")
    # 12.6 V - 120 A x 60 milliohm = 5.4 V, less 120 A x 0.4 milliohm of wires = 5.35 V
    assert (verdict.outcome, verdict.limit) == ("discrepancy", 8)
    assert verdict.value == pytest.approx(5.35, abs=0.02)
    assert "(cranking)" in verdict.message
    assert "battery of less inner resistance" in verdict.remedy
    # 12.6 V - 120 A x 10 milliohm = 11.4 V, less 0.05 V
    verdict = fed(judged, "starter", inner="10 milliohm")
    assert (verdict.outcome, verdict.value) == ("meets", pytest.approx(11.35, abs=0.02))


def test_a_starter_that_cranks_at_no_point_is_not_judged_at_others(judged):
    verdict = fed(judged, "starter", points=CRUISE)
    assert (verdict.outcome, verdict.missing) == ("undetermined", ("operating point at which it is on",))


def test_an_indicator_may_brown_out_and_it_is_said(judged):
    verdict = fed(judged, "gauge")
    # cruise: nearly 14 V; cranking: 12.6 - 120 x 0.06 = 5.4 V and a little less by the wires of the battery
    assert verdict.outcome == "meets"
    assert "(cruise)" in verdict.message
    assert "may brown out while an engine is started, and cranking is left out" in verdict.message


def test_a_start_alone_does_not_meet_for_an_indicator(judged):
    verdict = fed(judged, "gauge", points=STARTS)
    assert (verdict.outcome, verdict.missing) == ("undetermined", ("operating point at which it is on",))
    verdict = fed(judged, "gauge", inner="1 milliohm", points=STARTS, highest="12 V")
    assert verdict.outcome == "discrepancy"  # 12.5 V is too much for it at any time


@pytest.mark.parametrize(
    ("on", "outcome"),
    [
        (", loads_on: [starter, pump]", "discrepancy"),  # named: it has to run while the starter turns
        (", loads_on: [starter]", "meets"),  # off then, and 14 V in cruise
    ],
)
def test_a_load_that_runs_while_an_engine_is_started(judged, on, outcome):
    verdict = fed(judged, "pump", points=f"{CRUISE}, {CRANKING.format(on=on)}")
    assert verdict.outcome == outcome
    assert ("(cranking)" in verdict.message) == (outcome == "discrepancy")


def test_a_load_that_no_point_says_is_on_while_starting_is_told_at_most(judged):
    text = TEXT.replace("duty: intermittent", "duty: ~")
    points = f"{CRUISE}, {CRANKING.format(on='')}"
    verdicts = judged(text.format(inner="60 milliohm", points=points, highest="16 V"), "fed-within-range")
    # a starter of no stated duty and every other load are on: 12.6 - 122.1 x 0.06 = 5.27 V
    assert {v.at[0]: v.outcome for v in verdicts} == {
        "starter": "discrepancy",
        "pump": "advisory",
        "gauge": "meets",
    }
