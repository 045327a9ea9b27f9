"""The graph of things with many legs, in small documents whose nodes and edges are counted by hand."""

import pytest

from installcheck.document import loads
from installcheck.graph import Graph, build, total_length, zone_lengths

HEAD = "installation: {name: test}\n"


def graph(text: str) -> Graph:
    return build(loads(HEAD + text).installation)


def joined(of: Graph, ident: str) -> set[tuple[str, str, str]]:
    """Kind and ends of the edges a thing adds, without its id where it is its own."""
    return {
        (e.kind, e.a.removeprefix(f"{ident}."), e.b.removeprefix(f"{ident}."))
        for e in of.edges
        if e.ident == ident
    }


def test_three_wire_bulb():
    g = graph(
        "senders: {bulb: {principle: resistance bulb, terminals: [A, B, C], zone: bay}}\nzones: {bay: {}}\n"
    )
    assert joined(g, "bulb") == {("element", "A", "B"), ("joint", "B", "C")}
    assert g.nodes["bulb.A"] == {"section": "senders", "ident": "bulb", "terminal": "A", "zone": "bay"}
    assert next(e for e in g.edges if e.kind == "joint").resistance == 0


@pytest.mark.parametrize(
    ("spec", "edges"),
    [
        ("principle: resistive, terminals: [S, G]", {("element", "S", "G")}),
        ("principle: resistive, terminals: [S], case_return: yes", {("element", "S", "case")}),
        ("principle: resistive", set()),
        (
            "principle: pressure transducer, terminals: [+, out, -]",
            {("load", "+", "-"), ("element", "out", "-")},
        ),
        ("principle: pressure transducer, terminals: [+, -]", {("element", "+", "-")}),
        ("principle: pulse pick-up, terminals: [+, out, -]", {("load", "+", "-"), ("element", "out", "-")}),
        (
            "principle: tachometer generator",
            {("winding", "1", "star"), ("winding", "2", "star"), ("winding", "3", "star")},
        ),
        (
            "principle: synchro transmitter",
            {
                ("winding", "S1", "star"),
                ("winding", "S2", "star"),
                ("winding", "S3", "star"),
                ("winding", "R1", "R2"),
            },
        ),
    ],
)
def test_senders(spec, edges):
    assert joined(graph(f"senders: {{s: {{{spec}}}}}"), "s") == edges


def test_windings_between_two_leads_are_two_in_series():
    g = graph("senders: {s: {principle: tachometer generator, winding_resistance: 30 ohm}}")
    assert [e.resistance for e in g.edges] == [15.0, 15.0, 15.0]


@pytest.mark.parametrize(
    ("spec", "edges"),
    [
        ("principle: moving-coil thermocouple, terminals: [+, -]", {("coil", "+", "-")}),
        (
            "principle: electronic resistance, terminals: [S], supply_terminals: [P, G]",
            {("coil", "S", "G"), ("load", "P", "G")},
        ),
        (
            "principle: synchro receiver, terminals: [S1, S2, S3, R1, R2]",
            {
                ("winding", "S1", "star"),
                ("winding", "S2", "star"),
                ("winding", "S3", "star"),
                ("winding", "R1", "R2"),
            },
        ),
    ],
)
def test_indicators(spec, edges):
    assert joined(graph(f"indicators: {{g: {{{spec}}}}}"), "g") == edges


def test_inputs_of_one_indicator_have_their_own_coils():
    g = graph(
        "indicators: {m: {supply_terminals: [P, G], inputs: {oil: {terminals: [A, B], inner_resistance: 50 ohm},"
        " fuel: {terminals: [C]}}}}"
    )
    assert {(e.kind, e.name, e.a, e.b) for e in g.edges} == {
        ("coil", "oil", "m.A", "m.B"),
        ("coil", "fuel", "m.C", "m.G"),
        ("load", "supply", "m.P", "m.G"),
    }


