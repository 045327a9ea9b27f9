"""What an ohmmeter shows between two points with all power off and the gauges lifted, in every world at once.

The meter is laid into the network of everything passive as a volt behind a resistor of its own, so that a world is the same
kind of change here as under power.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from functools import cached_property
from math import inf, isfinite

import numpy as np

from ..analysis.circuit.assembly import BONDING_JOINT
from ..analysis.circuit.leads import ends_ohms, ohm_per_metre
from ..analysis.evidence.spans import made_to_loop, source_span, wire_span
from ..analysis.study import Study
from ..graph import Edge, total_length
from ..graph.walk import Walk
from ..physics.network_faults import ChangeResistance, Fault, OpenBranch, Short, play_faults
from ..physics.network_parts import LARGEST_RESISTANCE, SMALLEST_RESISTANCE, Branch, Network
from ..physics.networks import Solution, solve
from .changes import Adds, Change, Couple, Cut, Joins, Metal, OtherCurve, Reached, World
from .looks import Setup
from .resting import at_rest, beyond_its_curve
from .states import DAY_C, point_of

METER_OHM = 1000.0
"""ohm, what the meter's own volt stands behind here; it drops out of the result."""
OPEN_OHM = 2e7
"""ohm, above which a hand meter shows no end (most end at 20 Mohm)."""
_MUCH_OHM = 1e5
"""ohm, more than any part has that a meter looks through here, for one of which no figure is known."""
_LEAST_OTHER_OHM = 0.5
"""ohm by which a part that is another than drawn may differ at least."""
_LIKE = 0.1
"""Share by which a wrong sender differs from the one of the library that stands for it, a few kelvin of its steep curve among it: a
judgement."""
_PASSIVE = frozenset(
    ("conductor", "shield", "joint", "contact", "spool", "bond", "element", "couple", "winding")
)


