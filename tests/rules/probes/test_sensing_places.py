import pytest

BASE = """
zones: {{engine: {{}}, cabin: {{}}}}
engines: {{engine: {{speed: 2700 rpm{engine}}}}}
taps: {{tap: {{medium: {medium}{where}, zone: engine}}}}
fittings: {{hole: {{kind: {fitting}, terminals: [in, out], screwed_into: tap, zone: engine}}}}
indicators: {{gauge: {{principle: direct pressure, measures: {measure}, ports: [P], zone: cabin}}}}
fluid_lines: {{L: {{kind: tube, from: hole.out, to: gauge.P}}}}
"""


@pytest.fixture
def tapped(judged):
    def run(measure, medium, where, *, engine="", fitting="union"):
        place = f", location: {where}" if where else ""
        text = BASE.format(measure=measure, medium=medium, where=place, engine=engine, fitting=fitting)
        [verdict] = judged(text, "pressure-tap")
        return verdict

    return run


def test_oil_at_the_gallery(tapped):
    assert tapped("oil pressure", "oil", "gallery").outcome == "meets"
    verdict = tapped("oil pressure", "oil", "pump outlet")
    assert verdict.outcome == "advisory"
    assert "hides a blocked filter" in verdict.message
    assert verdict.path == ("taps", "tap", "location")
    assert tapped("oil pressure", "oil", "").outcome == "undetermined"


def test_fuel_where_its_limit_applies(tapped):
    reference = ", fuel_pressure_reference: servo inlet"
    assert tapped("fuel pressure", "fuel", "servo inlet", engine=reference).outcome == "meets"
    verdict = tapped("fuel pressure", "fuel", "divider", engine=reference)
    assert verdict.outcome == "discrepancy"
    assert verdict.remedy == "take it at the servo inlet"
    assert tapped("fuel pressure", "fuel", "carburettor inlet").outcome == "meets"
    assert tapped("fuel pressure", "fuel", "pump outlet").outcome == "advisory"
    assert tapped("fuel pressure", "fuel", "divider").outcome == "undetermined"


def test_manifold_pressure_at_plenum_or_port(tapped):
    assert tapped("manifold pressure", "fuel-air mixture", "plenum").outcome == "meets"
    assert tapped("manifold pressure", "fuel-air mixture", "port", fitting="restrictor").outcome == "meets"
    assert tapped("manifold pressure", "fuel-air mixture", "port", fitting="damper").outcome == "meets"
    verdict = tapped("manifold pressure", "fuel-air mixture", "port")
    assert verdict.outcome == "advisory"
    # one stroke in two revolutions: 2700/120
    assert "22.5 Hz" in verdict.message


def test_another_medium_is_not_the_tap(tapped):
    assert tapped("manifold pressure", "oil", "gallery").outcome == "undetermined"


def test_sender_says_where_it_senses(judged):
    text = """
zones: {{engine: {{}}}}
engines: {{engine: {{}}}}
senders: {{transducer: {{principle: pressure transducer, measures: manifold pressure, terminals: [+, s, '-'], ports: [P], location: {where}, zone: engine}}}}
indicators: {{gauge: {{principle: voltage, measures: manifold pressure, terminals: [5 V, s, '-'], zone: engine}}}}
wire_runs: {{W: {{from: transducer.s, to: gauge.s}}}}
"""
    [verdict] = judged(text.format(where="airbox"), "pressure-tap")
    assert verdict.outcome == "discrepancy"
    assert "reads the pressure outside" in verdict.message
    [verdict] = judged(text.format(where="firewall"), "pressure-tap")
    assert verdict.outcome == "undetermined"


OIL = """
zones: {{engine: {{}}}}
engines: {{engine: {{{reference}}}}}
senders: {{bulb: {{principle: resistance bulb, measures: oil temperature, terminals: [A, B]{where}, zone: engine}}}}
"""
IN_OIL = ", immersed: yes"


