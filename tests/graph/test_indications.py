"""Each input followed back to what it reads: which leg ends where, by which way."""

from itertools import pairwise

from installcheck.document import loads
from installcheck.graph import Graph, Indication, Unread, build, indications
from installcheck.graph.indications import measure_of, source_of
from installcheck.graph.ways import ground_path

HEAD = "installation: {name: test}\n"


def graph(text: str) -> Graph:
    return build(loads(HEAD + text).installation)


def followed(text: str) -> tuple[list[Indication], list[Unread]]:
    return indications(graph(text))


def legs(one: Indication) -> dict[str, tuple[str, list[str]]]:
    """Where each leg ends, and the runs, joints and grounds it passes."""
    return {leg.terminal: (leg.reaches, [s.edge.ident for s in leg.steps]) for leg in one.legs}


TWO = (
    "senders: {bulb: {principle: resistance bulb, measures: oil temperature, terminals: [A, B]}}\n"
    "indicators: {gauge: {principle: ratio meter, terminals: [A, B]}}\nwire_runs:\n"
)


def test_two_wires_in_order():
    [one], unread = followed(TWO + "  W1: {from: bulb.A, to: gauge.A}\n  W2: {from: gauge.B, to: bulb.B}\n")
    assert (one.indicator, one.input, one.section, one.source) == ("gauge", "", "senders", "bulb")
    assert legs(one) == {"A": ("bulb.A", ["W1"]), "B": ("bulb.B", ["W2"])}
    assert (one.name, one.path, one.position, one.averaged) == ("gauge", ("indicators", "gauge"), None, False)
    assert unread == []
    step = one.leg_to("bulb.A").steps[0]
    assert (step.near, step.far) == ("gauge.A", "bulb.A")
    assert one.leg_to("bulb.C") is None


def test_two_wires_swapped():
    [one], _ = followed(TWO + "  W1: {from: bulb.B, to: gauge.A}\n  W2: {from: gauge.B, to: bulb.A}\n")
    assert legs(one) == {"A": ("bulb.B", ["W1"]), "B": ("bulb.A", ["W2"])}


def test_one_leg_missing():
    [one], _ = followed(TWO + "  W1: {from: bulb.A, to: gauge.A}\n")
    assert legs(one) == {"A": ("bulb.A", ["W1"])}


def test_nothing_read():
    found, [one] = followed(TWO + "  W1: {from: bulb.A, to: bulb.B}\n")
    assert found == []
    assert (one.indicator, one.input, one.open_terminals, one.path) == (
        "gauge",
        "",
        ("A", "B"),
        ("indicators", "gauge"),
    )


def test_what_is_removed_is_not_read():
    found, unread = followed(
        TWO.replace("terminals: [A, B]}}\nwire", "terminals: [A, B], status: removed}}\nwire")
        + "  W1: {from: bulb.A, to: gauge.A}\n"
    )
    assert (found, unread) == ([], [])


def test_direct_gauges_have_no_legs():
    assert followed("indicators: {g: {principle: direct pressure, ports: [P]}}") == ([], [])


def test_three_wire_bulb_keeps_its_leads_apart():
    [one], _ = followed(
        "senders: {bulb: {principle: resistance bulb, terminals: [A, B, C]}}\n"
        "indicators: {g: {principle: bridge, terminals: [A, B, C]}}\n"
        "wire_runs: {W1: {conductors: {A: {from: bulb.A, to: g.A}, B: {from: bulb.C, to: g.B}, C: {from: bulb.B, to: g.C}}}}\n"
    )
    assert {t: end for t, (end, _) in legs(one).items()} == {"A": "bulb.A", "B": "bulb.C", "C": "bulb.B"}
    assert [leg.steps[0].edge.name for leg in one.legs] == ["A", "B", "C"]


def test_joint_by_joint_through_splice_block_plug_and_spool():
    [one], _ = followed(
        TWO
        + "  W1: {from: bulb.A, to: splice}\n  W2: {from: splice, to: block.3}\n  W3: {from: block.3, to: P.1}\n"
        "  W4: {from: R.1, to: spool.in}\n  W5: {from: spool.out, to: gauge.A}\n  W6: {from: bulb.B, to: gauge.B}\n"
        "junctions:\n  splice: {kind: splice}\n  block: {kind: terminal block}\n  P: {kind: plug, mates: R}\n"
        "  R: {kind: plug}\n  spool: {kind: spool, resistance: 0.6 ohm}\n"
    )
    assert legs(one)["A"] == ("bulb.A", ["W5", "spool", "W4", "P", "W3", "W2", "W1"])
    ways = [(s.near, s.far) for s in one.legs[0].steps]
    assert ways[0][0] == "gauge.A"
    assert all(a[1] == b[0] for a, b in pairwise(ways))


