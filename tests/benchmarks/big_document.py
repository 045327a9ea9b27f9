"""A large installation for benchmarks: stations of ten wires each, with what such wires join in an aircraft.

``python tests/benchmarks/big_document.py 10000 > big.yaml`` writes one.
"""

from __future__ import annotations

import sys

WIRES_PER_STATION = 10

_HEAD = """\
installation: {name: large installation, revision: A, date: "2026-05-01", scope: part}
aircraft: {title: invented twin, basis: part 23 before 2017, operation: [VFR day, IFR], system_voltage: 14 V}
engines:
  engine: {cylinders: 6, layout: opposed, cooling: air, numbered_from: accessory end, pressure_oil: yes}
zones:
  engine bay:
    {fire_zone: yes, hot_parts: yes, vibrates: yes, temperature: {lowest: 0 degF, normal: 180 degF, highest: 250 degF}}
  cabin: {occupied: yes, temperature: {lowest: 0 degF, normal: 70 degF, highest: 110 degF}}
  panel: {occupied: yes, temperature: {lowest: 0 degF, normal: 80 degF, highest: 130 degF}}
barriers:
  firewall: {between: [engine bay, cabin], kind: firewall, fireproof: yes, material: stainless steel}
grounds:
  airframe: {kind: structure, zone: cabin}
  engine case: {kind: engine case, zone: engine bay}
  engine strap: {kind: strap, from: engine case, to: airframe, resistance: 0.5 milliohm}
"""

_STATION = {
    "senders": """\
  oil pressure {n}:
    {{principle: resistive, measures: oil pressure, terminals: [S], case_return: yes, zone: engine bay,
    curve: {{points: [[0 psi, 240 ohm], [80 psi, 33.5 ohm]]}}, grounding: {{to: engine case, through: thread}}}}
  oil bulb {n}:
    {{principle: resistance bulb, measures: oil temperature, terminals: [A, B], zone: engine bay, curve: {{law: nickel 90.38}}}}
""",
    "probes": """\
  head {n}: {{kind: bayonet, thermocouple: K, measures: head temperature, cylinder: {cylinder}, zone: engine bay, junction: isolated}}
""",
    "indicators": """\
  monitor {n}:
    zone: panel
    supply_terminals: [power, ground]
    supply_current: 150 mA
    inputs:
      oil pressure: {{principle: electronic resistance, measures: oil pressure, terminals: [P], budget: 3 psi}}
      oil temperature: {{principle: electronic resistance, measures: oil temperature, terminals: [T1, T2], budget: 5 degF}}
      head: {{principle: electronic thermocouple, measures: head temperature, terminals: [C+, C-], thermocouple: K, budget: 10 degF}}
""",
    "supplies": """\
  breaker {n}: {{kind: breaker, rating: 5 A, zone: panel}}
""",
    "loads": """\
  lamp {n}: {{current: 0.5 A, duty: continuous, zone: panel}}
""",
    "junctions": """\
  block {n}: {{kind: splice, zone: engine bay, contact_resistance: 0.5 milliohm}}
""",
    "wire_runs": """\
  W{n}01: {{part: AS22759/16, gauge: 22 AWG, from: oil pressure {n}.S, to: block {n}, length: 2 ft 6 in, marked: yes}}
  W{n}02:
    {{part: AS22759/16, gauge: 22 AWG, from: block {n}, to: monitor {n}.P, marked: yes,
    route: [{{zone: engine bay, length: 2 ft}}, {{barrier: firewall, through: fireproof grommet}}, {{zone: cabin, length: 3 ft}}, {{zone: panel, length: 6 in}}]}}
  W{n}03:
    {{part: AS22759/16, gauge: 22 AWG, from: oil bulb {n}.A, to: monitor {n}.T1, marked: yes,
    route: [{{zone: engine bay, length: 4 ft}}, {{barrier: firewall, through: fireproof grommet}}, {{zone: cabin, length: 2 ft 6 in}},
    {{zone: panel, length: 6 in}}]}}
  W{n}04:
    {{part: AS22759/16, gauge: 22 AWG, from: oil bulb {n}.B, to: monitor {n}.T2, marked: yes,
    route: [{{zone: engine bay, length: 4 ft}}, {{barrier: firewall, through: fireproof grommet}}, {{zone: cabin, length: 2 ft 6 in}},
    {{zone: panel, length: 6 in}}]}}
  W{n}05: {{part: AS22759/16, gauge: 18 AWG, from: main bus, to: breaker {n}.in, route: [{{zone: panel, length: 8 in}}]}}
  W{n}06: {{part: AS22759/16, gauge: 20 AWG, from: breaker {n}.out, to: lamp {n}.+, route: [{{zone: panel, length: 2 ft}}]}}
  W{n}07: {{part: AS22759/16, gauge: 20 AWG, from: lamp {n}.-, to: airframe, route: [{{zone: panel, length: 6 in}}, {{zone: cabin, length: 1 ft}}]}}
  W{n}08: {{part: AS22759/16, gauge: 20 AWG, from: breaker {n}.out, to: monitor {n}.power, route: [{{zone: panel, length: 2 ft}}]}}
  W{n}09: {{part: AS22759/16, gauge: 20 AWG, from: monitor {n}.ground, to: airframe, route: [{{zone: panel, length: 6 in}}, {{zone: cabin, length: 1 ft}}]}}
  W{n}10:
    {{part: thermocouple lead K, gauge: 20 AWG, length: 9 ft, conductors: {{+: {{from: head {n}.+, to: monitor {n}.C+}},
    -: {{from: head {n}.-, to: monitor {n}.C-}}}}}}
""",
}
_SUPPLIES = """\
  battery: {kind: battery, voltage: 12 V, capacity: 24 Ah, inner_resistance: 0.01 ohm, zone: cabin}
  main bus: {kind: bus, zone: panel}
"""
_WIRES = """\
  W1: {part: AS22759/16, gauge: 4 AWG, from: battery.+, to: main bus, route: [{zone: cabin, length: 5 ft}, {zone: panel, length: 1 ft}]}
  W2: {part: AS22759/16, gauge: 4 AWG, from: battery.-, to: airframe, route: [{zone: cabin, length: 1 ft}]}
"""


