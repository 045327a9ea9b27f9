"""The node equations of a network: ideally joined nodes merged, islands found, the matrix factored.

The unknowns are the potentials of groups of ideally joined nodes, in rows. Columns are states of one network.
"""

from functools import cached_property

import numpy as np

from ..dataclass import dataclass
from .network_factor import Factor
from .network_parts import DrawKind, Network
from .network_topology import BoolArray, FloatArray, IntArray, label_islands, merge_ideal


@dataclass(frozen=True)
class System:
    """The node equations of a network: rows 0 to `count` - 1, and row `count` for every root at its own 0 V."""

    network: Network
    count: int
    group: IntArray
    root: IntArray
    island: IntArray
    referenced: int
    conflict: BoolArray
    row: IntArray
    offset: FloatArray
    ideal: BoolArray
    p: IntArray
    q: IntArray
    conductance: FloatArray
    emf: FloatArray
    draw_p: IntArray
    draw_q: IntArray
    draw_offset: FloatArray
    joined: BoolArray
    factor: Factor
    order: IntArray
    cuts: IntArray
    targets: IntArray

    def gather(self, branch: FloatArray, draw: FloatArray) -> FloatArray:
        """Current left over at each row [A], from branch and draw currents, one column per state."""
        flow = np.concatenate((branch, draw))
        out = np.zeros((self.count + 1, flow.shape[1]))
        if not len(flow):
            return out
        if flow.shape[1] == 1:
            ends = np.concatenate((self.p, self.draw_p, self.q, self.draw_q))
            signed = np.concatenate((-flow[:, 0], flow[:, 0]))
            out[:, 0] = np.bincount(ends, weights=signed, minlength=self.count + 1)
            return out
        signed = np.concatenate((-flow, flow))[self.order]
        out[self.targets] = np.add.reduceat(signed, self.cuts, axis=0)
        return out

    @cached_property
    def seen_by_draws(self) -> FloatArray:
        """Resistance each constant-power load sees [ohm]; 0 for every other draw."""
        loads = np.flatnonzero(self.network.draw_kind == DrawKind.POWER_LOAD)
        seen = np.zeros(len(self.draw_p))
        width = block_width(self.count)
        for at in range(0, len(loads), width):
            block = loads[at : at + width]
            p, q, column = self.draw_p[block], self.draw_q[block], np.arange(len(block))
            response = responses(self, p, q)
            seen[block] = response[p, column] - response[q, column]
        return seen


def assemble(network: Network) -> System:
    """Merge ideally joined nodes, find the islands, ground one group of each, and factor the matrix."""
    ideal = (network.resistance == 0) & ~network.is_open
    tied = network.references[1:]
    merged = merge_ideal(
        network.node_count,
        [*network.start[ideal].tolist(), *([network.references[0]] * len(tied) if tied else [])],
        [*network.end[ideal].tolist(), *tied],
        [*network.emf[ideal].tolist(), *([0.0] * len(tied))],
    )
    groups = len(merged.conflict)
    conducting = ~network.is_open & ~ideal
    start, end = merged.group[network.start], merged.group[network.end]
    group_island = label_islands(groups, start[conducting].tolist(), end[conducting].tolist())
    islands = int(group_island.max()) + 1
    root = np.empty(islands, dtype=np.intp)
    root[group_island[::-1]] = np.arange(groups, dtype=np.intp)[::-1]
    offset = merged.offset
    referenced = -1
    if network.references:
        earth = merged.group[network.references[0]]
        referenced = int(group_island[earth])
        root[referenced] = earth
        offset = np.where(merged.group == earth, offset - offset[network.references[0]], offset)
    conflict = np.zeros(islands, dtype=bool)
    conflict[group_island[merged.conflict]] = True

    count = groups - islands
    group_row = np.full(groups, count, dtype=np.intp)
    inner = np.ones(groups, dtype=bool)
    inner[root] = False
    group_row[inner] = np.arange(count, dtype=np.intp)
    row, island = group_row[merged.group], group_island[merged.group]
    conductance = np.zeros(len(ideal))
    conductance[conducting] = 1 / network.resistance[conducting]
    p, q = row[network.start], row[network.end]
    draw_p, draw_q = row[network.draw_start], row[network.draw_end]
    ends = np.concatenate((p, draw_p, q, draw_q))
    order = np.argsort(ends, kind="stable")
    sorted_ends = ends[order]
    cuts = np.flatnonzero(np.diff(sorted_ends, prepend=-1))
    targets = sorted_ends[cuts]
    return System(
        network=network,
        count=count,
        group=merged.group,
        root=root,
        island=island,
        referenced=referenced,
        conflict=conflict,
        row=row,
        offset=offset,
        ideal=ideal,
        p=p,
        q=q,
        conductance=conductance,
        emf=network.emf + offset[network.start] - offset[network.end],
        draw_p=draw_p,
        draw_q=draw_q,
        draw_offset=offset[network.draw_start] - offset[network.draw_end],
        joined=island[network.draw_start] == island[network.draw_end],
        factor=Factor(count, p, q, conductance),
        order=order,
        cuts=cuts.astype(np.intp),
        targets=targets,
    )


def draw_voltage(system: System, x: FloatArray) -> FloatArray:
    """Voltage across each draw [V], one column per state."""
    return x[system.draw_p] - x[system.draw_q] + system.draw_offset[:, np.newaxis]


def draw_current(system: System, x: FloatArray, supplied: BoolArray, power: BoolArray) -> FloatArray:
    """Current of each draw [A]; constant-power loads draw where `power` is true of their column."""
    kind = system.network.draw_kind
    value = system.network.draw_value[:, np.newaxis]
    current = np.where(supplied & (kind != DrawKind.POWER_LOAD)[:, np.newaxis], value, 0.0)
    drawing = supplied & (kind == DrawKind.POWER_LOAD)[:, np.newaxis] & power & (value > 0)
    np.divide(value, draw_voltage(system, x), out=current, where=drawing)
    return current


def branch_current(system: System, x: FloatArray) -> FloatArray:
    """Current of each branch that is not ideal [A], one column per state."""
    across = x[system.p] - x[system.q] + system.emf[:, np.newaxis]
    return np.asarray(system.conductance[:, np.newaxis] * across, dtype=np.float64)


def responses(system: System, p: IntArray, q: IntArray) -> FloatArray:
    """Potential of every row per ampere sent from row `q` to row `p` [ohm], one column per pair."""
    injected = np.zeros((system.count + 1, len(p)))
    column = np.arange(len(p))
    injected[p, column] += 1
    injected[q, column] -= 1
    out = np.zeros_like(injected)
    out[:-1] = system.factor.solve(injected[:-1])
    return out


def block_width(rows: int) -> int:
    """How many columns to carry at once: enough to be quick, few enough for 8 MB an array."""
    return max(64, 1_000_000 // (rows + 1))
