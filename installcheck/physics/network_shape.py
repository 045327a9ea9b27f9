"""What does not hang on the figures of a network: ideally joined nodes merged, islands found, how its matrix is factored.

A network is solved many times over with other resistances, sources and loads; its shape is found once.
"""

from dataclasses import field
from functools import lru_cache

import numpy as np

from ..dataclass import dataclass
from .network_factor import Factor, Plan, planned
from .network_parts import Network
from .network_topology import BoolArray, FloatArray, IntArray, gathering, label_islands, merge_ideal

_KEPT, _LARGEST, _KEPT_OF_LARGE = 32, 3000, 2
"""Shapes that are kept, and how many of those with more nodes than a number: they take some megabytes each."""


@dataclass(frozen=True, slots=True)
class Ties:
    """The ideal branches, and the ways to their rows: each piece they join is held at one node of it, its first.

    Attributes:
        branch: their numbers.
        inner: of each node, whether it is in a piece and not its first.
        p, q: the rows of their ends among those nodes; the last row stands for the first nodes.
        factor: the currents in equal small resistances, whatever their size, are those in ideal branches.
    """

    branch: IntArray
    inner: BoolArray
    p: IntArray
    q: IntArray
    factor: Factor


@dataclass(frozen=True)
class Shape:
    """The shape of a network; rows as in :class:`System`.

    Attributes:
        count: number of unknown rows; row `count` stands for every root.
        group: of each node, which of the pieces joined by ideal branches it is part of.
        root: of each island, the group that is held at 0 V.
        island: of each node.
        referenced: the island that holds the references; -1 without any.
        conflict: islands with a loop of ideal branches that do not cancel.
        row: of each node.
        offset: of each node above its group [V].
        ideal: which branches are ideal.
        p, q, draw_p, draw_q: the rows of the ends of branches and draws.
        draw_offset: what the offsets add across each draw [V].
        joined: draws whose ends are in one island.
        plan: how the matrix is factored.
        order, cuts, targets: how currents are gathered at rows.
        ties: the ideal branches by themselves.
    """

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
    draw_p: IntArray
    draw_q: IntArray
    draw_offset: FloatArray
    joined: BoolArray
    plan: Plan
    order: IntArray
    cuts: IntArray
    targets: IntArray
    ties: Ties


@dataclass(frozen=True, slots=True)
class _Key:
    """All that a shape hangs on, with a network that has it."""

    told: tuple[object, ...]
    network: Network = field(compare=False)


def shape_of(network: Network) -> Shape:
    """The shape of a network; the same as long as only resistances, voltages and loads change, and none to or from zero."""
    ideal = (network.resistance == 0) & ~network.is_open
    arrays = (
        network.start,
        network.end,
        network.is_open,
        ideal,
        network.emf[ideal],
        network.draw_start,
        network.draw_end,
    )
    key = _Key((network.node_count, network.references, *(a.tobytes() for a in arrays)), network)
    return _kept(key) if network.node_count <= _LARGEST else _kept_large(key)


@lru_cache(maxsize=_KEPT)
def _kept(key: _Key) -> Shape:
    return _found(key)


@lru_cache(maxsize=_KEPT_OF_LARGE)
def _kept_large(key: _Key) -> Shape:
    return _found(key)


def _found(key: _Key) -> Shape:
    network = key.network
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
    p, q = row[network.start], row[network.end]
    draw_p, draw_q = row[network.draw_start], row[network.draw_end]
    order, cuts, targets = gathering(np.concatenate((p, draw_p, q, draw_q)))
    return Shape(
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
        draw_p=draw_p,
        draw_q=draw_q,
        draw_offset=offset[network.draw_start] - offset[network.draw_end],
        joined=island[network.draw_start] == island[network.draw_end],
        plan=planned(count, p, q, conducting),
        order=order,
        cuts=cuts,
        targets=targets,
        ties=_ties(network, merged.group, ideal),
    )


def _ties(network: Network, group: IntArray, ideal: BoolArray) -> Ties:
    branch = np.flatnonzero(ideal)
    tied = np.array(network.references[1:], dtype=np.intp)
    start = np.concatenate(
        (network.start[branch], np.full(len(tied), network.references[0] if len(tied) else 0))
    )
    end = np.concatenate((network.end[branch], tied))
    nodes = np.arange(network.node_count)
    first = nodes.copy()
    first[group[::-1]] = nodes[::-1]  # of each group its first node, written last
    inner = first[group] != nodes
    count = int(inner.sum())
    row = np.full(network.node_count, count, dtype=np.intp)
    row[inner] = np.arange(count)
    p, q = row[start], row[end]
    return Ties(
        branch, inner, p[: len(branch)], q[: len(branch)], Factor.of(count, p, q, np.ones(len(start)))
    )
