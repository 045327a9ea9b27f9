"""Two statements of one fact: each disagreement is told, and no verdict that rests on either meets."""

import pytest

from installcheck import check
from installcheck.analysis.statements.pairs import rounding
from installcheck.document import loads
from installcheck.model.quantities import parse

WAY = """
zones: {bay: {}, cabin: {}, tail: {}}
barriers: {wall: {between: [bay, cabin], kind: bulkhead}, frame: {between: [cabin, tail], kind: bulkhead}}
grounds: {airframe: {kind: structure, zone: cabin}}
senders: {bulb: {terminals: [A], zone: bay}}
indicators: {gauge: {terminals: [A], zone: %s}}
junctions: {plug: {kind: plug, terminals: ['1'], zone: bay, side: engine side}}
wire_runs: {W1: {from: %s, to: gauge.A, route: [%s]}}
"""
BAY, CABIN, TAIL = "{zone: bay, length: 1 ft}", "{zone: cabin, length: 3 ft}", "{zone: tail, length: 2 ft}"
WALL, FRAME = "{barrier: wall, through: grommet}", "{barrier: frame, through: grommet}"


@pytest.mark.parametrize(
    ("gauge", "start", "route", "said"),
    [
        ("cabin", "bulb.A", [BAY, WALL, CABIN], ""),
        ("cabin", "bulb.A", [CABIN, WALL, BAY], ""),
        ("tail", "bulb.A", [BAY, WALL, CABIN, FRAME, TAIL], ""),
        ("cabin", "airframe", [BAY, WALL, CABIN], ""),
        ("cabin", "plug.1", [WALL, CABIN], ""),
        ("cabin", "bulb.A", [BAY], "ends in the bay, and gauge is in the cabin"),
        ("cabin", "bulb.A", [CABIN], "begins in the cabin, and bulb is in the bay"),
        ("tail", "bulb.A", [BAY, WALL, FRAME, TAIL], "leaves out the cabin between the wall and the frame"),
        ("tail", "bulb.A", [BAY, WALL, TAIL], "passes the wall into the tail"),
        ("tail", "bulb.A", [BAY, FRAME, TAIL], "passes the frame from the bay"),
        (
            "cabin",
            "bulb.A",
            [WALL, CABIN],
            "begins at the wall and says nothing of its way in the bay to bulb",
        ),
        ("cabin", "bulb.A", [BAY, WALL, BAY], "is in the bay as before"),
    ],
)
def test_routes(judged, gauge, start, route, said):
    [verdict] = judged(WAY % (gauge, start, ", ".join(route)), "route-agrees")
    assert verdict.outcome == ("discrepancy" if said else "meets")
    assert said in verdict.message


def test_route_to_what_nobody_says_the_zone_of(judged):
    text = WAY % ("cabin", "bulb.A", ", ".join([BAY, WALL, CABIN]))
    [verdict] = judged(text.replace("zone: cabin}}\njunctions", "title: gauge}}\njunctions"), "route-agrees")
    assert (verdict.outcome, verdict.missing) == ("undetermined", ("zone of what the run or line ends at",))
    assert verdict.at == ("W1", "gauge")
    # what is wrong at its other end is told first
    wrong = WAY % ("cabin", "bulb.A", CABIN)
    [verdict] = judged(wrong.replace("zone: cabin}}\njunctions", "title: gauge}}\njunctions"), "route-agrees")
    assert "begins in the cabin, and bulb is in the bay" in verdict.message


def test_run_that_may_lie_in_a_full_bundle(judged):
    text = """
zones: {cabin: {}}
senders: {bulb: {terminals: [A, B, C], zone: cabin}}
indicators: {gauge: {terminals: [A, B, C], zone: cabin}}
bundles: {harness: {wires: %s}}
wire_runs:
  W1: {from: bulb.A, to: gauge.A, bundle: harness, route: [{zone: cabin, length: 1 ft}]}
  W2: {from: bulb.B, to: gauge.B, bundle: harness, route: [{zone: cabin, length: 1 ft}]}
  W3: {from: bulb.C, to: gauge.C, bundle: unknown, route: [{zone: cabin, length: 1 ft}]}
"""
    [verdict] = judged(text % 2, "bundle-agrees")
    assert (verdict.outcome, verdict.at, verdict.missing) == (
        "undetermined",
        ("harness", "W3"),
        ("bundle the run lies in",),
    )
    [verdict] = judged(text % 1, "bundle-agrees")
    assert verdict.outcome == "discrepancy"


