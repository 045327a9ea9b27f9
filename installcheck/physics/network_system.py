"""The node equations of a network: its shape with the matrix of its figures factored.

The unknowns are the potentials of groups of ideally joined nodes, in rows. Columns are states of one network.
"""

from dataclasses import fields, replace
from functools import cached_property

import numpy as np

from ..dataclass import dataclass
from .network_factor import Factor
from .network_inverse import Inverse
from .network_parts import POWER_LOAD, Network
from .network_shape import Shape, shape_of
from .network_topology import BoolArray, Bridges, FloatArray, IntArray, find_bridges, gathering

_OF_SHAPE = fields(Shape)


@dataclass(frozen=True)
class Equations:
    """Node equations: rows 0 to `count` - 1, and row `count` for every root at its own 0 V; fields as in :class:`Shape`."""

    count: int
    p: IntArray
    q: IntArray
    draw_p: IntArray
    draw_q: IntArray
    draw_offset: FloatArray
    draw_value: FloatArray
    draw_kind: IntArray
    joined: BoolArray
    order: IntArray
    cuts: IntArray
    targets: IntArray
    conductance: FloatArray
    emf: FloatArray
    largest_emf: float
    factor: Factor | Inverse

    def gather(self, branch: FloatArray, draw: FloatArray) -> FloatArray:
        """Current left over at each row [A], from branch and draw currents, one column per state."""
        flow = np.concatenate((branch, draw))
        out = np.zeros((self.count + 1, flow.shape[1]))
        if not len(flow):
            return out
        if flow.shape[1] == 1:
            out[:, 0] = self.gather_one(flow[:, 0])
            return out
        signed = np.concatenate((-flow, flow))[self.order]
        out[self.targets] = np.add.reduceat(signed, self.cuts, axis=0)
        return out

    def gather_one(self, flow: FloatArray) -> FloatArray:
        """As :meth:`gather`, of one state: the branch currents and after them the draw currents [A]."""
        signed = np.concatenate((-flow, flow))
        left = np.bincount(self._ends, weights=signed, minlength=self.count + 1)
        return np.asarray(left, dtype=np.float64)

    @cached_property
    def _ends(self) -> IntArray:
        return np.concatenate((self.p, self.draw_p, self.q, self.draw_q))

    @cached_property
    def seen_by_draws(self) -> FloatArray:
        """Resistance each constant-power load sees [ohm]; 0 for every other draw."""
        loads = np.flatnonzero(self.draw_kind == POWER_LOAD)
        seen = np.zeros(len(self.draw_p))
        width = block_width(self.count)
        for at in range(0, len(loads), width):
            block = loads[at : at + width]
            p, q, column = self.draw_p[block], self.draw_q[block], np.arange(len(block))
            response = responses(self, p, q)
            seen[block] = response[p, column] - response[q, column]
        return seen


@dataclass(frozen=True)
class System(Shape, Equations):
    """The node equations of a whole network."""

    network: Network

    @cached_property
    def bridges(self) -> Bridges:
        """Branches whose loss cuts a part off, by the number of the branch; vertices are groups."""
        network = self.network
        conducting = np.flatnonzero(self.conductance)
        start, end = self.group[network.start[conducting]], self.group[network.end[conducting]]
        found = find_bridges(int(self.group.max()) + 1, start.tolist(), end.tolist(), self.root.tolist())
        below = np.full(len(network.start), -1, dtype=np.intp)
        below[conducting] = found.below
        return replace(found, below=below)


def assemble(network: Network) -> System:
    """The equations of a network: its shape, and the matrix of its figures factored."""
    shape = shape_of(network)
    conductance = np.zeros(len(shape.ideal))
    conducting = ~network.is_open & ~shape.ideal
    conductance[conducting] = 1 / network.resistance[conducting]
    emf = network.emf + shape.offset[network.start] - shape.offset[network.end]
    return System(
        **{told.name: getattr(shape, told.name) for told in _OF_SHAPE},
        network=network,
        draw_value=network.draw_value,
        draw_kind=network.draw_kind,
        conductance=conductance,
        emf=emf,
        largest_emf=float(np.abs(emf).max(initial=0.0)),
        factor=Factor(shape.plan, conductance),
    )


