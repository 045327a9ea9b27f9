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