OPEN = """
zones: {engine: {fire_zone: yes}, bay: {fire_zone: yes}, cabin: {occupied: yes}}
barriers: {firewall: {between: [bay, cabin], kind: firewall}}
senders: {bulb: {terminals: [A], zone: %s}}
indicators: {gauge: {terminals: [A], zone: cabin}}
wire_runs: {W1: {from: bulb.A, to: gauge.A, route: [%s, {barrier: firewall}, {zone: cabin, length: 3 ft}]}}
"""


@pytest.mark.parametrize(
    ("zone", "route", "outcome"),
    [
        ("engine", "{zone: engine, length: 1 ft}, {zone: bay, length: 1 ft}", "meets"),
        # no wall parts the engine from its bay: what sits between them is reached from either
        ("bay", "{zone: engine, length: 1 ft}, {zone: bay, length: 1 ft}", "advisory"),
        # but a route that never comes into the engine leaves out that part of its way
        ("engine", "{zone: bay, length: 1 ft}", "discrepancy"),
        ("cabin", "{zone: bay, length: 1 ft}", "discrepancy"),
    ],
)
def test_zones_that_are_open_to_each_other(judged, zone, route, outcome):
    [verdict] = judged(OPEN % (zone, route), "route-agrees")
    assert verdict.outcome == outcome


SKIPS = """
zones: {engine: {fire_zone: yes}, bay: {fire_zone: yes}, cabin: {occupied: yes}, tail: {occupied: yes}, shed: {}}
barriers: {firewall: {between: [bay, cabin], kind: firewall}}
senders: {bulb: {terminals: [A], zone: engine}}
indicators: {gauge: {terminals: [A], zone: %s}}
wire_runs: {W1: {from: bulb.A, to: gauge.A, route: [{zone: engine, length: 1 ft}, {zone: %s, length: 3 ft}]}}
"""


@pytest.mark.parametrize(
    ("zone", "said"),
    [
        ("cabin", "goes from the engine into the cabin and leaves out the bay and the firewall"),
        ("tail", "goes from the engine into the tail and leaves out the bay and the firewall and the cabin"),
        ("shed", ""),  # nothing tells how one comes there
        ("bay", ""),  # open to the engine
    ],
)
def test_a_route_that_skips_a_zone(judged, zone, said):
    [verdict] = judged(SKIPS % (zone, zone), "route-agrees")
    assert verdict.outcome == ("discrepancy" if said else "meets")
    assert said in verdict.message


@pytest.mark.parametrize(
    ("text", "allowed"),
    # half a unit of the last place: 0.5 ft is 152.4 mm, 0.05 in is 1.27 mm; a fraction is not rounded
    [("90 ft", 152.4), ("9.5 ft", 15.24), ("2 ft 6 in", 12.7), ("0.2 in", 1.27), ("1/4 in", 0.0)],
)
def test_rounding_of_a_written_figure(text, allowed):
    assert rounding(parse(text, "length")) * 1000 == pytest.approx(allowed)


LENGTH = """
zones: {bay: {}}
senders: {bulb: {terminals: [A], zone: bay}}
indicators: {gauge: {terminals: [A], zone: bay}}
wire_runs: {W1: {from: bulb.A, to: gauge.A, length: %s, route: [{zone: bay, length: 6 ft 4 in}, {zone: bay, length: 3 ft 10 in}]}}
"""


@pytest.mark.parametrize(
    ("length", "outcome"),
    # 122 in, each step within half an inch: 10 ft is written to half a foot, 10.0 ft to 0.6 in, and 122 - 120 is 2 in
    [
        ("122 in", "meets"),
        ("10 ft", "meets"),
        ("10.0 ft", "discrepancy"),
        ("110 in", "discrepancy"),
        ("134 in, slack: 12 in", "meets"),
        ("12 ft", "discrepancy"),
    ],
)
def test_lengths(judged, length, outcome):
    [verdict] = judged(LENGTH % length, "length-agrees")
    assert verdict.outcome == outcome


