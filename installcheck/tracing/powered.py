"""The direct-current network in a state of the aircraft, with everything that could be wrong played through it at once."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import replace
from functools import cached_property
from math import isnan, nan

import numpy as np
from numpy.typing import NDArray

from ..analysis.circuit.solved import Circuit, circuit, solve_circuit
from ..analysis.circuit.states import States
from ..analysis.errors.in_state import Seen, Watched, seen, watched
from ..analysis.errors.reading import element_of
from ..analysis.sender_curves import output_carried, output_kind
from ..analysis.study import Point, Study, once
from ..dataclass import dataclass
from ..graph import Edge
from ..physics.network_faults import ChangeResistance, Fault, OpenBranch, Short
from ..physics.network_parts import LARGEST_RESISTANCE, SMALLEST_RESISTANCE, Branch
from ..physics.networks import solve
from .altered import altered
from .changes import Adds, Change, Cut, Joins, OtherCurve, Reached, Sends, Weak, World
from .collapsing import Draws
from .feeling import sensed
from .looks import Setup
from .other_parts import curve_called
from .states import point_of

_DRIVEN_V = 0.05
"""V of an input above the feed of its own circuit: more than rounding."""
_DRIVEN_A = -0.01
"""A out of the feed of a transducer, below which something else drives it: more than rounding."""
FloatArray = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Solved:
    """Node voltages of one world, the emfs they were solved with, what each altered sender puts out, supplies not as drawn, and
    feeds of transducers that something else drives."""

    voltage: FloatArray
    emf: FloatArray
    outputs: dict[str, float]
    weak: tuple[tuple[str, float], ...] = ()
    driven: tuple[str, ...] = ()


@once
def _carried(study: Study, point: Point) -> Circuit:
    """The circuit at a point, every sender in it, those too whose value lies beyond their curve."""
    net = circuit(study, point)
    beyond = any(
        s.output is None and s.curve is not None and s.truth is not None for s in net.senders.values()
    )
    return solve_circuit(study, point, carried=True) if beyond else net


class Powered:
    """The network of a study in one setup."""

    def __init__(self, study: Study, setup: Setup) -> None:
        self.study, self.setup = study, setup
        self.point = point_of(study, setup)
        self.bare = _carried(study, self.point)
        changes = tuple(self._of_setup())
        network, outputs = altered(self.bare, self.bare.solution.network, changes, self._known_outputs(()))
        same = network is self.bare.solution.network
        self.net = self.bare if same else replace(self.bare, solution=solve(network))
        self.outputs = outputs

    @cached_property
    def watched(self) -> dict[tuple[str, str], Watched]:
        """Indications that follow from the network, by name and source."""
        return {(w.indication.name, w.indication.source): w for w in watched(self.bare)}

    @cached_property
    def _draws(self) -> Draws:
        return Draws(self.net)

    def solved(self, worlds: Sequence[World]) -> list[Solved]:
        """The network in each world. Cost: one multiplication for a single change, a solution for several."""
        found: list[Solved | None] = [None] * len(worlds)
        single: list[tuple[int, Fault, dict[str, float]]] = []
        for i, world in enumerate(worlds):
            outputs = self._known_outputs(world)
            faults = self._faults(world, outputs)
            if faults is None:
                found[i] = self._afresh(world, outputs)
            elif not faults:
                found[i] = self._as_is
            else:
                single.append((i, faults[0], outputs))
        if single:
            voltages = self._draws.after([f for _, f, _ in single])
            for (i, fault, outputs), v in zip(single, voltages, strict=True):
                held = self._held(v, fault) if isinstance(fault, Short) else v
                made = Solved(held, self.net.solution.network.emf, {**self.outputs, **outputs})
                driven = self._driven_feeds(held) if isinstance(fault, Short) else ()
                found[i] = self._afresh(worlds[i], outputs, driven) if driven else made
        return [one for one in found if one is not None]

    def _driven_feeds(self, v: FloatArray) -> tuple[str, ...]:
        """Terminals that feed transducers and are held above what they give: their regulator takes no current in."""
        network = self.net.solution.network
        found = []
        for node, number in self.net.outlets.items():
            if number is not None and not network.is_open[number]:
                short_of = v[network.start[number]] - v[network.end[number]] + network.emf[number]
                if np.nan_to_num(short_of) / max(network.resistance[number], SMALLEST_RESISTANCE) < _DRIVEN_A:
                    found.append(node)
        return tuple(found)

    def _held(self, v: FloatArray, short: Short) -> FloatArray:
        """Voltages with what a blown protector leaves floating at those of what it is shorted to."""
        dead, live = (short.first, short.second) if np.isnan(v[short.first]) else (short.second, short.first)
        if not np.isnan(v[dead]) or np.isnan(v[live]):
            return v
        network = self.net.solution.network
        beside: dict[int, list[int]] = defaultdict(list)
        for i, j in zip(
            *(ends[~network.is_open].tolist() for ends in (network.start, network.end)), strict=True
        ):
            beside[i].append(j)
            beside[j].append(i)
        held, found = v.copy(), [dead]
        while found:
            node = found.pop()
            if np.isnan(held[node]):
                held[node] = v[live]
                found += beside[node]
        return held

    @cached_property
    def _as_is(self) -> Solved:
        return Solved(self.net.solution.voltage, self.net.solution.network.emf, self.outputs)

    def shown(self, name: str, source: str, state: Solved) -> Seen | None:
        """What an indication shows in a world; ``None`` if it does not follow from the network."""
        one = self.watched.get((name, source))
        if one is None or self._driven(one, state):
            return None
        if one.follower is None:
            return seen(self.net, one, state.voltage)
        out = state.outputs.get(source, one.follower.output)
        share = out / one.follower.output if one.follower.output else 1.0
        return seen(self.net, one, state.voltage, float(state.emf[one.follower.branch]), share)

    def _driven(self, one: Watched, state: Solved) -> bool:
        """Whether an input or a feed is held above what its gauge gives: what a gauge makes of that, no curve tells."""
        meter, v = one.meter, state.voltage
        if any(node.partition(".")[0] == one.indication.indicator for node in state.driven):
            return True
        if meter.how in ("voltage", "current") or meter.feed is None:
            return False
        return bool(np.nan_to_num(v[meter.high] - v[meter.feed]) > _DRIVEN_V)

    def volts(self, state: Solved, a: str, b: str) -> float:
        """What a voltmeter shows between two nodes in V; a node that nothing holds shows nothing."""
        ends = [self.net.nodes.get(n) for n in (a, b)]
        one, other = (float(state.voltage[n]) if n is not None else nan for n in ends)
        return self._loose(state, a, b) if isnan(one) or isnan(other) else one - other

    def _loose(self, state: Solved, a: str, b: str) -> float:
        """What a meter shows where nothing holds one of its ends: the voltage of a supply it is put across, else nothing."""
        ident = a.partition(".")[0]
        supply, given = self.study.model.supplies.get(ident), self.point.given
        dead = (given.dead_supplies or ()) if given is not None else ()
        if supply is None or supply.spec.voltage is None or ident in dead:
            return 0.0
        volts = dict(state.weak).get(ident, float(supply.spec.voltage))
        return {(f"{ident}.+", f"{ident}.-"): volts, (f"{ident}.-", f"{ident}.+"): -volts}.get((a, b), 0.0)

    def _alive(self, supply: str) -> bool:
        """Whether a supply holds any of the network up in this setup, so that its loss would be felt."""
        if supply in self.bare.resting:
            return False
        edges = self.study.graph.by_thing.get(("supplies", supply), ())
        numbers = [self.bare.branch_of[e] for e in edges if e in self.bare.branch_of and e.kind == "supply"]
        return any(not self.net.solution.network.is_open[n] for n in numbers)

    def _known_outputs(self, world: World) -> dict[str, float]:
        """What senders put out that is not what they were solved with."""
        found: dict[str, float] = {}
        for ident, one in self.bare.senders.items():
            if (
                one.curve is None
                or one.output is None
                or one.truth is None
                or ident in dict(self.setup.replaced)
            ):
                continue
            value = sensed(self.study, self.setup, self.point, ident, one.truth.value, world)
            parts = [c.part for c in world if isinstance(c, OtherCurve) and c.sender == ident]
            if value != one.truth.value or parts:
                found[ident] = output_carried(curve_called(parts[0]) if parts else one.curve, value)
        for change in world:
            if isinstance(change, Sends):
                found[change.sender] = change.out
        return found

    def _of_setup(self, world: World = ()) -> list[Change]:
        """What a setup changes; the wire lifted from a terminal is the one that is found there."""
        changes: list[Change] = []
        moves = [m for c in world if isinstance(c, Reached) for m in c.moves]
        for terminal in self.setup.lifted:
            gone = {e for e, node, _ in moves if node == terminal}
            come = [e for e, _, there in moves if there == terminal]
            changes += [Cut(e) for e in (*self._wires_at(terminal), *come) if e not in gone or e in come]
        changes += [Joins(a, b, ohms) for a, b, ohms in self.setup.joined]
        changes += [Sends(sender, ohms) for sender, ohms in self.setup.replaced]
        return changes

    def _wires_at(self, terminal: str) -> list[Edge]:
        graph = self.study.graph
        try:
            node = graph.node_of(terminal)
        except KeyError:
            return []
        ident = node.partition(".")[0]
        if "." not in terminal:
            return [
                e
                for n, data in graph.nodes.items()
                if data["ident"] == ident
                for e in graph.at(n)
                if e.ident != ident and e in self.bare.branch_of
            ]
        return [e for e in graph.at(node) if e.ident != ident and e in self.bare.branch_of]

    def _faults(self, world: World, outputs: dict[str, float]) -> list[Fault] | None:
        """The world as one fault of the network, as none, or ``None`` if it takes more."""
        faults: list[Fault] = []
        for change in world:
            if isinstance(change, Cut):
                number = self.bare.branch_of.get(change.edge)
                if number is not None:
                    faults.append(OpenBranch(number))
                elif change.edge in self.bare.draw_of:
                    return None
            elif isinstance(change, Adds):
                number = self.bare.branch_of.get(change.edge)
                if number is not None and not self.net.solution.network.is_open[number]:
                    had = float(self.net.solution.network.resistance[number])
                    faults.append(ChangeResistance(number, min(had + change.ohms, LARGEST_RESISTANCE)))
            elif isinstance(change, Joins):
                one, other = (self.net.nodes.get(n) for n in (change.a, change.b))
                if one is not None and other is not None:
                    faults.append(Short(one, other, max(change.ohms, SMALLEST_RESISTANCE)))
            elif (
                isinstance(change, Reached) and any(e in self.bare.branch_of for e, _, _ in change.moves)
            ) or (isinstance(change, Weak) and self._alive(change.supply)):
                return None
        for ident, out in outputs.items():
            if out == self.outputs.get(ident):
                continue
            element, sender = element_of(self.study, ident), self.bare.senders.get(ident)
            number = self.bare.branch_of.get(element) if element is not None else None
            if (
                number is None
                or self.net.solution.network.is_open[number]
                or sender is None
                or sender.curve is None
                or output_kind(sender.curve) != "resistance"
            ):
                return None
            faults.append(ChangeResistance(number, min(max(out, SMALLEST_RESISTANCE), LARGEST_RESISTANCE)))
        return faults if len(faults) <= 1 else None

    def _afresh(self, world: World, outputs: dict[str, float], driven: tuple[str, ...] = ()) -> Solved:
        bare = self.bare
        weak = {c.supply: c.volts for c in world if isinstance(c, Weak)}
        if weak:
            dead = [ident for ident, volts in weak.items() if volts <= 0]
            bare = solve_circuit(self.study, self.point, dead=dead, volts=weak, carried=True)
            if bare.nodes != self.bare.nodes:
                bare = self.bare
        changes = (*self._of_setup(world), *(c for c in world if not isinstance(c, Joins)))
        network, made = altered(bare, bare.solution.network, changes, {**self._known_outputs(()), **outputs})
        shorts: list[Fault] = [
            Short(self.net.nodes[c.a], self.net.nodes[c.b], max(c.ohms, SMALLEST_RESISTANCE))
            for c in world
            if isinstance(c, Joins) and c.a in self.net.nodes and c.b in self.net.nodes
        ]
        network = network.with_open([n for d in driven if (n := bare.outlets[d]) is not None])
        if not shorts:
            network, solution = self._draws.settled(network)
            return Solved(solution.voltage, network.emf, made, tuple(weak.items()))
        for extra in shorts[1:]:
            assert isinstance(extra, Short)
            network = network.with_branch(Branch(extra.first, extra.second, extra.resistance))
        net = replace(bare, solution=solve(network))
        ended = next(States(net).after(shorts[:1]))
        return Solved(ended.voltage, network.emf, made, tuple(weak.items()), driven)
