"""What indicators show in the solved network, against circuits worked by hand."""

import pytest

from installcheck.analysis.circuit.measuring import read_by_circuit
from installcheck.analysis.errors.indicated import readers
from installcheck.analysis.errors.reading import indicated
from installcheck.analysis.errors.reading_back import electrical_budgets
from installcheck.analysis.errors.scatter import scatter
from installcheck.analysis.study import Study
from installcheck.document import loads
from installcheck.model.quantities import conversion
from installcheck.physics.thermistors import ground_offset_ohm

PSI = conversion("pressure", "psi")[0]


def budgets(text):
    return electrical_budgets(Study(loads("installation: {name: test}\n" + text)))


def amounts(budget, unit):
    factor = conversion("temperature difference" if budget.kind == "temperature" else budget.kind, unit)[0]
    return {c.name: c.amount / factor for c in budget.causes}


OHMMETER = """
zones: {{bay: {{temperature: {{lowest: 20 degC, highest: {hot} degC}}}}}}
operating_points: {{cruise: {{zone_temperatures: {{bay: {hot} degC}}, readings: {{oil pressure: 50 psi}}}}}}
senders:
  sender: {{principle: resistive, measures: oil pressure, terminals: [S, G], tolerance: 2 psi,
    curve: {{points: [[0 psi, {zero} ohm], [100 psi, {full} ohm]]}}}}
indicators:
  gauge: {{principle: electronic resistance, measures: oil pressure, terminals: [S, G], excitation: 5 V, pull_up: 100 ohm,
    curve: {{points: [[0 psi, {zero} ohm], [100 psi, {full} ohm]]}}, budget: 5 psi, accuracy: 1 psi}}
wire_runs:
  E1: {{from: sender.S, to: gauge.S, metal: copper, resistance: 0.1 ohm/m, route: [{{zone: bay, length: 3 m}}]}}
  E2: {{from: sender.G, to: gauge.G, metal: copper, resistance: 0.1 ohm/m, route: [{{zone: bay, length: 2 m}}]}}
"""


def test_lead_resistance_of_a_two_wire_sender():
    [budget] = budgets(OHMMETER.format(hot=20, zero=10, full=180))
    # 1.7 ohm/psi; 5 m x 0.1 ohm/m = 0.5 ohm -> 0.294 psi high
    assert budget.error == pytest.approx(0.5 / 1.7 * PSI, rel=1e-4)
    assert amounts(budget, "psi")["lead resistance"] == pytest.approx(0.2941, abs=1e-4)
    assert budget.worst_case == pytest.approx((0.2941 + 2 + 1) * PSI, rel=1e-4)
    assert budget.root_sum_square == pytest.approx((0.2941 + 5**0.5) * PSI, rel=1e-4)
    assert budget.missing == ()


def on_a_line(height):
    """The two-wire sender of above at the end of an oil line."""
    text = OHMMETER.format(hot=20, zero=10, full=180)
    return text.replace("tolerance: 2 psi,", f"tolerance: 2 psi, ports: [P]{height},") + (
        "taps: {tap: {medium: oil, temperature: 90 degC}}\n"
        "fluid_lines: {L1: {from: tap, to: sender.P, length: 1 m}}\n"
    )


@pytest.mark.parametrize(("height", "way"), [("0.6 m", -1), ("-0.6 m", 1), ("0 m", 0)])
def test_a_sender_above_its_tap_senses_less(height, way):
    [budget] = budgets(on_a_line(f", elevation: {height}"))
    # 840 kg/m3 x 9.80665 x 0.6 m = 4942.6 Pa = 0.7169 psi; the leads read 0.2941 psi high as above
    assert amounts(budget, "psi").get("head of the line", 0) == pytest.approx(way * 0.7169, rel=1e-3)
    error = 0.2941 + way * 0.7169
    assert budget.error == pytest.approx(error * PSI, rel=1e-3)
    assert budget.worst_case == pytest.approx((abs(error) + 2 + 1) * PSI, rel=1e-3)
    assert budget.missing == ()


