"""SARIF 2.1.0, held against the JSON Schema that OASIS publishes with the standard (data/sarif-2.1.0.json)."""

import json
from pathlib import Path

import pytest
from jsonschema import Draft4Validator

from installcheck import check
from installcheck.batch.record import record
from installcheck.document import loads
from installcheck.outputs.machine.sarif import as_sarif, file_uri
from installcheck.rules.engine import all_rules

SCHEMA = json.loads((Path(__file__).parent / "data" / "sarif-2.1.0.json").read_text(encoding="utf-8"))


def log_of(records, **options):
    log = json.loads(as_sarif(records, **options))
    Draft4Validator(SCHEMA).validate(log)
    return log["runs"][0]


def test_schema_can_fail(checked):
    log = json.loads(as_sarif([checked]))
    log["runs"][0]["results"][0]["level"] = "grave"
    assert not Draft4Validator(SCHEMA).is_valid(log)


def test_results_by_outcome(checked):
    results = log_of([checked])["results"]
    assert [(r["kind"], r["level"]) for r in results] == [
        ("fail", "error"),
        ("fail", "error"),
        ("fail", "warning"),
        ("open", "none"),
        ("fail", "error"),
    ]
    assert results[4]["suppressions"][0]["justification"].startswith("accepted by A. Inspector")
    assert "suppressions" not in results[0]
    assert results[3]["properties"]["missing"] == ["marking of the run"]


def test_what_meets_only_when_asked_for(checked):
    results = log_of([checked], every=True)["results"]
    assert (results[-1]["kind"], results[-1]["level"]) == ("pass", "none")


def test_result_points_at_the_line_and_carries_numbers_and_remedy(checked):
    result = log_of([checked])["results"][0]
    physical = result["locations"][0]["physicalLocation"]
    assert physical["artifactLocation"]["uri"] == "my%20plane/retrofit.yaml"
    assert physical["region"] == {"startLine": 10, "startColumn": 5}
    for word in ("20 in", "limit 15 in", "margin -5 in", "The rule says, not tried: add marks"):
        assert word in result["message"]["text"]


def test_rules_are_described_and_found_by_index(checked):
    run = log_of([checked])
    rules = run["tool"]["driver"]["rules"]
    assert [r["id"] for r in rules] == list(all_rules())
    for result in run["results"]:
        assert rules[result["ruleIndex"]]["id"] == result["ruleId"]


def test_fingerprint_does_not_follow_the_line(checked):
    from dataclasses import replace

    lower = replace(checked, verdicts=tuple((v, p._replace(line=p.line + 7)) for v, p in checked.verdicts))
    first, second = ([r["partialFingerprints"] for r in log_of([one])["results"]] for one in (checked, lower))
    assert first == second
    assert first[0] != first[2]


def test_unreadable_file_is_told_as_a_failed_invocation(checked, unreadable):
    [invocation] = log_of([checked, unreadable])["invocations"]
    assert invocation["executionSuccessful"] is False
    assert invocation["exitCode"] == 2
    [notice] = invocation["toolExecutionNotifications"]
    assert notice["locations"][0]["physicalLocation"]["region"]["startLine"] == 3


def test_judged_document(checked):
    document = loads(
        "installation: {name: test}\nzones: {cabin: {}}\nsenders: {s: {terminals: [A], zone: cabin}}\n"
        "indicators: {g: {terminals: [A], zone: cabin}}\n"
        "wire_runs: {W1: {from: s.A, to: g.A, length: 5 ft, mark_spacing: 20 in}}\n"
    )
    run = log_of([record(check(document))], every=True)
    assert any(r["ruleId"] == "run-marked" and r["level"] == "error" for r in run["results"])
    [artifact] = run["artifacts"]
    assert len(artifact["hashes"]["sha-256"]) == 64


@pytest.mark.parametrize(
    ("name", "uri"),
    [("a.yaml", "a.yaml"), ("a b/ü#1.yaml", "a%20b/%C3%BC%231.yaml"), ("../x:y.yaml", "../x%3Ay.yaml")],
)
def test_file_uri(name, uri):
    assert file_uri(name) == uri
