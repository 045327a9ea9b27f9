"""What people need to say of an installation can be said: one small document for each subject and each given case."""

import pytest

from installcheck.document import Document, DocumentError, loads
from installcheck.graph import Graph, build, indications, total_length, zone_lengths

HEAD = "installation: {name: test}\n"


def said(text: str) -> Document:
    return loads(text if "installation:" in text else HEAD + text)


def graph(document: Document) -> Graph:
    return build(document.installation)


ZONES = """\
zones:
  engine bay: {fire_zone: yes, temperature: {lowest: -20 degF, normal: 180 degF, highest: 250 degF}}
  cabin: {occupied: yes, temperature: {lowest: 0 degF, highest: 110 degF}}
barriers: {firewall: {between: [engine bay, cabin], kind: firewall, fireproof: yes, material: stainless steel}}
"""


def test_zones_temperatures_and_the_face_of_a_barrier():
    model = said(
        ZONES + "junctions:\n  block: {kind: terminal block, zone: engine bay, side: engine side}\n"
        "  plug: {kind: plug, zone: cabin, side: cabin side, temperature: {lowest: 60 degF, highest: 90 degF}}\n"
    ).installation
    assert model.zones["engine bay"].temperature.highest.text == "250 degF"
    assert [j.side for j in model.junctions.values()] == ["engine side", "cabin side"]


def test_metal_polarity_and_colour_of_each_leg_of_each_segment():
    g = graph(
        said(
            "installation: {name: test, thermocouple_colours: US}\n"
            + ZONES
            + "probes: {p: {thermocouple: K, zone: engine bay}}\n"
            "indicators: {g: {terminals: [+, -], thermocouple: K, zone: cabin}}\n"
            "junctions:\n  joint +: {kind: splice, zone: engine bay}\n  joint -: {kind: splice, zone: cabin}\n"
            "wire_runs:\n"
            "  T1: {part: extension lead K, gauge: 20 AWG, thermocouple_colours: IEC, conductors: {+: {from: p.+, to: joint +,"
            " colour: green}, -: {from: p.-, to: joint -, colour: white}}}\n"
            "  T2: {gauge: 22 AWG, metal: copper, conductors: {+: {from: joint +, to: g.+}, -: {from: joint -, to: g.-, metal:"
            " alumel}}}\n"
        )
    )
    legs = {e.label: (e.metal, e.colour) for e in g.edges if e.kind == "conductor"}
    assert legs["T1 +"] == ("chromel", "green")
    assert (legs["T2 +"], legs["T2 -"]) == (("copper", None), ("alumel", None))
    assert (g.zone_of("joint +"), g.zone_of("joint -")) == ("engine bay", "cabin")
    assert g.model.wire_runs["T1"].thermocouple_colours == "IEC"


def test_joints_with_kind_stack_place_and_resistance():
    document = said(
        ZONES
        + "junctions:\n  stud: {kind: stud, zone: cabin, stud: 1/4 in, max_stack: 4, contact_resistance: unknown,"
        " stack: [flat washer, lug of W1, lug of W2, lock washer, nut]}\n"
        "  splice: {kind: splice, zone: engine bay, crimped: yes, contact_resistance: 2 milliohm, distance_from_end: 14 in}\n"
    )
    assert document.installation.junctions["stud"].stack[1] == "lug of W1"
    assert document.declared_unknown(("junctions", "stud", "contact_resistance"))
    assert document.installation.junctions["splice"].spec.contact_resistance == 0.002


def test_indicator_inputs():
    model = said(
        "indicators:\n  m:\n    supply_terminals: [P, G]\n    inputs:\n"
        "      oil: {principle: electronic resistance, terminals: [A, B], excitation: 5 V, pull_up: 1 kohm, ratiometric: yes,"
        " open_shows: 59 degF}\n"
        "      cht: {principle: moving-coil thermocouple, terminals: [C, D], inner_resistance: 6 ohm, loop_resistance: 2 ohm,"
        " loop_tolerance: 0.05 ohm, compensation: at its terminals, input_grounding: common negative}\n"
        "      rpm: {principle: pulse counter, terminals: [E], pulses_per_revolution: 4, max_pulse_rate: 500 Hz, open_shows:"
        " nothing}\n"
    ).installation
    inputs = model.indicators["m"].spec.inputs
    assert inputs["oil"].open_shows.text == "59 degF"
    assert inputs["cht"].loop_resistance == 2
    assert (inputs["rpm"].max_pulse_rate, inputs["rpm"].open_shows) == (500, "nothing")


