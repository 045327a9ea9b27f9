"""A figure of a part that hangs on a word: once that word is written otherwise, the part tells it no more."""

import pytest

from installcheck import check
from installcheck.document import loads
from installcheck.document.edited import edited
from installcheck.model.edits import Edit, Put

PROBE = """
installation: {{name: test}}
zones: {{bay: {{}}}}
probes: {{probe: {{part: bayonet probe J isolated, zone: bay{more}}}}}
"""


@pytest.mark.parametrize(
    ("more", "ohms"),
    [
        ("", 0.31),  # with its own 10 in
        (", lead_length: 10 in", 0.31),
        (", lead_length: 30 ft", None),
        (", thermocouple: K", None),
        (", lead_length: 30 ft, resistance: 11 ohm", 11),
    ],
)
def test_a_probe_with_another_lead(more, ohms):
    document = loads(PROBE.format(more=more))
    assert document.installation.probes["probe"].spec.resistance == ohms
    assert document.declared_unknown(("probes", "probe", "resistance")) is (ohms is None)


RUNS = """
installation: {{name: test}}
zones: {{bay: {{fire_zone: yes}}, cabin: {{}}}}
grounds: {{airframe: {{kind: structure}}}}
supplies: {{battery: {{kind: battery, voltage: 12 V}}}}
wire_runs: {{W1: {{part: AS22759/16, gauge: 4 AWG, from: battery.-, to: airframe, length: 1 ft{wire}}}}}
taps: {{tap: {{medium: oil, zone: bay, max_pressure: 100 psi}}}}
fittings: {{elbow: {{part: adapter AN816 steel, size: '-4', zone: bay{fitting}}}}}
fluid_lines: {{L1: {{part: tube 5052-O, size: 1/4 x 0.035, from: tap, to: elbow.flare{line}}}}}
"""


def made(**more):
    return loads(RUNS.format(**{"wire": "", "fitting": "", "line": ""} | more))


def test_a_wire_of_another_metal_has_the_resistance_of_that_metal():
    wire = made(wire=", metal: aluminium").installation.wire_runs["W1"].spec
    assert (wire.resistance, wire.metal) == (None, "aluminium")
    assert made(wire=", metal: tin-plated copper").installation.wire_runs["W1"].spec.resistance is not None


def test_a_wire_in_another_insulation_is_rated_for_nothing_known():
    document = made(wire=", insulation: vinyl")
    assert document.installation.wire_runs["W1"].spec.temperature_rating is None
    found = {v.rule: v for v in check(document).verdicts if v.at[0] == "W1"}
    assert {found[r].outcome for r in ("wire-temperature", "wire-voltage")} == {"undetermined"}


def test_a_fitting_of_another_metal_is_not_fireproof_by_its_part():
    assert made().installation.fittings["elbow"].spec.fireproof
    spec = made(fitting=", material: aluminium").installation.fittings["elbow"].spec
    assert (spec.fireproof, spec.rated_pressure) == (None, None)


@pytest.mark.parametrize("line", [", material: copper", ", wall: 0.028 in"])
def test_a_tube_of_another_metal_or_wall_bears_what_that_bears(line):
    spec = made(line=line).installation.fluid_lines["L1"].spec
    assert (spec.rated_pressure, spec.burst_pressure) == (None, None)


def test_what_is_put_back_is_known_again():
    document = loads(PROBE.format(more=", lead_length: 30 ft"))
    path = ("probes", "probe", "lead_length")
    again = edited(document, Edit((Put(path, "10 in"),), "its own lead"))
    assert again.installation.probes["probe"].spec.resistance == 0.31
    assert not again.declared_unknown(("probes", "probe", "resistance"))
    assert edited(again, Edit((Put(path, "30 ft"),), "a long lead")).declared_unknown(
        ("probes", "probe", "resistance")
    )
