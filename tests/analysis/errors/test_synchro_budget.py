"""Synchro pairs: tolerances of both ends, and a transmitter of another range."""

import pytest

PAIR = """
zones: {{bay: {{}}, cabin: {{}}}}
operating_points: {{cruise: {{phase: cruise, readings: {{oil pressure: 80 psi}}}}}}
senders: {{tx: {{part: synchro pressure transmitter, size: {size}, measures: oil pressure, zone: bay}}}}
indicators: {{rx: {{part: synchro oil pressure indicator, zone: cabin, budget: {budget}}}}}
grounds: {{airframe: {{kind: structure, zone: cabin}}}}
supplies: {{inverter: {{kind: inverter, voltage: 26 V, frequency: 400 Hz, zone: cabin}}}}
wire_runs:
  T1: {{from: inverter.out, to: tx.R1}}
  T2: {{from: tx.R2, to: airframe}}
  R1: {{from: inverter.out, to: rx.R1}}
  R2: {{from: rx.R2, to: airframe}}
  A: {{from: tx.S1, to: rx.{a}}}
  B: {{from: tx.S2, to: rx.{b}}}
  C: {{from: tx.S3, to: rx.S3}}
"""


def judge(judged, size="200 psi", budget="9 psi", a="S1", b="S2"):
    return judged(PAIR.format(size=size, budget=budget, a=a, b=b), "indication-within-budget")


@pytest.mark.parametrize(("budget", "outcome"), [("9 psi", "meets"), ("7 psi", "discrepancy")])
def test_tolerances_of_both_ends(judged, budget, outcome):
    [verdict] = judge(judged, budget=budget)
    # transmitter of 200 psi: 4 psi; indicator: 4 psi
    assert (verdict.outcome, verdict.value) == (outcome, pytest.approx(8))
    assert "reads true at a true 80 psi" in verdict.message


def test_a_transmitter_above_its_tap_senses_less(judged):
    text = PAIR.format(size="200 psi", budget="9 psi", a="S1", b="S2")
    text = text.replace(
        "measures: oil pressure, zone: bay", "measures: oil pressure, zone: bay, elevation: 2 m"
    )
    text += "taps: {tap: {medium: oil, temperature: 90 degC}}\nfluid_lines: {L1: {from: tap, to: tx.P, length: 2 m}}\n"
    [verdict] = judged(text, "indication-within-budget")
    # 840 kg/m3 x 9.80665 x 2 m = 16475 Pa = 2.390 psi low, and 4 + 4 psi as above
    assert (verdict.outcome, verdict.value) == ("discrepancy", pytest.approx(10.39, abs=0.005))


def test_a_height_over_a_tap_that_is_not_drawn(judged):
    """2 ft of which liquid, nobody says: some 0.7 psi of oil, none of air."""
    text = PAIR.format(size="200 psi", budget="9 psi", a="S1", b="S2")
    high = text.replace(
        "measures: oil pressure, zone: bay", "measures: oil pressure, zone: bay, elevation: 2 ft"
    )
    [verdict] = judged(high, "indication-within-budget")
    assert verdict.outcome == "undetermined"
    assert verdict.missing[0].startswith("tap and line")
    [verdict] = judged(high.replace("2 ft", "0 in"), "indication-within-budget")
    assert verdict.outcome == "meets"


def test_transmitter_of_another_range(judged):
    [verdict] = judge(judged, size="100 psi")
    # the rotor of a 100 psi transmitter stands at 80 percent of its turn, which is 160 psi on a dial of 200: 80 + 2 + 4
    assert (verdict.outcome, verdict.value) == ("discrepancy", pytest.approx(86))
    assert "fit the transmitter the indicator is made for" in verdict.remedy


def test_exchanged_leads_have_no_error_but_a_fault_of_their_own(judged):
    assert judge(judged, a="S2", b="S1") == []


def test_what_is_not_said_of_the_excitation_leaves_the_budget_open(judged):
    """A pointer of a rotor that nothing is known to excite stands anywhere: no wires, or a source of unknown volts."""
    text = PAIR.format(size="200 psi", budget="9 psi", a="S1", b="S2")
    bare = "".join(line for line in text.splitlines(keepends=True) if not line.startswith(("  T", "  R")))
    for changed, fact in (
        (bare, "wiring of the rotor"),
        (text.replace("voltage: 26 V, ", ""), "voltage and frequency"),
    ):
        [verdict] = judged(changed, "indication-within-budget")
        assert verdict.outcome == "undetermined"
        assert any(one.startswith(fact) for one in verdict.missing), verdict.missing