def test_sender_curve_and_the_way_of_its_body_to_ground():
    model = said(
        "grounds:\n  case: {kind: engine case}\n"
        "  adapter: {kind: stud, joins: case, through: painted bolts, resistance: unknown}\n"
        "senders:\n  s: {principle: thermistor, terminals: [S], case_return: yes, stations: 1, tolerance: 4 degF,"
        " curve: {points: [[100 degF, 450 ohm], [200 degF, 64.3 ohm], [300 degF, 14.96 ohm]]},"
        " grounding: {to: adapter, through: sealed thread, resistance: unknown}}\n"
    ).installation
    sender = model.senders["s"]
    assert sender.spec.curve.points[0][1] > sender.spec.curve.points[-1][1]
    assert (sender.grounding.through, sender.grounding.resistance) == ("sealed thread", None)
    assert model.grounds["adapter"].through == "painted bolts"


def test_ground_network_and_loads_by_switch_state():
    document = said(
        "grounds:\n  airframe: {kind: structure, material: aluminium alloy}\n  panel bus: {kind: bus, joins: airframe, resistance: 0.2 milliohm}\n"
        "  engine case: {kind: engine case}\n  strap: {kind: strap, from: engine case, to: airframe, gauge: 4 AWG, length: 10 in,"
        " resistance: 5 milliohm}\n"
        "supplies: {master: {kind: switch}}\nloads: {landing light: {current: 8 A, duty: intermittent}}\n"
        "operating_points:\n  night: {loads_on: [landing light]}\n  day: {loads_on: []}\n  failed: {open_switches: [master]}\n"
    )
    g = graph(document)
    assert set(g.ground_links) == {"airframe", "panel bus", "engine case"}
    points = document.installation.operating_points
    assert (points["night"].loads_on, points["day"].loads_on) == (["landing light"], [])


RUN = "loads: {a: {}, b: {}}\nwire_runs:\n  W1: {from: a.+, to: b.+, "


def test_bundles_clamps_and_what_is_near():
    model = said(
        "bundles: {loom: {wires: 12, load_share: 40 %, support_spacing: 12 in, supported_by: cushioned clamps}}\n"
        + RUN
        + "bundle: loom, slack: 3 in, clearances: [{to: ignition lead 3, kind: ignition lead, distance: 2 in, along: 14 in},"
        " {to: number 2 aerial, kind: aerial lead, distance: 6 in, position: crossing}, {to: edge, kind: structure edge,"
        " distance: 1/4 in, guarded: yes}]}\n"
    ).installation
    near = model.wire_runs["W1"].clearances
    assert [(c.kind, c.along is not None) for c in near] == [
        ("ignition lead", True),
        ("aerial lead", False),
        ("structure edge", False),
    ]


def test_shield_as_a_conductor_with_two_ends():
    text = (
        "grounds: {frame: {kind: structure}, case: {kind: engine case}}\n"
        + RUN
        + "part: shielded cable 1 core, gauge: 22 AWG, shield: {from: %s, to: frame}}\n"
    )
    assert [e.kind for e in graph(said(text % "case")).edges if e.ident == "W1"] == ["conductor", "shield"]
    assert said(text % "open").installation.wire_runs["W1"].shield.from_ == "open"


def test_source_protector_and_load():
    model = said(
        ZONES
        + "supplies:\n  alternator: {kind: alternator, voltage: 14.2 V, rated_current: 60 A}\n  bus: {kind: bus}\n"
        "  breaker: {kind: breaker, rating: 5 A, distance_from_source: 8 in}\n"
        "loads: {pump: {current: 4 A, duty: intermittent, on_time: 30 s, min_voltage: 11 V}}\n"
        "wire_runs:\n  W1: {part: AS22759/16, gauge: 18 AWG, from: bus, to: breaker.in, free_air: yes, length: 8 in}\n"
        "  W2: {part: AS22759/16, gauge: 18 AWG, from: breaker.out, to: pump.+, length: 9 ft, duty: intermittent}\n"
    ).installation
    assert model.supplies["breaker"].distance_from_source.text == "8 in"
    assert model.wire_runs["W1"].free_air


