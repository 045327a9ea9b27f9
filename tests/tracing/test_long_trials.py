"""The trials over the demos and other installations: every kind of single fault, spread evenly over the documents, by chance.

Run with ``pytest tests/tracing/test_long_trials.py -m long -n 0 -s``: some ten minutes in one process, the figures printed.
``INSTALLCHECK_TRIALS`` sets how many trials there are, ``INSTALLCHECK_SEED`` which.
"""

import os
from collections import Counter
from statistics import median

import pytest
from trace_pairs import one_for_two, two_at_once
from trace_trials import documents, stratified

TRIALS = int(os.environ.get("INSTALLCHECK_TRIALS", "200"))
SEED = int(os.environ.get("INSTALLCHECK_SEED", "1"))
MOST_TESTS, SHARE, KINDS = 4, 0.9, 25
"""Tests after which the right one stands first, in at least this share of trials, of at least so many kinds of fault."""
EACH = max(1, TRIALS // 100)
"""Trials of two complaints on each document."""
FALSE = 0.05
"""Share of single faults that may be told as two, at most."""


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
    assert len(kinds) >= min(KINDS, TRIALS // 4)  # a small run meets fewer
    assert median(numbers) <= MOST_TESTS
    assert len(made) - len(late) >= SHARE * len(made)
    assert not excluded


@pytest.mark.long
def test_two_faults_that_both_show_are_told_as_not_explained_by_one():
    ends = [end for plain in documents().values() for end in two_at_once(plain, EACH, SEED)]
    for end in ends:
        if not end.two and not end.beside:
            print(f"taken for one: {end}")
    told = sum(end.two or end.beside for end in ends)
    print(
        f"two at once: {told} of {len(ends)} told, {sum(end.beside for end in ends)} of them beside one; the pair first in "
        f"{sum(end.first for end in ends)}"
    )
    assert ends
    assert told >= SHARE * len(ends)


@pytest.mark.long
def test_one_fault_that_two_indications_show_is_not_told_as_two():
    ends = [end for plain in documents().values() for end in one_for_two(plain, EACH, SEED)]
    known = [end for end in ends if end.thought_of]
    for end in ends:
        if end.two or end.excluded or not end.thought_of:
            print(f"{'' if end.thought_of else 'not thought of: '}{end}")
    told = sum(end.two for end in known)
    print(
        f"one for two: {told} of {len(known)} told as two, {sum(end.beside for end in known)} with two beside it; "
        f"{sum(end.first for end in known)} right first"
    )
    assert known
    assert told <= FALSE * len(known)
    assert not [end for end in known if end.excluded]
