"""Tachometers: drive ratio and poles, sense of rotation and order of leads, pulses for each revolution and their rate."""

from __future__ import annotations

from ...analysis import missing
from ...analysis.sender_pairs import Pair, lead_order, tachometers
from ...analysis.shown import limit_of, listed, shown
from ...analysis.study import Study
from ...model.comparing import at_most, same
from ...model.quantities import Quantity, in_unit, plain_number
from ...physics.synchros import LEADS, TachometerEffect, indicated_speed, tachometer_effect
from ..verdicts import Verdict
from ..vocabulary import Subject, rule

_ROUNDED = 1e-3
"""Share by which two ratios may differ and still be one, as they are written in rounded figures: 0.857 for 6/7."""

_OTHER_WAY = {"clockwise": "anticlockwise", "anticlockwise": "clockwise"}
"""A shaft that is looked at from its other end."""


def _one_ratio(a: float, b: float) -> bool:
    return at_most(abs(a / b - 1), _ROUNDED)


@rule(
    "tachometer-ratio",
    title="A tachometer indicator is made for its generator and the drive it sits on",
    why="A wrong drive ratio or a wrong number of poles shows an exact multiple of the true speed.",
    source="plain physics: f = poles x rpm / 120",
    formula="shown = true x (ratio made for / drive ratio) x (poles / poles made for), at rated speed",
    example="indicator for half engine speed on a drive at engine speed: 2700 rpm shows 5400",
    over=lambda study: tachometers(study, "synchronous tachometer"),
)
def tachometer_ratio(study: Study, subject: Subject, pair: Pair) -> Verdict:
    """A three-wire tachometer."""
    own, engine = pair.sender.drive_ratio, pair.engine
    of_engine = engine.tachometer_drive if engine is not None else None
    drive = own if own is not None else of_engine
    subject = subject.along(pair.source).placed("senders", pair.source)
    stated = subject.field("drive_ratio") if own is not None else subject
    if own is not None and of_engine is not None and not _one_ratio(own, of_engine):
        return stated.discrepancy(
            f"{pair.source} is said to turn once in {own:g} engine revolutions, but the drive of engine "
            f"{pair.engine_id} turns once in {of_engine:g}",
            remedy="put the ratio right, or state the angle drive between them",
        )
    speed = engine.speed if engine is not None else None
    expected, poles, made_for = pair.reads.engine_ratio, pair.gives.poles, pair.reads.generator_poles
    if drive is None or expected is None or poles is None or made_for is None:
        facts = (
            (missing.SENDER_DRIVE, drive),
            (missing.INDICATOR_ENGINE_RATIO, expected),
            (missing.SENDER_POLES, poles),
            (missing.INDICATOR_POLES, made_for),
        )
        return subject.lacks(*(word for word, value in facts if value is None))
    if poles % 2 or made_for % 2:
        return subject.lacks(missing.SENDER_POLE_PAIRS)
    if speed is None:
        if same(drive * made_for, expected * poles):
            return stated.meets(
                f"{pair.name} shows every speed true: its drive and poles are those it is made for"
            )
        return subject.lacks(missing.ENGINE_SPEED)
    rated = in_unit(speed, "rpm", "speed")
    reads = indicated_speed(rated, 1 / drive, poles, 1 / expected, made_for)
    factor = f"fit an indicator or a drive that makes up the factor of {plain_number(rated / reads)}"
    if poles == made_for and _one_ratio(drive * expected, 1.0):
        factor = f"if the generator turns {expected:g} times slower than the engine, write drive_ratio: {expected:g}"
    return _speed(stated, pair, rated, reads, _why(drive, expected, poles, made_for), factor)


def _why(drive: float, expected: float, poles: int, made_for: int) -> str:
    told = []
    if not _one_ratio(drive, expected):
        told.append(
            f"its generator turns once in {drive:g} engine revolutions and it is made for one in {expected:g}"
        )
    if poles != made_for:
        told.append(f"its generator has {poles} poles and it is made for {made_for}")
    return " and ".join(told)


def _speed(subject: Subject, pair: Pair, rated: float, reads: float, why: str, remedy: str) -> Verdict:
    """What a pointer shows at rated speed, against the budget of the indication, else its accuracy, else rounding."""
    allowed = pair.reads.budget if pair.reads.budget is not None else pair.reads.accuracy
    limit = (
        in_unit(allowed, "rpm", "speed")
        if allowed is not None and allowed.kind == "speed"
        else rated * _ROUNDED
    )
    told = f"{pair.name} shows {plain_number(reads)} rpm at {plain_number(rated)} rpm"
    return subject.at_most(
        abs(reads - rated), limit, "rpm", told, broken=f"{told}: {why}" if why else told, remedy=remedy
    )


