"""Two faults at once: told as not explained by one, and the two among the pairs that do.

Hand figures of the bench document: 0.5 ohm/K, 60 ohm at rest (20 degC), 100 ohm in cruise (100 degC), breaker and battery at 12 V.
"""

import pytest
from bench_document import TWO_WIRE

from installcheck.analysis.study import Study
from installcheck.document import loads
from installcheck.tracing.phrases import observed
from installcheck.tracing.trace import Tracer

RESISTOR = "with gauge.S lifted with gauge.S joined to gauge.R through 100 ohm"
CASES = {
    "gauge 30 K high, and a loop that is open": (
        [f"gauge shows 130 degC with engine off {RESISTOR}", "gauge.S to gauge.R measures open"],
        {"gauge", "E1"},
    ),
    "gauge 40 K low, and 20 ohm in a joint: 60 + 20 ohm cold": (
        [f"gauge shows 60 degC with engine off {RESISTOR}", "gauge.S to gauge.R measures 80 ohm",
         "bulb.A to bulb.B measures 60 ohm with bulb disconnected"],
        {"gauge", "E2"},
    ),
    "sender shorted, and a lead broken": (
        ["bulb.A to bulb.B measures 0 ohm with bulb disconnected", "gauge.S to plug.1 measures open with bulb disconnected"],
        {"bulb", "E3"},
    ),
    "breaker open, and the sender open": (
        ["gauge is dead at cruise", "breaker.in to airframe measures 12 V", "breaker.out to airframe measures 0 V",
         "bulb.A to bulb.B measures open with bulb disconnected"],
        {"breaker", "bulb"},
    ),
    "a lead broken on either side of the plug": (
        ["gauge.S to plug.1 measures open with bulb disconnected", "bulb.B to plug.2 measures open with bulb disconnected"],
        {"E3", "E2"},
    ),
    "gauge 50 K high, and a sender 40 K low: 20 ohm less cold": (
        [f"gauge shows 150 degC with engine off {RESISTOR}", "bulb.A to bulb.B measures 40 ohm with bulb disconnected"],
        {"gauge", "bulb"},
    ),
}  # fmt: skip


@pytest.fixture(scope="module")
def study() -> Study:
    return Study(loads(TWO_WIRE))


@pytest.mark.parametrize(("lines", "places"), CASES.values(), ids=CASES)
def test_two_at_once_are_not_explained_by_one(study, lines, places):
    found = Tracer(study).step([observed(study, line) for line in lines])
    assert not found.explained
    assert found.ranking.excluded
    assert found.pairs is not None
    assert any(places <= set(r.hypothesis.at) for r in found.pairs.standing)
