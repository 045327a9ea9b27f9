"""Trials of tracing: a fault by chance, its complaint, the tests the tracer asks for, and when it puts the right one first."""

from __future__ import annotations

import random
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import yaml
from faulted_aircraft import Aircraft, CannotPlayError, Fault, demo_of
from harm import WRITTEN, right
from installations import NAMES, Plain, read
from rights import RIGHTS
from trace_faults import faults_of

from installcheck.analysis.study import Study
from installcheck.tracing.channels import Channel, channels
from installcheck.tracing.doubts import frame_of
from installcheck.tracing.looks import Observation, Setup
from installcheck.tracing.offered import Test
from installcheck.tracing.states import usual
from installcheck.tracing.trace import Trace, Tracer
from installcheck.tracing.weights import standard_weights

REPORTS = Path(__file__).parents[1] / "tracing" / "reports"
MOST = 8
"""Tests after which a trial is given up."""


@dataclass
class Trial:
    """What became of one trial.

    Attributes:
        fault: kind and place.
        tests: tests made until the right one stood first, alone or level with others; ``None`` if it never did.
        firm: the same, level with none that a test could still part it from.
        excluded: whether it was ever excluded, and after which observation.
        first: the ones that stood first in the end.
        told: what was asked and seen.
    """

    fault: str
    tests: int | None
    firm: int | None
    excluded: int | None
    first: tuple[str, ...]
    told: tuple[str, ...]
    likeliest: str = ""


def trials(
    plain: Plain, seed: int, kinds: tuple[str, ...] | None = None, share: float = 1.0
) -> Iterator[Trial]:
    """A trial of every fault of every indication whose fault can be seen."""
    study = Study(read(plain))
    chance = random.Random(seed)
    done: set[tuple[str, tuple[str, ...]]] = set()
    for channel in channels(study):
        if channel.reader is None and channel.way != "network":
            continue
        for fault in faults_of(plain, channel, study, chance):
            if (fault.kind, fault.at) in done or (kinds is not None and fault.kind not in kinds):
                continue
            done.add((fault.kind, fault.at))
            if chance.random() > share:
                continue
            found = trial(plain, fault, channel, random.Random(chance.random()))
            if found is not None:
                yield found


def documents() -> dict[str, Plain]:
    """The demos, right installations and small ones beside them, and five variants that are easily accused."""
    found = {name: demo_of(name) for name in NAMES}
    found |= {name: right(name) for name in WRITTEN}
    found |= {one.name: one.made() for one in RIGHTS[: 5 * _EVERY : _EVERY]}
    found |= {
        p.stem: yaml.load(p.read_text(), yaml.CSafeLoader)
        for p in sorted(REPORTS.glob("*.yaml"))
        if p.stem != "reports"
    }
    for plain in found.values():
        plain.pop("measured", None)
    return found


_EVERY = 7
"""Every which of the right variants is taken: five of them, each of another subject."""


def stratified(count: int, seed: int) -> Iterator[tuple[str, Trial]]:
    """Trials spread evenly over the documents and the kinds of fault, chosen by chance within each."""
    chance = random.Random(seed)
    studies: dict[str, tuple[Plain, Study]] = {}
    cells: dict[tuple[str, str], list[tuple[Channel, Fault]]] = {}
    for name, plain in documents().items():
        study = Study(read(plain))
        studies[name] = plain, study
        for channel in channels(study):
            if channel.reader is not None or channel.way == "network":
                for fault in faults_of(plain, channel, study, chance):
                    cells.setdefault((name, fault.kind), []).append((channel, fault))
    for some in cells.values():
        chance.shuffle(some)
    keys = list(cells)
    made = 0
    while any(cells.values()) and made < count:
        chance.shuffle(keys)
        for key in keys:
            if not cells[key] or made >= count:
                continue
            channel, fault = cells[key].pop()
            plain, study = studies[key[0]]
            found = trial(plain, fault, channel, random.Random(chance.random()), study)
            if found is not None:
                made += 1
                yield key[0], found


def trial(
    plain: Plain, fault: Fault, channel: Channel, chance: random.Random, sound: Study | None = None
) -> Trial | None:
    """One trial; ``None`` where the fault cannot be seen on its indication."""
    aircraft = Aircraft(plain, fault, chance, sound)  # type: ignore[arg-type]
    tracer = Tracer(aircraft.sound)
    at = Setup(usual(aircraft.sound).name)
    try:
        seen = [aircraft.look(at, channel.show)]
    except CannotPlayError:
        return None
    if not noticed(aircraft, at, channel, seen[0]):
        return None
    told = [
        f"{channel.show}: {seen[0].result.value if seen[0].result.value is not None else seen[0].result.word}"
    ]
    excluded: int | None = None
    tests: int | None = None
    for number in range(MOST + 1):
        step = tracer.step(seen)
        mine = [r for r in step.ranking.all if same(fault, r.hypothesis)]
        if mine and all(r.excluded for r in mine) and excluded is None:
            excluded = number
        leading = step.ranking.standing[:1]
        if leading and (same(fault, leading[0].hypothesis) or _as_good(leading[0], mine)):
            tests = number if tests is None else tests
            level = [r for r in step.ranking.standing[1:] if leading[0].share < 1.02 * r.share]
            if not step.tests or (not level and same(fault, leading[0].hypothesis)):
                first = tuple(r.hypothesis.key for r in step.ranking.leading)
                return Trial(f"{fault.kind} {fault.at}", tests, number, excluded, first, tuple(told))
        if not step.tests:
            break
        answer = answered(aircraft, step)
        if answer is None:
            break
        test, one = answer
        seen.append(one)
        told.append(f"{test.words}: {one.result.value if one.result.value is not None else one.result.word}")
    first = tuple(r.hypothesis.key for r in step.ranking.standing[:3])
    likeliest = "" if mine else "not thought of"
    return Trial(f"{fault.kind} {fault.at}", tests, None, excluded, first, tuple(told), likeliest)


def answered(aircraft: Aircraft, step: Trace) -> tuple[Test, Observation] | None:
    """The best test of which the aircraft can be asked, and its result."""
    for choice in step.tests:
        try:
            return choice.test, aircraft.look(choice.test.at, choice.test.look)
        except CannotPlayError:
            continue
    return None


def noticed(aircraft: Aircraft, at: Setup, channel: Channel, one) -> bool:
    """Whether it is seen to be wrong, and would not be without the fault."""
    frame = frame_of(aircraft.sound, at, channel.show, standard_weights())
    sound = Aircraft(aircraft.plain, Fault("none", ()), random.Random(0), aircraft.sound)
    sound.errors = aircraft.errors
    was = sound.look(at, channel.show).result
    if one.result.value is None or was.value is None:
        return was.word != one.result.word
    far = frame.true is None or abs(one.result.value - frame.true) > 1.3 * frame.margin
    return far and abs(one.result.value - was.value) > 0.5 * frame.margin


def same(fault: Fault, hypothesis) -> bool:
    return (hypothesis.kind, set(hypothesis.at)) == (fault.kind, set(fault.at))


def _as_good(first, mine) -> bool:
    """Whether the right one stands level with the first, so that nothing that can be tested parts them."""
    return (
        bool(mine)
        and abs(first.likelihood - max(r.likelihood for r in mine)) < 1e-6
        and first.share < 1.02 * max(r.share for r in mine)
    )