@rule(
    "tachometer-sense",
    title="A three-wire tachometer turns its pointer the right way",
    why="Two leads exchanged, or a drive that turns the other way, drive the pointer against its stop. All three moved on by one "
    "change nothing.",
    source="plain physics: order of phases",
    formula="sense of the motor = sense of the generator x order of the leads; a drive that turns clockwise seen from outside turns the "
    "generator anticlockwise seen from its shaft end",
    example="leads 2 and 3 exchanged: the motor turns backwards; 1-2-3 to 2-3-1: reads true",
    over=lambda study: tachometers(study, "synchronous tachometer"),
)
def tachometer_sense(study: Study, subject: Subject, pair: Pair) -> Verdict:
    """A three-wire tachometer."""
    subject, order = subject.along(pair.source), lead_order(pair)
    if order is None:
        return subject.discrepancy(
            f"{pair.name} is joined to {pair.source} by {len(pair.indication.legs)} of three leads: "
            f"{TachometerEffect.NO_ROTATING_FIELD.value}",
            remedy="join all three leads",
        )
    crossed = tachometer_effect(order) is TachometerEffect.REVERSED
    runs = pair.indication.runs
    leads = (
        f"leads 1, 2, 3 of {pair.source} go to {', '.join(str(LEADS.index(t) + 1) for t in order)} of {pair.name} "
        f"by {listed(list(runs))}"
    )
    drive, made = pair.engine.drive_sense if pair.engine is not None else None, pair.gives.sense
    if drive is None or made is None:
        facts = ((missing.ENGINE_DRIVE_SENSE, drive), (missing.SENDER_SENSE, made))
        right = "same way as" if crossed else "other way to"
        return subject.lacks(
            *(word for word, value in facts if value is None),
            because=f"{leads}, which is right if the drive, seen from outside, turns the {right} the generator made for it, seen "
            "from its shaft end",
        )
    turned = _OTHER_WAY[drive]
    told = f"{leads}, and the drive turns {drive} seen from outside, the generator {turned} seen from its shaft end"
    if crossed == (turned != made):
        return subject.meets(f"{told}: the pointer follows")
    return subject.along(*runs).discrepancy(
        f"{told}, and is made for {made}: {TachometerEffect.REVERSED.value}",
        remedy="exchange any two of the three leads",
    )


@rule(
    "pulse-count",
    title="A pulse tachometer counts as many pulses in a revolution as its pick-up gives",
    why="A wrong count shows an exact multiple of the true speed: twice, half, two thirds.",
    source="plain physics",
    formula="shown = true x pulses given / pulses expected, at rated speed",
    example="pick-up with 2, indicator set to 4: 2700 rpm shows 1350",
    over=lambda study: tachometers(study, "pulse counter"),
)
def pulse_count(study: Study, subject: Subject, pair: Pair) -> Verdict:
    """A pulse counter that shows engine speed."""
    subject = subject.along(pair.source)
    given, expected = pair.gives.pulses_per_revolution, pair.reads.pulses_per_revolution
    speed = pair.engine.speed if pair.engine is not None else None
    if given is None or expected is None:
        facts = ((missing.SENDER_PULSES, given), (missing.INDICATOR_PULSES, expected))
        return subject.lacks(*(word for word, value in facts if value is None))
    if speed is None:
        if same(given, expected):
            return subject.meets(
                f"{pair.name} counts the {given:g} pulses in a revolution that {pair.source} gives"
            )
        return subject.lacks(missing.ENGINE_SPEED)
    rated = in_unit(speed, "rpm", "speed")
    why = f"{pair.source} gives {given:g} pulses in a revolution and it expects {expected:g}"
    remedy = f"set {pair.name} to {given:g} pulses per revolution"
    return _speed(subject, pair, rated, rated * given / expected, why, remedy)


@rule(
    "pulse-rate",
    title="An indicator follows the pulses at the highest speed",
    why="Beyond its highest rate a counter misses pulses and shows less than the engine turns.",
    source="the indicator's own limit; f = rpm x pulses / 60",
    formula="f = rpm / 60 x pulses per revolution, at the highest speed allowed",
    example="2700 rpm and 12 pulses: 540 Hz against 500 Hz",
    over=lambda study: tachometers(study, "pulse counter"),
)
def pulse_rate(study: Study, subject: Subject, pair: Pair) -> Verdict:
    """A pulse counter that shows engine speed."""
    subject = subject.along(pair.source)
    dial = next((s for s in shown(study) if s.name == pair.name), None)
    limit = limit_of(study, dial) if dial is not None else None
    speed: Quantity | None = limit.maximum if limit is not None else None
    given, follows = pair.gives.pulses_per_revolution, pair.reads.max_pulse_rate
    if given is None or follows is None or speed is None:
        facts = (
            (missing.SENDER_PULSES, given),
            (missing.INDICATOR_PULSE_RATE, follows),
            (missing.ENGINE_SPEED, speed),
        )
        return subject.lacks(*(word for word, value in facts if value is None))
    rpm, top = in_unit(speed, "rpm", "speed"), in_unit(follows, "Hz", "frequency")
    rate = rpm / 60 * given
    return subject.at_most(
        rate,
        top,
        "Hz",
        f"{pair.source} gives {plain_number(rate)} Hz at {plain_number(rpm)} rpm, and {pair.name} follows "
        f"{plain_number(top)} Hz",
        remedy=lambda: f"use a pick-up of at most {plain_number(top * 60 / rpm)} pulses per revolution",
    )