def driven_otherwise(system: System, network: Network) -> System:
    """The equations of a network that differs from that of ``system`` at most in its emfs and in what its draws take.

    The matrix is the same, unless an ideal branch has another emf.
    """
    if not np.array_equal(network.emf[system.ideal], system.network.emf[system.ideal]):
        return assemble(network)
    emf = network.emf + system.offset[network.start] - system.offset[network.end]
    return replace(
        system,
        network=network,
        draw_value=network.draw_value,
        emf=emf,
        largest_emf=float(np.abs(emf).max(initial=0.0)),
    )


def with_more(system: System, network: Network) -> System | None:
    """The equations of a network that differs from that of ``system`` at most in what its draws take and in further branches,
    the last, which are resistors within one island each; ``None`` where they have to be made anew.

    Its plan remains that of ``system``: it is asked for in large networks only, which are made anew.
    """
    count = len(system.p)
    start, end = network.start[count:], network.end[count:]
    if not np.array_equal(system.island[start], system.island[end]):
        return None
    p, q, conductance = system.row[start], system.row[end], 1 / network.resistance[count:]
    inverse = system.factor.inverse()
    factor = inverse.with_more(p, q, conductance) if inverse is not None else None
    if factor is None:
        return None
    p, q = np.concatenate((system.p, p)), np.concatenate((system.q, q))
    order, cuts, targets = gathering(np.concatenate((p, system.draw_p, q, system.draw_q)))
    emf = np.concatenate((system.emf, system.offset[start] - system.offset[end]))
    return replace(
        system,
        network=network,
        draw_value=network.draw_value,
        ideal=np.concatenate((system.ideal, np.zeros(len(start), dtype=bool))),
        p=p,
        q=q,
        order=order,
        cuts=cuts,
        targets=targets,
        conductance=np.concatenate((system.conductance, conductance)),
        emf=emf,
        largest_emf=float(np.abs(emf).max(initial=0.0)),
        factor=factor,
    )


def draw_voltage(system: Equations, x: FloatArray) -> FloatArray:
    """Voltage across each draw [V], one column per state."""
    return x[system.draw_p] - x[system.draw_q] + system.draw_offset[:, np.newaxis]


def draw_current(system: Equations, x: FloatArray, supplied: BoolArray, power: BoolArray) -> FloatArray:
    """Current of each draw [A]; constant-power loads draw where `power` is true of their column."""
    kind = system.draw_kind
    value = system.draw_value[:, np.newaxis]
    current = np.where(supplied & (kind != POWER_LOAD)[:, np.newaxis], value, 0.0)
    drawing = supplied & (kind == POWER_LOAD)[:, np.newaxis] & power & (value > 0)
    np.divide(value, draw_voltage(system, x), out=current, where=drawing)
    return current


def branch_current(system: Equations, x: FloatArray) -> FloatArray:
    """Current of each branch that is not ideal [A], one column per state."""
    across = x[system.p] - x[system.q] + system.emf[:, np.newaxis]
    return np.asarray(system.conductance[:, np.newaxis] * across, dtype=np.float64)


def responses(system: Equations, p: IntArray, q: IntArray) -> FloatArray:
    """Potential of every row per ampere sent from row `q` to row `p` [ohm], one column per pair."""
    injected = np.zeros((system.count + 1, len(p)))
    column = np.arange(len(p))
    injected[p, column] += 1
    injected[q, column] -= 1
    out = np.zeros_like(injected)
    out[:-1] = system.factor.solve(injected[:-1])
    return out


def block_width(rows: int) -> int:
    """How many columns to carry at once: enough to be quick, few enough for some 2 MB an array."""
    return max(64, 250_000 // (rows + 1))
