"""Play single faults through a solved network without factoring it again.

Opening, shorting or changing one branch is a rank-one change of the matrix: the faulted potentials follow from the
factor at hand (Sherman and Morrison, Ann. Math. Stat. 21 (1950) 124). A branch whose loss cuts a part off is found by
the shape of the network, not by a vanishing number, so a part held on by megohms is never mistaken for a floating one.
"""

from collections.abc import Iterable, Iterator
from dataclasses import replace
from functools import cached_property
from typing import NamedTuple

import numpy as np

from ..dataclass import dataclass
from .network_parts import LARGEST_RESISTANCE, SMALLEST_RESISTANCE, Branch, DrawKind, Network
from .network_settling import Changes, settle
from .network_system import block_width, branch_current, draw_current, responses
from .network_topology import SAME_POTENTIAL, BoolArray, Bridges, FloatArray, find_bridges
from .networks import Solution, all_currents, left_over_at_nodes, solve


class OpenBranch(NamedTuple):
    """A broken wire, open breaker, pulled plug or lost ground: `branch` carries nothing."""

    branch: int


class Short(NamedTuple):
    """Node `first` touches node `second` through `resistance` [ohm]; 0 is a dead short."""

    first: int
    second: int
    resistance: float = 0.0


class ChangeResistance(NamedTuple):
    """`branch` takes another `resistance` [ohm], such as a corroded joint; 0 is a dead short across it."""

    branch: int
    resistance: float


class DeadSource(NamedTuple):
    """The emf of `branch` is lost; its resistance stays."""

    branch: int


Fault = OpenBranch | Short | ChangeResistance | DeadSource


@dataclass(frozen=True)
class Faulted:
    """A network with one fault.

    voltage: of each node [V]; NaN where the part is floating or in conflict.
    draw_current: of each draw [A]. `unsupplied`: draws that get nothing, as in `Solution`.
    cut_off: nodes that had a reference and lost it.
    conflict: True where the fault joins two fixed potentials, so that no current is defined.
    fault_current: [A] through the short from `first` to `second`, or through the changed branch; 0 through a short
        between nodes that ideal branches join already.
    """

    fault: Fault
    network: Network
    voltage: FloatArray
    draw_current: FloatArray
    unsupplied: tuple[int, ...]
    cut_off: BoolArray
    conflict: bool
    fault_current: float
    _flows: FloatArray
    _without_ideal: Solution | None

    @cached_property
    def current(self) -> FloatArray:
        """Current of each branch [A], from its start to its end; NaN in a part in conflict."""
        if self._without_ideal is None:
            return self._flows
        leaving = []
        if isinstance(self.fault, Short):
            leaving = [(self.fault.first, self.fault_current), (self.fault.second, -self.fault_current)]
        return all_currents(self._without_ideal.system, self._flows.copy(), self.draw_current, leaving)

    @property
    def kirchhoff_residual(self) -> float:
        """Largest current left over at any node outside a conflict [A]."""
        left_over = left_over_at_nodes(self.network, self.current, self.draw_current)
        if isinstance(self.fault, Short):
            left_over[self.fault.first] -= self.fault_current
            left_over[self.fault.second] += self.fault_current
        return float(np.nanmax(np.abs(left_over), initial=0.0))


def play_fault(solution: Solution, fault: Fault) -> Faulted:
    """The network of `solution` with one fault.

    >>> good = solve(Network.of(2, [Branch(0, 1, 1.0, 12.0), Branch(1, 0, 5.0)]))
    >>> play_fault(good, Short(1, 0)).fault_current
    12.0
    """
    return next(iter(play_faults(solution, [fault])))


def play_faults(solution: Solution, faults: Iterable[Fault]) -> Iterator[Faulted]:
    """Yield the network of `solution` with each fault in turn, in the order given.

    Faults are worked in blocks, each for the price of a few multiplications; the few that change which nodes are one
    (an ideal branch opened, two parts joined) or that bring the supply to its limit are solved afresh.
    """
    wanted = list(faults)
    for fault in wanted:
        _refuse(solution.network, fault)
    width = block_width(solution.system.count)
    bridges = _bridges(solution) if any(isinstance(fault, OpenBranch) for fault in wanted) else None
    for at in range(0, len(wanted), width):
        yield from _play_block(solution, wanted[at : at + width], bridges)


