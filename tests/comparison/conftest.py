"""Alterations are tried by editing one small installation."""

from collections.abc import Callable

import pytest

from installcheck.comparison import Comparison, compare
from installcheck.document import loads

BASE = """\
installation: {name: test}
aircraft: {system_voltage: 14 V}
zones:
  engine: {vibrates: yes}
  cabin: {occupied: yes}
barriers:
  firewall: {between: [engine, cabin], kind: firewall}
supplies:
  battery: {kind: battery, voltage: 12 V, zone: engine}
  breaker: {kind: breaker, rating: 5 A, zone: cabin}
grounds:
  airframe: {kind: structure, zone: cabin}
  panel stud: {kind: stud, joins: airframe, zone: cabin}
loads:
  lamp: {current: 0.5 A, duty: continuous, zone: cabin, weight: 1 lb, station: 20 in}
senders:
  bulb: {principle: resistance bulb, terminals: [A, B], measures: oil temperature, zone: engine, weight: 0.2 lb, station: -10 in}
indicators:
  gauge: {principle: bridge, terminals: [A, B], zone: cabin, measures: oil temperature}
  oil gauge: {principle: direct pressure, ports: [P], measures: oil pressure, zone: cabin}
taps:
  gallery: {medium: oil, pressure: 60 psi, zone: engine}
wire_runs:
  W1: {from: bulb.A, to: gauge.A, gauge: 22 AWG, resistance: 16.2 ohm/1000 ft, route: [{zone: engine, length: 3 ft}, {barrier: firewall, through: grommet}, {zone: cabin, length: 2 ft}]}
  W2: {from: bulb.B, to: gauge.B, gauge: 22 AWG, resistance: 16.2 ohm/1000 ft, length: 5 ft}
  P1: {from: battery.+, to: breaker.in, gauge: 18 AWG, length: 4 ft}
  P2: {from: breaker.out, to: lamp.+, gauge: 20 AWG, length: 3 ft}
  P3: {from: lamp.-, to: panel stud, gauge: 20 AWG, length: 1 ft}
  P4: {from: battery.-, to: airframe, gauge: 4 AWG, length: 1 ft}
fluid_lines:
  oil line: {from: gallery, to: oil gauge.P, kind: tube, medium: oil, length: 4 ft}
"""


@pytest.fixture
def altered() -> Callable[..., Comparison]:
    """Compare the base installation with one in which each (old, new) text is exchanged."""

    def run(*edits: tuple[str, str], base: str = BASE) -> Comparison:
        text = base
        for old, new in edits:
            assert text.count(old) == 1, f"{old!r} is there {text.count(old)} times"
            text = text.replace(old, new)
        return compare(loads(base, "old.yaml"), loads(text, "new.yaml"))

    return run


@pytest.fixture
def base() -> str:
    """The installation before any alteration."""
    return BASE
