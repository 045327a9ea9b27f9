import pytest

HEAD = """
zones: {{engine: {{}}}}
engines: {{engine: {{cylinders: 4{reference}}}}}
probes: {{head: {{kind: {kind}, measures: head temperature, cylinder: 3, zone: engine{more}}}}}
"""
WELL = ", head_reference: well"


def test_bayonet_where_the_limit_is(judged):
    [verdict] = judged(HEAD.format(reference=WELL, kind="bayonet", more=", mount: well"), "head-probe-kind")
    assert verdict.outcome == "meets"


@pytest.mark.parametrize(("required", "outcome"), [("", "discrepancy"), (", required: no", "advisory")])
def test_ring_against_the_well(judged, required, outcome):
    text = HEAD.format(reference=WELL, kind="gasket ring 18 mm", more=", mount: lower plug" + required)
    [verdict] = judged(text, "head-probe-kind")
    assert verdict.outcome == outcome
    # published -25 degF (ring low) and +50 degF; the unsafe side is 25 low
    assert (verdict.value, verdict.margin, verdict.unit) == (25, -25, "degF")
    assert "25 degF below to 50 degF above" in verdict.message


def test_well_against_a_limit_at_the_ring(judged):
    text = HEAD.format(reference=", head_reference: gasket ring", kind="threaded", more="")
    [verdict] = judged(text, "head-probe-kind")
    assert verdict.outcome == "discrepancy"
    # a ring may read 50 above the well, so the well may read 50 below the ring
    assert verdict.value == 50


def test_kinds_without_a_figure(judged):
    [ring] = judged(HEAD.format(reference=WELL, kind="bolt ring", more=""), "head-probe-kind")
    [surface] = judged(HEAD.format(reference=WELL, kind="surface", more=""), "head-probe-kind")
    assert (ring.outcome, surface.outcome) == ("advisory", "discrepancy")
    [bolt] = judged(
        HEAD.format(reference=", head_reference: bolt", kind="bolt ring", more=""), "head-probe-kind"
    )
    assert bolt.outcome == "meets"


def test_probe_that_does_not_fit(judged):
    [seat] = judged(
        HEAD.format(reference=WELL, kind="bayonet", more=", mount: upper plug"), "head-probe-kind"
    )
    assert seat.outcome == "discrepancy"
    assert seat.path == ("probes", "head", "mount")
    [kind] = judged(HEAD.format(reference=WELL, kind="exhaust clamp", more=""), "head-probe-kind")
    assert kind.outcome == "discrepancy"


def test_kind_or_reference_not_said(judged):
    [verdict] = judged(HEAD.format(reference="", kind="bayonet", more=""), "head-probe-kind")
    assert verdict.outcome == "undetermined"
    [verdict] = judged(HEAD.format(reference=WELL, kind="unknown", more=""), "head-probe-kind")
    assert verdict.missing == ("kind of the probe",)


def probes(*cylinders, kind="exhaust clamp", measures="exhaust temperature"):
    text = "zones: {engine: {}}\nengines: {engine: {cylinders: 4}}\nprobes:\n"
    for i, cylinder in enumerate(cylinders):
        text += f"  p{i}: {{kind: {kind}, measures: {measures}, cylinder: {cylinder}, zone: engine}}\n"
    return text


def test_every_cylinder_once(judged):
    [verdict] = judged(probes(1, 2, 3, 4), "cylinder-served-once")
    assert verdict.outcome == "meets"


def test_one_twice_and_one_not_at_all(judged):
    [verdict] = judged(probes(1, 2, 2, 4), "cylinder-served-once")
    assert verdict.outcome == "discrepancy"
    assert "cylinder 2 is served by p1 and p2, and cylinder 3 by none" in verdict.message
    assert verdict.remedy == "give one of them cylinder 3"
    assert verdict.path == ("probes", "p2", "cylinder")


def test_some_not_served(judged):
    [verdict] = judged(probes(1, 2, 4), "cylinder-served-once")
    assert verdict.outcome == "advisory"
    assert (verdict.value, verdict.limit, verdict.margin) == (3, 4, -1)


