"""The JSON form and its published schema."""

import copy
import json

import pytest
from jsonschema import Draft202012Validator

from installcheck import check
from installcheck.document import loads
from installcheck.outputs.machine.verdicts_json import as_json, many_as_json, verdicts_schema
from installcheck.outputs.wording import CAUTION

SCHEMA = json.loads(verdicts_schema())
CHECKER = Draft202012Validator(SCHEMA)
TEXT = """\
installation: {name: test, revision: B}
zones: {cabin: {occupied: yes}}
senders: {bulb: {terminals: [A, B], zone: cabin}}
indicators: {gauge: {terminals: [A, B], zone: cabin}}
wire_runs:
  W1: {from: bulb.A, to: gauge.A, length: 5 ft, mark_spacing: 20 in}
  W2: {from: bulb.B, to: gauge.B, length: 5 ft}
"""


def test_schema_is_a_schema():
    Draft202012Validator.check_schema(SCHEMA)


def test_one_document():
    document = loads(TEXT, "test.yaml")
    body = json.loads(as_json(check(document)))
    CHECKER.validate(body)
    assert body["caution"] == CAUTION
    assert body["installation"]["revision"] == "B"
    marked = [v for v in body["verdicts"] if v["rule"] == "run-marked"]
    assert [v["outcome"] for v in marked] == ["discrepancy", "undetermined"]
    # 15 in less 20 in
    assert (marked[0]["value"], marked[0]["limit"], marked[0]["margin"]) == (20, 15, -5)
    assert marked[0]["path"] == ["wire_runs", "W1", "mark_spacing"]
    assert marked[0]["place"] == {
        "file": "test.yaml",
        "line": 6,
        "column": TEXT.splitlines()[5].index("20 in") + 1,
    }
    assert sum(body["summary"].values()) == len(body["verdicts"])


def test_several_documents(checked, unreadable):
    body = json.loads(many_as_json([checked, unreadable]))
    CHECKER.validate(body)
    assert body["summary"] == {
        "documents": 1,
        "unreadable": 1,
        "meets": 1,
        "discrepancy": 2,
        "advisory": 1,
        "undetermined": 1,
        "accepted": 1,
    }
    assert body["unreadable"][0]["problems"][0]["place"]["line"] == 3


@pytest.mark.parametrize(
    "spoil",
    [
        lambda b: b.pop("caution"),
        lambda b: b["verdicts"][0].update(outcome="fine"),
        lambda b: b["verdicts"][0].update(value="20 in"),
        lambda b: b["verdicts"][0]["place"].update(line=0),
        lambda b: b["verdicts"][0].update(verdict="approved"),
        lambda b: b["installation"].update(digest="none"),
    ],
)
def test_schema_can_fail(spoil):
    document = loads(TEXT)
    body = json.loads(as_json(check(document)))
    spoilt = copy.deepcopy(body)
    spoil(spoilt)
    assert CHECKER.is_valid(body)
    assert not CHECKER.is_valid(spoilt)
