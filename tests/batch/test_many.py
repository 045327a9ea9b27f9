"""Many files in one call: what is found, what a broken file does, and the one exit status."""

import json
import signal
from xml.etree import ElementTree as ET

import pytest
from typer.testing import CliRunner

from installcheck.batch import many
from installcheck.batch.many import check_file, check_many, find_installations
from installcheck.batch.record import Checked, Unreadable, exit_status
from installcheck.cli.commands import app
from installcheck.rules.verdicts import Outcome

GOOD = "installation: {{name: {name}}}\nzones: {{cabin: {{occupied: yes}}}}\n"
BAD = (
    GOOD
    + """\
senders: {{s: {{terminals: [A], zone: cabin, principle: resistive}}}}
indicators: {{g: {{terminals: [A], zone: cabin}}}}
wire_runs: {{W1: {{from: s.A, to: g.A, length: 5 ft, mark_spacing: 20 in}}}}
"""
)
run = CliRunner().invoke


@pytest.fixture
def fleet(tmp_path):
    (tmp_path / "inner" / ".hidden").mkdir(parents=True)
    (tmp_path / "a.yaml").write_text(GOOD.format(name="A"))
    (tmp_path / "inner" / "b.yml").write_text(BAD.format(name="B"))
    (tmp_path / "inner" / "zones.yaml").write_text("zones: {cabin: {}}\n")
    (tmp_path / "inner" / ".hidden" / "c.yaml").write_text(GOOD.format(name="C"))
    (tmp_path / "notes.txt").write_text("installation: {}")
    return tmp_path


def test_folders_are_searched_for_installations(fleet):
    files, closed = find_installations([fleet])
    assert [f.relative_to(fleet).as_posix() for f in files] == ["a.yaml", "inner/b.yml"]
    assert closed == []


def test_each_file_counts_once_and_what_is_named_is_taken(fleet):
    part = fleet / "inner" / "zones.yaml"
    files, _ = find_installations([fleet / "a.yaml", fleet, fleet / "inner" / ".." / "a.yaml", part])
    assert [f.name for f in files] == ["a.yaml", "b.yml", "zones.yaml"]


def test_a_link_to_its_own_folder_does_no_harm(fleet):
    (fleet / "inner" / "loop").symlink_to(fleet, target_is_directory=True)
    assert len(find_installations([fleet])[0]) == 2


@pytest.mark.parametrize("workers", [1, 2])
def test_a_broken_file_does_not_stop_the_rest(fleet, workers):
    (fleet / "broken.yaml").write_text("installation: {name: [}")
    (fleet / "bytes.yaml").write_bytes(b"installation: \xff\xfe")
    files, _ = find_installations([fleet])
    seen = []
    records = check_many([*files, fleet / "absent.yaml"], workers=workers, done=seen.append)
    assert [type(r) for r in records] == [Checked, Unreadable, Unreadable, Checked, Unreadable]
    assert [r.name.rpartition("/")[2] for r in records] == [
        "a.yaml",
        "broken.yaml",
        "bytes.yaml",
        "b.yml",
        "absent.yaml",
    ]
    assert sum(seen) == 5
    assert exit_status(records) == 2
    assert all(r.problems for r in records if isinstance(r, Unreadable))


def test_processes_give_what_one_process_gives(fleet):
    files, _ = find_installations([fleet])
    assert check_many(files, workers=2) == check_many(files, workers=1)


def test_counts_only_leaves_verdicts_out(fleet):
    whole, counts = (check_file(fleet / "inner" / "b.yml", counts_only=flag) for flag in (False, True))
    assert counts.verdicts == ()
    assert counts.counts == whole.counts
    assert whole.counts[Outcome.DISCREPANCY] >= 1


def test_a_fault_of_the_checker_is_told_and_not_raised(fleet, monkeypatch):
    def fail(study):
        raise ZeroDivisionError("division by zero")

    monkeypatch.setattr("installcheck.rules.engine.judge", fail)
    record = check_file(fleet / "a.yaml")
    assert record.failed
    assert "ZeroDivisionError" in record.problems[0].message


@pytest.mark.skipif(not hasattr(signal, "SIGKILL"), reason="the system has no signal that ends a process")
def test_a_process_that_dies_loses_only_its_own_file():
    # A worker is made to kill itself: the 'files' are signals, and the judge raises them.
    results = {}
    many._pooled(
        [signal.SIGCONT, signal.SIGKILL],
        signal.raise_signal,
        2,
        lambda start, made: results.update(enumerate(made, start)),
    )
    assert 1 not in results
    lost = many._alone(signal.SIGKILL, signal.raise_signal).record
    assert lost.failed
    assert "ended the process" in lost.problems[0].message
    assert many._alone(signal.SIGCONT, signal.raise_signal) is None


def test_table_and_exit_status(fleet):
    result = run(app, ["check", str(fleet)])
    assert result.exit_code == 1
    assert "2 checked, 0 cannot be read" in result.stdout
    assert "not approved data" in result.stdout
    (fleet / "inner" / "b.yml").unlink()
    assert run(app, ["check", str(fleet), str(fleet / "a.yaml")]).exit_code == 0
    (fleet / "broken.yaml").write_text("installation: {name: x}\nzonez: {}")
    result = run(app, ["check", str(fleet)])
    assert result.exit_code == 2
    assert "1 checked, 1 cannot be read" in result.stdout
    assert "did you mean 'zones'?" in result.stderr


def test_empty_folder(tmp_path):
    result = run(app, ["check", str(tmp_path)])
    assert result.exit_code == 2
    assert "there is no installation in" in result.stderr


def test_forms_for_machines(fleet):
    result = run(app, ["check", str(fleet), "--form", "json"])
    assert [d["installation"]["name"] for d in json.loads(result.stdout)["documents"]] == ["A", "B"]
    result = run(app, ["check", str(fleet / "a.yaml"), "--form", "json"])
    assert json.loads(result.stdout)["installation"]["name"] == "A"
    result = run(app, ["check", str(fleet), "--form", "sarif"])
    assert len(json.loads(result.stdout)["runs"][0]["artifacts"]) == 2
    result = run(app, ["check", str(fleet), "--form", "junit"])
    assert len(ET.fromstring(result.stdout)) == 2
    assert result.exit_code == 1


def test_one_unreadable_file_is_json_too(tmp_path):
    (tmp_path / "x.yaml").write_text("zonez: {}")
    result = run(app, ["check", str(tmp_path / "x.yaml"), "--form", "json"])
    assert result.exit_code == 2
    assert json.loads(result.stdout)["unreadable"][0]["problems"]