def test_cavities_of_both_mates_and_what_a_pin_is_for():
    model = said(
        "junctions:\n  P1: {kind: plug, mates: J1, contact_size: '20', cavities: {A: B},"
        " pins: {A: {function: rotor, metal: copper}, B: {function: stator S1}, C: {spare: yes}}}\n"
        "  J1: {kind: plug, terminals: [A, B, C]}\n"
        "senders: {t: {principle: synchro transmitter}, gen: {principle: tachometer generator, terminals: [A, B, C]}}\n"
    ).installation
    assert model.junctions["P1"].spec.pins["B"].function == "stator S1"


def test_fluid_lines():
    model = said(
        ZONES + "taps: {gallery: {medium: oil, pressure: 60 psi, thread: 1/8 pipe, zone: engine bay}}\n"
        "fittings:\n  restrictor: {kind: restrictor, bore: 0.040 in, material: steel, zone: engine bay}\n"
        "  through firewall: {kind: bulkhead fitting, ports: [in, out], barrier: firewall, fireproof: yes, ends: {in: 37 degree flare -4}}\n"
        "fluid_lines:\n  L1: {kind: hose, material: PTFE, from: gallery, to: restrictor.in, length: 4 in, sleeve: yes, fitted: 2019-05-01}\n"
        "  L2: {kind: tube, material: 304 stainless, outside_diameter: 1/4 in, wall: 0.028 in, medium: oil, end_form: 37 degree flare -4,"
        " from: restrictor.out, to: through firewall.in, support_spacing: 14 in, supported_by: cushioned clamps,"
        " route: [{zone: engine bay, length: 2 ft}, {barrier: firewall, fitting: through firewall}, {zone: cabin, length: 1 ft}]}\n"
    ).installation
    assert model.fluid_lines["L1"].fitted == "2019-05-01"
    assert [z for z, _ in zone_lengths(model.fluid_lines["L2"])] == ["engine bay", "cabin"]


def test_structure_and_crossing_hardware():
    g = graph(
        said(
            ZONES
            + RUN
            + "route: [{zone: engine bay, length: 3 ft}, {barrier: firewall, through: fireproof grommet, clearance: 1/4 in},"
            " {zone: cabin, length: 2 ft}]}\n"
        )
    )
    [crossing] = g.crossings["firewall"]
    assert (crossing.through, g.model.barriers["firewall"].material) == (
        "fireproof grommet",
        "stainless steel",
    )


def test_before_after_removed_dates_record_and_notices():
    model = said(
        "installation: {name: test, revision: B, date: 2026-05-01, replaces: before.yaml, drawn_by: a mechanic, drawing: '107'}\n"
        "indicators: {gauge: {status: new}, old: {status: removed}}\nloads: {a: {}}\n"
        "wire_runs: {W1: {from: old.+, to: a.+, status: removed, connected_to: capped}}\n"
        "removed: {capillary: {kind: instrument, ends: [port], left: blanked, weight: 1.2 lb, station: 14 in}}\n"
        "notices: [{number: 57-10, subject: flare at the firewall, at: gauge, state: open}, {number: 12, state: complied with,"
        " date: 2026-04-30, by: a mechanic, method: inspected}]\n"
    ).installation
    assert model.notices[0].at == ["gauge"]
    assert (model.notices[0].state, model.notices[1].date) == ("open", "2026-04-30")
    assert model.indicators["old"].status == "removed"


def test_measured_results_and_symptoms():
    model = said(
        "senders: {bulb: {terminals: [A, B]}, spare bulb: {terminals: [A, B]}}\n"
        "indicators: {m: {inputs: {oil: {terminals: [T1, T2]}}}}\nwire_runs: {W1: {from: bulb.A, to: m.T1}}\n"
        "measured:\n  - {between: [bulb.A, bulb.B], value: 95 ohm, at_temperature: 70 degF, date: 2026-05-01, connected: no}\n"
        "  - {of: W1, what: insulation, value: 20 Mohm}\n"
        "  - {of: m.oil, what: indication, value: 70 degF, true_value: 180 degF, as_expected: no}\n"
        "  - {of: m.oil, what: indication, value: 181 degF, swapped_for: spare bulb, as_expected: yes}\n"
    ).installation
    assert [m.as_expected for m in model.measured] == [None, None, False, True]
    assert model.measured[3].swapped_for == "spare bulb"


