"""Cures in the text of the demo: what they leave, and what of the text stays."""

from __future__ import annotations

from pathlib import Path

import pytest
from demo_causes import causes_of

from installcheck.causes.cure import NoSuchCureError, cured
from installcheck.causes.found import Causes
from installcheck.rules.verdicts import Outcome

DEMO = Path(__file__).parents[2] / "demo_aircraft" / "retrofit.yaml"


@pytest.fixture(scope="module")
def causes() -> Causes:
    return causes_of("retrofit")


def test_the_cured_demo_has_no_discrepancy_and_no_new_advisory(causes: Causes) -> None:
    done = cured(causes)
    assert done.revision.left_out == {}
    assert done.left == ()
    assert done.come == ()
    assert done.ledger.count(Outcome.DISCREPANCY) == 0


def things(lines: list[str]) -> dict[str, list[str]]:
    """The lines of each thing of the sections, by its id."""
    found: dict[str, list[str]] = {}
    ident = ""
    for line in lines:
        if line.startswith("  ") and line[2:3] not in (" ", "#"):
            ident = line.strip().partition(":")[0]
        elif line[:1].strip():
            ident = ""
        if ident:
            found.setdefault(ident, []).append(line)
    return found


def test_lines_without_a_cure_stay_and_so_do_all_remarks_of_those_kept(causes: Causes) -> None:
    old = DEMO.read_text(encoding="utf-8").splitlines()
    texts = cured(causes).revision.texts
    (raw,) = (text for name, text in texts.items() if name.endswith("retrofit.yaml"))
    new = raw.decode().splitlines()
    touched = {ident for c in causes.causes for e in c.edits for _, ident in e.touches}
    kept = [line for ident, lines in things(old).items() if ident not in touched for line in lines]
    assert len(kept) > 20
    for line in (*kept, *(line for line in old if line[:1].strip() and line.endswith((":", ".")))):
        assert line in new


def test_one_cure_alone_changes_its_own_lines(causes: Causes) -> None:
    old = DEMO.read_text(encoding="utf-8").splitlines()
    number = next(
        n for n, c in enumerate(causes.causes, 1) if {i for e in c.edits for _, i in e.touches} == {"T14"}
    )
    (raw,) = cured(causes, [number]).revision.texts.values()
    new = raw.decode().splitlines()
    before, after = things(old), things(new)
    assert {ident for ident in before if before[ident] != after[ident]} == {"T14"}
    own = set(before["T14"]) | set(after["T14"])
    assert [line for line in old if line not in own] == [line for line in new if line not in own]
    assert before["T14"][-1].partition("# ")[2] == after["T14"][-1].partition("# ")[2]


def test_a_number_without_a_cure_is_refused(causes: Causes) -> None:
    with pytest.raises(NoSuchCureError, match=f"among the {len(causes.causes)} things to put right"):
        cured(causes, [99])


def test_a_cure_that_waits_for_others_names_them(causes: Causes) -> None:
    """The electric gauge in place of the one with a line, once no primer is joined to its hose and its breaker suits its wires."""
    waiting = next(n for n, cause in enumerate(causes.causes, 1) if len(cause.after) == 2)
    one, other = causes.causes[waiting - 1].after
    with pytest.raises(NoSuchCureError, match=f"{waiting} is done once {one} and {other} are: name all"):
        cured(causes, [waiting])
    with pytest.raises(NoSuchCureError, match=f"{waiting} is done once {other} is: name both"):
        cured(causes, [waiting, one])
