"""A sender put at the height of its tap, and all cables of a load made thicker at once: changes of more than one figure."""

import pytest
from harm import applied, right
from installations import read

from installcheck import check
from installcheck.analysis.study import Study
from installcheck.causes.causes import find_causes
from installcheck.causes.moves import sizes
from installcheck.causes.trial import Bench
from installcheck.model.edits import Edit, Put
from installcheck.rules.engine import all_rules
from installcheck.rules.verdicts import Outcome


def found(name, *changes):
    return find_causes(check(read(applied(right(name), Edit(changes, "change it")))))


@pytest.mark.parametrize(("elevation", "rise"), [("18 in", "18 in"), ("30 in", "18 in")])
def test_a_sender_is_put_at_the_height_of_its_tap(elevation, rise):
    causes = found(
        "retrofit_corrected",
        Put(("senders", "fuel transducer", "elevation"), elevation),
        Put(("fluid_lines", "fuel hose", "rise"), rise),
    )
    [cause] = causes.causes
    assert cause.words.startswith("put fuel transducer at the height of fuel inlet")
    assert not [v for v in causes.after if v.outcome is Outcome.DISCREPANCY]


def test_the_cables_of_a_starter_are_made_thicker_together():
    thin = [Put(("wire_runs", run, "gauge"), "6 AWG") for run in ("P1", "P2", "P3", "P4")]
    causes = found("poor_ground_cured", Put(("loads", "starter", "min_voltage"), "10.6 V"), *thin)
    [cause] = causes.causes
    assert "a gauge thicker" in cause.words
    assert {"P1", "P2", "P3", "P4"} <= {ident for edit in cause.edits for _, ident in edit.touches}
    assert not [v for v in causes.after if v.outcome is Outcome.DISCREPANCY]


def thicker(*sizes):
    return Edit(tuple(Put(("wire_runs", run, "gauge"), f"{size} AWG") for run, size in sizes), "")


def test_of_some_gauges_the_thickest_of_each_run():
    study = Study(read(right("retrofit_corrected")))
    here = {i: r.gauge.number for i, r in study.model.wire_runs.items() if r.gauge is not None}
    first, second = [i for i, number in here.items() if number >= 18][:2]
    thinner, marked = (
        thicker((first, here[first] + 2)),
        Edit((Put(("wire_runs", first, "marked"), "yes"),), ""),
    )
    edits = [
        thicker((first, 16)),
        thicker((first, 12)),
        thicker((second, 14)),
        thicker((first, 14), (second, 16)),
    ]
    assert [sizes.thickens(study, e) for e in (*edits, thinner, marked)] == [True] * 4 + [False] * 2
    whole = sizes.thickest(study, [*edits, thinner, marked])
    assert whole is not None
    assert {(c.path[1], c.value) for c in whole.changes} == {(first, "12 AWG"), (second, "14 AWG")}
    assert sizes.thickest(study, edits[:2]) is None


def test_gauges_are_not_tried_one_by_one_where_all_together_do_not_help(monkeypatch):
    """A strap of 25 milliohm shared by the starter: no wire cures what the gauges then show at their limits."""
    tried = []
    cures = Bench.cures

    def noted(self, verdict, edits, *, wholly=False):
        made = tuple(edits)
        if all(sizes.thickens(self.study, e) for e in made):
            tried.append((verdict.rule, verdict.message, made[0].words))
        return cures(self, verdict, made, wholly=wholly)

    monkeypatch.setattr(Bench, "cures", noted)
    found("poor_ground_cured", Put(("grounds", "engine strap", "resistance"), "25 milliohm"))
    of_readings = [t for t in tried if all_rules()[t[0]].subject == "indications"]
    assert of_readings
    assert {words for _, _, words in of_readings} == {"make all of them thicker"}
