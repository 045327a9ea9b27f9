"""A gauge or size that is said to be unknown: the part is what all its sizes are, and nothing rests on the rest."""

from functools import cache

import pytest
from harm import applied, right
from installations import read

from installcheck import check
from installcheck.model.edits import Edit, Put
from installcheck.rules.verdicts import Outcome


@cache
def ledger(path, value="unknown"):
    return check(read(applied(right("retrofit_corrected"), Edit((Put(path, value),), "change it"))))


def at(found, rule, ident):
    return [v for v in found.verdicts if v.rule == rule and ident in v.at]


def test_a_wire_of_unknown_gauge_has_the_figures_of_every_gauge():
    document = read(
        applied(
            right("retrofit_corrected"), Edit((Put(("wire_runs", "P11", "gauge"), "unknown"),), "unsay it")
        )
    )
    run = document.installation.wire_runs["P11"]
    assert run.gauge is None
    assert run.spec.temperature_rating is not None
    assert run.spec.resistance is None


@pytest.mark.parametrize("rule", ["wire-protected", "voltage-drop", "wire-ampacity", "terminal-fits"])
def test_what_rests_on_the_gauge_is_left_open_and_asks_for_it(rule):
    [verdict] = at(ledger(("wire_runs", "P11", "gauge")), rule, "P11")
    assert verdict.outcome is Outcome.UNDETERMINED
    assert "gauge" in verdict.message


@pytest.mark.parametrize(
    ("path", "rule"),
    [
        (("fluid_lines", "oil hose", "size"), "line-pressure"),
        (("fluid_lines", "oil hose", "size"), "line-bend"),
        (("fittings", "oil restrictor", "size"), "restrictor-bore"),
        (("fittings", "oil restrictor", "size"), "restrictor-at-source"),
        (("senders", "fuel transducer", "size"), "sender-full-scale"),
        (("senders", "fuel transducer", "size"), "lead-resistance-budget"),
        (("indicators", "fuel pressure gauge", "size"), "scale-covers-limits"),
    ],
)
def test_what_rests_on_a_size_is_left_open(path, rule):
    before = at(ledger(("installation", "revision"), "B"), rule, path[1])
    after = at(ledger(path), rule, path[1])
    assert {v.outcome for v in before} == {Outcome.MEETS}
    assert Outcome.MEETS not in {v.outcome for v in after}


def test_a_size_that_is_left_out_is_still_asked_for():
    with pytest.raises(Exception, match="needs its gauge"):
        read(
            applied(right("retrofit_corrected"), Edit((Put(("wire_runs", "P11", "gauge"), None),), "drop it"))
        )