def test_cylinders_probe_and_log():
    model = said(
        "engines: {engine: {cylinders: 4, layout: opposed, numbered_from: accessory end, seats: {1: right rear}, head_reference: well}}\n"
        "probes: {head: {kind: gasket ring 18 mm, mount: lower plug, cylinder: 3, measures: head temperature},"
        " egt: {kind: exhaust clamp, mount: exhaust pipe, cylinder: 3, distance: 3 in, distance_tolerance: 1/8 in}}\n"
        "survey: {climb: {log: climb.csv, columns: {'head 1': E1 CHT1, time: Lcl Time}, unconnected: [E1 CHT5], probe_kind: bayonet}}\n"
    ).installation
    assert model.survey["climb"].columns["head 1"] == "E1 CHT1"
    assert model.probes["head"].cylinder == 3


@pytest.mark.parametrize(
    ("text", "path"),
    [
        ("zones: {z: {temperature: unknown, occupied: unknown}}", ("zones", "z", "temperature")),
        (
            "zones: {z: {temperature: {lowest: unknown, highest: 250 degF}}}",
            ("zones", "z", "temperature", "lowest"),
        ),
        ("senders: {s: {curve: unknown, terminals: unknown, zone: unknown}}", ("senders", "s", "zone")),
        ("taps: {t: {medium: oil, pressure: unknown}}", ("taps", "t", "pressure")),
        (RUN + "gauge: unknown, length: unknown, route: unknown}", ("wire_runs", "W1", "gauge")),
        (RUN + "metal: unknown}", ("wire_runs", "W1", "metal")),
        (
            "operating_points: {p: {readings: {oil pressure: unknown}}}",
            ("operating_points", "p", "readings", "oil pressure"),
        ),
        ("supplies: {b: {kind: unknown, rating: unknown}}", ("supplies", "b", "rating")),
        ("installation: {name: test, date: unknown, revision: unknown}", ("installation", "date")),
        ("aircraft: unknown", ("aircraft",)),
    ],
)
def test_unknown_anywhere(text, path):
    assert said(text).declared_unknown(path)


def test_c01_copper_used_to_lengthen_a_lead():
    g = graph(
        said(
            ZONES + "probes: {egt: {thermocouple: K, zone: engine bay}}\n"
            "indicators: {g: {principle: moving-coil thermocouple, terminals: [+, -], thermocouple: K, compensation: at its terminals, zone: cabin}}\n"
            "junctions: {s+: {kind: splice, zone: engine bay}, s-: {kind: splice, zone: engine bay}}\n"
            "wire_runs:\n  T1: {part: thermocouple lead K, gauge: 20 AWG, length: 6 ft, conductors: {+: {from: egt.+, to: s+}, -: {from: egt.-, to: s-}}}\n"
            "  W2: {part: AS22759/16, gauge: 22 AWG, from: s+, to: g.+, length: 1 ft}\n"
            "  W3: {part: AS22759/16, gauge: 22 AWG, from: s-, to: g.-, length: 1 ft}\n"
            "operating_points: {cruise: {zone_temperatures: {engine bay: 60 degC, cabin: 20 degC}, readings: {exhaust temperature: 760 degC}}}\n"
        )
    )
    [one], _ = indications(g)
    assert [[s.edge.metal for s in leg.steps] for leg in one.legs] == [
        ["tin-plated copper", "chromel"],
        ["tin-plated copper", "alumel"],
    ]


def test_c02_probe_of_one_type_on_an_indicator_of_another():
    [one], _ = indications(
        graph(
            said(
                "probes: {p: {thermocouple: K}}\nindicators: {m: {inputs: {egt 1: {thermocouple: E, terminals: [1+, 1-]}}}}\n"
                "wire_runs: {W: {conductors: {a: {from: p.+, to: m.1+}, b: {from: p.-, to: m.1-}}}}\n"
            )
        )
    )
    assert one.spec.thermocouple == "E"


def test_c03_painted_gasketed_adapter_as_return():
    g = graph(
        said(
            "grounds:\n  frame: {kind: structure}\n  case: {kind: engine case}\n"
            "  adapter: {kind: stud, joins: case, through: painted bolts, resistance: unknown}\n"
            "  strap: {kind: strap, from: case, to: frame, gauge: 4 AWG, resistance: 1 milliohm}\n"
            "senders: {s: {principle: thermistor, terminals: [S], case_return: yes, grounding: {to: adapter, through: thread}}}\n"
            "indicators: {g: {terminals: [S], supply_terminals: [P, G]}}\n"
            "wire_runs: {W1: {from: s.S, to: g.S}, W2: {from: g.G, to: frame}}\n"
        )
    )
    [one], _ = indications(g)
    assert [s.edge.ident for s in one.leg_to("s.case").steps] == ["W2", "strap", "adapter", "s"]


