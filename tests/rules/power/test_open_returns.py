"""Loads whose feed or return leads nowhere, and grounds that are tied to nothing."""

import pytest

BASE = """
installation: {{name: test{scope}}}
zones: {{bay: {{}}}}
grounds: {{airframe: {{kind: structure}}, stud: {{kind: stud{stud}}}}}
supplies: {{battery: {{kind: battery, voltage: 12.6 V}}, bus: {{kind: bus}}}}
junctions: {{block: {{kind: terminal block, terminals: ['1', '2']}}}}
loads: {{lamp: {{current: 2 A}}}}
wire_runs:
  W1: {{from: battery.+, to: bus}}
  W2: {{from: battery.-, to: airframe}}
  W3: {{from: {feed}, to: lamp.+}}
  W4: {{from: lamp.-, to: {home}}}
"""


def told(judged, rule, *, feed="bus", home="airframe", stud="", scope=""):
    found = judged(BASE.format(feed=feed, home=home, stud=stud, scope=scope), rule)
    return {v.at[0]: v for v in found if v.at[0] in ("lamp", "stud")}


@pytest.mark.parametrize(
    ("feed", "home", "outcome", "words"),
    [
        ("bus", "airframe", "meets", ""),
        (
            "bus",
            "block.1",
            "discrepancy",
            "lamp does not return: what is joined to lamp.- leads to no ground",
        ),
        ("bus", "bus", "discrepancy", "both ends of lamp are on the live side: lamp.- leads to bus"),
        (
            "bus",
            "battery.+",
            "discrepancy",
            "both ends of lamp are on the live side: lamp.- leads to battery.+",
        ),
        (
            "block.1",
            "airframe",
            "discrepancy",
            "lamp is not fed: what is joined to lamp.+ leads to no bus or source",
        ),
        ("airframe", "airframe", "discrepancy", "both ends of lamp are at ground: lamp.+ leads to airframe"),
    ],
)
def test_a_load_that_has_no_way_home(judged, feed, home, outcome, words):
    verdict = told(judged, "circuit-solvable", feed=feed, home=home)["lamp"]
    assert verdict.outcome == outcome
    assert words in verdict.message


def test_of_a_part_of_an_aircraft_the_way_home_may_not_be_drawn(judged):
    part = ", scope: part"
    assert told(judged, "circuit-solvable", home="block.1", scope=part)["lamp"].outcome == "undetermined"
    assert told(judged, "circuit-solvable", home="bus", scope=part)["lamp"].outcome == "discrepancy"


@pytest.mark.parametrize(
    ("home", "stud", "scope", "outcome"),
    [
        ("stud", "", "", "discrepancy"),
        ("stud", ", joins: airframe", "", "meets"),
        ("stud", ", joins: unknown", "", "undetermined"),
        ("stud", "", ", scope: part", "undetermined"),
        ("airframe", "", "", None),
    ],
)
def test_a_stud_is_tied_to_something(judged, home, stud, scope, outcome):
    found = told(judged, "ground-tied", home=home, stud=stud, scope=scope)
    assert found["stud"].outcome == outcome if outcome else not found


@pytest.mark.parametrize(
    ("post", "stud", "outcome"),
    [
        ("airframe", "", "meets"),
        ("stud", ", joins: airframe", "meets"),
        # the battery on a stud that is fastened to nothing: what returns through the airframe is dead
        ("stud", "", "discrepancy"),
    ],
)
def test_the_structure_is_tied_to_a_source(judged, post, stud, outcome):
    text = BASE.format(feed="bus", home="airframe", stud=stud, scope="").replace(
        "W2: {from: battery.-, to: airframe}", f"W2: {{from: battery.-, to: {post}}}"
    )
    found = {v.at[0]: v for v in judged(text, "ground-tied")}
    assert found["airframe"].outcome == outcome
    if outcome == "discrepancy":
        assert (
            "ends at stud: no source is tied to airframe, and lamp returns through it"
            in found["airframe"].message
        )
