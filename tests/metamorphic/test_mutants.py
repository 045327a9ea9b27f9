"""What must not change a verdict changes none of a spoilt document either, as long as it can be read.

A sample runs with every test run, one way of telling it otherwise for each; ``INSTALLCHECK_MUTANTS=100000`` runs as many as it says.
"""

import os
import random

import pytest
from installations import text_of
from mutants import mutant
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

from installcheck.document import DocumentError, loads

COUNT = int(os.environ.get("INSTALLCHECK_MUTANTS", "500"))
LOTS = 10


def _order(plain, chance):
    assert_alike(figures(reordered(plain, chance)), figures(plain))


def _units(plain, _):
    assert verdicts(in_other_units(plain)) == verdicts(plain)


def _names(plain, _):
    called = new_names(plain)
    assert verdicts(renamed(plain, called)) == verdicts(plain, called=called)


def _steps(plain, _):
    assert verdicts(with_split_routes(plain)) == verdicts(plain)


def _lonely(plain, _):
    more, lonely = with_lonely_things(plain)
    assert verdicts(more, without=lonely) == verdicts(plain)


def _removed(plain, chance):
    marked, deleted, gone = with_things_taken_out(plain, chance)
    assert [v for v in verdicts(marked, without=gone) if v[0] not in TELLS_OF_REMOVED] == [
        v for v in verdicts(deleted, without=gone) if v[0] not in TELLS_OF_REMOVED
    ]


WAYS = (_order, _units, _names, _steps, _lonely, _removed)


@pytest.mark.parametrize("lot", range(LOTS))
def test_a_spoilt_document_told_otherwise_has_the_same_verdicts(lot):
    tried = 0
    for seed in range(lot, COUNT, LOTS):
        origin, plain = mutant(seed)
        try:
            loads(text_of(plain))
        except DocumentError:
            continue
        tried += 1
        way = WAYS[seed % len(WAYS)]
        try:
            way(plain, random.Random(seed))
        except Exception as fault:
            raise AssertionError(f"mutant {seed} ({origin}){way.__name__}") from fault
    assert tried
