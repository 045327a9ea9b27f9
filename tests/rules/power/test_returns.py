"""Returns against the protector of the feed. AC 43.13-1B table 11-3, breakers: 22 AWG 5 A, 20 AWG 7.5 A, 18 AWG 10 A."""

import pytest

TEXT = """
supplies:
  bus: {{kind: bus}}
  pump breaker: {{kind: breaker, rating: {rating}}}
  lamp breaker: {{kind: breaker, rating: 5 A}}
grounds: {{airframe: {{kind: structure}}, stud: {{kind: stud, joins: airframe}}}}
loads: {{pump: {{current: 5 A}}, lamp: {{current: 2 A}}}}
wire_runs:
  T1: {{from: bus, to: pump breaker.in, part: AS22759/16, gauge: 18 AWG, length: 3 in}}
  T2: {{from: bus, to: lamp breaker.in, part: AS22759/16, gauge: 18 AWG, length: 3 in}}
  L1: {{from: pump breaker.out, to: pump.+, part: AS22759/16, gauge: 18 AWG, length: 5 ft}}
  L2: {{from: pump.-, to: {home}, part: AS22759/16, gauge: {gauge}, length: 1 ft}}
  M1: {{from: lamp breaker.out, to: lamp.+, part: AS22759/16, gauge: 22 AWG, length: 5 ft}}
  M2: {{from: lamp.-, to: joint, part: AS22759/16, gauge: 22 AWG, length: 1 ft}}
  M3: {{from: joint, to: airframe, part: AS22759/16, gauge: 22 AWG, length: 1 ft}}
junctions: {{joint: {{kind: splice}}}}
"""


def told(judged, **more):
    usual = {"rating": "7.5 A", "gauge": "20 AWG", "home": "airframe"}
    return {v.at[0]: v for v in judged(TEXT.format(**usual | more), "return-protected")}


@pytest.mark.parametrize(
    ("gauge", "rating", "outcome"),
    [
        ("20 AWG", "7.5 A", "meets"),
        ("22 AWG", "7.5 A", "advisory"),
        ("20 AWG", "10 A", "advisory"),
        ("18 AWG", "10 A", "meets"),
    ],
)
def test_a_return_is_as_heavy_as_its_protector_asks(judged, gauge, rating, outcome):
    assert told(judged, gauge=gauge, rating=rating)["L2"].outcome == outcome


def test_what_it_bears_and_what_would(judged):
    verdict = told(judged, gauge="22 AWG")["L2"]
    assert (verdict.value, verdict.unit) == (7.5, "A")
    assert "20 AWG" in verdict.remedy


def test_a_wire_that_two_loads_return_by_bears_the_larger_protector(judged):
    found = told(judged, home="joint", gauge="20 AWG")
    assert (found["M2"].outcome, found["M3"].outcome) == ("meets", "advisory")
    assert "pump" in found["M3"].message


def test_nothing_is_asked_of_a_return_of_what_no_protector_feeds(judged):
    text = TEXT.format(rating="7.5 A", gauge="22 AWG", home="airframe").replace(
        "from: pump breaker.out", "from: bus"
    )
    assert "L2" not in {v.at[0] for v in judged(text, "return-protected")}


def test_a_return_of_unstated_rating_is_not_known_to_bear_it(judged):
    text = TEXT.format(rating="7.5 A", gauge="20 AWG", home="airframe")
    bare = text.replace("to: airframe, part: AS22759/16, gauge: 20 AWG", "to: airframe, gauge: 20 AWG")
    found = {v.at[0]: v for v in judged(bare, "return-protected")}
    assert found["L2"].outcome == "undetermined"
    heavier = bare.replace("rating: 7.5 A", "rating: 20 A")  # beyond 7.5 A, whatever its rating
    assert {v.at[0]: v for v in judged(heavier, "return-protected")}["L2"].outcome == "advisory"


def test_a_feed_that_does_not_bear_its_breaker_is_told_the_breaker_not_a_heavier_return(judged):
    """60 A before 18 AWG that bears 10 A: the return of 22 AWG, is judged by what takes its place."""
    remedy = told(judged, rating="60 A", gauge="22 AWG")["L2"].remedy
    assert remedy.startswith("feed pump behind a protector that its feed L1 bears")
    assert "AWG" not in remedy
    assert told(judged, rating="7.5 A", gauge="22 AWG")["L2"].remedy == "use 20 AWG"
