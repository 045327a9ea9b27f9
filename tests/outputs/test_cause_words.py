"""Causes in words."""

from __future__ import annotations

from installcheck import check
from installcheck.causes.found import Cause, nothing_to_find
from installcheck.document import loads
from installcheck.model.edits import Drop, Edit, Put
from installcheck.outputs.cause_words import cure_of
from installcheck.rules.verdicts import Outcome, Verdict


def cause(ident: str, *paths: tuple[str, ...], after: tuple[int, ...] = ()) -> Cause:
    changes = tuple(Put(path, "there") for path in paths)
    broken = Verdict(Outcome.DISCREPANCY, (ident,), ("fluid_lines", ident), "broken", rule="line-medium")
    return Cause((Edit((*changes, Drop(("fittings", ident))), f"mend {ident}"),), (broken,), after=after)


def test_two_cures_of_which_one_changes_the_work_of_the_other_say_so() -> None:
    found = nothing_to_find(check(loads("installation: {name: none}")))
    found.causes = [
        cause("tee", ("fluid_lines", "H1", "to")),
        cause("tube", ("fluid_lines", "H1", "to"), ("fluid_lines", "H2", "size"), after=(1,)),
        cause("hose", ("fluid_lines", "H1", "slack"), ("fluid_lines", "H2", "size")),
    ]
    found.causes.append(cause("line", ("fittings", "hose", "size"), after=(3,)))
    assert [cure_of(found, one) for one in found.causes] == [
        "mend tee; 2 changes H1 again: do both in one go, H1 as in 2",
        "mend tube; once 1 is done; 1 changes H1 too: do both in one go, H1 as told here",
        "mend hose; 4 changes hose again: do both in one go, hose as in 4",
        "mend line; once 3 is done; 3 changes hose too: do both in one go, hose as told here",
    ]
