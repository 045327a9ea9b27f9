import pytest

TEXT = """
zones: {{bay: {{}}}}
senders: {{bulb: {{principle: vapour-pressure bulb, ports: [P], zone: bay{bulb}}}}}
indicators: {{gauge: {{principle: capillary, ports: [P], zone: bay}}}}
fittings: {{union: {{kind: union, ports: ['1', '2']}}}}
fluid_lines: {{C1: {{from: bulb.P, to: {to}, kind: capillary{line}}}}}
"""


def judge(judged, rule, bulb=", capillary_length: 10 ft", line=", length: 9 ft", to="gauge.P"):
    return judged(TEXT.format(bulb=bulb, line=line, to=to), rule)


def test_long_enough(judged):
    [verdict] = judge(judged, "capillary-whole")
    # 120 in made, 108 in of way
    assert (verdict.outcome, verdict.margin) == ("meets", pytest.approx(12))


def test_too_short(judged):
    [verdict] = judge(judged, "capillary-whole", line=", length: 11 ft 6 in")
    assert (verdict.outcome, verdict.margin) == ("discrepancy", pytest.approx(-18))
    assert "cannot be spliced" in verdict.remedy


def test_joined(judged):
    [verdict] = judge(judged, "capillary-whole", to="union.1")
    assert verdict.outcome == "discrepancy"
    assert "never cut or joined" in verdict.message


def test_length_not_given(judged):
    assert judge(judged, "capillary-whole", bulb="")[0].missing == ("length of the capillary as made",)


def test_bend_and_coil(judged):
    line = ", length: 7 ft, bend_radius: 2 in, coil_radius: 30 mm"
    bend, coil = judge(judged, "capillary-bend", line=line)
    # 50.8 mm against 50 mm; 36 in round 30 mm: 914.4/(2 pi 30) = 4.85 turns
    assert (bend.outcome, bend.margin) == ("meets", pytest.approx(0.8))
    assert (coil.outcome, coil.margin) == ("advisory", pytest.approx(-20))
    assert "36 in in 4.9 turns" in coil.message


def test_bend_of_copper_and_of_the_part(judged):
    [bend] = judge(judged, "capillary-bend", line=", length: 10 ft, bend_radius: 8 mm, material: copper")
    assert (bend.outcome, bend.limit) == ("meets", pytest.approx(5))
    line = ", length: 10 ft, bend_radius: 8 mm, material: copper, min_bend_radius: 50 mm"
    [bend] = judge(judged, "capillary-bend", line=line)
    assert (bend.outcome, bend.limit) == ("advisory", pytest.approx(50))


def test_what_is_not_said(judged):
    bend, coil = judge(judged, "capillary-bend", line=", length: 7 ft")
    assert bend.missing == ("smallest bend radius of the line",)
    assert coil.missing == ("radius of the coil that takes up the spare capillary",)


def test_a_capillary_is_no_line_that_brings_fuel(judged):
    assert judged(TEXT.format(bulb="", line="", to="gauge.P"), "fluid-into-cabin") == []


@pytest.mark.parametrize(
    ("immersed", "outcome"), [("yes", "meets"), ("no", "advisory"), ("unknown", "undetermined")]
)
def test_a_bulb_in_the_fluid(judged, immersed, outcome):
    [verdict] = judge(judged, "bulb-immersed", bulb=f", immersed: {immersed}")
    assert verdict.outcome == outcome
    assert ("coldest" in verdict.message) == (immersed == "no")
