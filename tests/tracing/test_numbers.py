"""Numbers that hang on the same: what one tells of another."""

from math import sqrt

import pytest

from installcheck.tracing.doubts import Frame
from installcheck.tracing.expected import Expect
from installcheck.tracing.looks import Observation, Result, Setup, Show
from installcheck.tracing.numbers import numbers_of
from installcheck.tracing.weights import standard_weights

LOOK, WEIGHTS = Show("gauge"), standard_weights()
FRAME = Frame(0.0, 100.0, 50.0, 3.0, 10.0, (("noise", 3.0), ("gauge", 4.0)))


def seen(value: float) -> Observation:
    return Observation(Setup(), LOOK, Result(value), "")


def test_what_one_number_tells_of_the_next():
    """Reading 3, the gauge itself 4: variance 9 + 16 = 25, 16 of it shared. Seen 6 above what is expected, the next is expected
    16/25 x 6 = 3.84 above, and 25 - 16 x 16/25 = 14.76 is left of its variance.
    """
    known = numbers_of([seen(56.0)], [FRAME], [Expect(50.0)], WEIGHTS)
    expect, sd = known.to_come(LOOK, FRAME, Expect(20.0), WEIGHTS)
    assert expect.value == pytest.approx(23.84)
    assert sd == pytest.approx(sqrt(14.76))


def test_two_numbers_tell_more_than_one():
    """Their mean has the variance 16 + 9/2 = 20.5; seen 6 above, the next is expected 16/20.5 x 6 = 4.683 above."""
    known = numbers_of([seen(56.0), seen(56.0)], [FRAME] * 2, [Expect(50.0)] * 2, WEIGHTS)
    expect, sd = known.to_come(LOOK, FRAME, Expect(50.0), WEIGHTS)
    assert expect.value == pytest.approx(54.683, abs=1e-3)
    assert sd == pytest.approx(sqrt(25 - 16 * 16 / 20.5))


def test_a_number_that_hangs_on_nothing_else_tells_nothing_of_it():
    other = Frame(0.0, 100.0, 50.0, 3.0, 10.0, (("noise", 3.0), ("another gauge", 4.0)))
    known = numbers_of([seen(56.0)], [FRAME], [Expect(50.0)], WEIGHTS)
    assert known.to_come(LOOK, other, Expect(20.0), WEIGHTS) == (Expect(20.0), pytest.approx(5.0))


def test_a_number_far_off_was_misread_and_moves_little():
    """Three standard deviations of 5 at most: 16/25 x 15 = 9.6."""
    known = numbers_of([seen(100.0)], [FRAME], [Expect(10.0)], WEIGHTS)
    assert known.to_come(LOOK, FRAME, Expect(10.0), WEIGHTS)[0].value == pytest.approx(19.6)


def test_words_are_no_numbers():
    word = Observation(Setup(), LOOK, Result(word="dead"), "")
    known = numbers_of(
        [word, seen(56.0), seen(56.0)],
        [FRAME] * 3,
        [Expect(50.0), Expect(50.0), Expect(word="dead")],
        WEIGHTS,
    )
    assert known.which == (1,)
