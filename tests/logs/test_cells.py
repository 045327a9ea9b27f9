"""Cells kept as numbered texts are the cells that were read; clocks read at once are those read one by one."""

import random

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from installcheck.logs import cells as logs_cells
from installcheck.logs.cells import Cells, Column, Words
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


def as_words(texts: list[str]) -> Words:
    """Texts of up to 16 bytes as two words each."""
    return np.frombuffer(b"".join(text.encode().ljust(16, b"\0") for text in texts), "<u8").reshape(-1, 2).T


@pytest.mark.parametrize("largest", [256, 1 << 18])
def test_words_are_the_texts_they_stand_for(monkeypatch: pytest.MonkeyPatch, largest: int) -> None:
    """Also where the table is far too small for all texts, and some came as text before."""
    monkeypatch.setattr(logs_cells, "_LARGEST_TABLE", largest)
    chance = random.Random(4)
    whole = [
        chance.choice(
            (
                "",
                "é",
                "ab" * 8,
                f"abcdefgh{chance.randrange(900)}",
                f"{chance.gauss(300, 40):.1f}",
                "12:00:01",
            )
        )
        for _ in range(6000)
    ]
    column = Column()
    for at in range(0, 6000, 500):
        some = whole[at : at + 500]
        if at == 1000:
            column.add(some)
        else:
            words = as_words(some)
            column.add_words(words if words[1].any() else words[:1])
    cells = column.cells()
    assert list(cells) == whole
    assert cells.counts().sum() == 6000
    if largest > 256:
        assert len(cells.texts) < 2.2 * len(set(whole))
    turned = column.cells(np.arange(5999, -1, -1))
    assert list(turned) == whole[::-1]


def test_a_second_word_may_come_later_or_be_gone() -> None:
    column = Column()
    column.add_words(as_words(["a", "b"])[:1])
    column.add_words(as_words(["a", "abcdefgh1", "abcdefgh2"]))
    column.add_words(as_words(["b", ""])[:1])
    cells = column.cells()
    assert list(cells) == ["a", "b", "a", "abcdefgh1", "abcdefgh2", "b", ""]
    assert sorted(cells.texts) == ["", "a", "abcdefgh1", "abcdefgh2", "b"]


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
