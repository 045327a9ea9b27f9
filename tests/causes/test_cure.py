"""Cures in the text of the demo: what they leave, and what of the text stays."""

from __future__ import annotations

from pathlib import Path

import pytest

from installcheck import check
from installcheck.causes.causes import find_causes
from installcheck.causes.cure import NoSuchCureError, cured
from installcheck.causes.found import Causes
from installcheck.document import load
from installcheck.rules.verdicts import Outcome

DEMO = Path(__file__).parents[2] / "demo_aircraft" / "retrofit.yaml"


@pytest.fixture(scope="module")
def causes() -> Causes:
    return find_causes(check(load(DEMO)))


def test_the_cured_demo_has_no_discrepancy_and_no_new_advisory(causes: Causes) -> None:
    done = cured(causes)
    assert done.revision.left_out == {}
    assert done.left == ()
    assert done.come == ()
    assert done.ledger.count(Outcome.DISCREPANCY) == 0


def test_lines_without_a_cure_stay_and_so_do_all_remarks_of_those_kept(causes: Causes) -> None:
    old = DEMO.read_text(encoding="utf-8").splitlines()
    (raw,) = cured(causes).revision.texts.values()
    new = raw.decode().splitlines()
    touched = {ident for c in causes.causes for e in c.edits for _, ident in e.touches}
    for line in old:
        ident = line.strip().partition(": ")[0]
        kept = line.startswith("  ") and ident not in touched and ": {" in line
        if kept or line.startswith("#") or line.endswith(":"):
            assert line in new


def test_one_cure_alone_changes_its_own_lines(causes: Causes) -> None:
    old = DEMO.read_text(encoding="utf-8").splitlines()
    number = next(
        n for n, c in enumerate(causes.causes, 1) if {i for e in c.edits for _, i in e.touches} == {"T14"}
    )
    (raw,) = cured(causes, [number]).revision.texts.values()
    changed = [(a, b) for a, b in zip(old, raw.decode().splitlines(), strict=True) if a != b]
    assert [a.strip()[:4] for a, _ in changed] == ["T14:"]
    assert changed[0][0].partition("# ")[2] == changed[0][1].partition("# ")[2]


def test_a_number_without_a_cure_is_refused(causes: Causes) -> None:
    with pytest.raises(NoSuchCureError, match=f"among the {len(causes.causes)} things to put right"):
        cured(causes, [99])
