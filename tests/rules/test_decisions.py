"""What a reviewer saved comes back as deviations or refusals; a file that is none is told, and none is taken for another text."""

import json

import pytest
from typer.testing import CliRunner

from installcheck import check
from installcheck.cli.commands import app
from installcheck.document import load
from installcheck.rules.asking import asks, key_of
from installcheck.rules.decisions import (
    DecisionsError,
    open_refusals,
    read_decisions,
    still_asked,
    with_decisions,
)
from installcheck.rules.verdicts import Outcome

TEXT = """
installation: {name: x}
aircraft: {system_voltage: 14 V}
zones: {cabin: {occupied: yes}}
supplies: {bus: {kind: bus, zone: cabin}}
indicators: {gauge: {principle: voltage, terminals: [A], zone: cabin}}
wire_runs: {W1: {from: bus, to: gauge.A, part: AS22759/16, gauge: 20 AWG, length: 30 in, marked: yes, mark_spacing: 20 in}}
"""
"""Marks 20 in apart where 15 in is the most (AC 43.13-1B 11-208)."""


@pytest.fixture
def written(tmp_path):
    path = tmp_path / "x.yaml"
    path.write_text(TEXT)

    def save(decision, **other):
        body = {
            "decisions": 1, "digest": load(path).digest, "reviewer": "R. Viewer", "date": "2031-01-02",
            "data": "drawing 7", "until": "2099-01-01",
            "causes": [{"words": "marks are 20 in apart", "verdicts": [{"rule": "run-marked", "at": "W1"}],
                        "decision": decision, "comment": "short run"}],
        } | other  # fmt: skip
        kept = tmp_path / "x.decisions.json"
        kept.write_text(json.dumps(body))
        return kept

    return path, save


def marking(ledger):
    return [v for v in ledger.verdicts if v.rule == "run-marked" and v.at[0] == "W1"]


def test_what_is_accepted_becomes_a_deviation(written):
    path, save = written
    assert [v.outcome for v in marking(check(load(path)))] == [Outcome.DISCREPANCY]
    accepted = with_decisions(load(path), read_decisions(save("accept")))
    (verdict,) = marking(check(accepted))
    assert verdict.outcome is Outcome.ACCEPTED
    assert "R. Viewer on drawing 7, until 2099-01-01: short run" in verdict.deviation


def test_what_is_refused_stays_and_is_open(written):
    path, save = written
    found = read_decisions(save("refuse"))
    ledger = check(with_decisions(load(path), found))
    assert [v.outcome for v in marking(ledger)] == [Outcome.DISCREPANCY]
    assert [one.words for one in open_refusals(found, ledger.verdicts)] == ["marks are 20 in apart"]
    path.write_text(TEXT.replace("20 in}", "15 in}"))
    assert open_refusals(found, check(load(path)).verdicts) == []


def test_decisions_of_another_text_are_not_taken(written):
    path, save = written
    found = read_decisions(save("accept"))
    path.write_text(TEXT.replace("30 in", "31 in"))
    with pytest.raises(DecisionsError, match="another text"):
        with_decisions(load(path), found)


def test_a_review_without_a_word_of_the_whole_is_read_as_before(written):
    review = read_decisions(written[1]("accept"))
    assert (review.whole.decision, review.open) == ("", ())


def test_the_whole_change_refused_stands_until_it_is_reviewed_again(written):
    path, save = written
    review = read_decisions(save("accept", whole={"decision": "refuse", "comment": "draw it first"}))
    ledger = check(with_decisions(load(path), review))
    assert [(one.words, one.comment) for one in open_refusals(review, ledger.verdicts)] == [
        ("the whole change", "draw it first")
    ]
    assert open_refusals(read_decisions(save("accept", whole={"decision": "accept"})), ledger.verdicts) == []


def test_what_was_asked_for_is_told_until_it_can_be_judged(written):
    path, save = written
    ledger = check(load(path))
    keys = [key_of(ask) for ask in asks(ledger)]
    assert keys
    rows = [
        {"key": key, "words": key, "decision": "ask for", "comment": ""}
        for key in (keys[0], "others", "no such")
    ]
    review = read_decisions(save("", open=[*rows, {"key": keys[0], "decision": "leave open"}]))
    assert [one.key for one in still_asked(review, ledger)] == [keys[0], "others"]


@pytest.mark.parametrize(
    ("change", "told"),
    [
        ({"decisions": 2}, "holds no decisions"),
        ({"causes": {}}, "holds no decisions"),
        ({"causes": [1]}, "cause 1"),
        ({"causes": [{"verdicts": [], "decision": "perhaps"}]}, "neither 'accept' nor 'refuse'"),
        ({"whole": 1}, "holds no decisions"),
        ({"whole": {"decision": "perhaps"}}, "the whole change: 'perhaps' is neither 'accept' nor 'refuse'"),
        ({"open": {}}, "holds no decisions"),
        ({"open": [1]}, "not judged, 1"),
        ({"open": [{"decision": "refuse"}]}, "neither 'leave open' nor 'ask for'"),
        ({"until": "soon"}, "YYYY-MM-DD"),
        ({"reviewer": 7}, "'reviewer' is no text"),
    ],
)
def test_what_is_wrong_with_a_file_is_told(written, change, told):
    with pytest.raises(DecisionsError, match=told):
        read_decisions(written[1]("accept", **change))


@pytest.mark.parametrize("data", [b"{", b"\xff\xfe\x00", b"[" * 100_000, b""])
def test_no_json_is_told(tmp_path, data):
    path = tmp_path / "d.json"
    path.write_bytes(data)
    with pytest.raises(DecisionsError, match="no JSON text"):
        read_decisions(path)


def test_on_the_command_line(written, tmp_path):
    path, save = written
    kept = save("refuse")
    result = CliRunner().invoke(app, ["compare", str(path), str(path)])
    assert "REFUSED BY THE LAST REVIEW, STILL STANDING (1)" in result.stdout
    assert "marks are 20 in apart: short run" in result.stdout
    assert result.exit_code == 1
    save("accept")
    result = CliRunner().invoke(app, ["check", str(path), "--decisions", str(kept)])
    assert "accepted by R. Viewer" in " ".join(result.stdout.split())
    save("accept", whole={"decision": "refuse", "comment": "draw it first"})
    told = CliRunner().invoke(app, ["check", str(path), "--decisions", str(kept)]).stdout
    assert "THE REVIEW by R. Viewer, 2031-01-02" in told
    assert "the whole change: refused: draw it first" in told
    assert (
        "the whole change: draw it first" in CliRunner().invoke(app, ["compare", str(path), str(path)]).stdout
    )
    bad = CliRunner().invoke(app, ["check", str(path), "--decisions", str(tmp_path / "none.json")])
    assert bad.exit_code == 2
