"""Single harmful edits of right installations: each is told, at the thing that was harmed or by its name."""

import pytest
from harm import INSTALLATIONS, KINDS, caught, harms
from harm_misses import MISSES

HARMS = harms()
SAMPLE = HARMS[:: len(HARMS) // 60]
"""Some sixty of them, spread over kinds and installations, that run at every change."""


def judge(harm):
    """A harm is caught, or stands in the list of misses; what is caught is struck from that list."""
    if harm.name in MISSES:
        assert not caught(harm), "it is caught now: strike it from the list of misses"
        pytest.xfail(MISSES[harm.name])
    assert caught(harm), KINDS[harm.kind].why


@pytest.mark.parametrize("harm", SAMPLE, ids=lambda h: h.name)
def test_a_harm_is_told_where_it_was_done(harm):
    judge(harm)


@pytest.mark.harm_all
@pytest.mark.parametrize("harm", HARMS, ids=lambda h: h.name)
def test_every_harm_is_told_where_it_was_done(harm):
    judge(harm)


def test_the_list_is_long_enough_and_each_harm_has_a_name_of_its_own():
    assert len(HARMS) >= 300
    assert len({h.kind for h in HARMS}) == len(KINDS) >= 25
    assert {h.installation for h in HARMS} == set(INSTALLATIONS)
    assert len({h.name for h in HARMS}) == len(HARMS)


def test_the_misses_are_of_the_list_and_few():
    assert set(MISSES) <= {h.name for h in HARMS}
    assert all(MISSES.values())
