"""Readings and their causes against circuits worked by hand from NIST ITS-90 tables."""

import pytest

from installcheck.analysis.errors.thermocouple_budget import thermocouple_budget, thermocouple_budgets
from installcheck.analysis.study import Study
from installcheck.analysis.thermocouple.circuits import loops
from installcheck.document import loads

LEGS = {"J": ("iron", "constantan"), "K": ("chromel", "alumel")}
TEXT = """
installation: {{name: test}}
zones: {{bay: {{}}, cabin: {{}}}}
operating_points:
  climb: {{zone_temperatures: {{bay: {bay} degC, cabin: 25 degC}}, readings: {{head temperature: {true} degC}}}}
probes:
  probe: {{thermocouple: {kind}, grade: standard, resistance: {couple}, zone: bay, measures: head temperature}}
indicators:
  gauge: {{principle: {principle}, thermocouple: {kind}, terminals: ['+', '-'], zone: cabin, compensation: at its terminals,
    scale: {{lowest: 0 degC, highest: 1000 degC}}, accuracy: 3 degC{more}}}
wire_runs:
  W1: {{part: thermocouple lead {kind}, gauge: {awg}, route: [{{zone: {zone}, length: {length}}}], conductors: {{'+': {{from: probe.+, to: gauge.+}}, '-': {{from: probe.-, to: gauge.-}}}}}}
{measured}
"""


def budget(
    kind="K",
    true=205,
    bay=25,
    principle="electronic thermocouple",
    couple="0.5 ohm",
    more="",
    awg="20 AWG",
    length="3 ft",
    zone="cabin",
    measured="",
):
    text = TEXT.format(
        kind=kind,
        true=true,
        bay=bay,
        principle=principle,
        couple=couple,
        more=more,
        awg=awg,
        length=length,
        zone=zone,
        measured=measured,
    )
    [one] = thermocouple_budgets(Study(loads(text)))
    return one


def causes(one):
    return {c.name: c.amount for c in one.causes}


def test_a_right_circuit_reads_true():
    one = budget()
    assert one.error == pytest.approx(0, abs=1e-6)
    # The lead is at one temperature and adds nothing: couple 2.2, indicator 3 degC.
    assert causes(one) == pytest.approx({"couple tolerance": 2.2, "indicator accuracy": 3.0}, abs=0.01)
    assert one.worst_case == pytest.approx(5.2, abs=0.01)
    assert one.root_sum_square == pytest.approx((2.2**2 + 3**2) ** 0.5, abs=0.01)
    assert one.missing == ()


def test_standard_lead_adds_its_own_tolerance():
    # 2.2 degC at the 41.2 microvolt/degC of type K at 82 degC are 0.0907 mV: 2.27 degC at the 40.0 of 205 degC
    assert causes(budget(bay=82))["lead tolerance"] == pytest.approx(2.27, abs=0.03)


@pytest.mark.parametrize(
    ("kind", "true", "more", "lead", "couple", "shown"),
    [
        # E_J(25) + (E_J(230) - E_J(25)) (2 + 10)/(2.6 + 10) = 1.277 + 10.636: 220.4 degC; with 30 ohm inside 226.3
        ("J", 230, ", loop_resistance: 2 ohm, inner_resistance: 10 ohm", 1.0, "1.6 ohm", 220.425),
        ("J", 230, ", loop_resistance: 2 ohm, inner_resistance: 30 ohm", 1.0, "1.6 ohm", 226.299),
        # 1.5 ohm outside reads high: 238.7 degC
        ("J", 230, ", loop_resistance: 2 ohm, inner_resistance: 10 ohm", 1.0, "0.5 ohm", 238.743),
        # 8.4 ohm of 8, 20 ohm inside, type K at 700: 690.6 degC
        ("K", 700, ", loop_resistance: 8 ohm, inner_resistance: 20 ohm", 8.0, "0.4 ohm", 690.553),
    ],
)
def test_moving_coil_with_the_wrong_loop(kind, true, more, lead, couple, shown):
    plus, minus = LEGS[kind]
    stated = (
        f"kind: thermocouple lead, thermocouple: {kind}, tolerance: standard, legs: "
        f"{{'+': {{metal: {plus}, resistance: {lead / 2} ohm/ft}}, '-': {{metal: {minus}, resistance: {lead / 2} ohm/ft}}}}"
    )
    text = TEXT.format(
        kind=kind, true=true, bay=25, principle="moving-coil thermocouple", couple=couple, more=more, awg="20 AWG",
        length="1 ft", zone="cabin", measured="",
    ).replace(f"part: thermocouple lead {kind}, gauge: 20 AWG", stated)  # fmt: skip
    [one] = thermocouple_budgets(Study(loads(text)))
    # Cold resistance, before the lead warms from 20 to 25 degC.
    assert one.true + causes(one)["lead resistance"] == pytest.approx(shown, abs=0.1)