LOAD = "aircraft: {%s}\nsupplies: {bus: {kind: bus}}\nloads: {lamp: {connected_at: bus, current: %s, power: %s}}\n"


@pytest.mark.parametrize(
    ("system", "current", "power", "outcome"),
    [
        # 55/4 = 13.8 V; 14/20 = 0.7 V; 280/10 = 28 V, which a 14 V system never gives
        ("system_voltage: 14 V", "4 A", "55 W", "meets"),
        ("system_voltage: 14 V", "20 A", "14 W", "discrepancy"),
        ("system_voltage: 14 V", "10 A", "280 W", "discrepancy"),
        ("system_voltage: 28 V", "10 A", "280 W", "meets"),
        ("title: no voltage", "10 A", "280 W", "meets"),
    ],
)
def test_watts_and_amperes(judged, system, current, power, outcome):
    [verdict] = judged(LOAD % (system, current, power), "load-agrees")
    assert verdict.outcome == outcome


@pytest.mark.parametrize(
    ("size", "outcome"),
    # 0.25 - 2 x 0.035 = 0.18 in
    [
        ("wall: 0.035 in", "meets"),
        ("wall: 0.035 in, bore: 0.18 in", "meets"),
        ("wall: 0.035 in, bore: 0.21 in", "discrepancy"),
        ("wall: 0.2 in", "discrepancy"),
        ("bore: 0.25 in", "discrepancy"),
    ],
)
def test_tubes(judged, size, outcome):
    text = f"""
taps: {{gallery: {{medium: oil}}}}
indicators: {{gauge: {{principle: direct pressure, ports: [P]}}}}
fluid_lines: {{tube: {{from: gallery, to: gauge.P, outside_diameter: 0.25 in, {size}}}}}
"""
    [verdict] = judged(text, "tube-agrees")
    assert verdict.outcome == outcome


@pytest.mark.parametrize(
    ("limits", "wrong"),
    [
        ("minimum: 25 psi, normal_low: 60 psi, normal_high: 90 psi, maximum: 100 psi", ""),
        ("caution_low: 90 psi, caution_high: 100 psi, normal_low: 60 psi, normal_high: 90 psi", ""),
        ("minimum: 100 psi, maximum: 25 psi", "minimum (100 psi) is above maximum (25 psi)"),
        ("normal_low: 90 psi, normal_high: 60 psi", "normal low (90 psi) is above normal high (60 psi)"),
        ("normal_high: 110 psi, maximum: 100 psi", "normal high (110 psi) is above maximum (100 psi)"),
        ("minimum: 414 kPa, maximum: 60 psi", ""),
    ],
)
def test_limits(judged, limits, wrong):
    # 60 psi is 413.7 kPa: written to the kPa it is the same; 414 kPa is 60.04 psi
    [verdict] = judged(f"engines: {{engine: {{limits: {{oil pressure: {{{limits}}}}}}}}}", "limits-in-order")
    assert verdict.outcome == ("discrepancy" if wrong else "meets")
    assert wrong in verdict.message


RESTS = """
installation: {name: test}
zones: {bay: {temperature: {lowest: 0 degC, highest: 40 degC}}}
senders: {bulb: {principle: resistive, terminals: [A, B], zone: bay}}
indicators: {gauge: {principle: electronic resistance, terminals: [A, B], zone: bay}}
wire_runs:
  W1: {from: bulb.A, to: gauge.A, length: 20 in, route: [{zone: bay, length: %s}], marked: yes%s}
  W2: {from: bulb.B, to: gauge.B, length: 20 in, marked: yes}
"""


def rested(route, more=""):
    found = check(loads(RESTS % (route, more)), ("length-agrees", "wire-supports", "run-marked")).verdicts
    return {(v.rule, v.at[0]): v for v in found}


def test_what_rests_on_neither_of_two_lengths_stands():
    agreed = rested("20 in")
    assert {v.outcome.value for v in agreed.values()} == {"meets"}
    # held every 12 in and marked, W1 keeps both rules at any length; W2 has no part in it
    disputed = rested("90 in", ", support_spacing: 12 in, supported_by: cushioned clamps")
    assert disputed.pop(("length-agrees", "W1")).outcome == "discrepancy"
    assert {v.outcome.value for v in disputed.values()} == {"meets"}


