"""Ohms between any two terminals, by hand."""

from math import inf

import pytest

from installcheck.analysis.evidence.bench_network import between
from installcheck.analysis.study import Study
from installcheck.document import loads

DOC = """
installation: {name: test}
zones: {cabin: {}}
senders:
  sender: {principle: resistive, terminals: [A, B], zone: cabin, measures: oil pressure, curve: {points: [[0 psi, 10 ohm], [100 psi, 180 ohm]]}}
indicators: {gauge: {principle: electronic resistance, terminals: [A, B], zone: cabin}}
grounds: {airframe: {kind: structure}}
wire_runs:
  W1: {from: sender.A, to: gauge.A, part: AS22759/16, gauge: 20 AWG, length: 10 ft}
  W2: {from: sender.A, to: gauge.A, part: AS22759/16, gauge: 20 AWG, length: 10 ft}
  W3: {from: sender.B, to: gauge.B, part: AS22759/16, gauge: 20 AWG, length: 5 ft}
"""


@pytest.fixture
def study():
    return Study(loads(DOC))


def test_two_wires_side_by_side(study):
    # 10 ft of 20 AWG: 0.0988 ohm each (AC 43.13-1B table 11-9); two in parallel 0.0494
    assert between(study, "sender.A", "gauge.A", 20.0).expected == pytest.approx(0.0494, rel=1e-4)


def test_through_the_sender(study):
    # 0.0494 + 10 + 0.0494 ohm
    assert between(study, "gauge.A", "gauge.B", 20.0).expected == pytest.approx(10.0988, rel=1e-5)


def test_nothing_between(study):
    assert between(study, "gauge.A", "airframe", 20.0).expected == inf
    assert between(study, "gauge.A", "gauge.A", 20.0).expected == 0


def test_a_part_without_a_figure(study):
    silent = Study(loads(DOC.replace(", curve: {points: [[0 psi, 10 ohm], [100 psi, 180 ohm]]}", "")))
    assert between(silent, "gauge.A", "gauge.B", 20.0) is None
    assert between(silent, "sender.A", "gauge.A", 20.0).expected == pytest.approx(0.0494, rel=1e-4)
