"""Voltmeters and ammeters against Ohm's law by hand; 22 AWG has 16.2 ohm in 1000 ft at 20 degC (AC 43.13-1B table 11-9)."""

import pytest

from installcheck.analysis.errors.meter_budget import meter_budgets
from installcheck.analysis.study import Study
from installcheck.document import loads

VOLTS = """
installation: {{name: test}}
zones: {{cabin: {{}}}}
operating_points: {{cruise: {{zone_temperatures: {{cabin: 20 degC}}, readings: {{bus voltage: 14 V}}}}}}
supplies:
  battery: {{kind: battery, voltage: 14 V, zone: cabin}}
  bus: {{kind: bus, zone: cabin}}
  breaker: {{kind: breaker, rating: 5 A, inner_resistance: 20 milliohm, zone: cabin}}
loads: {{lamp: {{current: 5 A, terminals: ['+', '-'], zone: cabin}}}}
grounds:
  airframe: {{kind: structure, zone: cabin}}
  panel ground: {{kind: bus, joins: airframe, resistance: 10 milliohm, zone: cabin}}
indicators:
  meter: {{principle: voltage, measures: bus voltage, terminals: ['+', '-'], zone: cabin, {meter}}}
usual: {{wire_runs: {{part: AS22759/16, gauge: 22 AWG}}}}
wire_runs:
  B1: {{from: battery.+, to: bus, gauge: 4 AWG, route: [{{zone: cabin, length: 1 ft}}]}}
  B2: {{from: battery.-, to: airframe, gauge: 4 AWG, route: [{{zone: cabin, length: 1 ft}}]}}
  B3: {{from: bus, to: breaker.in, gauge: 4 AWG, route: [{{zone: cabin, length: 1 in}}]}}
  L1: {{from: breaker.out, to: lamp.+, route: [{{zone: cabin, length: 1 ft}}]}}
  L2: {{from: lamp.-, to: panel ground, route: [{{zone: cabin, length: 1 ft}}]}}
  M1: {{from: {plus}, to: meter.+, route: [{{zone: cabin, length: 10 ft}}]}}
  M2: {{from: {minus}, to: meter.-, route: [{{zone: cabin, length: 10 ft}}]}}
"""
METER = "inner_resistance: 100 ohm, accuracy: 0.5 V, scale: {lowest: 10 V, highest: 16 V}"

AMPS = """
installation: {{name: test}}
zones: {{cabin: {{}}}}
operating_points: {{cruise: {{zone_temperatures: {{cabin: 20 degC}}, readings: {{load current: 20 A}}}}}}
supplies:
  battery: {{kind: battery, voltage: 14 V, zone: cabin}}
  fuse A: {{kind: fuse, rating: 1 A, zone: cabin{fuse}}}
  fuse B: {{kind: fuse, rating: 1 A, inner_resistance: 0.2 ohm, zone: cabin}}
loads: {{lamp: {{current: 20 A, terminals: ['+', '-'], zone: cabin}}}}
grounds: {{airframe: {{kind: structure, zone: cabin}}}}
junctions: {{shunt: {{kind: shunt, terminals: [in, out, sense +, sense -], zone: cabin, {shunt}}}}}
indicators:
  meter: {{principle: voltage, measures: load current, terminals: ['+', '-'], zone: cabin, accuracy: 1.5 A, {meter}}}
usual: {{wire_runs: {{part: AS22759/16, gauge: 22 AWG}}}}
wire_runs:
  B1: {{from: battery.+, to: shunt.in, gauge: 4 AWG, route: [{{zone: cabin, length: 1 ft}}]}}
  B2: {{from: shunt.out, to: lamp.+, gauge: 4 AWG, route: [{{zone: cabin, length: 1 ft}}]}}
  B3: {{from: lamp.-, to: airframe, gauge: 4 AWG, route: [{{zone: cabin, length: 1 ft}}]}}
  B4: {{from: battery.-, to: airframe, gauge: 4 AWG, route: [{{zone: cabin, length: 1 ft}}]}}
  S1: {{from: shunt.{first}, to: fuse A.in, route: [{{zone: cabin, length: 5 ft}}]}}
  S2: {{from: fuse A.out, to: meter.+, route: [{{zone: cabin, length: 5 ft}}]}}
  S3: {{from: shunt.{second}, to: fuse B.in, route: [{{zone: cabin, length: 5 ft}}]}}
  S4: {{from: fuse B.out, to: meter.-, route: [{{zone: cabin, length: 5 ft}}]}}
"""
SHUNT = "resistance: 1 milliohm, tolerance: 1 %"
AMMETER = (
    "inner_resistance: 50 ohm, full_scale: 50 A, input_range: {lowest: 0 mV, highest: 50 mV}, "
    "scale: {lowest: 0 A, highest: 50 A}"
)


def volts(meter=METER, plus="bus", minus="panel ground"):
    [one] = meter_budgets(Study(loads(VOLTS.format(meter=meter, plus=plus, minus=minus))))
    return one


