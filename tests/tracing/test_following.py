"""Walks with a meter and looks that name a place: what they find, by hand figures of the bench document.

Breaker and battery at 12 V, 50 mA into the gauge; a wire of 10 milliohm each, so that an ohm and a tenth more is lost.
"""

import pytest
from bench_document import TWO_WIRE

from installcheck import load
from installcheck.analysis.study import Study
from installcheck.document import loads
from installcheck.tracing.changes import Adds, Cut, Joins, OtherCurve, Reached
from installcheck.tracing.looks import STOPPED, Compared, Followed, Insulated, Marked, Rung, Setup, Volts
from installcheck.tracing.phrased import phrase
from installcheck.tracing.phrases import answered, observed
from installcheck.tracing.pieces import PhraseError
from installcheck.tracing.predict import Predictor
from installcheck.tracing.trace import Tracer

REST = Setup(STOPPED)


@pytest.fixture(scope="module")
def bench() -> Predictor:
    return Predictor(Study(loads(TWO_WIRE)))


def edge(bench: Predictor, run: str):
    return bench.study.edges(run)[0]


def found(bench: Predictor, look, change) -> tuple[str | None, str]:
    one = bench.expect(REST, look, [(change,) if change is not None else ()])[0]
    return one.word, one.places[0][0] if one.places else ""


def test_a_supply_is_lost_at_the_first_point_without_its_volts(bench):
    """50 mA through 50 ohm take 2.5 V of 12, a fifth; through 10 ohm 0.5 V, a twenty-fourth."""
    look = Followed("gauge")
    assert found(bench, look, None) == ("right", "")
    assert found(bench, look, Cut(edge(bench, "P2"))) == ("lost", "gauge.power")
    assert found(bench, look, Cut(edge(bench, "P1"))) == ("lost", "breaker.in")
    assert found(bench, look, Adds(edge(bench, "P1"), 50.0)) == ("lost", "breaker.in")
    assert found(bench, look, Adds(edge(bench, "P2"), 10.0)) == ("right", "")
    assert found(bench, look, Adds(edge(bench, "P3"), 50.0)) == ("lost", "gauge.ground")


def test_a_gauge_off_its_ground_lifts_it(bench):
    """Nothing flows: through the gauge its ground terminal stands at the 12 V of the other one."""
    volts = Volts("gauge.ground", "airframe")
    assert bench.expect(REST, volts, [(Cut(edge(bench, "P3")),)])[0].value == pytest.approx(12.0, abs=0.01)
    assert found(bench, Followed("gauge"), Cut(edge(bench, "P3"))) == ("lost", "gauge.ground")


def test_leads_are_lost_at_the_first_joint_that_does_not_ring(bench):
    look = Rung("gauge")
    assert found(bench, look, None) == ("right", "")
    assert found(bench, look, Cut(edge(bench, "E3"))) == ("lost", "plug.1")
    assert found(bench, look, Cut(edge(bench, "E2"))) == ("lost", "bulb.B")
    assert found(bench, look, Adds(edge(bench, "E1"), 3.0)) == ("lost", "bulb.A")
    assert found(bench, look, Adds(edge(bench, "E1"), 0.3)) == ("right", "")
    assert found(bench, look, Adds(edge(bench, "E1"), 1.0)) == (None, "")  # at the limit nobody can say
    both = bench.expect(REST, look, [(Cut(edge(bench, "E3")), Cut(edge(bench, "E4")))])[0]
    assert both.places[0][0] == "plug.1 and plug.2"  # a harness, not one of its wires


def test_insulation_names_the_wires_that_read_to_ground_or_to_each_other(bench):
    e1 = edge(bench, "E1")
    touching = Joins("bulb.A", "airframe", wires=(e1, None))
    assert found(bench, Insulated("gauge"), touching) == ("wrong", "E1")
    beside = Joins("bulb.A", "plug.2", wires=(e1, edge(bench, "E4")))
    assert found(bench, Insulated("gauge"), beside) == ("wrong", "E1 and E4")
    assert found(bench, Insulated("gauge"), Joins("bulb.A", "bulb.B")) == (
        None,
        "",
    )  # in the wires, or in the bulb
    assert found(bench, Insulated("gauge"), Cut(e1)) == ("right", "")
    oil = Predictor(Study(load("tests/tracing/reports/oil.yaml")))
    live = Joins("oil sender.S", "main bus", wires=(edge(oil, "E1"), None))
    assert found(oil, Insulated("oil temperature gauge"), live) == ("wrong", "E1")


def test_marks_name_the_wires_that_are_exchanged(bench):
    e3, e4 = edge(bench, "E3"), edge(bench, "E4")
    crossed = Reached(((e3, "gauge.S", "gauge.R"), (e4, "gauge.R", "gauge.S")))
    assert found(bench, Marked("gauge"), crossed) == ("wrong", "E3 and E4")
    assert found(bench, Marked("plug"), crossed) == ("right", "")
    assert found(bench, Compared("gauge"), crossed) == ("wrong", "E3 and E4")
    assert found(bench, Compared("gauge"), OtherCurve("bulb", "another")) == ("wrong", "bulb")
    assert found(bench, Compared("gauge"), Cut(e3)) == ("right", "")


@pytest.mark.parametrize(
    "line",
    [
        "supply of gauge is lost at breaker.out",
        "supply of gauge is right",
        "leads of gauge are lost at plug.1 and plug.2",
        "leads of gauge are right",
        "insulation of gauge is wrong at P2",
        "marking of gauge is wrong at E3 and E4",
        "markings of gauge are wrong at E4 and bulb",
        "markings of gauge are right",
        "gauge is jumping at E3 with its leads shaken",
    ],
)
def test_a_line_that_names_a_place_is_read_back(bench, line):
    assert phrase(observed(bench.study, line)) == line


def test_an_answer_names_a_place(bench):
    one = answered(bench.study, REST, Followed("gauge"), "lost at breaker.out")
    assert (one.result.word, one.result.at) == ("lost", "breaker.out")
    assert one.said == "supply of gauge is lost at breaker.out"
    with pytest.raises(PhraseError, match=r"did you mean 'breaker\.out'"):
        answered(bench.study, REST, Followed("gauge"), "lost at breaker.ou")


@pytest.mark.parametrize(
    ("lines", "first"),
    [
        (["gauge is dead at cruise", "supply of gauge is lost at gauge.power"], "open at P2"),
        (["gauge is off scale high at cruise", "leads of gauge are lost at bulb.B"], "open at E2"),
        (["gauge is off scale low at cruise", "insulation of gauge is wrong at E1"], "short to ground at E1"),
        (["gauge is jumping at cruise", "gauge is jumping at E4 with its leads shaken"], "loose joint at E4"),
    ],
)
def test_one_walk_finds_the_place(bench, lines, first):
    step = Tracer(bench.study).step([observed(bench.study, line) for line in lines])
    assert step.ranking.standing[0].hypothesis.key == first