def test_thermocouple_pair_by_its_legs():
    g = graph(
        "probes: {head: {thermocouple: K}}\nindicators: {gauge: {terminals: [+, -]}}\n"
        "wire_runs:\n  T1:\n    part: thermocouple lead K\n    gauge: 20 AWG\n    length: 9 ft\n    conductors:\n"
        "      +: {from: head.+, to: gauge.+}\n      -: {from: head.-, to: gauge.-, metal: copper, colour: white}\n"
    )
    plus, minus = (e for e in g.edges if e.kind == "conductor")
    assert (plus.a, plus.b, plus.metal, plus.label) == ("head.+", "gauge.+", "chromel", "T1 +")
    assert (minus.a, minus.b, minus.metal, minus.colour) == ("head.-", "gauge.-", "copper", "white")
    assert plus.path == ("wire_runs", "T1", "conductors", "+")
    assert plus.run is minus.run
    assert total_length(plus.run) == pytest.approx(9 * 0.3048)
    assert g.by_thing["wire_runs", "T1"] == [plus, minus]


def test_probe_that_is_grounded_by_its_junction():
    grounds = "grounds: {{engine: {{kind: engine case}}}}\n"
    text = grounds + "probes: {{p: {{junction: {}, grounding: {{to: engine, through: thread}}}}}}"
    assert joined(graph(text.format("grounded")), "p") == {
        ("couple", "+", "-"),
        ("joint", "-", "case"),
        ("bond", "case", "engine"),
    }
    assert ("joint", "-", "case") not in joined(graph(text.format("isolated")), "p")


def test_probe_of_one_terminal_returns_by_its_case():
    assert joined(graph("probes: {p: {terminals: [S]}}"), "p") == {("couple", "S", "case")}


SHIELD = (
    "senders: {{s: {{terminals: [A, B]}}}}\nindicators: {{g: {{terminals: [A, B]}}}}\n"
    "grounds: {{frame: {{kind: structure}}, case: {{kind: engine case}}}}\n"
    "wire_runs:\n  W1: {{from: s.A, to: g.A, shield: {{{}}}}}\n"
)


def test_shield_is_a_conductor_where_both_its_ends_are_joined():
    g = graph(SHIELD.format("from: case, to: frame"))
    assert joined(g, "W1") == {("conductor", "s.A", "g.A"), ("shield", "case", "frame")}


@pytest.mark.parametrize("ends", ["from: open, to: frame", "to: frame", "from: case, to: unknown"])
def test_shield_with_a_loose_end_joins_nothing(ends):
    assert joined(graph(SHIELD.format(ends)), "W1") == {("conductor", "s.A", "g.A")}


def test_synchro_pair_of_five_wires():
    ends = ", ".join(f"{w}: {{from: s.{w}, to: g.{w}}}" for w in ("S1", "S2", "S3", "R1", "R2"))
    g = graph(
        "senders: {s: {principle: synchro transmitter}}\n"
        "indicators: {g: {principle: synchro receiver, terminals: [S1, S2, S3, R1, R2]}}\n"
        f"wire_runs: {{W1: {{conductors: {{{ends}}}}}}}\n"
    )
    assert len([e for e in g.edges if e.kind == "conductor"]) == 5
    assert len([e for e in g.edges if e.kind == "winding"]) == 8


def test_two_wires_between_the_same_terminals_are_two_edges():
    g = graph(
        "supplies: {bus: {kind: bus}, c: {kind: contactor}}\n"
        "wire_runs: {W1: {from: c.out, to: bus}, W2: {from: c.out, to: bus.A}}\n"
    )
    assert [e.other("c.out") for e in g.at("c.out")].count("bus") == 2
    assert joined(g, "c") == {("contact", "in", "out"), ("load", "coil +", "coil -")}


def test_splices_studs_buses_and_taps_are_one_point():
    g = graph(
        "junctions: {splice: {kind: splice}, stud: {kind: stud}}\nsupplies: {bus: {kind: bus}}\ntaps: {t: {medium: oil}}\n"
        "grounds: {frame: {kind: structure}}\n"
        "wire_runs: {W1: {from: splice.1, to: stud.2}, W2: {from: splice.3, to: bus.x}, W3: {from: stud, to: frame.y}}\n"
    )
    assert set(g.nodes) == {"splice", "stud", "bus", "t", "frame"}


def test_terminal_block_joins_what_ends_at_one_screw():
    g = graph(
        "junctions: {block: {kind: terminal block}}\nloads: {a: {}, b: {}}\n"
        "wire_runs: {W1: {from: a.+, to: block.1}, W2: {from: b.+, to: block.1}, W3: {from: b.-, to: block.2}}\n"
    )
    assert {e.ident for e in g.at("block.1")} == {"W1", "W2"}
    assert {e.ident for e in g.at("block.2")} == {"W3"}


