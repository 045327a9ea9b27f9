"""Merging, islands and bridges against networkx, an independent implementation."""

import networkx as nx
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from installcheck.physics.network_topology import find_bridges, label_islands, merge_ideal

EDGES = st.integers(1, 25).flatmap(
    lambda n: st.tuples(
        st.just(n), st.lists(st.tuples(st.integers(0, n - 1), st.integers(0, n - 1)), max_size=40)
    )
)


@given(EDGES)
def test_islands_agree_with_networkx(graph: tuple[int, list[tuple[int, int]]]) -> None:
    count, edges = graph
    other = nx.MultiGraph()
    other.add_nodes_from(range(count))
    other.add_edges_from(edges)
    label = label_islands(count, [a for a, _ in edges], [b for _, b in edges])
    ours = sorted(sorted(np.flatnonzero(label == part).tolist()) for part in set(label.tolist()))
    assert ours == sorted(sorted(part) for part in nx.connected_components(other))


@given(EDGES)
def test_bridges_agree_with_taking_each_edge_out(graph: tuple[int, list[tuple[int, int]]]) -> None:
    count, edges = graph
    start, end = [a for a, _ in edges], [b for _, b in edges]
    label = label_islands(count, start, end)
    roots = [int(np.argmax(label == part)) for part in range(int(label.max()) + 1)]
    found = find_bridges(count, start, end, roots)
    for edge in range(len(edges)):
        rest = nx.MultiGraph()
        rest.add_nodes_from(range(count))
        rest.add_edges_from(edges[:edge] + edges[edge + 1 :])
        reached = nx.node_connected_component(rest, roots[label[start[edge]]])
        lost = {v for v in range(count) if label[v] == label[start[edge]]} - reached
        cut = found.cut_off(edge)
        below = set() if cut is None else {v for v in range(count) if cut[0] <= found.enter[v] <= cut[1]}
        assert below == lost


def test_merged_nodes_keep_their_difference() -> None:
    """Two 12 V cells in series from node 3: node 1 is 24 V above it, node 0 stands alone."""
    merged = merge_ideal(4, [3, 2], [2, 1], [12.0, 12.0])
    assert merged.group[1] == merged.group[2] == merged.group[3] != merged.group[0]
    assert merged.offset[1] - merged.offset[3] == pytest.approx(24.0)
    assert not merged.conflict.any()


@given(st.integers(0, 10_000), st.integers(2, 30), st.integers(0, 20))
def test_loops_that_cancel_are_no_conflict(seed: int, count: int, extra: int) -> None:
    """Any ideal branches laid between nodes of known potential agree; a 1 mV lie is found."""
    rng = np.random.default_rng(seed)
    level = rng.uniform(-30, 30, count)
    start = rng.integers(0, count, count + extra)
    end = rng.integers(0, count, count + extra)
    emf = level[end] - level[start]
    merged = merge_ideal(count, start.tolist(), end.tolist(), emf.tolist())
    assert not merged.conflict.any()
    for group in range(len(merged.conflict)):
        mine = merged.group == group
        assert np.ptp(merged.offset[mine] - level[mine]) < 1e-9
    lie = merge_ideal(count, [*start.tolist(), 0, 0], [*end.tolist(), 1, 1], [*emf.tolist(), 5.0, 5.001])
    assert lie.conflict[lie.group[0]]
    assert lie.conflict.sum() == 1
