"""The demos: what is to be put right, the cures made together, and each cure by itself."""

from __future__ import annotations

import json
from io import StringIO
from pathlib import Path

import pytest
from demo_causes import causes_of
from jsonschema import Draft202012Validator
from rich.console import Console

from installcheck import check
from installcheck.batch.record import record
from installcheck.causes.causes import find_causes
from installcheck.document.edited import edited
from installcheck.outputs.machine.junit import as_junit
from installcheck.outputs.machine.sarif import as_sarif
from installcheck.outputs.machine.verdicts_json import many_as_json, verdicts_schema
from installcheck.outputs.terminal.verdicts import print_check
from installcheck.rules.verdicts import Outcome

DEMO = Path(__file__).parents[2] / "demo_aircraft"
DEMOS = ("retrofit", "poor_ground")
BAD = (Outcome.DISCREPANCY, Outcome.ADVISORY, Outcome.UNDETERMINED)


def test_the_retrofit_has_at_most_thirteen_things_to_put_right() -> None:
    found = causes_of("retrofit")
    assert 10 <= len(found.causes) <= 13
    assert all(cause.edits for cause in found.causes)


@pytest.mark.parametrize("name", DEMOS)
def test_every_discrepancy_belongs_to_a_cause(name: str) -> None:
    found = causes_of(name)
    told = {id(v) for cause in found.causes for v in cause.verdicts}
    assert all(id(v) in told for v in found.ledger.verdicts if v.outcome is Outcome.DISCREPANCY)


@pytest.mark.parametrize("name", DEMOS)
def test_all_cures_together_leave_no_discrepancy_and_bring_nothing(name: str) -> None:
    found = causes_of(name)
    document = found.ledger.document
    for cause in found.causes:
        for edit in cause.edits:
            document = edited(document, edit)
    after = check(document)
    assert after.count(Outcome.DISCREPANCY) == 0
    assert after.count(Outcome.ADVISORY) <= found.ledger.count(Outcome.ADVISORY)
    assert after.count(Outcome.UNDETERMINED) <= found.ledger.count(Outcome.UNDETERMINED)


@pytest.mark.parametrize("name", DEMOS)
def test_every_cure_printed_holds_when_applied(name: str) -> None:
    """By itself, or after those it says must come first: what it explains is gone, and nothing bad is new."""
    found = causes_of(name)
    before = {(v.rule, v.at[:1], v.outcome) for v in found.ledger.verdicts if v.outcome in BAD}
    for cause in found.causes:
        document = found.ledger.document
        for edit in [e for n in cause.after for e in found.causes[n - 1].edits] + list(cause.edits):
            document = edited(document, edit)
        now = [v for v in check(document).verdicts if v.outcome in BAD]
        assert {(v.rule, v.at[:1], v.outcome) for v in now if v.outcome is Outcome.DISCREPANCY} <= before
        still = {(v.rule, v.at, v.path) for v in now if v.outcome is Outcome.DISCREPANCY}
        assert not [v for v in cause.explains if (v.rule, v.at, v.path) in still], cause.words


def test_the_check_of_the_retrofit_fits_under_ninety_lines() -> None:
    console = Console(width=110, record=True, file=StringIO())
    print_check(causes_of("retrofit"), console)
    lines = console.export_text().splitlines()
    assert len(lines) < 90
    assert "13 THINGS TO PUT RIGHT" in "\n".join(lines)


def test_the_causes_as_json_keep_the_schema() -> None:
    found = causes_of("retrofit")
    told = json.loads(many_as_json([record(found.ledger, found)], single=True))
    Draft202012Validator(json.loads(verdicts_schema())).validate(told)
    assert len(told["causes"]) == len(found.causes)
    covered = {i for c in told["causes"] for i in (*c["verdicts"], *(s["verdict"] for s in c["shared"]))}
    assert covered >= {i for i, v in enumerate(told["verdicts"]) if v["outcome"] == "discrepancy"}


def test_one_result_and_one_failure_for_each_cause() -> None:
    found = causes_of("retrofit")
    made = record(found.ledger, found)
    results = json.loads(as_sarif([made]))["runs"][0]["results"]
    errors = [r for r in results if r["level"] == "error"]
    assert len(errors) == len(found.causes)
    assert all(r["relatedLocations"] for r in errors)
    assert as_junit([made]).count("<failure") == len(found.causes)


def test_cures_made_one_after_another_leave_no_discrepancy() -> None:
    """As on the page: the first cure is made, with those it stands on, and the text is judged anew."""
    document = causes_of("retrofit").ledger.document
    for _ in range(len(causes_of("retrofit").causes) + 2):
        found = find_causes(check(document))
        if not found.causes:
            break
        edits = [e for n in sorted(found.causes[0].after) for e in found.causes[n - 1].edits]
        assert found.causes[0].edits, [v.message for v in found.causes[0].verdicts]
        for edit in [*edits, *found.causes[0].edits]:
            document = edited(document, edit)
    assert check(document).count(Outcome.DISCREPANCY) == 0