def test_lead_heating_in_a_hot_zone():
    # 10 ft of 20 AWG K: chromel 4.152 ohm at 0.00035, alumel 1.738 at 0.0021 per degC; 60 K warmer: 0.087 + 0.219 = 0.306
    # ohm. Calibrated for the cold loop of 6.39 ohm, 20 ohm inside: 0.306/26.70 of (E(205) - E(25)) = 7.338 mV is
    # 0.0841 mV, at 40.0 microvolt/degC 2.10 degC low.
    more = ", loop_resistance: 6.39 ohm, inner_resistance: 20 ohm"
    one = budget(bay=80, principle="moving-coil thermocouple", more=more, length="10 ft", zone="bay")
    found = causes(one)
    assert found.get("lead resistance", 0.0) == pytest.approx(0, abs=0.01)
    assert found["lead heating"] == pytest.approx(-2.10, abs=0.05)
    # Table of wire: 5 percent of 5.89 ohm, 0.2945 ohm, does about as much.
    assert found["lead resistance by table"] == pytest.approx(-2.0, abs=0.1)
    assert one.error == pytest.approx(found["lead heating"] + found.get("lead resistance", 0.0), abs=1e-6)


def test_measured_loop_leaves_no_doubt_of_the_table():
    measured = "measured: [{between: [gauge.+, gauge.-], value: 6.39 ohm, connected: no}]"
    more = ", loop_resistance: 6.39 ohm, inner_resistance: 20 ohm"
    one = budget(principle="moving-coil thermocouple", more=more, length="12 ft", measured=measured)
    assert "lead resistance by table" not in causes(one)
    assert causes(one).get("lead resistance", 0.0) == pytest.approx(0, abs=1e-9)


def test_unknown_inner_resistance_bounds_the_error():
    more = ", loop_resistance: 8 ohm"
    one = budget(principle="moving-coil thermocouple", more=more, length="15.0 ft")
    # 15 ft: 8.835 ohm at 20 degC, 8.873 at 25; with the couple 9.373 ohm. (E(205) - E(25)) (8/9.373 - 1) = -1.075 mV,
    # at 40.0 microvolt/degC 26.9 degC low at most
    assert "inner resistance of the indicator" in one.missing
    assert causes(one)["lead resistance, inner resistance not known"] == pytest.approx(-26.9, abs=0.3)


def test_pointer_driven_off_the_dial():
    one = budget(true=1100)
    assert one.indicated is None
    assert one.beyond == "above"


def test_data_missing_are_named():
    text = TEXT.format(
        kind="K", true=205, bay=25, principle="electronic thermocouple", couple="0.5 ohm", more="", awg="20 AWG",
        length="3 ft", zone="cabin", measured="",
    )  # fmt: skip
    bare = (
        text.replace(", accuracy: 3 degC", "")
        .replace("grade: standard, ", "")
        .replace("compensation: at its terminals,", "")
    )
    [one] = thermocouple_budgets(Study(loads(bare)))
    assert set(one.missing) == {
        "accuracy of the indicator",
        "tolerance grade of the couple",
        "place where the indicator takes its reference-junction temperature ('compensation')",
    }


def test_any_true_value_can_be_asked():
    text = TEXT.format(
        kind="K", true=205, bay=82, principle="electronic thermocouple", couple="0.5 ohm", more="", awg="20 AWG",
        length="3 ft", zone="cabin", measured="",
    )  # fmt: skip
    study = Study(
        loads(
            text.replace("thermocouple lead K", "AS22759/16").replace(
                "conductors", "metal: copper, conductors"
            )
        )
    )
    [loop] = loops(study)
    # E(700) - E(82) + E(25) = 29.129 - 3.350 + 1.000: 644.2 degC
    assert thermocouple_budget(study, loop, study.points[0], 700.0).indicated == pytest.approx(
        644.195, abs=0.1
    )


AVERAGED = """
installation: {name: test}
zones: {bay: {}, cabin: {}}
operating_points: {cruise: {zone_temperatures: {bay: 82 degC, cabin: 25 degC}, readings: {exhaust temperature: 700 degC}}}
probes:
  one: {thermocouple: K, grade: standard, resistance: 1 ohm, zone: bay, measures: exhaust temperature}
  two: {thermocouple: K, grade: standard, resistance: 1 ohm, zone: bay, measures: exhaust temperature}
indicators:
  gauge: {principle: electronic thermocouple, thermocouple: K, terminals: ['+', '-'], zone: cabin, compensation: at its terminals, accuracy: 1 degC}
junctions: {block: {part: thermocouple averaging block K, size: 2 couple, zone: cabin, contact_resistance: 0 ohm}}
wire_runs:
  W1: {part: thermocouple lead K, gauge: 20 AWG, length: 1 ft, conductors: {'+': {from: one.+, to: block.1 +}, '-': {from: one.-, to: block.1 -}}}
  W2: {kind: cable, metal: copper, resistance: 0.2945 ohm/ft, length: 1 ft, conductors: {'+': {from: two.+, to: block.2 +}, '-': {from: two.-, to: block.2 -}}}
  W3: {part: thermocouple lead K, gauge: 20 AWG, length: 1 ft, conductors: {'+': {from: block.out +, to: gauge.+}, '-': {from: block.out -, to: gauge.-}}}
"""


def test_averaged_branches_are_joined_by_their_resistance():
    # Both branches 1 + 0.589 ohm; the copper one gives E(700) - E(82) + E(25) for E(700): the mean of 644.2 and
    # 700 degC by emf, (26.779 + 29.129)/2 = 27.954 mV: 671.9 degC
    found = thermocouple_budgets(Study(loads(AVERAGED)))
    assert [b.source for b in found] == ["one", "two"]
    for one in found:
        assert one.indicated == pytest.approx(671.9, abs=0.3)
