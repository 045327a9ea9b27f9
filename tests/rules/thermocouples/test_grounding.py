import pytest

TEXT = """
zones: {{bay: {{}}, cabin: {{}}}}
operating_points: {{climb: {{zone_temperatures: {{bay: 60 degC, cabin: 25 degC}}, readings: {{head temperature: 205 degC}}}}}}
probes:
  probe 1: {{thermocouple: K, zone: bay, measures: head temperature{one}}}
  probe 2: {{thermocouple: K, zone: bay, measures: head temperature{two}}}
indicators:
  monitor: {{principle: electronic thermocouple, thermocouple: K, zone: cabin, compensation: at its terminals{grounding}, scale: {{lowest: 0 degF, highest: 600 degF}},
    inputs: {{CHT 1: {{terminals: [1 +, 1 -]}}, CHT 2: {{terminals: [2 +, 2 -]}}}}}}
wire_runs:
  W1: {{part: thermocouple lead K, gauge: 20 AWG, conductors: {{'+': {{from: probe 1.+, to: monitor.1 +}}, '-': {{from: probe 1.-, to: monitor.1 -}}}}}}
  W2: {{part: thermocouple lead K, gauge: 20 AWG, conductors: {{'+': {{from: probe 2.+, to: monitor.2 +}}, '-': {{from: probe 2.-, to: monitor.2 -}}}}}}
"""
GROUNDED, ISOLATED = ", junction: grounded", ", junction: isolated"


@pytest.mark.parametrize(
    ("one", "two", "grounding", "outcomes"),
    [
        (ISOLATED, ISOLATED, "grounded negative", ["meets", "meets"]),
        (GROUNDED, GROUNDED, "isolated", ["meets", "meets"]),
        (GROUNDED, ISOLATED, "common negative", ["meets", "meets"]),
        (GROUNDED, GROUNDED, "common negative", ["discrepancy", "discrepancy"]),
        (GROUNDED, ISOLATED, "grounded negative", ["discrepancy", "meets"]),
        ("", ISOLATED, "common negative", ["undetermined", "meets"]),
        (GROUNDED, ISOLATED, None, ["undetermined", "meets"]),
    ],
)
def test_junctions_and_inputs(judged, one, two, grounding, outcomes):
    stated = f", input_grounding: {grounding}" if grounding else ""
    verdicts = judged(TEXT.format(one=one, two=two, grounding=stated), "thermocouple-isolation")
    assert [v.outcome for v in verdicts] == outcomes


def test_size_of_a_ground_difference(judged):
    text = TEXT.format(one=GROUNDED, two=ISOLATED, grounding=", input_grounding: grounded negative")
    verdict = judged(text, "thermocouple-isolation")[0]
    # Type K at 205 degC gives 40.0 microvolt/degC: 1 mV is 25.0 degC, 45 degF
    assert "each millivolt between engine and panel ground shows as 45 degF" in verdict.message
    assert verdict.path == ("probes", "probe 1", "junction")


TWICE = """
zones: {{bay: {{}}, cabin: {{}}}}
operating_points:
  lights on: {{zone_temperatures: {{bay: 60 degC, cabin: 25 degC}}, readings: {{exhaust temperature: 1300 degF}}, loads_on: [light]}}
probes:
  probe: {{thermocouple: K, grade: standard, zone: bay, measures: exhaust temperature, junction: grounded, grounding: {{to: engine case, resistance: 2 milliohm}}}}
indicators:
  gauge: {{principle: electronic thermocouple, thermocouple: K, zone: cabin, compensation: at its terminals, input_grounding: grounded negative,
    terminals: ['+', '-'], scale: {{lowest: 0 degF, highest: 1800 degF}}, accuracy: 8 degF, budget: 40 degF, grounding: {{to: panel stud, resistance: 0 ohm}}}}
supplies: {{battery: {{kind: battery, voltage: 14 V, inner_resistance: 0.01 ohm, zone: bay}}}}
loads: {{light: {{current: {amperes}, zone: cabin}}}}
grounds:
  engine case: {{kind: engine case, zone: bay}}
  strap: {{kind: strap, from: engine case, to: airframe, resistance: 0.1 milliohm}}
  airframe: {{kind: structure, zone: cabin}}
  panel stud: {{kind: stud, zone: cabin, joins: airframe, resistance: {stud}}}
wire_runs:
  T1: {{part: thermocouple lead K, gauge: 20 AWG, tolerance: standard, length: 3 ft, conductors: {{'+': {{from: probe.+, to: gauge.+}}, '-': {{from: probe.-, to: gauge.-}}}}}}
  P1: {{from: battery.-, to: airframe, part: AS22759/16, gauge: 4 AWG, length: 1 ft}}
  P2: {{from: battery.+, to: light.+, part: AS22759/16, gauge: 16 AWG, length: 4 ft}}
  P3: {{from: light.-, to: panel stud, part: AS22759/16, gauge: 16 AWG, length: 1 ft}}
"""