def test_the_head_counts_at_any_true_value():
    study = Study(loads("installation: {name: test}\n" + on_a_line(", elevation: 0.6 m")))
    [one] = readers(study)
    at_limit = one.at(study.points[0], 90 * PSI)
    assert at_limit.indicated == pytest.approx((90 + 0.2941 - 0.7169) * PSI, rel=1e-4)
    assert at_limit.error == pytest.approx((0.2941 - 0.7169) * PSI, rel=1e-3)


@pytest.mark.parametrize("height", ["", ", elevation: unknown"])
def test_a_height_not_known_leaves_the_budget_open(height):
    [budget] = budgets(on_a_line(height))
    assert budget.missing == ("height of the gauge or sender above its tap ('elevation')",)


@pytest.mark.parametrize(
    ("unsaid", "word"),
    [
        ("tolerance: 2 psi", "tolerance of the sender"),
        ("accuracy: 1 psi", "accuracy of the indicator"),
        (
            "curve: {points: [[0 psi, 10 ohm], [100 psi, 180 ohm]]}, budget",
            "curve the indicator's dial is drawn for",
        ),
    ],
)
def test_what_is_not_stated_is_not_nothing(unsaid, word):
    kept = "budget" if "budget" in unsaid else ""
    text = OHMMETER.format(hot=20, zero=10, full=180).replace(unsaid, kept).replace(", ,", ",")
    [budget] = budgets(text.replace(", }", "}").replace(",\n    }", "}"))
    assert budget.missing == (word,)


def test_falling_curve_reads_low_and_heat_counts_apart():
    [budget] = budgets(OHMMETER.format(hot=70, zero=240, full=33))
    got = amounts(budget, "psi")
    # -2.07 ohm/psi; 0.5 ohm cold, x (234.5 + 70)/254.5 - 1 = 0.0982 ohm more when hot
    assert got["lead resistance"] == pytest.approx(-0.5 / 2.07, rel=1e-4)
    assert got["lead heating"] == pytest.approx(-0.5 * 50 / 254.5 / 2.07, rel=1e-3)
    # what is below a millionth of the value is no cause, so the sum is good to that
    assert budget.error == pytest.approx(sum(c.amount for c in budget.causes if not c.tolerance), rel=1e-4)


def test_an_indicator_can_be_asked_for_any_true_value():
    study = Study(loads("installation: {name: test}\n" + OHMMETER.format(hot=20, zero=10, full=180)))
    [indication] = read_by_circuit(study)
    assert indicated(study, indication, study.points[0], 80 * PSI).value == pytest.approx(
        (80 + 0.5 / 1.7) * PSI, rel=1e-5
    )


GROUNDED = """
aircraft: {{system_voltage: 14 V}}
zones: {{bay: {{temperature: {{lowest: 20 degC, highest: 20 degC}}}}}}
operating_points: {{cruise: {{readings: {{oil pressure: 50 psi}}}}}}
supplies: {{alternator: {{kind: alternator, voltage: 14 V}}, bus: {{kind: bus}}}}
loads: {{lamp: {{current: {amps}, connected_at: bus}}}}
grounds:
  airframe: {{kind: structure}}
  engine case: {{kind: engine case}}
  strap: {{kind: strap, from: engine case, to: airframe, resistance: 0.005 ohm}}
senders:
  sender: {{principle: resistive, measures: oil pressure, terminals: [S], case_return: yes, grounding: {{to: engine case, through: thread, resistance: {body}}},
    curve: {{points: [[0 psi, {zero} ohm], [100 psi, {full} ohm]]}}}}
indicators:
  gauge: {{principle: electronic resistance, measures: oil pressure, terminals: [S], excitation: 12 V, pull_up: 100 ohm,
    supply_terminals: [power, ground], supply_current: 0 A, budget: 5 psi}}
wire_runs:
  A1: {{from: alternator.+, to: bus, metal: copper, resistance: 1 milliohm/m, length: 1 m}}
  A2: {{from: alternator.-, to: engine case, metal: copper, resistance: 1 milliohm/m, length: 1 m}}
  E1: {{from: sender.S, to: gauge.S, metal: copper, resistance: 1 milliohm/m, length: 1 m}}
  P1: {{from: bus, to: gauge.power, metal: copper, resistance: 1 milliohm/m, length: 1 m}}
  P2: {{from: gauge.ground, to: airframe, metal: copper, resistance: 1 milliohm/m, length: 1 m}}
""".replace("1 milliohm/m", "0.001 ohm/m")


