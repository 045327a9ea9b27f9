import pytest

HEAD = "zones: {cabin: {occupied: yes}}\n"


def one(verdicts, ident):
    return next(v for v in verdicts if v.at[0] == ident)


GAUGE = """
zones: {cabin: {occupied: yes}}
senders: {bulb: {principle: resistance bulb, terminals: [A, B], zone: cabin}}
indicators: {gauge: {principle: bridge, terminals: [A, B], supply_terminals: [power, ground], zone: cabin}}
supplies: {bus: {kind: bus}}
grounds: {airframe: {kind: structure}}
wire_runs:
  W1: {from: bulb.A, to: gauge.A}
  W2: {from: bulb.B, to: gauge.B}
  W3: {from: bus, to: gauge.power}
"""


def test_every_terminal_wired(judged):
    verdicts = judged(GAUGE + "  W4: {from: gauge.ground, to: airframe}", "terminals-connected")
    assert {v.outcome for v in verdicts} == {"meets"}


def test_ground_left_open(judged):
    verdict = one(judged(GAUGE, "terminals-connected"), "gauge")
    assert (verdict.outcome, verdict.remedy) == ("discrepancy", "wire ground")


def test_ground_through_the_case_counts(judged):
    text = GAUGE.replace("ground], zone: cabin", "ground], zone: cabin, grounding: {to: airframe}")
    assert one(judged(text, "terminals-connected"), "gauge").outcome == "meets"


def test_gauge_with_its_supply_and_no_signal(judged):
    text = GAUGE.replace("  W1: {from: bulb.A, to: gauge.A}\n  W2: {from: bulb.B, to: gauge.B}\n", "")
    verdicts = judged(text + "  W4: {from: gauge.ground, to: airframe}", "terminals-connected")
    found = one(verdicts, "gauge")
    assert (found.outcome, found.remedy) == ("discrepancy", "wire A and B to its sender")
    assert one(verdicts, "bulb").outcome == "advisory"


def test_gauge_with_no_wire_at_all_is_told(judged):
    text = GAUGE[: GAUGE.index("wire_runs")]
    assert one(judged(text, "terminals-connected"), "gauge").outcome == "discrepancy"


@pytest.mark.parametrize(
    ("runs", "outcome"),
    [
        (["shunt.sense +, to: meter.+", "shunt.sense -, to: meter.-"], "meets"),
        (["shunt.sense +, to: meter.+"], "discrepancy"),
        ([], "advisory"),
    ],
)
def test_shunt_with_one_sense_wire(judged, runs, outcome):
    text = """
zones: {cabin: {occupied: yes}}
supplies: {battery: {kind: battery}, bus: {kind: bus}}
indicators: {meter: {terminals: ['+', '-']}}
junctions: {shunt: {kind: shunt}}
wire_runs:
  P1: {from: battery.+, to: shunt.in}
  P2: {from: shunt.out, to: bus}
"""
    text += "".join(f"  S{i}: {{from: {r}}}\n" for i, r in enumerate(runs))
    assert one(judged(text, "terminals-connected"), "shunt").outcome == outcome


def test_half_wired_bulb(judged):
    verdict = one(
        judged(GAUGE.replace("  W2: {from: bulb.B, to: gauge.B}\n", ""), "terminals-connected"), "bulb"
    )
    assert verdict.outcome == "discrepancy"


JOINT = """
zones: {{cabin: {{occupied: yes}}}}
loads: {{lamp: {{connected_at: bus}}, other: {{connected_at: bus, terminals: [A, B]}}}}
supplies: {{bus: {{kind: bus}}}}
junctions: {{J: {{{joint}}}}}
wire_runs:
{runs}
"""


@pytest.mark.parametrize(
    ("joint", "runs", "outcome"),
    [
        ("kind: splice", ["bus, to: J"], "discrepancy"),
        ("kind: splice", ["bus, to: J", "J, to: other.A"], "meets"),
        ("kind: terminal block, terminals: ['1', '2']", ["bus, to: J.1", "J.1, to: other.A"], "advisory"),
        ("kind: terminal block, terminals: ['1', '2']", ["bus, to: J.1", "J.2, to: other.A"], "discrepancy"),
        (
            "kind: terminal block, terminals: ['1', '2'], pins: {'2': {spare: yes}}",
            ["bus, to: J.1", "J.1, to: other.A"],
            "meets",
        ),
    ],
)
def test_joints(judged, joint, runs, outcome):
    wires = "\n".join(f"  W{i}: {{from: {run}}}" for i, run in enumerate(runs))
    verdicts = judged(JOINT.format(joint=joint, runs=wires), "terminals-connected")
    assert one(verdicts, "J").outcome == outcome


REMOVED = """
zones: {{cabin: {{occupied: yes}}}}
supplies: {{bus: {{kind: bus}}}}
loads: {{lamp: {{terminals: ['+']}}}}
wire_runs: {{W1: {{from: bus, to: lamp.+, status: removed{state}}}}}
removed: {{old: {{kind: wire{left}}}, panel: {{kind: instrument}}}}
"""


def test_ends_of_removed_wires(judged):
    first, second = judged(
        REMOVED.format(state=", connected_to: capped", left=", left: tied back"), "removed-ends"
    )
    assert (first.outcome, second.outcome) == ("meets", "meets")
    first, second = judged(
        REMOVED.format(state=", connected_to: left open", left=", left: open"), "removed-ends"
    )
    assert (first.outcome, second.outcome) == ("discrepancy", "discrepancy")
    assert first.path == ("wire_runs", "W1", "connected_to")
    first, second = judged(REMOVED.format(state="", left=""), "removed-ends")
    assert (first.outcome, second.outcome) == ("undetermined", "undetermined")


PLUG = """
zones: {cabin: {occupied: yes}}
probes: {probe: {thermocouple: K}}
loads: {lamp: {connected_at: bus}}
supplies: {bus: {kind: bus}}
junctions:
  P: {kind: plug, terminals: ['1', '2']%s}
  R: {kind: plug, terminals: ['1', '2']}
wire_runs:
  W1: {from: %s, to: P.1}
  W2: {from: %s, to: P.2}
"""


def test_signal_that_ends_in_a_plug_without_a_mate(judged):
    signal = ("probe.+", "probe.-")
    told = one(judged(PLUG % ("", *signal), "terminals-connected"), "P")
    assert (told.outcome, told.missing) == (
        "undetermined",
        ("plug or receptacle that the plug joins ('mates')",),
    )
    assert one(judged(PLUG % (", mates: R", *signal), "terminals-connected"), "P").outcome == "meets"
    # a socket for external power meets its plug on the ground only
    assert one(judged(PLUG % ("", "bus", "bus"), "terminals-connected"), "P").outcome == "meets"


@pytest.mark.parametrize(
    ("state", "outcome"),
    [("", "discrepancy"), (", connected_to: left open", "discrepancy"), (", connected_to: capped", "meets")],
)
def test_wire_that_stays_when_what_it_fed_is_taken_out(judged, state, outcome):
    text = f"""
zones: {{cabin: {{occupied: yes}}}}
supplies: {{bus: {{kind: bus}}}}
loads: {{lamp: {{terminals: ['+', '-'], status: removed}}}}
wire_runs: {{W1: {{from: bus, to: lamp.+{state}}}}}
"""
    [verdict] = judged(text, "removed-ends")
    assert (verdict.outcome, verdict.at) == (outcome, ("W1", "lamp"))
