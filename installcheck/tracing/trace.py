"""One step of tracing: from what was seen, what could be wrong, what that excludes, and the next best test."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from math import hypot

from ..analysis.study import Study
from ..dataclass import dataclass
from .candidates import tests_for
from .channels import Channel, channel_of, channels
from .doubts import Frame, frame_of
from .expected import Expect
from .hypotheses import Hypothesis
from .in_conditions import in_conditions
from .in_devices import in_devices
from .in_lines import in_lines
from .in_plugs import in_plugs
from .in_synchros import in_synchros
from .in_wiring import in_wiring
from .likelihood import fits
from .looks import (
    Answers,
    Compared,
    Followed,
    Holding,
    Insulated,
    Marked,
    Observation,
    Ohms,
    Rung,
    Shaken,
    Show,
    TrueValue,
    Volts,
)
from .next_test import Choice, choices
from .pairs import of_all, of_two_indications
from .predict import Predictor
from .ranking import Ranked, Ranking, joined, rank
from .safety import Danger, dangers, kept_safe
from .weights import Weights, standard_weights

_RATHER = 0.9
"""Probability from which it is told to be two at once."""
_FEW = 4
"""Indications that misbehave, up to which two faults at once are thought of before no single one is left."""


@dataclass(frozen=True, slots=True)
class Trace:
    """What is known after some observations.

    Attributes:
        study: the installation.
        seen: what was seen.
        bad: indications that misbehave, by what was seen.
        ranking: what could be wrong.
        pairs: two faults at once, ranked; where no single one explains everything, or several indications misbehave.
        dangers: indications that are taken for true before anything is tested.
        tests: tests that tell what stands apart, the best first; while a danger stands, those that run the engine last.
        weights: the figures taken by judgement.
        sound: whether everything that was seen is as it should be.
        two: probability that it is two at once.
        left_over: values that were seen and that the likeliest one does not explain: so far off that a person looks for a fault.
    """

    study: Study
    seen: tuple[Observation, ...]
    bad: tuple[Channel, ...]
    ranking: Ranking
    pairs: Ranking | None
    dangers: tuple[Danger, ...]
    tests: tuple[Choice, ...]
    weights: Weights
    sound: bool = False
    two: float = 0.0
    left_over: tuple[Observation, ...] = ()

    @property
    def explained(self) -> bool:
        """Whether one fault explains everything that was seen, and better than two."""
        return bool(self.ranking.standing) and not self.ranking.poor and self.two < _RATHER

    @property
    def shown(self) -> tuple[Ranked, ...]:
        """What stands, of single faults where one explains, else of two at once."""
        two = self.pairs is not None and self.pairs.standing and not self.explained
        return self.pairs.standing if two and self.pairs is not None else self.ranking.standing


class Tracer:
    """A trace that goes on as more is seen; what was worked out once is kept."""

    def __init__(self, study: Study, weights: Weights | None = None, altered: Sequence[str] = ()) -> None:
        self.study, self.weights = study, weights or standard_weights()
        self.altered = tuple(altered)
        self.predictor = Predictor(study)
        self._hypotheses: dict[tuple[Channel, ...], list[Hypothesis]] = {}

    def step(self, seen: Sequence[Observation]) -> Trace:
        """What follows from everything seen so far."""
        meant, bad, ranking = self.ranked(seen)
        pairs = self._pairs(ranking, meant, bad) if meant and ranking.all else None
        both, two = joined(ranking, pairs) if pairs is not None else (ranking, 0.0)
        tests = choices(self.predictor, both, tests_for(self.study, bad, seen), seen, self.weights)
        against = dangers(self.study, meant, self.weights)
        safe = tuple(kept_safe(self.study, tests, against))
        sound = _as_it_should_be(self.predictor, meant, self.weights)
        left = tuple(self._left_over(ranking, meant))
        return Trace(
            self.study, tuple(meant), bad, ranking, pairs, against, safe, self.weights, sound, two, left
        )

    def ranked(
        self, seen: Sequence[Observation]
    ) -> tuple[tuple[Observation, ...], tuple[Channel, ...], Ranking]:
        """What was meant by what was seen, the indications that misbehave by it, and what could be wrong."""
        meant = contrasted(seen)
        bad = misbehaving(self.study, meant, self.predictor)
        return meant, bad, self._rank(self._thought_of(bad, meant), meant)

    def _rank(self, hypotheses: Sequence[Hypothesis], seen: Sequence[Observation]) -> Ranking:
        return rank(self.predictor, hypotheses, seen, self.weights, self.altered)

    def _left_over(self, ranking: Ranking, seen: Sequence[Observation]) -> list[Observation]:
        """Values of gauges that the likeliest one does not explain, if it is the likeliest by far."""
        if len(ranking.leading) != 1:
            return []
        world = ranking.leading[0].best.world
        looked = [o for o in seen if isinstance(o.look, Show)]
        frames = [frame_of(self.study, o.at, o.look, self.weights) for o in looked]
        expected = [self.predictor.expect(o.at, o.look, [world])[0] for o in looked]
        return [
            o
            for o, f, e in zip(looked, frames, expected, strict=True)
            if e.word is None and _far(o, f, e, self.weights)
        ]

    def _pairs(self, ranking: Ranking, seen: Sequence[Observation], bad: Sequence[Channel]) -> Ranking | None:
        """Two faults at once: of two indications that misbehave; and any, where no single one explains everything."""
        both: list[Hypothesis] = []
        told_of: dict[Channel, list[Observation]] = {c: [] for c in bad}
        for one in seen:
            for channel in _told_of(self.study, one, bad):
                told_of[channel].append(one)
        if 1 < len(bad) <= _FEW:
            both = of_two_indications(self._rank, ranking, told_of, self.weights)
        found = self._rank(both, seen) if both else None
        if (found is None or not found.standing) and (ranking.poor or not ranking.standing):
            found = self._rank(of_all(self._rank, ranking, seen, self.weights), seen)
        return found

    def _thought_of(self, bad: tuple[Channel, ...], seen: Sequence[Observation]) -> list[Hypothesis]:
        if bad not in self._hypotheses:
            setups = [o.at for o in seen]
            found = [
                *in_devices(self.predictor, bad),
                *in_lines(self.predictor, bad),
                *in_wiring(self.predictor, bad, setups),
                *in_plugs(self.study, bad),
                *in_synchros(self.study, bad),
            ]
            self._hypotheses[bad] = list({(h.kind, frozenset(h.at)): h for h in found}.values())
        at_times = in_conditions(self.predictor, bad, seen, self.weights)
        return list({h.key: h for h in (*self._hypotheses[bad], *at_times)}.values())


def contrasted(seen: Sequence[Observation]) -> tuple[Observation, ...]:
    """What was seen, with a load that is named as switched in one observation switched the other way in those of the same
    point that do not name it: 'right at cruise, high with the landing light on' says that the light was off at first."""
    named = {(one.at.point, load): on for one in seen for load, on in one.at.loads}

    def other_way(one: Observation) -> Observation:
        told = dict(one.at.loads)
        switched = tuple(
            (load, not on)
            for (point, load), on in named.items()
            if point == one.at.point and load not in told
        )
        return replace(one, at=replace(one.at, loads=(*one.at.loads, *switched))) if switched else one

    return tuple(other_way(one) for one in seen)


_AMISS = 2.3
"""Standard deviations from which a reading is looked into: one of fifty sound ones."""
_ILL = frozenset(("wrong", "high", "low", "dead", "frozen", "erratic"))
"""Words that tell of an indication that misbehaves, whatever is expected of it."""


def _as_it_should_be(predictor: Predictor, seen: Sequence[Observation], weights: Weights) -> bool:
    """Whether a sound aircraft explains everything that was seen."""
    if not seen or any(o.result.word in _ILL for o in seen):
        return False
    frames = [frame_of(predictor.study, o.at, o.look, weights) for o in seen]
    return fits(seen, frames, [predictor.expect(o.at, o.look, [()]) for o in seen], weights)[0].against < 0


def _far(one: Observation, frame: Frame, expect: Expect, weights: Weights) -> bool:
    """Whether a value is so far from what a sound aircraft shows that a person looks for a fault."""
    if one.result.value is None or expect.value is None:
        return False
    sd = hypot(*(s for _, s in frame.doubts_at(one.look, expect, weights)))
    return abs(one.result.value - expect.value) > _AMISS * sd


def misbehaving(study: Study, seen: Sequence[Observation], predictor: Predictor) -> tuple[Channel, ...]:
    """Indications something is said of that is not as it should be; else those that were looked at, by a meter where by nothing else."""
    weights = standard_weights()
    bad: dict[Channel, None] = {}
    looked: dict[Channel, None] = {}
    metered: dict[Channel, None] = {}
    for one in seen:
        by_meter = isinstance(one.look, (Volts, Ohms))
        for channel in _channels_of(study, one):
            (metered if by_meter else looked)[channel] = None
        if isinstance(one.look, Show) and one.at.swapped is None:
            frame = frame_of(study, one.at, one.look, weights)
            expect = predictor.expect(one.at, one.look, [()])
            told = one.result.word in _ILL or _far(one, frame, expect[0], weights)
            if told or fits([one], [frame], [expect], weights)[0].against >= 0:
                for channel in _channels_of(study, one):
                    bad[channel] = None
    return tuple(bad or looked or metered)


def _told_of(study: Study, one: Observation, bad: Sequence[Channel]) -> list[Channel]:
    """The indications among some that something is told of; of ohms and volts, those whose own wires they were taken at."""
    if not isinstance(one.look, (Volts, Ohms)):
        return [c for c in _channels_of(study, one) if c in bad]
    ends = {one.look.a, one.look.b}
    return [c for c in bad if any(ends & {e.a, e.b} for e in c.edges if not study.graph.is_ground(e.a))]


def _channels_of(study: Study, one: Observation) -> list[Channel]:
    look = one.look
    if isinstance(look, Show):
        found = channel_of(study, look)
        return [found] if found is not None else []
    if isinstance(look, Followed):
        return [c for c in channels(study) if c.indicator == look.indicator][:1]
    if isinstance(look, (TrueValue, Holding, Answers, Shaken, Marked, Compared, Rung, Insulated)):
        name = (
            look.source
            if isinstance(look, TrueValue)
            else look.thing
            if isinstance(look, Marked)
            else look.name
        )
        return [c for c in channels(study) if name in (*c.sources, c.indicator, str(c.show), c.show.name)][:1]
    assert isinstance(look, (Volts, Ohms))
    ends = {look.a.partition(".")[0], look.b.partition(".")[0]}
    named = [c for c in channels(study) if ends & {c.indicator, c.source}]
    return (
        named
        or [c for c in channels(study) if ends & {n.partition(".")[0] for e in c.edges for n in (e.a, e.b)}][
            :3
        ]
    )
