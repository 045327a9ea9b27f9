"""Streams that are closed or full, limits and signals: one line, the right status, nothing left."""

import os
import resource
import shlex
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

pytestmark = pytest.mark.skipif(os.name != "posix", reason="streams, limits and signals of POSIX")
SMALL = """
installation: {name: small}
zones: {cabin: {occupied: yes}}
senders: {bulb: {terminals: [A, B], zone: cabin}}
indicators: {gauge: {terminals: [A, B], zone: cabin}}
wire_runs: {W1: {from: bulb.A, to: gauge.A, length: 5 ft, marked: yes, mark_spacing: 12 in}}
"""
PROGRAM = f"{shlex.quote(sys.executable)} -c 'from installcheck.cli import main; main()'"


@pytest.fixture
def folder(tmp_path):
    (tmp_path / "small.yaml").write_text(SMALL)
    return tmp_path


def run(folder, line, **options):
    """Run a shell line in which ``ic`` is the program; it must end by itself."""
    env = {**os.environ, "PYTHONPATH": os.pathsep.join(sys.path), "COLUMNS": "200"}
    script = f'ic() {{ {PROGRAM} "$@"; }}; {line}'
    return subprocess.run(
        ["bash", "-c", script], cwd=folder, env=env, capture_output=True, timeout=60, **options
    )


def require_one_line(done, status, *words):
    told = done.stderr.decode()
    assert "Traceback" not in told, told
    assert done.returncode == status, told
    lines = told.splitlines()
    assert len(lines) == 1, told
    assert all(word in lines[0] for word in words), told


def leftovers(folder):
    return [p.name for p in folder.rglob(".*") if p.is_file()]


@pytest.mark.parametrize("form", ["text", "json"])
def test_closed_output(folder, form):
    require_one_line(run(folder, f"ic check small.yaml --form {form} >&-"), 2, "standard output is closed")


def test_closed_input_asks_nothing(folder):
    done = run(folder, "ic new n.yaml <&-")
    assert done.returncode == 0, done.stderr
    assert (folder / "n.yaml").is_file()


def test_closed_errors(folder):
    done = run(folder, "ic check gone.yaml 2>&-")
    assert done.returncode == 2
    assert not done.stderr


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="no full device")
@pytest.mark.parametrize("line", ["check small.yaml", "basis --page", "check small.yaml small.yaml"])
def test_full_output(folder, line):
    require_one_line(run(folder, f"ic {line} >/dev/full"), 2, "cannot be written: No space left")


def test_broken_pipe(folder):
    done = run(folder, "ic basis --page | head -1")
    assert done.stdout.startswith(b"# What is checked")
    assert not done.stderr


def file_limit():
    resource.setrlimit(resource.RLIMIT_FSIZE, (512, 512))


@pytest.mark.parametrize(
    "line", ["draw small.yaml --out x.svg", "draw small.yaml --out x.pdf", "report small.yaml", "new n.yaml"]
)
def test_file_size_limit_leaves_nothing(folder, line):
    # Python would leave byte code cut short beside the modules it reads for the first time, for every later test to fail on.
    done = run(folder, f"export PYTHONDONTWRITEBYTECODE=1; ic {line}", preexec_fn=file_limit)
    require_one_line(done, 2, "File too large")
    assert sorted(p.name for p in folder.iterdir()) == ["small.yaml"]


def test_current_folder_removed(folder):
    (folder / "gone").mkdir()
    done = run(folder, "cd gone && rmdir ../gone && ic draw ../small.yaml")
    assert done.returncode == 2
    assert done.stderr.decode().splitlines()[-1] == (
        "installcheck: the current folder is gone: change to one that is there"
    )


@pytest.mark.parametrize("after", [0.0, 0.2, 0.6])
@pytest.mark.parametrize(("number", "status"), [(signal.SIGINT, 130), (signal.SIGTERM, 143)])
def test_interrupted_at_any_moment(folder, after, number, status):
    """In the first moment, before the program is ours, it is ended as any process is: by the signal itself."""
    env = {**os.environ, "PYTHONPATH": os.pathsep.join(sys.path)}
    script = (
        "import signal, sys; signal.signal(signal.SIGINT, signal.SIG_DFL); print('up', flush=True);"
        "from installcheck.cli import main; main()"
    )
    command = [sys.executable, "-c", script, "report", "small.yaml"]
    with subprocess.Popen(
        command, cwd=folder, env=env, stdout=subprocess.PIPE, stderr=subprocess.PIPE
    ) as going:
        assert going.stdout.readline() == b"up\n"
        time.sleep(0.1 + after)
        going.send_signal(number)
        _, told = going.communicate(timeout=30)
    assert b"Traceback" not in told, told
    assert going.returncode in (0, status, -number), told
    assert not leftovers(folder)
