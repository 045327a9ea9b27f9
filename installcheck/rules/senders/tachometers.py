"""Tachometers: drive ratio and poles, sense of rotation and order of leads, pulses for each revolution and their rate."""

from __future__ import annotations

from collections.abc import Iterator

from ...analysis.shown import limit_of, shown
from ...analysis.study import Study
from ...document.source import DocPath
from ...graph.indications import Indication, measure_of
from ...model.aircraft import Engine
from ...model.devices import Sender
from ...model.fields import Measure
from ...model.installation import split_end, terminals_of
from ...model.quantities import Quantity, in_unit, plain_number
from ...physics.synchros import (
    LEADS,
    Connection,
    TachometerEffect,
    indicated_speed,
    tachometer_effect,
)
from ..verdicts import (
    Verdict,
    discrepancy,
    meets,
    undetermined,
)
from ..vocabulary import rule

DRIVE = "drive ratio of the tachometer ('drive_ratio' of its sender, or 'tachometer_drive' of the engine)"
MADE_FOR = "engine revolutions for one of the generator that the indicator is made for ('engine_ratio')"
POLES = "poles of the generator"
POLES_FOR = "poles of the generator the indicator is made for ('generator_poles')"
SPEED = "rated speed of the engine"
DRIVE_SENSE = "sense of the tachometer drive ('drive_sense' of the engine)"
LEAD_SENSE = "sense of the generator with its leads in order ('sense')"
PULSES = "pulses per engine revolution of the pick-up"
PULSES_FOR = "pulses per engine revolution the indicator expects"
RATE = "highest pulse rate the indicator follows"

_SAME = 1e-3
"""Share by which two ratios may differ and still be one, as they are written in rounded figures."""
_SPEED: Measure = "engine speed"


def _pairs(study: Study, principle: str) -> Iterator[tuple[Indication, Sender, Engine | None, str]]:
    """Indications of engine speed by inputs of a principle, with the sender, the engine and its id."""
    for one in study.indications:
        if (
            one.spec.principle == principle
            and one.section == "senders"
            and measure_of(study.graph, one) == _SPEED
        ):
            sender = study.model.senders[one.source]
            found = study.model.engine_of(sender) or study.model.engine_of(
                study.model.indicators[one.indicator]
            )
            yield one, sender, found[1] if found else None, found[0] if found else ""


@rule(
    "tachometer-ratio",
    title="A tachometer indicator is made for its generator and the drive it sits on",
    why="A wrong drive ratio or a wrong number of poles shows an exact multiple of the true speed.",
    source="plain physics: f = poles x rpm / 120",
    formula="shown = true x (ratio made for / drive ratio) x (poles / poles made for), at rated speed",
    example="indicator for half engine speed on a drive at engine speed: 2700 rpm shows 5400",
    over=lambda study: [one.name for one, *_ in _pairs(study, "synchronous tachometer")],
)
def tachometer_ratio(study: Study) -> Iterator[Verdict]:
    """Every three-wire tachometer."""
    for one, sender, engine, engine_id in _pairs(study, "synchronous tachometer"):
        at = (one.name, one.source)
        of_engine = engine.tachometer_drive if engine is not None else None
        drive = sender.drive_ratio if sender.drive_ratio is not None else of_engine
        path: DocPath = ("senders", one.source, *(("drive_ratio",) if sender.drive_ratio is not None else ()))
        if drive is not None and of_engine is not None and abs(drive / of_engine - 1) > _SAME:
            yield discrepancy(
                at,
                path,
                f"{one.source} is said to turn once in {drive:g} engine revolutions, but the drive of engine {engine_id} turns once in "
                f"{of_engine:g}",
                remedy="put the ratio right, or state the angle drive between them",
            )
            continue
        facts = (
            (DRIVE, drive),
            (MADE_FOR, one.spec.engine_ratio),
            (POLES, sender.spec.poles),
            (POLES_FOR, one.spec.generator_poles),
            (SPEED, engine.speed if engine is not None else None),
        )
        missing = [word for word, value in facts if value is None]
        if missing or drive is None or engine is None or engine.speed is None:
            yield undetermined(at, path[:2], missing)
            continue
        rated = in_unit(engine.speed, "rpm", "speed")
        expected, poles, made_for = one.spec.engine_ratio, sender.spec.poles, one.spec.generator_poles
        if (poles or 0) % 2 or (made_for or 0) % 2:
            yield undetermined(at, path[:2], f"{POLES}, which come in pairs")
            continue
        reads = indicated_speed(rated, 1 / drive, poles or 2, 1 / (expected or 1.0), made_for or 2)
        verdict = _speed(one, at, path, rated, reads, _why(drive, expected or 1.0, poles or 2, made_for or 2))
        if verdict.remedy and poles == made_for and abs(drive * (expected or 1.0) - 1) < _SAME:
            verdict.remedy = f"if the generator turns {expected:g} times slower than the engine, write drive_ratio: {expected:g}"
        yield verdict


