import pytest

TEXT = """
aircraft: {{basis: {basis}}}
engines: {{engine: {{oil_quantity: 8 qt, oil_minimum: 2 qt}}}}
zones: {{engine: {{occupied: no}}, bay: {{occupied: no}}, cabin: {{{cabin}volume: 2 m3}}}}
taps:
  tap: {{medium: {medium}, zone: engine, pressure: {pressure}, temperature: 15 degC, shutoff: cock, shutoff_time: 20 s}}
indicators: {{gauge: {{principle: direct pressure, ports: [P], zone: {where}}}}}
fittings:
  hole: {{kind: restrictor, bore: 0.040 in, ports: [in, out], screwed_into: tap, zone: engine}}
fluid_lines:
  L1: {{from: {start}, to: gauge.P, kind: tube, outside_diameter: 1/4 in, wall: 0.035 in{more}}}
"""
ROUTE = ", route: [{zone: engine, length: 1 m}, {zone: bay, length: 0.5 m}, {zone: cabin, length: 0.5 m}]"


def text(**words: str) -> str:
    usual = {
        "basis": "CAR 3",
        "cabin": "occupied: yes, ",
        "medium": "fuel",
        "pressure": "25 psi",
        "where": "cabin",
        "start": "tap",
        "more": ROUTE,
    }
    return TEXT.format(**{**usual, **words})


def test_unrestricted_fuel(judged):
    [verdict] = judged(text(), "fluid-into-cabin")
    assert verdict.outcome == "discrepancy"
    assert verdict.at == ("L1", "gauge")
    assert verdict.path == ("fluid_lines", "L1", "route", 2)
    # 7.5642 L/min (tests/rules/test_fluid_leaks.py) is 7.5642/0.946353 = 7.99 US qt/min
    assert verdict.value == pytest.approx(7.5642, rel=0.005)
    assert verdict.margin == pytest.approx(-7.5642, rel=0.005)
    assert "direct-reading gauge, with no restrictor" in verdict.message
    # behind 0.040 in at Cd 0.80: 0.843 L/min (test_fluid_leaks), 0.89 US qt/min
    assert (
        "7.6 L/min (8 US qt/min), and 0.84 L/min (0.89 US qt/min) if a restrictor of 0.040 in"
        in verdict.message
    )
    # 7.5642 L/min for 20 s and 33 mL in the line: 2.55 L, 2.7 qt; LEL after 1.19 s
    assert "2.6 L (2.7 US qt) runs out before it is shut" in verdict.message
    assert "explosive limit in 1.2 s" in verdict.message
    assert "electric fuel pressure sender of 30 psi range" in verdict.remedy


def test_a_restrictor_does_not_clear_it(judged):
    [verdict] = judged(text(start="hole.out"), "fluid-into-cabin")
    assert verdict.outcome == "discrepancy"
    # 0.843 L/min, 0.89 US qt/min: 150.118 mL in 10.7 s
    assert verdict.value == pytest.approx(0.843, rel=0.005)
    assert "behind a restrictor" in verdict.message
    assert (
        "0.84 L/min (0.89 US qt/min), and 7.6 L/min (8 US qt/min) without the restrictor" in verdict.message
    )
    assert "explosive limit in 11 s" in verdict.message


def test_amateur_built_is_a_recommendation(judged):
    [verdict] = judged(text(basis="amateur-built"), "fluid-into-cabin")
    assert verdict.outcome == "advisory"
    assert "recommendation" in verdict.message


def test_a_drained_shroud_behind_a_restrictor(judged):
    [verdict] = judged(text(start="hole.out", more=ROUTE + ", shrouded: yes"), "fluid-into-cabin")
    assert verdict.outcome == "advisory"
    [bare] = judged(text(more=ROUTE + ", shrouded: yes"), "fluid-into-cabin")
    assert bare.outcome == "discrepancy"


def test_mixture_is_an_advisory(judged):
    [verdict] = judged(text(medium="fuel-air mixture", pressure="-4 psi"), "fluid-into-cabin")
    assert verdict.outcome == "advisory"
    assert "draws cabin air in" in verdict.message
    [boosted] = judged(text(medium="fuel-air mixture", pressure="5 psi"), "fluid-into-cabin")
    assert "blows it in" in boosted.message


def test_air_meets(judged):
    [verdict] = judged(text(medium="air"), "fluid-into-cabin")
    assert verdict.outcome == "meets"


def test_a_line_that_stays_out_meets(judged):
    route = ", route: [{zone: engine, length: 1 m}, {zone: bay, length: 1 m}]"
    [verdict] = judged(text(where="bay", more=route), "fluid-into-cabin")
    assert verdict.outcome == "meets"


def test_a_gauge_in_the_cabin_counts_though_the_route_leaves_it_out(judged):
    route = ", route: [{zone: engine, length: 1 m}, {zone: bay, length: 1 m}]"
    [verdict] = judged(text(more=route), "fluid-into-cabin")
    assert verdict.outcome == "discrepancy"


def test_a_zone_that_may_be_occupied(judged):
    [verdict] = judged(text(cabin=""), "fluid-into-cabin")
    assert verdict.outcome == "undetermined"
    assert "occupied" in verdict.missing[0]


def test_a_line_without_a_way(judged):
    [verdict] = judged(text(more="").replace("zone: engine, pressure", "pressure"), "fluid-into-cabin")
    assert verdict.missing == ("route of the line with the length in each zone",)


def test_a_line_that_no_source_reaches(judged):
    body = (
        text()
        .replace("from: tap", "from: loose.1")
        .replace("fittings:", "fittings:\n  loose: {kind: union, ports: ['1', '2'], zone: bay}")
    )
    [verdict] = judged(body, "fluid-into-cabin")
    assert verdict.outcome == "undetermined"
    assert "tap" in verdict.missing[0]


def test_the_finding_stands_where_the_leak_is_not_known(judged):
    body = text().replace("outside_diameter: 1/4 in, wall: 0.035 in", "material: copper")
    [verdict] = judged(body, "fluid-into-cabin")
    assert verdict.outcome == "discrepancy"
    assert verdict.value is None
    assert "cannot be computed without the bore" in verdict.message


def test_a_supply_line_is_no_instrument_line(judged):
    body = """
zones: {cabin: {occupied: yes}}
taps: {tank: {medium: fuel, location: tank, zone: cabin}, inlet: {medium: fuel, location: carburettor inlet, zone: cabin}}
fluid_lines: {L1: {from: tank, to: inlet, bore: 0.3 in, length: 2 m}}
"""
    assert judged(body, "fluid-into-cabin") == []


def test_an_existing_line_behind_a_restrictor_is_an_inspection_item(judged):
    [old] = judged(text(start="hole.out", more=ROUTE + ", status: existing"), "fluid-into-cabin")
    assert old.outcome == "advisory"
    assert "inspection item" in old.message
    assert old.value == pytest.approx(0.843, rel=0.005)
    [new] = judged(text(start="hole.out", more=ROUTE + ", status: new"), "fluid-into-cabin")
    assert new.outcome == "discrepancy"
    [bare] = judged(text(more=ROUTE + ", status: existing"), "fluid-into-cabin")
    assert bare.outcome == "discrepancy"
