"""What is taken for true before anything is traced: an indication that, if true, is of an engine that must not run.

A low pressure or a high temperature may well be a fault of its gauge. Nobody knows before a test instrument at the
engine has shown it, so until then the engine stays stopped; that no test is worth an engine is a judgement of airmanship.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from ..analysis.study import Study
from ..dataclass import dataclass
from ..model.fields import Measure
from .channels import Channel, channel_of
from .doubts import Frame, frame_of
from .looks import STOPPED, Observation, Show, TrueValue, Volts
from .next_test import Choice
from .states import point_of
from .weights import Weights

_LOW: dict[Measure, str] = {
    "oil pressure": "look at the oil level, and for oil that has run out",
    "fuel pressure": "shut the fuel cock, and look and smell for fuel that has run out",
}
"""Pressures whose loss ends an engine or starts a fire, with what is looked at first."""
_HIGH: dict[Measure, str] = {
    "oil temperature": "look at the oil level, the cooler and its air",
    "head temperature": "look at baffles and cowling, the mixture and the timing",
    "coolant temperature": "look at the coolant, once it has cooled and holds no pressure",
    "exhaust temperature": "look at the mixture and the exhaust",
    "turbine inlet temperature": "look at the mixture and the exhaust",
}
_LOW_WORDS = frozenset(("low", "off scale low", "dead", "wrong", "erratic", "frozen"))
_HIGH_WORDS = frozenset(("high", "off scale high", "wrong", "erratic", "frozen"))
"""Words that tell, or do not rule out, what is dangerous."""
NOT_RUN = "do not start the engine for this test: tell what was noted when it was seen, or let a test instrument clear it first"
BRIEFLY = "run no longer than it takes to read, with a hand on the mixture: stop at once if this reads as the gauge did"


@dataclass(frozen=True, slots=True)
class Danger:
    """An indication to be taken for true.

    Attributes:
        channel: the indication.
        side: 'low' or 'high'.
        text: what it asks for, as an order.
    """

    channel: Channel
    side: str
    text: str


def dangers(study: Study, seen: Sequence[Observation], weights: Weights) -> tuple[Danger, ...]:
    """What was seen with the engine running that stops it, unless a test instrument has cleared it since."""
    found: dict[tuple[str, str], Danger] = {}
    for one in seen:
        channel = channel_of(study, one.look) if isinstance(one.look, Show) else None
        if channel is None or channel.measure is None or one.at.point == STOPPED or _at_the_bench(one):
            continue
        side, first = (
            ("low", _LOW[channel.measure])
            if channel.measure in _LOW
            else ("high", _HIGH.get(channel.measure, ""))
        )
        if first and _is(side, study, channel, one, weights) and not _cleared(study, channel, seen, weights):
            found[str(channel.show), side] = Danger(
                channel,
                side,
                f"{channel.show} may be telling the truth: take {side} {channel.measure} for true. Engine stopped and not run "
                f"until a test instrument at the engine shows otherwise; {first} before any test below.",
            )
    return tuple(found.values())


def _at_the_bench(one: Observation) -> bool:
    """Whether something was done to the circuit, so that the pointer tells of that."""
    at = one.at
    return bool(at.lifted or at.joined or at.replaced)


def _is(side: str, study: Study, channel: Channel, one: Observation, weights: Weights) -> bool:
    """Whether a result is on the dangerous side: by its word, the engine's limit, or what should be there."""
    if one.result.value is None:
        return one.result.word in (_LOW_WORDS if side == "low" else _HIGH_WORDS)
    frame = frame_of(study, one.at, one.look, weights)
    return _beyond(side, channel, frame, one.result.value)


def _beyond(side: str, channel: Channel, frame: Frame, value: float) -> bool:
    limit = channel.reader.limit if channel.reader is not None else None
    if side == "low":
        bounds = [limit.minimum, limit.caution_low] if limit is not None else []
        short = frame.true is not None and value < frame.true - frame.margin
        return short or any(b is not None and value < float(b) for b in bounds)
    bounds = [limit.maximum, limit.caution_high] if limit is not None else []
    over = frame.true is not None and value > frame.true + frame.margin
    return over or any(b is not None and value > float(b) for b in bounds)


def _cleared(study: Study, channel: Channel, seen: Sequence[Observation], weights: Weights) -> bool:
    """Whether a test instrument, with the engine running, shows what does no harm, or what was true at the time is told."""
    shown = [
        o
        for o in seen
        if isinstance(o.look, TrueValue)
        and o.look.source in (*channel.sources, channel.indicator)
        and o.at.point != STOPPED
        and o.result.value is not None
    ]
    side = "low" if channel.measure in _LOW else "high"
    told = [
        (o, value)
        for o in seen
        if isinstance(o.look, Show) and o.at.point != STOPPED
        for ident, value in o.at.known
        if ident in (channel.feels, *channel.sources)
    ]
    return bool(shown or told) and not (
        any(
            _beyond(side, channel, frame_of(study, o.at, o.look, weights), o.result.value)
            for o in shown
            if o.result.value is not None
        )
        or any(
            _beyond(side, channel, replace(frame_of(study, o.at, o.look, weights), true=None), v)
            for o, v in told
        )
    )


def kept_safe(study: Study, tests: Sequence[Choice], against: Sequence[Danger]) -> list[Choice]:
    """The tests in order, those that would run the engine last and with what that takes, while a danger stands."""
    if not against:
        return list(tests)
    resting, running = [], []
    for one in tests:
        if isinstance(one.test.look, TrueValue) and _runs(study, one):
            briefly = replace(one.test, hazards=(*one.test.hazards, BRIEFLY))
            resting.append(replace(one, test=briefly))
        elif isinstance(one.test.look, (Show, Volts)) and _runs(study, one):
            running.append(_first(one, NOT_RUN))
        else:
            resting.append(one)
    return [*resting, *running]


def _runs(study: Study, one: Choice) -> bool:
    """Whether the engine turns in the state a test is made in."""
    return point_of(study, one.test.at).name != STOPPED


def _first(one: Choice, hazard: str) -> Choice:
    return replace(one, test=replace(one.test, hazards=(hazard, *one.test.hazards)))
