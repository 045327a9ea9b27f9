"""Deviations in order, expired, unmatched and vague; the day is fixed at 2026-06-01."""

from datetime import date

import pytest

from installcheck import check
from installcheck.document import loads
from installcheck.rules import deviations

TEXT = """\
installation: {name: test}
zones: {cabin: {}}
senders: {bulb: {terminals: [A, B], zone: cabin}}
indicators: {gauge: {terminals: [A, B], zone: cabin}}
wire_runs:
  W1: {from: bulb.A, to: gauge.A, length: 5 ft, marked: no}
  W2: {from: bulb.B, to: gauge.B, length: 5 ft, marked: no}
deviations:
"""
WHOLE = "rule: run-marked, at: W1, accepted_by: A. Inspector, data: drawing 12 note 3, until: 2026-12-31"


@pytest.fixture(autouse=True)
def _fixed_day(monkeypatch):
    monkeypatch.setattr(deviations, "_today", lambda: date(2026, 6, 1))


def outcomes(*told, rules=("run-marked", "deviation-in-order")):
    """Outcomes of the two runs, then the verdicts on the deviations."""
    lines = "".join(f"  - {{{one}}}\n" for one in told)
    ledger = check(loads(TEXT + lines), rules)
    runs = {v.at[0]: v.outcome.value for v in ledger.verdicts if v.rule == "run-marked"}
    return runs, [v for v in ledger.verdicts if v.rule == deviations.RULE], ledger


def test_in_order():
    runs, [told], ledger = outcomes(WHOLE)
    assert runs == {"W1": "accepted", "W2": "discrepancy"}
    assert told.outcome == "meets"
    [accepted] = [v for v in ledger.verdicts if v.outcome == "accepted"]
    assert accepted.deviation == "accepted by A. Inspector on drawing 12 note 3, until 2026-12-31"
    assert accepted.message == "run W1 carries no mark"
    tally = ledger.coverage["run-marked"]
    assert (tally.accepted, tally.discrepancy) == (1, 1)


def test_last_day_still_counts():
    assert outcomes(WHOLE.replace("2026-12-31", "2026-06-01"))[0]["W1"] == "accepted"


def test_expired():
    runs, [told], _ = outcomes(WHOLE.replace("2026-12-31", "2026-05-31"))
    assert runs["W1"] == "discrepancy"
    assert told.outcome == "advisory"
    assert "ended on 2026-05-31" in told.message
    assert told.path == ("deviations", 0, "until")


@pytest.mark.parametrize(
    ("left_out", "missing"),
    [
        (", accepted_by: A. Inspector", "who accepted it"),
        (", data: drawing 12 note 3", "its data"),
        (", until: 2026-12-31", "its last day"),
    ],
)
def test_vague(left_out, missing):
    runs, [told], _ = outcomes(WHOLE.replace(left_out, ""))
    assert runs["W1"] == "discrepancy"
    assert told.outcome == "advisory"
    assert f"does not say {missing}" in told.message


@pytest.mark.parametrize("said", ["TBD", "n/a", "'?'", "'-'", "'  '"])
def test_a_word_that_only_holds_a_place_is_vague(said):
    runs, [told], _ = outcomes(WHOLE.replace("drawing 12 note 3", said))
    assert runs["W1"] == "discrepancy"
    assert "does not say its data" in told.message


def test_day_that_is_none():
    _, [told], _ = outcomes(WHOLE.replace("2026-12-31", "2026-02-30"))
    assert "no date: '2026-02-30'" in told.message


def test_unmatched():
    runs, [told], _ = outcomes(WHOLE.replace("at: W1", "at: gauge"))
    assert runs["W1"] == "discrepancy"
    assert told.outcome == "advisory"
    assert "matches no discrepancy at gauge" in told.message
    assert told.path == ("deviations", 0, "at")


def test_each_item_named_is_matched_by_itself():
    runs, told, _ = outcomes(WHOLE.replace("at: W1", "at: [W1, W2, W9]"))
    assert runs == {"W1": "accepted", "W2": "accepted"}
    assert [(v.at, v.outcome.value) for v in told] == [
        (("W1",), "meets"),
        (("W2",), "meets"),
        (("W9",), "advisory"),
    ]


def test_rule_that_does_not_exist():
    runs, [told], _ = outcomes(WHOLE.replace("run-marked", "run-market"))
    assert runs["W1"] == "discrepancy"
    assert "did you mean 'run-marked'?" in told.message


def test_deviation_of_a_rule_that_was_not_judged_is_left_alone():
    _, told, ledger = outcomes(WHOLE, rules=("deviation-in-order",))
    assert told == []
    assert ledger.count("discrepancy") == 0


def test_naming_what_stands_beside_the_item_accepts_nothing():
    text = """\
installation: {name: test}
zones: {engine: {fire_zone: yes}, cabin: {occupied: yes}}
barriers: {firewall: {between: [engine, cabin], kind: firewall}}
taps: {gallery: {medium: oil, zone: engine}}
indicators: {gauge: {principle: direct pressure, ports: [P], zone: cabin}}
fluid_lines:
  oil line: {from: gallery, to: gauge.P, kind: tube, route: [{zone: engine, length: 1 ft}, {barrier: firewall, through: open hole}, {zone: cabin, length: 1 ft}]}
deviations:
  - {rule: line-through-barrier, at: %s, accepted_by: A. Inspector, data: drawing 12, until: 2026-12-31}
"""
    by_line, by_barrier = (
        {
            v.outcome.value
            for v in check(loads(text % name), ["line-through-barrier"]).verdicts
            if v.rule != deviations.RULE
        }
        for name in ("oil line", "firewall")
    )
    assert "accepted" in by_line
    assert "discrepancy" in by_barrier
    assert "accepted" not in by_barrier


def test_what_is_accepted_is_still_shown(tmp_path):
    from typer.testing import CliRunner

    from installcheck.cli.commands import app

    # Only the mark of W1 is judged here, so that other rules cannot lend their discrepancies.
    ledger = outcomes(WHOLE.replace("at: W1", "at: [W1, W2]"))[2]
    assert ledger.count("discrepancy") == 0
    file = tmp_path / "a.yaml"
    file.write_text(TEXT + f"  - {{{WHOLE}}}\n")
    assert "ACCEPTED DEVIATION (1)" in CliRunner().invoke(app, ["check", str(file)]).stdout