PROBES = (
    "probes: {p1: {thermocouple: K, measures: head temperature}, p2: {thermocouple: K}}\n"
    "indicators: {gauge: {principle: moving-coil thermocouple, terminals: [+, -]}}\n"
)


def test_selector_gives_each_probe_its_position():
    found, _ = followed(
        PROBES
        + "junctions: {sel: {kind: selector switch, selected: '2', terminals: [common +, common -, 1 +, 1 -, 2 +, 2 -]}}\n"
        "wire_runs:\n"
        "  T1: {conductors: {+: {from: p1.+, to: sel.1 +}, -: {from: p1.-, to: sel.1 -}}}\n"
        "  T2: {conductors: {+: {from: p2.+, to: sel.2 +}, -: {from: p2.-, to: sel.2 -}}}\n"
        "  T3: {conductors: {+: {from: sel.common +, to: gauge.+}, -: {from: sel.common -, to: gauge.-}}}\n"
    )
    assert [(i.source, i.position, i.averaged) for i in found] == [("p1", "1", False), ("p2", "2", False)]
    assert legs(found[0]) == {"+": ("p1.+", ["T3", "sel", "T1"]), "-": ("p1.-", ["T3", "sel", "T1"])}


def test_selector_of_one_pole_with_a_common_return():
    found, _ = followed(
        "senders: {left: {terminals: [S], case_return: yes, grounding: {to: frame}},"
        " right: {terminals: [S], case_return: yes, grounding: {to: frame}}}\n"
        "grounds: {frame: {kind: structure}}\n"
        "indicators: {qty: {terminals: [S], supply_terminals: [P, G]}}\n"
        "junctions: {sel: {kind: selector switch, terminals: [common, left, right]}}\n"
        "wire_runs: {W1: {from: left.S, to: sel.left}, W2: {from: right.S, to: sel.right}, W3: {from: sel.common, to: qty.S},"
        " W4: {from: qty.G, to: frame}}\n"
    )
    assert [(i.source, i.position) for i in found] == [("left", "left"), ("right", "right")]
    assert legs(found[1]) == {"S": ("right.S", ["W3", "sel", "W2"]), "G": ("right.case", ["W4", "right"])}


def test_averaged_probes():
    found, _ = followed(
        PROBES + "junctions: {avg: {kind: averaging block, terminals: [out +, out -, 1 +, 1 -, 2 +, 2 -]}}\n"
        "wire_runs:\n"
        "  T1: {conductors: {+: {from: p1.+, to: avg.1 +}, -: {from: p1.-, to: avg.1 -}}}\n"
        "  T2: {conductors: {+: {from: p2.+, to: avg.2 +}, -: {from: p2.-, to: avg.2 -}}}\n"
        "  T3: {conductors: {+: {from: avg.out +, to: gauge.+}, -: {from: avg.out -, to: gauge.-}}}\n"
    )
    assert [(i.source, i.averaged, i.position) for i in found] == [("p1", True, None), ("p2", True, None)]
    assert legs(found[1])["+"] == ("p2.+", ["T3", "avg", "T2"])


def test_probes_in_parallel_at_a_splice_are_averaged():
    found, _ = followed(
        PROBES
        + "junctions: {s: {kind: splice}}\nwire_runs: {W1: {from: p1.+, to: s}, W2: {from: p2.+, to: s}, W3: {from: s, to: gauge.+}}\n"
    )
    assert [(i.source, i.averaged) for i in found] == [("p1", True), ("p2", True)]


def test_one_probe_is_no_average():
    [one], _ = followed(
        PROBES + "wire_runs: {W1: {from: p1.+, to: gauge.-}, W2: {from: p1.-, to: gauge.+}}\n"
    )
    assert not one.averaged
    assert legs(one) == {"+": ("p1.-", ["W2"]), "-": ("p1.+", ["W1"])}


ONE_WIRE = (
    "senders: {s: {principle: resistive, terminals: [S], case_return: yes, grounding: {to: case, through: thread}}}\n"
    "indicators: {g: {terminals: [S], supply_terminals: [P, G]}}\n"
    "grounds:\n  frame: {kind: structure}\n  case: {kind: engine case}\n"
)


