"""What every look would show in every world, worked out by the same solver and the same walk that judge the installation."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import cached_property
from math import isfinite

from ..analysis.errors.in_state import DEAD, ERRATIC, FROZEN, Seen, on_dial
from ..analysis.errors.reading import Shown as Pointer
from ..analysis.study import Point, Study
from . import by_hand, couples, meters, pointing
from .changes import (
    Adds,
    Change,
    Couple,
    Crossed,
    Cut,
    Drifts,
    Feels,
    FeelsOther,
    Holds,
    Joins,
    Jumps,
    Metal,
    OtherCurve,
    OtherScale,
    Reached,
    Sends,
    Shows,
    Truly,
    When,
    World,
)
from .channels import Channel, channel_of, channels, stated_truth
from .exchanging import as_exchanged, moved, relaid, relevant, reseated
from .expected import Expect
from .fed import UNPOWERED, Fed, supplied
from .feeling import sensed, true_of
from .following import followed, rung, supply_points
from .in_synchros import rotor_wires
from .looks import STOPPED, Answers, Followed, Look, Ohms, Rung, Setup, Show, Volts
from .powered import Powered, Solved
from .probing import flowing_through, gives_volts, read, volts
from .states import point_of
from .stirring import answer, away, stirred
from .unpowered import Unpowered
from .wires import structure

_TURNING = frozenset(("synchro receiver", "synchronous tachometer"))


_BENDING = (Couple, Metal, OtherScale, Adds, Joins, Crossed)
"""Changes of a thermocouple circuit by which its pointer moves by more or less than what its junction does."""
_OF_LINES = (Feels, FeelsOther, Holds)
"""Changes that are gone where a pump is put on a sender itself, its line off."""
_STEP = 0.03
"""Share of the dial over which that is taken."""


class Predictor:
    """Looks at a study, each setup solved once."""

    def __init__(self, study: Study) -> None:
        self.study = study
        self._powered: dict[Setup, Powered] = {}
        self._solved: dict[Setup, dict[World, Solved]] = {}
        self._bench: dict[tuple[Setup, str, str], Unpowered] = {}
        self._kept: dict[tuple[Setup, Look], dict[World, Expect]] = {}

    @cached_property
    def channels(self) -> tuple[Channel, ...]:
        """Every indication."""
        return channels(self.study)

    def at_hand(self, at: Setup, look: Look) -> bool:
        """Whether what a look shows costs little: it takes no network, or one that was solved."""
        return not isinstance(look, (Show, Volts)) or at in self._powered

    def expect(self, at: Setup, look: Look, worlds: Sequence[World]) -> list[Expect]:
        """What a look shows in each world."""
        kept = self._kept.setdefault((at, look), {})
        wanted = [w for w in dict.fromkeys(worlds) if w not in kept]
        as_they_are = [self._at(at, w) for w in wanted]
        if isinstance(look, Volts) and at.known:  # a pump is put on the sender itself, its line off
            as_they_are = [tuple(c for c in w if not isinstance(c, _OF_LINES)) for w in as_they_are]
        for world, found in zip(wanted, self._worked_out(at, look, as_they_are), strict=True):
            kept[world] = found
        return [kept[w] for w in worlds]

    def _at(self, at: Setup, world: World) -> World:
        """The changes of a world that are there in a setup; a resistor in a sender's place is no worse for its faults."""
        gone = {ident for ident, _ in at.replaced}
        bathed = {ident for ident, _ in at.bathed}
        made: list[Change] = []
        for one in world:
            if isinstance(one, When):
                running = point_of(self.study, at).name not in (STOPPED, *one.sound)
                on = dict(at.loads).get(one.load, False) if one.load else running
                on = on and not closed_off(at, one.by)
                made += [one.change] if on else []
            elif not (
                (isinstance(one, (Sends, OtherCurve)) and one.sender in gone)
                or (isinstance(one, Drifts) and one.source in gone)
                or (isinstance(one, (Feels, Truly)) and one.source in bathed)
                or (isinstance(one, Cut) and one.edge.kind == "element" and one.edge.ident in gone)
            ):
                made.append(away(one, at) if isinstance(one, Joins) else one)
        return tuple(made)

    def _worked_out(self, at: Setup, look: Look, worlds: Sequence[World]) -> list[Expect]:
        if not worlds:
            return []
        if isinstance(look, Show):
            return self._shows(at, look, worlds)
        if isinstance(look, Volts):
            powered = self.powered(at)
            states = self._states(powered, at, worlds)
            return [read(powered, at, look, w, s) for w, s in zip(worlds, states, strict=True)]
        if isinstance(look, Ohms):
            ohms = self.bench(at, look.a, look.b).measured(worlds)
            return [
                Expect(word="closed")
                if r is None
                else Expect(r, unsure=unsure)
                if isfinite(r)
                else Expect(word="open")
                for r, unsure in ohms
            ]
        if isinstance(look, Followed):
            return self._followed(at, look, worlds)
        if isinstance(look, Rung):
            channel = next(c for c in self.channels if str(c.show) == look.name)
            wires = self.bench(at, channel.edges[0].a, channel.edges[0].b)
            return [rung(self.study, channel, wires, w) for w in worlds]
        if isinstance(look, Answers):
            return self._answers(at, look, worlds)
        return [by_hand.told(self.study, at, look, w) for w in worlds]

    def _followed(self, at: Setup, look: Followed, worlds: Sequence[World]) -> list[Expect]:
        points, ground = supply_points(self.study, look.indicator), structure(self.study)
        powered = self.powered(at)
        states = self._states(powered, at, [(), *worlds])
        found = [[volts(powered, s, n, ground or "") for n in (*points[0], *points[1])] for s in states]
        return [followed(points, found[0], one) for one in found[1:]]

    def powered(self, at: Setup) -> Powered:
        """The network in a setup."""
        if at not in self._powered:
            self._powered[at] = Powered(self.study, at)
        return self._powered[at]

    def bench(self, at: Setup, a: str, b: str) -> Unpowered:
        """An ohmmeter between two nodes in a setup."""
        key = (at, a, b)
        if key not in self._bench:
            self._bench[key] = Unpowered(self.study, at, a, b)
        return self._bench[key]

    def _states(self, powered: Powered, at: Setup, worlds: Sequence[World]) -> list[Solved]:
        alike = [_without_wires(w) for w in worlds]
        known = self._solved.setdefault(at, {})
        wanted = [w for w in dict.fromkeys(alike) if w not in known]
        for world, state in zip(wanted, powered.solved(wanted), strict=True):
            known[world] = state
        return [known[w] for w in alike]

    def _shows(self, at: Setup, look: Show, worlds: Sequence[World]) -> list[Expect]:
        channel = channel_of(self.study, look)
        if channel is None:
            return [Expect(word="dead")] * len(worlds)
        read, worlds = as_exchanged(self.study, at, channel, worlds)
        point = point_of(self.study, at)
        plain = [tuple(c for c in w if not isinstance(c, (Shows, Jumps))) for w in worlds]
        states = (
            self._states(self.powered(at), at, plain) if channel.spec.principle not in UNPOWERED else None
        )
        seen = self._seen(at, point, read, plain, states)
        fed: list[Fed] = ["fed"] * len(worlds)
        if states is not None:
            fed = supplied(self.powered(at), channel, states)
        return [self._expected(at, channel, w, s, f) for w, s, f in zip(worlds, seen, fed, strict=True)]

    def _seen(
        self, at: Setup, point: Point, read: Channel, worlds: Sequence[World], states: Sequence[Solved] | None
    ) -> list[Seen | None]:
        """What it shows by what it reads, its supply taken for enough."""
        powered = self.powered(at)
        if read.meter is not None and states is not None:
            return meters.shown(powered, point, read, worlds, states)
        if read.way == "network" and states is not None:
            each = {id(s): powered.shown(read.show.name, read.source, s) for s in states}
            return [
                None if flowing_through(powered, read, w, s.amps) else each[id(s)]
                for w, s in zip(worlds, states, strict=True)
            ]
        own = relevant(self.study, read, worlds)
        alone = {w: self._by_itself(at, point, read, w) for w in dict.fromkeys(own)}
        return [alone[w] for w in own]

    def _expected(self, at: Setup, channel: Channel, world: World, seen: Seen | None, fed: Fed) -> Expect:
        if reseated(self.study, world, at.swapped) or moved(world, at):
            return Expect()
        told = pointing.told(
            self.study, at, channel, world, DEAD if fed == "dead" else seen,
            lambda value, share: self._slope(at, point_of(self.study, at), channel, world, value, share),
        )  # fmt: skip
        if fed == "starved" and not any(isinstance(c, Shows) for c in world):
            return replace(told, word="starved")
        again = told.word is None and relaid(self.study, world, at.swapped)
        return replace(told, word="relaid") if again else told

    def _by_itself(self, at: Setup, point: Point, channel: Channel, world: World) -> Seen | None:
        stated = stated_truth(self.study, channel, point, at.known)
        if stated is None:
            return None
        if any(isinstance(c, Holds) and c.source in (*channel.sources, channel.indicator) for c in world):
            return FROZEN
        if channel.loop is not None:
            true = [sensed(self.study, at, point, s, stated, world) for s in channel.sources]
            return couples.shown(self.study, channel.loop, point, true, world)
        cut = {c.edge for c in world if isinstance(c, Cut)}
        moved = {e for c in world if isinstance(c, Reached) for e, _, _ in c.moves}
        own = self.study.graph.by_thing.get((channel.section, channel.source), ())
        if cut & {*channel.edges, *own}:
            return ERRATIC if channel.spec.principle in _TURNING else DEAD
        rotors = {e for e, _ in rotor_wires(self.study, channel)}
        if cut & rotors:
            return FROZEN
        if moved & {*channel.edges, *rotors}:
            return ERRATIC if not rotors else None
        if channel.reader is None:
            return Seen("value", sensed(self.study, at, point, channel.source, stated, world))
        felt = sensed(self.study, at, point, channel.feels, stated, world)
        budget = channel.reader.at(point, felt)
        if budget.indicated is None and not budget.beyond:
            return on_dial(channel.spec, Pointer(felt))
        return on_dial(channel.spec, Pointer(budget.indicated, budget.beyond))

    def _slope(
        self, at: Setup, point: Point, channel: Channel, world: World, shown: float, share: float
    ) -> float:
        """How far a thermocouple's pointer moves by what its junction is warmer, where that is not as drawn."""
        dial, stated = channel.spec.scale, stated_truth(self.study, channel, point, at.known)
        if dial is None or stated is None or not share or not any(isinstance(c, _BENDING) for c in world):
            return 1.0
        step = _STEP * (float(dial.highest) - float(dial.lowest))
        for one in (step, -step):
            true = true_of(self.study, at, point, channel.source, stated) + one / share
            warmer = replace(at, bathed=(), known=(*((s, true) for s in channel.sources), *at.known))
            other = self._by_itself(warmer, point, channel, world)
            if other is not None and other.value is not None:
                return abs(other.value - shown) / step
        return 1.0

    def _answers(self, at: Setup, look: Answers, worlds: Sequence[World]) -> list[Expect]:
        show = Show(*look.name.split(" at ")) if " at " in look.name else Show(look.name)
        source = next((c for c in self.channels if look.source in c.sources), None)
        before = stated_truth(self.study, source, point_of(self.study, at)) if source is not None else None
        if source is None or before is None:
            return [Expect()] * len(worlds)
        after = stirred(source, before)
        if source.section != "probes":
            worlds = [tuple(c for c in w if not isinstance(c, _OF_LINES)) for w in worlds]
        cold = self.expect(at, show, worlds)
        warm = self.expect(replace(at, known=((look.source, after), *at.known)), show, worlds)
        told = [
            answer(one, other, abs(after - before), source.spec.scale)
            for one, other in zip(cold, warm, strict=True)
        ]
        if source.way != "network":
            return told
        powered = self.powered(at)
        states = self._states(powered, at, worlds)
        return [
            t if gives_volts(powered, s, look.source, w) else Expect()
            for t, s, w in zip(told, states, worlds, strict=True)
        ]


def closed_off(at: Setup, terminals: Sequence[str]) -> bool:
    """Whether nothing comes into a gauge by some terminals in a setup: the lead is off, or they are joined at the gauge."""
    ends = {n for a, b, _ in at.joined for n in (a, b)}
    return any(n in at.lifted or n in ends for n in terminals)


def _without_wires(world: World) -> World:
    """The world with nodes that touch, whichever wires it is that do: to the network that is one and the same."""
    if not any(isinstance(c, Joins) for c in world):
        return world
    return tuple(Joins(c.a, c.b, c.ohms) if isinstance(c, Joins) else c for c in world)
