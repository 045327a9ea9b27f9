"""Every refusal says where, and the word, value or line that would be right; what people say is understood.

The messages were read one by one as a mechanic would, against the document below.
"""

from __future__ import annotations

import pytest

from installcheck.document import DocumentError, loads

BASE = """\
installation: {name: bench}
aircraft: {basis: CAR 3, system_voltage: 14 V, operation: [VFR day]}
engines: {engine: {cylinders: 4, layout: opposed, limits: {oil pressure: {maximum: 100 psi}}}}
zones: {engine: {fire_zone: yes}, engine bay: {fire_zone: yes}, cabin: {occupied: yes}}
barriers: {firewall: {between: [engine bay, cabin], kind: firewall}}
routes: {engine to panel: 'engine 3 ft, engine bay 2 ft, firewall by fireproof grommet, cabin 4 ft'}
senders:
  oil bulb: {part: resistance bulb nickel 90.38, measures: oil temperature, zone: engine}
probes:
  exhaust 1: {part: exhaust clamp probe K, measures: exhaust temperature, cylinder: 1, distance: 3 in, zone: engine}
indicators:
  oil gauge: {principle: bridge, terminals: [A, B, power, ground], measures: oil temperature, zone: cabin, budget: 10 degF}
supplies:
  bus: {kind: bus, voltage: 14 V, zone: cabin}
  gauges breaker: {kind: breaker, rating: 5 A, zone: cabin}
grounds: {airframe: {kind: structure, zone: cabin}}
bundles: {engine harness: {zone: engine}}
junctions: {selector: {kind: selector switch, terminals: [common +, common -, 1 +, 1 -], zone: cabin}}
wire_runs:
  E1: {from: oil bulb.A, to: oil gauge.A, part: AS22759/16, gauge: 20 AWG, route: engine to panel, bundle: engine harness}
  E2: oil bulb.B to oil gauge.B, AS22759/16 20 AWG, engine to panel
operating_points: {cruise: {readings: {oil temperature: 180 degF}}}
"""


def spoilt(right: str, wrong: str) -> str:
    assert BASE.count(right) == 1
    return BASE.replace(right, wrong)


def test_the_document_is_right() -> None:
    loads(BASE)


