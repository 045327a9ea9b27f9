"""The trials over the demos and other installations: every kind of single fault, spread evenly over the documents, by chance.

Run with ``pytest tests/tracing/test_long_trials.py -m long -n 0 -s``: some seven minutes in one process, the figures printed.
``INSTALLCHECK_TRIALS`` sets how many trials there are, ``INSTALLCHECK_SEED`` which.
"""

import os
from collections import Counter
from statistics import median

import pytest
from trace_trials import documents, stratified, two_at_once

TRIALS = int(os.environ.get("INSTALLCHECK_TRIALS", "200"))
SEED = int(os.environ.get("INSTALLCHECK_SEED", "1"))
MOST_TESTS, SHARE, KINDS = 4, 0.9, 25
"""Tests after which the right one stands first, in at least this share of trials, of at least so many kinds of fault."""


@pytest.mark.long
def test_the_right_one_stands_first_after_few_tests():
    made = list(stratified(TRIALS, SEED))
    late = [(name, t) for name, t in made if t.tests is None or t.tests > MOST_TESTS]
    excluded = [(name, t) for name, t in made if t.excluded is not None]
    for name, t in (*late, *excluded):
        print(f"{name}: {t.fault}: {t.tests} tests, excluded {t.excluded}, first {t.first[:3]} {t.likeliest}")
    numbers = [t.tests if t.tests is not None else 99 for _, t in made]
    firm = sum(t.firm is not None and t.firm <= MOST_TESTS for _, t in made)
    kinds = Counter(t.fault.partition(" (")[0] for _, t in made)
    print(
        f"{len(made)} trials of {len(kinds)} kinds, median {median(numbers)} tests; {len(late)} late, {len(excluded)} excluded; "
        f"{firm} after {MOST_TESTS} tests with none level that a test could part"
    )
    assert len(kinds) >= KINDS
    assert median(numbers) <= MOST_TESTS
    assert len(made) - len(late) >= SHARE * len(made)


@pytest.mark.long
def test_two_at_once_are_not_taken_for_one_that_is_neither():
    plains = list(documents().values())
    ends = Counter(end for plain in plains for _, end in two_at_once(plain, TRIALS // len(plains) + 1, SEED))
    print(f"two at once: {dict(ends)}")
    assert ends["told"] + ends["one"] + ends["open"] >= SHARE * ends.total()
