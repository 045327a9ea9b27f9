"""Senders whose return shares a strap or stud with other currents."""

from pathlib import Path

import pytest

from installcheck import check, load

DEMO = Path(__file__).parents[3] / "demo_aircraft"

SHARED = """
aircraft: {{system_voltage: 14 V}}
operating_points: {{cruise: {{readings: {{oil pressure: 50 psi}}}}}}
supplies: {{alternator: {{kind: alternator, voltage: 14 V}}, bus: {{kind: bus}}}}
loads: {{lamps: {{current: 40 A, connected_at: bus}}}}
grounds:
  airframe: {{kind: structure}}
  engine case: {{kind: engine case}}
  strap: {{kind: strap, from: engine case, to: airframe{strap}}}
senders:
  sender: {{principle: resistive, measures: oil pressure, terminals: [S], case_return: yes, grounding: {{to: engine case, through: thread}},
    curve: {{points: [[0 psi, {zero} ohm], [100 psi, {full} ohm]]}}}}
indicators:
  gauge: {{principle: electronic resistance, measures: oil pressure, terminals: [S], excitation: 12 V, pull_up: 100 ohm,
    supply_terminals: [power, ground], supply_current: 0 A{budget}}}
wire_runs:
  A1: {{from: alternator.+, to: bus, metal: copper, resistance: 0.001 ohm/m, length: 1 m}}
  A2: {{from: alternator.-, to: engine case, metal: copper, resistance: 0.001 ohm/m, length: 1 m}}
  E1: {{from: sender.S, to: gauge.S, metal: copper, resistance: 0.001 ohm/m, length: 1 m}}
  P1: {{from: bus, to: gauge.power, metal: copper, resistance: 0.001 ohm/m, length: 1 m}}
  P2: {{from: gauge.ground, to: airframe, metal: copper, resistance: 0.001 ohm/m, length: 1 m}}
"""


def shared(strap=", resistance: 0.005 ohm", zero=10, full=170, budget=", budget: 10 psi"):
    return SHARED.format(strap=strap, zero=zero, full=full, budget=budget)


def test_offset_of_a_rising_curve(judged):
    [verdict] = judged(shared(), "ground-shared")
    # engine 0.20 V below the airframe: R' = (90 x 12 - 0.2 x 100) / 12.2 = 86.885 ohm, 3.115 ohm less, 1.6 ohm/psi
    assert verdict.value == pytest.approx(1.947, rel=2e-3)
    assert verdict.outcome == "meets"
    assert "rising curve" in verdict.message
    assert "low" in verdict.message
    assert "alternator" in verdict.message
    assert "strap" in verdict.message


def test_offset_over_budget_and_the_strap_that_cures(judged):
    [verdict] = judged(shared(budget=", budget: 1.5 psi"), "ground-shared")
    assert verdict.outcome == "discrepancy"
    assert verdict.path == ("grounds", "strap")
    # a quarter of 1.5 psi: 0.6 ohm low = Ve (90 + 100) / (12 + Ve), Ve = 0.6 x 12 / 189.4 = 0.03801 V, / 40 A = 0.950 milliohm
    told = float(verdict.remedy.split(" to ")[1].split(" milliohm")[0])
    assert told <= 0.950
    assert told == pytest.approx(0.950, rel=0.03)
    [cured] = judged(
        shared(strap=f", resistance: {told} milliohm", budget=", budget: 1.5 psi"), "ground-shared"
    )
    assert cured.outcome == "meets"
    assert cured.value <= 0.25 * 1.5


def test_a_falling_curve_is_moved_up(judged):
    [verdict] = judged(shared(zero=170, full=10, budget=", budget: 4 psi"), "ground-shared")
    assert verdict.outcome == "advisory"
    assert "falling curve" in verdict.message
    assert "high" in verdict.message


def test_unknown_strap_is_no_pass(judged):
    [verdict] = judged(shared(strap=""), "ground-shared")
    assert verdict.missing == ("resistance of the ground strap or joint",)


def test_no_supplies_described(judged):
    text = shared().replace("loads: {lamps: {current: 40 A, connected_at: bus}}\n", "")
    [verdict] = judged(text, "ground-shared")
    assert verdict.missing == ("supplies and loads that use the same ground",)


def test_an_isolated_two_wire_sender_is_not_concerned(judged):
    text = (
        shared()
        .replace("terminals: [S]", "terminals: [S, G]")
        .replace(", case_return: yes, grounding: {to: engine case, through: thread}", "")
    )
    text += "  E2: {from: sender.G, to: gauge.G, metal: copper, resistance: 0.001 ohm/m, length: 1 m}\n"
    assert judged(text, "ground-shared") == []


def verdicts(name):
    return {
        (v.at[0], "cranking" in v.message): v for v in check(load(DEMO / name), ["ground-shared"]).verdicts
    }


def test_demo_of_a_poor_engine_ground():
    """Hand calculation at 'charging' in the comments of test_poor_ground_offsets; here signs, causes and outcome."""
    found = verdicts("poor_ground.yaml")
    pressure, temperature = found["oil pressure gauge", False], found["oil temperature gauge", False]
    assert (pressure.outcome, temperature.outcome) == ("discrepancy", "discrepancy")
    assert "rising curve" in pressure.message
    assert "psi low" in pressure.message
    assert "falling curve" in temperature.message
    assert "degF high" in temperature.message
    assert "alternator" in pressure.message
    assert "engine strap" in pressure.message
    cranking = found["oil pressure gauge", True], found["oil temperature gauge", True]
    assert "psi high" in cranking[0].message
    assert "starter" in cranking[0].message
    assert "degF low" in cranking[1].message
    assert "starter" in cranking[1].message


def test_poor_ground_offsets():
    from installcheck.analysis.errors.reading_back import electrical_budgets
    from installcheck.analysis.study import Study
    from installcheck.model.quantities import conversion

    got = {
        (b.indication, b.point): next(c.amount for c in b.causes if c.name == "ground offset")
        for b in electrical_budgets(Study(load(DEMO / "poor_ground.yaml")))
    }
    # 40.2 A through 25 milliohm: the engine 1.005 V below the airframe. Alternator 14 V, less 1.014 V at its negative and
    # 0.13 V in 6 ft of hot size 6: 12.85 V at the gauges.
    # Pressure 60 psi, 112 ohm, 100 ohm coil: 12.85 x 212 / 13.855 - 100 = 96.6 ohm, -15.4 ohm / 1.7 = -9.05 psi
    assert got["oil pressure gauge", "charging"] / conversion("pressure", "psi")[0] == pytest.approx(
        -9.05, rel=0.01
    )
    # Temperature 200 degF, 64.3 ohm: 12.85 x 164.3 / 13.855 - 100 = 52.4 ohm; between 64.3 ohm at 366.48 K and 29.5 ohm at
    # 394.26 K, logarithm against 1/T: 373.4 K, +12.5 degF
    assert got["oil temperature gauge", "charging"] * 1.8 == pytest.approx(12.5, rel=0.01)


def test_demo_cured_by_its_remedy():
    worst = min(
        float(v.remedy.split(" to ")[1].split(" milliohm")[0])
        for v in verdicts("poor_ground.yaml").values()
        if v.outcome != "meets"
    )
    document = load(DEMO / "poor_ground_cured.yaml")
    renewed = document.installation.grounds["engine strap"].resistance
    assert renewed * 1000 <= worst
    assert {v.outcome for v in verdicts("poor_ground_cured.yaml").values()} == {"meets"}
