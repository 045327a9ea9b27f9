"""The solved direct-current network of an installation at an operating point, its edges mapped to branches both ways.

What the network holds: conductors at the temperature of their zones and of their own current, joints, contacts and bonds,
loads that are on, supplies, the elements of senders at the true reading, and the measuring circuits of indicators. An
alternator holds its voltage and never takes current; a battery gives current once its terminals would stand below its own
voltage, and rests otherwise (its charging current is a load the document may state). During a 'start' no alternator gives
anything. Thermocouples and alternating windings are left out.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from functools import cached_property
from typing import Any

import numpy as np
from numpy.typing import NDArray

from ...dataclass import dataclass
from ...graph import Edge
from ...physics.network_parts import LARGEST_RESISTANCE, SMALLEST_RESISTANCE, Network
from ...physics.network_state import settle_alone
from ...physics.network_system import assemble, driven_otherwise, responses
from ...physics.networks import IslandStatus, Solution, node_potential, solve, voltages
from ..missing import Missing
from ..study import Point, Study, once
from .assembly import Assembly, Branch, Draw, Undrawn, as_array, direct_edges
from .conductor_heat import OwnHeat
from .laying import join_cases, lay_undescribed, references_of
from .measuring import lay
from .measuring_inputs import Follower, Measuring, Meter, Sensed

FloatArray = NDArray[np.float64]

HEAT_TOLERANCE = 0.5
"""degC, change of every conductor's temperature below which it has settled: 0.2 percent of its resistance."""
FOLLOW_TOLERANCE = 1e-5
"""V, change of a transducer's output below which it has settled."""
_PASSES = 12
_STIFF = 1e-6
"""ohm, below which no current moves a voltage: 1 mV at 1,000 A."""
_LOOSE = 1e8
"""ohm, gives a floating measuring circuit a potential; a ten-millionth of the current of any sender."""


@dataclass(frozen=True, eq=False)
class Circuit:
    """One installation solved at one point, the same only as itself.

    Attributes:
        nodes: number of each node by name.
        reference: name of the node at 0 V.
        branch_of, draw_of: number of the branch or draw of an edge.
        edge_of: the edge of each branch; ``None`` for the inside of an indicator.
        missing: by edge, data whose place an assumption takes.
        meters, senders: measuring circuits by indicator and input, senders by id.
        outlets: branch of each terminal that feeds transducers, by its node.
        own_heat: degC each branch is above its surroundings by its own current.
        resting: supplies that give nothing because another holds the voltage.
        loads_on: loads that draw current.
    """

    study: Study
    point: Point
    nodes: dict[str, int]
    reference: str
    branch_of: dict[Edge, int]
    draw_of: dict[Edge, int]
    edge_of: tuple[Edge | None, ...]
    draw_edge: tuple[Edge | None, ...]
    missing: dict[Edge, tuple[Missing, ...]]
    meters: dict[tuple[str, str], Meter]
    senders: dict[str, Sensed]
    solution: Solution
    own_heat: FloatArray
    resting: frozenset[str]
    loads_on: frozenset[str]
    sensing: NDArray[np.bool_]
    load_branches: tuple[int, ...]
    unsaid: tuple[Undrawn, ...]
    followers: tuple[Follower, ...]
    outlets: dict[str, int]
    parts: _Parts

    def voltage(self, node: str) -> float | None:
        """Potential of a node in V; ``None`` where it has none."""
        number = self.nodes.get(node)
        value = float(self.solution.voltage[number]) if number is not None else float("nan")
        return value if np.isfinite(value) else None

    def current(self, edge: Edge) -> float | None:
        """Current through an edge from its ``a`` to its ``b`` in A; ``None`` if it is not in the network."""
        number = self.branch_of.get(edge)
        if number is not None:
            value = float(self.solution.current[number])
            value = -value if self.solution.network.start[number] != self.nodes[edge.a] else value
        else:
            draw = self.draw_of.get(edge)
            if draw is None:
                return None
            value = float(self.solution.draw_current[draw])
        return value if np.isfinite(value) else None

    def resistance(self, edge: Edge) -> float | None:
        """Resistance of an edge as solved, in ohm."""
        number = self.branch_of.get(edge)
        return None if number is None else float(self.solution.network.resistance[number])

    def lacking(self, edges: Iterable[Edge]) -> tuple[Missing, ...]:
        """What the document lacks of some edges."""
        return tuple(dict.fromkeys(m for e in edges for m in self.missing.get(e, ())))

    @cached_property
    def draw_nodes(self) -> frozenset[str]:
        """Positive terminals at which something draws current."""
        return frozenset(e.a for e in self.draw_edge if e is not None)

    @cached_property
    def undrawn(self) -> tuple[tuple[Missing, FloatArray], ...]:
        """Of each device that is on and does not say what it draws: that figure, and the volts an ampere of it adds to every
        node [ohm].
        """
        system = self.solution.system
        laid = [u for u in self.unsaid if system.island[u.start] == system.island[u.end]]
        if not laid:
            return ()
        starts, stops = np.array([[system.row[u.start], system.row[u.end]] for u in laid]).T
        added = responses(system, stops, starts)
        return tuple((u.figure, added[system.row, i]) for i, u in enumerate(laid))

    def undrawn_between(self, *pairs: tuple[str, str]) -> tuple[Missing, ...]:
        """What is missing of the devices whose currents move the voltage between two nodes, or its sum over some pairs."""
        ends = [(self.nodes[a], self.nodes[b]) for a, b in pairs if a in self.nodes and b in self.nodes]
        moved = [(figure, sum(added[a] - added[b] for a, b in ends)) for figure, added in self.undrawn]
        return tuple(dict.fromkeys(figure for figure, ohms in moved if abs(ohms) > _STIFF))

    def status(self, node: str) -> IslandStatus | None:
        """How the part that holds a node fared."""
        number = self.nodes.get(node)
        return None if number is None else self.solution.status_of(number)

    def without(
        self, *, others: bool = False, contacts: bool = False, heating: bool = False, leads: bool = False
    ) -> FloatArray:
        """Node voltages with causes of error switched off.

        ``others``: every current but those of the measuring circuits. ``contacts``: joints, contacts and ground bonds.
        ``heating``: conductors at 20 degC. ``leads``: conductors of no resistance.
        """
        return _without(self.study, self, others, contacts, heating, leads)

    def solved_without(self, others: bool, contacts: bool, heating: bool, leads: bool) -> FloatArray:
        """What :meth:`without` tells, worked out anew."""
        network = self.solution.network
        resistance = self.parts.resistance(self.own_heat, contacts, heating, leads)
        draws, is_open = network.draw_value, network.is_open
        same_matrix = not (contacts or heating or leads or (others and self.load_branches))
        if others and same_matrix and not self.followers:  # only currents change
            settled = settle_alone(self.solution.system, self.sensing)
            voltage = node_potential(self.solution.system, settled.potential[:, 0])
            return np.where(np.isfinite(self.solution.voltage), voltage, np.nan)
        if others:
            draws = np.where(self.sensing, draws, 0.0)
            is_open = is_open.copy()
            is_open[list(self.load_branches)] = True
        changed = network.with_figures(resistance=resistance, draw_value=draws, is_open=is_open)
        system = driven_otherwise(self.solution.system, changed) if same_matrix else assemble(changed)
        voltage = voltages(system)
        followed = _followed(changed.emf, voltage, self.followers)
        if np.abs(followed - changed.emf).max(initial=0.0) > FOLLOW_TOLERANCE:
            voltage = voltages(driven_otherwise(system, changed.with_figures(emf=followed)))
        return voltage


