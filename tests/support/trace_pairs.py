"""Trials of two complaints: two faults, each with a symptom of its own, and single faults that two indications show."""

from __future__ import annotations

import random
from collections.abc import Iterator
from dataclasses import dataclass, replace

from faulted_aircraft import Aircraft, CannotPlayError, Fault
from installations import Plain, read
from trace_faults import faults_of
from trace_trials import MOST, answered, noticed, same

from installcheck.analysis.study import Study
from installcheck.tracing.channels import Channel, channels
from installcheck.tracing.looks import Observation, Setup
from installcheck.tracing.predict import Predictor
from installcheck.tracing.states import usual
from installcheck.tracing.trace import Trace, Tracer, misbehaving
from installcheck.tracing.wording import verdict_told

_OF_WIRES = ("open", "bad joint", "bad ground", "lost ground")
_OF_DEVICES = (
    "gauge drifted",
    "sender drifted",
    "sender open",
    "sender shorted",
    "probe open",
    "true reading",
)
_TRIES = 12
"""Draws by chance for each trial wanted: most faults are seen on one indication alone, or on many."""


@dataclass(frozen=True)
class Ended:
    """How a trial ended.

    Attributes:
        faults: what was wrong.
        two: whether it was told that no single fault explains everything.
        beside: whether what one fault leaves unexplained was told, or two at once beside it.
        first: whether what was wrong stood first in the end, as a pair or as one.
        excluded: whether a single fault was excluded that was there.
        thought_of: whether the single fault is one that tracing thinks of.
    """

    faults: str
    two: bool
    beside: bool
    first: bool
    excluded: bool = False
    thought_of: bool = True


def two_at_once(plain: Plain, count: int, seed: int) -> Iterator[Ended]:
    """Two faults, one of the wires of one indication and one of a device of another, each seen on its own indication alone."""
    study, chance = Study(read(plain)), random.Random(seed)
    some = _readable(study)
    wires: dict[Channel, list[Fault]] = {}
    devices: dict[Channel, list[Fault]] = {}
    for channel in some:
        faults = list(faults_of(plain, channel, study, chance))
        wires[channel] = [f for f in faults if f.kind in _OF_WIRES and f.edit is not None]
        devices[channel] = [f for f in faults if f.kind in _OF_DEVICES and f.edit is None]
    made = 0
    for _ in range(_TRIES * count if len(some) > 1 else 0):
        a, b = chance.sample(some, 2)
        if (
            made == count
            or not wires[a]
            or not devices[b]
            or a.show.name == b.show.name
            or a.source == b.source
        ):
            continue
        wire, device = chance.choice(wires[a]), chance.choice(devices[b])
        try:
            step = _of_pair(plain, study, (a, b), (wire, device), chance)
        except CannotPlayError:
            continue
        if step is not None:
            made += 1
            places = {*wire.at, *device.at}
            first = bool(step.shown) and places <= set(step.shown[0].hypothesis.at)
            name = f"{wire.kind} {wire.at} and {device.kind} {device.at}"
            yield Ended(name, not step.explained, _beside(step), first)


def _of_pair(
    plain: Plain,
    study: Study,
    at_two: tuple[Channel, Channel],
    faults: tuple[Fault, Fault],
    chance: random.Random,
) -> Trace | None:
    """The last step of a trace of two faults; ``None`` where each is not seen on its own indication and nowhere else."""
    at, (wire, device) = Setup(usual(study).name), faults
    for fault, wanted in ((wire, (True, False)), (device, (False, True))):
        alone = Aircraft(plain, fault, random.Random(1), study)
        if tuple(noticed(alone, at, c, alone.look(at, c.show)) for c in at_two) != wanted:
            return None
    both = Aircraft(plain, replace(device, edit=wire.edit), random.Random(chance.random()), study)
    seen = [both.look(at, c.show) for c in at_two]
    if not all(noticed(both, at, c, s) for c, s in zip(at_two, seen, strict=True)):
        return None
    if set(misbehaving(study, seen, Predictor(study))) != set(at_two):
        return None  # so little off that nobody takes it for a complaint
    return _asked(both, seen)


def one_for_two(plain: Plain, count: int, seed: int) -> Iterator[Ended]:
    """Single faults that several indications show, two or three of which are told."""
    study, chance = Study(read(plain)), random.Random(seed)
    some, at = _readable(study), Setup(usual(study).name)
    faults = [f for c in some for f in faults_of(plain, c, study, chance)]
    chance.shuffle(faults)
    made, done = 0, set()
    for fault in faults:
        if made == count or (fault.kind, fault.at) in done:
            continue
        done.add((fault.kind, fault.at))
        try:
            aircraft = Aircraft(plain, fault, random.Random(chance.random()), study)
            looked = [(c, aircraft.look(at, c.show)) for c in some]
            seen = [one for c, one in looked if noticed(aircraft, at, c, one)]
            if len(seen) < 2:
                continue
            chance.shuffle(seen)
            step = _asked(aircraft, seen[: chance.choice((2, 2, 3))])
        except CannotPlayError:
            continue
        made += 1
        mine = [r for r in step.ranking.all if same(fault, r.hypothesis)]
        first = step.explained and same(fault, step.ranking.standing[0].hypothesis)
        excluded = bool(mine) and all(r.excluded for r in mine)
        yield Ended(
            f"{fault.kind} {fault.at}", not step.explained, _beside(step), first, excluded, bool(mine)
        )


def _beside(step: Trace) -> bool:
    """Whether a second fault is told to be likely beside one."""
    return step.explained and any(
        "second fault" in line or "two at once" in line for line in verdict_told(step)
    )


def _readable(study: Study) -> list[Channel]:
    return [c for c in channels(study) if c.reader is not None or c.way == "network"]


def _asked(aircraft: Aircraft, seen: list[Observation]) -> Trace:
    """The last step, once every test that is asked for is answered, or the most are."""
    tracer, told = Tracer(aircraft.sound), list(seen)
    for _ in range(MOST):
        step = tracer.step(told)
        answer = answered(aircraft, step) if step.tests else None
        if answer is None:
            return step
        told.append(answer[1])
    return tracer.step(told)
