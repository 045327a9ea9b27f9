"""Zones side by side: steps of runs from zone to zone as short as may be, the document's order where that is as good."""

import pytest

from installcheck.document import loads
from installcheck.model.abreast import abreast

LEFT, RIGHT = ["left engine", "left wing", "cabin"], ["right engine", "right wing", "cabin"]


@pytest.mark.parametrize(
    "written",
    [
        ["left engine", "left wing", "right engine", "right wing", "cabin"],
        ["left engine", "right engine", "left wing", "right wing", "cabin"],
        ["cabin", "left engine", "right engine", "left wing", "right wing"],
    ],
)
def test_each_engine_stands_on_its_own_side_of_the_cabin(written):
    assert abreast(written, [LEFT, RIGHT], []) == [
        "left engine",
        "left wing",
        "cabin",
        "right wing",
        "right engine",
    ]


def test_names_say_nothing():
    """The same with names that tell no side: it comes of what runs where."""
    order = abreast(["a", "b", "c", "d", "e"], [["a", "b", "e"], ["c", "d", "e"]], [])
    assert order == ["a", "b", "e", "d", "c"]


def test_the_written_order_stays_where_none_is_shorter():
    assert abreast(["cabin", "engine bay", "engine"], [["engine", "engine bay", "cabin"]], []) == [
        "cabin",
        "engine bay",
        "engine",
    ]
    assert abreast(["a", "b", "c"], [], []) == ["a", "b", "c"]
    assert abreast([], [["a", None]], [("a", "b")]) == []


def test_a_barrier_joins_what_no_run_does():
    assert abreast(["tail", "engine", "cabin"], [["engine", "cabin"]], [("cabin", "tail")]) in (
        ["tail", "cabin", "engine"],
        ["engine", "cabin", "tail"],
    )


def test_very_many_zones_stand_as_written():
    zones = [f"zone {n}" for n in range(30)]
    assert abreast(zones, [[zones[0], zones[-1]]], []) == zones


def test_runs_without_a_route_count_by_where_they_end():
    text = """
installation: {name: bench}
zones: {left: {}, right: {}, panel: {}}
senders: {a: {terminals: [S], zone: left}, b: {terminals: [S], zone: right}}
indicators: {one: {terminals: [S], zone: panel}, two: {terminals: [S], zone: panel}}
wire_runs: {W1: {from: a.S, to: one.S, length: 3 ft}, W2: {from: b.S, to: two.S, length: 3 ft}}
"""
    assert loads(text).installation.zones_abreast == ("left", "panel", "right")
