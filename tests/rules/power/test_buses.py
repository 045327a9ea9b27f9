"""Buses and inverters that a source reaches, or does not."""

import pytest

BASE = """
installation: {{name: test{scope}}}
zones: {{bay: {{}}}}
grounds: {{airframe: {{kind: structure}}}}
supplies:
  battery: {{kind: battery, voltage: 24 V}}
  breaker: {{kind: breaker, rating: 5 A}}
  main bus: {{kind: bus}}
  inverter: {{kind: inverter, voltage: 26 V, frequency: 400 Hz}}
  synchro bus: {{kind: bus}}
  spare bus: {{kind: bus}}
junctions: {{ground power: {{kind: plug, terminals: [A]}}}}
loads: {{lamp: {{current: 2 A}}}}
wire_runs:
  W1: {{from: battery.+, to: main bus}}
  W2: {{from: main bus, to: breaker.in}}
  W3: {{from: breaker.out, to: inverter.in}}
  W4: {{from: inverter.out, to: synchro bus}}
  W5: {{from: battery.-, to: airframe}}
  W6: {{from: synchro bus, to: lamp.+}}
  W7: {{from: ground power.A, to: main bus}}
"""


def without(*runs, scope=""):
    return "\n".join(line for line in BASE.format(scope=scope).splitlines() if line.strip()[:2] not in runs)


@pytest.mark.parametrize(
    ("gone", "dead"),
    [
        ((), set()),
        (("W4",), {"synchro bus"}),
        (("W3",), {"inverter", "synchro bus"}),
        # ground power may come by a plug that meets nothing drawn
        (("W1",), set()),
        (("W1", "W7"), {"main bus", "inverter", "synchro bus"}),
    ],
)
def test_what_no_source_reaches(judged, gone, dead):
    found = judged(without(*gone), "bus-fed")
    assert {v.at[0] for v in found} == {"main bus", "inverter", "synchro bus"}
    assert {v.at[0] for v in found if v.outcome == "discrepancy"} == dead


def test_of_a_part_of_an_aircraft_the_feed_may_not_be_drawn(judged):
    found = judged(without("W4", scope=", scope: part"), "bus-fed")
    assert {v.at[0]: v.outcome for v in found} == {
        "main bus": "meets",
        "inverter": "meets",
        "synchro bus": "undetermined",
    }


def test_without_a_source_a_bus_stands_for_its_feed(judged):
    text = without("W1", "W5").replace("  battery: {kind: battery, voltage: 24 V}\n", "")
    assert judged(text, "bus-fed") == []
