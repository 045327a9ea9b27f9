"""States a test makes: what is lifted stays lifted whatever is wrong in it, and what cannot be told is not told."""

import pytest
from bench_document import TWO_WIRE

from installcheck.analysis.study import Study
from installcheck.document import loads
from installcheck.tracing.changes import Adds, Cut
from installcheck.tracing.looks import STOPPED, Ohms, Setup, Show
from installcheck.tracing.predict import Expect, Predictor


@pytest.fixture(scope="module")
def predictor() -> Predictor:
    return Predictor(Study(loads(TWO_WIRE)))


def edge(predictor: Predictor, run: str):
    return predictor.study.edges(run)[0]


def test_a_joint_in_a_lifted_lead_adds_nothing_to_a_resistor_at_the_gauge(predictor):
    """100 ohm at the gauge is 100 degC by its curve, whatever is wrong in the lead that is off."""
    at = Setup(STOPPED, lifted=("gauge.S",), joined=(("gauge.S", "gauge.R", 100.0),))
    worlds = [(), (Adds(edge(predictor, "E3"), 30.0),), (Cut(edge(predictor, "E3")),)]
    values = [e.value for e in predictor.expect(at, Show("gauge"), worlds)]
    assert values == pytest.approx([100.0, 100.0, 100.0], abs=0.1)


def test_ohms_are_the_sum_of_what_lies_in_series(predictor):
    """60 ohm of sender at 20 degC, 4 m of lead at 0.01 ohm/m, and 7 ohm of bad joint: 67.04 ohm."""
    at, look = Setup(STOPPED), Ohms("gauge.S", "gauge.R")
    found = predictor.expect(
        at, look, [(), (Adds(edge(predictor, "E2"), 7.0),), (Cut(edge(predictor, "E2")),)]
    )
    assert found[0].value == pytest.approx(60.04, abs=0.01)
    assert found[1].value == pytest.approx(67.04, abs=0.01)
    assert found[2] == Expect(word="open")


def test_the_reading_follows_the_ohms(predictor):
    """At 0.5 ohm/K, 10 ohm more reads 20 K high; nothing in the way reads what is true but for 0.04 ohm of wire, 0.08 K."""
    found = predictor.expect(Setup("cruise"), Show("gauge"), [(), (Adds(edge(predictor, "E1"), 10.0),)])
    assert [e.value for e in found] == pytest.approx([100.08, 120.08], abs=0.01)
