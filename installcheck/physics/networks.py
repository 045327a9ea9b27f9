"""Direct-current analysis of a whole network, shared grounds included.

Node potentials follow from Kirchhoff's current law at every node and Ohm's law in every branch. A part with no
reference, no source or sources in conflict is named as such and never given a voltage it does not have.
"""

from collections.abc import Sequence
from enum import Enum
from functools import cached_property

import numpy as np

from ..dataclass import dataclass
from .network_parts import CURRENT_SOURCE, POWER_LOAD, Branch, Draw, DrawKind, Network
from .network_regions import Regions
from .network_settling import Settled, newton
from .network_state import settle_alone
from .network_system import System, assemble, block_width, branch_current, draw_current, responses, with_more
from .network_topology import BoolArray, FloatArray, IntArray

__all__ = [
    "Branch",
    "Draw",
    "DrawKind",
    "IslandStatus",
    "Network",
    "Solution",
    "Thevenin",
    "solve",
    "solve_with_resistors",
]


class IslandStatus(Enum):
    """What can be said about one connected part of a network, worst first."""

    CONFLICT = "sources in conflict: a loop of ideal connections whose voltages do not cancel"
    FLOATING = "floating: nothing joins this part to the reference"
    NO_SOURCE = "no source in this part"
    UNSUPPLIED = "a load in this part finds no working point"
    SOLVED = "solved"


@dataclass(frozen=True, slots=True)
class Thevenin:
    """What a meter sees between two nodes: `voltage` [V] with the loads as they are, and `resistance` [ohm].

    The resistance is that of the branches with every source dead and every draw off; infinite between parts.
    """

    voltage: float
    resistance: float


@dataclass(frozen=True)
class Solution:
    """A solved network.

    voltage: of each node [V]; NaN where the part is floating or in conflict.
    current: of each branch, from its start to its end [A]; NaN where the part is in conflict. Ideal branches in
        parallel share equally.
    draw_current: of each draw [A]; 0 for one that is unsupplied.
    island: number of the part each node is in; `status` says how each part fared.
    unsupplied: draws without a circuit, without voltage, or with no working point; solved without them.
    kirchhoff_residual: largest current left over at any node [A].
    correction: last change of any potential [V], an estimate of the rounding error.
    """

    network: Network
    voltage: FloatArray
    current: FloatArray
    draw_current: FloatArray
    island: IntArray
    status: tuple[IslandStatus, ...]
    unsupplied: tuple[int, ...]
    kirchhoff_residual: float
    correction: float
    system: System
    potential: FloatArray

    def status_of(self, node: int) -> IslandStatus:
        """How the part that holds `node` fared."""
        return self.status[int(self.island[node])]

    def thevenin(self, first: int, second: int) -> Thevenin:
        """What a meter sees from node `first` to node `second`."""
        resistance = float(self.resistance_between([first], [second])[0])
        return Thevenin(float(self.voltage[first] - self.voltage[second]), resistance)

    def resistance_between(self, first: list[int], second: list[int]) -> FloatArray:
        """Resistance [ohm] an ohmmeter reads between each pair of nodes with every source dead and draw off."""
        a, b = np.asarray(first, dtype=np.intp), np.asarray(second, dtype=np.intp)
        row_a, row_b = self.system.row[a], self.system.row[b]
        together = self.island[a] == self.island[b]
        seen = np.full(len(a), np.inf)
        width = block_width(self.system.count)
        for at in range(0, len(a), width):
            block = slice(at, at + width)
            response = responses(self.system, row_a[block], row_b[block])
            column = np.arange(response.shape[1])
            seen[block] = response[row_a[block], column] - response[row_b[block], column]
        return np.where(together, seen, np.inf)

    @cached_property
    def wanted(self) -> BoolArray:
        """Draws that take something when they can."""
        return wanted(self.network)

    @cached_property
    def regions(self) -> Regions:
        """The network in regions, for many faults."""
        off = np.zeros(len(self.draw_current), dtype=bool)
        off[list(self.unsupplied)] = True
        return Regions(self.system, self.potential[:, 0], self.draw_current, off)


def solve(network: Network) -> Solution:
    """Solve a network: potentials, currents, and what cannot be said.

    Grows about linearly for wiring, which is nearly a tree. Doctest: 12 V through 100 ohm into a 90 ohm sender.

    >>> supply, pull_up, sender = Branch(0, 1, 0, 12.0), Branch(1, 2, 100.0), Branch(2, 0, 90.0)
    >>> solution = solve(Network.of(3, [supply, pull_up, sender]))
    >>> round(float(solution.voltage[2]), 4), round(float(solution.current[2]), 5)
    (5.6842, 0.06316)
    """
    return _solved(assemble(network))


def solve_with_resistors(before: Solution, resistors: Sequence[Branch], draw_value: FloatArray) -> Solution:
    """Solve the network of a solution with further `resistors`, the last of its branches, and draws that take other values.

    In a small network they cost a product of matrices each instead of a factorisation.
    """
    network = before.network.with_figures(draw_value=draw_value).with_branches(resistors)
    system = with_more(before.system, network)
    return solve(network) if system is None else _solved(system)