REFUSED = [
    (
        "budget: 10 degF",
        "budget: 5 %",
        "12:116",
        "'5 %' of what is not told: an oil temperature is told in degF, degC, K; write the share out",
    ),
    (
        "system_voltage: 14 V",
        "scope: part",
        "2:26",
        "'scope' is not a word known here; it is one under installation",
    ),
    (
        "cabin: {occupied: yes}",
        "cabin: {system_voltage: 14 V}",
        "4:73",
        "'system_voltage' is not a word known here; it is one under aircraft",
    ),
    (
        "kind: bus, voltage: 14 V",
        "kind: bus, voltage: 13.8-14.2 V",
        "14:29",
        "'13.8-14.2 V' is a range, and one value is wanted: write '14.2 V'",
    ),
    (
        "budget: 10 degF",
        "inputs: {CHT 1: unused}, budget: 10 degF",
        "12:124",
        "its part has one input, which has no name: take 'CHT 1: unused' out",
    ),
    ("cylinder: 1, ", "cylinder: [1, 2], ", "10:75", "one whole number is wanted here, not a list"),
    (
        "routes: {engine to panel",
        "include: more.yaml\nroutes: {engine to panel",
        "6:10",
        "'include' is a list of file names: write 'include: [more.yaml]'",
    ),
    (
        "zones: {engine: {fire_zone: yes}, engine bay: {fire_zone: yes}, cabin: {occupied: yes}}",
        "zones: [engine, engine bay, cabin]",
        "4:1",
        "'zones' holds ids, each with its own entries: write 'name: {...}' lines without '- '",
    ),
    (
        "bundle: engine harness}",
        "bundle: engine harness, fitted: 3/4/26}",
        "20:132",
        "'3/4/26' is not a date like 2026-05-01",
    ),
    (
        "junctions: {selector: {kind: selector switch,",
        "junctions: {selector: {kind: magnetto,",
        "18:30",
        "'magnetto' is not known here; did you mean 'magneto'?",
    ),
    (
        "measures: oil temperature, zone: engine}",
        "measures: oil temperature, zone: engine, engine: both}",
        "8:99",
        "'both' is not an engine; known are engine",
    ),
    (
        "kind: breaker, rating: 5 A",
        "part: breaker, size: 60",
        "15:41",
        "part 'breaker' does not come in '60'; write '60 A'",
    ),
    (
        "kind: breaker, rating: 5 A",
        "part: fuse, size: 6 A",
        "15:38",
        "part 'fuse' does not come in '6 A'; it comes in 0.5 A, 1 A, 2 A, 3 A, 4 A, 5 A, 7.5 A, 10 A, 15 A, 20 A, 25 A, 30 A, 35 A, 40 A, 50 A",
    ),
    (
        "basis: CAR 3",
        "basis: part 23",
        "2:19",
        "'part 23' is not one of: CAR 3, part 23 before 2017, part 23 from 2017, part 25, part 27, part 29, amateur-built, other; did you mean 'part 23 before 2017' or 'part 23 from 2017'?",
    ),
    (
        "basis: CAR 3",
        "basis: FAR 23",
        "2:19",
        "'FAR 23' is not one of: CAR 3, part 23 before 2017, part 23 from 2017, part 25, part 27, part 29, amateur-built, other; did you mean 'part 23 before 2017' or 'part 23 from 2017'?",
    ),
    (
        "system_voltage: 14 V",
        "system_voltage: 14",
        "2:42",
        "'14' has no unit: a voltage is written like '14 V' (V, mV, kV, uV)",
    ),
    (
        "operation: [VFR day]",
        "operation: [VFR]",
        "2:60",
        "'VFR' is not one of: VFR day, VFR night, IFR, part 121; did you mean 'VFR day' or 'VFR night'?",
    ),
    ("cylinders: 4", "cylinders: four", "3:31", "'four' is not a whole number; write 4"),
    ("cylinders: 4", "cylinders: 4 cyl", "3:31", "'4 cyl' is not a whole number; write 4"),
    (
        "limits: {oil pressure:",
        "limits: {oil presure:",
        "3:60",
        "'oil presure' is not known here; did you mean 'oil pressure'?",
    ),
    ("maximum: 100 psi", "max: 100 psi", "3:75", "'max' is not a word known here; did you mean 'maximum'?"),
    (
        "maximum: 100 psi",
        "maximum: 100",
        "3:84",
        "'100' has no unit: an indication (temperature, pressure, speed, flow...) is written like '180 degF' (degF, degC, psi, inHg, rpm, gal/h, L/min, qt, gal, V, mV, A, mA, %, deg)",
    ),
    (
        "fire_zone: yes}, engine bay",
        "fire_zone: maybe}, engine bay",
        "4:29",
        "'maybe' is neither yes nor no; write 'yes' or 'no'",
    ),
    (
        "fire_zone: yes}, engine bay",
        "firezone: yes}, engine bay",
        "4:18",
        "'firezone' is not a word known here; did you mean 'fire_zone'?",
    ),
    (
        "fire_zone: yes}, engine bay",
        "fire zone: yes}, engine bay",
        "4:18",
        "'fire zone' is not a word known here; did you mean 'fire_zone'?",
    ),
    (
        "fire_zone: yes}, engine bay",
        "fire-zone: yes}, engine bay",
        "4:18",
        "'fire-zone' is not a word known here; did you mean 'fire_zone'?",
    ),
    (
        "fire_zone: yes}, engine bay",
        "temperature: 250 degF}, engine bay",
        "4:31",
        "'250 degF' is not a range: write its two ends, like '60 to 90 psi'",
    ),
    (
        "fire_zone: yes}, engine bay",
        "temperature: 250 to 100 degF}, engine bay",
        "4:31",
        "highest (100 degF) is below lowest (250 degF); exchange them",
    ),
    (
        "between: [engine bay, cabin]",
        "between: [engine bay, cockpit]",
        "5:45",
        "'cockpit' is not a zone; known are cabin, engine, engine bay",
    ),
    (
        "between: [engine bay, cabin]",
        "between: engine bay and cabin",
        "5:32",
        "a list of values is wanted here, like [engine bay, cabin], not engine bay and cabin",
    ),
    (
        "'engine 3 ft, engine bay 2 ft, firewall by fireproof grommet, cabin 4 ft'",
        "engine 3 ft, engine bay 2 ft",
        "6:27",
        "'engine bay 2 ft' stands alone after a comma; put a text that holds a comma in quotes: engine to panel: 'engine 3 ft, engine bay 2 ft'; a list stands in []; a word of its own has its value: 'engine bay 2 ft: ...'",
    ),
    (
        "engine bay 2 ft, firewall by",
        "engine bay 2, firewall by",
        "6:52",
        "'2' has no unit: a length is written like '2 ft' (ft, in, m, mm, cm, km)",
    ),
    (
        "firewall by fireproof grommet",
        "firewal by fireproof grommet",
        "6:58",
        "'firewal' is not a barrier; did you mean 'firewall'?",
    ),
    (
        "firewall by fireproof grommet",
        "firewall through a grommet",
        "6:58",
        "'firewall through a grommet' is no part of a route, since firewall is a barrier: write 'firewall by grommet'",
    ),
    ("cabin 4 ft'", "cockpit 4 ft'", "6:89", "'cockpit' is not a zone; known are cabin, engine, engine bay"),
    (
        "cabin 4 ft'",
        "cabin 4 psi'",
        "6:95",
        "'4 psi' is a pressure, but a length is wanted (ft, in, m, mm, cm, km)",
    ),
    ("cabin 4 ft'", "cabin 4 ft,'", "6:100", "there is nothing between two commas here; take one out"),
    (
        "part: resistance bulb nickel 90.38",
        "part: resistance bulb nickle",
        "8:20",
        "there is no part 'resistance bulb nickle' for senders; did you mean 'resistance bulb nickel 90.38' or 'resistance bulb nickel 90.38 one lead' or 'resistance bulb Pt100'?",
    ),
    (
        "part: resistance bulb nickel 90.38",
        "part: AS22759/16",
        "8:20",
        "part 'AS22759/16' belongs under wire_runs, not senders",
    ),
    (
        "part: resistance bulb nickel 90.38",
        "part: Pt100",
        "8:20",
        "there is no part 'Pt100' for senders; did you mean 'resistance bulb Pt100' or 'resistance bulb Pt100 three lead'?",
    ),
    (
        "measures: oil temperature, zone: engine",
        "measure: oil temperature, zone: engine",
        "8:50",
        "'measure' is not a word under senders; did you mean 'measures'?",
    ),
    (
        "zone: engine}\nprobes",
        "zone: engin}\nprobes",
        "8:83",
        "'engin' is not a zone; did you mean 'engine'?",
    ),
    (
        "zone: engine}\nprobes",
        "location: sumpp}\nprobes",
        "8:87",
        "'sumpp' is not known here; did you mean 'sump'?",
    ),
    ("cylinder: 1, ", "cylinder: 5, ", "10:85", "there is no cylinder 5: 'engine' has 4 cylinders, 1 to 4"),
    ("cylinder: 1, ", "cylinder: no 1, ", "10:85", "'no 1' is not a whole number; write 1"),
    (
        "distance: 3 in",
        "distance: 3",
        "10:98",
        "'3' has no unit: a length is written like '3 ft' (ft, in, m, mm, cm, km)",
    ),
    (
        "distance: 3 in",
        "distance: 3/8",
        "10:98",
        "'3/8' has no unit: a length is written like '3/8 in' (ft, in, m, mm, cm, km)",
    ),
    (
        "distance: 3 in",
        "distance: 3 psi",
        "10:98",
        "'3 psi' is a pressure, but a length is wanted (ft, in, m, mm, cm, km)",
    ),
    (
        "distance: 3 in",
        "distance: 3 inchs",
        "10:98",
        "'inchs' in '3 inchs' is not a unit of a length (ft, in, m, mm, cm, km); did you mean 'in'?",
    ),
    (
        "distance: 3 in",
        "distance: 3,5 in",
        "10:98",
        "'5 in' stands alone after a comma; write a point before decimals: 'distance: 3.5 in'",
    ),
    (
        "distance: 3 in",
        "distance: -3 in",
        "10:98",
        "'-3 in': a length cannot be negative; write it without the minus",
    ),
    ("distance: 3 in", "distance: about 3 in", "10:98", "'about 3 in' is not a quantity: write '3 in' alone"),
    (
        "budget: 10 degF",
        "budget: 10 psi",
        "12:116",
        "'10 psi' is a pressure, but an oil temperature is told in degF, degC, K",
    ),
    (
        "budget: 10 degF",
        "budgets: 10 degF",
        "12:108",
        "'budgets' is not a word under indicators; did you mean 'budget'?",
    ),
    (
        "principle: bridge",
        "principle: bridge gauge",
        "12:26",
        "'bridge gauge' is not known here; did you mean 'bridge'?",
    ),
    (
        "principle: bridge",
        "cylinder: 3",
        "12:15",
        "'cylinder' is not a word under indicators; it is one under probes",
    ),
    (
        "kind: bus, voltage",
        "kind: busbar, voltage",
        "14:15",
        "'busbar' is not one of: battery, alternator, generator, bus, breaker, fuse, current limiter, switch, contactor, inverter; did you mean 'bus'?",
    ),
    ("rating: 5 A", "rating: 5", "15:43", "'5' has no unit: a current is written like '5 A' (A, mA, uA)"),
    (
        "rating: 5 A",
        "rating: 5 a",
        "15:43",
        "'a' in '5 a' is not a unit of a current (A, mA, uA); did you mean 'A'?",
    ),
    (
        "rating: 5 A",
        "rating: 0 A",
        "15:43",
        "'0 A': a current of zero is impossible here; write its size, or unknown",
    ),
    (
        "kind: structure, zone",
        "zone",
        "16:11",
        "'kind' is missing: 'kind: structure', or engine case, stud, bus, strap, bond",
    ),
    (
        "bundle: engine harness",
        "bundle: engine harnes",
        "20:108",
        "'engine harnes' is not a bundle; did you mean 'engine harness'?",
    ),
    (
        "bundle: engine harness",
        "harness: engine harness",
        "20:100",
        "'harness' is not a word under wire_runs; did you mean 'bundle'?",
    ),
    ("gauge: 20 AWG", "gauge: 20", "20:68", "'20' is not a wire gauge: write '20 AWG'"),
    ("gauge: 20 AWG", "gauge: 20 ga", "20:68", "'20 ga' is not a wire gauge: write '20 AWG'"),
    (
        "gauge: 20 AWG",
        "gauge: 21 AWG",
        "20:68",
        "part 'AS22759/16' does not come in '21 AWG'; it comes in 24 AWG, 22 AWG, 20 AWG, 18 AWG, 16 AWG, 14 AWG, 12 AWG, 10 AWG, 8 AWG, 6 AWG, 4 AWG, 2 AWG, 1 AWG, 0 AWG, 2/0 AWG",
    ),
    (
        "gauge: 20 AWG",
        "gauge: #20",
        "21:5",
        "not YAML: the '#' on line 20 begins a comment, which hides the rest of the line: put the text that holds it in quotes",
    ),
    (
        "part: AS22759/16, gauge",
        "part: AS22759/61, gauge",
        "20:49",
        "there is no part 'AS22759/61' for wire_runs; did you mean 'AS22759/41' or 'AS22759/16' or 'AS22759/43'?",
    ),
    (
        "part: AS22759/16, gauge",
        "part: M22759/16, gauge",
        "20:49",
        "there is no part 'M22759/16' for wire_runs; did you mean 'AS22759/16' or 'AS22759/41' or 'AS22759/43'?",
    ),
    (
        "from: oil bulb.A, to",
        "from: oil blub.A, to",
        "20:14",
        "'oil blub' is not a thing in this document; did you mean 'oil bulb'?",
    ),
    (
        "from: oil bulb.A, to",
        "from: oil bulb.C, to",
        "20:14",
        "'C' is not a terminal of 'oil bulb'; known are A, B",
    ),
    (
        "from: oil bulb.A, to",
        "from: oil bulb, to",
        "20:14",
        "'oil bulb' needs a terminal: oil bulb.A, oil bulb.B",
    ),
    (
        "from: oil bulb.A, to",
        "from: oil bulb A, to",
        "20:14",
        "'oil bulb A' lacks its dot: write 'oil bulb.A'",
    ),
    (
        "from: oil bulb.A, to",
        "from: oil gauge.A, to",
        "20:31",
        "this begins and ends at the same point, 'oil gauge'; name another end",
    ),
    (
        "from: oil bulb.A, to",
        "to",
        "20:3",
        "a run has either 'from' and 'to', or 'conductors' that each have them: 'from: oil bulb.A, to: oil gauge.A'",
    ),
    (
        "from: oil bulb.A, to",
        "from: Oil Bulb.A, to",
        "20:14",
        "'Oil Bulb' is not a thing in this document; did you mean 'oil bulb'?",
    ),
    (
        "from: oil bulb.A, to",
        "from: oil bulb.a, to",
        "20:14",
        "'a' is not a terminal of 'oil bulb'; did you mean 'A'?",
    ),
    (
        "route: engine to panel",
        "route: engine to pannel",
        "20:83",
        "'engine to pannel' is no part of a route: a zone and its length ('cabin 5 ft'), a barrier ('firewall by fireproof grommet') or a name under routes; did you mean 'engine to panel'?",
    ),
    (
        "E2: oil bulb.B to oil gauge.B",
        "E2: oil bulb.B - oil gauge.B",
        "21:7",
        "'oil bulb.B - oil gauge.B' is not a run's two ends; a run in one line begins 'oil bulb.A to oil gauge.A'",
    ),
    (
        "E2: oil bulb.B to oil gauge.B",
        "E2: oil bulb.B to oil guage.B",
        "21:21",
        "'oil guage' is not a thing in this document; did you mean 'oil gauge'?",
    ),
    (
        "AS22759/16 20 AWG, engine to panel\n",
        "AS22759/16 20 AWG, engine to pannel\n",
        "21:53",
        "'engine to pannel' is not understood in a run in one line: a gauge, a part, a route, 'in' a bundle or a field and its value; did you mean 'engine to panel'?",
    ),
    (
        "AS22759/16 20 AWG, engine to panel\n",
        "AS22759/16 20, engine to panel\n",
        "21:34",
        "'AS22759/16 20' lacks the unit of its gauge: write 'AS22759/16 20 AWG'",
    ),
    (
        "AS22759/16 20 AWG, engine to panel\n",
        "AS22759/16 20 AWG, engine to panel, in wing harness\n",
        "21:73",
        "'wing harness' is not a bundle; did you mean 'engine harness'?",
    ),
    (
        "AS22759/16 20 AWG, engine to panel\n",
        "AS22759/16 20 AWG, engine to panel, ends rings\n",
        "21:75",
        "'rings' is not a termination; did you mean 'ring'?",
    ),
    (
        "AS22759/16 20 AWG, engine to panel\n",
        "AS22759/16 20 AWG, engine to panel, ends pin 21\n",
        "21:75",
        "'pin' does not come in '21'; it comes in 22D, 20, 16, 12",
    ),
    (
        "AS22759/16 20 AWG, engine to panel\n",
        "AS22759/16 20 AWG, engine to panel, slack 3\n",
        "21:76",
        "'3' has no unit: a length is written like '3 ft' (ft, in, m, mm, cm, km)",
    ),
    (
        "AS22759/16 20 AWG, engine to panel\n",
        "AS22759/16 20 AWG, engine to panel, slak 3 in\n",
        "21:70",
        "'slak' is not a word of a run; did you mean 'slack'?",
    ),
    (
        "AS22759/16 20 AWG, engine to panel\n",
        "AS22759/16 20 AWG, engine to panel, length 3 ft, length 4 ft\n",
        "21:90",
        "'length' is told twice in this line; take one out",
    ),
    (
        "readings: {oil temperature: 180 degF}",
        "readings: {oil temperature: 180 psi}",
        "22:57",
        "'180 psi' is a pressure, but an oil temperature is told in degF, degC, K",
    ),
    (
        "readings: {oil temperature: 180 degF}",
        "readings: [180 degF]",
        "22:29",
        "names, each with its own entry, are wanted here ('name: entry' lines), not a list",
    ),
    (
        "{cruise: {",
        "{cruise: {zone_temperatures: {enginebay: 3 degF}, ",
        "22:60",
        "'enginebay' is not a zone; did you mean 'engine bay'?",
    ),
    (
        "{cruise: {",
        "{cruise: {engine_speed: 2400, ",
        "22:43",
        "'2400' has no unit: a speed is written like '2400 rpm' (rpm)",
    ),
    (
        "senders:\n  oil bulb: {",
        "senders:\n\toil bulb: {",
        "8:1",
        "not YAML: a tab cannot indent a line; use spaces",
    ),
    (
        "  E2: oil",
        "   E2: oil",
        "21:4",
        "not YAML: this line is indented by 3, the lines it belongs to (from line 20) by 2: indent it alike",
    ),
    (
        "  E2: oil",
        " E2: oil",
        "21:2",
        "not YAML: this line is indented by 1, the lines it belongs to (from line 1) by 0: indent it alike",
    ),
    ("  E2: oil", "  E2 oil", "21:3", "not YAML: this line lacks its ': ': write 'word: value'"),
    (
        "  E2: oil",
        "  - E2: oil",
        "21:3",
        "not YAML: '- ' begins a line of a list, but names are wanted here: write 'name: ...'",
    ),
    (
        "senders:\n  oil bulb:",
        "senders:\n  - oil bulb:",
        "7:1",
        "'senders' holds ids, each with its own entries: write 'name: {...}' lines without '- '",
    ),
    (
        "  E2: oil",
        "  E1: oil",
        "21:3",
        "'E1' is here twice; the first is on line 20: put both in one, or give this another name",
    ),
    ("wire_runs:\n", "wires:\n", "19:1", "'wires' is not a section; did you mean 'wire_runs'?"),
    ("wire_runs:\n", "wire runs:\n", "19:1", "'wire runs' is not a section; did you mean 'wire_runs'?"),
    ("wire_runs:\n", "wire_run:\n", "19:1", "'wire_run' is not a section; did you mean 'wire_runs'?"),
    ("probes:\n", "thermocouples:\n", "9:1", "'thermocouples' is not a section; did you mean 'probes'?"),
    (
        "route: engine to panel, bundle",
        "route: engine 3 ft, cabin 4 ft, bundle",
        "20:83",
        "'cabin 4 ft' stands alone after a comma; put a text that holds a comma in quotes: route: 'engine 3 ft, cabin 4 ft'; a list stands in []; a word of its own has its value: 'cabin 4 ft: ...'",
    ),
    (
        "measures: oil temperature, zone: cabin",
        "title: a gauge, with a comma, zone: cabin",
        "12:75",
        "'with a comma' stands alone after a comma; put a text that holds a comma in quotes: title: 'a gauge, with a comma'; a list stands in []; a word of its own has its value: 'with a comma: ...'",
    ),
    (
        "measures: oil temperature, zone: cabin",
        "title: a: b, zone: cabin",
        "12:76",
        "not YAML: a ': ' stands within a text: put the text in quotes",
    ),
    (
        "measures: oil temperature, zone: cabin",
        "title: gauge #2, zone: cabin",
        "13:1",
        "not YAML: the '#' on line 12 begins a comment, which hides the rest of the line: put the text that holds it in quotes",
    ),
    (
        "measures: oil temperature, zone: cabin",
        "title: #2 gauge, zone: cabin",
        "13:9",
        "not YAML: the '#' on line 12 begins a comment, which hides the rest of the line: put the text that holds it in quotes",
    ),
    (
        "measures: oil temperature, zone: cabin",
        "title: 'gauge, zone: cabin",
        "12:75",
        "not YAML: the quote opened here is not closed",
    ),
    (
        "zone: cabin, budget: 10 degF}",
        "zone: cabin, budget: 10 degF",
        "13:9",
        "not YAML: the '{' opened on line 12 is not closed before this, or a comma is missing",
    ),
    (
        "zone: cabin, budget: 10 degF}",
        "zone cabin, budget: 10 degF}",
        "12:78",
        "'zone cabin' stands alone after a comma; put a text that holds a comma in quotes: measures: 'oil temperature, zone cabin'; a list stands in []; a word of its own has its value: 'zone cabin: ...'",
    ),
    (
        "zone: cabin, budget: 10 degF}",
        "zone:cabin, budget: 10 degF}",
        "12:78",
        "'zone:cabin' stands alone after a comma; write a blank after its colon: 'zone: cabin'",
    ),
    (
        "terminals: [A, B, power, ground]",
        "terminals: A, B, power, ground",
        "12:45",
        "'ground' stands alone after a comma; put a text that holds a comma in quotes: terminals: 'A, B, power, ground'; a list stands in []; a word of its own has its value: 'ground: ...'",
    ),
    (
        "terminals: [A, B, power, ground]",
        "terminals: [A, B, power, ground",
        "12:122",
        "not YAML: the '[' opened on line 12 is not closed before this, or a comma is missing",
    ),
    (
        "terminals: [A, B, power, ground]",
        "terminals: A B",
        "12:45",
        "a list is wanted here (lines that start with '- ', or [A, B]), not A B",
    ),
    (
        "installation: {name: bench}",
        "installation: bench",
        "1:15",
        "'word: value' lines are wanted here, not bench; write '{name: bench}'",
    ),
    (
        "installation: {name: bench}",
        "name: bench",
        "1:1",
        "'name' is not a section; did you mean 'installation'?",
    ),
    (
        "installation: {name: bench}",
        "installation: {name: bench, date: 1 May 2026}",
        "1:35",
        "'1 May 2026' is not a date like 2026-05-01",
    ),
    (
        "installation: {name: bench}",
        "installation: {name: bench, scope: wing}",
        "1:36",
        "'wing' is not one of: whole, part",
    ),
    (
        "engine bay 2 ft, firewall by",
        "engine bay 2 ft; firewall by",
        "6:52",
        "'ft;' in '2 ft; firewall by fireproof grommet' is not a unit of a length (ft, in, m, mm, cm, km); did you mean 'ft'?",
    ),
    (
        "  E2: oil bulb.B to oil gauge.B,",
        "  E2: oil bulb.B to oil gauge.B: ",
        "21:32",
        "not YAML: a ': ' is not expected here: put a text that holds one in quotes, and check the indentation of this line",
    ),
    (
        "  gauges breaker: {kind: breaker, rating: 5 A, zone: cabin}",
        "  gauges breaker: {kind: breaker, rating: 5 A, zone: cabin, drip_loop: yes}",
        "15:61",
        "'drip_loop' is not a word under supplies; it is one under bundles",
    ),
    (
        "  gauges breaker: {kind: breaker, rating: 5 A, zone: cabin}",
        "  gauges breaker: breaker 5 A",
        "15:19",
        "'word: value' lines are wanted here, not breaker 5 A; like '{part: ..., size: ...}'",
    ),
    (
        "  gauges breaker: {kind: breaker, rating: 5 A, zone: cabin}",
        "  gauges breaker: {kind: breaker, rating: 5 A, zone: cabin}\nusual: {wire_run: {marked: yes}}",
        "16:9",
        "'wire_run' is not a section with things in it; did you mean 'wire_runs'?",
    ),
    (
        "  gauges breaker: {kind: breaker, rating: 5 A, zone: cabin}",
        "  gauges breaker: {kind: breaker, rating: 5 A, zone: cabin}\nusual: {wire_runs: {by gage: {22 AWG: {marked: yes}}}}",
        "16:21",
        "'gage' is not a word that can be usual of wire_runs; did you mean 'gauge'?",
    ),
    (
        "  gauges breaker: {kind: breaker, rating: 5 A, zone: cabin}",
        "  gauges breaker: {kind: breaker, rating: 5 A, zone: cabin}\nusual: {wire_runs: {by gauge: {fat: {marked: yes}}}}",
        "16:32",
        "'fat' is not a gauge or a range of them, like '22 AWG' or '22 to 18 AWG'",
    ),
    (
        "  gauges breaker: {kind: breaker, rating: 5 A, zone: cabin}",
        "  gauges breaker: {kind: breaker, rating: 5 A, zone: cabin}\nusual: {senders: {by kind: {sump: {marked: yes}}}}",
        "16:19",
        "'kind' is not a word that can be usual of senders; known are arm, bulb_volume, capillary_bore, capillary_length, case_return, curve, dissipation, drive_ratio, elevation, engine, excitation_frequency, excitation_voltage and 43 more",
    ),
]
"""What is right in the document, what is written instead, the place, and what is said."""


