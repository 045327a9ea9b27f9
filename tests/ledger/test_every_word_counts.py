"""Every word a document can hold is read by some rule or output: what is accepted and read by nothing is a silent promise."""

from __future__ import annotations

import sys
from collections import defaultdict

import pytest
from installations import NAMES, demo, read

from installcheck import check
from installcheck.analysis.study import Study
from installcheck.comparison import compare
from installcheck.document import Document, loads
from installcheck.faults.play import play, usual_point
from installcheck.model.devices import IndicatorSpec, InputSpec
from installcheck.model.fields import Model
from installcheck.model.installation import Installation
from installcheck.outputs.diagram.sheets import Subject, sheets
from installcheck.outputs.report.record import record
from installcheck.papers import PAPERS, paper
from installcheck.rules.engine import all_rules, judge
from installcheck.rules.samples import samples

DEAF = (
    "installcheck.model.",
    "installcheck.document.",
    "installcheck.comparison.differences",
    "installcheck.comparison.matching",
)
"""Modules that pass over every field alike, whatever it says."""

GENERAL = frozenset(
    [
        "title",
        "notes",
        "engine",
        "station",
        "quantity",
        "source",
        "standard",
        "weight",
        "size",
        "zone",
        "status",
        "part",
        "temperature",
        "terminals",
        "ports",
        "fitted",
        "record",
    ]
)
"""Words that every thing or every part has: read of one, they are read of all."""

LATER = {
    ("Survey", "columns"): "read where a log is, which a text without a file cannot name",
    ("Survey", "unconnected"): "as its columns",
    ("IndicatorSpec", "poles"): "told of the part; what is shown hangs on the generator it is made for",
    ("InputSpec", "poles"): "as of the indicator",
}
"""Words no reader is seen of here, and why."""

MORE = """
installation: {name: words that no demo writes, thermocouple_colours: US, date: 2026-01-01}
aircraft: {basis: CAR 3, operation: [VFR day]}
engines: {engine: {cylinders: 4, cooling: air, hottest_cylinder: 1, hottest_source: engine manual, automatic_mixture: no, preheat_rise: 50 degC, fuel_feed: gravity, limits: {oil pressure: {maximum: 100 psi}, oil temperature: {maximum: 100 degC}}}}
zones:
  bay: {vibrates: yes, fire_zone: yes, occupied: no, temperature: {lowest: 0 degC, highest: 80 degC}}
  cabin: {occupied: yes, temperature: {lowest: 0 degC, highest: 40 degC}}
barriers: {firewall: {between: [bay, cabin], kind: firewall}}
operating_points: {cruise: {phase: cruise, engine_speed: 2400 rpm, outside_air: 5 degC, readings: {fuel flow: 10 gal/h, oil temperature: 90 degC, load current: 20 A}, zone_temperatures: {bay: 60 degC, cabin: 20 degC}}}
grounds:
  airframe: {kind: structure, zone: cabin}
  stud: {kind: stud, joins: airframe, through: painted bolts, material: aluminium, zone: bay}
  strap: {kind: strap, from: stud, to: airframe, gauge: 8 AWG, length: 1 ft}
taps: {gallery: {medium: oil, zone: bay, pressure: 60 psi}}
senders:
  generator: {principle: tachometer generator, measures: engine speed, terminals: ['1', '2', '3'], poles: 4, zone: bay}
  meter: {principle: pulse pick-up, measures: fuel flow, terminals: [A, B], ports: [in, out], pulses_per_gallon: 30000, zone: bay}
  bulb: {principle: liquid-filled bulb, filling: xylene, measures: oil temperature, ports: [P], bulb_volume: 2 cm3, capillary_bore: 0.01 in, zone: bay, elevation: 1 ft}
  air bulb: {principle: thermistor, measures: outside air temperature, terminals: [A, B], zone: bay, curve: {points: [[-20 degC, 900 ohm], [40 degC, 100 ohm]]}}
  heavy: {principle: pressure transducer, measures: oil pressure, terminals: [A, B], ports: [P], zone: bay, mounted_on: engine, screwed_into: valve.out, weight: 0.2 kg, arm: 2 in}
indicators:
  tachometer: {principle: synchronous tachometer, measures: engine speed, terminals: ['1', '2', '3'], poles: 4, generator_poles: 4, zone: cabin, scale: {lowest: 0 rpm, highest: 3500 rpm}}
  flow gauge: {principle: pulse counter, measures: fuel flow, terminals: [A, B], pulses_per_gallon: 30000, zone: cabin, budget: 1 gal/h, accuracy: 0.1 gal/h, scale: {lowest: 0 gal/h, highest: 30 gal/h}}
  air gauge: {principle: electronic resistance, measures: outside air temperature, terminals: [A, B], zone: cabin, excitation: 5 V, pull_up: 1 kohm, curve: {points: [[-20 degC, 900 ohm], [40 degC, 100 ohm]]}, scale: {lowest: -20 degC, highest: 40 degC}}
  ammeter: {principle: voltage, measures: load current, terminals: [a, b], zone: cabin, inner_resistance: 50 ohm, accuracy: 1 A, full_scale: 50 A, input_range: {lowest: 0 mV, highest: 50 mV}, budget: 2 A, scale: {lowest: 0 A, highest: 50 A}}
  capillary gauge: {principle: capillary, measures: oil temperature, ports: [P], zone: cabin, elevation: 2 ft, budget: 5 degC, accuracy: 2 degC, scale: {lowest: 0 degC, highest: 120 degC}}
junctions:
  plug: {kind: plug, mates: socket, zone: bay, smallest_gauge: 24 AWG, largest_gauge: 18 AWG, pins: {A: {function: oil signal}, B: {spare: yes}}}
  shunt: {kind: shunt, resistance: 1 milliohm, tolerance: 1 %, terminals: [in, out, sense +, sense -], zone: cabin}
  socket: {kind: plug, mates: plug, zone: bay, pins: {A: {function: oil signal}, B: {spare: yes}}}
fittings: {valve: {kind: check valve, ports: [in, out], flow: [in, out], screwed_into: gallery, zone: bay}, cock: {kind: cock, ports: [in, out], position: closed, zone: bay}}
probes: {head: {kind: bayonet, thermocouple: J, measures: head temperature, cylinder: 1, zone: bay, location_note: behind the baffle}}
wire_runs:
  T1: {kind: wire, gauge: 20 AWG, from: generator.1, to: tachometer.1}
  T2: {kind: wire, gauge: 20 AWG, from: generator.2, to: tachometer.2}
  T3: {kind: wire, gauge: 20 AWG, from: generator.3, to: tachometer.3}
  A1: {kind: wire, gauge: 20 AWG, from: air bulb.A, to: air gauge.A}
  A2: {kind: wire, gauge: 20 AWG, from: air bulb.B, to: air gauge.B}
  F1: {kind: wire, gauge: 20 AWG, from: meter.A, to: flow gauge.A}
  F2: {kind: wire, gauge: 20 AWG, from: meter.B, to: flow gauge.B}
  W1: {kind: wire, gauge: 20 AWG, from: heavy.A, to: plug.A}
  S1: {kind: wire, gauge: 20 AWG, from: shunt.sense +, to: ammeter.a}
  S2: {kind: wire, gauge: 20 AWG, from: shunt.sense -, to: ammeter.b}
  L1: {kind: thermocouple lead, thermocouple: J, thermocouple_colours: IEC, conductors: {'+': {from: head.+, to: socket.A}}}
fluid_lines:
  capillary: {kind: capillary, from: bulb.P, to: capillary gauge.P, medium: bulb filling, zone: cabin}
  old hose: {kind: hose, from: cock.in, to: cock.out, medium: oil, status: removed, open_ends: capped, slack: 1 in}
survey: {climb: {engine: engine, columns: {cht 1: a}, unconnected: [b], log: climb.csv}}
measured: [{of: W1, what: resistance, value: 0.2 ohm, date: 2026-01-02, by: R. Fitter}]
"""
BASES = ("part 25", "part 27")
"""Certification bases that ask what CAR 3 does not."""