PINS = "junctions:\n  P: {{kind: plug, mates: R{}}}\n  R: {{kind: plug{}}}\n"
WIRES = (
    "loads: {a: {}, b: {}}\nwire_runs:\n"
    "  W1: {from: a.+, to: P.1}\n  W2: {from: a.-, to: P.2}\n  W3: {from: b.+, to: R.1}\n  W4: {from: b.-, to: R.2}\n"
)


@pytest.mark.parametrize(
    ("plug", "receptacle", "met"),
    [
        (", terminals: ['1', '2']", ", terminals: ['1', '2']", {("P.1", "R.1"), ("P.2", "R.2")}),
        (", terminals: ['1', '2']", "", {("P.1", "R.1"), ("P.2", "R.2")}),
        ("", ", terminals: ['1', '2']", {("P.1", "R.1"), ("P.2", "R.2")}),
        ("", "", {("P.1", "R.1"), ("P.2", "R.2")}),
        (", terminals: ['1', '2']", ", terminals: ['1', '2'], mates: P", {("P.1", "R.1"), ("P.2", "R.2")}),
        ("", ", mates: P, cavities: {'1': '2', '2': '1'}", {("R.1", "P.2"), ("R.2", "P.1")}),
        (", cavities: {'1': '2', '2': ~}", "", {("P.1", "R.2")}),
        (", cavities: {'1': '2', '2': unknown}", "", {("P.1", "R.2")}),
        (", pins: {'1': {metal: copper}, '2': {}}", ", terminals: ['1']", {("P.1", "R.1")}),
    ],
)
def test_plugs_meet_pin_by_pin_and_once(plug, receptacle, met):
    text = WIRES if "['1']" not in receptacle else WIRES.replace("  W4: {from: b.-, to: R.2}\n", "")
    g = graph(PINS.format(plug, receptacle) + text)
    assert sorted((e.a, e.b) for e in g.edges if e.kind == "joint") == sorted(met)


def test_one_empty_cavity_shifts_the_five_behind_it():
    pins = [str(n) for n in range(1, 9)]
    # cavity 3 is empty: what belongs in 3 to 7 sits in 4 to 8, and what belongs in 8 is left over
    moved = ", ".join(f"'{n}': '{n + 1}'" for n in range(3, 8))
    g = graph(
        f"junctions:\n  P: {{kind: plug, terminals: {pins}, mates: R, cavities: {{{moved}, '8': ~}}}}\n"
        f"  R: {{kind: plug, terminals: {pins}}}\n"
    )
    assert {(e.a, e.b) for e in g.edges} == {
        ("P.1", "R.1"),
        ("P.2", "R.2"),
        ("P.3", "R.4"),
        ("P.4", "R.5"),
        ("P.5", "R.6"),
        ("P.6", "R.7"),
        ("P.7", "R.8"),
    }
    assert not list(g.at("R.3"))


def test_selector_of_two_poles():
    g = graph(
        "junctions: {sel: {kind: selector switch, selected: '2', contact_resistance: 10 milliohm,"
        " terminals: [common +, common -, 1 +, 1 -, 2 +, 2 -]}}"
    )
    assert {(e.a, e.b, e.name, e.closed) for e in g.edges} == {
        ("sel.common +", "sel.1 +", "1", False),
        ("sel.common -", "sel.1 -", "1", False),
        ("sel.common +", "sel.2 +", "2", True),
        ("sel.common -", "sel.2 -", "2", True),
    }
    assert {e.resistance for e in g.edges} == {0.01}


def test_selector_of_one_pole():
    g = graph(
        "junctions: {sel: {kind: selector switch, selected: left tank, terminals: [common, left tank, right tank]}}"
    )
    assert {(e.a, e.b, e.name, e.closed) for e in g.edges} == {
        ("sel.common", "sel.left tank", "left tank", True),
        ("sel.common", "sel.right tank", "right tank", False),
    }


def test_averaging_block():
    g = graph("junctions: {avg: {kind: averaging block, terminals: [out +, out -, 1 +, 1 -, 2 +, 2 -]}}")
    assert joined(g, "avg") == {
        ("joint", "out +", "1 +"),
        ("joint", "out -", "1 -"),
        ("joint", "out +", "2 +"),
        ("joint", "out -", "2 -"),
    }