def test_one_wire_sender_returns_through_ground():
    [one], _ = followed(
        ONE_WIRE
        + "  strap: {kind: strap, from: case, to: frame}\n"
        + "wire_runs: {W1: {from: s.S, to: g.S}, W2: {from: g.G, to: frame}}\n"
    )
    assert legs(one) == {"S": ("s.S", ["W1"]), "G": ("s.case", ["W2", "strap", "s"])}
    assert [leg.through_ground for leg in one.legs] == [False, True]
    ways = [(s.near, s.far) for s in one.legs[1].steps]
    assert ways == [("g.G", "frame"), ("frame", "case"), ("case", "s.case")]


def test_a_missing_strap_is_a_missing_leg():
    [one], _ = followed(ONE_WIRE + "wire_runs: {W1: {from: s.S, to: g.S}, W2: {from: g.G, to: frame}}\n")
    assert list(legs(one)) == ["S"]


def test_a_wire_can_be_the_strap():
    [one], _ = followed(
        ONE_WIRE
        + "wire_runs: {W1: {from: s.S, to: g.S}, W2: {from: g.G, to: frame}, W3: {from: case, to: frame}}\n"
    )
    assert legs(one)["G"] == ("s.case", ["W2", "W3", "s"])


def test_a_case_wired_home_is_a_leg_of_its_own():
    [one], _ = followed(
        "senders: {s: {terminals: [S], case_return: yes}}\nindicators: {g: {terminals: [S], supply_terminals: [P, G]}}\n"
        "wire_runs: {W1: {from: s.S, to: g.S}, W2: {from: s.case, to: g.G}}\n"
    )
    assert legs(one) == {"S": ("s.S", ["W1"]), "G": ("s.case", ["W2"])}


def test_a_gauge_that_grounds_by_its_case():
    [one], _ = followed(
        ONE_WIRE.replace("supply_terminals: [P, G]", "grounding: {to: frame}")
        + "  strap: {kind: strap, from: case, to: frame}\nwire_runs: {W1: {from: s.S, to: g.S}}\n"
    )
    assert legs(one) == {"S": ("s.S", ["W1"]), "case": ("s.case", ["g", "strap", "s"])}


def test_a_return_terminal_wired_to_ground_is_a_leg():
    [one], _ = followed(
        "senders: {t: {principle: pressure transducer, terminals: [+, out, -], grounding: {to: frame}}}\n"
        "indicators: {g: {principle: voltage, terminals: [in], supply_terminals: [P, G]}}\n"
        "grounds: {frame: {kind: structure}}\nsupplies: {bus: {kind: bus}, cb: {kind: breaker}}\n"
        "wire_runs:\n  W1: {from: t.out, to: g.in}\n  W2: {from: t.-, to: frame}\n  W3: {from: g.G, to: frame}\n"
        "  W4: {from: bus, to: cb.in}\n  W5: {from: cb.out, to: t.+}\n  W6: {from: cb.out, to: g.P}\n"
    )
    # its body is grounded too, but is not one of its terminals
    assert legs(one) == {"in": ("t.out", ["W1"]), "G": ("t.-", ["W3", "W2"])}


def test_a_grounded_junction_gives_the_other_way_home():
    [one], _ = followed(
        "probes: {p: {thermocouple: K, junction: grounded, grounding: {to: frame}}}\n"
        "indicators: {g: {terminals: [+, -]}}\ngrounds: {frame: {kind: structure}}\n"
        "wire_runs: {W1: {from: p.+, to: g.+}, W2: {from: g.-, to: frame}}\n"
    )
    assert legs(one)["-"] == ("p.case", ["W2", "p"])


def test_the_shortest_way_between_two_studs():
    g = graph(
        "grounds:\n  frame: {kind: structure}\n  a: {kind: stud, joins: frame}\n  b: {kind: stud, joins: frame}\n"
        "  c: {kind: stud, joins: b}\n  far: {kind: stud}\n  direct: {kind: strap, from: a, to: c}\n"
        "loads: {x: {}, y: {}, z: {}}\n"
        "wire_runs: {W1: {from: x.-, to: a}, W2: {from: y.-, to: c}, W3: {from: y.+, to: a}, W4: {from: z.-, to: far}}\n"
    )
    assert [s.edge.ident for s in ground_path(g, "x.-", "y.-")] == ["W1", "direct", "W2"]
    assert [s.edge.ident for s in ground_path(g, "x.-", "y.+")] == ["W1", "W3"]
    assert ground_path(g, "x.-", "z.-") is None
    assert ground_path(g, "x.-", "z.+") is None


