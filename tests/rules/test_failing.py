"""A rule that itself fails hides no other, and is told in every form."""

import json
from dataclasses import replace
from pathlib import Path
from xml.etree import ElementTree as ET

import jsonschema
import pytest
from typer.testing import CliRunner

from installcheck import check, load
from installcheck.batch.many import check_many
from installcheck.batch.record import exit_status, record
from installcheck.cli.commands import app
from installcheck.outputs.machine.junit import as_junit
from installcheck.outputs.machine.sarif import as_sarif
from installcheck.outputs.machine.verdicts_json import as_json, verdicts_schema
from installcheck.rules.engine import all_rules
from installcheck.rules.verdicts import Outcome, Verdict

DEMO = Path(__file__).parents[2] / "demo_aircraft"
CURED, RETROFIT = str(DEMO / "poor_ground_cured.yaml"), str(DEMO / "retrofit.yaml")
WALKS, WHOLE = "run-marked", "wire-protected"


def told(ledger, but=()):
    return [(v.rule, v.outcome, v.at, v.message) for v in ledger.verdicts if v.rule not in but]


@pytest.fixture
def sound(failing_rules):
    """The judgement before any rule is made to fail."""
    return check(load(CURED))


def test_one_failure_leaves_every_other_verdict(sound, failing_rules):
    failing_rules(WALKS)
    ledger = check(load(CURED))
    assert told(ledger, but=[WALKS]) == told(sound, but=[WALKS])
    [failed] = [v for v in ledger.verdicts if v.rule == WALKS]
    assert failed.outcome == "undetermined"
    assert failed.failed
    assert "'run-marked' itself failed (KeyError: 'no such thing')" in failed.message
    assert "please report" in failed.message
    assert ledger.failed == (WALKS,)


def test_the_items_it_could_judge_are_kept(sound, failing_rules):
    every = [v.at[0] for v in sound.verdicts if v.rule == WALKS]
    bad = tuple(every[:2])
    failing_rules(WALKS, at=bad)
    found = [v for v in check(load(CURED)).verdicts if v.rule == WALKS]
    assert found[-1].at == bad
    assert [v.at[0] for v in found[:-1]] == every[2:]


def test_what_a_generator_found_before_it_failed_is_kept(failing_rules, monkeypatch):
    def judge(study):
        yield Verdict(Outcome.DISCREPANCY, ("E1",), ("wire_runs", "E1"), "found first")
        raise ZeroDivisionError

    monkeypatch.setitem(all_rules(), WALKS, replace(all_rules()[WALKS], judge=judge, walks=False))
    ledger = check(load(CURED), [WALKS])
    assert (ledger.verdicts[0].message, ledger.verdicts[0].failed) == ("found first", False)
    assert ledger.failed == (WALKS,)


def test_population_that_raises_is_told(failing_rules, monkeypatch):
    def nothing(study):
        raise ValueError("none")

    monkeypatch.setitem(all_rules(), WALKS, replace(all_rules()[WALKS], over=nothing))
    assert check(load(CURED)).failed == (WALKS,)


def test_every_rule_may_fail_at_once(failing_rules):
    failing_rules(*(r for r in all_rules() if r != "deviation-in-order"))
    ledger = check(load(RETROFIT))
    assert len(ledger.failed) > 100


def test_machine_forms_tell_it(failing_rules):
    failing_rules(WALKS)
    ledger = check(load(CURED))
    body = json.loads(as_json(ledger))
    jsonschema.validate(body, json.loads(verdicts_schema()))
    assert [v["rule"] for v in body["verdicts"] if v["failed"]] == [WALKS]
    [call] = json.loads(as_sarif([record(ledger)]))["runs"][0]["invocations"]
    assert call["executionSuccessful"] is False
    assert call["exitCode"] == 3
    assert [n["associatedRule"]["id"] for n in call["toolExecutionNotifications"]] == [WALKS]
    suite = ET.fromstring(as_junit([record(ledger)])).find("testsuite")
    assert suite.get("errors") == "1"
    assert [case.get("classname") for case in suite.iter("testcase") if case.find("error") is not None] == [
        WALKS
    ]


def test_many_documents_go_on(failing_rules):
    failing_rules(WALKS)
    records = check_many([Path(CURED), Path(RETROFIT)], workers=1)
    assert [one.failed for one in records] == [(WALKS,), (WALKS,)]
    assert exit_status(records) == 3


@pytest.mark.parametrize(
    "words",
    [
        ["check", CURED],
        ["check", CURED, "--form", "json"],
        ["check", CURED, RETROFIT],
        ["draw", CURED],
        ["report", CURED],
        ["compare", RETROFIT, CURED],
    ],
    ids=lambda words: " ".join(Path(w).name for w in words),
)
def test_every_command_says_so_with_status_3(words, failing_rules, tmp_path, monkeypatch):
    failing_rules(WALKS)
    monkeypatch.chdir(tmp_path)
    result = CliRunner().invoke(app, words)
    assert result.exit_code == 3, result.output
    assert WALKS in result.output
    assert "Traceback" not in result.output


def test_no_size_is_proposed_where_a_rule_that_judges_sizes_failed(failing_rules):
    failing_rules(WHOLE)
    result = CliRunner().invoke(app, ["size", CURED])
    assert result.exit_code == 3
    assert WHOLE in result.stderr
    assert not result.stdout
