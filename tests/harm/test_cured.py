"""One harm of each kind put right again: the first cause names what was harmed, and the cures leave nothing wrong."""

from __future__ import annotations

from functools import cache

import pytest
from harm_cures import Righted, one_of_each_kind, righted

HARMS = one_of_each_kind()
SAMPLE = [h for h in HARMS if h.installation == "wren"][::12]
"""A few on a small installation, that run at every change."""


@cache
def outcomes() -> list[Righted]:
    return [one for one in map(righted, HARMS) if one.caught]


@pytest.mark.parametrize("harm", SAMPLE, ids=lambda h: h.name)
def test_the_first_cause_names_what_was_harmed_and_is_cured(harm):
    found = righted(harm)
    assert found.caught
    assert found.named, found.told
    assert found.cured, found.told
