"""Cells kept as numbered texts are the cells that were read; clocks read at once are those read one by one."""

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from installcheck.logs.cells import Cells, Column
from installcheck.logs.clock import _clock_seconds, _plain_seconds

TEXTS = st.lists(st.sampled_from(["", " 1.0", "1.0", "NA", "12:00:01", "x"]), max_size=40)


@given(TEXTS, TEXTS)
def test_cells_are_what_was_put_in(first: list[str], then: list[str]) -> None:
    column = Column()
    column.add(first)
    column.add(then)
    cells, whole = column.cells(), first + then
    assert list(cells) == whole
    assert list(cells[::3]) == whole[::3]
    assert list(cells.texts) == list(dict.fromkeys(whole))
    assert cells.counts().tolist() == [whole.count(text) for text in cells.texts]
    assert all(cells.first_row(text) == whole.index(text) for text in cells.texts)


def test_cells_of_rows() -> None:
    assert list(Cells.of(["a", "b", "a"])) == ["a", "b", "a"]


@given(
    st.lists(
        st.from_regex(r"[ \"]?[0-9]{2}:[0-9]{2}:[0-9]{2}[ \"]?|[0-9:]{8}|.{0,9}", fullmatch=True),
        min_size=1,
        max_size=9,
    )
)
def test_clocks_at_once_are_clocks_one_by_one(texts: list[str]) -> None:
    at_once = _plain_seconds(texts)
    if at_once is not None:
        np.testing.assert_array_equal(at_once, [_clock_seconds(text, False)[0] for text in texts])


def test_a_plain_clock() -> None:
    """01:02:03 is 3600 + 2 x 60 + 3 = 3723 s; 23:59:59 is 86,399 s."""
    found = _plain_seconds(["01:02:03", ' 23:59:59"'])
    assert found is not None
    assert found.tolist() == [3723.0, 86399.0]
    assert _plain_seconds(["01:02:03", "1:02:03"]) is None