def big_document(wires: int = 10_000) -> str:
    """An installation of ``wires`` wire runs (rounded down to whole stations, and two feeds)."""
    text = [_HEAD]
    for section, station in _STATION.items():
        text.append(f"{section}:\n")
        text.append({"supplies": _SUPPLIES, "wire_runs": _WIRES}.get(section, ""))
        text += (station.format(n=n, cylinder=n % 6 + 1) for n in range(1, wires // WIRES_PER_STATION + 1))
    return "".join(text)


def common_ground(senders: int, *, studs: bool = False) -> str:
    """One-wire senders that all return through one engine case, or through a stud each, to one indicator."""
    parts: dict[str, list[str]] = {"senders": [], "wire_runs": [], "inputs": [], "grounds": []}
    for n in range(senders):
        ground = f"stud {n}" if studs else "case"
        parts["grounds"] += [f"  stud {n}: {{kind: stud, joins: case}}\n"] if studs else []
        parts["senders"].append(
            f"  s{n}: {{principle: resistive, terminals: [S], case_return: yes, grounding: {{to: {ground}}}}}\n"
        )
        parts["inputs"].append(f"      i{n}: {{terminals: [T{n}]}}\n")
        parts["wire_runs"].append(f"  W{n}: {{from: s{n}.S, to: monitor.T{n}}}\n")
    return "".join(
        (
            "installation: {name: common ground}\nsenders:\n",
            *parts["senders"],
            "indicators:\n  monitor:\n    supply_terminals: [power, ground]\n    inputs:\n",
            *parts["inputs"],
            "grounds:\n  frame: {kind: structure}\n  case: {kind: engine case}\n",
            "  strap: {kind: strap, from: case, to: frame}\n",
            *parts["grounds"],
            "wire_runs:\n  back: {from: monitor.ground, to: frame}\n",
            *parts["wire_runs"],
        )
    )


if __name__ == "__main__":
    sys.stdout.write(big_document(int(sys.argv[1]) if len(sys.argv) > 1 else 10_000))