def grounded(amps="40 A", body="0 ohm", zero=10, full=170):
    return budgets(GROUNDED.format(amps=amps, body=body, zero=zero, full=full))[0]


def test_alternator_current_in_the_strap_shifts_a_one_wire_sender():
    """40 A through 0.005 ohm: the engine case stands 0.20 V below the airframe."""
    budget = grounded()
    # sender 90 ohm at 50 psi, 1.6 ohm/psi; R' = (90 x 12 - 0.2 x 100) / (12 + 0.2) = 86.885 ohm -> -1.95 psi
    apparent = ground_offset_ohm(90, -0.20, 100, 12)
    assert apparent == pytest.approx(86.885, abs=1e-3)
    assert amounts(budget, "psi")["ground offset"] == pytest.approx((apparent - 90) / 1.6, rel=2e-3)


def test_the_same_offset_moves_a_falling_curve_the_other_way():
    budget = grounded(zero=170, full=10)
    assert amounts(budget, "psi")["ground offset"] == pytest.approx((90 - 86.885) / 1.6, rel=2e-3)


def test_no_load_no_offset_and_body_resistance_is_a_contact():
    budget = grounded(amps="0 A", body="2 ohm")
    got = amounts(budget, "psi")
    assert abs(got.get("ground offset", 0.0)) < 1e-3
    # 2 ohm of gasket and paint and 0.005 ohm of strap in series with the sender
    assert got["contact resistance"] == pytest.approx(2.005 / 1.6, rel=1e-3)


def test_a_measured_offset_enters_the_error_with_its_joint():
    text = GROUNDED.format(amps="0 A", body="0 ohm", zero=10, full=170)
    [budget] = budgets(
        text + "measured: [{between: [engine case, airframe], value: 200 mV, what: voltage}]\n"
    )
    # the sensing current lifts the case; 0.2 V above the airframe: R' = (90 x 12 + 0.2 x 100) / (12 - 0.2) = 93.22 ohm
    assert budget.error / PSI == pytest.approx((93.22 - 90) / 1.6, rel=0.01)
    [cause] = [c for c in budget.causes if c.name == "measured ground offset"]
    assert cause.at == "engine case to airframe"


def test_a_shared_joint_is_named():
    [cause] = [c for c in grounded().causes if c.name == "ground offset"]
    assert cause.at == "strap"


def test_unknown_body_path_is_asked_for():
    text = GROUNDED.format(amps="0 A", body="0 ohm", zero=10, full=170).replace(
        "through: thread, resistance: 0 ohm", "through: gasket"
    )
    [budget] = budgets(text)
    assert "resistance of the path from the body of the sender to ground" in budget.missing


def test_series_meter_follows_the_supply():
    text = GROUNDED.format(amps="0 A", body="0 ohm", zero=10, full=170).replace(
        "principle: electronic resistance", "principle: series meter"
    )
    text = text.replace("excitation: 12 V, pull_up: 100 ohm", "inner_resistance: 110 ohm").replace(
        "alternator, voltage: 14 V", "alternator, voltage: 13.3 V"
    )
    [budget] = budgets(text)
    # scale drawn for 14 V: R' = 14/13.3 (110 + 90 + 0.007) - 110 = 100.53 ohm -> +6.58 psi, of which the leads 0.007/1.6
    got = amounts(budget, "psi")
    assert got["supply sag"] == pytest.approx(((14 / 13.3) * 200 - 110 - 90) / 1.6, rel=2e-3)


