"""The direct-current network in a state of the aircraft, with everything that could be wrong played through it at once."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import replace
from functools import cached_property
from math import nan

import numpy as np
from numpy.typing import NDArray

from ..analysis.circuit.solved import Circuit, circuit, solve_circuit
from ..analysis.circuit.states import States
from ..analysis.errors.in_state import Seen, Watched, seen, watched
from ..analysis.errors.reading import element_of
from ..analysis.sender_curves import output_carried, output_kind
from ..analysis.study import Point, Study, once
from ..dataclass import dataclass
from ..physics.network_faults import ChangeResistance, Fault, OpenBranch, Short
from ..physics.network_parts import LARGEST_RESISTANCE, SMALLEST_RESISTANCE, Branch
from ..physics.networks import solve
from .altered import altered
from .changes import (
    Adds,
    Cut,
    Drifts,
    Feels,
    FeelsOther,
    Joins,
    OtherCurve,
    Reached,
    Sends,
    Truly,
    Weak,
    World,
)
from .collapsing import Draws
from .feeling import sensed
from .lifting import of_setup
from .looks import Setup
from .other_parts import curve_called
from .states import point_of
from .touching import driven_and_spent, held_on

_DRIVEN_V = 0.05
"""V of an input above the feed of its own circuit: more than rounding."""
_INPUT_OHM = 1e5
"""ohm that a high input has at least, through which a meter of 10 Mohm reads nothing for certain."""
_OF_SENDERS = (Drifts, Feels, FeelsOther, OtherCurve, Sends, Truly)
"""Changes that bear on what a sender puts out."""
FloatArray = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Solved:
    """One world, solved.

    Attributes:
        voltage: of each node [V].
        firm: the same without what gauges and loads that are off at one end let through themselves; NaN where nothing else holds.
        emf: what the voltages were solved with [V].
        outputs: what each altered sender puts out.
        weak: supplies not as drawn.
        driven: feeds of transducers that something else drives.
        amps: what flows on through wires that touch, no protector having opened [A].
    """

    voltage: FloatArray
    firm: FloatArray
    emf: FloatArray
    outputs: dict[str, float]
    weak: tuple[tuple[str, float], ...] = ()
    driven: tuple[str, ...] = ()
    amps: float = 0.0


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
        self._told_outputs: dict[World, dict[str, float]] = {}
        changes = tuple(of_setup(self.bare, self.setup))
        network, outputs = altered(self.bare, self.bare.solution.network, changes, self._known_outputs(()))
        same = network is self.bare.solution.network
        self.net = self.bare if same else replace(self.bare, solution=solve(network))
        self.outputs = outputs
        self._moved: dict[int, FloatArray] = {}
        self.signals: dict[int, set[int]] = {}

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
                found[i] = self._swung(world, outputs) or self._afresh(world, outputs)
            elif not faults:
                found[i] = self._as_is
            else:
                single.append((i, faults[0], outputs))
        if single:
            ends = self._draws.after([f for _, f, _ in single])
            emf = self.net.solution.network.emf
            for (i, fault, outputs), end in zip(single, ends, strict=True):
                short = isinstance(fault, Short)
                held = (
                    held_on(self.net.solution.network, end.voltage, fault)
                    if isinstance(fault, Short)
                    else end.voltage
                )
                made = Solved(held, end.firm, emf, {**self.outputs, **outputs}, amps=end.amps)
                driven, spent = driven_and_spent(self.net, held) if short else ((), ())
                found[i] = self._afresh(worlds[i], outputs, driven, spent) if driven or spent else made
        return [one for one in found if one is not None]

    @cached_property
    def _as_is(self) -> Solved:
        solution = self.net.solution
        return Solved(solution.voltage, solution.voltage, solution.network.emf, self.outputs)

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
        return bool(v[meter.high] - v[meter.feed] > _DRIVEN_V)

    @cached_property
    def beside(self) -> dict[int, list[tuple[int, int]]]:
        """What each node hangs together with through less than an input has: the node beyond it, and the branch."""
        network = self.net.solution.network
        found: dict[int, list[tuple[int, int]]] = defaultdict(list)
        for branch in np.flatnonzero(~network.is_open & (network.resistance < _INPUT_OHM)).tolist():
            i, j = int(network.start[branch]), int(network.end[branch])
            found[i].append((j, branch))
            found[j].append((i, branch))
        return found

    def potential(self, voltage: FloatArray, node: str) -> float:
        """V of a node; NaN where nothing holds it."""
        number = self.net.nodes.get(node)
        return float(voltage[number]) if number is not None else nan

    def _alive(self, supply: str) -> bool:
        """Whether a supply holds any of the network up in this setup, so that its loss would be felt."""
        if supply in self.bare.resting:
            return False
        edges = self.study.graph.by_thing.get(("supplies", supply), ())
        numbers = [self.bare.branch_of[e] for e in edges if e in self.bare.branch_of and e.kind == "supply"]
        return any(not self.net.solution.network.is_open[n] for n in numbers)

    def _known_outputs(self, world: World) -> dict[str, float]:
        """What senders put out that is not what they were solved with."""
        telling = tuple(c for c in world if isinstance(c, _OF_SENDERS))
        if telling not in self._told_outputs:
            self._told_outputs[telling] = self._outputs_in(telling)
        return dict(self._told_outputs[telling])

    def _outputs_in(self, world: World) -> dict[str, float]:
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

    def _swung(self, world: World, outputs: dict[str, float]) -> Solved | None:
        """The network with transducers at other volts and nothing else: it moves in proportion; ``None`` if it takes more."""
        if any(isinstance(c, (Cut, Adds, Joins, Reached, Weak)) for c in world):
            return None
        network = self.net.solution.network
        v, emf = self.net.solution.voltage, network.emf.copy()
        for ident, out in outputs.items():
            element, sender = element_of(self.study, ident), self.bare.senders.get(ident)
            number = self.bare.branch_of.get(element) if element is not None else None
            if out == self.outputs.get(ident):
                continue
            if number is None or sender is None or sender.curve is None or not sender.output:
                return None
            if output_kind(sender.curve) != "voltage":
                return None
            drawn = float(self.bare.solution.network.emf[number])
            by = drawn * out / sender.output - float(emf[number])
            emf[number] += by
            v = v + by * self._by_a_volt(number)
        return Solved(v, v, emf, {**self.outputs, **outputs})

    def _by_a_volt(self, number: int) -> FloatArray:
        """V by which each node moves with a volt more in a branch."""
        if number not in self._moved:
            network = self.net.solution.network
            emf = network.emf.copy()
            emf[number] += 1.0
            self._moved[number] = solve(replace(network, emf=emf)).voltage - self.net.solution.voltage
        return self._moved[number]

    def _afresh(
        self,
        world: World,
        outputs: dict[str, float],
        driven: tuple[str, ...] = (),
        spent: tuple[str, ...] = (),
    ) -> Solved:
        bare = self.bare
        weak = {c.supply: c.volts for c in world if isinstance(c, Weak)}
        if weak:
            dead = [ident for ident, volts in weak.items() if volts <= 0]
            bare = solve_circuit(self.study, self.point, dead=dead, volts=weak, carried=True)
            if bare.nodes != self.bare.nodes:
                bare = self.bare
        changes = (*of_setup(self.bare, self.setup, world), *(c for c in world if not isinstance(c, Joins)))
        network, made = altered(bare, bare.solution.network, changes, {**self._known_outputs(()), **outputs})
        shorts: list[Fault] = [
            Short(self.net.nodes[c.a], self.net.nodes[c.b], max(c.ohms, SMALLEST_RESISTANCE))
            for c in world
            if isinstance(c, Joins) and c.a in self.net.nodes and c.b in self.net.nodes
        ]
        network = network.with_open([bare.outlets[d] for d in (*driven, *spent)])
        if not shorts:
            solution, firm = self._draws.settled(network)
            return Solved(solution.voltage, firm, solution.network.emf, made, tuple(weak.items()))
        for extra in shorts[1:]:
            assert isinstance(extra, Short)
            network = network.with_branch(Branch(extra.first, extra.second, extra.resistance))
        net = replace(bare, solution=solve(network))
        ended = next(States(net).after(shorts[:1]))
        v, of = ended.voltage, tuple(weak.items())
        return Solved(v, v, network.emf, made, of, driven, ended.amps)
