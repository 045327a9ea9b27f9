import pytest

TEXT = """
zones: {{bay: {{}}}}
taps: {{tap: {{medium: oil, zone: bay}}}}
senders: {{sender: {{principle: switch, terminals: [S], ports: [P], zone: bay}}}}
fluid_lines: {{L1: {{from: tap, to: sender.P, {line}}}}}
"""
AL = "kind: tube, material: 5052-O aluminium, outside_diameter: 1/4 in, length: 60 in"
STEEL = "kind: tube, material: 304 stainless, outside_diameter: 1/4 in, length: 60 in"


def one(judged, rule, line):
    [verdict] = judged(TEXT.format(line=line), rule)
    return verdict


@pytest.mark.parametrize(
    ("line", "outcome", "margin"),
    [
        # AC 43.13-1B table 9-2: 9/16 in for 1/4 in aluminium (recalled, so an advisory), 7/8 in for steel
        (f"{AL}, bend_radius: 3/8 in", "advisory", 0.375 - 0.5625),
        (f"{AL}, bend_radius: 9/16 in", "meets", 0),
        (f"{STEEL}, bend_radius: 3/4 in", "advisory", 0.75 - 0.875),
        # table 9-3: 3 in for a -4 hose
        ("kind: hose, standard: MIL-H-8794, end_form: hose end -4, bend_radius: 2.5 in", "discrepancy", -0.5),
        ("kind: hose, min_bend_radius: 4 in, bend_radius: 5 in", "meets", 1),
    ],
)
def test_bends(judged, line, outcome, margin):
    verdict = one(judged, "line-bend", line)
    assert verdict.outcome == outcome
    assert verdict.margin == pytest.approx(margin, abs=1e-6)
    assert verdict.unit == "in"


@pytest.mark.parametrize(
    "line", [AL, "kind: tube, material: copper, outside_diameter: 1/4 in, bend_radius: 1 in", "length: 1 m"]
)
def test_bends_that_cannot_be_judged(judged, line):
    assert one(judged, "line-bend", line).outcome == "undetermined"


def test_a_straight_tube_has_no_bend_to_judge(judged):
    assert judged(TEXT.format(line=f"{AL}, bends: 0"), "line-bend") == []


@pytest.mark.parametrize(
    ("line", "outcome", "limit"),
    [
        (f"{AL}, support_spacing: 13.5 in", "meets", 13.5),
        (f"{AL}, support_spacing: 20 in", "advisory", 13.5),
        (f"{STEEL}, support_spacing: 20 in", "discrepancy", 16),
        # copper: 13.5 in times 0.84
        (
            "kind: tube, material: copper, outside_diameter: 1/4 in, length: 60 in, support_spacing: 12 in",
            "advisory",
            11.34,
        ),
        ("kind: hose, length: 60 in, support_spacing: 30 in", "discrepancy", 24),
    ],
)
def test_supports(judged, line, outcome, limit):
    verdict = one(judged, "line-supports", line)
    assert verdict.outcome == outcome
    assert verdict.limit == pytest.approx(limit)


def test_the_remedy_counts_the_clamps(judged):
    # 60/13.5 = 4.44: five spans, four clamps
    assert "put 4 clamps" in one(judged, "line-supports", f"{AL}, support_spacing: 20 in").remedy


def test_a_short_line_needs_none(judged):
    assert one(judged, "line-supports", AL.replace("60 in", "13 in")).outcome == "meets"
    assert judged(TEXT.format(line="kind: tube, length: 6 in"), "line-supports") == []


def test_supports_not_given(judged):
    assert one(judged, "line-supports", AL).missing == ("distance between supports of the line",)
    assert one(judged, "line-supports", "kind: tube, length: 60 in").outcome == "undetermined"


def test_held_by_ties(judged):
    assert (
        one(judged, "line-supports", f"{AL}, support_spacing: 10 in, supported_by: ties").outcome
        == "advisory"
    )


def test_two_feet_are_24_inches(judged):
    [inches] = judged(TEXT.format(line="kind: hose, length: 24 in"), "line-supports")
    [feet] = judged(TEXT.format(line="kind: hose, length: 2 ft"), "line-supports")
    assert inches.outcome == feet.outcome == "meets"
    [held] = judged(TEXT.format(line="kind: hose, length: 60 in, support_spacing: 2 ft"), "line-supports")
    assert (held.outcome, held.margin) == ("meets", 0)