@pytest.mark.parametrize(("right", "wrong", "place", "said"), REFUSED)
def test_a_refusal_has_its_place_and_what_would_be_right(
    right: str, wrong: str, place: str, said: str
) -> None:
    with pytest.raises(DocumentError) as bad:
        loads(spoilt(right, wrong), "f")
    assert [str(p) for p in bad.value.problems] == [f"f:{place}: {said}"]


def test_there_are_more_than_sixty() -> None:
    assert len(REFUSED) > 60


def at(document: object, path: str) -> object:
    """The value at a path of attributes and keys."""
    here: object = document
    for step in path.split("/"):
        here = here[step] if isinstance(here, dict) else getattr(here, step)
    return here


UNDERSTOOD = [
    ("basis: CAR 3", "basis: CAR3", "aircraft/basis", "CAR 3"),
    (
        "operation: [VFR day]",
        "operation: [day and night VFR]",
        "aircraft/operation",
        ["VFR day", "VFR night"],
    ),
    ("operation: [VFR day]", "operation: day VFR", "aircraft/operation", ["VFR day"]),
    ("layout: opposed", "layout: flat four", "engines/engine/layout", "opposed"),
    ("layout: opposed", "layout: horizontally opposed", "engines/engine/layout", "opposed"),
    ("layout: opposed", "layout: in-line", "engines/engine/layout", "inline"),
    ("layout: opposed", "layout: V", "engines/engine/layout", "vee"),
    ("measures: exhaust temperature", "measures: EGT", "probes/exhaust 1/measures", "exhaust temperature"),
    ("measures: exhaust temperature", "measures: CHT", "probes/exhaust 1/measures", "head temperature"),
    (
        "measures: oil temperature, zone: cabin",
        "measures: oil temp, zone: cabin",
        "indicators/oil gauge/spec/measures",
        "oil temperature",
    ),
    ("kind: breaker", "kind: circuit breaker", "supplies/gauges breaker/spec/kind", "breaker"),
    ("kind: structure", "kind: airframe", "grounds/airframe/kind", "structure"),
    ("kind: firewall", "kind: fire wall", "barriers/firewall/kind", "firewall"),
    ("kind: selector switch", "kind: rotary switch", "junctions/selector/spec/kind", "selector switch"),
    ("cruise: {readings", "cruise: {phase: cruising, readings", "operating_points/cruise/phase", "cruise"),
    ("rating: 5 A", "rating: '60 A'", "supplies/gauges breaker/spec/rating", 60.0),
    ("rating: 5 A", "rating: 70 Amps", "supplies/gauges breaker/spec/rating", 70.0),
    # 3 in are 0.0762 m, by the definition of the inch (25.4 mm)
    ("distance: 3 in", "distance: 3 IN", "probes/exhaust 1/distance", 3 * 0.0254),
    ("distance: 3 in", "distance: 3 in.", "probes/exhaust 1/distance", 3 * 0.0254),
    (
        "cruise: {readings",
        "cruise: {engine_speed: 2400 RPM, readings",
        "operating_points/cruise/engine_speed",
        2400.0,
    ),
]


