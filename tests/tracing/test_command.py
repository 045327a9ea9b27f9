"""The command: text, JSON against its schema, a record, answers that narrow, the bench sheet, and what it refuses."""

import json
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator
from typer.testing import CliRunner

from installcheck.cli.commands import app
from installcheck.outputs.machine.trace_json import trace_schema

DEMO = "demo_aircraft/retrofit_corrected.yaml"
HOT, COLD = (
    "oil temperature gauge is off scale high at cruise",
    "oil temperature gauge is off scale high with engine off",
)
SEEN = ["--seen", HOT, "--seen", COLD]


def run(*args: str, answers: str = "") -> tuple[int, str]:
    done = CliRunner().invoke(app, ["trace", DEMO, *args], input=answers)
    assert done.exception is None or isinstance(done.exception, SystemExit), done.exception
    return done.exit_code, done.output


def test_text_tells_what_could_be_wrong_what_is_excluded_and_the_next_test():
    status, told = run(*SEEN)
    assert status == 0
    for words in (
        "cannot be told apart yet",
        "EXCLUDED BY WHAT WAS SEEN",
        "NEXT TEST",
        "first ",
        "not approved data",
        "oil bulb",
    ):
        assert words in told
    assert "airworthy" not in told


def test_json_keeps_to_its_schema():
    schema = json.loads(trace_schema())
    Draft202012Validator.check_schema(schema)
    status, told = run(*SEEN, "--form", "json")
    body = json.loads(told)
    assert status == 0
    assert list(Draft202012Validator(schema).iter_errors(body)) == []
    assert body["one_fault_explains"] is True
    assert sum(h["share"] for h in body["hypotheses"]) == pytest.approx(1, abs=0.01)
    del body["tests"][0]["first"]
    assert list(Draft202012Validator(schema).iter_errors(body))


def test_answers_narrow_and_go_to_the_record(tmp_path):
    record = tmp_path / "trace.txt"
    record.write_text(f"{HOT}\n{COLD}\n")
    status, told = run("--record", str(record), "--ask", answers="what\nopen\n\n")
    assert status == 0
    assert "taken down:" in told
    lines = record.read_text().splitlines()
    assert len(lines) == 3
    again = run("--record", str(record))[1]
    assert f"seen: {lines[2]}" in again


def test_a_sheet_for_the_bench_is_written(tmp_path):
    page = tmp_path / "sheet.html"
    assert run(*SEEN, "--sheet", str(page))[0] == 0
    text = page.read_text()
    assert "First make safe" in text
    assert "<script" not in text
    assert run(*SEEN, "--sheet", str(tmp_path / "sheet.doc"))[0] == 2


@pytest.mark.parametrize(
    ("args", "said"),
    [
        (["--seen", "oil temprature gauge is high"], "--seen, column 1"),
        (["--altered", "E99"], "E99"),
        (["--weights", "nowhere.yaml"], "nowhere.yaml"),
        (["--record", "demo_aircraft"], "demo_aircraft"),
    ],
)
def test_bad_input_is_refused_with_its_place(args, said):
    status, told = run(*args)
    assert status == 2
    assert said in told


def test_weights_of_your_own_are_read_and_wrong_ones_refused(tmp_path):
    own = tmp_path / "own.yaml"
    own.write_text("source: our shop, ten years\nkinds: {sender open: 500}\n")
    status, told = run(*SEEN, "--weights", str(own))
    assert status == 0
    assert "oil bulb is open inside" in told.split("what could be wrong")[1].splitlines()[1]
    own.write_text("kinds: {sender opn: 5}\n")
    status, told = run(*SEEN, "--weights", str(own))
    assert status == 2
    assert "own.yaml:1:9" in told
    assert "did you mean 'sender open'" in told


def test_lines_of_the_document_are_read_with_their_place(tmp_path):
    file = tmp_path / "one.yaml"
    file.write_text(
        "installation: {name: one}\nzones: {cabin: {}}\n"
        "indicators: {gauge: {terminals: [A, B], principle: ratio meter, zone: cabin}}\n"
        "seen:\n  - gauge is dead\n  - gage is dead\n"
    )
    done = CliRunner().invoke(app, ["trace", str(file)])
    assert done.exit_code == 2
    assert "one.yaml:5:5" in done.output


def test_asking_without_an_input_is_told(monkeypatch, capsys):
    import sys

    from installcheck.cli.trace import trace

    monkeypatch.setattr(sys, "stdin", None)
    trace(Path("tests/tracing/reports/lines.yaml"), seen=["oil pressure gauge is low"], ask=True)
    assert "nothing can be asked" in capsys.readouterr().err


def test_what_is_seen_goes_to_the_record_once(tmp_path):
    record = tmp_path / "trace.txt"
    first = run("--record", str(record), "--no-ask", "--seen", HOT)
    assert first[0] == 0
    kept = record.read_text()
    assert HOT in kept.splitlines()
    again = run("--record", str(record), "--no-ask", "--seen", HOT)
    assert record.read_text() == kept
    assert again == first == run("--record", str(record), "--no-ask")


def test_a_line_that_cannot_be_read_leaves_the_record_as_it_is(tmp_path):
    record = tmp_path / "trace.txt"
    assert run("--record", str(record), "--no-ask", "--seen", HOT, "--seen", "nothing at all")[0] != 0
    assert not record.exists()