def _why(drive: float, expected: float, poles: int, made_for: int) -> str:
    told = []
    if abs(drive / expected - 1) > _SAME:
        told.append(
            f"its generator turns once in {drive:g} engine revolutions and it is made for one in {expected:g}"
        )
    if poles != made_for:
        told.append(f"its generator has {poles} poles and it is made for {made_for}")
    return " and ".join(told)


def _speed(
    one: Indication, at: tuple[str, ...], path: DocPath, rated: float, reads: float, why: str
) -> Verdict:
    """What a pointer shows at rated speed, against the budget of the indication, else its accuracy."""
    allowed = one.spec.budget if one.spec.budget is not None else one.spec.accuracy
    error = reads - rated
    limit = (
        in_unit(allowed, "rpm", "speed") if allowed is not None and allowed.kind == "speed" else rated * _SAME
    )
    figures = {"value": error, "limit": limit, "margin": limit - abs(error), "unit": "rpm"}
    told = f"{one.name} shows {plain_number(reads)} rpm at {plain_number(rated)} rpm"
    if abs(error) <= rated * _SAME:
        return meets(at, path, told, **figures)
    return discrepancy(
        at,
        path,
        f"{told}: {why}",
        remedy=f"fit an indicator or a drive that makes up the factor of {plain_number(rated / reads)}",
        **figures,
    )


@rule(
    "tachometer-sense",
    title="A three-wire tachometer turns its pointer the right way",
    why="Two leads exchanged, or a drive that turns the other way, drive the pointer against its stop. All three moved on by one "
    "change nothing.",
    source="plain physics: order of phases",
    formula="sense of the motor = sense of the drive x order of the leads",
    example="leads 2 and 3 exchanged: the motor turns backwards; 1-2-3 to 2-3-1: reads true",
    over=lambda study: [one.name for one, *_ in _pairs(study, "synchronous tachometer")],
)
def tachometer_sense(study: Study) -> Iterator[Verdict]:
    """Every three-wire tachometer."""
    for one, sender, engine, _ in _pairs(study, "synchronous tachometer"):
        at, path = (one.name, one.source), one.path
        order = lead_order(one, list(terminals_of("senders", sender) or ()))
        if order is None:
            yield discrepancy(
                at,
                path,
                f"{one.name} is joined to {one.source} by {len(one.legs)} of three leads: "
                f"{TachometerEffect.NO_ROTATING_FIELD.value}",
                remedy="join all three leads",
            )
            continue
        crossed = tachometer_effect(order) is TachometerEffect.REVERSED
        leads = f"leads 1, 2, 3 of {one.source} go to {', '.join(str(LEADS.index(t) + 1) for t in order)}"
        drive, made = engine.drive_sense if engine is not None else None, sender.spec.sense
        if drive is None or made is None:
            missing = [w for w, v in ((DRIVE_SENSE, drive), (LEAD_SENSE, made)) if v is None]
            right = "other way to" if crossed else "way of"
            yield undetermined(
                at,
                path,
                missing,
                f"{leads}, which is right if the drive turns the {right} the generator's own sense",
            )
        elif crossed == (drive != made):
            yield meets(at, path, f"{leads}, and the drive turns {drive}: the pointer follows")
        else:
            yield discrepancy(
                at,
                path,
                f"{leads}, and the drive turns {drive} on a generator made for {made}: "
                f"{TachometerEffect.REVERSED.value}",
                remedy="exchange any two of the three leads",
            )


