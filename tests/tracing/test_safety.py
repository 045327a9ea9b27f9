"""A low pressure or a high temperature is taken for true until a test instrument says otherwise, and said before any test."""

import pytest
from bench_document import TWO_WIRE
from typer.testing import CliRunner

from installcheck import load
from installcheck.analysis.study import Study
from installcheck.cli.commands import app
from installcheck.document import loads
from installcheck.tracing.looks import STOPPED, Show, TrueValue, Volts
from installcheck.tracing.phrases import observed
from installcheck.tracing.trace import Tracer

DEMO = "demo_aircraft/retrofit_corrected.yaml"


@pytest.fixture(scope="module")
def demo() -> Study:
    return Study(load(DEMO))


@pytest.fixture(scope="module")
def bench() -> Study:
    return Study(loads(TWO_WIRE))


def stepped(study: Study, *lines: str):
    return Tracer(study).step([observed(study, line) for line in lines])


@pytest.mark.parametrize(
    "line",
    [
        "oil pressure gauge is low at cruise",
        "oil pressure gauge is dead at cruise",
        "oil pressure gauge is jumping",
        "oil pressure gauge shows 5 psi at cruise",
        "oil temperature gauge is off scale high at cruise",
    ],
)
def test_what_stops_an_engine_is_taken_for_true(demo, line):
    found = stepped(demo, line)
    assert len(found.dangers) == 1
    for words in ("take", "for true", "Engine stopped and not run until a test instrument"):
        assert words in found.dangers[0].text


@pytest.mark.parametrize(
    "line",
    [
        "oil pressure gauge is off scale low with engine off",
        "oil pressure gauge is off scale high at cruise",
        "oil pressure gauge is right at cruise",
        "oil temperature gauge is off scale low at cruise",
        "oil temperature gauge is off scale high with oil temperature gauge.A lifted",
    ],
)
def test_what_does_not_stop_one_is_not(demo, line):
    assert stepped(demo, line).dangers == ()


def test_no_test_that_runs_the_engine_comes_before_one_that_does_not(demo):
    found = stepped(demo, "oil pressure gauge is off scale low at cruise")
    runs = [isinstance(c.test.look, (Show, Volts)) and c.test.at.point != STOPPED for c in found.tests]
    assert any(runs)
    assert runs == sorted(runs)
    for one, run in zip(found.tests, runs, strict=True):
        if run:
            assert "do not start the engine" in one.test.hazards[0]
        elif isinstance(one.test.look, TrueValue):
            assert "stop at once" in one.test.hazards[-1]


def test_a_test_instrument_clears_it_and_one_that_agrees_does_not(bench):
    """The bench document is at 100 degC in cruise; its gauge shows 150."""
    high = "gauge shows 150 degC at cruise"
    assert stepped(bench, high).dangers
    assert not stepped(bench, high, "test instrument at bulb shows 101 degC at cruise").dangers
    assert stepped(bench, high, "test instrument at bulb shows 149 degC at cruise").dangers
    assert stepped(bench, high, "test instrument at bulb shows 21 degC with engine off").dangers


def test_it_is_told_before_the_tests_on_the_screen_and_on_the_sheet(tmp_path):
    sheet = tmp_path / "sheet.html"
    done = CliRunner().invoke(
        app, ["trace", DEMO, "--seen", "oil pressure gauge is low at cruise", "--sheet", str(sheet)]
    )
    assert done.exit_code == 0
    assert done.output.index("SAFETY") < done.output.index("NEXT TEST")
    page = sheet.read_text()
    assert page.index("Safety: oil pressure gauge") < page.index("What was seen")