def test_what_rests_on_either_of_two_lengths_does_not_meet():
    # the route's 23 in are within one span of 24 in, and so are the 20 in
    disputed = rested("23 in")
    held = disputed["wire-supports", "W1"]
    assert (held.outcome, held.value, held.missing) == (
        "undetermined",
        None,
        ("which of two statements that disagree is right",),
    )
    assert "W1 is 20 in long, and its route adds up to 23 in" in held.message
    assert disputed["wire-supports", "W2"].outcome == "meets"
    assert disputed["run-marked", "W1"].outcome == "meets"


@pytest.mark.parametrize(
    ("sender", "outcome"),
    [
        ("mounted_on: engine, grounding: {to: engine case, through: thread}", "meets"),
        ("mounted_on: engine, grounding: {to: stud, through: bolts}", "discrepancy"),
        ("mounted_on: firewall, grounding: {to: stud, through: bolts}", "meets"),
        ("mounted_on: airframe, grounding: {to: engine case, through: clamp}", "discrepancy"),
    ],
)
def test_carried_by_one_body_and_bolted_to_another(judged, sender, outcome):
    text = f"""
grounds: {{airframe: {{kind: structure}}, engine case: {{kind: engine case}}, stud: {{kind: stud, joins: airframe}}}}
senders: {{s: {{principle: resistive, terminals: [S], {sender}}}}}
"""
    [verdict] = judged(text, "place-agrees")
    assert verdict.outcome == outcome


def test_a_wire_may_ground_a_thing_on_another_body(judged):
    text = """
grounds: {airframe: {kind: structure}}
senders: {s: {principle: resistive, terminals: [S], mounted_on: engine, grounding: {to: airframe, through: wire}}}
"""
    assert judged(text, "place-agrees") == []


@pytest.mark.parametrize(
    ("thing", "outcome"),
    [
        ("engines: {engine: {exhaust_probe_band: [2 in, 4 in]}}", "meets"),
        ("engines: {engine: {exhaust_probe_band: [4 in, 2 in]}}", "discrepancy"),
        ("indicators: {gauge: {markings: [{colour: green, lowest: 60 psi, highest: 90 psi}]}}", "meets"),
        (
            "indicators: {gauge: {markings: [{colour: green, lowest: 90 psi, highest: 60 psi}]}}",
            "discrepancy",
        ),
    ],
)
def test_bands_and_arcs(judged, thing, outcome):
    [verdict] = judged(thing, "limits-in-order")
    assert verdict.outcome == outcome


IN_LINE = """
zones: {bay: {fire_zone: no}, cabin: {occupied: yes}}
barriers: {wall: {between: [bay, cabin], kind: bulkhead}}
senders: {bulb: {terminals: [A, B], zone: bay}}
indicators: {gauge: {terminals: [A, B], zone: bay}}
junctions: {splice: {kind: splice, zone: bay}}
bundles: {harness: {wires: WIRES}}
wire_runs:
  W1: {from: bulb.A, to: splice, bundle: harness, route: [{zone: bay, length: 1 ft}]}
  W2: {from: splice, to: gauge.A, bundle: harness, route: [{zone: bay, length: 1 ft}]}
  W3: {from: bulb.B, to: gauge.B, bundle: harness, route: [{zone: bay, length: 2 ft}]}
"""


@pytest.mark.parametrize(("wires", "outcome"), [("2", "meets"), ("1", "discrepancy")])
def test_runs_that_follow_each_other_lie_side_by_side_once(judged, wires, outcome):
    # W1 and W2 are one way through the bay with a splice in it; W3 lies beside them: two wires
    [verdict] = judged(IN_LINE.replace("WIRES", wires), "bundle-agrees")
    assert verdict.outcome == outcome


CARRIED = """
zones: {bay: {VIBRATES}, cabin: {occupied: yes}}
barriers: {firewall: {between: [bay, cabin], kind: firewall}}
grounds: {airframe: {kind: structure}, case: {kind: engine case, zone: bay}}
senders: {sender: {zone: ZONE, mounted_on: engine, terminals: [A]}}
"""


