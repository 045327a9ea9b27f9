"""Papers are made from one small installation whose every figure can be worked out by hand."""

from collections.abc import Callable
from pathlib import Path

import pytest

from installcheck.analysis.study import Study
from installcheck.document import loads
from installcheck.papers import Cell, Table
from installcheck.papers import paper as paper_of
from installcheck.rules.engine import judge

SMALL = """
installation: {name: Small installation, revision: B, date: 2031-04-12, thermocouple_colours: US}
aircraft: {system_voltage: 14 V, datum: firewall, field_elevation: 5000 ft}
zones: {engine: {}, cabin: {}}
barriers: {firewall: {between: [engine, cabin], kind: firewall}}
supplies:
  alternator: {kind: alternator, voltage: 14 V, rated_current: 40 A, zone: engine}
  main bus: {kind: bus, zone: cabin}
  lamp breaker: {kind: breaker, rating: 5 A, zone: cabin}
loads:
  lamp: {current: 2 A, duty: continuous, phases: [climb, cruise], zone: engine, essential: no}
  pump: {current: 6 A, duty: intermittent, phases: [climb], connected_at: main bus, zone: cabin}
  radio: {power: 70 W, duty: continuous, connected_at: main bus, zone: cabin}
grounds:
  airframe: {kind: structure, zone: cabin}
  stud: {kind: stud, joins: airframe, resistance: 1 milliohm, zone: engine}
senders:
  pressure sender:
    {principle: resistive, measures: oil pressure, terminals: [A, B], zone: engine, tolerance: 2 psi, status: new,
    weight: 0.5 lb, station: -10 in, curve: {points: [[0 psi, 10 ohm], [100 psi, 180 ohm]]}}
probes:
  head probe: {thermocouple: J, resistance: 0.5 ohm, zone: engine, measures: head temperature, status: new}
indicators:
  pressure gauge:
    {principle: electronic resistance, measures: oil pressure, terminals: [A, B], zone: cabin, supply_terminals: [power, ground],
    supply_current: 100 mA, status: new, weight: 2 lb, station: 20 in}
  head gauge: {principle: moving-coil thermocouple, thermocouple: J, terminals: [+, '-'], zone: cabin}
junctions:
  spool: {kind: spool, resistance: 0.5 ohm, zone: cabin}
wire_runs:
  P1: {from: main bus, to: lamp breaker.in, part: AS22759/16, gauge: 20 AWG, length: 2 in}
  P2:
    {from: lamp breaker.out, to: lamp.+, part: AS22759/16, gauge: 20 AWG, bundle: harness, status: new,
    route: [{zone: cabin, length: 8 ft}, {barrier: firewall, through: fireproof grommet}, {zone: engine, length: 4 ft}],
    terminations: [{kind: ring, stud: 0.164 in}, {kind: spade}]}
  P3: {from: lamp.-, to: stud, part: AS22759/16, gauge: 20 AWG, length: 5 in, status: existing}
  P4: {from: alternator.+, to: main bus, part: AS22759/16, gauge: 8 AWG, length: 6 ft, status: existing}
  P5: {from: alternator.-, to: stud, part: AS22759/16, gauge: 8 AWG, length: 1 ft, status: existing}
  S1: {from: pressure sender.A, to: pressure gauge.A, part: AS22759/16, gauge: 20 AWG, length: 10 ft, status: new}
  S2: {from: pressure sender.B, to: spool.in, part: AS22759/16, gauge: 20 AWG, length: 9 ft, status: new}
  S3: {from: spool.out, to: pressure gauge.B, part: AS22759/16, gauge: 20 AWG, length: 1 ft, status: new}
  S4: {from: main bus, to: pressure gauge.power, part: AS22759/16, gauge: 20 AWG}
  S5: {from: pressure gauge.ground, to: airframe, part: AS22759/16, gauge: 20 AWG, length: 3 ft}
  T1:
    {part: thermocouple lead J, gauge: 22 AWG, length: 10 ft,
    conductors: {+: {from: head probe.+, to: head gauge.+}, '-': {from: 'head probe.-', to: 'head gauge.-'}}}
bundles: {harness: {zone: cabin}}
taps: {gallery: {medium: oil, zone: engine}}
fluid_lines:
  oil line:
    {from: gallery, to: gallery port.in, medium: oil, part: tube 5052-O, size: 1/4 x 0.035, status: removed}
  new line:
    {from: gallery, to: gallery port.in, medium: oil, part: tube 5052-O, size: 1/4 x 0.035, status: new,
    route: [{zone: engine, length: 14 in}, {barrier: firewall, through: bulkhead fitting}, {zone: cabin, length: 6 in}],
    support_spacing: 12 in, bend_radius: 1.5 in}
fittings: {gallery port: {kind: adapter, terminals: [in, out], zone: cabin}}
removed:
  old gauge: {kind: instrument, weight: 1.5 lb, station: 20 in, zone: cabin}
  old line: {kind: fluid line, zone: cabin}
"""

Rows = dict[str, dict[str, Cell]]


@pytest.fixture
def small() -> Study:
    """The small installation."""
    return Study(loads(SMALL))


def table_of(study: Study, paper: str) -> Table:
    """One paper of a case."""
    table = paper_of(paper, judge(study))
    assert all(len(row) == len(table.columns) for row in table.rows)
    return table


@pytest.fixture
def rows() -> Callable[..., Rows]:
    """Rows of a paper by the text in some of its columns, each a dict by heading."""

    def read(study: Study, paper: str, *keys: str) -> Rows:
        table = table_of(study, paper)
        dicts = [dict(zip(table.columns, row, strict=True)) for row in table.rows]
        found = {" ".join(str(d[k] or "") for k in keys).strip(): d for d in dicts}
        assert len(found) == len(dicts), "the keys name every row once"
        return found

    return read


@pytest.fixture(scope="session")
def demo() -> Path:
    """The folder of demonstration installations."""
    return Path(__file__).parents[2] / "demo_aircraft"
