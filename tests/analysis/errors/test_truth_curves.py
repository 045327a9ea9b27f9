import pytest

from installcheck.analysis.errors.truth_curves import truth_curves
from installcheck.analysis.study import Study
from installcheck.document import loads

TEXT = """
installation: {{name: test}}
engines: {{engine: {{limits: {{head temperature: {{maximum: 400 degF}}}}}}}}
zones: {{bay: {{}}, cabin: {{}}}}
operating_points:
  climb: {{zone_temperatures: {{bay: 82 degC, cabin: 25 degC}}, readings: {{head temperature: 205 degC}}}}
  cold: {{zone_temperatures: {{bay: 25 degC, cabin: 25 degC}}}}
probes: {{probe: {{part: bayonet probe K isolated, zone: bay, measures: head temperature}}}}
indicators:
  gauge: {{part: electronic head temperature indicator K, zone: cabin, budget: 20 degF, scale: {{lowest: 0 degF, highest: 480 degF, division: 10 degF}}}}
wire_runs:
  W1: {{part: {part}, gauge: 20 AWG, length: 1 ft, from: probe.+, to: gauge.+}}
  W2: {{part: {part}, gauge: 20 AWG, length: 1 ft, from: probe.-, to: gauge.-}}
"""


def curve(part="AS22759/16"):
    [one] = truth_curves(Study(loads(TEXT.format(part=part))))
    return one


def test_a_lead_of_copper_over_the_whole_dial():
    one = curve()
    assert (one.name, one.sources, one.unit) == ("gauge", ("probe",), "degF")
    assert [t.point for t in one.tracks] == ["climb", "cold"]
    climb, cold = one.tracks
    # 480 degF is 248.9 degC: E 10.106 - E(82) 3.350 + E(25) 1.000 = 7.756 mV: 190.5 degC
    assert climb.samples[-1].shown == pytest.approx(190.5, abs=0.3)
    # With everything at one temperature copper does no harm.
    assert cold.samples[-1].shown == pytest.approx(cold.samples[-1].true, abs=0.01)
    assert climb.here == pytest.approx(205)
    assert cold.here is None
    # 0 degF less 57 degC of the copper is below the dial: the pointer stands at its stop.
    assert climb.samples[0].beyond == "below"


def test_the_limit_is_shown_at_its_worst_point():
    [limit] = curve().limits
    # 400 degF is 204.4 degC: E 8.315 - 3.350 + 1.000 = 5.965 mV: 145.7 degC
    assert (limit.side, limit.point, limit.text) == ("highest", "climb", "400 degF")
    assert limit.shown == pytest.approx(145.7, abs=0.3)


def test_probes_that_read_alike_share_a_curve():
    text = """
installation: {name: test}
zones: {bay: {}, cabin: {}}
operating_points: {climb: {zone_temperatures: {bay: 60 degC, cabin: 25 degC}, readings: {head temperature: 205 degC}}}
indicators: {gauge: {part: electronic head temperature indicator K, zone: cabin}}
junctions: {switch: {part: thermocouple selector switch, size: 2 position, zone: cabin, isothermal: yes}}
probes:
  one: {part: bayonet probe K isolated, zone: bay, measures: head temperature}
  two: {part: bayonet probe K isolated, zone: bay, measures: head temperature}
wire_runs:
  W1: {part: thermocouple lead K, gauge: 20 AWG, length: 1 ft, conductors: {'+': {from: one.+, to: switch.1 +}, '-': {from: one.-, to: switch.1 -}}}
  W2: {part: thermocouple lead K, gauge: 20 AWG, length: 1 ft, conductors: {'+': {from: two.+, to: switch.2 +}, '-': {from: two.-, to: switch.2 -}}}
  W3: {part: thermocouple lead K, gauge: 20 AWG, length: 1 ft, conductors: {'+': {from: switch.common +, to: gauge.+}, '-': {from: switch.common -, to: gauge.-}}}
"""
    [one] = truth_curves(Study(loads(text)))
    assert one.sources == ("one", "two")
    crossed = text.replace(
        "{'+': {from: two.+, to: switch.2 +}, '-': {from: two.-, to: switch.2 -}}",
        "{'+': {from: two.-, to: switch.2 +}, '-': {from: two.+, to: switch.2 -}}",
    )
    assert [c.sources for c in truth_curves(Study(loads(crossed)))] == [("one",), ("two",)]