def _solved(system: System) -> Solution:
    network, settled = system.network, _settle_alone(system)
    island_conflict = system.conflict[system.island]
    voltage = _known_potential(system, settled)
    supplied = settled.supplied[:, 0]
    drawn = draw_current(system, settled.potential, settled.supplied, np.ones(1, dtype=bool))[:, 0]
    current = all_currents(system, branch_current(system, settled.potential)[:, 0], drawn)
    left_over = left_over_at_nodes(network, current, drawn)
    unsupplied = np.flatnonzero(wanted(network) & ~supplied)
    current[island_conflict[network.start]] = np.nan
    return Solution(
        network=network,
        voltage=voltage,
        current=current,
        draw_current=drawn,
        island=system.island,
        status=_statuses(system, supplied, unsupplied),
        unsupplied=tuple(unsupplied.tolist()),
        kirchhoff_residual=float(np.abs(left_over[~island_conflict]).max(initial=0.0)),
        correction=float(settled.correction[0]),
        system=system,
        potential=settled.potential,
    )


def wanted(network: Network) -> BoolArray:
    """Draws that take something when they can."""
    driving = (network.draw_kind == CURRENT_SOURCE) & (network.draw_value != 0)
    return np.asarray((network.draw_value > 0) | driving)


def voltages(system: System) -> FloatArray:
    """Potential [V] of every node of a network, as :func:`solve` tells it, where its currents are of no interest."""
    return _known_potential(system, _settle_alone(system))


def _known_potential(system: System, settled: Settled) -> FloatArray:
    voltage = node_potential(system, settled.potential[:, 0])
    voltage[(system.island != system.referenced) | system.conflict[system.island]] = np.nan
    return voltage


def _settle_alone(system: System) -> Settled:
    """Settle one state, taking off the load that collapsed furthest until a working point exists."""
    draws_on = np.ones(len(system.joined), dtype=bool)
    while True:
        settled = settle_alone(system, draws_on)
        if settled.done[0]:
            return settled
        x, across, done = newton(system, settled.idle, settled.supplied)
        if done:
            return Settled(
                x, settled.idle, settled.supplied, np.ones(1, dtype=bool), np.zeros(1), np.zeros(1)
            )
        power = settled.supplied[:, 0] & (system.draw_kind == POWER_LOAD)
        power &= system.draw_value > 0
        if not power.any():
            raise ValueError(
                "the network does not settle: its resistances lie too far apart to be told in the sum"
            )
        idle = settled.idle[system.draw_p, 0] - settled.idle[system.draw_q, 0] + system.draw_offset
        share = np.full(len(power), np.inf)
        np.divide(across, idle, out=share, where=power)
        draws_on = settled.supplied[:, 0].copy()
        draws_on[share.round(9).argmin()] = False


def node_potential(system: System, x: FloatArray) -> FloatArray:
    """Potential of every node [V] above the reference, or above its root in a part without one."""
    return np.asarray(x[system.row] + system.offset, dtype=np.float64)


def all_currents(
    system: System, current: FloatArray, drawn: FloatArray, leaving: Sequence[tuple[int, float]] = ()
) -> FloatArray:
    """Complete branch currents [A] with those of the ideal branches, which carry what the rest leaves over.

    `leaving` lists nodes and the current [A] that leaves each by a fault.
    """
    ties = system.ties
    if not len(ties.branch):
        return current
    left_over = left_over_at_nodes(system.network, current, drawn)
    for node, leak in leaving:
        left_over[node] -= leak
    level = np.append(ties.factor.solve_one(left_over[ties.inner]), 0.0)
    current[ties.branch] = level[ties.p] - level[ties.q]
    return current


def left_over_at_nodes(network: Network, current: FloatArray, drawn: FloatArray) -> FloatArray:
    """Current that arrives at each node less what leaves it [A]: zero everywhere by Kirchhoff's law."""
    ends = np.concatenate((network.end, network.draw_end, network.start, network.draw_start))
    flow = np.concatenate((current, drawn))
    return np.asarray(np.bincount(ends, np.concatenate((flow, -flow)), network.node_count), dtype=np.float64)


def _statuses(system: System, supplied: BoolArray, unsupplied: IntArray) -> tuple[IslandStatus, ...]:
    network = system.network
    islands = len(system.root)
    source = np.zeros(islands, dtype=bool)
    source[system.island[network.start[(network.emf != 0) & ~network.is_open]]] = True
    driving = (network.draw_kind == CURRENT_SOURCE) & supplied & (network.draw_value != 0)
    source[system.island[network.draw_start[driving]]] = True
    lacking = np.zeros(islands, dtype=bool)
    lacking[system.island[network.draw_start[unsupplied]]] = True
    lacking[system.island[network.draw_end[unsupplied]]] = True

    def status(island: int) -> IslandStatus:
        if system.conflict[island]:
            return IslandStatus.CONFLICT
        if island != system.referenced:
            return IslandStatus.FLOATING
        if not source[island]:
            return IslandStatus.NO_SOURCE
        return IslandStatus.UNSUPPLIED if lacking[island] else IslandStatus.SOLVED

    return tuple(status(island) for island in range(islands))
