"""Harms of several kinds put right again: the first cause names what was harmed, and the cures leave nothing wrong."""

from __future__ import annotations

import pytest
from harm import KINDS
from harm_cures import one_of_each_kind, righted

SAMPLE = [h for h in one_of_each_kind() if h.installation == "wren" and not KINDS[h.kind].practice][::9]
"""Some of those that break a rule, on a small installation."""


@pytest.mark.parametrize("harm", SAMPLE, ids=lambda h: h.name)
def test_the_first_cause_names_what_was_harmed_and_is_cured(harm):
    found = righted(harm)
    assert found.caught
    assert found.named, found.told
    assert found.cured, found.told
