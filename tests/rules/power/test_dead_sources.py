"""Sources that give nothing: rated at 0 A, dead, or behind an open breaker."""

import pytest

BASE = """
aircraft: {{system_voltage: 28 V, load_monitored: yes}}
zones: {{bay: {{}}}}
grounds: {{airframe: {{kind: structure}}}}
supplies:
  left: {{kind: alternator, voltage: 28 V, rated_current: {left}}}
  right: {{kind: alternator, voltage: {volts}, rated_current: 70 A}}
  left breaker: {{kind: breaker, rating: 70 A}}
  bus: {{kind: bus}}
loads: {{heater: {{current: 100 A, duty: continuous, connected_at: bus}}}}
operating_points: {{cruise: {{phase: cruise{cruise}}}}}
wire_runs:
  W1: {{from: left.+, to: left breaker.in}}
  W2: {{from: left breaker.out, to: bus}}
  W3: {{from: right.+, to: bus}}
  W4: {{from: left.-, to: airframe}}
  W5: {{from: right.-, to: airframe}}
"""


def told(judged, rule, *, left="70 A", volts="28 V", cruise=""):
    return judged(BASE.format(left=left, volts=volts, cruise=cruise), rule)


@pytest.mark.parametrize(
    ("given", "wrong"),
    [
        # 100 A on 70 + 70 A; on 70 A alone
        ({}, []),
        ({"cruise": ", open_switches: [left breaker]"}, ["right of 70 A carries 100 A continuously"]),
        ({"cruise": ", dead_supplies: [left]"}, ["right of 70 A carries 100 A continuously"]),
        ({"left": "0 A"}, ["left is rated 0 A", "left and right of 70 A together carry 100 A"]),
    ],
)
def test_what_gives_nothing_carries_no_load(judged, given, wrong):
    found = [v.message for v in told(judged, "source-load", **given) if v.outcome == "discrepancy"]
    assert len(found) >= len(wrong)
    for words in wrong:
        assert any(words in message for message in found), found
    assert bool(wrong) == bool(found)


@pytest.mark.parametrize(
    ("given", "outcome"),
    [
        # 27 V beside 28 V, which holds the bus at 27.44 V at the least: 2 percent
        ({}, "advisory"),
        ({"left": "0 A"}, "meets"),
        ({"cruise": ", dead_supplies: [left]"}, "meets"),
        ({"cruise": ", open_switches: [left breaker]"}, "meets"),
    ],
)
def test_a_dead_source_takes_nothing_from_its_neighbour(judged, given, outcome):
    found = {v.at[0]: v for v in told(judged, "system-voltage", volts="27 V", **given)}
    assert found["right"].outcome == outcome


def test_a_source_of_no_output_feeds_no_bus(judged):
    text = BASE.format(left="0 A", volts="28 V", cruise="").replace("  W3: {from: right.+, to: bus}\n", "")
    assert {v.at[0]: v.outcome for v in judged(text, "bus-fed")} == {"bus": "discrepancy"}


@pytest.mark.parametrize(
    ("inside", "outcome"),
    [
        ("12 milliohm", "meets"),
        # 12 A through 0.3 ohm: 3.6 V of 12.6 V, 71.4 percent left, which is 18 of 25.2
        ("0.299 ohm", "meets"),
        ("0.301 ohm", "discrepancy"),
        ("2 ohm", "discrepancy"),
    ],
)
def test_a_battery_gives_its_current_past_what_is_inside_it(judged, inside, outcome):
    text = f"""
supplies:
  battery: {{kind: battery, voltage: 12.6 V, capacity: 24 Ah, usable: 80 %, inner_resistance: {inside}}}
  bus: {{kind: bus}}
loads: {{radios: {{current: 12 A, duty: continuous, essential: yes, connected_at: bus}}}}
"""
    assert [v.outcome for v in judged(text, "battery-endurance")] == [outcome]
