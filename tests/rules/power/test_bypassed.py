"""Wires that lead round what should interrupt, and coils that wait for their own contact."""

import pytest

BASE = """
aircraft: {{system_voltage: 14 V}}
usual: {{wire_runs: {{part: AS22759/16, length: 3 ft, zone: bay}}}}
zones: {{bay: {{temperature: 0 to 40 degC}}}}
grounds: {{airframe: {{kind: structure}}}}
supplies:
  battery: {{kind: battery, voltage: 12.6 V}}
  main fuse: {{kind: fuse, rating: 60 A}}
  bus: {{kind: bus}}
  breaker: {{kind: breaker, rating: 5 A}}
  switch: {{kind: switch}}
loads: {{lamp: {{current: 2 A}}}}
wire_runs:
  W1: {{from: battery.+, to: main fuse.in, gauge: 4 AWG}}
  W2: {{from: main fuse.out, to: bus, gauge: 4 AWG}}
  W3: {{from: bus, to: breaker.in, gauge: 20 AWG}}
  W4: {{from: breaker.out, to: switch.in, gauge: 20 AWG}}
  W5: {{from: switch.out, to: lamp.+, gauge: 20 AWG}}
  W6: {{from: lamp.-, to: airframe, gauge: 20 AWG}}
  W7: {{from: battery.-, to: airframe, gauge: 4 AWG}}
{more}
"""


@pytest.mark.parametrize(
    ("ends", "round_"),
    [
        ("from: breaker.in, to: breaker.out", {"breaker"}),
        ("from: switch.out, to: switch.in", {"switch"}),
        ("from: bus, to: switch.in", {"breaker"}),
        ("from: breaker.out, to: lamp.+", {"switch"}),
        ("from: bus, to: lamp.+", {"breaker", "switch"}),
        ("from: breaker.in, to: switch.out", {"breaker", "switch"}),
        ("from: battery.+, to: bus", {"main fuse"}),
        ("from: battery.+, to: lamp.-", set()),
        ("from: bus, to: airframe", set()),
    ],
)
def test_a_wire_round_a_breaker_or_switch(judged, ends, round_):
    found = judged(BASE.format(more=f"  X: {{{ends}, gauge: 20 AWG}}"), "interrupter-bypassed")
    told = {v.at[0]: v for v in found if v.outcome == "discrepancy"}
    assert set(told) == round_
    assert {v.at[0] for v in found} == {"main fuse", "breaker", "switch"}
    for verdict in told.values():
        assert verdict.at[1:] == ("X",)
        assert verdict.remedy.startswith("take out X, which leads round ")


def test_the_wires_behind_a_bypassed_breaker_are_not_made_heavier(judged):
    found = judged(BASE.format(more="  X: {from: bus, to: lamp.+, gauge: 20 AWG}"), "wire-protected")
    told = {v.at[0]: v.remedy for v in found if v.outcome == "discrepancy"}
    assert set(told) >= {"X", "W5"}
    assert all(remedy.startswith("take out X, ") for remedy in told.values())


@pytest.mark.parametrize(
    "more",
    [
        # a bus fed through two breakers: each is one way to it
        "  X1: {from: bus, to: other.in, gauge: 20 AWG}\n  X2: {from: other.out, to: lamp.+, gauge: 20 AWG}",
        # a resistor round a switch dims a lamp
        "  X1: {from: switch.in, to: dimmer.in, gauge: 20 AWG}\n  X2: {from: dimmer.out, to: switch.out, gauge: 20 AWG}",
    ],
)
def test_another_way_through_something_is_no_bypass(judged, more):
    text = BASE.format(more=more).replace(
        "  switch: {kind: switch}", "  switch: {kind: switch}\n  other: {kind: breaker, rating: 5 A}"
    )
    text += "junctions: {dimmer: {kind: resistor, terminals: [in, out], resistance: 10 ohm}}\n"
    assert {v.outcome for v in judged(text, "interrupter-bypassed")} == {"meets"}


def test_a_breaker_wired_on_one_side_is_not_asked_of(judged):
    text = BASE.format(more="").replace("  W3: {from: bus, to: breaker.in, gauge: 20 AWG}\n", "")
    assert {v.at[0] for v in judged(text, "interrupter-bypassed")} == {"main fuse", "switch"}


COILS = """
zones: {{bay: {{}}}}
grounds: {{airframe: {{kind: structure}}}}
supplies:
  battery: {{kind: battery, voltage: 12.6 V}}
  machine: {{kind: {machine}, voltage: 14 V}}
  bus: {{kind: bus}}
  far bus: {{kind: bus}}
  master: {{kind: contactor, coil_current: 1 A}}
  relay: {{kind: contactor, coil_current: 1 A}}
junctions: {{ground power: {{kind: plug, terminals: [A, B]}}}}
wire_runs:
  W1: {{from: battery.+, to: master.in}}
  W2: {{from: master.out, to: bus}}
  W3: {{from: battery.-, to: airframe}}
  W4: {{from: {master}, to: master.coil +}}
  W5: {{from: master.coil -, to: airframe}}
  W6: {{from: bus, to: relay.in}}
  W7: {{from: relay.out, to: far bus}}
  W8: {{from: {relay}, to: relay.coil +}}
  W9: {{from: relay.coil -, to: airframe}}
  W10: {{from: machine.+, to: {driven}}}
  W11: {{from: machine.-, to: airframe}}
"""


@pytest.mark.parametrize(
    ("machine", "driven", "master", "relay", "never"),
    [
        ("alternator", "bus", "battery.+", "bus", set()),
        ("alternator", "bus", "battery.+", "far bus", {"relay"}),
        ("alternator", "bus", "bus", "battery.+", {"master"}),
        # each waits for the other
        ("alternator", "ground power.B", "far bus", "bus", {"master", "relay"}),
        # a generator gives of itself, and pulls its relay in
        ("generator", "far bus", "battery.+", "far bus", set()),
        ("alternator", "far bus", "battery.+", "far bus", {"relay"}),
        # what ground power gives is not drawn
        ("alternator", "bus", "battery.+", "ground power.A", set()),
    ],
)
def test_a_contactor_that_waits_for_itself(judged, machine, driven, master, relay, never):
    text = COILS.format(machine=machine, driven=driven, master=master, relay=relay)
    found = judged(text, "contactor-pulls-in")
    assert {v.at[0] for v in found if v.outcome == "discrepancy"} == never


def test_without_a_battery_an_alternator_is_what_there_is(judged):
    text = COILS.format(machine="alternator", driven="far bus", master="bus", relay="far bus")
    text = (
        text.replace("  battery: {kind: battery, voltage: 12.6 V}\n", "")
        .replace("  W1: {from: battery.+, to: master.in}\n", "")
        .replace("  W3: {from: battery.-, to: airframe}\n", "")
    )
    assert {v.outcome for v in judged(text, "contactor-pulls-in")} == {"meets"}


def test_the_line_contactor_of_an_alternator_may_wait_for_what_the_alternator_gives(judged):
    """Its field may be fed from the bus, or its magnets be permanent: with no bus of its own it gives without the contactor."""
    text = COILS.format(machine="alternator", driven="relay.out", master="battery.+", relay="relay.out")
    text = text.replace("  W7: {from: relay.out, to: far bus}\n", "")
    assert {v.outcome for v in judged(text, "contactor-pulls-in")} == {"meets"}
    assert "discrepancy" in {
        v.outcome
        for v in judged(
            COILS.format(machine="alternator", driven="relay.out", master="battery.+", relay="relay.out"),
            "contactor-pulls-in",
        )
    }
