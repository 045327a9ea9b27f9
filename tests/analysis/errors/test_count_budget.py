"""Counts against plain multiples."""

import pytest

from installcheck.analysis.errors.count_budget import count_budgets
from installcheck.analysis.study import Study
from installcheck.document import loads
from installcheck.model.quantities import conversion

TEXT = """
installation: {{name: test}}
engines: {{engine: {{speed: 2700 rpm}}}}
operating_points: {{cruise: {{readings: {{{measure}: {true}}}}}}}
senders: {{sender: {{principle: {sender}, measures: {measure}, terminals: ['1', '2', '3'], {gives}}}}}
indicators: {{gauge: {{principle: {gauge}, measures: {measure}, terminals: ['1', '2', '3'], {reads}}}}}
wire_runs:
  W1: {{from: sender.1, to: gauge.1, length: 1 m}}
  W2: {{from: sender.2, to: gauge.2, length: 1 m}}
  W3: {{from: sender.3, to: gauge.3, length: 1 m}}
"""


def budget(measure, true, sender, gives, gauge, reads):
    text = TEXT.format(measure=measure, true=true, sender=sender, gives=gives, gauge=gauge, reads=reads)
    [one] = count_budgets(Study(loads(text)))
    return one, conversion(one.kind, one.unit)[0]


def test_flow_of_another_k_factor():
    # 29000 pulses a gallon counted as 28000: 12 x 29/28 = 12.43 gal/h, 0.43 high
    one, unit = budget(
        "fuel flow", "12 gal/h", "pulse pick-up", "pulses_per_gallon: 29000, tolerance: 0.1 gal/h",
        "pulse counter", "pulses_per_gallon: 28000, accuracy: 0.05 gal/h",
    )  # fmt: skip
    assert one.error / unit == pytest.approx(12 / 28, rel=1e-6)
    assert one.worst_case / unit == pytest.approx(12 / 28 + 0.15, rel=1e-6)
    assert one.missing == ()


def test_flow_without_its_k_factor():
    one, _ = budget(
        "fuel flow", "12 gal/h", "pulse pick-up", "tolerance: 0.1 gal/h", "pulse counter", "accuracy: 0.05 gal/h"
    )  # fmt: skip
    assert one.indicated is None
    assert one.missing == ("pulses per gallon of the flow sender", "pulses per gallon the indicator expects")


def test_tachometer_of_other_poles():
    # a generator of 4 poles on a motor made for 2 at the same drive: 2400 rpm shows 4800
    one, unit = budget(
        "engine speed", "2400 rpm", "tachometer generator", "poles: 4, drive_ratio: 2",
        "synchronous tachometer", "poles: 2, generator_poles: 2, engine_ratio: 2, accuracy: 25 rpm",
    )  # fmt: skip
    assert one.error / unit == pytest.approx(2400)


def test_pulses_of_a_revolution():
    one, unit = budget(
        "engine speed", "2400 rpm", "pulse pick-up", "pulses_per_revolution: 2",
        "pulse counter", "pulses_per_revolution: 4, accuracy: 10 rpm",
    )  # fmt: skip
    assert one.error / unit == pytest.approx(-1200)
