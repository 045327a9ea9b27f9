"""The bars of an error by cause: to scale, each with its name and number, none over another."""

from dataclasses import replace
from itertools import combinations
from pathlib import Path

import pytest

from installcheck.analysis import missing
from installcheck.analysis.study import Study
from installcheck.document import load
from installcheck.drawing.ink import HATCH, Text
from installcheck.drawing.ink import Path as Stroke
from installcheck.drawing.text_width import text_width
from installcheck.outputs.plots.budget_bars import budget_page
from installcheck.rules.indications.budgets import all_budgets


@pytest.fixture(scope="module")
def budgets(demo_folder: Path):
    found = all_budgets(Study(load(demo_folder / "retrofit.yaml")))
    assert len(found) > 5
    return found


def test_each_cause_has_a_bar_to_scale(budgets):
    for budget in budgets:
        page = budget_page(budget)
        bars = [ink for ink in page.inks if isinstance(ink, Stroke) and ink.closed]
        amounts = [(cause.amount, cause.tolerance) for cause in budget.causes]
        amounts += [(budget.error, False)] if budget.error is not None else []
        assert [bar.fill == HATCH for bar in bars] == [tolerance for _, tolerance in amounts]
        lengths = [bar.points[1][0] - bar.points[0][0] for bar in bars]
        # A tolerance reaches as far to either side.
        told = [abs(amount) * (2 if tolerance else 1) for amount, tolerance in amounts]
        if not told:
            continue
        largest = max(range(len(told)), key=told.__getitem__)
        for length, amount in zip(lengths, told, strict=True):
            assert length == pytest.approx(lengths[largest] * amount / told[largest], abs=1e-6)


def test_texts_stand_clear(budgets):
    for budget in budgets:
        page = budget_page(budget)
        boxes = []
        for ink in page.inks:
            if isinstance(ink, Text):
                wide = text_width(ink.text, ink.size, bold=ink.bold)
                left = ink.x - (wide if ink.anchor == "end" else 0.0)
                boxes.append((left, ink.y - 0.75 * ink.size, left + wide, ink.y + 0.2 * ink.size))
        assert all(
            left >= 0 and right <= page.width and bottom <= page.height for left, _, right, bottom in boxes
        )
        for a, b in combinations(boxes, 2):
            assert not (a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3])


def test_what_is_not_known_has_no_bar(budgets):
    whole = next(b for b in budgets if b.error is not None and not b.missing)
    lacking = replace(whole, missing=(missing.SENDER_TOLERANCE, missing.INDICATOR_INNER))
    before, page = budget_page(whole), budget_page(lacking)
    bars = [[ink for ink in p.inks if isinstance(ink, Stroke) and ink.closed] for p in (before, page)]
    assert len(bars[0]) == len(bars[1])
    texts = [ink.text for ink in page.inks if isinstance(ink, Text)]
    assert texts.count("not known") == 2
    assert {"tolerance of the sender", "inner resistance of the indicator", "what is known"} <= {*texts}
    assert "all together" not in texts
    assert texts[-1].endswith("without what is not known")
    assert page.height > before.height


def test_budget_of_which_nothing_is_known(budgets):
    empty = replace(budgets[0], indicated=None, causes=(), missing=(missing.INDICATOR_CIRCUIT,))
    page = budget_page(empty)
    assert [type(ink) for ink in page.inks] == [Text, Text]