def _models(kind=Installation, seen=None):
    """Every model a document is made of."""
    seen = set() if seen is None else seen
    for field in kind.model_fields.values():
        for inner in _classes(field.annotation):
            if inner not in seen:
                seen.add(inner)
                _models(inner, seen)
    return seen


def _classes(annotation):
    if isinstance(annotation, type) and issubclass(annotation, Model):
        yield annotation
    for argument in getattr(annotation, "__args__", ()):
        yield from _classes(argument)


@pytest.fixture(scope="module")
def readers():
    """Which modules read which field, over every demo and sample, every rule, paper, sheet, fault and comparison."""
    found = defaultdict(set)
    fields = {kind: set(kind.model_fields) for kind in _models()}
    plain = Model.__getattribute__

    def watched(self, name):
        known = fields.get(type(self))
        if known is not None and name in known:
            module = sys._getframe(1).f_globals.get("__name__", "")
            if module.startswith("installcheck.") and not module.startswith(DEAF):
                found[type(self), name].add(module)
        return plain(self, name)

    documents = [read(demo(name)) for name in NAMES]
    documents.append(loads(MORE))
    documents += [loads(MORE.replace("CAR 3", basis)) for basis in BASES]
    documents += [loads(text) for rule in all_rules().values() for text in (samples(rule).texts.values())]
    Model.__getattribute__ = watched
    try:
        for document in documents[len(NAMES) + 1 :]:
            check(document)
        for document in documents[: len(NAMES) + 1]:
            _put_out(document)
        compare(documents[0], documents[1])
    finally:
        del Model.__getattribute__
    return found


def _put_out(document: Document) -> None:
    study = Study(document)
    ledger = judge(study)
    for word in PAPERS:
        paper(word, ledger)
    sheets(document, ledger, list(Subject))
    record(ledger)
    play(study, usual_point(study))


def _is_read(readers, kind, name):
    if readers[kind, name]:
        return True
    if kind is IndicatorSpec and name in InputSpec.model_fields:
        return bool(readers[InputSpec, name])  # what an indicator says stands for its inputs
    return name in GENERAL and any(readers[other, name] for other in _models())


@pytest.mark.parametrize("kind", sorted(_models(), key=lambda k: k.__name__), ids=lambda k: k.__name__)
def test_every_field_has_a_reader(readers, kind):
    unread = sorted(
        name
        for name in kind.model_fields
        if not _is_read(readers, kind, name) and (kind.__name__, name) not in LATER
    )
    assert not unread, f"read by no rule and no output: {', '.join(unread)}"


def test_what_is_said_to_be_unread_is(readers):
    names = {kind.__name__: kind for kind in _models()}
    assert not [(kind, name) for kind, name in LATER if _is_read(readers, names[kind], name)]