class Unpowered:
    """An ohmmeter between two nodes of a study."""

    def __init__(self, study: Study, setup: Setup, a: str, b: str) -> None:
        self.study, self.setup = study, setup
        self.point = point_of(study, setup)
        # Ohms at a thing that is off are those of the wires it was taken from, unless both ends are its own; a gauge always is off.
        own = [n.partition(".")[0] for n in (a, b)]
        off_too = [t for t in setup.lifted if t not in study.model.indicators]
        lifted = {e for t in off_too for e in (_of(study, t) if own.count(t) == 1 else _at(study, t))}
        off = {i for i, _ in setup.replaced}
        self.edges = [
            e
            for e in _reached(study, (a, b))
            if e not in lifted and e.section != "indicators" and not (e.kind == "winding" and e.ident in off)
        ]
        names = dict.fromkeys((a, b, *(n for e in study.graph.edges for n in (e.a, e.b))))
        self.nodes = {name: n for n, name in enumerate(names)}
        branches = [Branch(self.nodes[b], self.nodes[a], METER_OHM, 1.0)]
        self.number: dict[Edge, int] = {}
        self.unknown: list[Edge] = []
        for edge in self.edges:
            ohms = self.ohms(edge, ())
            if ohms is None:
                self.unknown.append(edge)
            self.number[edge] = len(branches)
            branches.append(Branch(self.nodes[edge.a], self.nodes[edge.b], _within(ohms or 0.0)))
        branches += [Branch(self.nodes[p], self.nodes[q], _within(r)) for p, q, r in setup.joined]
        self.a, self.b = self.nodes[a], self.nodes[b]
        self.least = solve(Network.of(len(self.nodes), branches, references=[self.b]))

    @cached_property
    def most(self) -> Solution:
        """The network with much in every part of which no figure is known."""
        resistance = self.least.network.resistance.copy()
        resistance[[self.number[e] for e in self.unknown]] = _MUCH_OHM
        return solve(self.least.network.with_resistance(resistance))

    def ohms(self, edge: Edge, world: World) -> float | None:
        """Ohm of an edge on the bench; ``None`` where nothing tells."""
        study = self.study
        if edge.kind == "conductor":
            span = wire_span(edge, self.point.zones.get(_zone(study, edge) or "", DAY_C))
            if span is None:
                per, length = ohm_per_metre(edge), total_length(edge.run) if edge.run is not None else None
                return (
                    None
                    if per is None or length is None
                    else per * length + (ends_ohms(study, edge).cold or 0.0)
                )
            share = 0.5 if made_to_loop(edge) else 1.0
            return span.expected * share + (ends_ohms(study, edge).cold or 0.0)
        if edge.kind == "element":
            return at_rest(self.study, self.setup, self.point, edge.ident, world)
        if edge.kind == "couple":
            if edge.ident in dict(self.setup.replaced):
                return dict(self.setup.replaced)[edge.ident]
            found = source_span(study.model.probes[edge.ident], DAY_C)
            return None if found is None else found.expected
        if edge.resistance is None:
            return BONDING_JOINT if edge.kind in ("bond", "joint", "contact") else None
        return edge.resistance

    def measured(self, worlds: Sequence[World]) -> list[tuple[float | None, float]]:
        """Ohms shown in each world, and by how much they may differ as parts are others than drawn.

        Infinite where the meter shows no end, ``None`` where it shows ohms no figure is known of.
        """
        low = self._measured(worlds, self.least)
        high, other = low, low
        if self.unknown:
            high = self._measured(worlds, self.most)
        unlike = [self._unlike(w) for w in worlds]
        if any(unlike):
            twice = [
                tuple(Adds(e, max(self.ohms(e, ()) or 0.0, _LEAST_OTHER_OHM)) for e in some)
                for some in unlike
            ]
            doubled = [(*w, *more) for w, more in zip(worlds, twice, strict=True)]
            other = self._measured(doubled, self.least)
        found: list[tuple[float | None, float]] = []
        for a, b, c, world in zip(low, high, other, worlds, strict=True):
            told = a == b or abs(a - b) < 0.05
            unsure = abs(c - a) if isfinite(a) and isfinite(c) else 0.0
            if isfinite(a) and any(isinstance(change, OtherCurve) for change in world):
                unsure = max(unsure, _LIKE * a)
            found.append((a if told else None, unsure))
        return found

    def _unlike(self, world: World) -> list[Edge]:
        """Parts in the way of which nobody knows the ohms: others than drawn, and senders beyond their curve."""
        probes = {c.probe for c in world if isinstance(c, Couple)}
        metals = {c.edge for c in world if isinstance(c, Metal)}
        return [
            e
            for e in self.number
            if e in metals
            or (e.kind == "couple" and e.ident in probes)
            or (e.kind == "element" and beyond_its_curve(self.study, self.setup, self.point, e.ident, world))
        ]

    def _measured(self, worlds: Sequence[World], base: Solution) -> list[float]:
        found = [inf] * len(worlds)
        single: list[tuple[int, Fault]] = []
        for i, world in enumerate(worlds):
            faults = self._faults(world, base)
            if faults is None:
                found[i] = self._of(solve(self._altered(world, base.network)).voltage)
            elif not faults:
                found[i] = self._of(base.voltage)
            else:
                single.append((i, faults[0]))
        if single:
            for (i, _), played in zip(single, play_faults(base, [f for _, f in single]), strict=True):
                found[i] = self._of(played.voltage)
        return found

    def _of(self, v: np.ndarray[tuple[int], np.dtype[np.float64]]) -> float:
        across = float(v[self.a] - v[self.b])
        if not np.isfinite(across) or across >= 1.0:
            return inf
        ohms = METER_OHM * across / (1.0 - across)
        return inf if ohms > OPEN_OHM else max(ohms, 0.0)

    def _faults(self, world: World, base: Solution) -> list[Fault] | None:
        """A world as faults of the network, or ``None`` if it takes more than one; what hangs on nothing the meter reaches is none."""
        faults: list[Fault] = []
        for change in world:
            if isinstance(change, Cut) and change.edge in self.number:
                faults.append(OpenBranch(self.number[change.edge]))
            elif isinstance(change, Adds) and change.edge in self.number:
                number = self.number[change.edge]
                had = float(base.network.resistance[number])
                faults.append(ChangeResistance(number, _within(had + change.ohms)))
            elif isinstance(change, Joins):
                ends = self.nodes[change.a], self.nodes[change.b]
                if base.island[ends[0]] == base.island[ends[1]]:
                    faults.append(Short(*ends, _within(change.ohms)))
            elif isinstance(change, Reached) and any(e in self.number for e, _, _ in change.moves):
                return None
        for edge in self.edges:
            if edge.kind == "element" and world:
                now = self.ohms(edge, world)
                if now is not None and now != self.ohms(edge, ()):
                    faults.append(ChangeResistance(self.number[edge], _within(now)))
        return faults if len(faults) <= 1 else None

    def _altered(self, world: World, network: Network) -> Network:
        start, end = network.start.copy(), network.end.copy()
        resistance, is_open = network.resistance.copy(), network.is_open.copy()
        extra: list[Branch] = []
        for edge in self.edges:
            told = self.ohms(edge, world) if edge.kind == "element" else None
            if told is not None:
                resistance[self.number[edge]] = _within(told)
        for change in world:
            self._alter(change, start, end, resistance, is_open, extra)
        network = replace(network, start=start, end=end, resistance=resistance, is_open=is_open)
        for branch in extra:
            network = network.with_branch(branch)
        return network

    def _alter(
        self,
        change: Change,
        start: np.ndarray[tuple[int], np.dtype[np.intp]],
        end: np.ndarray[tuple[int], np.dtype[np.intp]],
        resistance: np.ndarray[tuple[int], np.dtype[np.float64]],
        is_open: np.ndarray[tuple[int], np.dtype[np.bool_]],
        extra: list[Branch],
    ) -> None:
        if isinstance(change, Cut) and change.edge in self.number:
            is_open[self.number[change.edge]] = True
        elif isinstance(change, Adds) and change.edge in self.number:
            number = self.number[change.edge]
            resistance[number] = _within(resistance[number] + change.ohms)
        elif isinstance(change, Joins):
            extra.append(Branch(self.nodes[change.a], self.nodes[change.b], _within(change.ohms)))
        elif isinstance(change, Reached):
            for edge, node, there in change.moves:
                if edge not in self.number:
                    continue
                number, at, to = self.number[edge], self.nodes[node], self.nodes.get(there)
                if to is None:  # a cavity nothing else is in
                    is_open[number] = True
                    continue
                if start[number] == at:
                    start[number] = to
                elif end[number] == at:
                    end[number] = to