def test_c04_weak_strap_alternator_current_and_sender_return():
    model = said(
        "grounds: {frame: {kind: structure}, case: {kind: engine case}, strap: {kind: strap, from: case, to: frame, resistance: 5 milliohm}}\n"
        "supplies: {alternator: {kind: alternator, rated_current: 60 A}}\nloads: {charge: {current: 40 A}}\n"
        "indicators: {g: {principle: series meter, terminals: [S], excitation: 14 V, inner_resistance: 280 ohm}}\n"
        "wire_runs: {W1: {from: alternator.-, to: case}}\n"
    ).installation
    assert model.loads["charge"].spec.current == 40


def test_c05_an_open_circuit_that_shows_a_believable_temperature():
    model = said(
        "senders: {s: {terminals: [A, B]}}\nindicators: {m: {inputs: {oil: {terminals: [A, B], open_shows: 59 degF}}}}\n"
        "wire_runs: {W1: {from: s.A, to: m.A, support_spacing: 30 in}}\n"
    ).installation
    assert model.indicators["m"].spec.inputs["oil"].open_shows.kind == "temperature"


def test_c06_removing_a_wire_takes_the_ground_away():
    text = (
        "grounds: {frame: {kind: structure}}\nloads: {blower: {status: removed}, panel: {}}\n"
        "senders: {fuel: {terminals: [S], case_return: yes, max_current: 200 mA, grounding: {to: frame}}}\n"
        "junctions: {splice: {kind: splice}}\n"
        "wire_runs: {W1: {from: panel.-, to: splice}, W2: {from: splice, to: frame, status: removed}, W3: {from: blower.-, to: splice},"
        " W4: {from: splice, to: fuel.S}}\n"
    )
    g = graph(said(text))
    assert {e.ident for e in g.at("splice")} == {"W1", "W4"}


def test_c07_synchro_leads():
    ends = "S1: {from: t.S1, to: r.S2}, S2: {from: t.S2, to: r.S1}, S3: {from: t.S3, to: r.S3}, R1: {from: t.R1, to: r.R1}, R2: {from: t.R2, to: r.R2}"
    [one], _ = indications(
        graph(
            said(
                "senders: {t: {principle: synchro transmitter, excitation_voltage: 26 V, excitation_frequency: 400 Hz}}\n"
                "indicators: {r: {principle: synchro receiver, terminals: [S1, S2, S3, R1, R2]}}\n"
                f"wire_runs: {{W1: {{conductors: {{{ends}}}}}}}\n"
            )
        )
    )
    assert [leg.reaches for leg in one.legs] == ["t.S2", "t.S1", "t.S3"]


def test_c08_contactor_and_two_parallel_wires_without_a_protector():
    g = graph(
        said(
            "supplies: {bat: {kind: battery}, con: {kind: contactor, coil_current: 0.7 A}, bus: {kind: bus}, cb1: {kind: breaker, rating: 5 A}}\n"
            "wire_runs: {W1: {part: AS22759/16, gauge: 12 AWG, from: con.out, to: bus, length: 3 ft},"
            " W2: {part: AS22759/16, gauge: 12 AWG, from: con.out, to: bus, length: 3 ft}, W3: {from: bat.+, to: con.in},"
            " W4: {from: bat.+, to: con.coil +}, W5: {from: bus, to: cb1.in}}\n"
        )
    )
    assert [e.other("con.out") for e in g.at("con.out")].count("bus") == 2
    assert {e.kind for e in g.by_thing["supplies", "con"]} == {"contact", "load"}


def test_c09_what_hangs_on_one_breaker():
    model = said(
        "aircraft: {required: [oil pressure]}\nindicators: {all in one: {required: yes}, oil: {backs_up: all in one}}\n"
        "supplies: {cb: {kind: breaker, rating: 5 A}}\n"
        "wire_runs: {W1: {from: cb.out, to: all in one.P}, W2: {from: cb.out, to: oil.P}}\n"
    ).installation
    assert model.indicators["oil"].backs_up == "all in one"


