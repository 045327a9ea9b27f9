"""A file is there whole, the old or the new one, whenever its writer ends."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

from installcheck.files import reading
from installcheck.files.writing import OutputError, write_whole

KILLER = """
import os, signal, sys, time
from pathlib import Path
from installcheck.files.writing import write_whole

SIZE, OUT, WANTED = 4_000_000, Path("out.svg"), int(sys.argv[1])
whole = [bytes([letter]) * SIZE for letter in b"ab"]
write_whole(OUT, whole[0])
inside = tries = 0
while inside < WANTED:
    tries += 1
    assert tries < 50 * WANTED, "hardly any kill lands inside a write"
    writer = os.fork()
    while not writer:
        for data in whole:
            write_whole(OUT, data)
    time.sleep(0.004 + 0.0007 * (tries % 13))
    os.kill(writer, signal.SIGKILL)
    os.waitpid(writer, 0)
    left = list(Path().glob(".out.svg.*"))
    inside += bool(left)  # what it was writing is there still
    assert OUT.read_bytes() in whole
    for one in left:
        one.unlink()
print(inside, tries)
"""
KILLS = int(os.environ.get("INSTALLCHECK_KILLS", "20"))
"""How often a writer is killed inside a write; 200 and more in the long run."""


@pytest.mark.skipif(not hasattr(os, "fork"), reason="no processes that fork")
def test_killed_inside_a_write_leaves_the_old_file_or_the_new_one(tmp_path):
    env = {**os.environ, "PYTHONPATH": os.pathsep.join(sys.path)}
    command = [sys.executable, "-c", KILLER, str(KILLS)]
    done = subprocess.run(command, cwd=tmp_path, env=env, capture_output=True, check=False, timeout=600)
    assert done.returncode == 0, done.stderr
    assert int(done.stdout.split()[0]) == KILLS


def test_a_file_has_the_usual_rights(tmp_path):
    old = os.umask(0o027)
    try:
        write_whole(tmp_path / "x", b"1")
    finally:
        os.umask(old)
    assert (tmp_path / "x").stat().st_mode & 0o777 == 0o640


def test_what_fails_leaves_nothing(tmp_path, monkeypatch):
    def fails(*names):
        raise OSError(28, "No space left on device")

    (tmp_path / "x").write_bytes(b"old")
    monkeypatch.setattr(os, "replace", fails)
    with pytest.raises(OutputError, match="No space left"):
        write_whole(tmp_path / "x", b"new")
    assert [p.name for p in tmp_path.iterdir()] == ["x"]
    assert (tmp_path / "x").read_bytes() == b"old"


@pytest.mark.parametrize("name", ["no/such/x", "nul\0", "a" * 300])
def test_a_place_that_cannot_be_written_is_told(tmp_path, name):
    with pytest.raises(OutputError, match="cannot be written"):
        write_whole(tmp_path / name, b"")


def test_a_file_that_was_read_is_kept_until_forgotten(tmp_path):
    path = tmp_path / "x"
    path.write_bytes(b"old")
    reading.read_regular(path, 10)
    with pytest.raises(OutputError, match="is a file this is made from"):
        write_whole(Path(os.path.relpath(path)), b"new")
    reading.forget()
    write_whole(path, b"new")
    assert path.read_bytes() == b"new"


def test_no_more_is_read_than_is_allowed(tmp_path):
    (tmp_path / "x").write_bytes(b"1" * 100)
    assert reading.read_regular(tmp_path / "x", 10) == b"1" * 11