@pytest.mark.parametrize(
    ("zone", "vibrates", "outcome"),
    [
        ("bay", "vibrates: yes", "meets"),
        ("cabin", "vibrates: yes", "discrepancy"),
        ("bay", "vibrates: no", "discrepancy"),
    ],
)
def test_what_the_engine_carries_is_where_the_engine_is(judged, zone, vibrates, outcome):
    [verdict] = judged(CARRIED.replace("ZONE", zone).replace("VIBRATES", vibrates), "place-agrees")
    assert verdict.outcome == outcome


STATE = """
aircraft: {ceiling: 14000 ft}
zones: {bay: {temperature: {lowest: -20 degC, highest: 90 degC}}}
engines: {engine: {limits: {oil pressure: {minimum: 25 psi, maximum: 100 psi}}}}
operating_points: {state: {phase: PHASE, altitude: ALTITUDE, zone_temperatures: {bay: BAY}, readings: {oil pressure: OIL}}}
"""


def state(phase="cruise", altitude="8000 ft", bay="60 degC", oil="75 psi"):
    words = {"PHASE": phase, "ALTITUDE": altitude, "BAY": bay, "OIL": oil}
    text = STATE
    for word, said in words.items():
        text = text.replace(word, said)
    return text


@pytest.mark.parametrize(
    ("more", "outcomes"),
    [
        ({}, ["meets", "meets", "meets"]),
        ({"altitude": "14000 ft"}, ["meets", "meets", "meets"]),
        ({"altitude": "20000 ft"}, ["discrepancy", "meets", "meets"]),
        ({"bay": "150 degC"}, ["meets", "discrepancy", "meets"]),
        ({"oil": "120 psi"}, ["meets", "meets", "advisory"]),
        ({"oil": "10 psi"}, ["meets", "meets", "advisory"]),
        ({"oil": "10 psi", "phase": "start"}, ["meets", "meets", "meets"]),
    ],
)
def test_a_point_is_a_state_of_this_aircraft(judged, more, outcomes):
    assert [v.outcome for v in judged(state(**more), "point-agrees")] == outcomes


@pytest.mark.parametrize(("ohm", "outcome"), [("13 milliohm", "meets"), ("1 milliohm", "discrepancy")])
def test_a_strap_resists_as_its_wire_does(judged, ohm, outcome):
    # 10 ft at 1.26 ohm/1000 ft (AC 43.13-1B table 11-9, size 10): 12.6 milliohm
    text = f"""
grounds:
  airframe: {{kind: structure}}
  case: {{kind: engine case}}
  strap: {{kind: strap, from: case, to: airframe, gauge: 10 AWG, length: 10 ft, resistance: {ohm}}}
"""
    [verdict] = judged(text, "strap-agrees")
    assert verdict.outcome == outcome


SPEED = """
engines: {engine: {limits: {engine speed: {maximum: 2700 rpm}}}}
operating_points: {cruise: {engine_speed: %s, readings: {%s}}}
"""


@pytest.mark.parametrize(
    ("speed", "readings", "outcomes"),
    [
        ("2400 rpm", "engine speed: 2400 rpm", ["meets", "meets"]),
        (
            "2400 rpm",
            "engine speed: 1900 rpm",
            ["discrepancy", "undetermined"],
        ),  # one engine has one speed; which, nobody knows
        ("2400 rpm", "", ["meets"]),
        ("24000 rpm", "", ["advisory"]),  # beyond 2700 rpm
    ],
)
def test_one_engine_speed_at_a_point(judged, speed, readings, outcomes):
    assert [v.outcome for v in judged(SPEED % (speed, readings), "point-agrees")] == outcomes


@pytest.mark.parametrize(
    ("most", "outcome"), [("6 psi", "meets"), ("4.5 psi", "meets"), ("3 psi", "discrepancy")]
)
def test_normal_pressure_of_a_tap_above_its_highest(judged, most, outcome):
    [verdict] = judged(
        f"taps: {{inlet: {{medium: fuel, pressure: 4.5 psi, max_pressure: {most}}}}}", "limits-in-order"
    )
    assert verdict.outcome == outcome


@pytest.mark.parametrize(
    ("rise", "outcome"),
    [("18 in", "meets"), ("-20 in", "meets"), ("21 in", "discrepancy"), ("10 ft", "discrepancy")],
)
def test_a_line_rises_no_more_than_it_is_long(judged, rise, outcome):
    text = f"""
zones: {{bay: {{}}}}
taps: {{inlet: {{medium: fuel, zone: bay}}}}
senders: {{transducer: {{ports: [P], zone: bay}}}}
fluid_lines: {{hose: {{from: inlet, to: transducer.P, kind: hose, route: [{{zone: bay, length: 20 in}}], rise: {rise}}}}}
"""
    assert [v.outcome for v in judged(text, "length-agrees")] == [outcome]