def test_an_indicator_of_many_inputs():
    text = (
        "senders: {oil: {terminals: [A, B], measures: oil temperature}}\nprobes: {head: {measures: head temperature}}\n"
        "indicators:\n  m:\n    inputs:\n      oil: {terminals: [1, 2]}\n      head: {terminals: [3, 4], measures: exhaust temperature}\n"
        "      spare: {terminals: [5, 6]}\n"
        "wire_runs: {W1: {from: oil.A, to: m.1}, W2: {from: oil.B, to: m.2}, W3: {from: head.+, to: m.3}}\n"
    )
    g = graph(text)
    found, [spare] = indications(g)
    assert [(i.name, i.source, i.path) for i in found] == [
        ("m oil", "oil", ("indicators", "m", "inputs", "oil")),
        ("m head", "head", ("indicators", "m", "inputs", "head")),
    ]
    assert spare.path == ("indicators", "m", "inputs", "spare")
    assert source_of(g, found[0]) is g.model.senders["oil"]
    assert [measure_of(g, i) for i in found] == ["oil temperature", "exhaust temperature"]


def test_synchro_leads_in_and_out_of_order():
    text = (
        "senders: {s: {principle: synchro transmitter}}\n"
        "indicators: {g: {principle: synchro receiver, terminals: [S1, S2, S3, R1, R2]}}\n"
        "wire_runs: {W1: {conductors: {a: {from: s.S1, to: g.S2}, b: {from: s.S2, to: g.S1}, c: {from: s.S3, to: g.S3},"
        " d: {from: s.R1, to: g.R1}, e: {from: s.R2, to: g.R2}}}}\n"
    )
    [one], _ = followed(text)
    assert {t: end for t, (end, _) in legs(one).items()} == {"S1": "s.S2", "S2": "s.S1", "S3": "s.S3"}


def test_three_phase_tachometer():
    [one], _ = followed(
        "senders: {gen: {principle: tachometer generator}}\n"
        "indicators: {t: {principle: synchronous tachometer, terminals: [A, B, C]}}\n"
        "wire_runs: {W: {conductors: {x: {from: gen.1, to: t.B}, y: {from: gen.2, to: t.C}, z: {from: gen.3, to: t.A}}}}\n"
    )
    assert {t: end for t, (end, _) in legs(one).items()} == {"A": "gen.3", "B": "gen.1", "C": "gen.2"}


def test_two_gauges_on_one_sender():
    found, _ = followed(
        "senders: {s: {terminals: [A, B]}}\nindicators: {one: {terminals: [A, B]}, two: {terminals: [A, B]}}\n"
        "wire_runs: {W1: {from: s.A, to: one.A}, W2: {from: one.A, to: two.A}, W3: {from: s.A, to: two.A}, W4: {from: s.B, to: two.B}}\n"
    )
    assert [(i.indicator, legs(i)) for i in found] == [
        ("one", {"A": ("s.A", ["W1"])}),
        ("two", {"A": ("s.A", ["W3"]), "B": ("s.B", ["W4"])}),
    ]


def test_a_signal_does_not_pass_a_breaker_a_load_or_another_gauge():
    found, _ = followed(
        "senders: {s: {terminals: [A, B]}}\nindicators: {one: {terminals: [A, B]}, two: {terminals: [A, B]}}\n"
        "supplies: {cb: {kind: breaker}}\nloads: {lamp: {}}\n"
        "wire_runs: {W1: {from: s.A, to: cb.in}, W2: {from: cb.out, to: one.A}, W3: {from: s.B, to: lamp.+}, W4: {from: lamp.-, to: one.B}}\n"
    )
    assert found == []


def test_shifted_pins_read_another_probe():
    found, _ = followed(
        "probes: {p1: {}, p2: {}}\nindicators: {m: {inputs: {one: {terminals: [1+, 1-]}, two: {terminals: [2+, 2-]}}}}\n"
        "junctions:\n  P: {kind: plug, mates: R, terminals: [a, b, c, d, e], cavities: {b: c, c: d, d: e, e: ~}}\n"
        "  R: {kind: plug, terminals: [a, b, c, d, e]}\nwire_runs:\n"
        "  W1: {from: p1.+, to: P.a}\n  W2: {from: p1.-, to: P.b}\n  W3: {from: p2.+, to: P.c}\n  W4: {from: p2.-, to: P.d}\n"
        "  W5: {from: R.a, to: m.1+}\n  W6: {from: R.b, to: m.1-}\n  W7: {from: R.c, to: m.2+}\n  W8: {from: R.d, to: m.2-}\n"
    )
    # cavity b is empty: each wire behind it sits one further on
    assert [(i.input, i.source, {t: e for t, (e, _) in legs(i).items()}) for i in found] == [
        ("one", "p1", {"1+": "p1.+"}),
        ("two", "p1", {"2+": "p1.-"}),
        ("two", "p2", {"2-": "p2.+"}),
    ]
    assert not any(i.averaged for i in found)
