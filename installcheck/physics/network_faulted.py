"""Single faults of a network, and what a network with one of them comes to."""

from collections.abc import Callable
from typing import NamedTuple, Self

import numpy as np

from ..dataclass import dataclass
from .network_parts import Branch, Network
from .network_system import branch_current, draw_current
from .network_topology import BoolArray, FloatArray
from .networks import Solution, all_currents, left_over_at_nodes, node_potential, solve


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


class Settling(NamedTuple):
    """What a fault comes to: the potential of each row [V], and which draws are supplied."""

    potential: FloatArray
    supplied: BoolArray


@dataclass(frozen=True)
class Faulted:
    """A network with one fault. What is told of it is worked out when it is asked for, each time anew.

    conflict: True where the fault joins two fixed potentials, so that no current is defined.
    fault_current: [A] through the short from `first` to `second`, or through the changed branch; 0 through a short
        between nodes that ideal branches join already.
    """

    fault: Fault
    conflict: bool
    fault_current: float
    _before: Solution
    _settling: Callable[[], Settling]
    _cut: tuple[int, int] | None = None

    @property
    def network(self) -> Network:
        """The network without the fault."""
        return self._before.network

    @property
    def voltage(self) -> FloatArray:
        """Potential of each node [V]; NaN where the part is floating or in conflict."""
        system = self._before.system
        voltage = node_potential(system, self._settling().potential)
        voltage[(self._before.island != system.referenced) | self.cut_off] = np.nan
        return voltage

    @property
    def cut_off(self) -> BoolArray:
        """Nodes that had a reference and lost it."""
        system = self._before.system
        if self._cut is None:
            return np.zeros(len(system.row), dtype=bool)
        below = system.bridges.within(self._cut)[system.group]
        return np.asarray(below & (self._before.island == system.referenced))

    @property
    def draw_current(self) -> FloatArray:
        """Current of each draw [A]."""
        settling = self._settling()
        x, supplied = settling.potential[:, np.newaxis], settling.supplied[:, np.newaxis]
        return draw_current(self._before.system, x, supplied, np.ones(1, dtype=bool))[:, 0]

    @property
    def unsupplied(self) -> tuple[int, ...]:
        """Draws that get nothing, as in `Solution`."""
        lacking = self._before.wanted & ~self._settling().supplied
        return tuple(np.flatnonzero(lacking).tolist())

    @property
    def current(self) -> FloatArray:
        """Current of each branch [A], from its start to its end; NaN in a part in conflict."""
        system = self._before.system
        flows = branch_current(system, self._settling().potential[:, np.newaxis])[:, 0]
        leaving = []
        if isinstance(self.fault, Short):
            leaving = [(self.fault.first, self.fault_current), (self.fault.second, -self.fault_current)]
        else:
            flows[self.fault.branch] = self.fault_current
        return all_currents(system, flows, self.draw_current, leaving)

    @property
    def kirchhoff_residual(self) -> float:
        """Largest current left over at any node outside a conflict [A]."""
        left_over = left_over_at_nodes(self.network, self.current, self.draw_current)
        if isinstance(self.fault, Short):
            left_over[self.fault.first] -= self.fault_current
            left_over[self.fault.second] += self.fault_current
        return float(np.nanmax(np.abs(left_over), initial=0.0))


class _Told(Faulted):
    """A network with one fault whose figures are those of a solution."""

    _told: Solution

    @classmethod
    def by(cls, told: Solution, fault: Fault, current: float, before: Solution) -> Self:
        """The network with a fault by a solution that tells of it."""
        made = cls(fault, bool(told.system.conflict.any()), current, before, _never)
        object.__setattr__(made, "_told", told)
        return made

    @property
    def voltage(self) -> FloatArray:
        return self._told.voltage

    @property
    def cut_off(self) -> BoolArray:
        lost = self._told.island != self._told.system.referenced
        return np.asarray(lost & (self._before.island == self._before.system.referenced))

    @property
    def draw_current(self) -> FloatArray:
        return self._told.draw_current

    @property
    def unsupplied(self) -> tuple[int, ...]:
        return self._told.unsupplied

    @property
    def current(self) -> FloatArray:
        return self._told.current[: len(self.network.start)]


class Afresh(_Told):
    """A network with one fault that was solved from nothing."""

    @classmethod
    def of(cls, before: Solution, fault: Fault) -> Self:
        """Solve the faulted network."""
        network = before.network
        count = len(network.start)
        if isinstance(fault, Short):
            faulted = network.with_branch(Branch(fault.first, fault.second, fault.resistance))
            carrying = count
        else:
            faulted, carrying = _with_fault(network, fault), fault.branch
        fresh = solve(faulted)
        return cls.by(fresh, fault, float(fresh.current[carrying]), before)


class Joined(_Told):
    """A network in which a short joins a part without a reference and without loads to another: it takes the potential of that,
    and no current flows in the short, which is the only way between them.
    """

    _part: int

    @classmethod
    def of(cls, before: Solution, fault: Fault) -> Self | None:
        """The network with a fault, if it is such a short."""
        system, network = before.system, before.network
        if not isinstance(fault, Short) or system.island[fault.first] == system.island[fault.second]:
            return None
        if system.conflict.any():
            return None
        ends = (system.island[network.draw_start], system.island[network.draw_end])
        for node in (fault.second, fault.first):
            part = int(system.island[node])
            if part != system.referenced and not any((of == part).any() for of in ends):
                made = cls.by(before, fault, 0.0, before)
                object.__setattr__(made, "_part", part)
                return made
        return None

    @property
    def voltage(self) -> FloatArray:
        before, fault = self._before, self.fault
        assert isinstance(fault, Short)
        voltage = before.voltage.copy()
        here = before.island == self._part
        inside, outside = fault.first, fault.second
        if not here[inside]:
            inside, outside = outside, inside
        level = node_potential(before.system, before.potential[:, 0])
        voltage[here] = level[here] - level[inside] + voltage[outside]
        return voltage


def _never() -> Settling:
    raise AssertionError("a solution tells of this network")


def _with_fault(network: Network, fault: OpenBranch | ChangeResistance | DeadSource) -> Network:
    if isinstance(fault, OpenBranch):
        return network.with_open([fault.branch])
    if isinstance(fault, ChangeResistance):
        is_open, resistance = network.is_open.copy(), network.resistance.copy()
        is_open[fault.branch], resistance[fault.branch] = False, fault.resistance
        return network.with_figures(is_open=is_open, resistance=resistance)
    emf = network.emf.copy()
    emf[fault.branch] = 0.0
    return network.with_figures(emf=emf)
