"""The demonstration aircraft: every planted mistake that was put right is named as a change."""

import re
from pathlib import Path

import pytest
from typer.testing import CliRunner

from installcheck import load
from installcheck.cli.commands import app
from installcheck.comparison import Kind, compare
from installcheck.rules.verdicts import Outcome

DEMO = Path(__file__).parents[2] / "demo_aircraft"


@pytest.fixture(scope="module")
def corrected():
    return compare(load(DEMO / "retrofit.yaml"), load(DEMO / "retrofit_corrected.yaml"))


@pytest.fixture(scope="module")
def planted():
    """(item, rule) of each thing of the retrofit that ends in a mark as a mistake."""
    text = (DEMO / "retrofit.yaml").read_text(encoding="utf-8")
    things = re.split(r"(?m)^(?=  \S|\S)", text)
    marked = [re.match(r"(?s)  ([^\s:][^:]*):.*# mistake: ([a-z-]+)", one) for one in things]
    return [found.groups() for found in marked if found]


def test_every_mistake_put_right_is_named(corrected, planted):
    assert len(planted) >= 5
    changed = {change.ident for change in corrected.changes if change.kind is not Kind.REWORDED}
    assert [(ident, rule) for ident, rule in planted if ident not in changed] == []


def test_the_discrepancy_of_every_mistake_put_right_is_gone_or_better(corrected, planted):
    found = [
        (ident, rule, verdict)
        for ident, rule in planted
        for verdict in corrected.old_ledger.verdicts
        if verdict.rule == rule and ident in verdict.at and verdict.outcome is Outcome.DISCREPANCY
    ]
    assert len({(ident, rule) for ident, rule, _ in found}) >= 5
    mended = [change.old for change in corrected.verdicts if change.trend in ("gone", "better")]
    assert [(ident, rule) for ident, rule, verdict in found if verdict not in mended] == []


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


@pytest.fixture(scope="module")
def told():
    result = CliRunner().invoke(app, ["compare", str(DEMO / "before.yaml"), str(DEMO / "retrofit.yaml")])
    assert result.exit_code == 1
    return result.stdout


def test_a_comparison_is_read_at_one_sitting(told):
    assert len(told.splitlines()) < 120
    order = [told.index(head) for head in ("TEST, INSPECT", "WORSE OR NEW", "THINGS (", "LOAD AND WEIGHT")]
    assert order == sorted(order), "what to do first, then what is worse, then the things"


def test_every_run_to_ring_out_is_named(told):
    """P20 to P25 stands for six runs; every new run of the retrofit is in the test's line or in such a row of numbers."""
    line = re.sub(r"\s+", " ", told[told.index("1. ring out") : told.index("2. ")])
    assert "P20 to P25" in line
    for ident in (
        "P9B",
        "E1",
        "E3",
        "E4",
        "E6",
        "T2",
        "T3",
        "T20",
        "T21",
        "P28",
        "T1",
        "P4",
        "P7",
        "P9",
        "P11",
        "P12",
    ):
        assert re.search(rf"\b{ident}\b", line), ident


def test_what_changed_stands_under_its_indication():
    belongs = compare(load(DEMO / "before.yaml"), load(DEMO / "retrofit.yaml")).belongs
    assert belongs["oil hose"] == belongs["P20"] == belongs["oil line"] == "oil pressure gauge"
    assert belongs["T12"] == "exhaust gauge"
    assert belongs["head block"] == "head gauge"
    assert "P9B" not in belongs
    assert "power block" not in belongs
