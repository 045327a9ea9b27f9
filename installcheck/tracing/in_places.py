"""Hypotheses of leads in the wrong place: touching each other, or exchanged."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import combinations

from ..analysis.study import Study
from .changes import Joins, Reached
from .channels import Channel
from .hypotheses import Hypothesis, of_one
from .predict import Predictor

_MOST_NEIGHBOURS = 6
"""Other indications whose signal leads are taken to lie beside those of one."""


def neighbours(study: Study, predictor: Predictor, bad: Sequence[Channel]) -> Iterator[Hypothesis]:
    """The legs of one indication touching each other, and its signal lead touching that of another beside it."""
    for channel in bad:
        if channel.indication is None or channel.way == "couple":
            continue
        first = {
            s.near: s.edge
            for c in predictor.channels
            if c.indication
            for leg in c.indication.legs
            for s in leg.steps[:1]
        }
        for a, b in (*_own_pairs(channel), *_pairs_beside(study, predictor, channel)):
            yield of_one(
                "short to neighbour",
                (a, b),
                f"the leads at {a} and {b} touch each other somewhere on their way",
                (Joins(a, b, wires=(first[a], first[b])),),
                channel.path,
                study.graph.zone_of(a) or "",
            )


def _own_pairs(channel: Channel) -> list[tuple[str, str]]:
    """Nodes at the gauge of each two legs of an indication that are no ground."""
    assert channel.indication is not None
    near = [leg.steps[0].near for leg in channel.indication.legs if leg.steps and not leg.through_ground]
    return [(a, b) for a, b in dict.fromkeys(combinations(near, 2)) if a != b]


def _pairs_beside(study: Study, predictor: Predictor, channel: Channel) -> Iterator[tuple[str, str]]:
    """The signal lead of an indication and those of others that run with it."""
    mine = channel.first_wire
    found = 0
    for other in predictor.channels:
        if mine is None or found == _MOST_NEIGHBOURS:
            return
        if other.way == "network" and other.source != channel.source and other.indication is not None:
            theirs = other.first_wire
            if theirs is not None and theirs[1] != mine[1] and _beside(study, channel, other):
                found += 1
                yield mine[1], theirs[1]


def _beside(study: Study, one: Channel, other: Channel) -> bool:
    """Whether leads of two indications end at one indicator, pass one plug or block, or lie in one harness."""
    return _side_by_side(study, one, other) or bool(_bundles(one) & _bundles(other))


def _bundles(channel: Channel) -> set[str]:
    runs = [e.run for e in channel.edges if e.run is not None]
    return {r.bundle for r in runs if isinstance(r.bundle, str)}


def exchanged(study: Study, predictor: Predictor, bad: Sequence[Channel]) -> Iterator[Hypothesis]:
    """Two signal leads of one indicator, or two of one plug, in each other's place; and the two leads of one sender."""
    seen: set[frozenset[str]] = set()
    for channel in bad:
        if channel.way != "network" or channel.indication is None:
            continue
        mine = channel.first_wire
        if mine is None:
            continue
        for other in predictor.channels:
            if other is channel or other.way != "network" or other.source == channel.source:
                continue
            theirs = other.first_wire
            if theirs is None or not _side_by_side(study, channel, other):
                continue
            pair = frozenset((mine[0].label, theirs[0].label))
            if len(pair) < 2 or pair in seen:
                continue
            seen.add(pair)
            moves = ((mine[0], mine[1], theirs[1]), (theirs[0], theirs[1], mine[1]))
            yield of_one(
                "leads exchanged",
                (mine[0].label, theirs[0].label),
                f"leads {mine[0].label} and {theirs[0].label} are in each other's place at {mine[1]} and {theirs[1]}",
                (Reached(moves),),
                channel.path,
                study.graph.zone_of(mine[1]) or "",
            )
        yield from _turned(study, channel)


def _turned(study: Study, channel: Channel) -> Iterator[Hypothesis]:
    """The two leads of one sender crossed at the gauge."""
    assert channel.indication is not None
    ends = [(leg.steps[0].edge, leg.steps[0].near) for leg in channel.indication.legs if leg.steps]
    if len(ends) != 2 or any(e.kind != "conductor" for e, _ in ends) or ends[0][1] == ends[1][1]:
        return
    (one, a), (other, b) = ends
    yield of_one(
        "leads exchanged",
        (one.label, other.label),
        f"leads {one.label} and {other.label} are crossed at {a} and {b}",
        (Reached(((one, a, b), (other, b, a))),),
        channel.path,
        study.graph.zone_of(a) or "",
    )


def _side_by_side(study: Study, one: Channel, other: Channel) -> bool:
    """Whether the leads of two indications end at one indicator or pass one plug or block."""
    if one.indicator == other.indicator:
        return True
    return bool(_joints(study, one) & _joints(study, other))


def _joints(study: Study, channel: Channel) -> set[str]:
    return {
        n.partition(".")[0]
        for e in channel.edges
        for n in (e.a, e.b)
        if n.partition(".")[0] in study.model.junctions
    }
