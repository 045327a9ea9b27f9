"""Tests that are possible at accessible points: looks at gauges, ohms, volts, swaps, a resistor in a sender's place."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ..analysis.study import Study
from .by_exchange import at_port, of_line, other_gauge, swaps, true_value
from .by_looking import looks, shaking
from .by_meter import along_leads, at_source, at_supplies, insulation, of_meter, resting, ringing, supply
from .by_standing_in import at_gauge, in_bath, leads_off, on_bench
from .channels import Channel
from .in_lines import feeds_of
from .looks import Look, Observation, Setup
from .marking import marks
from .offered import Test

_NOT_BY_OHMS = ("synchro receiver", "synchronous tachometer", "capillary", "pulse counter")
"""Principles whose gauges tell nothing by a resistance put on their terminals, nor by leads changed over."""


def tests_for(study: Study, bad: Sequence[Channel], seen: Sequence[Observation]) -> list[Test]:
    """Every test that could say more of the indications that misbehave, those made already left out."""
    done = {(o.at, o.look) for o in seen}
    found: dict[tuple[Setup, Look], Test] = {}
    for channel in bad:
        for test in _of_channel(study, channel, seen):
            key = (test.at, test.look)
            if key not in done:
                found.setdefault(key, test)
    return list(found.values())


def _of_channel(study: Study, channel: Channel, seen: Sequence[Observation]) -> Iterator[Test]:
    yield from looks(study, channel, seen)
    yield from marks(study, channel)
    if any(o.result.word == "erratic" for o in seen):
        yield from shaking(study, channel)
    if channel.way == "line":
        yield from of_line(study, channel)
        return
    yield from at_supplies(study, channel)
    yield from in_bath(study, channel)
    if channel.indication is None:
        if channel.meter is not None:
            yield from of_meter(study, channel)
            yield from along_leads(study, channel)
            yield from insulation(study, channel)
            yield from supply(study, channel)
        yield true_value(study, channel)
        yield other_gauge(study, channel)
        return
    yield from resting(study, channel)
    yield from insulation(study, channel)
    yield from supply(study, channel)
    yield from ringing(study, channel)
    yield from leads_off(study, channel, seen)
    yield from along_leads(study, channel)
    yield from at_source(study, channel)
    yield from on_bench(study, channel)
    if channel.spec.principle not in _NOT_BY_OHMS:
        yield from at_gauge(study, channel)
        yield from swaps(study, channel)
    yield true_value(study, channel)
    yield other_gauge(study, channel)
    if feeds_of(study, channel):
        yield at_port(study, channel)
