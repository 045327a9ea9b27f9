"""``check`` of files alone is begun without what reads options; it is the same command, and loads no more than it needs."""

import subprocess
import sys

import pytest
from small import BAD, GOOD
from typer.testing import CliRunner

from installcheck import cli
from installcheck.cli.commands import app


@pytest.fixture
def folder(tmp_path, monkeypatch):
    (tmp_path / "good.yaml").write_text(GOOD)
    (tmp_path / "bad.yaml").write_text(BAD)
    (tmp_path / "broken.yaml").write_text("installation: {name: x}\nzonez: {}")
    (tmp_path / "lone").mkdir()
    (tmp_path / "lone" / "only.yaml").write_text(BAD)
    monkeypatch.chdir(tmp_path)
    return tmp_path


@pytest.mark.parametrize(
    ("words", "status"),
    [
        (["good.yaml"], 0),
        (["bad.yaml"], 1),
        (["broken.yaml"], 2),
        (["absent.yaml"], 2),
        ([""], 2),
        (["good.yaml", "bad.yaml"], 1),
        (["lone"], 1),
        (["lone", "broken.yaml"], 2),
        ([], 2),
    ],
    ids=str,
)
def test_it_is_the_same_command(folder, monkeypatch, capsys, words, status):
    whole = CliRunner().invoke(app, ["check", *words])
    monkeypatch.setattr(sys, "argv", ["installcheck", "check", *words])
    with monkeypatch.context() as patch:
        patch.setattr("installcheck.cli.commands.app", lambda: pytest.fail("the options were asked for"))
        patch.setattr("installcheck.cli.ending.end_at_once", lambda: None)
        with pytest.raises(SystemExit) as end:
            cli._command()
    printed = capsys.readouterr()
    assert (end.value.code, printed.out, printed.err) == (status, whole.stdout, whole.stderr)
    assert whole.exit_code == status


@pytest.mark.parametrize(
    "words", [["check", "--help"], ["check", "good.yaml", "--every"], ["check", "-x"], ["lists"], []]
)
def test_whatever_has_options_is_read_as_ever(folder, monkeypatch, words):
    seen = []
    monkeypatch.setattr("installcheck.cli.commands.app", lambda: seen.append(words))
    monkeypatch.setattr(sys, "argv", ["installcheck", *words])
    cli._command()
    assert seen == [words]


def test_a_check_that_finds_nothing_loads_no_more_than_it_needs(folder):
    told = (
        subprocess.run(
            [
                sys.executable,
                "-c",
                "import sys\nsys.argv = ['installcheck', 'check', 'good.yaml']\nfrom installcheck import cli\n"
                "try: cli._command()\nexcept SystemExit: print('\\n', *sys.modules)",
            ],
            capture_output=True,
            text=True,
            check=True,
        )
        .stdout.splitlines()[-1]
        .split()
    )
    heavy = {
        "networkx",
        "scipy",
        "typer",
        "jinja2",
        "starlette",
        "uvicorn",
        "openpyxl",
        "graphviz",
        "resvg_py",
        "typst",
    }
    assert "installcheck.rules.engine" in told
    assert heavy.isdisjoint(told)
    assert not [one for one in told if one.startswith(("installcheck.causes.moves", "installcheck.tracing"))]


@pytest.mark.parametrize(
    ("name", "status"), [("good.yaml", 0), ("bad.yaml", 1), ("broken.yaml", 2), ("absent.yaml", 2)]
)
def test_all_that_is_told_is_out_before_it_ends(folder, name, status):
    whole = CliRunner().invoke(app, ["check", name])
    command = [sys.executable, "-c", "from installcheck.cli import main\nmain()", "check", name]
    piped = subprocess.run(command, capture_output=True, text=True, check=False)
    assert (piped.returncode, piped.stdout, piped.stderr) == (status, whole.stdout, whole.stderr)
    with open(folder / "out", "w+", encoding="utf-8") as out:
        assert (
            subprocess.run(command, stdout=out, stderr=subprocess.DEVNULL, check=False).returncode == status
        )
        out.seek(0)
        assert out.read() == whole.stdout
