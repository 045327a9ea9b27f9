"""Harms of several kinds put right again: the first cause names what was harmed, and the cures leave nothing wrong."""

from __future__ import annotations

import pytest
from harm_cures import one_of_each_kind, righted

CURED = (
    "no grommet",
    "wire left off",
    "red line off the limit",
    "coarse indicator",
    "no restrictor at the source",
    "hose past its life",
    "rigid line from engine to airframe",
    "line too weak for its pressure",
    "protector above its wire",
    "battery of another voltage",
    "battery reversed",
)
"""Kinds of harm whose opposite is a change that a person would make."""
AT_ANOTHER = ("couple leads exchanged",)
"""Kinds that the smallest installation has no place for."""
SAMPLE = [
    h for h in one_of_each_kind() if (h.kind in CURED and h.installation == "wren") or h.kind in AT_ANOTHER
]


def test_the_kinds_are_those_of_the_list():
    assert {h.kind for h in SAMPLE} == {*CURED, *AT_ANOTHER}


@pytest.mark.parametrize("harm", SAMPLE, ids=lambda h: h.name)
def test_the_first_cause_names_what_was_harmed_and_is_cured(harm):
    found = righted(harm)
    assert found.caught
    assert found.named, found.told
    assert found.cured, found.told
