TEXT = """
aircraft: {{system_voltage: 14 V}}
zones: {{cabin: {{occupied: yes}}, bay: {{occupied: no}}}}
supplies: {{battery: {{kind: battery, zone: bay}}, contactor: {{kind: contactor, zone: bay}}, bus: {{kind: bus, zone: cabin}}, breaker: {{kind: breaker, rating: 5 A, zone: cabin}}}}
loads: {{lamp: {{current: 3 A, terminals: ['+'], zone: cabin}}}}
bundles: {{harness: {{wires: 5{more}}}}}
wire_runs:
  P1: {{from: battery.+, to: contactor.in, gauge: 2 AWG, route: [{{zone: {feed}, length: 4 ft}}]{heavy}}}
  P2: {{from: contactor.out, to: bus, gauge: 6 AWG, length: 3 ft}}
  C1: {{from: battery.+, to: contactor.coil +, gauge: 20 AWG, length: 1 ft, current: 1 A{coil}}}
  P3: {{from: bus, to: breaker.in, gauge: 18 AWG, length: 3 in}}
  P4: {{from: breaker.out, to: lamp.+, gauge: 20 AWG, route: [{{zone: cabin, length: 5 ft}}]{lamp}}}
"""
IN = ", bundle: harness"


def document(heavy=IN, lamp=IN, coil="", more="", feed="cabin"):
    return TEXT.format(heavy=heavy, lamp=lamp, coil=coil, more=more, feed=feed)


def test_a_lamp_wire_along_the_battery_feed(judged):
    [verdict] = judged(document(), "light-beside-heavy")
    assert (verdict.outcome, verdict.at) == ("advisory", ("harness", "P1"))
    assert "P4" in verdict.message
    assert verdict.remedy == "lead P1 outside this bundle"


def test_a_tap_of_the_heavy_circuit_may_lie_beside_it(judged):
    [verdict] = judged(document(lamp="", coil=IN), "light-beside-heavy")
    assert verdict.outcome == "meets"


def test_wires_of_one_bundle_in_other_zones_do_not_meet(judged):
    [verdict] = judged(document(feed="bay"), "light-beside-heavy")
    assert verdict.outcome == "meets"


def test_touching_a_heavy_wire_outside(judged):
    near = ", clearances: [{to: starter feed, kind: high-current wire, distance: %s}]"
    for distance, outcome in (("0 in", "advisory"), ("1 in", "meets"), ("unknown", "undetermined")):
        assert judged(document(heavy="", more=near % distance), "light-beside-heavy")[-1].outcome == outcome


def test_touching_a_heavy_wire_that_is_named_from_either_side(judged):
    for text in (
        document(heavy="", lamp=", clearances: [{to: P1, kind: wire, distance: 0 in}]"),
        document(heavy=", clearances: [{to: P4, kind: wire, distance: 0 in}]", lamp=""),
    ):
        assert [v.outcome for v in judged(text, "light-beside-heavy")] == ["advisory"]
    tap = document(heavy="", lamp="", coil=", clearances: [{to: P1, kind: wire, distance: 0 in}]")
    assert judged(tap, "light-beside-heavy") == []


IGNITION = """
supplies: {{ignition switch: {{kind: switch, terminals: [L, R]}}}}
junctions: {{{left}: {{kind: stud}}, {right}: {{kind: stud}}}}
bundles: {{harness: {{wires: 5}}}}
wire_runs:
  {names[0]}: {{from: {left}, to: ignition switch.L, gauge: 18 AWG, bundle: harness{one}}}
  {names[1]}: {{from: {right}, to: ignition switch.R, gauge: 18 AWG, bundle: harness{other}}}
"""


def ignition(left="left magneto", right="right magneto", names=("M1", "M2"), one="", other=""):
    return IGNITION.format(left=left, right=right, names=names, one=one, other=other)


def test_both_ignition_grounds_in_one_bundle(judged):
    [verdict] = judged(ignition(), "ignition-grounds-apart")
    assert (verdict.outcome, verdict.at) == ("advisory", ("harness", "M1", "M2"))
    [verdict] = judged(ignition("a", "b", ("P-lead left", "P-lead right")), "ignition-grounds-apart")
    assert verdict.outcome == "advisory"


def test_grounds_of_two_engines_may_lie_together(judged):
    text = "engines: {one: {cylinders: 4}, two: {cylinders: 4}}" + ignition(
        one=", engine: one", other=", engine: two"
    )
    [verdict] = judged(text, "ignition-grounds-apart")
    assert verdict.outcome == "meets"


def test_leads_to_the_plugs_ground_nothing(judged):
    kind = ", kind: ignition lead"
    text = ignition(one=kind, other=kind).replace("ignition switch", "block")
    assert judged(text, "ignition-grounds-apart") == []
