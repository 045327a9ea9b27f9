"""Verdicts paired and told apart."""

import pytest

from installcheck.comparison.matching import Names
from installcheck.comparison.verdict_changes import verdict_changes
from installcheck.rules.verdicts import Outcome, Verdict

MEETS, ADVISORY, UNDETERMINED, DISCREPANCY, ACCEPTED = (
    Outcome.MEETS,
    Outcome.ADVISORY,
    Outcome.UNDETERMINED,
    Outcome.DISCREPANCY,
    Outcome.ACCEPTED,
)


def verdict(outcome, at="W1", margin=None, path=None, rule="drop"):
    return Verdict(
        outcome, (at,), path or ("wire_runs", at), "told", margin=margin, limit=1.0, unit="V", rule=rule
    )


def trends(old, new, names=None):
    return [c.trend for c in verdict_changes(old, new, names or Names())]


@pytest.mark.parametrize(
    ("old", "new", "trend"),
    [
        (MEETS, DISCREPANCY, "worse"),
        (MEETS, UNDETERMINED, "worse"),
        (DISCREPANCY, UNDETERMINED, "better"),
        (UNDETERMINED, DISCREPANCY, "worse"),
        (ACCEPTED, DISCREPANCY, "worse"),
        (DISCREPANCY, ACCEPTED, "better"),
        (ADVISORY, MEETS, "better"),
    ],
)
def test_outcomes(old, new, trend):
    assert trends([verdict(old)], [verdict(new)]) == [trend]


def test_margins():
    assert trends([verdict(MEETS, margin=0.3)], [verdict(MEETS, margin=0.2)]) == ["worse"]
    assert trends([verdict(DISCREPANCY, margin=-0.3)], [verdict(DISCREPANCY, margin=-0.2)]) == ["better"]
    assert trends([verdict(MEETS, margin=0.3)], [verdict(MEETS, margin=0.3 + 1e-9)]) == []


def test_new_and_gone():
    [new, gone] = verdict_changes([verdict(DISCREPANCY, "W1")], [verdict(DISCREPANCY, "W2")], Names())
    assert (new.trend, new.old, new.alarming) == ("new", None, True)
    assert (gone.trend, gone.new, gone.alarming) == ("gone", None, False)


def test_a_new_name_is_no_new_verdict():
    names = Names()
    names.renamed["things"]["W1"] = "W9"
    assert trends([verdict(MEETS, "W1")], [verdict(MEETS, "W9")], names) == []


def test_several_of_one_rule_on_one_item_meet_by_what_they_look_at():
    old = [
        verdict(MEETS, margin=0.5, path=("wire_runs", "W1", "a")),
        verdict(MEETS, margin=0.2, path=("wire_runs", "W1", "b")),
    ]
    new = [
        verdict(MEETS, margin=0.1, path=("wire_runs", "W1", "b")),
        verdict(MEETS, margin=0.5, path=("wire_runs", "W1", "a")),
    ]
    [change] = verdict_changes(old, new, Names())
    assert (change.old.margin, change.new.margin) == (0.2, 0.1)


def test_alarming_comes_first():
    old = [verdict(MEETS, "W1", margin=0.5), verdict(MEETS, "W2")]
    new = [verdict(MEETS, "W1", margin=0.6), verdict(DISCREPANCY, "W2")]
    assert [c.either.at[0] for c in verdict_changes(old, new, Names())] == ["W2", "W1"]


def test_same_item_beside_other_things_is_the_same_verdict():
    old = Verdict(DISCREPANCY, ("stud", "W1", "W2"), ("grounds", "stud"), "told", value=5, rule="stack")
    new = Verdict(DISCREPANCY, ("stud", "W1", "W9"), ("grounds", "stud"), "told", value=5, rule="stack")
    assert trends([old], [new]) == []
