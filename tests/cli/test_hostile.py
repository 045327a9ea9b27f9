"""Files that are none, links, inputs named as outputs, and names that forge: refused or shown as they are, in one line."""

import os
import shlex
import signal

import pytest
from typer.testing import CliRunner

from installcheck.cli.commands import app

pytestmark = pytest.mark.skipif(os.name != "posix", reason="pipes, devices and links of POSIX")
SMALL = """
installation: {name: small}
zones: {cabin: {occupied: yes}}
senders: {bulb: {terminals: [A, B], zone: cabin}}
indicators: {gauge: {terminals: [A, B], zone: cabin}}
wire_runs: {W1: {from: bulb.A, to: gauge.A, length: 5 ft, marked: yes, mark_spacing: 12 in}}
"""


@pytest.fixture
def folder(tmp_path, monkeypatch):
    (tmp_path / "small.yaml").write_text(SMALL)
    monkeypatch.chdir(tmp_path)
    signal.alarm(60)  # what waits for ever ends the test
    yield tmp_path
    signal.alarm(0)


def run(line, name=""):
    """Run a command in this process, ``{}`` the name: its exit status, what it printed, and what it complained of."""
    result = CliRunner().invoke(app, [word.replace("{}", name) for word in shlex.split(line)])
    assert isinstance(result.exception, SystemExit | None), result.exception
    return result.exit_code, result.stdout, result.stderr


def require_one_line(done, status, *words):
    got, _, told = done
    assert got == status, told
    assert len(told.splitlines()) == 1, told
    assert all(word in told for word in words), told


MAKERS = {
    "folder": lambda p: p.mkdir(),
    "pipe": os.mkfifo,
    "device": lambda p: p.symlink_to("/dev/zero"),
    "dangling": lambda p: p.symlink_to("nowhere"),
}


@pytest.mark.parametrize("kind", MAKERS)
@pytest.mark.parametrize(
    "line",
    [
        "draw odd.yaml",
        "lists odd.yaml",
        "report odd.yaml",
        "compare small.yaml odd.yaml",
        "survey odd.yaml",
        "check small.yaml --measured odd.yaml",
    ],
)
def test_what_is_no_file_is_refused(folder, kind, line):
    MAKERS[kind](folder / "odd.yaml")
    status, _, told = run(line)
    assert status == 2, told
    assert "cannot be opened: " in told
    assert kind == "dangling" or f"it is a {kind}, not a file" in told


@pytest.mark.parametrize("kind", MAKERS)
def test_beside_what_is_no_file_the_only_installation_is_found(folder, kind):
    MAKERS[kind](folder / "odd.yaml")
    status, out, told = run("check")
    assert status == 1, told
    assert "small" in out
    assert ("odd.yaml" in told) is (kind != "folder")


@pytest.mark.parametrize("kind", ["pipe", "device", "dangling"])
def test_in_a_folder_what_is_no_file_is_told_and_the_rest_judged(folder, kind):
    MAKERS[kind](folder / "odd.yaml")
    status, out, told = run("check .")
    assert status == 2
    assert "1 checked, 1 cannot be read" in out
    assert "odd.yaml:1:1: cannot be opened" in told


def test_included_and_part_files_are_files(folder):
    os.mkfifo(folder / "more.yaml")
    (folder / "main.yaml").write_text("installation: {name: x}\ninclude: [more.yaml]\n")
    status, _, told = run("check main.yaml")
    assert status == 2
    assert "more.yaml" in told


@pytest.mark.parametrize("name", ["same.svg", "./same.svg", "link.svg", "hard.svg"])
def test_an_input_is_never_written_over(folder, name):
    (folder / "same.svg").write_text(SMALL)
    (folder / "link.svg").symlink_to("same.svg")
    os.link(folder / "same.svg", folder / "hard.svg")
    require_one_line(run("draw same.svg --out {}", name), 2, "is a file this is made from")
    assert (folder / "same.svg").read_text() == SMALL


def test_nor_is_a_log(folder):
    log = "time,cht1,cht2\n" + "".join(f"{n},300,310\n" for n in range(30))
    (folder / "log.svg").write_text(log)
    status, _, _ = run("survey log.svg --cylinders 2 --limit '500 degF' --unit cht=degF --out log.svg")
    assert status == 2
    assert (folder / "log.svg").read_text() == log


def test_a_link_given_as_output_is_followed(folder):
    (folder / "link.svg").symlink_to("real.svg")
    assert run("draw small.yaml --out link.svg")[0] == 0
    assert (folder / "link.svg").is_symlink()
    assert (folder / "real.svg").read_bytes().startswith(b"<")
    assert sorted(p.name for p in folder.iterdir()) == ["link.svg", "real.svg", "small.yaml"]


@pytest.mark.parametrize("kind", ["folder", "pipe", "device"])
def test_what_is_no_file_is_not_written(folder, kind):
    MAKERS[kind](folder / "odd.svg")
    require_one_line(run("draw small.yaml --out odd.svg"), 2, "no regular file")


def test_a_link_that_leads_to_itself(folder):
    (folder / "loop.svg").symlink_to("loop.svg")
    require_one_line(run("draw small.yaml --out loop.svg"), 2, "cannot be written")


FORGED = "\x1b]0;owned\x07\x1b[2J\u202e\u200b"


@pytest.mark.parametrize(
    "line",
    [
        "check {}",
        "check {} {}2",
        "check",
        "check gone{}",
        "draw {} --out x{}.svg",
        "draw {} --out x{}.tif",
        "lists {}",
        "lists {} --out x{}.csv",
        "faults {}",
        "compare {} {}2",
        "new {}",
        "survey {}",
        "check {} --form json",
        "check {} --form sarif",
        "check {} --form junit",
    ],
)
def test_no_escape_from_a_file_name_reaches_the_terminal(folder, line):
    name = f"odd{FORGED}\n.yaml"
    (folder / name).write_text(SMALL)
    (folder / f"{name}2").write_text(SMALL)
    (folder / "small.yaml").unlink()
    _, *streams = run(line, name)
    for stream in streams:
        assert not any(c in stream for c in "\x1b\x07\u202e\u200b"), repr(stream)


def test_no_line_feed_of_a_deviation_begins_a_line(folder):
    (folder / "small.yaml").write_text(
        SMALL.replace("12 in", "20 in")
        + 'deviations: [{rule: run-marked, at: [W1], accepted_by: "A B\\nMEETS (forged)", '
        'data: "form 1\\nMEETS (forged)", until: 2999-01-01, reason: "x\\nMEETS (forged)"}]\n'
    )
    _, out, _ = run("check small.yaml --every")
    assert "ACCEPTED" in out
    assert "MEETS (forged)" in out
    assert not any(line.lstrip().startswith("MEETS (forged)") for line in out.splitlines())


@pytest.mark.parametrize(
    "line",
    [
        "check {}",
        "check {} {}",
        "check {} --form json",
        "check {} --form sarif",
        "check {} --form junit",
        "report {} --out x.html",
        "report {} --out x.pdf",
        "draw {}",
        "lists {} --out x.xlsx",
        "lists {} --out x.csv",
        "compare {} {}",
        "compare {} {} --form json",
        "faults {} --form json",
        "size {} --form json",
    ],
)
def test_bytes_that_are_no_text_in_a_file_name(folder, line):
    name = os.fsdecode(b"bad\xff.yaml")
    (folder / name).write_text(SMALL)
    status, _, told = run(line, name)
    assert status in (0, 1), told
