"""What an alteration leaves: the fault is planted, and must be named; the sound change must leave nothing."""

from installcheck.comparison import compare
from installcheck.document import loads

LINE = "  oil line: {from: gallery, to: oil gauge.P, kind: tube, medium: oil, length: 4 ft}\n"


def told(found):
    return [(one.kind, one.at) for one in found.left]


def test_removed_line_leaves_both_ends_open(altered):
    found = altered((LINE, ""))
    assert told(found) == [("open port", ("gallery",)), ("open port", ("oil gauge.P",))]
    assert found.left[0].message == "gallery (oil, 60 psi) is left open: oil line is no longer there"
    assert found.left[0].remedy == "cap or plug gallery, and say so"


def test_capped_tap_is_not_open(altered):
    found = altered((LINE, ""), ("pressure: 60 psi,", "pressure: 60 psi, capped: yes,"))
    assert told(found) == [("open port", ("oil gauge.P",))]


def test_ends_the_document_says_are_capped(base):
    new = base.replace("fluid_lines:\n" + LINE, "") + (
        "removed: {oil line: {kind: fluid line, ends: [gallery, oil gauge.P], left: capped}}\n"
    )
    assert compare(loads(base), loads(new)).left == ()


def test_line_kept_in_place(altered):
    open_ = altered(("medium: oil, length", "medium: oil, status: removed, length"))
    assert [k for k, _ in told(open_)] == ["open port", "open port", "left in place"]
    capped = altered(("medium: oil, length", "medium: oil, status: removed, open_ends: capped, length"))
    assert told(capped) == [("left in place", ("oil line",))]
    assert capped.left[0].remedy == ""


def test_line_moved_to_another_gauge_leaves_the_old_port_open(altered):
    found = altered(
        (
            "  oil gauge: {",
            "  new gauge: {principle: direct pressure, ports: [P], zone: cabin}\n  oil gauge: {",
        ),
        ("to: oil gauge.P", "to: new gauge.P"),
    )
    assert told(found) == [("open port", ("oil gauge.P",))]


def test_removed_ground_wire_takes_the_return(altered):
    found = altered(("  P3: {from: lamp.-, to: panel stud, gauge: 20 AWG, length: 1 ft}\n", ""))
    assert told(found) == [("return lost", ("lamp.-",))]
    assert found.left[0].remedy == "give lamp a return path of its own"


def test_removed_feed(altered):
    found = altered(("  P1: {from: battery.+, to: breaker.in, gauge: 18 AWG, length: 4 ft}\n", ""))
    kinds = dict(told(found))
    assert set(kinds["feed lost"]) == {"breaker.in", "breaker.out", "lamp.+"}
    assert kinds["bare terminal"] == ("breaker.in",)


PANEL = """\
installation: {name: panel}
zones: {cabin: {}}
supplies: {battery: {kind: battery, voltage: 12 V, zone: cabin}}
grounds:
  airframe: {kind: structure, zone: cabin}
  panel: {kind: bus, zone: cabin}
  blower frame: {kind: stud, joins: airframe, zone: cabin}
loads: {blower: {current: 4 A, zone: cabin}}
senders: {fuel sender: {principle: resistive, terminals: [S], case_return: yes, zone: cabin, grounding: {to: airframe}}}
indicators: {fuel gauge: {principle: series meter, terminals: [S, G], zone: cabin}}
wire_runs:
  B1: {from: battery.-, to: airframe, gauge: 4 AWG, length: 1 ft}
  N1: {from: panel, to: blower frame, gauge: 14 AWG, length: 9 ft}
  N2: {from: blower.-, to: blower frame, gauge: 14 AWG, length: 1 ft}
  N3: {from: fuel gauge.G, to: panel, gauge: 20 AWG, length: 1 ft}
  S1: {from: fuel gauge.S, to: fuel sender.S, gauge: 20 AWG, length: 9 ft}
"""


def test_panel_return_that_hung_on_a_removed_blower_wire():
    # The panel's ground ran by the blower's wire; once that is gone, its current comes back through gauge and sender.
    new = PANEL.replace("  N1: {from: panel, to: blower frame, gauge: 14 AWG, length: 9 ft}\n", "")
    [left] = compare(loads(PANEL), loads(new)).left
    assert left.kind == "return lost"
    assert set(left.at) == {"panel", "fuel gauge.G"}
    assert left.message.endswith("current would come back through fuel gauge and fuel sender")


def test_a_return_led_another_way_is_not_lost():
    new = PANEL.replace("N1: {from: panel, to: blower frame,", "N1: {from: panel, to: airframe,")
    assert compare(loads(PANEL), loads(new)).left == ()


def test_replaced_gauge_owes_nothing_to_the_old_one():
    new = PANEL.replace(
        "principle: series meter, terminals: [S, G]", "principle: electronic resistance, terminals: [S, G]"
    )
    new = new.replace("  N3: {from: fuel gauge.G, to: panel, gauge: 20 AWG, length: 1 ft}\n", "")
    assert [one.kind for one in compare(loads(PANEL), loads(new)).left] == []


def test_isolated_probe_in_place_of_a_grounded_one():
    base = """\
installation: {name: head}
zones: {cabin: {}}
grounds: {airframe: {kind: structure, zone: cabin}, case: {kind: engine case, zone: cabin}, strap: {kind: strap, from: case, to: airframe}}
probes: {head: {thermocouple: J, zone: cabin, grounding: {to: case}}}
indicators: {gauge: {principle: moving-coil thermocouple, terminals: [+, -], zone: cabin}}
wire_runs: {T1: {gauge: 22 AWG, length: 9 ft, conductors: {+: {from: head.+, to: gauge.+}, -: {from: head.-, to: gauge.-}}}}
"""
    assert compare(loads(base), loads(base.replace(", grounding: {to: case}", ""))).left == ()
    lost = compare(loads(base), loads(base.replace(", strap: {kind: strap, from: case, to: airframe}", "")))
    assert [(one.kind, one.at) for one in lost.left] == [("return lost", ("case",))]