def test_c10_stacked_terminals():
    model = said(
        "grounds: {stud: {kind: stud, stud: 3/16 in, stack: [W1, W2, W3, W4, W5, nut]}}\n"
        "loads: {a: {}}\nwire_runs: {W1: {from: a.-, to: stud, current: 3 A, terminations: [{kind: spade}, {kind: ring, stud: 3/16 in, max_current: 10 A}]}}\n"
    ).installation
    assert len(model.grounds["stud"].stack) == 6
    assert model.wire_runs["W1"].terminations[1].max_current == 10


def test_c11_oil_line_and_its_restrictor():
    model = said(
        "engines: {e: {oil_quantity: 8 qt, oil_minimum: 2 qt}}\ntaps: {gallery: {medium: oil, pressure: 60 psi, grade: SAE 50, temperature: 180 degF}}\n"
        "fittings: {nipple: {kind: restrictor, bore: 0.098 in}}\nfluid_lines: {L1: {kind: hose, from: gallery, to: nipple.in, length: 1 in}}\n"
    ).installation
    assert model.fittings["nipple"].spec.bore == pytest.approx(0.098 * 0.0254)


def test_c12_line_strained_at_the_firewall():
    model = said(
        ZONES
        + "fittings: {f: {kind: bulkhead fitting, ports: [in, out], barrier: firewall}}\ntaps: {t: {medium: oil}}\n"
        "fluid_lines: {L1: {kind: tube, from: t, to: f.in, strained: yes, straight_at_fittings: 1/2 in, bends: 2, bend_radius: 1 in}}\n"
    ).installation
    assert model.fluid_lines["L1"].strained


def test_c13_manifold_gauge_with_the_engine_stopped():
    model = said(
        "indicators: {map: {principle: direct pressure, ports: [P], measures: manifold pressure}}\n"
        "fittings: {elbow: {kind: elbow, ports: [A, B], material: aluminium}}\n"
        "fluid_lines: {L1: {kind: tube, material: copper, from: elbow.A, to: map.P}}\n"
        "measured: [{of: map, what: engine-off indication, value: 16 inHg, true_value: 29.92 inHg}]\n"
    ).installation
    assert model.measured[0].value.text == "16 inHg"


def test_c14_hottest_cylinder():
    model = said(
        "engines: {e: {cylinders: 4, limits: {head temperature: {maximum: 500 degF}}}}\nprobes: {p: {cylinder: 2, measures: head temperature}}\n"
        "survey:\n  flown: {engine: e, stages: {climb: {temperatures: {1: 402 degF, 2: 431 degF, 3: 440 degF, 4: 439 degF}, outside_air: 70 degF}}}\n"
        "  logged: {log: flight.csv, columns: {head 1: CHT1}, unconnected: [CHT5, CHT6]}\n"
    ).installation
    assert model.survey["flown"].stages["climb"].temperatures[3].text == "440 degF"


def test_c15_exhaust_probes_at_unequal_distances():
    model = said(
        "engines: {e: {cylinders: 4, exhaust_probe_distance: 3 in, exhaust_probe_band: [2 in, 8 in]}}\n"
        "probes: {p1: {cylinder: 1, distance: 2.65 in, distance_tolerance: 0.07 in}, p2: {cylinder: 2, distance: 3.5 in}}\n"
    ).installation
    assert model.probes["p1"].distance_tolerance.text == "0.07 in"


def test_c16_one_empty_cavity():
    document = said(
        "probes: {c1: {}, c2: {}}\nindicators: {m: {inputs: {cht 1: {terminals: [1+, 1-]}, cht 2: {terminals: [2+, 2-]}}}}\n"
        "junctions:\n  P: {kind: plug, mates: J, terminals: ['1', '2', '3', '4'], cavities: {'2': '3', '3': '4', '4': ~}}\n"
        "  J: {kind: plug, terminals: ['1', '2', '3', '4']}\n"
        "wire_runs: {W1: {conductors: {+: {from: c1.+, to: P.1}, -: {from: c1.-, to: P.2}}}}\n"
        "measured: [{of: m.cht 1, what: indication, value: 70 degF, as_expected: no}]\n"
    )
    met = {(e.a, e.b) for e in graph(document).edges if e.kind == "joint"}
    assert met == {("P.1", "J.1"), ("P.2", "J.3"), ("P.3", "J.4")}