@pytest.mark.parametrize(
    ("reference", "where", "outcome"),
    [
        ("oil_reference: inlet", ", location: engine inlet", "meets"),
        ("", ", location: engine inlet", "meets"),
        ("oil_reference: inlet", ", location: sump", "discrepancy"),
        ("oil_reference: sump", ", location: sump", "meets"),
        ("oil_reference: sump", ", location: engine inlet", "discrepancy"),
        ("", ", location: sump", "advisory"),
        ("oil_reference: inlet", "", "undetermined"),
    ],
)
def test_oil_temperature(judged, reference, where, outcome):
    [verdict] = judged(OIL.format(reference=reference, where=where + IN_OIL), "oil-temperature-place")
    assert verdict.outcome == outcome


@pytest.mark.parametrize(
    ("reference", "immersed", "outcome"),
    [
        ("oil_reference: inlet", ", immersed: no", "discrepancy"),
        ("", ", immersed: no", "advisory"),
        ("oil_reference: inlet", ", immersed: unknown", "undetermined"),
        ("oil_reference: inlet", "", "undetermined"),
    ],
)
def test_a_bulb_that_is_not_wholly_in_the_oil(judged, reference, immersed, outcome):
    where = f", location: engine inlet{immersed}"
    [verdict] = judged(OIL.format(reference=reference, where=where), "oil-temperature-place")
    assert verdict.outcome == outcome


AIR = """
zones: {{engine: {{hot_parts: yes}}, tail: {{hot_parts: no}}}}
engines: {{engine: {{{engine}}}}}
probes: {{probe: {{measures: {measure}{mount}, zone: {zone}}}}}
"""


@pytest.mark.parametrize(
    ("mount", "engine", "outcome"),
    [
        (", mount: airbox", "preheat_limit: yes", "meets"),
        (", mount: carburettor body", "preheat_limit: no", "meets"),
        (", mount: carburettor body", "preheat_limit: yes", "discrepancy"),
        (", mount: fin", "", "discrepancy"),
        ("", "", "undetermined"),
    ],
)
def test_carburettor_air(judged, mount, engine, outcome):
    text = AIR.format(engine=engine, mount=mount, measure="carburettor air temperature", zone="engine")
    [verdict] = judged(text, "carburettor-air-place")
    assert verdict.outcome == outcome


@pytest.mark.parametrize(
    ("mount", "zone", "outcome"),
    [
        (", mount: outside", "tail", "meets"),
        (", mount: outside", "engine", "discrepancy"),
        (", mount: airbox", "tail", "discrepancy"),
        ("", "tail", "undetermined"),
    ],
)
def test_outside_air(judged, mount, zone, outcome):
    text = AIR.format(engine="", mount=mount, measure="outside air temperature", zone=zone)
    [verdict] = judged(text, "outside-air-place")
    assert verdict.outcome == outcome


AIR_BULB = """
zones: {{engine: {{}}, tail: {{}}}}
engines: {{engine: {{}}}}
senders: {{bulb: {{principle: resistance bulb, measures: {measure}, location: {where}, zone: tail{immersed}}}}}
"""


@pytest.mark.parametrize(
    ("rule", "measure", "where"),
    [
        ("carburettor-air-place", "carburettor air temperature", "airbox"),
        ("carburettor-air-place", "carburettor air temperature", "carburettor inlet"),
        ("outside-air-place", "outside air temperature", "outside"),
    ],
)
@pytest.mark.parametrize(
    ("immersed", "outcome"),
    [
        (", immersed: yes", "meets"),
        (", immersed: no", "discrepancy"),
        (", immersed: unknown", "undetermined"),
        ("", "undetermined"),
    ],
)
def test_a_bulb_stands_wholly_in_the_air(judged, rule, measure, where, immersed, outcome):
    [verdict] = judged(AIR_BULB.format(measure=measure, where=where, immersed=immersed), rule)
    assert verdict.outcome == outcome
    if outcome == "discrepancy":
        assert verdict.path == ("senders", "bulb", "immersed")


@pytest.mark.parametrize(
    ("immersed", "outcome"), [("yes", "meets"), ("no", "advisory"), ("unknown", "undetermined")]
)
def test_a_bulb_in_the_coolant(judged, immersed, outcome):
    text = f"senders: {{bulb: {{principle: resistance bulb, measures: coolant temperature, immersed: {immersed}}}}}"
    [verdict] = judged(text, "bulb-immersed")
    assert verdict.outcome == outcome