def test_pull_up_from_the_bus_reads_low_with_it():
    text = GROUNDED.format(amps="0 A", body="0 ohm", zero=10, full=170).replace("excitation: 12 V, ", "")
    [budget] = budgets(text.replace("alternator, voltage: 14 V", "alternator, voltage: 12 V"))
    # the input takes the foot of its pull-up for a share of 14 V: 12 x 90/190 = 5.684 V; 100 x 5.684/(14 - 5.684) = 68.35 ohm
    assert amounts(budget, "psi")["supply sag"] == pytest.approx((68.354 - 90) / 1.6, rel=2e-3)


def test_pull_up_of_a_voltage_input_lifts_the_signal():
    text = """
zones: {bay: {temperature: {lowest: 20 degC, highest: 20 degC}}}
operating_points: {cruise: {readings: {oil pressure: 50 psi}}}
senders: {sender: {principle: pressure transducer, measures: oil pressure, terminals: [S, G], output_impedance: 100 ohm,
    curve: {points: [[0 psi, 0.5 V], [100 psi, 4.5 V]]}}}
indicators: {gauge: {principle: voltage, measures: oil pressure, terminals: [S, G], excitation: 5 V, pull_up: 9900 ohm}}
wire_runs:
  E1: {from: sender.S, to: gauge.S, metal: copper, resistance: 0.001 ohm/m, length: 1 m}
  E2: {from: sender.G, to: gauge.G, metal: copper, resistance: 0.001 ohm/m, length: 1 m}
"""
    [budget] = budgets(text)
    # 2.5 V behind 100 ohm, 9900 ohm to 5 V: 2.5 x 100/10000 = 0.025 V more; 0.04 V/psi
    assert budget.error == pytest.approx(0.025 / 0.04 * PSI, rel=1e-3)


def test_series_meter_without_inner_resistance_is_not_judged_whole():
    text = GROUNDED.format(amps="0 A", body="0 ohm", zero=10, full=170).replace(
        "principle: electronic resistance", "principle: series meter"
    )
    text = text.replace("excitation: 12 V, pull_up: 100 ohm, ", "").replace(
        "excitation: 12 V, pull_up: 100 ohm,", ""
    )
    [budget] = budgets(text)
    assert "inner resistance of the indicator" in budget.missing


BULB = """
aircraft: {{system_voltage: 28 V}}
zones: {{bay: {{temperature: {{lowest: 20 degC, highest: 20 degC}}}}}}
operating_points: {{cruise: {{readings: {{oil temperature: 50 degC}}}}}}
senders: {{bulb: {{principle: resistance bulb, terminals: [A, B{c}], curve: {{law: nickel 90.38}}}}}}
indicators:
  gauge: {{principle: bridge, measures: oil temperature, terminals: [A, B{c}], curve: {{law: nickel 90.38}}, bridge_arm: 100 ohm,
    detector_resistance: 100 ohm, bridge_balance: 50 degC, excitation: 28 V, budget: 5 degC}}
wire_runs:
  E1: {{from: bulb.A, to: gauge.A, metal: copper, resistance: 0.1 ohm/m, length: 5 m}}
  E2: {{from: bulb.B, to: gauge.B, metal: copper, resistance: 0.1 ohm/m, length: 5 m}}
"""


def test_two_lead_bridge_reads_high_by_both_leads():
    [budget] = budgets(BULB.format(c=""))
    # at balance 108.39 ohm; 1 ohm of lead; slope 90.38 x (A + 2 B t...) about 0.392 ohm/degC
    from installcheck.physics.bulbs import NICKEL, slope_ohm_per_c

    assert budget.error == pytest.approx(1.0 / slope_ohm_per_c(NICKEL, 51.25), rel=5e-3)


