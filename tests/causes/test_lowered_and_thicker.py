"""A sender put at the height of its tap, and all cables of a load made thicker at once: changes of more than one figure."""

import pytest
from harm import applied, right
from installations import read

from installcheck import check
from installcheck.causes.causes import find_causes
from installcheck.model.edits import Edit, Put
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
