"""A device that does not say what it draws, or what it is, leaves open every voltage its current would move, and no other."""

import pytest

from installcheck.analysis import missing
from installcheck.analysis.circuit.solved import circuit
from installcheck.analysis.power.run_currents import run_current
from installcheck.analysis.study import Study
from installcheck.document.load import loads

TEXT = """
aircraft: {system_voltage: 14 V}
supplies:
  alternator: {kind: alternator, voltage: 14 V, inner_resistance: 0.05 ohm}
  bus: {kind: bus}
  far bus: {kind: bus}
  other: {kind: alternator, voltage: 14 V}
  other bus: {kind: bus}
grounds: {airframe: {kind: structure}}
indicators:
  gauge: {terminals: [S], supply_terminals: [power, ground], supply_current: 0.1 A, supply_voltage: {lowest: 10 V, highest: 16 V}}
  apart: {terminals: [S], supply_terminals: [power, ground], supply_current: 0.1 A, supply_voltage: {lowest: 10 V, highest: 16 V}}
loads: {lamp: {power: 55 W}}
wire_runs:
  A1: {from: alternator.+, to: bus, metal: copper, resistance: 1 ohm/km, length: 20 m}
  A2: {from: alternator.-, to: airframe, metal: copper, resistance: 1 ohm/km, length: 1 m}
  L1: {from: bus, to: gauge.power, metal: copper, resistance: 10 ohm/km, length: 3 m}
  L2: {from: gauge.ground, to: airframe, metal: copper, resistance: 10 ohm/km, length: 1 m}
  F1: {from: bus, to: far bus, metal: copper, resistance: 10 ohm/km, length: 1 m}
  P1: {from: far bus, to: lamp.+, metal: copper, resistance: 10 ohm/km, length: 2 m}
  P2: {from: lamp.-, to: airframe, metal: copper, resistance: 10 ohm/km, length: 1 m}
  O1: {from: other.+, to: other bus, metal: copper, resistance: 1 ohm/km, length: 1 m}
  O2: {from: other.-, to: airframe, metal: copper, resistance: 1 ohm/km, length: 1 m}
  O3: {from: other bus, to: apart.power, metal: copper, resistance: 10 ohm/km, length: 3 m}
  O4: {from: apart.ground, to: airframe, metal: copper, resistance: 10 ohm/km, length: 1 m}
"""
SILENT = TEXT.replace("lamp: {power: 55 W}", "lamp: {}")


def studied(text):
    return Study(loads("installation: {name: test}\n" + text))


def of(verdicts, ident):
    return next(v for v in verdicts if v.at[0] == ident)


def test_an_ampere_of_the_silent_lamp_moves_what_stands_on_its_way():
    study = studied(SILENT)
    net = circuit(study, study.points[0])
    ((figure, added),) = net.undrawn
    assert figure == missing.LOAD_CURRENT

    def per_ampere(node):
        return added[net.nodes[node]] - added[net.nodes["airframe"]]

    # 0.05 ohm of the alternator, 1 ohm/km x 20 m out and x 1 m back; then 10 ohm/km x 1 m more to the far bus
    assert per_ampere("bus") == pytest.approx(-(0.05 + 0.020 + 0.001), rel=1e-6)
    assert per_ampere("far bus") == pytest.approx(-(0.05 + 0.020 + 0.001 + 0.010), rel=1e-6)
    assert per_ampere("other bus") == pytest.approx(0, abs=1e-9)


def test_nothing_is_open_where_every_draw_is_told():
    study = studied(TEXT)
    assert circuit(study, study.points[0]).undrawn == ()


def test_a_gauge_behind_the_same_wire_is_not_known_to_be_fed(judged):
    verdicts = judged(SILENT, "fed-within-range")
    assert (of(verdicts, "gauge").outcome, of(verdicts, "gauge").missing) == (
        "undetermined",
        (missing.LOAD_CURRENT,),
    )
    assert of(verdicts, "apart").outcome == "meets"
    assert of(judged(TEXT, "fed-within-range"), "gauge").outcome == "meets"


def test_too_much_for_a_gauge_stays_certain(judged):
    verdict = of(judged(SILENT.replace("voltage: 14 V", "voltage: 28 V"), "fed-within-range"), "gauge")
    assert verdict.outcome == "discrepancy"


def test_the_drop_of_what_shares_the_way_back_is_open(judged):
    shared = TEXT.replace("P2: {from: lamp.-, to: airframe", "P2: {from: lamp.-, to: gauge.ground")
    assert of(judged(shared, "voltage-drop"), "gauge").outcome == "meets"
    silent = shared.replace("lamp: {power: 55 W}", "lamp: {}")
    verdict = of(judged(silent, "voltage-drop"), "gauge")
    assert (verdict.outcome, verdict.missing) == ("undetermined", (missing.LOAD_CURRENT,))
    assert of(judged(SILENT, "voltage-drop"), "gauge").outcome == "meets"


@pytest.mark.parametrize(
    ("made", "value", "lacking"),
    [("lamp: {current: 200 mA}", 0.2, ()), ("lamp: {}", None, (missing.LOAD_CURRENT,))],
)
def test_a_run_beyond_a_switch_is_not_said_to_carry_nothing(made, value, lacking):
    text = TEXT.replace("lamp: {power: 55 W}", made).replace("lamp.-, to: airframe", "lamp.-, to: switch.S")
    text += (
        "senders: {switch: {principle: switch, terminals: [S], grounding: {to: airframe, through: thread}}}\n"
    )
    amps = run_current(studied(text), "P2")
    assert (amps.value, amps.missing) == (value, lacking)


def test_a_joint_of_no_kind_hides_what_lies_beyond_it(judged):
    text = TEXT.replace("A1: {from: alternator.+, to: bus", "A1: {from: alternator.+, to: shunt.1")
    text += "  A3: {from: shunt.2, to: bus, metal: copper, resistance: 1 ohm/km, length: 1 m}\njunctions: {shunt: {zone: cabin}}\nzones: {cabin: {}}\n"
    joint = of(judged(text, "terminals-connected"), "shunt")
    assert (joint.outcome, joint.missing) == ("undetermined", (missing.JOINT_KIND,))
    assert all(v.outcome != "meets" for v in judged(text, "fed-within-range") if v.at[0] == "gauge")


def test_a_supply_of_no_kind_is_asked_what_it_is(judged):
    text = TEXT.replace("  far bus: {kind: bus}", "  far bus: {}")
    found = of(judged(text, "terminals-connected"), "far bus")
    assert (found.outcome, found.missing) == ("undetermined", (missing.SUPPLY_KIND,))


POINTS = """
operating_points:
  day: {{phase: cruise, loads_on: {day}}}
  night: {{phase: cruise, loads_on: {night}}}
"""


@pytest.mark.parametrize("rule", ["voltage-drop", "fed-within-range", "circuit-solvable"])
@pytest.mark.parametrize(("day", "night"), [("[]", "[lamp]"), ("[lamp]", "[]")])
def test_a_point_at_which_the_silent_lamp_is_off_settles_nothing(judged, rule, day, night):
    text = SILENT.replace("P2: {from: lamp.-, to: airframe", "P2: {from: lamp.-, to: gauge.ground")
    at = "alternator" if rule == "circuit-solvable" else "gauge"
    assert of(judged(text + POINTS.format(day=day, night=night), rule), at).outcome == "undetermined"
