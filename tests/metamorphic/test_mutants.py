"""What must not change a verdict changes none of a spoilt document either, as long as it can be read.

A sample runs with every test run, one way of telling it otherwise for each; ``INSTALLCHECK_MUTANTS=100000`` runs as many as it says.
"""

import os
import random

import pytest
import same_again as told
from installations import text_of
from mutants import mutant

from installcheck.document import DocumentError, loads

COUNT = int(os.environ.get("INSTALLCHECK_MUTANTS", "500"))
LOTS = 10


def _order(plain, chance):
    told.assert_alike(told.figures(told.reordered(plain, chance)), told.figures(plain))


def _units(plain, _):
    assert told.verdicts(told.in_other_units(plain)) == told.verdicts(plain)


def _names(plain, _):
    called = told.new_names(plain)
    assert told.verdicts(told.renamed(plain, called)) == told.verdicts(plain, called=called)


def _steps(plain, _):
    assert told.verdicts(told.with_split_routes(plain)) == told.verdicts(plain)


def _lonely(plain, _):
    more, lonely = told.with_lonely_things(plain)
    assert told.verdicts(more, without=lonely) == told.verdicts(plain)


def _removed(plain, chance):
    marked, deleted, gone = told.with_things_taken_out(plain, chance)
    assert [v for v in told.verdicts(marked, without=gone) if v[0] not in told.TELLS_OF_REMOVED] == [
        v for v in told.verdicts(deleted, without=gone) if v[0] not in told.TELLS_OF_REMOVED
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
