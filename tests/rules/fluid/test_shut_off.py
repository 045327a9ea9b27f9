"""Gauges and senders that something closed shuts off from their tap."""

import pytest

TEXT = """
zones: {{bay: {{}}}}
taps: {{gallery: {{medium: oil, zone: bay}}, spare: {{medium: fuel, zone: bay}}}}
senders: {{sender: {{principle: resistive, measures: oil pressure, ports: [P], zone: bay}}}}
fittings:
  first: {{kind: union, ports: [in, out], screwed_into: gallery, zone: bay}}
  second: {{kind: {kind}, ports: [in, out], zone: bay{more}}}
fluid_lines:
  near: {{from: first.out, to: second.in, kind: hose}}
  far: {{from: second.out, to: sender.P, kind: hose}}
"""


@pytest.mark.parametrize(
    ("kind", "more", "outcome"),
    [
        ("union", "", "meets"),
        ("cock", ", position: open", "meets"),
        ("cock", "", "meets"),
        ("cock", ", position: closed", "discrepancy"),
        ("check valve", ", flow: [in, out]", "meets"),
        ("check valve", ", flow: [out, in]", "discrepancy"),
        ("cap", "", "discrepancy"),
        ("plug", "", "discrepancy"),
    ],
)
def test_what_shuts_a_sender_off(judged, kind, more, outcome):
    [verdict] = judged(TEXT.format(kind=kind, more=more), "sensing-line-open")
    assert verdict.outcome == outcome
    if outcome == "discrepancy":
        assert verdict.at == ("sender", "second", "gallery")


def test_a_sender_that_nothing_joins_to_a_tap_is_asked_of_by_others(judged):
    text = TEXT.format(kind="union", more="").replace(
        "  near: {from: first.out, to: second.in, kind: hose}\n", ""
    )
    assert judged(text, "sensing-line-open") == []
