"""Hypotheses of senders, probes and gauges, and of the engine itself: the reading may be true."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import get_args

from ..analysis.study import Study
from ..model.fields import Measure, ThermocoupleType
from .changes import Counts, Jumps, OtherScale, Shows, Truly, World
from .channels import Channel
from .dials import STUCK, dial_of, offsets_of, told_in, value_in
from .hypotheses import Hypothesis, of_one, of_sizes, of_sorts
from .in_couples import of_lead, of_probe
from .in_senders import of_sender
from .other_parts import wrong_curves
from .predict import Predictor


def in_devices(predictor: Predictor, bad: Sequence[Channel]) -> Iterator[Hypothesis]:
    """Every fault of the sender, the probe or the gauge of the indications that misbehave."""
    study = predictor.study
    done: set[str] = set()
    for channel in bad:
        for source in channel.sources:
            if source and source not in done:
                done.add(source)
                yield from _engine(predictor, channel, source)
                if channel.section == "senders":
                    yield from of_sender(study, channel, source)
                elif channel.section == "probes":
                    yield from of_probe(study, predictor, channel, source)
        yield from _gauge(study, channel)
        if channel.loop is not None:
            yield from of_lead(study, channel)


_COUNTING = frozenset(("pulse counter", "synchronous tachometer"))
_TIMES = {
    "half": 1 / 2, "twice": 2.0, "a third of": 1 / 3, "3 times": 3.0, "two thirds of": 2 / 3, "1.5 times": 1.5, "a quarter of": 1 / 4,
    "4 times": 4.0, "three quarters of": 3 / 4, "4/3 of": 4 / 3,
}  # fmt: skip
"""Ratios of the pulses a turn of 4, 6 and 8 cylinders, of magnetos and of one and two to a turn."""
_NO_NOISE = frozenset(("capillary", "synchro receiver", "synchronous tachometer"))
"""Principles of indicators that follow no noise: no wire leads to them, or the power of three wires turns them."""
_OF_THE_ENGINE: frozenset[Measure] = frozenset(
    (
        "oil pressure",
        "oil temperature",
        "fuel pressure",
        "manifold pressure",
        "engine speed",
        "coolant temperature",
    )
)
"""Measures of which an engine has one: all its indications of it move when it is true."""


def _engine(predictor: Predictor, channel: Channel, source: str) -> Iterator[Hypothesis]:
    mine = _engine_of(predictor.study, channel)
    alike = [
        c.feels
        for c in predictor.channels
        if c.measure in _OF_THE_ENGINE
        and c.measure == channel.measure
        and _engine_of(predictor.study, c) == mine
    ]
    together = channel.sources if len(channel.sources) > 1 else ()  # read as one
    felt = tuple(dict.fromkeys((channel.feels, *together, *alike)))

    def make(offset: float) -> World:
        return tuple(Truly(one, offset) for one in felt)

    offsets = offsets_of(channel)
    if offsets:
        what = channel.measure or f"what {channel.show} shows"
        yield of_sizes(
            "true reading",
            (source,),
            f"{channel.show} is right: {what} differs from what was taken for true",
            offsets,
            make,
            told_in(channel),
            channel.path,
        )


def _engine_of(study: Study, channel: Channel) -> str | None:
    """The engine an indication is of, where the document says."""
    found = study.model.find(channel.source) or study.model.find(channel.indicator)
    return getattr(found[1], "engine", None) if found is not None else None


def _gauge(study: Study, channel: Channel) -> Iterator[Hypothesis]:
    name, at = channel.show.name, (channel.show.name,)
    where = ""
    yield of_one(
        "gauge dead",
        at,
        f"the capillary of {name} or its bulb has lost its filling"
        if channel.spec.principle == "capillary"
        else f"{name} is open or dead inside",
        (Shows(name, state="dead"),),
        channel.path,
    )
    dial = dial_of(channel)
    if dial is None:
        return
    values = [dial[0] + s * (dial[1] - dial[0]) for s in STUCK]
    yield of_sizes(
        "gauge stuck",
        at,
        f"the pointer of {name} sticks",
        values,
        lambda value: (Shows(name, value=value),),
        value_in(channel),
        channel.path,
        where,
    )
    yield of_sizes(
        "gauge drifted",
        at,
        f"{name} itself is off",
        offsets_of(channel),
        lambda offset: (Shows(name, offset=offset),),
        told_in(channel),
        channel.path,
        where,
    )
    others = list(_other_gauges(study, channel))
    if others:
        yield of_sorts(
            "wrong gauge",
            at,
            f"another gauge than drawn is fitted for {name}",
            [(f"one made for {made_for}", (OtherScale(name, like),)) for like, made_for in others],
            channel.path,
        )
    if channel.spec.principle in _COUNTING:
        yield of_sorts(
            "wrong gauge",
            at,
            f"another count of pulses is set in {name}, or it misses or picks up some",
            [(f"it shows {told} what is true", (Counts(name, times),)) for told, times in _TIMES.items()],
            channel.path,
        )
    if channel.way == "line" or channel.spec.principle in _NO_NOISE:
        return
    yield of_one(
        "noise picked up",
        at,
        f"{name} picks up noise from wires beside its leads",
        (Jumps(name, "noise"),),
        channel.path,
    )


def _other_gauges(study: Study, channel: Channel) -> Iterator[tuple[str, str]]:
    """What another gauge of its kind could be made for: the sender of a part, or a couple."""
    if channel.way == "couple":
        drawn = channel.spec.thermocouple
        yield from ((kind, f"type {kind} probes") for kind in get_args(ThermocoupleType) if kind != drawn)
    elif channel.way == "network":
        for part in wrong_curves(study.model.senders[channel.source].spec):
            yield part, f"a sender like '{part}'"
