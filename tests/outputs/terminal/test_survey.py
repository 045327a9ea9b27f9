"""The survey in the terminal and as JSON, and the command, on the demo's log."""

import io
import json
from pathlib import Path

import pytest
from rich.console import Console
from typer.testing import CliRunner

from installcheck.cli.commands import app
from installcheck.outputs.machine.survey_json import survey_json
from installcheck.outputs.terminal.survey import print_survey
from installcheck.survey.request import SurveyError, survey_log

LOG = Path(__file__).parents[3] / "demo_aircraft" / "climb_survey.csv"


@pytest.fixture(scope="module")
def found():
    return survey_log(LOG, cylinders=4, limit="500 degF", probed=4, grade="standard", thermocouple="J")


def printed(survey):
    text = io.StringIO()
    print_survey(survey, Console(file=text, width=110, no_color=True, highlight=False))
    return text.getvalue()


def test_answer_comes_first(found):
    text = printed(found)
    assert " ".join(text.split()).find("Cylinder 3 is the hottest in the climb") < 160
    # the model behind the log: 3 leads 4 by 14 in the climb, 2 standard couples differ by 7.9 at most
    assert "14.4 degF" in text
    assert "climb (governs)" in text
    assert "487 ▲" in text
    assert "no probe can be on a cylinder 5" in text
    assert "It is not approved data." in text


def test_probed_cylinder(found):
    assert "The probed cylinder 4 reads below the hottest" in printed(found)


def test_json_in_the_unit_of_the_log(found):
    made = json.loads(survey_json(found))
    assert made["unit"] == "degF"
    assert made["limit"] == pytest.approx(500)
    assert (made["governing"], made["hottest"]) == ("climb", [3])
    climb = next(p for p in made["phases"] if p["name"] == "climb")
    [third] = [h for h in climb["heads"] if h["cylinder"] == 3]
    # read 465 degF; the day is 22 degF below the hot day
    assert third["highest"] == pytest.approx(465)
    assert third["highest_on_hot_day"] == pytest.approx(487, abs=1)
    assert climb["by_peak"]["probe_tolerance"] == pytest.approx(3.96)
    assert climb["margin"] == pytest.approx(13, abs=1)
    assert made["shortfall"]["climb"] == pytest.approx(14, abs=1)


def run(*arguments):
    return CliRunner().invoke(app, ["survey", *map(str, arguments)])


def test_command_prints_and_draws(tmp_path):
    out = tmp_path / "heads.svg"
    done = run(LOG, "--cylinders", 4, "--limit", "500 degF", "--out", out)
    assert done.exit_code == 0
    assert "Cylinder 3 is the hottest" in done.output
    assert out.read_text().startswith("<?xml")


def test_command_maps_columns():
    done = run(LOG, "--form", "json", "--column", "cht 1=CHT3", "--column", "cht 3=CHT1", "--cylinders", 4)
    assert json.loads(done.stdout)["hottest"] == [1]


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (["gone.csv"], "cannot be opened"),
        ([LOG, "--limit", "500"], "has no unit"),
        ([LOG, "--limit", "14 V"], "temperature"),
        ([LOG, "--grade", "best"], "grade"),
        ([LOG, "--thermocouple", "Q"], "'Q'"),
        ([LOG, "--column", "cht 1"], "role=name"),
        ([LOG, "--column", "cht 1=none such"], "none such"),
        ([LOG, "--probed", "9", "--cylinders", "4"], "no cylinder 9"),
        ([LOG, "--interval", "0 s"], "time between rows"),
        ([LOG, "--out", "heads.doc"], ".svg"),
        ([LOG, "--out", "no/such/folder/heads.svg"], "cannot be written"),
    ],
)
def test_command_says_why_not(arguments, told):
    done = run(*arguments)
    assert done.exit_code == 2
    assert told in done.output
    assert "Traceback" not in done.output


def test_grades_of_both_standards():
    loose = survey_log(LOG, grade="IEC class 2")
    # IEC 60584-1 class 2: 2.5 degC below 333 degC
    assert loose.phases[0].by_peak.tolerance == pytest.approx(2.5)
    with pytest.raises(SurveyError, match="grade"):
        survey_log(LOG, grade="class 2")