def test_single_probe_and_unknown_cylinder(judged):
    [single] = judged(probes(2), "cylinder-served-once")
    assert single.outcome == "meets"
    [unknown] = judged(probes(2, "unknown"), "cylinder-served-once")
    assert unknown.outcome == "undetermined"


def test_gauge_and_monitor_may_share_a_cylinder(judged):
    text = probes(1, 2, 3, 4, kind="bayonet", measures="head temperature")
    text += "  gauge probe: {kind: bayonet, measures: head temperature, cylinder: 3, zone: engine, required: yes}\n"
    assert [v.outcome for v in judged(text, "cylinder-served-once")] == ["meets", "meets"]


CHANNEL = """
zones: {{engine: {{}}}}
engines: {{engine: {{cylinders: 4}}}}
probes: {{head: {{kind: bayonet, measures: head temperature, cylinder: {cylinder}, zone: engine}}}}
indicators: {{monitor: {{measures: head temperature, principle: electronic thermocouple, inputs: {{CHT 3: {{terminals: [a, b], cylinders: [3]}}}}}}}}
wire_runs: {{P: {{from: head.+, to: monitor.a}}, N: {{from: head.-, to: monitor.b}}}}
"""


def test_channel_reads_its_own_cylinder(judged):
    [verdict] = judged(CHANNEL.format(cylinder=3), "probe-under-its-number")
    assert verdict.outcome == "meets"
    [verdict] = judged(CHANNEL.format(cylinder=4), "probe-under-its-number")
    assert verdict.outcome == "discrepancy"
    assert "monitor CHT 3 is cylinder 3, but reads head on cylinder 4 by P and N" in verdict.message
    assert verdict.at == ("monitor", "head", "P", "N")


def test_selector_position_is_a_cylinder(judged):
    text = """
zones: {engine: {}}
engines: {engine: {cylinders: 4}}
probes:
  a: {kind: exhaust clamp, measures: exhaust temperature, cylinder: 1, zone: engine}
  b: {kind: exhaust clamp, measures: exhaust temperature, cylinder: 3, zone: engine}
indicators: {gauge: {measures: exhaust temperature, principle: electronic thermocouple, terminals: ['+', '-']}}
junctions: {selector: {kind: selector switch, selected: '1', terminals: [common +, common -, 1 +, 1 -, 2 +, 2 -]}}
wire_runs:
  A: {from: a.+, to: selector.1 +}
  B: {from: a.-, to: selector.1 -}
  C: {from: b.+, to: selector.2 +}
  D: {from: b.-, to: selector.2 -}
  E: {from: selector.common +, to: gauge.+}
  F: {from: selector.common -, to: gauge.-}
"""
    right, wrong = judged(text, "probe-under-its-number")
    assert right.outcome == "meets"
    assert wrong.outcome == "discrepancy"
    assert "position 2 of gauge is cylinder 2, but reads b on cylinder 3" in wrong.message


def test_head_probes_of_two_kinds(judged):
    text = probes(1, 2, kind="bayonet", measures="head temperature")
    [verdict] = judged(text, "head-probes-alike")
    assert verdict.outcome == "meets"
    read = "indicators: {g: {measures: head temperature, principle: electronic thermocouple, inputs: {A: {terminals: [a, b]}, B: {terminals: [c, d]}}}}\n"
    read += "wire_runs: {W: {from: p0.+, to: g.a}, X: {from: p0.-, to: g.b}, Y: {from: p1.+, to: g.c}, Z: {from: p1.-, to: g.d}}\n"
    mixed = text.replace("p1: {kind: bayonet", "p1: {kind: gasket ring 14 mm") + read
    [verdict] = judged(mixed, "head-probes-alike")
    assert verdict.outcome == "advisory"
    assert "p0 at the well and p1 at the gasket ring" in verdict.message
    [verdict] = judged(mixed.replace("gasket ring 14 mm", "unknown"), "head-probes-alike")
    assert verdict.outcome == "undetermined"
