"""Figures no instrument ever saw end in verdicts, never in a traceback."""

import pytest

from installcheck import check
from installcheck.document import loads
from installcheck.rules.engine import all_rules

TEXT = """
installation: {{name: test, thermocouple_colours: US}}
engines: {{engine: {{limits: {{head temperature: {{maximum: {true}, minimum: -250 degC}}}}}}}}
zones: {{bay: {{}}, cabin: {{}}}}
operating_points:
  point: {{zone_temperatures: {{bay: {bay}, cabin: {cabin}}}, readings: {{head temperature: {true}}}}}
probes: {{probe: {{thermocouple: {kind}, grade: standard, junction: grounded, resistance: {ohm}, zone: bay, measures: head temperature}}}}
indicators:
  gauge: {{principle: {principle}, thermocouple: {scale}, terminals: ['+', '-'], zone: cabin, compensation: {reference}, input_grounding: grounded negative,
    loop_resistance: {ohm}, loop_tolerance: 0 ohm, inner_resistance: {inner}, accuracy: 0 degC, budget: 0 degC, scale: {{lowest: -270 degC, highest: 3000 degC}}}}
junctions: {{joint: {{kind: plug, metal: {metal}, zone: bay, terminals: [A, B], pin_temperature_difference: 500 degC}}}}
wire_runs:
  W1: {{kind: thermocouple lead, thermocouple: {kind}, grade: {grade}, tolerance: standard, route: [{{zone: bay, length: 0 ft}}], conductors: {{'+': {{from: probe.+, to: joint.A}}, '-': {{from: probe.-, to: joint.B}}}}}}
  W2: {{kind: wire, metal: {metal}, resistance: 0.001 ohm/ft, length: 0 ft, conductors: {{'+': {{from: joint.A, to: gauge.+}}, '-': {{from: joint.B, to: gauge.-}}}}}}
"""
RULES = ("thermocouple", "extension", "indication-within", "true-at", "open-circuit")


@pytest.mark.parametrize("kind", ["J", "K", "E", "T", "N"])
@pytest.mark.parametrize("true", ["-270 degC", "5000 degF", "20 degC"])
@pytest.mark.parametrize("principle", ["moving-coil thermocouple", "electronic thermocouple"])
@pytest.mark.parametrize(
    ("bay", "cabin", "metal", "grade", "reference"),
    [
        ("-200 degC", "900 degC", "brass", "compensating", "at its terminals"),
        ("2000 degC", "-250 degC", "constantan", "extension", "none"),
        ("20 degC", "20 degC", "nisil", "thermocouple", "at its terminals"),
    ],
)
@pytest.mark.parametrize(("ohm", "inner"), [("1e-6 ohm", "1e-6 ohm"), ("1e9 ohm", "1e-6 ohm")])
def test_every_rule_ends_in_verdicts(kind, true, principle, bay, cabin, metal, grade, reference, ohm, inner):
    text = TEXT.format(
        kind=kind, true=true, principle=principle, bay=bay, cabin=cabin, metal=metal, grade=grade, reference=reference,
        ohm=ohm, inner=inner, scale="T" if kind == "K" else kind,
    )  # fmt: skip
    names = [name for name in all_rules() if name.startswith(RULES)]
    ledger = check(loads(text), names)
    judged = {v.rule for v in ledger.verdicts}
    assert {
        "thermocouple-leg-material",
        "thermocouple-type-match",
        "thermocouple-isolation",
        "indication-within-budget",
    } <= judged
    for verdict in ledger.verdicts:
        for number in (verdict.value, verdict.margin):
            assert number is None or abs(number) < 1e12
        assert "nan" not in verdict.message.lower().split()
