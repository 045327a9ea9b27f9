"""Burst and blocked lines: what is lost, how much leaks, and what the pointer does."""

import pytest

from installcheck import load
from installcheck.analysis.study import Study
from installcheck.document import loads
from installcheck.faults.play import play

LINES = """
installation: {name: lines}
zones: {engine: {}, cabin: {occupied: yes}}
engines: {engine: {oil_quantity: 8 qt, oil_minimum: 2 qt, limits: {oil temperature: {maximum: 200 degF}}}}
operating_points: {cruise: {phase: cruise, altitude: 0 ft, readings: {oil pressure: 60 psi, manifold pressure: 20 inHg}}}
taps:
  gallery: {medium: oil, engine: engine, zone: engine, pressure: 60 psi, temperature: 90 degC, shutoff: engine stopped, shutoff_time: 30 s}
  plenum: {medium: manifold air, engine: engine, zone: engine}
indicators:
  oil gauge: {principle: direct pressure, measures: oil pressure, ports: [P], scale: {lowest: 0 psi, highest: 100 psi}, elevation: 0 in, required: yes, zone: cabin}
  map gauge: {principle: direct pressure, measures: manifold pressure, ports: [P], scale: {lowest: 10 inHg, highest: 35 inHg}, required: yes, zone: cabin}
fluid_lines:
  oil line: {from: gallery, to: oil gauge.P, bore: 0.19 in, route: [{zone: engine, length: 1 ft}, {zone: cabin, length: 1 ft}]}
  map line: {from: plenum, to: map gauge.P, bore: 0.19 in, route: [{zone: engine, length: 1 ft}, {zone: cabin, length: 1 ft}]}
"""


@pytest.fixture(scope="module")
def played() -> dict[tuple[str, str], object]:
    return {(p.kind, p.at): p for p in play(Study(loads(LINES)))}


def test_a_burst_manifold_line_shows_the_barometer(played):
    """20 inHg true, and 29.92 inHg outside at sea level on a standard day: 9.92 inHg high."""
    effect = played["burst line", "map line"].effects[0]
    assert (effect.indication, effect.what) == ("map gauge", "shows a fixed value")
    assert effect.amount == pytest.approx(9.92, abs=0.01)
    assert "the barometer" in effect.text


def test_the_barometer_of_the_point_counts():
    """At 10000 ft the standard atmosphere holds 20.58 inHg (ICAO Doc 7488 table: 69.7 kPa)."""
    at = LINES.replace("altitude: 0 ft", "altitude: 10000 ft")
    played = {(p.kind, p.at): p for p in play(Study(loads(at)))}
    assert played["burst line", "map line"].effects[0].amount == pytest.approx(20.58 - 20, abs=0.02)


def test_a_burst_oil_line_shows_nothing_and_tells_what_leaks(played):
    fault = played["burst line", "oil line"]
    assert fault.effects[0].indication == "oil gauge"
    assert "no pressure" in fault.effects[0].text
    assert "no restrictor" in fault.note
    assert "below the 2 qt minimum after" in fault.note
    assert "when it is shut after 30 s" in fault.note


def test_a_blocked_line_freezes_its_gauge_and_says_how_that_misleads(played):
    assert played["blocked line", "oil line"].effects[0].what == "frozen"
    assert "a pressure that is lost is not shown" in played["blocked line", "oil line"].effects[0].text
    assert "barometer" in played["blocked line", "map line"].effects[0].text


def test_a_sender_behind_a_hose_is_read_through_it():
    played = {(p.kind, p.at): p for p in play(Study(load("demo_aircraft/retrofit_corrected.yaml")))}
    assert [e.indication for e in played["burst line", "oil hose"].effects] == ["oil pressure gauge"]
    assert "oil is below" in played["burst line", "oil hose"].note
    assert "oil is" not in played["burst line", "fuel hose"].note
    assert [e.indication for e in played["blocked line", "fuel hose"].effects] == ["fuel pressure gauge"]
