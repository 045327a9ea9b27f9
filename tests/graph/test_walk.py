"""Walks on a small graph: A-B-C-D in a row, and E beside B."""

import pytest

from installcheck.graph.edges import Edge
from installcheck.graph.walk import Walk, between, turned


def wire(a, b):
    return Edge("conductor", "wire_runs", f"{a}{b}", "", a, b, ())


AB, BC, CD, BE = (wire(*pair) for pair in ("AB", "BC", "CD", "BE"))
LINKS = {"A": [AB], "B": [AB, BE, BC], "C": [BC, CD], "D": [CD], "E": [BE]}


def at(node):
    return LINKS[node]


def test_nearest_first_and_each_once():
    assert list(Walk("A", at)) == ["A", "B", "E", "C", "D"]


def test_way_to_a_node():
    walk = Walk("A", at)
    assert walk.first(lambda node: node == "D") == "D"
    assert [(s.edge, s.near, s.far) for s in walk.way("D")] == [
        (AB, "A", "B"),
        (BC, "B", "C"),
        (CD, "C", "D"),
    ]
    assert walk.way("A") == ()


def test_looks_no_further_than_what_was_wanted():
    asked = []

    def leaving(node):
        asked.append(node)
        return LINKS[node]

    assert Walk("A", leaving).first(lambda node: node == "B") == "B"
    assert asked == ["A"]


def test_edges_not_passed_and_nodes_that_stop():
    assert list(Walk("A", at, passes=lambda edge, there: edge is not BC)) == ["A", "B", "E"]
    assert list(Walk("A", at, stops=lambda node: node == "B")) == ["A", "B"]


def test_several_starts():
    assert list(Walk(["D", "E"], at)) == ["D", "E", "C", "B", "A"]


@pytest.mark.parametrize(
    ("start", "end", "edges"),
    [("A", "D", (AB, BC, CD)), ("D", "A", (CD, BC, AB)), ("E", "C", (BE, BC)), ("A", "A", ())],
)
def test_between_two_nodes(start, end, edges):
    steps = between(LINKS, start, end)
    assert steps is not None
    assert tuple(s.edge for s in steps) == edges
    assert [s.edge for s in turned(steps)] == list(reversed(edges))
    if steps:
        assert (steps[0].near, steps[-1].far) == (start, end)


def test_nothing_between():
    assert between({**LINKS, "Z": []}, "A", "Z") is None
