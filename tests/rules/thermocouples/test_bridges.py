import pytest

TEXT = """
zones: {{bay: {{}}, cabin: {{}}}}
operating_points:
  climb: {{zone_temperatures: {{bay: 80 degC, cabin: 25 degC}}, readings: {{exhaust temperature: 700 degC}}}}
probes: {{probe: {{thermocouple: K, resistance: 0.5 ohm, zone: bay, measures: exhaust temperature}}}}
indicators:
  gauge: {{principle: {principle}, thermocouple: K, terminals: ['+', '-'], compensation: at its terminals, zone: cabin,
    scale: {{lowest: 0 degC, highest: 1000 degC}}, loop_resistance: 8 ohm, inner_resistance: {inner}}}
{more_gauges}
wire_runs:
  T1: {{part: thermocouple lead K, gauge: 20 AWG, length: {length}, conductors: {{'+': {{from: probe.+, to: gauge.+}}, '-': {{from: probe.-, to: gauge.-}}}}}}
{runs}
"""
COPPER = "  W1: {{part: AS22759/16, gauge: 20 AWG, from: {a}, to: {b}}}"


def text(runs="", gauges="", principle="electronic thermocouple", inner="1 Mohm", length="12 ft"):
    return TEXT.format(runs=runs, more_gauges=gauges, principle=principle, inner=inner, length=length)


def test_legs_by_themselves(judged):
    [verdict] = judged(text(), "thermocouple-not-bridged")
    assert verdict.outcome == "meets"


def test_copper_beside_a_leg_takes_its_emf(judged):
    # Copper for chromel from 80 to 25 degC. Chromel against copper is E_E - E_T by the tables:
    # (4.985 - 3.358) - (1.495 - 0.992) = 1.124 mV lost; at 700 degC 41.9 microvolt/degC: 26.8 degC low, 48 degF.
    [verdict] = judged(text(COPPER.format(a="probe.+", b="gauge.+")), "thermocouple-not-bridged")
    assert verdict.outcome == "discrepancy"
    assert verdict.value == pytest.approx(26.8, abs=0.5)
    assert verdict.unit == "degC"
    assert "W1 bridges the positive leg of gauge" in verdict.message
    assert verdict.at == ("probe", "gauge", "W1")


def test_a_wire_between_the_legs_is_a_junction(judged):
    [verdict] = judged(text(COPPER.format(a="probe.+", b="gauge.-")), "thermocouple-not-bridged")
    assert verdict.outcome == "discrepancy"
    assert "joins the two legs" in verdict.message


SECOND = """  second: {{principle: {principle}, thermocouple: K, terminals: ['+', '-'], compensation: at its terminals, zone: cabin,
    scale: {{lowest: 0 degC, highest: 1000 degC}}, loop_resistance: 8 ohm, inner_resistance: {inner}}}"""
FROM_THE_FIRST = "  T2: {part: thermocouple lead K, gauge: 20 AWG, length: 1 ft, conductors: {'+': {from: gauge.+, to: second.+}, '-': {from: gauge.-, to: second.-}}}"


def test_two_electronic_inputs_on_one_couple(judged):
    gauges = SECOND.format(principle="electronic thermocouple", inner="1 Mohm")
    outcomes = [v.outcome for v in judged(text(FROM_THE_FIRST, gauges), "thermocouple-one-indicator")]
    assert outcomes == ["meets", "meets"]


def test_a_second_pointer_from_the_first_one_s_terminals(judged):
    # 20 AWG K is 0.589 ohm/ft: 12.733 ft and the couple make 8 ohm. One pointer of 20 ohm gets 20/28 of the emf, two in
    # parallel 10/18: 0.7778 of it. E_K(700) - E_K(25) = 29.129 - 1.000 = 28.129 mV; 21.878 mV is left, with 1.000 mV
    # 22.878 mV, 552.1 degC: 147.9 degC low. The lead of the second is not counted.
    coil = {"principle": "moving-coil thermocouple", "inner": "20 ohm"}
    document = text(FROM_THE_FIRST, SECOND.format(**coil), length="12.733 ft", **coil)
    first, second = judged(
        document.replace("bay: 80 degC, cabin: 25 degC", "bay: 25 degC, cabin: 25 degC"),
        "thermocouple-one-indicator",
    )
    assert first.outcome == second.outcome == "discrepancy"
    assert first.value == pytest.approx(147.9, abs=3)
    assert "second" in first.message
