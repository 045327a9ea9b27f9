"""What must not change a verdict: what is removed, order, units, names, a route told in more steps, a thing that joins nothing.

Each is tried by itself on every demo, and all at once on documents made from the demos by chance.
"""

import random
from functools import cache

import pytest
from installations import NAMES, demo, made_by_chance
from same_again import (
    TELLS_OF_REMOVED,
    assert_alike,
    figures,
    in_other_units,
    judged,
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


@cache
def as_it_is(name):
    """What is found of a demo."""
    return judged(demo(name))


@pytest.mark.parametrize("name", NAMES)
def test_order_does_not_matter(name):
    plain = demo(name)
    assert_alike(figures(judged(reordered(plain, random.Random(1)))), figures(as_it_is(name)))


@pytest.mark.parametrize("name", NAMES)
def test_units_do_not_matter(name):
    plain = demo(name)
    assert verdicts(judged(in_other_units(plain))) == verdicts(as_it_is(name))


@pytest.mark.parametrize("name", NAMES)
def test_names_do_not_matter(name):
    plain = demo(name)
    called = new_names(plain)
    assert verdicts(judged(renamed(plain, called))) == verdicts(as_it_is(name), called=called)


@pytest.mark.parametrize("name", NAMES)
def test_a_route_told_in_more_steps_is_the_same_route(name):
    plain = demo(name)
    assert verdicts(judged(with_split_routes(plain))) == verdicts(as_it_is(name))


@pytest.mark.parametrize("name", NAMES)
def test_a_thing_that_joins_nothing_changes_no_other_verdict(name):
    plain = demo(name)
    more, lonely = with_lonely_things(plain)
    assert verdicts(judged(more), without=lonely) == verdicts(as_it_is(name))


@pytest.mark.parametrize("which", [*NAMES, *CHANCES])
def test_deleting_what_is_removed_changes_no_other_verdict(which):
    plain = demo(which) if isinstance(which, str) else made_by_chance(which)
    marked, deleted, gone = with_things_taken_out(plain, random.Random(str(which)))
    assert [v for v in verdicts(judged(marked), without=gone) if v[0] not in TELLS_OF_REMOVED] == [
        v for v in verdicts(judged(deleted), without=gone) if v[0] not in TELLS_OF_REMOVED
    ]


@pytest.mark.parametrize("seed", CHANCES)
def test_all_of_it_at_once(seed):
    plain = made_by_chance(seed)
    called = new_names(plain)
    other, lonely = with_lonely_things(in_other_units(with_split_routes(plain)))
    other = reordered(renamed(other, called), random.Random(seed))
    assert verdicts(judged(other), without=lonely) == verdicts(judged(plain), called=called)