def test_shunt_and_spool():
    g = graph(
        "junctions: {sh: {kind: shunt, resistance: 1 milliohm}, sp: {kind: spool, terminals: [a, b], resistance: 0.6 ohm}}"
    )
    assert joined(g, "sh") == {
        ("spool", "in", "out"),
        ("joint", "in", "sense +"),
        ("joint", "out", "sense -"),
    }
    assert joined(g, "sp") == {("spool", "a", "b")}
    assert g.by_thing["junctions", "sp"][0].resistance == 0.6


def test_supplies():
    g = graph(
        "supplies: {bat: {kind: battery, inner_resistance: 10 milliohm}, cb: {kind: breaker}, bus: {kind: bus},"
        " alt: {kind: alternator, terminals: [B, E]}}"
    )
    assert {(e.kind, e.a, e.b, e.resistance) for e in g.edges} == {
        ("supply", "bat.+", "bat.-", 0.01),
        ("contact", "cb.in", "cb.out", None),
        ("supply", "alt.B", "alt.E", None),
    }


def test_grounds_straps_and_cases():
    g = graph(
        "grounds:\n  frame: {kind: structure}\n  case: {kind: engine case}\n"
        "  stud: {kind: stud, joins: frame, resistance: 1 milliohm}\n"
        "  strap: {kind: strap, from: case, to: stud, resistance: 5 milliohm}\n"
        "senders: {s: {terminals: [S], case_return: yes, grounding: {to: case, resistance: 0.1 ohm}}}\n"
    )
    assert {(e.ident, e.a, e.b, e.resistance) for e in g.edges if e.kind == "bond"} == {
        ("stud", "stud", "frame", 0.001),
        ("strap", "case", "stud", 0.005),
        ("s", "s.case", "case", 0.1),
    }
    assert g.is_ground("stud")
    assert not g.is_ground("s.case")
    assert {n: {e.ident for e in es} for n, es in g.ground_links.items()} == {
        "frame": {"stud"},
        "stud": {"stud", "strap"},
        "case": {"strap"},
    }


@pytest.mark.parametrize(
    ("ports", "ends"),
    [
        ("ports: [in, out, side]", ("t.in", "t.out", "t.side")),
        ("", ("t.in", "t.out", "t.side")),
        ("", ("t.x", "t.y", "t.z")),
        ("", ("t", "t", "t")),
        ("", ("t.run", "t", "t.side")),
    ],
)
def test_every_port_of_a_tee_is_reached(ports, ends):
    g = graph(
        f"taps: {{a: {{medium: fuel}}}}\nfittings: {{t: {{kind: tee, {ports}}}, x: {{kind: cap, ports: [P]}}, y: {{kind: cap, ports: [P]}}}}\n"
        f"fluid_lines: {{L1: {{from: a, to: {ends[0]}}}, L2: {{from: {ends[1]}, to: x.P}}, L3: {{from: {ends[2]}, to: y.P}}}}\n"
    )
    assert any({"a", "x.P"} <= group for group in g.fluid.groups())
    assert any({"a", "y.P"} <= group for group in g.fluid.groups())


@pytest.mark.parametrize(
    ("fitting", "edges"),
    [
        ("kind: cock, position: closed", {("in", "out", False)}),
        ("kind: cock, position: open", {("in", "out", True)}),
        ("kind: restrictor", {("in", "out", True)}),
        ("kind: check valve, ports: [a, b], flow: [b, a]", {("b", "a", True)}),
        ("kind: cap, ports: [a, b]", set()),
        ("ports: [a, b]", {("a", "b", True)}),
        ("kind: elbow, ports: [a]", set()),
    ],
)
def test_ways_through_fittings(fitting, edges):
    g = graph(f"fittings: {{f: {{{fitting}}}}}")
    assert {(e.a[2:], e.b[2:], e.closed) for e in g.edges} == edges