@dataclass(frozen=True)
class _Parts:
    """The parts of every branch's resistance in ohm, and of the conductors the ohm per degC above their surroundings."""

    fixed: FloatArray
    cold: FloatArray
    heat: FloatArray
    contact: FloatArray
    slope: FloatArray

    def resistance(
        self,
        own_heat: FloatArray,
        no_contacts: bool = False,
        no_heating: bool = False,
        no_leads: bool = False,
    ) -> FloatArray:
        total = self.fixed.copy()
        if not no_contacts:
            total += self.contact
        if not no_leads:
            total += self.cold
            if not no_heating:
                total += self.heat + self.slope * own_heat
        vanished = (total < SMALLEST_RESISTANCE) & (self.cold + self.contact > 0)
        return np.where(vanished, SMALLEST_RESISTANCE, np.minimum(total, LARGEST_RESISTANCE))

    @cached_property
    def conductors(self) -> NDArray[np.bool_]:
        return np.asarray(self.cold > 0)


@once
def circuit(study: Study, point: Point) -> Circuit:
    """The solved network of a study at a point."""
    return solve_circuit(study, point)


@once
def _without(_: Study, net: Circuit, others: bool, contacts: bool, heating: bool, leads: bool) -> FloatArray:
    return net.solved_without(others, contacts, heating, leads)


def solve_circuit(
    study: Study,
    point: Point,
    dead: Iterable[str] = (),
    opened: Iterable[str] = (),
    volts: Mapping[str, float] | None = None,
    *,
    carried: bool = False,
) -> Circuit:
    """Solve a case at a point, with further supplies dead, further contacts open, and some supplies at other ``volts``.

    ``carried`` lets senders whose true value lies beyond their curve go on past its end instead of being left out.

    Cost: about linear.
    """
    given = point.given
    out = frozenset(dead) | frozenset((given.dead_supplies or ()) if given is not None else ())
    if given is not None and given.phase == "start":
        out |= {i for i, s in study.model.supplies.items() if s.spec.kind in ("alternator", "generator")}
    contacts = frozenset(opened) | frozenset((given.open_switches or ()) if given is not None else ())
    assembly = Assembly(study, point, contacts | out, out, volts or {}, carried)
    for edge in direct_edges(study):
        assembly.edge(edge)
    join_cases(assembly)
    measuring = lay(assembly)
    reference, references = references_of(assembly, measuring)
    lay_undescribed(assembly, reference)
    for name in dict.fromkeys(n for n in measuring.tied if n != reference):
        assembly.branch(name, reference, fixed=SMALLEST_RESISTANCE)
    for name in dict.fromkeys(n for n in measuring.loose if n != reference):
        assembly.branch(name, reference, fixed=_LOOSE)
    return _settle(assembly, measuring, reference, references)