def _refuse(network: Network, fault: Fault) -> None:
    nodes = (fault.first, fault.second) if isinstance(fault, Short) else ()
    branches = () if isinstance(fault, Short) else (fault.branch,)
    if not all(0 <= node < network.node_count for node in nodes):
        raise ValueError(f"{fault} names a node outside the network of {network.node_count} nodes")
    if not all(0 <= branch < len(network.start) for branch in branches):
        raise ValueError(f"{fault} names a branch outside the network of {len(network.start)} branches")
    if isinstance(fault, (Short, ChangeResistance)) and not (
        fault.resistance == 0 or SMALLEST_RESISTANCE <= fault.resistance <= LARGEST_RESISTANCE
    ):
        limits = f"{SMALLEST_RESISTANCE:g} to {LARGEST_RESISTANCE:g} ohm"
        raise ValueError(f"{fault} must have a resistance of 0, or {limits}")


def _bridges(solution: Solution) -> Bridges:
    system, network = solution.system, solution.network
    conducting = np.flatnonzero(system.conductance)
    start, end = system.group[network.start[conducting]], system.group[network.end[conducting]]
    found = find_bridges(int(system.group.max()) + 1, start.tolist(), end.tolist(), system.root.tolist())
    below = np.full(len(network.start), -1, dtype=np.intp)
    below[conducting] = found.below
    return replace(found, below=below)


class _Column(NamedTuple):
    """What one fault does to the equations; see `Changes`. `cut` is the range of `enter` numbers cut off."""

    branch: int
    p: int
    q: int
    old: float
    new: float
    emf: float
    hard: bool = False
    cut: tuple[int, int] | None = None


_NOTHING = _Column(-1, -1, -1, 0.0, 0.0, 0.0)
"""The column of a fault that changes nothing; row -1 is the last, the reference."""


def _column(solution: Solution, fault: Fault, bridges: Bridges | None) -> _Column | None:
    """The column of a fault, or None if it must be solved afresh."""
    system, network = solution.system, solution.network
    if system.conflict.any():
        return None
    if isinstance(fault, Short):
        return _short_column(solution, fault)
    k = fault.branch
    p, q, g, e = int(system.p[k]), int(system.q[k]), float(system.conductance[k]), float(system.emf[k])
    if network.is_open[k] and not isinstance(fault, ChangeResistance):
        return _NOTHING
    if network.is_open[k] or system.ideal[k]:
        return None
    if isinstance(fault, DeadSource):
        return _Column(k, p, q, g, g, e - float(network.emf[k]))
    if isinstance(fault, ChangeResistance):
        if fault.resistance > 0:
            return _Column(k, p, q, g, 1 / fault.resistance, e)
        one_group = system.group[network.start[k]] == system.group[network.end[k]]
        return None if one_group else _Column(k, p, q, g, g, e, True)
    cut = bridges.cut_off(k) if bridges else None
    return _Column(k, p, q, g, g if cut else 0.0, e, cut=cut)


def _short_column(solution: Solution, fault: Short) -> _Column | None:
    system = solution.system
    a, b = fault.first, fault.second
    if system.island[a] != system.island[b]:
        return None
    emf = float(system.offset[a] - system.offset[b])
    p, q = int(system.row[a]), int(system.row[b])
    if fault.resistance > 0:
        return _Column(-1, p, q, 0.0, 1 / fault.resistance, emf)
    if system.group[a] != system.group[b]:
        return _Column(-1, p, q, 0.0, 0.0, emf, True)
    return None if abs(emf) > SAME_POTENTIAL else _NOTHING