HEIGHT = """
zones: {{bay: {{}}, cabin: {{}}}}
taps: {{inlet: {{medium: fuel, zone: bay, location: carburettor inlet}}}}
senders: {{transducer: {{measures: fuel pressure, ports: [P], zone: bay, elevation: {elevation}, location: carburettor inlet}}}}
fittings: {{union: {{kind: union, ports: [1, 2], zone: bay}}}}
fluid_lines:
  first: {{from: inlet, to: union.1, kind: hose, length: 20 in{first}}}
  second: {{from: transducer.P, to: union.2, kind: hose, length: 20 in{second}}}
"""


@pytest.mark.parametrize(
    ("elevation", "first", "second", "outcome"),
    [
        # up by the first, and up by the second, which is told from its far end: 12 + 8 in
        ("20 in", ", rise: 12 in", ", rise: -8 in", "meets"),
        # one union and the sender's own port: 2 x 1.5 in, and 3 x 0.5 in of rounding
        ("24 in", ", rise: 12 in", ", rise: -8 in", "meets"),
        ("25 in", ", rise: 12 in", ", rise: -8 in", "discrepancy"),
        ("0 in", ", rise: 12 in", ", rise: -8 in", "discrepancy"),
        ("-20 in", ", rise: -12 in", ", rise: 8 in", "meets"),
        ("20 in", ", rise: -12 in", ", rise: 8 in", "discrepancy"),
        # a line that tells no rise can rise its whole length: 12 + 20 in
        ("32 in", ", rise: 12 in", "", "meets"),
        ("-6 in", ", rise: 12 in", "", "meets"),
        ("40 in", ", rise: 12 in", "", "discrepancy"),
        ("5 ft", "", "", "discrepancy"),
        ("30 in", "", "", "meets"),
    ],
)
def test_a_sender_is_as_high_as_its_lines_rise(judged, elevation, first, second, outcome):
    text = HEIGHT.format(elevation=elevation, first=first, second=second)
    [verdict] = judged(text, "height-agrees")
    assert verdict.outcome == outcome


def test_nothing_meets_on_a_height_that_is_disputed(judged):
    text = HEIGHT.format(elevation="0 in", first=", rise: 12 in", second=", rise: -8 in")
    assert [v.outcome for v in judged(text, "head-error")] == ["undetermined"]
    [verdict] = judged(text, "height-agrees")
    assert verdict.message == (
        "transducer is said to be 0 in above inlet, and first and second rise 20 in from there"
    )


PLACES = """
zones: {{engine: {{hot_parts: yes}}, bay: {{fire_zone: yes}}, cabin: {{occupied: yes, fire_zone: no, hot_parts: no}}, tail: {{}}}}
barriers: {{wall: {{between: [bay, cabin], kind: firewall}}}}
taps: {{gallery: {{medium: oil, zone: bay, location: {tap}}}}}
senders: {{sender: {{principle: resistive, measures: {measure}, ports: [P], location: {where}, zone: {zone}{carried}}}}}
fluid_lines: {{hose: {{from: gallery, to: sender.P, kind: hose, length: 20 in}}}}
"""


