"""Cocks in what feeds the engine."""

import pytest

TEXT = """
zones: {cabin: {occupied: yes}, engine bay: {fire_zone: yes}}
taps:
  left tank: {medium: fuel, location: tank, zone: cabin}
  right tank: {medium: fuel, location: tank, zone: cabin}
  left inlet: {medium: fuel, location: carburettor inlet, zone: engine bay}
  right inlet: {medium: fuel, location: carburettor inlet, zone: engine bay}
fittings:
  left cock: {kind: cock, ports: [in, out], zone: cabin, position: open}
  right cock: {kind: cock, ports: [in, out], zone: cabin}
  crossfeed: {kind: cock, ports: [in, out], zone: cabin, position: closed}
  left tee: {kind: tee, ports: [1, 2, 3], zone: cabin}
  right tee: {kind: tee, ports: [1, 2, 3], zone: cabin}
fluid_lines:
  L1: {from: left tank, to: left cock.in}
  L2: {from: left cock.out, to: left tee.1}
  L3: {from: left tee.2, to: left inlet}
  R1: {from: right tank, to: right cock.in}
  R2: {from: right cock.out, to: right tee.1}
  R3: {from: right tee.2, to: right inlet}
  X1: {from: left tee.3, to: crossfeed.in}
  X2: {from: crossfeed.out, to: right tee.3}
"""


def found(verdicts):
    return {v.at[0]: v.outcome for v in verdicts}


def test_a_crossfeed_may_stand_closed(judged):
    assert found(judged(TEXT, "feed-cock-open")) == {"left cock": "meets"}


def test_a_closed_cock_starves_its_engine(judged):
    text = TEXT.replace(
        "right cock: {kind: cock, ports: [in, out]",
        "right cock: {kind: cock, position: closed, ports: [in, out]",
    )
    assert found(judged(text, "feed-cock-open"))["right cock"] == "discrepancy"


def test_a_cock_closed_while_another_tank_feeds(judged):
    text = TEXT.replace(
        "right cock: {kind: cock, ports: [in, out]",
        "right cock: {kind: cock, position: closed, ports: [in, out]",
    )
    text = text.replace("position: closed}\n  left tee", "position: open}\n  left tee")
    assert found(judged(text, "feed-cock-open")) == {"left cock": "meets", "crossfeed": "meets"}


def test_a_line_said_to_feed_that_a_closed_cock_leaves_dry(judged):
    text = """
taps: {tank: {medium: fuel, location: other}}
fittings: {cock: {kind: cock, ports: [in, out], position: closed}}
fluid_lines: {L1: {from: tank, to: cock.in}, L2: {from: cock.out, purpose: feed, to: pump.in}}
junctions: {}
senders: {pump: {principle: pulse pick-up, measures: fuel flow, terminals: [S], ports: [in, out]}}
"""
    assert found(judged(text, "feed-cock-open")) == {"cock": "discrepancy"}
    assert found(judged(text.replace("closed", "open"), "feed-cock-open")) == {"cock": "meets"}


def test_the_cock_of_a_gauge_line_is_no_shutoff(judged):
    text = """
zones: {engine bay: {fire_zone: yes}}
taps: {inlet: {medium: fuel, location: carburettor inlet}}
fittings: {cock: {kind: cock, ports: [in, out], zone: engine bay, position: closed}}
senders: {transducer: {principle: pressure transducer, terminals: ['+', '-'], ports: [P]}}
fluid_lines: {L1: {from: inlet, to: cock.in}, L2: {from: cock.out, to: transducer.P}}
"""
    assert judged(text, "fuel-cock-place") == judged(text, "feed-cock-open") == []


@pytest.mark.parametrize(
    ("zone", "status", "basis", "outcome"),
    [
        ("cabin", "new", "", "meets"),
        ("engine bay", "new", "", "discrepancy"),
        ("engine bay", "existing", "", "advisory"),
        ("engine bay", "new", "aircraft: {basis: amateur-built}", "advisory"),
    ],
)
def test_the_shutoff_stays_on_the_cabins_side(judged, zone, status, basis, outcome):
    text = TEXT.replace(
        "left cock: {kind: cock, ports: [in, out], zone: cabin",
        f"left cock: {{kind: cock, ports: [in, out], status: {status}, zone: {zone}",
    )
    assert found(judged(text + basis, "fuel-cock-place"))["left cock"] == outcome
