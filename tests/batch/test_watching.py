"""Installations are judged again at each save, and never from a file that is half written."""

from __future__ import annotations

import os
import subprocess
import sys
from io import StringIO
from itertools import islice
from pathlib import Path

import pytest
from rich.console import Console

from installcheck import check
from installcheck.batch.watching import watch
from installcheck.document import load
from installcheck.outputs.terminal.watch import print_change, print_refused

TEXT = """\
installation: {name: run}
zones: {cabin: {occupied: yes}}
senders: {bulb: {terminals: [A], zone: cabin}}
indicators: {gauge: {terminals: [A], zone: cabin}}
wire_runs: {W1: {from: bulb.A, to: gauge.A, marked: no}}
"""


def save(file: Path, text: str) -> None:
    """Write a file so that its time is another, however fast the test runs."""
    before = file.stat().st_mtime_ns if file.exists() else 0
    file.write_text(text)
    os.utime(file, ns=(before + 1_000_000, before + 1_000_000))


def watched(files, *steps):
    """What comes of steps that are taken one at each pause."""
    left = iter(steps)

    def wait(_: float) -> None:
        step = next(left, None)
        if step is not None:
            step()

    return watch(files, wait)


def verdicts(ledger):
    return [repr(v) for v in ledger.verdicts]


def test_each_save_is_judged_once_and_as_from_nothing(tmp_path):
    file = tmp_path / "run.yaml"
    save(file, TEXT)
    shorter = TEXT.replace("marked: no", "marked: yes")
    found = watched([file], lambda: save(file, shorter))
    first, second = islice(found, 2)
    assert first.before is None
    assert second.before == tuple(first.ledger.verdicts)
    assert verdicts(second.ledger) == verdicts(check(load(file)))
    assert verdicts(second.ledger) != verdicts(first.ledger)


def test_what_cannot_be_read_is_told_and_what_follows_is_judged_against_what_could(tmp_path):
    file = tmp_path / "run.yaml"
    save(file, TEXT)
    found = watched(
        [file], lambda: save(file, TEXT.replace("bulb.A", "bulb.Q")), None, lambda: save(file, TEXT)
    )
    first, bad, again = islice(found, 3)
    assert bad.ledger is None
    assert [p.place.line for p in bad.problems] == [5]
    assert again.before == tuple(first.ledger.verdicts)
    assert verdicts(again.ledger) == verdicts(first.ledger)


def test_a_file_that_is_being_written_is_waited_for(tmp_path):
    file = tmp_path / "run.yaml"
    save(file, TEXT)
    half, whole = TEXT[: len(TEXT) // 2], TEXT.replace("marked: no", "marked: yes")
    found = watched([file], lambda: save(file, half), lambda: save(file, whole))
    _, second = islice(found, 2)
    assert second.ledger is not None
    assert verdicts(second.ledger) == verdicts(check(load(file)))


@pytest.mark.parametrize("key", ["include", "part_files"])
def test_the_files_it_rests_on_are_watched_too(tmp_path, key):
    file, other = tmp_path / "run.yaml", tmp_path / "other.yaml"
    part = "parts: {p: {for: senders, title: p, principle: resistive, terminals: [A], source: drawing}}"
    save(other, "notices: []" if key == "include" else part)
    save(file, f"{TEXT}{key}: [other.yaml]\n")
    changed = (
        "measured: [{of: W1, what: resistance, value: 2 ohm}]"
        if key == "include"
        else part.replace("title: p", "title: q")
    )
    found = watched([file], lambda: save(other, changed))
    _, second = islice(found, 2)
    assert second.file == file
    assert verdicts(second.ledger) == verdicts(check(load(file)))


def test_a_change_is_told_by_what_has_gone_and_come(tmp_path):
    file = tmp_path / "run.yaml"
    save(file, TEXT)
    first, second = islice(
        watched([file], lambda: save(file, TEXT.replace("to: gauge.A", "to: gauge.A, bend_radius: 1 in"))), 2
    )
    console = Console(width=200, record=True, file=StringIO())
    print_change("run.yaml", first.ledger.verdicts, second.ledger, console)
    print_change("run.yaml", second.ledger.verdicts, second.ledger, console)
    print_refused("run.yaml", (), console)
    told = console.export_text()
    assert "nothing has come or gone" in told
    assert "cannot be read as it was saved" in told
    assert told.count("discrepancies, ") == 2


def test_the_command_watches_files_for_a_person_only(tmp_path):
    file = tmp_path / "run.yaml"
    save(file, TEXT)
    for more, told in ((["--form", "json", str(file)], "leave '--form'"), ([str(tmp_path)], "is no file")):
        command = [
            sys.executable,
            "-c",
            "from installcheck.cli import main; main()",
            "check",
            "--watch",
            *more,
        ]
        ended = subprocess.run(command, capture_output=True, text=True, check=False, timeout=120)
        assert ended.returncode == 2
        assert told in ended.stderr
