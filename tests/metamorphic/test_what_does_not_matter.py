"""What must not change a verdict: what is removed, order, units, names, a route told in more steps, a thing that joins nothing.

Each is tried by itself on every demo, and all at once on documents made from the demos by chance.
"""

import random

import pytest
from installations import NAMES, demo, made_by_chance
from same_again import (
    TELLS_OF_REMOVED,
    assert_alike,
    figures,
    in_other_units,
    new_names,
    renamed,
    reordered,
    verdicts,
    with_lonely_things,
    with_split_routes,
    with_things_taken_out,
)

CHANCES = range(200)
"""Seeds of documents made by chance."""


@pytest.mark.parametrize("name", NAMES)
def test_order_does_not_matter(name):
    plain = demo(name)
    assert_alike(figures(reordered(plain, random.Random(1))), figures(plain))


@pytest.mark.parametrize("name", NAMES)
def test_units_do_not_matter(name):
    plain = demo(name)
    assert verdicts(in_other_units(plain)) == verdicts(plain)


@pytest.mark.parametrize("name", NAMES)
def test_names_do_not_matter(name):
    plain = demo(name)
    called = new_names(plain)
    assert verdicts(renamed(plain, called)) == verdicts(plain, called=called)


@pytest.mark.parametrize("name", NAMES)
def test_a_route_told_in_more_steps_is_the_same_route(name):
    plain = demo(name)
    assert verdicts(with_split_routes(plain)) == verdicts(plain)


@pytest.mark.parametrize("name", NAMES)
def test_a_thing_that_joins_nothing_changes_no_other_verdict(name):
    plain = demo(name)
    more, lonely = with_lonely_things(plain)
    assert verdicts(more, without=lonely) == verdicts(plain)


@pytest.mark.parametrize("which", [*NAMES, *CHANCES])
def test_deleting_what_is_removed_changes_no_other_verdict(which):
    plain = demo(which) if isinstance(which, str) else made_by_chance(which)
    marked, deleted, gone = with_things_taken_out(plain, random.Random(str(which)))
    assert [v for v in verdicts(marked, without=gone) if v[0] not in TELLS_OF_REMOVED] == [
        v for v in verdicts(deleted, without=gone) if v[0] not in TELLS_OF_REMOVED
    ]


@pytest.mark.parametrize("seed", CHANCES)
def test_all_of_it_at_once(seed):
    plain = made_by_chance(seed)
    called = new_names(plain)
    other, lonely = with_lonely_things(in_other_units(with_split_routes(plain)))
    other = reordered(renamed(other, called), random.Random(seed))
    assert verdicts(other, without=lonely) == verdicts(plain, called=called)