def _settle(assembly: Assembly, measuring: Measuring, reference: str, references: list[int]) -> Circuit:
    laid, drawn = assembly.branches, assembly.draws
    start, end, fixed, cold, warmed, slope, contact, volts, is_opened, edges = _columns(laid, Branch)
    draw_start, draw_end, value, kind, draw_edges, sensing = _columns(drawn, Draw)
    parts = _Parts(*map(as_array, (fixed, cold, warmed, contact, slope)))
    own_heat = np.zeros(len(laid))
    emf: FloatArray = as_array(volts)
    opened = np.array(is_opened, dtype=bool)
    is_open = opened.copy()
    resting = _rest_at_first(assembly, is_open)
    network = Network(
        len(assembly.nodes),
        tuple(references),
        np.array(start, dtype=np.intp),
        np.array(end, dtype=np.intp),
        parts.resistance(own_heat),
        emf,
        is_open,
        np.array(draw_start, dtype=np.intp),
        np.array(draw_end, dtype=np.intp),
        as_array(value),
        np.array(kind, dtype=np.intp),
    )
    solution, warming = solve(network), OwnHeat(assembly, parts.conductors)
    for _ in range(_PASSES):
        moved = _relieve(assembly, solution, resting)
        heat = warming.of(solution.current)
        hotter = float(np.abs(heat - own_heat).max(initial=0.0))
        followed = _followed(emf, solution.voltage, measuring.followers)
        stirred = float(np.abs(followed - emf).max(initial=0.0))
        if not moved and hotter <= HEAT_TOLERANCE and stirred <= FOLLOW_TOLERANCE:
            break
        own_heat, emf = heat, followed
        is_open = opened.copy()
        is_open[list(resting)] = True
        network = network.with_figures(resistance=parts.resistance(own_heat), emf=emf, is_open=is_open)
        solution = solve(network)
    return Circuit(
        study=assembly.study,
        point=assembly.point,
        nodes=assembly.nodes,
        reference=reference,
        branch_of=assembly.branch_of,
        draw_of=assembly.draw_of,
        edge_of=edges,
        draw_edge=draw_edges,
        missing=assembly.missing,
        meters=measuring.meters,
        senders=measuring.senders,
        solution=solution,
        own_heat=own_heat,
        resting=frozenset(e.ident for i in resting if (e := edges[i]) is not None),
        loads_on=assembly.loads_on,
        sensing=np.array(sensing, dtype=bool),
        load_branches=tuple(assembly.resistive_loads),
        unsaid=tuple(assembly.undrawn),
        followers=tuple(measuring.followers),
        outlets=measuring.outlets,
        parts=parts,
    )


def _columns(rows: list[Branch] | list[Draw], kind: type[Branch | Draw]) -> tuple[tuple[Any, ...], ...]:
    return tuple(zip(*rows, strict=True)) if rows else ((),) * len(kind._fields)


def _followed(emf: FloatArray, voltage: FloatArray, followers: Iterable[Follower]) -> FloatArray:
    """The emfs, those of transducers in proportion to the supply they get."""
    found = emf.copy()
    for f in followers:
        across = float(voltage[f.plus] - voltage[f.minus])
        if np.isfinite(across):
            found[f.branch] = f.output * max(0.0, across) / f.nominal
    return found


def _rest_at_first(assembly: Assembly, is_open: NDArray[np.bool_]) -> set[int]:
    """Batteries rest while an alternator is alive, until their terminals are found to stand below their voltage."""
    resting = set(assembly.batteries) if assembly.alternators else set()
    is_open[list(resting)] = True
    return resting


def _relieve(assembly: Assembly, solution: Solution, resting: set[int]) -> bool:
    """Put to rest a supply that takes current, call one whose terminals stand below its voltage; whether any changed."""
    changed = False
    for number in (*assembly.batteries, *assembly.alternators):
        laid = assembly.branches[number]
        if number in resting:
            across = solution.voltage[laid.end] - solution.voltage[laid.start]
            if not across >= laid.emf - 1e-9:
                resting.discard(number)
                changed = True
        elif solution.current[number] < -1e-6 and len(resting) + 1 < len(assembly.batteries) + len(
            assembly.alternators
        ):
            resting.add(number)
            changed = True
    return changed