def test_three_lead_bridge_cancels_equal_leads_at_balance():
    text = (
        BULB.format(c=", C")
        + "  E3: {from: bulb.C, to: gauge.C, metal: copper, resistance: 0.1 ohm/m, length: 5 m}\n"
    )
    [budget] = budgets(text)
    # equal leads in bulb arm and comparison arm: the bridge stays balanced
    assert abs(budget.error) < 1e-3


TRANSDUCER = """
zones: {bay: {temperature: {lowest: 20 degC, highest: 20 degC}}}
operating_points: {cruise: {readings: {fuel pressure: 25 psi}}}
senders:
  transducer: {principle: pressure transducer, measures: fuel pressure, terminals: ['+', signal, '-'], supply_current: 10 mA,
    output_impedance: 100 ohm, curve: {points: [[0 psi, 0.5 V], [50 psi, 4.5 V]]}}
indicators:
  gauge: {principle: voltage, terminals: [5 V, signal, signal ground], ratiometric: yes, inner_resistance: 100 kohm, budget: 1 psi,
    supply_terminals: [power, ground]}
wire_runs:
  E1: {from: transducer.+, to: gauge.5 V, metal: copper, resistance: 0.1 ohm/m, length: 10 m}
  E2: {from: transducer.signal, to: gauge.signal, metal: copper, resistance: 0.1 ohm/m, length: 10 m}
  E3: {from: transducer.-, to: gauge.signal ground, metal: copper, resistance: 0.1 ohm/m, length: 10 m}
"""


def test_transducer_loses_in_its_supply_leads_and_gains_in_its_ground_lead():
    [budget] = budgets(TRANSDUCER)
    got = amounts(budget, "psi")
    # 10 mA through 1 ohm each way: supply 4.98 V, so 2.5 x 4.98/5 = 2.49 V, on a ground 0.01 V up: 2.50 V, nothing at half scale
    assert got.get("lead resistance", 0.0) == pytest.approx(0.0, abs=2e-3)
    # 100 kohm loads 100 ohm: 2.5 V falls by 2.5 x 100/100100 = 2.4975 mV, 0.08 V/psi
    assert got["load of the inputs"] == pytest.approx(-0.0024975 / 0.08, rel=1e-2)


def test_current_loop_does_not_care_for_leads():
    text = """
operating_points: {cruise: {readings: {fuel pressure: 25 psi}}}
senders: {t: {principle: pressure transducer, measures: fuel pressure, terminals: ['+', '-'], curve: {points: [[0 psi, 4 mA], [50 psi, 20 mA]]}}}
indicators: {gauge: {principle: current loop, terminals: ['+', '-'], inner_resistance: 250 ohm, excitation: 14 V, budget: 1 psi}}
wire_runs:
  E1: {from: t.+, to: gauge.+, metal: copper, resistance: 1 ohm/m, length: 10 m}
  E2: {from: t.-, to: gauge.-, metal: copper, resistance: 1 ohm/m, length: 10 m}
"""
    [budget] = budgets(text)
    assert budget.error == pytest.approx(0.0, abs=1e-3 * PSI)


def test_scatter_is_seeded_and_lies_within_the_worst_case():
    [budget] = budgets(OHMMETER.format(hot=20, zero=10, full=180))
    first, again = scatter(budget, 20_000, seed=7), scatter(budget, 20_000, seed=7)
    assert first == again
    # 2 psi and 1 psi evenly within their limits: the sum lies beyond +-2.366 psi one time in twenty each side,
    # (3 - x)^2 / (2 x 4 x 2) = 0.05 -> x = 3 - 0.8944 = 2.106 psi
    assert (first.high - budget.error) / PSI == pytest.approx(2.106, abs=0.03)
    assert (first.low - budget.error) / PSI == pytest.approx(-2.106, abs=0.03)