@pytest.mark.parametrize(
    ("tap", "measure", "where", "zone", "carried", "wrong"),
    [
        ("gallery", "oil pressure", "gallery", "bay", "", False),
        ("gallery", "oil pressure", "engine inlet", "bay", "", False),
        ("pump outlet", "oil pressure", "gallery", "bay", "", True),
        ("other", "oil pressure", "gallery", "bay", "", False),
        # a sender on a line may sit in the cabin; a bulb sits where it senses
        ("gallery", "oil pressure", "gallery", "cabin", "", False),
        ("gallery", "oil temperature", "gallery", "cabin", "", True),
        ("other", "oil pressure", "divider", "bay", "", True),
        ("other", "oil pressure", "firewall", "bay", ", mounted_on: firewall", False),
        ("other", "oil pressure", "firewall", "bay", ", mounted_on: engine", True),
        ("other", "oil pressure", "engine", "bay", ", mounted_on: firewall", True),
        ("other", "oil pressure", "cabin", "engine", "", True),
        ("other", "oil pressure", "cabin", "cabin", "", False),
        ("other", "oil pressure", "engine", "cabin", "", True),
        ("other", "oil pressure", "firewall", "cabin", "", False),
        # the tail is of another sort than either side of the firewall
        ("other", "oil pressure", "firewall", "tail", "", True),
    ],
)
def test_the_place_of_a_sender(judged, tap, measure, where, zone, carried, wrong):
    text = PLACES.format(tap=tap, measure=measure, where=where, zone=zone, carried=carried)
    found = {v.outcome for v in judged(text, "location-agrees")}
    assert ("discrepancy" in found) == wrong
    assert wrong or found <= {"meets"}


@pytest.mark.parametrize(("zone", "wrong"), [("engine", False), ("bay", False), ("cabin", True)])
def test_a_probe_in_a_head_is_not_where_people_are(judged, zone, wrong):
    text = f"""
zones: {{engine: {{}}, bay: {{occupied: no}}, cabin: {{occupied: yes}}}}
probes: {{probe: {{measures: head temperature, mount: well, zone: {zone}}}}}
"""
    assert ("discrepancy" in {v.outcome for v in judged(text, "location-agrees")}) == wrong


@pytest.mark.parametrize(
    ("measure", "kind", "mount", "wrong"),
    [
        ("head temperature", "bayonet", "well", False),
        ("head temperature", "bolt ring", "exhaust pipe", True),
        ("exhaust temperature", "exhaust clamp", "exhaust pipe", False),
        ("exhaust temperature", "exhaust clamp", "well", True),
        ("exhaust temperature", "bayonet", "exhaust pipe", True),
        ("turbine inlet temperature", "exhaust threaded", "turbine inlet", False),
        ("turbine inlet temperature", "threaded", "lower plug", True),
    ],
)
def test_a_probe_is_fitted_where_there_is_what_it_measures(judged, measure, kind, mount, wrong):
    text = f"probes: {{probe: {{measures: {measure}, kind: {kind}, mount: {mount}}}}}"
    assert ("discrepancy" in {v.outcome for v in judged(text, "location-agrees")}) == wrong


def test_nothing_meets_on_a_place_that_is_disputed(judged):
    text = PLACES.format(tap="gallery", measure="oil pressure", where="sump", zone="bay", carried="") + (
        "indicators: {gauge: {principle: electronic resistance, measures: oil pressure, terminals: [S], zone: cabin}}\n"
        "wire_runs: {W: {from: sender.S, to: gauge.S}}\n"
    )
    text = text.replace("ports: [P]", "ports: [P], terminals: [S]")
    assert [v.outcome for v in judged(text, "pressure-tap")] == ["undetermined"]


@pytest.mark.parametrize(
    ("field", "outcome"), [("1200 ft", "meets"), ("16000 ft", "meets"), ("20000 ft", "discrepancy")]
)
def test_the_field_lies_below_the_ceiling(judged, field, outcome):
    text = f"aircraft: {{ceiling: 16000 ft, field_elevation: {field}}}"
    assert [v.outcome for v in judged(text, "point-agrees")] == [outcome]


@pytest.mark.parametrize(
    ("full", "outcome"), [("100 psi", "meets"), ("689 kPa", "meets"), ("200 psi", "discrepancy")]
)
def test_the_curve_of_a_sender_ends_at_its_full_scale(judged, full, outcome):
    # 100 psi is 689.5 kPa
    text = (
        "senders: {sender: {principle: resistive, measures: oil pressure, "
        f"full_scale: {full}, curve: {{points: [[0 psi, 240 ohm], [100 psi, 33 ohm]]}}}}}}"
    )
    assert [v.outcome for v in judged(text, "limits-in-order")] == [outcome]


@pytest.mark.parametrize(("full", "outcome"), [("100 psi", "meets"), ("50 psi", "discrepancy")])
def test_ohms_read_at_some_pressures_may_end_below_the_full_scale(judged, full, outcome):
    text = (
        "senders: {sender: {principle: resistive, measures: oil pressure, "
        f"full_scale: {full}, curve: {{points: [[0 psi, 240 ohm], [30 psi, 178 ohm], [60 psi, 116 ohm]]}}}}}}"
    )
    assert [v.outcome for v in judged(text, "limits-in-order")] == [outcome]


