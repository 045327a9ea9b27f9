"""Groups, sets that are joined, shortest ways and dominators, against a graph library and against what they mean."""

import random
from itertools import pairwise

import networkx as nx
import pytest

from installcheck.graph.edges import Edge
from installcheck.graph.joining import Joined, dominators, groups, shortest
from installcheck.graph.multigraph import Net


def drawn(seed):
    """Some links between some numbers, from sparse to dense, with loops and repeats."""
    chance = random.Random(seed)
    count = chance.randint(1, 30)
    return [(chance.randrange(count), chance.randrange(count)) for _ in range(chance.randint(1, 3 * count))]


@pytest.mark.parametrize("seed", range(60))
def test_groups_are_those_of_the_library_in_its_order(seed):
    links = drawn(seed)
    assert groups(links) == list(nx.connected_components(nx.Graph(links)))


@pytest.mark.parametrize("seed", range(60))
def test_what_is_joined_is_one_set(seed):
    links = drawn(seed)
    joined = Joined()
    for one, other in links:
        joined.union(one, other)
    graph = nx.Graph(links)
    for one in graph:
        for other in graph:
            assert (joined[one] == joined[other]) == nx.has_path(graph, one, other)
    assert joined["alone"] == "alone"


@pytest.mark.parametrize("seed", range(60))
def test_the_shortest_way_is_a_way_and_no_longer_than_that_of_the_library(seed):
    links = drawn(seed)
    graph = nx.Graph(links)
    near = {node: list(graph[node]) for node in graph}
    for one in graph:
        for other in graph:
            way = shortest(near, one, other)
            if way is None:
                assert not nx.has_path(graph, one, other)
                continue
            assert (way[0], way[-1]) == (one, other)
            assert all(b in near[a] for a, b in pairwise(way))
            assert len(way) == nx.shortest_path_length(graph, one, other) + 1
    assert shortest(near, "nowhere", 0) is None


@pytest.mark.parametrize("seed", range(60))
def test_a_dominator_is_passed_by_every_way(seed):
    links = drawn(seed)
    graph = nx.DiGraph(links)
    root = links[0][0]
    leads = {node: list(graph[node]) for node in graph}
    above = dominators(leads, root)
    assert above[root] == root
    assert set(above) == {root, *nx.descendants(graph, root)}
    for node in set(above) - {root}:
        passed = {root}  # what cuts the node off when it is taken away, by the meaning of the word
        for other in set(above) - {root, node}:
            left = graph.copy()
            left.remove_node(other)
            if not nx.has_path(left, root, node):
                passed.add(other)
        chain = {above[node]}
        here = above[node]
        while here != root:
            here = above[here]
            chain.add(here)
        assert chain == passed


def test_dominators_of_a_ladder():
    # root -> a -> (b, c) -> d -> e: every way to e passes d, a and the root, none has to pass b.
    leads = {"root": ["a"], "a": ["b", "c"], "b": ["d"], "c": ["d"], "d": ["e", "a"]}
    assert dominators(leads, "root") == {"root": "root", "a": "root", "b": "a", "c": "a", "d": "a", "e": "d"}


def test_a_long_chain_is_no_deeper_than_it_is_long():
    leads = {n: [n + 1] for n in range(50_000)}
    assert dominators(leads, 0)[50_000] == 49_999


def edge(name, a, b):
    return Edge("conductor", "wire_runs", name, "", a, b, ())


def test_a_net_tells_edges_by_their_ends():
    one, two, back, loop = edge("1", "a", "b"), edge("2", "a", "b"), edge("3", "c", "a"), edge("4", "a", "a")
    net = Net([one, back, two, loop])
    assert list(net) == ["a", "b", "c"]
    assert list(net.at("a")) == [one, two, back, loop]
    assert list(net.at("b")) == [one, two]
    assert list(net.at("nowhere")) == []
    assert [net.degree(node) for node in net] == [5, 2, 1]
    assert net.groups() == [{"a", "b", "c"}]
