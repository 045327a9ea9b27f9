"""The picture of a cause, cropped to its place."""

import pytest

from installcheck.drawing.ink import Page, Text
from installcheck.drawing.text_width import text_width
from installcheck.outputs.report.by_cause import _whole_words


def _page(*words):
    return Page(600, 300, "", words, ("", ""))


def test_a_picture_grows_to_the_end_of_a_word():
    wide = text_width("E6 B shielded", 8.0)
    page = _page(Text(100, 50, "sender", 8.0), Text(300, 52, "E6 B shielded", 8.0))
    box = _whole_words(page, (90.0, 30.0, 310.0, 89.0), (0.0, 0.0, 600.0, 300.0))
    assert box == pytest.approx((90, 30, 300 + wide + 2, 89))  # 2 pt are left beside it


def test_a_long_word_at_the_edge_is_left_out():
    long = "x" * 60
    assert text_width(long, 8.0) > 80  # more than a picture grows
    box = _whole_words(_page(Text(190, 50, long, 8.0)), (90.0, 30.0, 200.0, 89.0), (0.0, 0.0, 600.0, 300.0))
    assert box == (90.0, 30.0, 188.0, 89.0)  # in to where it begins


def test_below_the_nearer_way_is_taken():
    # its letters reach from y - 8 to y + 2: 82 to 92, of which 89 leaves 3 below and 7 above
    box = _whole_words(_page(Text(100, 90, "2 -", 8.0)), (90.0, 30.0, 200.0, 89.0), (0.0, 0.0, 600.0, 300.0))
    assert box == (90.0, 30.0, 200.0, 94.0)
