"""The example a first run opens: two mistakes, each cured by one press, and nothing wrong after."""

from importlib.resources import files

from installcheck.analysis.study import Study
from installcheck.causes.causes import find_causes
from installcheck.document import loads
from installcheck.document.rewriting import rewritten
from installcheck.model.edits import Edit
from installcheck.rules.engine import judge
from installcheck.rules.verdicts import Outcome

TEXT = files("installcheck.page").joinpath("example.yaml").read_text(encoding="utf-8")


def test_it_holds_two_mistakes_and_their_cures_leave_none() -> None:
    document = loads(TEXT)
    found = find_causes(judge(Study(document)))
    assert len(found.causes) == 2
    assert all(one.edits for one in found.causes)
    changes = tuple(change for one in found.causes for edit in one.edits for change in edit.changes)
    cured = rewritten(document, Edit(changes, "cure both"))["document"].decode()
    assert judge(Study(loads(cured))).count(Outcome.DISCREPANCY) == 0
    assert sum(a != b for a, b in zip(TEXT.splitlines(), cured.splitlines(), strict=True)) == 2


def test_it_reads_well() -> None:
    assert max(map(len, TEXT.splitlines())) <= 120
