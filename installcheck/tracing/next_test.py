"""The next best test: the one whose result is expected to tell the hypotheses apart best for its effort."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from itertools import pairwise
from math import inf, log2

from ..dataclass import dataclass
from .doubts import Frame, frame_of
from .expected import Expect
from .likelihood import named, normal_cdf, told_as
from .looks import Observation, Ohms, Setup, Show, Volts, Word
from .numbers import numbers_of
from .offered import Test
from .predict import Predictor
from .ranking import Ranked, Ranking
from .weights import Weights

_ALIVE, _MOST_ALIVE = 0.001, 40
"""Share of probability below which a hypothesis is left out of the choice of a test, and how many are looked at."""
_LEADING, _CLOSER = 16, 14
"""Hypotheses that stand for all where a test is first looked at, and how many tests then are looked at closer, with all of them."""
_UNLIKE = 6
"""Hypotheses, of as many kinds as there are, that a test must tell apart to be looked at in a state that was not worked out yet."""
_FIRM = 0.8
"""Probability of what stands among all, from which what is excluded is left out of the choice."""
_EVENING = 0.6
"""Power to which shares are raised for the choice: a rare cause is parted from a usual one before the usual one is mended in vain."""
_SIZES = 2
"""Sizes of one hypothesis that stand for all its sizes."""
_APART = 1.5
"""Standard deviations by which two expected values must differ to be told as two results."""
_BLUR = 0.02
"""Chance that a word is told otherwise."""
_WORTH = 0.02
"""Bits below which a test is not worth its effort."""


@dataclass(frozen=True, slots=True)
class Outcome:
    """One result a test can have.

    Attributes:
        word: how the pointer or meter stands; else
        low, high: the least and the most that is expected, in SI.
        at: the place named with the word; empty for none.
        share: its probability.
        under: the hypotheses that expect it, with their share of it, the likeliest first.
    """

    word: Word | None
    low: float
    high: float
    share: float
    under: tuple[tuple[Ranked, float], ...]
    at: str = ""


@dataclass(frozen=True, slots=True)
class Choice:
    """A test with what it is worth.

    Attributes:
        test: the test.
        bits: how much it is expected to lessen the doubt which hypothesis it is.
        minutes: its effort.
        outcomes: results it can have, the likeliest first.
        frame: what its result is set against.
    """

    test: Test
    bits: float
    minutes: float
    outcomes: tuple[Outcome, ...]
    frame: Frame

    @property
    def worth(self) -> float:
        """Bits a minute."""
        return self.bits / self.minutes


def choices(
    predictor: Predictor,
    ranking: Ranking,
    tests: Sequence[Test],
    seen: Sequence[Observation],
    weights: Weights,
) -> list[Choice]:
    """Tests that tell the hypotheses that stand apart, the one worth most first.

    What was ``seen`` tells of tolerances and of the truth too: a test that hangs on the same is expected accordingly.
    """
    # Where little holds what stands, it is parted from what was excluded too: what was seen may have been mistaken.
    doubted = sorted(ranking.all, key=lambda r: -r.share)
    standing = ranking.standing if ranking.held > _FIRM else doubted
    alive = [r for r in standing if r.share >= _ALIVE][:_MOST_ALIVE] or list(ranking.all[:6])
    if len(alive) > _LEADING and len(tests) > _CLOSER:
        rough = _Weighing(predictor, alive[:_LEADING], 1, seen, weights)
        unlike = _Weighing(predictor, _unlike(alive[:_LEADING]), 1, seen, weights)
        told = (
            rough.choice(t)
            for t in tests
            if predictor.at_hand(t.at, t.look) or unlike.choice(t).bits >= _WORTH
        )
        tests = [c.test for c in _by_worth(told)[:_CLOSER]]
    closer = _Weighing(predictor, alive, _SIZES, seen, weights)
    return [c for c in _by_worth(closer.choice(t) for t in tests) if c.bits >= _WORTH]


def _unlike(leading: Sequence[Ranked]) -> list[Ranked]:
    """The first of each kind, and where there are few kinds the next of any."""
    kinds = [r.hypothesis.kind for r in leading]
    first = [i for i, kind in enumerate(kinds) if kind not in kinds[:i]]
    rest = [i for i in range(len(kinds)) if i not in first]
    return [leading[i] for i in (*first, *rest)[:_UNLIKE]]


def _by_worth(found: Iterable[Choice]) -> list[Choice]:
    return sorted(found, key=lambda c: (-c.worth, c.minutes))


class _Weighing:
    """What tests are worth for telling some hypotheses apart, each by some of its sizes."""

    def __init__(
        self,
        predictor: Predictor,
        alive: Sequence[Ranked],
        sizes: int,
        seen: Sequence[Observation],
        weights: Weights,
    ) -> None:
        self.predictor, self.alive, self.weights = predictor, alive, weights
        self.members = [_stand_ins(r, sizes) for r in alive]
        pairs = [(r, i, share) for r, some in zip(alive, self.members, strict=True) for i, share in some]
        self.worlds = [r.hypothesis.members[i].world for r, i, _ in pairs]
        self.shares = [share * r.share for r, _, share in pairs]
        total = sum(r.share for r in alive) or 1.0
        self.prior = [r.share / total for r in alive]
        self.seen = seen
        self.frames = [frame_of(predictor.study, o.at, o.look, weights) for o in seen]
        self.expected = [predictor.expect(o.at, o.look, self.worlds) for o in seen]
        self.known = [
            numbers_of(seen, self.frames, [e[w] for e in self.expected], weights)
            for w in range(len(self.worlds))
        ]

    def _as_seen(self, test: Test, frame: Frame, bare: Sequence[Expect]) -> list[Expect]:
        """What a test is expected to show in each world; where a pointer stands that does not move with a load that is switched, as
        it was seen, whether the world tells so or not: a look again shows it again.
        """
        found = list(bare)
        for one, told in zip(self.seen, self.expected, strict=True):
            again = _again(one)
            if again is None or one.look != test.look or not _but_for_loads(one.at, test.at):
                continue
            for w, (now, then) in enumerate(zip(bare, told, strict=True)):
                if _alike(now, then, frame.seen) and (now.value is None or again.value is None):
                    found[w] = again
        return found

    def choice(self, test: Test) -> Choice:
        """A test with what it is worth."""
        frame = frame_of(self.predictor.study, test.at, test.look, self.weights)
        bare = self.predictor.expect(test.at, test.look, self.worlds)
        given = [
            (e, 0.0) if e.value is None else k.to_come(test.look, frame, e, self.weights)
            for k, e in zip(self.known, self._as_seen(test, frame, bare), strict=True)
        ]
        bins = _bins(given)
        rows = [_chances(frame if isinstance(test.look, Show) else None, e, sd, bins) for e, sd in given]
        told: list[list[float]] = []
        at = 0
        for some in self.members:
            mixed = [0.0] * len(bins)
            for _, share in some:
                for b, p in enumerate(rows[at]):
                    mixed[b] += share * p
                at += 1
            told.append(mixed)
        bits = _information(_evened(self.prior), told)
        minutes = self.weights.effort["begin"] + self.weights.effort[test.effort]
        reaches = _reaches(bins, [e for e, _ in given], self.shares)
        return Choice(test, bits, minutes, _outcomes(self.alive, self.prior, told, bins, reaches), frame)


def _again(seen: Observation) -> Expect | None:
    """What was seen of a pointer, as it is expected again; ``None`` where it was only told whether that was right."""
    result = seen.result
    if not isinstance(seen.look, Show) or (result.value is None and result.word not in _STANDS):
        return None
    return Expect(result.value, fixed=True) if result.value is not None else Expect(word=result.word)


def _but_for_loads(one: Setup, other: Setup) -> bool:
    return replace(one, loads=()) == replace(other, loads=())


def _alike(one: Expect, other: Expect, within: float) -> bool:
    if one.word != other.word or one.value is None or other.value is None:
        return one == other
    return abs(one.value - other.value) <= within


def _evened(shares: Sequence[float]) -> list[float]:
    """Shares with those of rare causes lifted."""
    raised = [s**_EVENING for s in shares]
    return [r / sum(raised) for r in raised]


def _stand_ins(ranked: Ranked, sizes: int) -> list[tuple[int, float]]:
    """A few sizes that stand for all of a hypothesis, with the probability each stands for."""
    posterior = ranked.posterior
    if len(posterior) <= sizes:
        return list(enumerate(posterior))
    found: dict[int, float] = {}
    passed, k = 0.0, 0
    for i, p in enumerate(posterior):
        passed += p
        while k < sizes and passed >= (k + 0.5) / sizes - 1e-12:
            found[i] = found.get(i, 0.0) + 1 / sizes
            k += 1
    return list(found.items()) or [(0, 1.0)]


_STANDS: tuple[Word, ...] = ("off scale high", "off scale low", "dead", "frozen", "erratic")
"""How a pointer is told to stand where it shows no value."""
_UNSEEN = ("floats", "relaid")
"""Words of what cannot be told, which nobody sees."""
_ANYWHERE = {"frozen": 0.15, "erratic": 0.15, "starved": 0.15, "relaid": 0.05}
"""Share of its probability with which what stands so is read as one certain value: judgement of this tool."""
_Bin = tuple[Word | None, float, float, str]


def _bins(given: Sequence[tuple[Expect, float]]) -> list[_Bin]:
    """Results that can be told apart: words, and stretches of values about those that are expected."""
    expected = [e for e, _ in given]
    words = dict.fromkeys(
        ("dead" if e.word == "starved" else e.word, place)
        for e in expected
        if e.word is not None and e.word not in _UNSEEN
        for place, _ in e.places or (("", 1.0),)
    )
    bins: list[_Bin] = [(w, 0.0, 0.0, place) for w, place in words]
    values = sorted((e.value, sd) for e, sd in given if e.value is not None)
    if not values:
        return bins or [("wrong", 0.0, 0.0, "")]
    edges = [-inf]
    last, sd = values[0]
    for value, width in values[1:]:
        if value - last > _APART * (sd + width):
            edges.append((last * width + value * sd) / (sd + width))
        last, sd = value, width
    edges.append(inf)
    return bins + [(None, a, b, "") for a, b in pairwise(edges)]


def _chances(frame: Frame | None, expect: Expect, sd: float, bins: Sequence[_Bin]) -> list[float]:
    """Probability of each result; of a pointer on a dial, its ``frame``, the little that can be told at its stop considered."""
    if expect.value is None and expect.word is None:
        return [1 / len(bins)] * len(bins)
    row = [0.0] * len(bins)
    if expect.word is not None:
        row = [_of_word(expect, b) for b in bins]
    if expect.value is not None:
        valued = [_of_value(expect.value, sd, b, frame) for b in bins]
        row = [a + b for a, b in zip(row, valued, strict=True)]
    total = sum(row)
    if total <= 0:
        return [1 / len(bins)] * len(bins)
    return [(1 - _BLUR) * p / total + _BLUR / len(bins) for p in row]


def _of_word(expect: Expect, bin_: _Bin) -> float:
    """How what stands as a word is seen: as that, as one like it, or anywhere on the dial."""
    seen, word = bin_[0], expect.word
    if seen is None and word == "floats":
        return 1.0 if bin_[1] <= 0.0 < bin_[2] else 0.3
    if seen is None:
        return _ANYWHERE.get(word or "", 0.0)
    assert word is not None
    return max(told_as(word, seen), 1.0 if seen == word else 0.0) * named(expect, bin_[3])


def _of_value(value: float, sd: float, bin_: _Bin, frame: Frame | None) -> float:
    seen, low, high, _ = bin_
    if seen is None:
        if frame is not None:
            low, high = max(low, frame.low), min(high, frame.high)
        return max(0.0, normal_cdf((high - value) / sd) - normal_cdf((low - value) / sd))
    if frame is None:
        return 0.0
    if seen == "off scale high":
        return 1 - normal_cdf((frame.high - value) / sd)
    if seen == "off scale low":
        return normal_cdf((frame.low - value) / sd)
    return 0.3 * normal_cdf((frame.low - value) / sd) if seen == "dead" else 0.0


def _information(prior: Sequence[float], told: Sequence[Sequence[float]]) -> float:
    """Bits a result is expected to tell of which hypothesis it is (mutual information; Shannon 1948)."""
    bits = 0.0
    for b in range(len(told[0])):
        whole = sum(p * row[b] for p, row in zip(prior, told, strict=True))
        for p, row in zip(prior, told, strict=True):
            if p > 0 and row[b] > 0 and whole > 0:
                bits += p * row[b] * log2(row[b] / whole)
    return bits


def _reaches(
    bins: Sequence[_Bin], expected: Sequence[Expect], shares: Sequence[float]
) -> list[tuple[float, float]]:
    """The least and the most value expected within each result, by worlds that are worth a word."""
    found = []
    for word, low, high, _ in bins:
        inside = [
            (e.value, s)
            for e, s in zip(expected, shares, strict=True)
            if e.value is not None and low <= e.value < high
        ]
        most = max((s for _, s in inside), default=0.0)
        kept = [v for v, s in inside if s >= most / 20]
        found.append((min(kept), max(kept)) if kept and word is None else (0.0, 0.0))
    return found


def _outcomes(
    alive: Sequence[Ranked],
    prior: Sequence[float],
    told: Sequence[Sequence[float]],
    bins: Sequence[_Bin],
    reaches: Sequence[tuple[float, float]],
) -> tuple[Outcome, ...]:
    found = []
    for b, (word, _, _, place) in enumerate(bins):
        low, high = reaches[b]
        under = [
            (r, p * row[b])
            for r, p, row in zip(alive, prior, told, strict=True)
            if row[b] > 0.2 and p * row[b] > 0
        ]
        share = sum(p * row[b] for p, row in zip(prior, told, strict=True))
        found.append(Outcome(word, low, high, share, tuple(sorted(under, key=lambda u: -u[1])), place))
    return tuple(sorted(found, key=lambda o: -o.share))


_RANGES = {"V": (0.2, 2.0, 20.0, 200.0), "ohm": (200.0, 2e3, 2e4, 2e5, 2e6, 2e7)}
"""Ranges of a usual hand meter."""


def meter_range(choice: Choice) -> float | None:
    """The range to set on a hand meter in V or ohm; ``None`` where no meter is used."""
    look = choice.test.look
    if not isinstance(look, (Volts, Ohms)):
        return None
    values = [abs(v) for o in choice.outcomes if o.word is None for v in (o.low, o.high)]
    ranges = _RANGES["V" if isinstance(look, Volts) else "ohm"]
    return next((r for r in ranges if r >= max(values, default=0.0)), ranges[-1])
