"""Tests that put something else in the place of a part: a wire, a resistor, a spare, a neighbour, a test instrument."""

from __future__ import annotations

from collections.abc import Iterator

from ..analysis.study import Study
from .by_standing_in import stirring_of
from .channels import Channel, channels
from .looks import STOPPED, Answers, Holding, Setup, TrueValue
from .offered import Test, made
from .states import usual


def true_value(study: Study, channel: Channel) -> Test:
    measure = channel.measure or "what it senses"
    if channel.measure in ("bus voltage", "load current"):
        tool = "a voltmeter" if channel.measure == "bus voltage" else "a clamp meter"
        return made(
            study,
            Setup(usual(study).name),
            TrueValue(channel.source),
            f"read the true {measure} at {channel.source} by {tool} at '{usual(study).name}'",
            "in the engine bay",
            channel,
            channel.source,
        )
    pressure = "pressure" in measure or measure == "vacuum"
    tool = "a test gauge" if pressure else "a test instrument"
    return made(
        study,
        Setup(usual(study).name),
        TrueValue(channel.source),
        f"put {tool} beside {channel.source} and read the true {measure} at '{usual(study).name}'",
        "at a tap",
        channel,
        channel.source,
    )


def swaps(study: Study, channel: Channel) -> Iterator[Test]:
    """With another channel of one kind: the leads at the panel, and the probes or senders themselves."""
    likes = [
        c
        for c in channels(study)
        if c is not channel
        and c.section == channel.section
        and c.way == channel.way
        and c.indicator == channel.indicator
        and c.spec.principle == channel.spec.principle
        and c.measure == channel.measure
        and len(c.sources) == 1
        and len(channel.sources) == 1
    ]
    named = usual(study).name
    for other in likes[:1]:
        if channel.way == "couple" and channel.show.position is None:
            yield made(
                study,
                Setup(named, swapped=(str(channel.show), str(other.show))),
                channel.show,
                f"exchange the leads of {channel.show} and {other.show} at {channel.indicator}, then look at {channel.show} at '{named}'",
                "swap",
                channel,
                channel.indicator,
            )
        yield made(
            study,
            Setup(named, swapped=(channel.source, other.source)),
            channel.show,
            f"exchange {channel.source} and {other.source}, then look at {channel.show} at '{named}'",
            "on the engine",
            channel,
            channel.source,
        )
    stir = stirring_of(channel)
    if stir:
        yield made(
            study,
            Setup(STOPPED),
            Answers(channel.source, str(channel.show)),
            f"master on, engine stopped: {stir}; does {channel.show} follow?",
            "on the engine",
            channel,
            channel.source,
        )
    yield made(
        study,
        Setup(named, swapped=(channel.source, "")),
        channel.show,
        f"fit a {'probe' if channel.section == 'probes' else 'sender'} known to be sound for {channel.source}, then look at {channel.show} at '{named}'",
        "at a tap",
        channel,
        channel.source,
    )


def of_line(study: Study, channel: Channel) -> Iterator[Test]:
    yield made(
        study,
        Setup(STOPPED),
        Holding(channel.show.name),
        f"line off at its tap: put a little pressure or suction on it and see whether {channel.show} holds it",
        "at a tap",
        channel,
        channel.source,
    )
    yield _true_line(study, channel)
    yield at_port(study, channel)
    yield other_gauge(study, channel)


def at_port(study: Study, channel: Channel) -> Test:
    point = usual(study).name
    return made(
        study,
        Setup(point),
        TrueValue(channel.feels, at_port=True),
        f"tee a test gauge in beside {channel.feels}, where its line ends, and read it at '{point}'",
        "at a plug",
        channel,
        channel.feels,
    )


def other_gauge(study: Study, channel: Channel) -> Test:
    point = usual(study).name
    return made(
        study,
        Setup(point, swapped=(channel.indicator, "")),
        channel.show,
        f"put a gauge known to be sound in the place of {channel.indicator} and look at it at '{point}'",
        "swap",
        channel,
        channel.indicator,
    )


def _true_line(study: Study, channel: Channel) -> Test:
    point = usual(study).name
    return made(
        study,
        Setup(point),
        TrueValue(channel.indicator),
        f"tee a test gauge in at the tap of {channel.show} and read it at '{point}'",
        "at a tap",
        channel,
        channel.source,
    )
