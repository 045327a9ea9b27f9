"""What bears on an indication, and what becomes of faults when things are exchanged for a test."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

from ..analysis.study import Study
from ..analysis.thermocouple.groups import group_of
from ..graph import Edge
from .changes import (
    Adds,
    Change,
    Counts,
    Couple,
    Crossed,
    Cut,
    Drifts,
    Feels,
    FeelsOther,
    Joins,
    Metal,
    OtherCurve,
    OtherScale,
    Reached,
    Sends,
    Shows,
    World,
)
from .channels import Channel, channels
from .in_synchros import rotor_wires
from .looks import Setup


def relevant(study: Study, channel: Channel, worlds: Sequence[World]) -> list[World]:
    """What of each world bears on an indication that does not follow from the network: the rest leaves it as it is."""
    edges = {*channel.edges, *study.graph.by_thing.get((channel.section, channel.source), ())}
    for source in channel.sources:
        edges.update(study.graph.by_thing.get((channel.section, source), ()))
    if channel.loop is not None:
        for one in group_of(study, channel.loop):
            edges.update(p.edge for p in one.pieces if p.edge is not None)
    edges.update(e for e, _ in rotor_wires(study, channel))
    nodes = {n for e in edges for n in (e.a, e.b)}
    own = {*channel.sources, channel.indicator}

    def bears(change: Change) -> bool:
        if isinstance(change, (Cut, Adds, Metal)):
            return change.edge in edges
        if isinstance(change, Crossed):
            return any(e in edges for e in change.edges)
        if isinstance(change, Joins):
            return change.a in nodes or change.b in nodes
        if isinstance(change, Reached):
            return any(e in edges for e, _, _ in change.moves)
        if isinstance(change, OtherScale):
            return change.indication == channel.show.name
        named = {getattr(change, f, None) for f in ("source", "sender", "probe", "other")}
        return bool(named & own)

    return [tuple(c for c in world if bears(c)) for world in worlds]


def _moved(change: Change, names: dict[str, str]) -> Change | None:
    """What becomes of a probe's or sender's own fault when it is exchanged with another, or with a sound spare."""
    if isinstance(change, Couple) and change.probe in names:
        name = names[change.probe]
        return replace(change, probe=name) if name else None
    if isinstance(change, (Sends, OtherCurve)) and change.sender in names:
        name = names[change.sender]
        return replace(change, sender=name) if name else None
    if isinstance(change, Drifts) and change.source in names:
        name = names[change.source]
        return replace(change, source=name) if name else None
    return change


def with_swap(study: Study, world: World, one: str, other: str) -> World:
    """Two probes or senders exchanged: their own faults go with them, and a spare is sound."""
    names = {one: other, other: one} if other else {one: ""}
    own = {n: _own_edges(study, n) if n else {} for n in names | {other: one}}
    there = {e: own[names[n]].get(kind) for n in names for kind, e in own[n].items()}
    ends = {frozenset((e.a, e.b)): to for e, to in there.items()}
    made: list[Change] = []
    for change in world:
        if isinstance(change, Cut) and change.edge in there:
            to = there[change.edge]
            made += [Cut(to)] if to is not None else []
        elif isinstance(change, Joins) and frozenset((change.a, change.b)) in ends:
            to = ends[frozenset((change.a, change.b))]
            made += [replace(change, a=to.a, b=to.b)] if to is not None else []
        else:
            found = _moved(change, names)
            made += [found] if found is not None else []
    return tuple(made)


def with_spare_gauge(world: World, indicator: str) -> World:
    """A gauge known to be sound in the place of an indicator: what it picks up on its leads stays."""

    def stays(change: Change) -> bool:
        if isinstance(change, (OtherScale, Counts)) or (
            isinstance(change, Shows) and change.state != "erratic"
        ):
            return change.indication != indicator and not change.indication.startswith(f"{indicator} ")
        return True

    return tuple(c for c in world if stays(c))


def as_exchanged(
    study: Study, at: Setup, channel: Channel, worlds: Sequence[World]
) -> tuple[Channel, Sequence[World]]:
    """What a channel reads with two things exchanged for the test, and what is wrong there."""
    if at.swapped is None:
        return channel, worlds
    one, other = at.swapped
    if one in study.model.indicators and not other:
        return channel, [with_spare_gauge(w, one) for w in worlds]
    if one in study.model.probes or one in study.model.senders:
        return channel, [with_swap(study, w, one, other) for w in worlds]
    mine = str(channel.show)
    if mine not in (one, other):
        return channel, worlds
    there = other if mine == one else one
    return next((c for c in channels(study) if str(c.show) == there), channel), worlds


def reseated(study: Study, world: World, swapped: tuple[str, str] | None) -> bool:
    """Whether a probe that sits badly was taken out for the test: how it sits afterwards cannot be told."""
    return _taken_out(study, world, swapped, lambda share: share < 1)


def relaid(study: Study, world: World, swapped: tuple[str, str] | None) -> bool:
    """Whether a probe that is heated from beside was taken out: another in its place is, unless its sheath is laid otherwise."""
    return _taken_out(study, world, swapped, lambda share: share > 1)


def _taken_out(
    study: Study, world: World, swapped: tuple[str, str] | None, of: Callable[[float], bool]
) -> bool:
    out = [p for p in swapped or () if p in study.model.probes]
    return any(isinstance(c, Feels) and of(c.share) and c.source in out for c in world)


def moved(world: World, at: Setup) -> bool:
    """Whether what was put in a bath may be another probe or sender than it is taken for."""
    bathed = {ident for ident, _ in at.bathed}
    return any(isinstance(c, FeelsOther) and bathed & {c.source, c.other} for c in world)


def _own_edges(study: Study, ident: str) -> dict[str, Edge]:
    found = study.model.find(ident)
    section = found[0] if found is not None else ""
    edges = study.graph.by_thing.get((section, ident), ())
    return {e.kind: e for e in edges if e.kind in ("element", "couple")}