def _within(ohms: float) -> float:
    return min(max(ohms, SMALLEST_RESISTANCE), LARGEST_RESISTANCE)


def _zone(study: Study, edge: Edge) -> str | None:
    return study.graph.zone_of(edge.a)


def _at(study: Study, terminal: str) -> Iterable[Edge]:
    """Edges that are off when a terminal, or a whole thing, is disconnected."""
    ident = terminal.partition(".")[0]
    if "." in terminal:
        node = study.graph.node_of(terminal)
        return [e for e in study.graph.at(node) if e.ident != ident]
    return [
        e
        for n, data in study.graph.nodes.items()
        if data["ident"] == ident
        for e in study.graph.at(n)
        if e.ident != ident or e.kind == "bond"
    ]


def _of(study: Study, ident: str) -> list[Edge]:
    """Edges of a thing itself."""
    return [e for e in study.graph.edges if e.ident == ident]


def _reached(study: Study, starts: Iterable[str]) -> list[Edge]:
    """Everything passive that an ohmmeter's current can reach from some nodes."""

    def leaving(node: str) -> Iterable[Edge]:
        return (e for e in study.graph.at(node) if e.kind in _PASSIVE and e.closed)

    walk = Walk(starts, leaving)
    return list(dict.fromkeys(e for node in walk for e in leaving(node)))
