"""Magneto, coil and plugs with their leads: what is high tension, what shuts off, and what keeps away from signals."""

import pytest

from installcheck.analysis.ignition import grounds_magneto, is_ignition_lead
from installcheck.analysis.study import Study
from installcheck.document import loads

TEXT = """
installation: {name: ignition}
aircraft: {system_voltage: 14 V}
zones: {engine: {vibrates: yes}, cabin: {occupied: yes}}
supplies:
  bus: {kind: bus, voltage: 14 V, zone: cabin}
  ignition switch: {kind: switch, terminals: [L, R, ground], zone: cabin}
grounds: {engine case: {kind: engine case, zone: engine}, airframe: {kind: structure, zone: cabin}}
senders: {bulb: {part: resistance bulb Pt100, measures: oil temperature, zone: engine}}
indicators: {gauge: {part: electronic oil temperature indicator Pt100, zone: cabin}}
junctions:
  left magneto: {part: magneto, size: 4 cylinder, zone: engine}
  right magneto: {part: magneto, size: 4 cyl, zone: engine}
  coil: {part: ignition coil, zone: engine}
  upper plug 1: {part: spark plug, zone: engine}
  lower plug 1: {kind: sparking plug, zone: engine}
bundles: {harness: {wires: 6}}
wire_runs:
  LP: {from: left magneto.P, to: ignition switch.L, part: shielded cable 1 core, gauge: 18 AWG, bundle: harness,
    conductors: {A: {from: left magneto.P, to: ignition switch.L}}, shield: {from: left magneto.case, to: open}}
  RP: {from: right magneto.P, to: ignition switch.R, part: AS22759/16, gauge: 18 AWG}
  H1: {from: left magneto.1, to: upper plug 1, kind: ignition lead}
  H2: coil.lead to lower plug 1
  C1: right magneto.1 to coil.+, AS22759/16 18 AWG
  G: left magneto.case to engine case, AS22759/16 18 AWG
  S1: bulb.A to gauge.A, AS22759/16 20 AWG
"""


def text(**changes):
    made = TEXT.replace("from: left magneto.P, to: ignition switch.L, part", "part")
    for old, new in changes.values():
        assert made.count(old) == 1
        made = made.replace(old, new)
    return made


def test_what_is_high_tension_and_what_shuts_off():
    study = Study(loads(text()))
    runs = study.model.wire_runs
    assert [i for i in runs if is_ignition_lead(study, runs[i])] == ["H1", "H2"]
    assert [i for i in runs if grounds_magneto(study, runs[i])] == ["LP", "RP"]


def test_both_ground_leads_in_one_bundle(judged):
    both = text(more=("RP: {from: right magneto.P,", "RP: {bundle: harness, from: right magneto.P,"))
    [verdict] = judged(both, "ignition-grounds-apart")
    assert (verdict.outcome, verdict.at) == ("advisory", ("harness", "LP", "RP"))
    [verdict] = judged(text(), "ignition-grounds-apart")
    assert verdict.outcome == "meets"


@pytest.mark.parametrize(
    ("line", "what"),
    [
        ("RP: {from: right magneto.P,", "RP (an ignition ground lead without a shield)"),
        ("H1: {from: left magneto.1,", "H1 (an ignition lead)"),
    ],
)
def test_a_signal_beside_an_ignition_lead(judged, line, what):
    beside = text(
        signal=("S1: bulb.A to gauge.A, ", "S1: bulb.A to gauge.A, in harness, "),
        noise=(line, line.replace("{", "{bundle: harness, ")),
    )
    [verdict] = [v for v in judged(beside, "sensing-apart") if v.at[0] == "harness"]
    assert verdict.outcome == "advisory"
    assert what in verdict.message


def test_a_shielded_ground_lead_does_not_disturb(judged):
    beside = text(signal=("S1: bulb.A to gauge.A, ", "S1: bulb.A to gauge.A, in harness, "))
    [verdict] = [v for v in judged(beside, "sensing-apart") if v.at[0] == "harness"]
    assert verdict.outcome == "meets"


def test_an_open_tower_of_a_magneto_is_told(judged):
    told = {v.at[0]: v for v in judged(text(), "terminals-connected")}
    assert told["left magneto"].message == "2, 3 and 4 of left magneto are neither wired nor declared spare"
    assert "upper plug 1" not in told or told["upper plug 1"].outcome == "meets"