@pytest.mark.parametrize(
    ("told", "outcome"),
    [
        ("oil_quantity: 8 qt, oil_minimum: 2 qt", "meets"),
        ("oil_quantity: 1 qt, oil_minimum: 2 qt", "discrepancy"),
        ("cylinders: 4, seats: {1: right front, 2: left front, 3: right rear, 4: left rear}", "meets"),
        ("cylinders: 6, seats: {1: right front, 2: left front, 3: right rear, 4: left rear}", "advisory"),
    ],
)
def test_what_is_said_of_an_engine(judged, told, outcome):
    assert [v.outcome for v in judged(f"engines: {{engine: {{{told}}}}}", "limits-in-order")] == [outcome]


@pytest.mark.parametrize(
    ("speed", "outcomes"),
    [
        ("2700 rpm", ["meets", "meets"]),
        ("2600 rpm", ["meets", "meets"]),
        ("1000 rpm", ["meets", "advisory"]),
        ("3000 rpm", ["advisory", "meets"]),
    ],
)
def test_an_engine_is_rated_among_its_limits(judged, speed, outcomes):
    limits = "limits: {engine speed: {maximum: 2700 rpm, normal_low: 2000 rpm, normal_high: 2600 rpm}}"
    found = judged(f"engines: {{engine: {{speed: {speed}, {limits}}}}}", "limits-in-order")
    assert [v.outcome for v in found if "rated" in v.message] == outcomes


@pytest.mark.parametrize(
    ("label", "measure", "outcomes"),
    [
        ("OIL PRESS", "oil pressure", ["meets"]),
        ("L ENG OIL", "oil temperature", ["meets"]),
        ("Oil Temp", "oil pressure", ["discrepancy"]),
        ("FUEL PRESS", "oil pressure", ["discrepancy"]),
        ("CHT 3", "head temperature", ["meets"]),
        ("EGT", "head temperature", ["discrepancy"]),
        ("MAP", "manifold pressure", ["meets"]),
        ("SUCTION", "vacuum", ["meets"]),
        ("VOLTS", "load current", ["discrepancy"]),
        ("LOW", "oil pressure", []),
        ("LEFT ENGINE", "oil pressure", []),
    ],
)
def test_the_face_of_an_indicator_names_what_it_shows(judged, label, measure, outcomes):
    text = f"indicators: {{gauge: {{measures: {measure}, label: {label}}}}}"
    assert [v.outcome for v in judged(text, "label-agrees")] == outcomes


@pytest.mark.parametrize(("said", "wrong"), [("no", False), ("yes", True)])
def test_a_run_in_a_bundle_does_not_lie_alone(judged, said, wrong):
    text = (
        "bundles: {harness: {wires: 8}}\nsenders: {s: {terminals: [A]}}\nindicators: {g: {terminals: [A]}}\n"
        f"wire_runs: {{W: {{from: s.A, to: g.A, bundle: harness, free_air: {said}}}}}"
    )
    found = {v.at[0]: v.outcome for v in judged(text, "bundle-agrees")}
    assert (found["W"] == "discrepancy") == wrong


@pytest.mark.parametrize(
    ("joins", "zone", "outcomes"),
    [
        ("case", "engine", ["meets"]),
        ("case", "cabin", ["discrepancy"]),
        # one stud can go through the wall between the two
        ("other", "cabin", []),
        ("airframe", "cabin", []),
    ],
)
def test_a_stud_is_where_it_is_fastened(judged, joins, zone, outcomes):
    text = f"""
zones: {{engine: {{fire_zone: yes}}, bay: {{fire_zone: yes}}, cabin: {{occupied: yes, fire_zone: no}}}}
barriers: {{wall: {{between: [bay, cabin], kind: firewall}}}}
grounds:
  airframe: {{kind: structure, zone: bay}}
  case: {{kind: engine case, zone: engine}}
  other: {{kind: stud, joins: airframe, zone: bay}}
  stud: {{kind: stud, joins: {joins}, zone: {zone}}}
"""
    assert [v.outcome for v in judged(text, "place-agrees")] == outcomes
