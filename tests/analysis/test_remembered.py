"""What a study that remembers rests on: sameness to the last bit, and stand-ins that tell what was read."""

from __future__ import annotations

import ast
import math
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest

from installcheck.analysis.remembered.alike import alike, blended
from installcheck.analysis.remembered.reads import work
from installcheck.analysis.remembered.sections import Watched
from installcheck.analysis.study import Point
from installcheck.document import loads
from installcheck.model.quantities import parse
from installcheck.model.wiring import WireRun

PACKAGE = Path(__file__).parents[2] / "installcheck"


@pytest.mark.parametrize(
    ("one", "other", "same"),
    [
        (1, 1, True),
        (1, 1.0, False),
        (True, 1, False),
        (0.0, -0.0, False),
        (math.nan, math.nan, True),
        ((1, "a"), (1, "a"), True),
        ((1,), [1], False),
        ({"a": 1, "b": 2}, {"a": 1, "b": 2}, True),
        ({"a": 1, "b": 2}, {"b": 2, "a": 1}, False),
        ({"a", "b"}, {"b", "a"}, True),
        ({1.0}, {1.0}, False),
        (np.array([1.0, math.nan]), np.array([1.0, math.nan]), True),
        (np.array([1.0]), np.array([1]), False),
        (object(), object(), False),
        (Point("a", {}), Point("a", {}), False),
    ],
)
def test_alike_is_what_nothing_can_tell_apart(one, other, same):
    assert alike(one, other) is same


def test_a_length_in_feet_is_not_like_the_same_in_inches():
    assert not alike(parse("1 ft", "length"), parse("12 in", "length"))
    assert parse("0 ft", "length") == parse("0 in", "length")
    assert not alike(parse("0 ft", "length"), parse("0 in", "length"))
    assert alike(parse("1 ft", "length"), parse("1 ft", "length"))


def test_what_is_alike_is_taken_from_before():
    old, new = [("a", 1), ("b", 2)], [("a", 1), ("b", 3)]
    made = blended(old, new)
    assert made == new
    assert made[0] is old[0]
    assert made[1] is new[1]


TEXT = """\
installation: {name: two}
zones: {cabin: {occupied: yes}}
senders: {bulb: {terminals: [A, B], zone: cabin}}
indicators: {gauge: {terminals: [A, B], zone: cabin}}
wire_runs:
  E1: {part: AS22759/16, gauge: 22 AWG, from: bulb.A, to: gauge.A}
  E2: {part: AS22759/16, gauge: 22 AWG, from: bulb.B, to: gauge.B}
"""


def changed_by(replaced: tuple[str, str], *reads):
    """Whether each of some readings is told of a change of the text."""
    watched = Watched(loads(TEXT).installation)
    noted = []
    for read in reads:
        with work() as tokens:
            read(watched.model)
        noted.append(tokens)
    tokens = watched.turned_into(loads(TEXT.replace(*replaced)).installation, [])
    return [bool(read & {*tokens}) for read in noted]


def test_a_stand_in_reads_like_its_thing():
    model = Watched(loads(TEXT).installation).model
    run = model.wire_runs["E1"]
    assert isinstance(run, WireRun)
    assert run.gauge == "22"
    assert run == loads(TEXT).installation.wire_runs["E1"]
    assert run.model_copy(update={"gauge": None}).gauge is None
    assert list(model.wire_runs) == ["E1", "E2"]
    assert model.find("bulb")[1] is model.senders["bulb"]


def test_a_change_is_told_to_what_read_that_word_alone():
    assert changed_by(
        ("22 AWG, from: bulb.A", "20 AWG, from: bulb.A"),
        lambda m: m.wire_runs["E1"].gauge,
        lambda m: m.wire_runs["E1"].spec.resistance,
        lambda m: m.wire_runs["E1"].to,
        lambda m: m.wire_runs["E2"].gauge,
        lambda m: [run.gauge for run in m.wire_runs.values()],
        lambda m: list(m.wire_runs),
        lambda m: dict(m.wire_runs["E1"]),
        lambda m: repr(m.wire_runs["E1"]),
        lambda m: m.wire_runs["E1"] == m.wire_runs["E2"],
        lambda m: m.wire_runs["E1"].model_dump(),
        lambda m: m.wire_runs["E1"].model_copy(),
    ) == [True, True, False, False, True, False, True, True, True, True, True]


def test_a_thing_added_is_told_to_what_walked_and_to_what_looked_for_it():
    assert changed_by(
        ("  E2:", "  E3: {from: bulb.A, to: gauge.B}\n  E2:"),
        lambda m: list(m.wire_runs.items()),
        lambda m: len(m.wire_runs),
        lambda m: bool(m.wire_runs),
        lambda m: "E3" in m.wire_runs,
        lambda m: m.wire_runs.get("E3"),
        lambda m: m.wire_runs.get("E1"),
        lambda m: m.find("E3"),
        lambda m: list(m.senders),
    ) == [True, True, True, True, True, False, False, False]


_SAME_OBJECT = {
    "drop_paths.py": "edges, the same only as themselves",
    "causes.py": "one of the list that is walked",
    "purposes.py": "things of the model",
    "feeds.py": "edges, the same only as themselves",
    "readings.py": "one of the pieces of the circuit itself",
    "media.py": "edges, the same only as themselves",
    "budgets.py": "one of the list that is walked",
    "ground_sharing.py": "one of two lists made there",
    "head_probe.py": "one of the stages of the survey itself",
    "loop_resistance.py": "operating points, the same only as themselves",
    "rejudging.py": "a list that is kept",
    "could_be.py": "types of the model",
    "holding.py": "outcomes, of which there is one each",
}


def test_results_are_not_told_apart_by_being_one_object():
    """A remembered result stands for one that is alike: 'is' between two of them would tell them apart."""
    found = set()
    for folder in ("analysis", "rules", "graph"):
        for path in (PACKAGE / folder).rglob("*.py"):
            if path.parent.name == "remembered":
                continue
            for node in ast.walk(ast.parse(path.read_text())):
                if not isinstance(node, ast.Compare):
                    continue
                sides = [node.left, *node.comparators]
                for kind, pair in zip(node.ops, pairwise(sides), strict=True):
                    words = [ast.unparse(side) for side in pair]
                    plain = any(isinstance(side, ast.Constant) for side in pair) or any(
                        w[0].isupper() for w in words
                    )
                    if isinstance(kind, (ast.Is, ast.IsNot)) and not plain and words[-1] != "outcome":
                        found.add(path.name)
    assert found <= set(_SAME_OBJECT), "compare what they say, or add why they are one object"