def _play_block(solution: Solution, faults: list[Fault], bridges: Bridges | None) -> Iterator[Faulted]:
    system, network = solution.system, solution.network
    columns = [_column(solution, fault, bridges) for fault in faults]
    quick = [(i, column) for i, column in enumerate(columns) if column]
    place = {i: j for j, (i, _) in enumerate(quick)}
    changes, below = _changes(solution, [column for _, column in quick], bridges)
    settled = settle(system, changes)
    everywhere = np.ones(len(quick), dtype=bool)
    drawn = np.ascontiguousarray(draw_current(system, settled.potential, settled.supplied, everywhere).T)
    flows = np.ascontiguousarray(branch_current(system, settled.potential).T)
    voltages = np.ascontiguousarray((settled.potential[system.row] + system.offset[:, np.newaxis]).T)
    nowhere = solution.island != system.referenced
    voltages[:, nowhere] = np.nan
    wanted = (network.draw_value > 0) | (network.draw_kind == DrawKind.CURRENT_SOURCE) & (
        network.draw_value != 0
    )
    lacking = (wanted[:, np.newaxis] & ~settled.supplied).T
    for i, fault in enumerate(faults):
        j = place.get(i, -1)
        if j < 0 or not settled.done[j]:
            yield _afresh(solution, fault)
            continue
        column = quick[j][1]
        x = settled.potential[:, j]
        cut_off = below[j] & ~nowhere
        voltages[j, cut_off] = np.nan
        if column.hard:
            fault_current = float(settled.hard_current[j])
        else:
            fault_current = column.new * float(x[column.p] - x[column.q] + column.emf)
        if isinstance(fault, OpenBranch):
            fault_current = 0.0
        if not isinstance(fault, Short):
            flows[j, fault.branch] = fault_current
        yield Faulted(
            fault=fault,
            network=network,
            voltage=voltages[j],
            draw_current=drawn[j],
            unsupplied=tuple(np.flatnonzero(lacking[j]).tolist()),
            cut_off=cut_off,
            conflict=False,
            fault_current=fault_current,
            _flows=flows[j],
            _without_ideal=solution if system.ideal.any() else None,
        )


def _changes(
    solution: Solution, columns: list[_Column], bridges: Bridges | None
) -> tuple[Changes, BoolArray]:
    """The columns as arrays, and for each the nodes it cuts off from their root."""
    system, network = solution.system, solution.network
    branch, p, q = (np.array([c[i] for c in columns], dtype=np.intp) for i in (0, 1, 2))
    old, new, emf = (np.array([c[i] for c in columns], dtype=np.float64) for i in (3, 4, 5))
    response = responses(system, p, q)
    seen = response[p, np.arange(len(columns))] - response[q, np.arange(len(columns))]
    below = np.zeros((len(columns), network.node_count), dtype=bool)
    draws_on = np.ones((len(network.draw_value), len(columns)), dtype=bool)
    if bridges:
        enter = bridges.enter[system.group]
        for j, column in enumerate(columns):
            if column.cut:
                below[j] = (enter >= column.cut[0]) & (enter <= column.cut[1])
                draws_on[:, j] = below[j][network.draw_start] == below[j][network.draw_end]
    hard = np.array([c.hard for c in columns], dtype=bool)
    return Changes(branch, p, q, old, new, emf, hard, response, seen, draws_on), below


def _afresh(solution: Solution, fault: Fault) -> Faulted:
    """Solve the faulted network from nothing."""
    network = solution.network
    count = len(network.start)
    if isinstance(fault, Short):
        faulted = network.with_branch(Branch(fault.first, fault.second, fault.resistance))
        carrying = count
    else:
        carrying = fault.branch
        faulted = _with_fault(network, fault)
    fresh = solve(faulted)
    conflict = bool(fresh.system.conflict.any())
    lost = fresh.island != fresh.system.referenced
    return Faulted(
        fault=fault,
        network=network,
        voltage=fresh.voltage,
        draw_current=fresh.draw_current,
        unsupplied=fresh.unsupplied,
        cut_off=lost & (solution.island == solution.system.referenced),
        conflict=conflict,
        fault_current=float(fresh.current[carrying]),
        _flows=fresh.current[:count],
        _without_ideal=None,
    )


def _with_fault(network: Network, fault: OpenBranch | ChangeResistance | DeadSource) -> Network:
    if isinstance(fault, OpenBranch):
        return network.with_open([fault.branch])
    if isinstance(fault, ChangeResistance):
        is_open, resistance = network.is_open.copy(), network.resistance.copy()
        is_open[fault.branch], resistance[fault.branch] = False, fault.resistance
        return replace(network, is_open=is_open, resistance=resistance)
    emf = network.emf.copy()
    emf[fault.branch] = 0.0
    return replace(network, emf=emf)