@pytest.mark.parametrize(("written", "instead", "path", "meant"), UNDERSTOOD)
def test_what_people_say_is_understood(written: str, instead: str, path: str, meant: object) -> None:
    got = at(loads(spoilt(written, instead)).installation, path)
    assert got == (pytest.approx(meant, rel=1e-12) if isinstance(meant, float) else meant)


@pytest.mark.parametrize("size", ["70 A", "70A", "'70 A'", "70 amp", "70 AMPS", "70-amp"])
def test_a_breaker_by_its_size_as_people_say_it(size: str) -> None:
    text = spoilt(
        "gauges breaker: {kind: breaker, rating: 5 A,", f"gauges breaker: {{part: breaker, size: {size},"
    )
    rating = loads(text).installation.supplies["gauges breaker"].spec.rating
    assert rating == pytest.approx(70.0)


def test_a_size_is_read_as_a_figure() -> None:
    text = spoilt("kind: breaker, rating: 5 A,", "part: breaker, size: 7 1/2 A,")
    assert loads(text).installation.supplies["gauges breaker"].spec.rating == pytest.approx(7.5)


@pytest.mark.parametrize("size", ["4 contact", "4 contacts", "4 pins", "4-pin", "4 way"])
def test_a_plug_by_its_size_as_people_say_it(size: str) -> None:
    text = spoilt(
        "kind: selector switch, terminals: [common +, common -, 1 +, 1 -],",
        f"part: plug size 20 contacts, size: {size},",
    )
    assert loads(text).installation.junctions["selector"].spec.terminals == ["A", "B", "C", "D"]