def test_removed_things_and_what_hangs_on_them_are_left_out():
    g = graph(
        "supplies: {bus: {kind: bus}}\nloads: {blower: {status: removed}, lamp: {}}\ngrounds: {frame: {kind: structure},"
        " old: {kind: stud, joins: frame, status: removed}}\n"
        "wire_runs:\n  W1: {from: bus, to: blower.+}\n  W2: {from: lamp.-, to: old}\n"
        "  W3: {from: bus, to: lamp.+, status: removed}\n  W4: {from: bus, to: lamp.+}\n"
        "  W5: {conductors: {a: {from: lamp.-, to: frame}, b: {from: blower.-, to: frame}}}\n"
        "fittings: {e: {kind: elbow, ports: [A, B], status: removed}, u: {kind: union, ports: [A, B]}}\n"
        "fluid_lines: {L1: {from: e.A, to: u.A}}\n"
    )
    assert {(e.ident, e.name) for e in g.edges} == {("W4", ""), ("W5", "a"), ("lamp", ""), ("u", "")}
    assert "blower.+" not in g.nodes
    assert "old" not in g.nodes


def test_views_hold_what_carries_current_and_what_carries_fluid():
    g = graph(
        "taps: {t: {medium: oil}}\nsupplies: {bus: {kind: bus}, cb: {kind: fuse}}\nfittings: {r: {kind: restrictor}}\n"
        "wire_runs: {W1: {from: bus, to: cb.in}}\nfluid_lines: {L1: {from: t, to: r.in}}\n"
    )
    assert {e.ident for node in g.circuit for e in g.circuit.at(node)} == {"W1", "cb"}
    assert {e.ident for node in g.fluid for e in g.fluid.at(node)} == {"L1", "r"}


ROUTE = (
    "zones: {bay: {}, cabin: {}, panel: {}}\n"
    "barriers: {firewall: {between: [bay, cabin]}, shroud: {between: [cabin, panel]}, floor: {between: [bay, panel]}}\n"
    "loads: {a: {}, b: {}}\nfittings: {g: {kind: bulkhead fitting}}\nwire_runs:\n  W1: {from: a.+, to: b.+, route: "
)


def test_zone_view_tells_what_crosses_each_barrier():
    g = graph(
        ROUTE
        + "[{zone: bay, length: 3 ft}, {barrier: firewall, through: grommet, fitting: g}, {zone: cabin, length: 2 ft},"
        " {zone: cabin, length: 1 ft}, {barrier: shroud}, {zone: panel, length: 6 in}]}\n"
    )
    [one] = g.crossings["firewall"]
    assert (one.ident, one.before, one.after, one.through, one.fitting, one.path) == (
        "W1",
        "bay",
        "cabin",
        "grommet",
        "g",
        ("wire_runs", "W1", "route", 1),
    )
    assert [(c.before, c.after) for c in g.crossings["shroud"]] == [("cabin", "panel")]
    assert g.crossings["floor"] == []
    run = g.model.wire_runs["W1"]
    # 3 ft, 2 ft, 1 ft and 6 in, at 0.3048 m a foot
    zones, lengths = zip(*zone_lengths(run), strict=True)
    assert zones == ("bay", "cabin", "cabin", "panel")
    assert lengths == pytest.approx((0.9144, 0.6096, 0.3048, 0.1524))
    assert total_length(run) == pytest.approx(1.9812)


@pytest.mark.parametrize(
    ("route", "metres"),
    [
        ("[{zone: bay, length: 3 ft}, {zone: cabin}]}", None),
        ("[{zone: bay, length: 3 ft}, {zone: cabin}], length: 5 ft}", 1.524),
        ("[{barrier: firewall}], length: 5 ft}", 1.524),
        ("[]}", None),
    ],
)
def test_lengths_with_a_gap(route, metres):
    run = graph(ROUTE + route + "\n").model.wire_runs["W1"]
    assert zone_lengths(run) is None
    assert total_length(run) == (pytest.approx(metres) if metres else None)


def test_ends_stand_for_nodes():
    g = graph("loads: {a: {}}\nsenders: {s: {}}\nsupplies: {bus: {kind: bus}}\n")
    assert g.node_of("a.+") == "a.+"
    assert g.node_of("s") == "s"
    assert g.node_of("s.X") == "s.X"
    assert g.node_of("bus.7") == "bus"
    with pytest.raises(KeyError):
        g.node_of("nothing.+")
    assert list(g.at("nothing")) == []
    assert g.zone_of("nothing") is None


def test_an_end_without_a_terminal_of_a_thing_that_names_none():
    g = graph("senders: {s: {}}\nindicators: {i: {terminals: [A]}}\nwire_runs: {W1: {from: s, to: i}}\n")
    [wire] = g.edges
    assert (wire.a, wire.b) == ("s", "i.A")
    assert g.nodes["s"]["section"] == "senders"
