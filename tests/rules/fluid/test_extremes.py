"""Impossible and extreme figures end in verdicts, never in a traceback."""

import math

from hypothesis import given, settings
from hypothesis import strategies as st

from installcheck import check
from installcheck.document import DocumentError, loads
from installcheck.rules.engine import all_rules

RULES = [i for i, r in all_rules().items() if ".rules.fluid." in r.judge.__module__]
REFUSED = ("impossible here", "found on an aircraft", "told from zero")
assert RULES, "no rule is tried"

TEXT = """
installation: {{name: test, date: 2026-01-01}}
aircraft: {{field_elevation: {length} ft}}
engines: {{engine: {{cylinders: 4, speed: {any} rpm, oil_quantity: {any} qt, oil_minimum: 2 qt}}}}
zones:
  engine: {{vibrates: yes, fire_zone: yes, occupied: no, temperature: {{lowest: {cold} degC, highest: 2000 degC}}}}
  cabin: {{occupied: yes, vibrates: no, fire_zone: no, volume: {any} m3, temperature: {{lowest: {cold} degC, highest: 2000 degC}}}}
barriers: {{firewall: {{between: [engine, cabin], kind: firewall}}}}
taps:
  a: {{medium: {medium}, zone: engine, pressure: {pressure} psi, temperature: {hot} degC, thread: {words}, shutoff: cock, shutoff_time: {any} s}}
  b: {{medium: oil, zone: engine, pressure: 60 psi}}
senders:
  sender: {{principle: pressure transducer, measures: oil pressure, terminals: ['+', '-'], ports: [P], zone: engine, mounted_on: engine, screwed_into: tee.3, weight: {any} kg, arm: {length} in, elevation: {length} ft, proof_pressure: {any} psi}}
  bulb: {{principle: vapour-pressure bulb, ports: [P], zone: engine, capillary_length: {length} ft}}
indicators:
  gauge: {{principle: direct pressure, measures: manifold pressure, ports: [P], zone: cabin, elevation: {length} ft, budget: {any} psi}}
  dial: {{principle: capillary, ports: [P], zone: cabin}}
fittings:
  hole: {{kind: restrictor, ports: [in, out], bore: {size} in, screwed_into: a, zone: engine, rated_pressure: {any} psi}}
  tee: {{kind: tee, ports: ['1', '2', '3'], zone: engine, ends: {{'1': {words}}}}}
fluid_lines:
  L1: {{kind: {kind}, from: hole.out, to: tee.1, outside_diameter: {size} in, wall: 0.035 in, material: 5052-O aluminium, length: {length} in, slack: {any} in, rise: -{any} in, low_point_drain: no, bend_radius: {size} in, support_spacing: {size} in, burst_pressure: {any} psi, end_form: {words}, fitted: 2020-02-29, life: {life} years}}
  L2: {{kind: {kind}, from: tee.2, to: gauge.P, bore: {size} in, route: [{{zone: engine, length: {length} in}}, {{barrier: firewall}}, {{zone: cabin, length: {length} in}}], rated_pressure: {any} psi, temperature_rating: {hot} degC, standard: MIL-H-8794, size: {words}}}
  L3: {{kind: tube, from: b, to: tee.2, length: {length} in, bore: {size} in}}
  L4: {{kind: tube, from: tee.1, to: tee.2, length: {length} in, bore: {size} in}}
  C1: {{kind: capillary, from: bulb.P, to: dial.P, length: {length} ft, coil_radius: {size} in, coiled: {length} ft, bend_radius: {size} in}}
measured: [{{what: engine-off indication, of: gauge, value: {any} inHg}}]
"""

scale = st.integers(-3, 3).map(lambda n: f"{10.0**n:.12f}")
figures = st.one_of(scale, st.just("0"))
parts = st.fixed_dictionaries(
    {
        "length": figures,
        "any": scale,
        "size": scale,
        "life": st.sampled_from(["0", "5", "100"]),
        "pressure": st.one_of(figures, st.just("-4")),
        "hot": st.sampled_from(["-273", "-60", "0", "90", "200", "5000"]),
        "cold": st.sampled_from(["-273", "-60", "0", "500"]),
        "medium": st.sampled_from(
            ["fuel", "oil", "hydraulic fluid", "fuel-air mixture", "primer fuel", "coolant"]
        ),
        "kind": st.sampled_from(["tube", "hose", "capillary"]),
        "words": st.sampled_from(
            ["'-4'", "37 degree flare -4", "1/0 pipe thread", "45 flare 1/0", "'5/8-18'", "x"]
        ),
    }
)


def _read(text):
    """The document; nothing if it is refused, and then only for figures that cannot be, each at its place."""
    try:
        return loads(text)
    except DocumentError as bad:
        problems = bad.problems
    assert all(any(word in problem.message for word in REFUSED) for problem in problems)
    return None


@settings(max_examples=150)
@given(parts)
def test_no_figure_breaks_a_rule(words):
    document = _read(TEXT.format(**words))
    if document is None:
        return
    for verdict in check(document, RULES).verdicts:
        assert verdict.message
        assert verdict.outcome != "undetermined" or verdict.missing
        for number in (verdict.value, verdict.limit, verdict.margin):
            assert number is None or math.isfinite(number)
