"""A sheet is laid out once, however often it is asked whether it fits, numbered, and written."""

from collections import Counter

import pytest

from installcheck import check
from installcheck.document import load
from installcheck.drawing.layout import Draft
from installcheck.outputs.diagram.sheets import Subject, sheets
from installcheck.outputs.diagram.write import write_sheets


@pytest.fixture
def laid_out(monkeypatch):
    """How often each draft was laid out: a draft is one set of things on paper at one spacing."""
    counted: Counter[int] = Counter()
    kept = []
    lay_out = Draft.lay_out

    def count(self, room):
        kept.append(self)
        counted[id(self)] += 1
        return lay_out(self, room)

    monkeypatch.setattr(Draft, "lay_out", count)
    return counted


@pytest.mark.parametrize("name", ["before", "retrofit", "retrofit_corrected", "twin"])
def test_sheets_of_a_command_are_laid_out_once(name, demo_folder, tmp_path, laid_out):
    document = load(demo_folder / f"{name}.yaml")
    made = sheets(document, check(document), list(Subject))
    drawn = [sheet for sheet in made if not sheet.is_list]
    in_splitting = sum(laid_out.values())
    # Beside the sheets that are kept: those that only once arranged came out too wide or too high.
    assert len(drawn) <= in_splitting <= 1.5 * len(drawn)
    write_sheets(made, tmp_path / "d.svg")
    # Both spacings of a sheet are tried where either may come out larger.
    once_written = sum(laid_out.values())
    assert once_written <= 2 * len(drawn)
    write_sheets(made, tmp_path / "e.svg")
    write_sheets(made, tmp_path / "d.pdf")
    assert sum(laid_out.values()) == once_written
    assert set(laid_out.values()) == {1}
