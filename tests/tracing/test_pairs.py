"""Two faults at once: told as not explained by one, and the two among the pairs that do.

Hand figures of the bench document: 0.5 ohm/K, 60 ohm at rest (20 degC), 100 ohm in cruise (100 degC), breaker and battery at 12 V.
"""

import pytest
from bench_document import TWO_WIRE

from installcheck import load
from installcheck.analysis.study import Study
from installcheck.document import loads
from installcheck.tracing.phrases import observed
from installcheck.tracing.trace import Tracer
from installcheck.tracing.wording import nothing_left_told, verdict_told

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


def told(name: str, *lines: str):
    study = Study(load(f"tests/tracing/reports/{name}.yaml"))
    return Tracer(study).step([observed(study, line) for line in lines])


def test_two_indications_that_one_ground_explains_are_not_called_two_faults():
    """Both gauges hang on one panel ground: a lost one drives one low and the other high."""
    found = told(
        "oil",
        "oil temperature gauge is off scale low at cruise",
        "oil pressure gauge is off scale high at cruise",
    )
    assert found.explained
    assert found.ranking.standing[0].hypothesis.at == ("panel ground",)
    assert found.two < 0.2
    beside = [line for line in verdict_told(found) if "two at once" in line]
    assert len(beside) == (found.two >= 0.05)


def test_two_indications_that_nothing_shared_explains_are_called_two_faults():
    """The ground is good and the bus is there, so that no one thing drives one gauge low and leaves the other high."""
    found = told(
        "oil",
        "oil temperature gauge is off scale low at cruise",
        "second oil gauge is high at cruise",
        "panel ground to airframe measures 0 ohm",
        "gauge breaker.in to airframe measures 12 V",
    )
    assert not found.explained
    assert found.pairs is not None
    assert found.shown == found.pairs.standing
    assert verdict_told(found)[0].startswith("No single fault explains everything")


def test_what_the_likeliest_leaves_unexplained_is_told():
    """The dial is of 240 degF or so: 234 degF where 200 degF is true is beyond what gauge, sender and truth may be off, not far beyond."""
    found = told(
        "oil",
        "oil pressure gauge is off scale low at cruise",
        "oil temperature gauge shows 234 degF at cruise",
        "oil pressure gauge.ground to airframe measures 0.5 V",
    )
    assert found.explained
    assert [str(o.look) for o in found.left_over] == ["oil temperature gauge"]
    assert any(
        "oil temperature gauge showed 234 degF" in line and "second fault" in line
        for line in verdict_told(found)
    )


def test_after_the_last_test_what_misbehaved_is_looked_at_again():
    study = Study(loads(TWO_WIRE))
    lines = ["gauge is off scale high at cruise", "bulb.A to bulb.B measures open with bulb disconnected"]
    found = Tracer(study).step([observed(study, line) for line in lines])
    assert "look at gauge again" in nothing_left_told(found)
