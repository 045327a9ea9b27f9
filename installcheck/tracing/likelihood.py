"""How likely what was seen is in each world: numbers by their doubts, words by what a person calls a reading.

Looks are taken one after another, each by what the earlier ones leave of the doubts they share, so that a tolerance counts
once however often its gauge is read.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import erf, exp, hypot, log, pi, sqrt

import numpy as np

from ..dataclass import dataclass
from .doubts import Frame
from .expected import Expect
from .looks import Look, Observation, Result, Word
from .numbers import numbers_of
from .weights import Weights

FAR = 4.0
"""Standard deviations beyond which a world does not explain what was seen: one in sixteen thousand."""
_CELL = sqrt(2 * pi)
_END_SHARE = 0.03
"""Share of its dial within which a pointer at its lower stop looks as if it showed the lowest value."""

_AS: dict[Word, dict[Word, float]] = {
    "dead": {"dead": 0.8, "off scale low": 0.3, "low": 0.7, "wrong": 1.0, "frozen": 0.1},
    "off scale low": {"off scale low": 0.8, "dead": 0.25, "low": 0.9, "wrong": 1.0},
    "off scale high": {"off scale high": 0.95, "high": 0.95, "wrong": 1.0},
    "frozen": {"frozen": 0.6, "right": 0.3, "wrong": 0.5, "high": 0.3, "low": 0.3, "dead": 0.1},
    "erratic": {
        "erratic": 0.6,
        "wrong": 0.9,
        "high": 0.3,
        "low": 0.3,
        "off scale high": 0.2,
        "off scale low": 0.2,
        "dead": 0.1,
        "still": 0.15,
    },
    "starved": {
        "dead": 0.6,
        "wrong": 0.8,
        "low": 0.4,
        "off scale low": 0.3,
        "high": 0.2,
        "off scale high": 0.2,
        "erratic": 0.3,
        "frozen": 0.1,
        "right": 0.01,
    },
    "relaid": {"right": 0.02, "wrong": 0.05, "high": 0.05, "low": 0.02},
    "right": {"right": 0.97, "wrong": 0.03, "lost": 0.02},
    "wrong": {"wrong": 0.95, "right": 0.05},
    "open": {"open": 0.99},
    "closed": {"open": 0.01},
    "holds": {"holds": 0.95, "still": 0.03},
    "falls": {"falls": 0.95},
    "still": {"still": 0.95, "holds": 0.03, "erratic": 0.03},
    "moves": {"moves": 0.97},
    "lost": {"lost": 0.97, "right": 0.004},
}
"""How what stands in the first place is told by a person, by the words of the second: judgement of this tool."""
_BLIND_SHARE: dict[Word | None, float] = {"frozen": 1.0, "erratic": 0.15, "starved": 0.03, "relaid": 0.1}
"""How likely a pointer that stands so is read as a value at all, which may then be any: judgement of this tool."""
_LIKE_DRAWN = 0.05
"""Probability of any one reading of ohms that no figure is known of: as if one of twenty near those of the part drawn."""
_NOTHING_V = 0.05
"""V within which a meter on what nothing holds reads next to nothing."""
_READS_NONE = 0.3
"""Probability that it reads so in one certain way; else it may show anything: judgement of this tool."""
_NEVER = 1e-12
"""Probability below which a result is never seen in a world."""
_CLEARLY = 1.5
"""Times its margin an indication is off before a person calls it wrong: judgement of this tool."""
_STANDS, _ILL_TOLD = 0.5, 0.002
"""Probability that a pointer that does stand still is called so, and that a sound one is, or is said to jump."""
_UNTOLD = 0.3
"""Probability of any word where nothing can be predicted."""


@dataclass(frozen=True, slots=True)
class Fit:
    """How one world fits what was seen.

    Attributes:
        log: logarithm of the likelihood, mistakes of the observer allowed for.
        raw: the same without that allowance, to seek the best size by.
        against: number of the observation it contradicts most; -1 if none.
    """

    log: float
    raw: float
    against: int


def told_as(stands: Word, told: Word) -> float:
    """How likely a person tells a pointer or meter that stands in one way by a word."""
    return _AS.get(stands, {}).get(told, 0.0)


_ELSEWHERE = 0.002
"""Probability that a person names one certain place that is not the one expected."""


def named(expect: Expect, place: str) -> float:
    """How likely a person who tells the word of a world names a place with it; no place tells nothing."""
    if not place:
        return 1.0
    return dict(expect.places).get(place, _ELSEWHERE if expect.places else 0.1)


def normal_cdf(z: float) -> float:
    """Share of a normal distribution below ``z`` standard deviations."""
    return 0.5 * (1 + erf(z / sqrt(2)))


def fits(
    seen: Sequence[Observation],
    frames: Sequence[Frame],
    expected: Sequence[Sequence[Expect]],
    weights: Weights,
) -> list[Fit]:
    """How each world fits; ``expected`` by observation, then by world."""
    count = len(expected[0]) if expected else 0
    return [_fit(seen, frames, [e[w] for e in expected], weights) for w in range(count)]


def _fit(
    seen: Sequence[Observation], frames: Sequence[Frame], expected: Sequence[Expect], weights: Weights
) -> Fit:
    misread = weights.doubts["misread"]
    total, raw, worst, against = 0.0, 0.0, 1.0, -1
    numbers = numbers_of(seen, frames, expected, weights)
    for i, (one, frame, expect) in enumerate(zip(seen, frames, expected, strict=True)):
        if i in numbers.which:
            continue
        p = chance(one.result, frame, expect, one.look, weights)
        kept = (1 - misread) * p + misread * _blind(one.result, frame)
        total += log(kept)
        raw += log(p) if p > _NEVER else _distance(one.result, frame, expect)
        told = expect.value is not None or expect.word is not None
        if (
            told
            and p < (misread if one.result.value is None else misread * _blind(one.result, frame))
            and p < worst
        ):
            worst, against = p, i
    for i, apart, sd in zip(
        numbers.which, numbers.apart.tolist(), np.diag(numbers.root).tolist(), strict=True
    ):
        cell = frames[i].seen
        p = min(1.0, cell / (sd * _CELL) * exp(-0.5 * min(apart * apart, 1400.0)))
        other = expected[i].word
        if other is not None:
            value = seen[i].result.value
            assert value is not None
            p = (p + _number(value, frames[i], other)) / 2
        kept = (1 - misread) * p + misread * min(1.0, cell / frames[i].span)
        total += log(kept)
        raw += log(min(1.0, cell / (sd * _CELL))) - 0.5 * apart * apart
        if other is None and abs(apart) > FAR and exp(-0.5 * min(apart * apart, 1400.0)) < worst:
            worst, against = exp(-0.5 * min(apart * apart, 1400.0)), i
    return Fit(total, raw, against)


def _distance(result: Result, frame: Frame, expect: Expect) -> float:
    """How hopeless a world is: by how far from its stop a pointer was seen that should stand there."""
    stop = {"off scale high": frame.stops[1], "off scale low": frame.stops[0], "dead": frame.low}.get(
        expect.word or ""
    )
    if result.value is None or stop is None:
        return log(_NEVER)
    sd = hypot(*(s for _, s in frame.doubts)) or frame.seen
    return log(_NEVER) - 0.5 * ((result.value - stop) / sd) ** 2


def _blind(result: Result, frame: Frame) -> float:
    """What a mistaken observer sees: anything."""
    return min(1.0, frame.seen / frame.span) if result.value is not None else 0.1


def chance(result: Result, frame: Frame, expect: Expect, look: Look, weights: Weights) -> float:
    """Probability of a result, other than of a number where a number is expected."""
    if expect.value is None and expect.word is None:
        return _blind(result, frame) if result.value is not None else _UNTOLD
    if result.value is not None:
        return _number(result.value, frame, expect.word)
    assert result.word is not None
    stood = told_as(expect.word, result.word) * named(expect, result.at) if expect.word is not None else 0.0
    if expect.value is None:
        return stood
    sd = hypot(*(s for _, s in frame.doubts_at(look, expect, weights))) or frame.seen
    valued = _word(result.word, frame, expect, sd)
    return valued if expect.word is None else (valued + stood) / 2


def _number(value: float, frame: Frame, word: Word | None) -> float:
    """Probability that a pointer that stands as ``word`` says is read as a value."""
    if word == "closed":
        return _LIKE_DRAWN
    if word == "floats":
        return _READS_NONE if abs(value) < _NOTHING_V else min(1.0, frame.seen / frame.span)
    if word in _BLIND_SHARE:
        return _BLIND_SHARE[word] * min(1.0, frame.seen / frame.span)
    near = (
        (value - frame.stops[0]) / frame.span
        if word in ("off scale low", "dead")
        else (frame.stops[1] - value) / frame.span
    )
    if word in ("off scale low", "dead", "off scale high") and near <= _END_SHARE:
        return 0.3
    return 0.0


def _word(word: Word, frame: Frame, expect: Expect, sd: float) -> float:
    """Probability that a person tells a value by a word."""
    value = expect.value
    assert value is not None
    if word == "off scale high":
        return 1 - normal_cdf((frame.stops[1] - value) / sd)
    if word == "off scale low":
        return normal_cdf((frame.stops[0] - value) / sd)
    if word == "dead":
        return 0.5 * normal_cdf((frame.low + _END_SHARE * frame.span - value) / sd)
    if word == "frozen":
        return _STANDS if expect.fixed else _ILL_TOLD
    if word == "erratic":
        return _ILL_TOLD
    if word == "open":
        return 0.0
    if frame.true is None:
        return _UNTOLD
    off = value - frame.true
    most = frame.margin if word == "right" else _CLEARLY * frame.margin
    below, above = normal_cdf((-most - off) / sd), 1 - normal_cdf((most - off) / sd)
    return {"right": 1 - below - above, "wrong": below + above, "high": above, "low": below}.get(word, 0.0)
