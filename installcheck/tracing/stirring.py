"""What a test does to a sender or a wire, and what follows: a pointer that moves, a lead that is taken along."""

from __future__ import annotations

from dataclasses import replace
from math import inf

from ..graph import Edge
from ..model.things import Span
from .changes import Joins, Reached, World
from .channels import Channel
from .expected import Expect
from .looks import Setup

_STIR, _HOT_OIL_K = 0.2, 100.0
"""Least share of the dial by which what a sender feels is moved to see whether the pointer answers, and what oil of
120 degC gives on a day of 20 degC."""

_STILL, _MOVES = 1 / 8, 1 / 2
"""Shares of what was put on, up to which a person calls a pointer still, and from which he says that it follows."""


def stirred(channel: Channel, before: float) -> float:
    """What a probe or sender is made to feel on the ground: half its dial, or as warm as hot water makes it."""
    dial = channel.spec.scale
    if dial is None:
        return before + _HOT_OIL_K
    low, span = float(dial.lowest), float(dial.highest) - float(dial.lowest)
    half = low + span / 2
    if abs(before - half) < _STIR * span:
        half = before + _STIR * span
    return min(half, before + _HOT_OIL_K) if dial.lowest.kind == "temperature" else half


def answer(one: Expect, other: Expect, by: float, dial: Span | None) -> Expect:
    """Whether a pointer moved from what is expected before to what is expected after."""
    unknown = any((e.value is None and e.word is None) or e.word == "starved" for e in (one, other))
    stops = ("off scale high", "off scale low", "erratic")
    low = {one.word, other.word} == {"dead", "off scale low"}  # both are the lower stop
    if unknown or low or (one.word == other.word and one.word in stops):
        return Expect()
    if one.value is not None and other.value is not None:
        change = abs(one.value - other.value)
    else:
        change = 0.0 if one.word == other.word else inf
    if change == inf and _near_stop(one, other, _MOVES * by, dial):
        return Expect()
    if _STILL * by < change < _MOVES * by:
        return Expect()
    return Expect(word="moves" if change > _STILL * by else "still")


def _near_stop(one: Expect, other: Expect, near: float, dial: Span | None) -> bool:
    """Whether a pointer at a stop comes off it so little that it may stay there."""
    value = one.value if one.value is not None else other.value
    if dial is None or value is None:
        return False
    words = {one.word, other.word}
    low = "off scale low" in words and value - float(dial.lowest) < near
    return low or ("off scale high" in words and float(dial.highest) - value < near)


def lead_end(at: Setup, node: str, world: World) -> str:
    """Where volts of a lifted lead are told, by its far end: that of the wire which really is at the terminal in a world."""
    moves = [m for c in world if isinstance(c, Reached) for m in c.moves]
    gone = [e for e, there, _ in moves if there in at.lifted and node in (e.a, e.b)]
    come = [(e, own) for e, own, there in moves if there in at.lifted]
    return next((e.b if e.a == own else e.a for e, own in come), node) if gone else node


def away(touching: Joins, at: Setup) -> Joins:
    """Wires that touch on their way, at an end of each that is not taken off in a setup: a lifted lead takes it along."""

    def end(node: str, wire: Edge | None) -> str:
        ends = (node, wire.a, wire.b) if wire is not None else (node,)
        held = [n for n in ends if n not in at.lifted and n.partition(".")[0] not in at.lifted]
        return held[0] if held else node

    one, other = touching.wires
    a, b = end(touching.a, one), end(touching.b, other)
    return touching if (a, b) == (touching.a, touching.b) else replace(touching, a=a, b=b)
