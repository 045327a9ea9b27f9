"""Forms of files: what the ending picks, and what is told where a form needs a package that is not there."""

from pathlib import Path

import pytest
from typer.testing import CliRunner

from installcheck.cli.commands import app
from installcheck.files.writing import OutputError
from installcheck.outputs import pages
from installcheck.outputs.pages import require_form


@pytest.fixture
def no_pdf(monkeypatch):
    monkeypatch.setattr(pages, "find_spec", lambda name: None)


def test_the_ending_picks_the_form():
    assert require_form(Path("sheet.SVG")) == ".svg"
    with pytest.raises(OutputError, match=r"must end in \.svg, \.png, \.pdf"):
        require_form(Path("sheet.txt"))


def test_a_missing_extra_is_named_with_the_command_that_brings_it(no_pdf):
    with pytest.raises(OutputError, match=r"'typst', which is not installed.*pip install '\.\[pdf\]'"):
        require_form(Path("sheet.pdf"))
    assert require_form(Path("sheet.png")) == ".png"


def test_a_record_says_so_before_the_document_is_read(no_pdf, tmp_path):
    told = CliRunner().invoke(app, ["report", str(tmp_path / "none.yaml"), "--out", str(tmp_path / "r.pdf")])
    assert told.exit_code == 2
    assert "pip install '.[pdf]'" in told.stderr
    assert "none.yaml" not in told.stderr