def test_c17_length_with_and_without_its_return():
    model = said(
        "grounds: {frame: {kind: structure}}\nsupplies: {bus: {kind: bus}}\nloads: {l: {current: 20 A, duty: continuous}}\n"
        "aircraft: {system_voltage: 28 V}\nwire_runs:\n  out: {part: AS22759/16, gauge: 8 AWG, from: bus, to: l.+, length: 40 ft}\n"
        "  back: {part: AS22759/16, gauge: 8 AWG, from: l.-, to: frame, length: 10 ft}\n"
    ).installation
    # 50 ft including the ground wire, at 0.3048 m a foot
    assert sum(total_length(r) for r in model.wire_runs.values()) == pytest.approx(15.24)


def test_c18_terminal_block_in_the_engine_bay_with_matched_wire_both_sides():
    g = graph(
        said(
            ZONES + "aircraft: {field_elevation: 0 ft}\nprobes: {p: {thermocouple: K, zone: engine bay}}\n"
            "indicators: {g: {terminals: [+, -], thermocouple: K, zone: cabin}}\n"
            "junctions: {block: {kind: terminal block, zone: engine bay, isothermal: yes, terminals: ['1', '2'], metal: brass}}\n"
            "wire_runs:\n  T1: {part: thermocouple lead K, gauge: 20 AWG, conductors: {+: {from: p.+, to: block.1}, -: {from: p.-, to: block.2}}}\n"
            "  T2: {part: extension lead K, gauge: 20 AWG, conductors: {+: {from: block.1, to: g.+}, -: {from: block.2, to: g.-}}}\n"
        )
    )
    [one], _ = indications(g)
    assert [[s.edge.metal for s in leg.steps] for leg in one.legs] == [["chromel"] * 2, ["alumel"] * 2]


def test_what_a_magneto_a_coil_and_a_plug_are_called():
    model = said(
        "junctions:\n  m: {kind: mag, terminals: [P, 1]}\n  c: {kind: coil}\n  p: {kind: spark plug}\n"
        "wire_runs: {H: m.1 to p, C: c.lead to p}\n"
    ).installation
    assert [j.spec.kind for j in model.junctions.values()] == ["magneto", "ignition coil", "spark plug"]


@pytest.mark.parametrize("word", ["pipe", "its pipe", "hangs on its pipe"])
def test_a_sender_that_hangs_on_its_pipe(word):
    model = said(f"senders: {{s: {{ports: [P], measures: oil pressure, mounted_on: {word}}}}}\n").installation
    assert model.senders["s"].mounted_on == "pipe"


def test_what_stands_below_its_tap():
    model = said(
        "senders: {s: {ports: [P], elevation: -3 in}}\nindicators: {g: {ports: [P], elevation: -1 ft}}\n"
        "taps: {t: {medium: oil}}\nfluid_lines: {L: {from: t, to: s.P, rise: -3 in}}\n"
    ).installation
    # 3 in are 0.0762 m, 1 ft is 0.3048 m, by the definition of the inch
    assert model.senders["s"].elevation == pytest.approx(-0.0762)
    assert model.indicators["g"].elevation == pytest.approx(-0.3048)
    assert model.fluid_lines["L"].rise == pytest.approx(-0.0762)


def test_when_and_on_what_record_a_thing_was_fitted_and_what_covers_it():
    model = said(
        "supplies: {battery: {kind: battery, covered: yes, fitted: 2026-03-04, record: log page 41}}\n"
        "junctions: {strip: {kind: terminal block, covered: no}}\n"
        "grounds: {bulkhead: {kind: structure, material: conductive composite}}\n"
    ).installation
    battery = model.supplies["battery"]
    assert (battery.covered, battery.fitted, battery.record) == (True, "2026-03-04", "log page 41")
    assert model.junctions["strip"].covered is False
    assert model.grounds["bulkhead"].material == "conductive composite"


TWIN = "engines: {left: {cylinders: 6}, right: {cylinders: 6}}\n"


def test_what_the_engines_of_a_twin_share():
    model = said(TWIN + "indicators: {dual gauge: {engine: both, terminals: [A, B]}}\n").installation
    assert model.indicators["dual gauge"].engine == "both"
    assert model.engine_of(model.indicators["dual gauge"]) is None


def test_only_a_twin_shares():
    with pytest.raises(DocumentError, match="'both' is not an engine"):
        said("engines: {engine: {cylinders: 6}}\nindicators: {dual gauge: {engine: both}}\n")
