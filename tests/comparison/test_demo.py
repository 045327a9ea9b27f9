"""The demonstration aircraft: every planted mistake that was put right is named as a change."""

import re
from pathlib import Path

import pytest

from installcheck import load
from installcheck.comparison import Kind, compare

DEMO = Path(__file__).parents[2] / "demo_aircraft"


@pytest.fixture(scope="module")
def corrected():
    return compare(load(DEMO / "retrofit.yaml"), load(DEMO / "retrofit_corrected.yaml"))


def test_every_mistake_put_right_is_named(corrected):
    text = (DEMO / "retrofit.yaml").read_text(encoding="utf-8")
    planted = re.findall(r"^  ([^\s:][^:]*):.*# mistake: ([a-z-]+)", text, re.MULTILINE)
    assert len(planted) >= 5
    changed = {change.ident for change in corrected.changes if change.kind is not Kind.REWORDED}
    assert [(ident, rule) for ident, rule in planted if ident not in changed] == []


def test_discrepancies_go_and_none_come(corrected):
    assert not corrected.alarming
    assert any(change.trend in ("gone", "better") for change in corrected.verdicts)


def test_retrofit_of_the_aircraft_as_found():
    found = compare(load(DEMO / "before.yaml"), load(DEMO / "retrofit.yaml"))
    kinds = {(change.ident, change.kind) for change in found.changes}
    assert {
        ("oil panel line", Kind.REMOVED),
        ("oil bulb", Kind.REPLACED),
        ("exhaust gauge", Kind.ADDED),
    } <= kinds
    fates = {one.name: one.fate for one in found.indications}
    assert fates["oil pressure gauge"] == "reads something else"
    assert fates["exhaust gauge"] == "new"
    assert fates["tachometer"] == "kept"
