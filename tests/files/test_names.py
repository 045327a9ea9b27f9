"""What may be shown of a text."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from installcheck.files.names import is_seen, visible


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("72 degF, 5 Ω, naïve – 表", "72 degF, 5 Ω, naïve – 表"),
        ("a\nb\tc\x7f", "a\\x0ab\\x09c\\x7f"),
        ("\u202eabc\u2066\u200b\ufeff", "\\u202eabc\\u2066\\u200b\\ufeff"),
        ("\u2028\u2029\x85", "\\u2028\\u2029\\x85"),
        ("\U000e0041", "\\U000e0041"),
    ],
)
def test_what_is_not_seen_is_written_out(text, shown):
    assert visible(text) == shown


@given(st.text(st.characters(exclude_categories=())))
def test_every_text_comes_out_as_one_seen_line(text):
    assert all(map(is_seen, visible(text)))
    visible(text).encode()
    assert len(visible(text).splitlines()) <= 1