def amps(
    shunt=SHUNT, meter=AMMETER, fuse=", inner_resistance: 0.2 ohm", first="sense +", second="sense -", more=""
):
    text = AMPS.format(shunt=shunt, meter=meter, fuse=fuse, first=first, second=second)
    [one] = meter_budgets(Study(loads(text.replace(*more) if more else text)))
    return one


def causes(one):
    return {c.name: c.amount for c in one.causes}


def test_voltmeter_through_its_leads_and_its_ground():
    one = volts()
    # leads: 20 ft of 16.2 ohm/1000 ft are 0.324 ohm beside 100 ohm: 14 x 0.324/100.324 = 0.04521 V low
    # ground: 5 A of the lamp over 10 milliohm lift its negative by 0.05 V
    assert causes(one) == {
        "lead resistance": pytest.approx(-0.04521, abs=2e-5),
        "ground offset": pytest.approx(-0.05, abs=1e-6),
        "indicator accuracy": 0.5,
    }
    assert one.error == pytest.approx(-0.09521, abs=3e-5)
    assert one.worst_case == pytest.approx(0.59521, abs=3e-5)
    assert (one.source, one.kind, one.unit, one.missing) == ("bus", "voltage", "V", ())


def test_voltmeter_behind_a_breaker_that_feeds_a_lamp():
    # 5 A over 20 milliohm and 1 in of 4 AWG (0.25 ohm/1000 ft, 0.02 milliohm) are 0.1001 V
    assert causes(volts(plus="breaker.out"))["other loads on its lead"] == pytest.approx(-0.1001, abs=1e-4)


def test_voltmeter_on_the_structure_sees_no_offset():
    assert "ground offset" not in causes(volts(minus="airframe"))


def test_voltmeter_with_its_leads_exchanged_stands_at_its_stop():
    one = volts(plus="panel ground", minus="bus")
    assert (one.indicated, one.beyond) == (None, "below")


@pytest.mark.parametrize(
    ("meter", "lacking"),
    [
        ("accuracy: 0.5 V", "inner resistance of the indicator"),
        ("inner_resistance: 100 ohm", "accuracy of the indicator"),
    ],
)
def test_what_a_voltmeter_does_not_say(meter, lacking):
    assert volts(meter).missing == (lacking,)


def test_ammeter_through_fused_sense_leads():
    one = amps()
    # 20 A over 1 milliohm are 20 mV; 20 ft of lead (0.324 ohm) and two fuses (0.4 ohm) beside 50 ohm leave
    # 20 x 50/(50 + 0.724 + 0.001) = 19.7141 A
    assert one.indicated == pytest.approx(19.7141, abs=2e-4)
    # of that the shunt itself: 20 x 0.001/50.001 = 0.0004 A
    assert causes(one)["loading of the shunt"] == pytest.approx(-0.0004, abs=1e-6)
    # 1 % of 20 A, and the meter's own 1.5 A
    assert one.worst_case == pytest.approx(0.2859 + 0.2 + 1.5, abs=3e-4)
    assert (one.source, one.missing) == ("shunt", ())


def test_ammeter_on_the_shunt_of_another():
    # a 100 A shunt, 0.5 milliohm, gives 10 mV, which a 50 A ammeter takes for 10 A
    shunt = "resistance: 0.5 milliohm, tolerance: 1 %"
    assert causes(amps(shunt))["shunt and ammeter of different range"] == pytest.approx(-10)


def test_ammeter_by_the_curve_it_is_drawn_for():
    curve = "inner_resistance: 50 ohm, curve: {points: [[0 A, 0 mV], [60 A, 60 mV]]}"
    assert "shunt and ammeter of different range" not in causes(amps(meter=curve))


def test_ammeter_with_its_leads_exchanged():
    assert amps(first="sense -", second="sense +").beyond == "below"
    # a dial with its zero in the middle shows charge and discharge
    middle = AMMETER.replace("lowest: 0 A, highest: 50 A", "lowest: -50 A, highest: 50 A")
    assert amps(meter=middle, first="sense -", second="sense +").beyond == ""


@pytest.mark.parametrize(
    ("said", "lacking"),
    [
        ({"shunt": "resistance: 1 milliohm"}, "tolerance of the shunt"),
        ({"shunt": "tolerance: 1 %"}, "resistance of the spool or resistor"),
        ({"fuse": ""}, "resistance of the fuse in the sense lead"),
        ({"meter": AMMETER.replace("inner_resistance: 50 ohm, ", "")}, "inner resistance of the indicator"),
        ({"second": "sense +"}, "circuit of the indication, from supply to sender and back"),
    ],
)
def test_what_an_ammeter_does_not_say(said, lacking):
    assert lacking in amps(**said).missing


def test_without_a_reading_the_solved_current_is_true():
    one = amps(more=(", readings: {load current: 20 A}", ""))
    assert one.true == pytest.approx(20)


def test_budget_of_an_ammeter_is_judged(judged):
    text = AMPS.format(
        shunt=SHUNT,
        meter=f"{AMMETER}, budget: 3 A",
        fuse=", inner_resistance: 0.2 ohm",
        first="sense +",
        second="sense -",
    )
    [verdict] = judged(text, "indication-within-budget")
    assert verdict.outcome == "meets"
    assert verdict.value == pytest.approx(1.9859, abs=3e-4)