@pytest.mark.parametrize(
    ("od", "most", "outcome"),
    [
        # MIL-H-8891A table II; below 1/4 in the figure is only recalled, so an advisory
        ("3/16", 14, "advisory"),
        ("1/4", 16, "discrepancy"),
        ("5/16", 18, "discrepancy"),
        ("3/8", 20, "discrepancy"),
        ("1/2", 23, "discrepancy"),
        ("5/8", 25.5, "discrepancy"),
        ("3/4", 27.5, "discrepancy"),
        ("1", 30, "discrepancy"),
        ("1 1/4", 31.5, "discrepancy"),
        ("1 1/2", 32.5, "discrepancy"),
    ],
)
def test_supports_of_steel_tube(judged, od, most, outcome):
    steel = f"kind: tube, material: 304 stainless, outside_diameter: {od} in, length: 120 in"
    verdict = one(judged, "line-supports", f"{steel}, support_spacing: {most + 1} in")
    assert (verdict.outcome, verdict.limit) == (outcome, pytest.approx(most))
    assert one(judged, "line-supports", f"{steel}, support_spacing: {most} in").outcome == "meets"


def test_a_least_bend_said_to_be_unknown(judged):
    verdict = one(judged, "line-bend", f"{AL}, bend_radius: 1 in, min_bend_radius: unknown")
    assert verdict.outcome == "undetermined"


JOINED = """
zones: {{bay: {{}}}}
taps: {{tap: {{medium: {medium}, zone: bay}}}}
senders: {{sender: {{principle: switch, terminals: [S], ports: [P], zone: bay}}}}
barriers: {{wall: {{between: [bay, bay]}}}}
fittings: {{join: {{kind: {kind}, terminals: [a, b]{held}}}}}
fluid_lines:
  L1: {{from: tap, to: join.a, kind: tube, material: {metal}, outside_diameter: {od}, length: 60 in, support_spacing: {apart}}}
  L2: {{from: join.b, to: sender.P, kind: tube, material: {metal}, outside_diameter: {od}, length: 3 in}}
"""


@pytest.mark.parametrize(
    ("kind", "held", "apart", "outcome", "limit"),
    [
        # MIL-H-8891A: 16 in for 1/4 in steel, about a fifth less with a union or tee: 12.8 in
        ("union", "", "15 in", "discrepancy", 12.8),
        ("tee", "", "12.8 in", "meets", 12.8),
        ("union", ", screwed_into: sender.P", "15 in", "meets", 16),
        ("elbow", "", "15 in", "meets", 16),
    ],
)
def test_a_tube_that_carries_a_union_is_held_closer(judged, kind, held, apart, outcome, limit):
    text = JOINED.format(medium="oil", metal="304 stainless", od="1/4 in", kind=kind, held=held, apart=apart)
    verdict = next(v for v in judged(text, "line-supports") if v.at[0] == "L1")
    assert (verdict.outcome, verdict.limit) == (outcome, pytest.approx(limit))


@pytest.mark.parametrize(
    ("medium", "metal", "od", "apart", "outcome", "limit"),
    [
        # an examination key gives 16 in for a 1/2 in rigid fuel line, the tables 19 in (aluminium) and 23 in (steel)
        ("fuel", "5052-O aluminium", "1/2 in", "18 in", "advisory", 16),
        ("fuel", "304 stainless", "1/2 in", "18 in", "advisory", 16),
        ("fuel", "304 stainless", "3/8 in", "18 in", "meets", 20),
        ("oil", "5052-O aluminium", "1/2 in", "18 in", "meets", 19),
    ],
)
def test_a_half_inch_fuel_line(judged, medium, metal, od, apart, outcome, limit):
    text = JOINED.format(medium=medium, metal=metal, od=od, kind="elbow", held="", apart=apart)
    verdict = next(v for v in judged(text, "line-supports") if v.at[0] == "L1")
    assert (verdict.outcome, verdict.limit) == (outcome, pytest.approx(limit))