def lead_order(one: Indication, theirs: list[str]) -> Connection | None:
    """Where leads 1 to 3 of the sender go on the indicator, as S1 to S3; ``None`` unless each goes to one of its own."""
    ours = list(one.spec.terminals or ())[:3]
    reached = {split_end(leg.reaches)[1]: leg.terminal for leg in one.legs}
    went = [reached.get(name) for name in theirs[:3]]
    found = [LEADS[ours.index(t)] for t in went if t is not None and t in ours]
    return (found[0], found[1], found[2]) if len(found) == 3 and len(set(found)) == 3 else None


@rule(
    "pulse-count",
    title="A pulse tachometer counts as many pulses in a revolution as its pick-up gives",
    why="A wrong count shows an exact multiple of the true speed: twice, half, two thirds.",
    source="plain physics",
    formula="shown = true x pulses given / pulses expected, at rated speed",
    example="pick-up with 2, indicator set to 4: 2700 rpm shows 1350",
    over=lambda study: [one.name for one, *_ in _pairs(study, "pulse counter")],
)
def pulse_count(study: Study) -> Iterator[Verdict]:
    """Every pulse counter that shows engine speed."""
    for one, sender, engine, _ in _pairs(study, "pulse counter"):
        at, path = (one.name, one.source), one.path
        given, expected = sender.spec.pulses_per_revolution, one.spec.pulses_per_revolution
        speed = engine.speed if engine is not None else None
        if given is None or expected is None or speed is None:
            facts = ((PULSES, given), (PULSES_FOR, expected), (SPEED, speed))
            yield undetermined(at, path, [word for word, value in facts if value is None])
            continue
        rated = in_unit(speed, "rpm", "speed")
        why = f"{one.source} gives {given:g} pulses in a revolution and it expects {expected:g}"
        verdict = _speed(one, at, path, rated, rated * given / expected, why)
        if verdict.remedy:
            verdict.remedy = f"set {one.name} to {given:g} pulses per revolution"
        yield verdict


@rule(
    "pulse-rate",
    title="An indicator follows the pulses at the highest speed",
    why="Beyond its highest rate a counter misses pulses and shows less than the engine turns.",
    source="the indicator's own limit; f = rpm x pulses / 60",
    formula="f = rpm / 60 x pulses per revolution, at the highest speed allowed",
    example="2700 rpm and 12 pulses: 540 Hz against 500 Hz",
    over=lambda study: [one.name for one, *_ in _pairs(study, "pulse counter")],
)
def pulse_rate(study: Study) -> Iterator[Verdict]:
    """Every pulse counter that shows engine speed."""
    highest = {s.name: limit_of(study, s) for s in shown(study) if s.measure == _SPEED}
    for one, sender, _, _ in _pairs(study, "pulse counter"):
        at, path = (one.name, one.source), one.path
        limit = highest.get(one.name)
        speed: Quantity | None = limit.maximum if limit is not None else None
        given, follows = sender.spec.pulses_per_revolution, one.spec.max_pulse_rate
        if given is None or follows is None or speed is None:
            facts = ((PULSES, given), (RATE, follows), (SPEED, speed))
            yield undetermined(at, path, [word for word, value in facts if value is None])
            continue
        rate = in_unit(speed, "rpm", "speed") / 60 * given
        top = in_unit(follows, "Hz", "frequency")
        told = (
            f"{one.source} gives {plain_number(rate)} Hz at {plain_number(in_unit(speed, 'rpm', 'speed'))} rpm, and "
            f"{one.name} follows {plain_number(top)} Hz"
        )
        figures = {"value": rate, "limit": top, "margin": top - rate, "unit": "Hz"}
        if rate <= top:
            yield meets(at, path, told, **figures)
        else:
            most = plain_number(top * 60 / in_unit(speed, "rpm", "speed"))
            yield discrepancy(
                at, path, told, remedy=f"use a pick-up of at most {most} pulses per revolution", **figures
            )