def test_the_drop_of_a_shared_stud_stands_in_the_couple(judged):
    # 4 A over 1.15 milliohm lift the panel 4.6 mV above the engine. Type K by the tables: 29.315 mV at 704.4 degC
    # less 4.6 is 24.715 mV, 595.5 degC: 108.9 degC, 196 degF low.
    text = TWICE.format(amperes="4 A", stud="1.15 milliohm")
    [verdict] = judged(text, "thermocouple-isolation")
    assert verdict.outcome == "discrepancy"
    assert verdict.value == pytest.approx(196, abs=0.5)
    assert verdict.at == ("probe", "gauge", "panel stud")
    [budget] = judged(text, "indication-within-budget")
    assert budget.outcome == "discrepancy"
    assert "ground offset of the couple -19" in budget.message


def test_a_joint_nobody_measured_leaves_the_budget_open(judged):
    [budget] = judged(TWICE.format(amperes="4 A", stud="unknown"), "indication-within-budget")
    assert budget.outcome != "meets"


def test_millivolts_measured_between_the_grounds_count(judged):
    # 2 mV at 41.6 microvolt/degC: 48 degC, 86.5 degF, where the circuit gives 0.115 mV only.
    measured = "measured: [{between: [engine case, panel stud], value: 2 mV, what: voltage}]\n"
    [verdict] = judged(
        TWICE.format(amperes="0.1 A", stud="1.15 milliohm") + measured, "thermocouple-isolation"
    )
    assert verdict.value == pytest.approx(86.5, abs=1.5)
    assert "were measured 2 mV apart" in verdict.message
    assert "high" in verdict.message


LEG = """
zones: {{bay: {{}}, cabin: {{}}}}
probes: {{probe: {{thermocouple: K, resistance: 0.5 ohm, zone: bay{probe}}}}}
grounds:
  engine case: {{kind: engine case, zone: bay}}
  strap: {{kind: strap, from: engine case, to: airframe, resistance: 0.1 milliohm}}
  airframe: {{kind: structure, zone: cabin}}
indicators: {{gauge: {{principle: electronic thermocouple, thermocouple: K, terminals: ['+', '-'], zone: cabin, inner_resistance: 1 Mohm, input_grounding: isolated}}}}
wire_runs:
  T1: {{part: thermocouple lead K, gauge: 20 AWG, length: 10 ft, conductors: {{'+': {{from: probe.+, to: gauge.+}}, '-': {{from: probe.-, to: gauge.-}}}}}}
measured: [{{between: [gauge.+, airframe], value: {value}, what: resistance, connected: no, at_temperature: 20 degC}}]
"""
TOUCHES = ", junction: grounded, grounding: {to: engine case, resistance: 2 milliohm}"


@pytest.mark.parametrize(
    ("probe", "value", "outcome"),
    [
        # 10 ft of the chromel of 20 AWG at 0.4152 ohm/ft make 4.15 ohm, with the couple's 0.5 ohm 4.65 ohm
        (TOUCHES, "4.6 ohm", "meets"),
        (TOUCHES, "open", "discrepancy"),
        (", junction: isolated", "open", "meets"),
        (", junction: isolated", "4.6 ohm", "discrepancy"),
        # a grounded junction stands on the engine case though nobody writes it: no second way is to be looked for
        (", junction: grounded", "4.6 ohm", "undetermined"),
    ],
)
def test_a_leg_to_ground_tells_the_junction(judged, probe, value, outcome):
    verdicts = judged(LEG.format(probe=probe, value=value), "measured-agrees")
    assert [v.outcome for v in verdicts] == [outcome]


def test_a_leg_wired_to_ground_is_a_second_ground(judged):
    # As the shared stud above, but the input is isolated and a wire ties its negative leg to the stud: 196 degF low.
    text = TWICE.format(amperes="4 A", stud="1.15 milliohm").replace(
        "input_grounding: grounded negative", "input_grounding: isolated"
    )
    [right] = judged(text, "thermocouple-isolation")
    assert right.outcome == "meets"
    tie = "  P4: {from: gauge.-, to: panel stud, part: AS22759/16, gauge: 20 AWG, length: 3 in}\n"
    [wrong] = judged(text + tie, "thermocouple-isolation")
    assert wrong.outcome == "discrepancy"
    assert wrong.value == pytest.approx(196, abs=0.5)
    assert "a wire grounds a leg of gauge again at panel stud" in wrong.message
    isolated = (text + tie).replace("junction: grounded", "junction: isolated")
    assert [v.outcome for v in judged(isolated, "thermocouple-isolation")] == ["meets"]
