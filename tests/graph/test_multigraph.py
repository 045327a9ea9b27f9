"""The graph as networkx has it, and as the checks walk it, are one."""

import networkx as nx
import pytest
from installations import demo, read

from installcheck.graph import build


@pytest.mark.parametrize("name", ["retrofit", "twin", "poor_ground", "before"])
def test_both_hold_the_same_ends_and_edges(name):
    graph = build(read(demo(name)).installation)
    made = graph.multigraph
    assert set(made) == set(graph.nodes)
    assert {data["edge"] for *_, data in made.edges(data=True)} == set(graph.edges)
    assert made.number_of_edges() == len(graph.edges)
    assert all(made.degree(node) == graph.net.degree(node) for node in graph.net)
    hang = {frozenset(one) for one in nx.connected_components(made) if len(one) > 1}
    assert hang == {frozenset(one) for one in graph.net.groups() if len(one) > 1}


def test_the_thing_and_the_zone_of_an_end():
    graph = build(read(demo("retrofit")).installation)
    assert graph.multigraph.nodes["oil bulb.A"] == {
        "section": "senders",
        "ident": "oil bulb",
        "terminal": "A",
        "zone": graph.model.senders["oil bulb"].zone,
    }
