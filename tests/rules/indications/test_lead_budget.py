"""Lead, contact and ground-path resistance against the budget of the indication."""

import pytest

from installcheck.model.quantities import conversion

PSI = conversion("pressure", "psi")[0]

LOOP = """
zones: {{bay: {{temperature: {{lowest: 20 degC, highest: 20 degC}}}}}}
operating_points: {{cruise: {{readings: {{oil pressure: 50 psi}}}}}}
senders:
  sender: {{principle: resistive, measures: oil pressure, terminals: [S, G], curve: {{points: [[0 psi, 240 ohm], [100 psi, 33 ohm]]}}}}
indicators:
  gauge: {{principle: electronic resistance, measures: oil pressure, terminals: [S, G], excitation: 5 V, pull_up: 100 ohm{budget}}}
junctions: {{plug: {{kind: splice, contact_resistance: {joint}}}}}
wire_runs:
  E1: {{from: sender.S, to: plug, part: AS22759/16, gauge: 22 AWG, {way}}}
  E2: {{from: plug, to: gauge.S, part: AS22759/16, gauge: 22 AWG, {way}}}
  E3: {{from: sender.G, to: gauge.G, part: AS22759/16, gauge: 22 AWG, {way}}}
"""


def loop(budget=", budget: 1 psi", joint="0 ohm", feet=20):
    return LOOP.format(budget=budget, joint=joint, way=f"route: [{{zone: bay, length: {feet} ft}}]")


def test_within_budget(judged):
    [verdict] = judged(loop(), "lead-resistance-budget")
    # 60 ft x 0.0162 ohm/ft = 0.972 ohm; 2.07 ohm/psi falling: 0.4696 psi low
    assert verdict.outcome == "meets"
    assert verdict.value == pytest.approx(0.972 / 2.07, rel=1e-3)
    assert (verdict.limit, verdict.unit) == (pytest.approx(1.0), "psi")
    assert "low" in verdict.message


def test_over_budget_names_the_gauge(judged):
    [verdict] = judged(loop(budget=", budget: 0.3 psi"), "lead-resistance-budget")
    assert verdict.outcome == "discrepancy"
    assert verdict.path[0] == "wire_runs"
    # size 20: 60 x 0.00988 / 2.07 = 0.286 psi
    assert verdict.remedy == "20 AWG in E1, E2, E3 leaves 0.286 psi"


def test_a_poor_joint_is_named(judged):
    [verdict] = judged(loop(joint="4 ohm"), "lead-resistance-budget")
    # 4 + 0.972 ohm: 2.40 psi low; half of the joint counts with each wire that ends there
    assert verdict.value == pytest.approx(4.972 / 2.07, rel=1e-3)
    assert verdict.outcome == "discrepancy"
    assert verdict.remedy.startswith("clean or renew")


def test_silence_is_undetermined(judged):
    [verdict] = judged(loop(budget=""), "lead-resistance-budget")
    assert verdict.missing == ("error budget of the indication ('budget')",)
    text = LOOP.format(budget=", budget: 1 psi", joint="0 ohm", way="title: no length")
    [verdict] = judged(text, "lead-resistance-budget")
    assert verdict.missing == ("length of the run",)


def test_thermistor_leads_need_a_true_value_and_straight_curves_do_not(judged):
    no_reading = loop().replace("operating_points: {cruise: {readings: {oil pressure: 50 psi}}}\n", "")
    [verdict] = judged(no_reading, "lead-resistance-budget")
    assert verdict.outcome == "meets"
    assert verdict.value == pytest.approx(0.972 / 2.07, rel=1e-3)
    thermistor = no_reading.replace(
        "[[0 psi, 240 ohm], [100 psi, 33 ohm]]", "[[0 degC, 2000 ohm], [100 degC, 60 ohm]]"
    )
    thermistor = thermistor.replace("oil pressure", "oil temperature").replace("1 psi", "2 degC")
    [verdict] = judged(thermistor, "lead-resistance-budget")
    assert verdict.missing == (
        "true value of the indication at an operating point ('readings'), or its limit",
    )
