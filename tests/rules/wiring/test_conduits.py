import pytest

TEXT = """
zones: {{bay: {{occupied: no, temperature: {{lowest: -20 degC, highest: 85 degC}}}}}}
senders: {{s: {{terminals: [A, B], zone: bay}}}}
indicators: {{g: {{terminals: [A, B], zone: bay}}}}
bundles: {{harness: {{supported_by: conduit, outside_diameter: 0.4 in{bundle}}}}}
wire_runs:
  W1: {{from: s.A, to: g.A, outside_diameter: 0.30 in, length: 3 ft, bundle: harness}}
  W2: {{from: s.B, to: g.B, outside_diameter: 0.08 in, length: 3 ft{second}}}
"""


def document(bundle="", second=""):
    return TEXT.format(bundle=bundle, second=second)


@pytest.mark.parametrize(
    ("bore", "outcome", "margin"),
    [
        ("0.5 in", "meets", 0),  # 1.25 x 0.4 in = 0.5 in
        ("0.45 in", "advisory", -0.05),
        ("0.3 in", "discrepancy", -0.2),  # narrower than the bundle
    ],
)
def test_bore(judged, bore, outcome, margin):
    [verdict] = judged(document(f", conduit: {{bore: {bore}}}"), "conduit-bore")
    assert (verdict.outcome, verdict.margin) == (outcome, pytest.approx(margin))


def test_nothing_said_of_the_conduit(judged):
    for rule in ("conduit-bore", "conduit-kind"):
        [verdict] = judged(document(), rule)
        assert (verdict.outcome, verdict.at) == ("undetermined", ("harness",))


def test_run_alone_in_conduit(judged):
    [_, alone] = judged(
        document(second=", supported_by: conduit, conduit: {kind: metal, bore: 1/8 in}"), "conduit-bore"
    )
    # 1.25 x 0.08 in = 0.1 in
    assert (alone.outcome, alone.at, alone.limit) == ("meets", ("W2",), pytest.approx(0.1))


@pytest.mark.parametrize(
    ("said", "outcome"),
    [
        ("kind: metal", "meets"),
        ("kind: household pipe", "advisory"),
        ("kind: nonmetallic, temperature_rating: 85 degC", "meets"),
        ("kind: nonmetallic, temperature_rating: 84 degC", "discrepancy"),
        ("kind: nonmetallic", "undetermined"),
        ("bore: 1 in", "undetermined"),
        ("kind: unknown", "undetermined"),
    ],
)
def test_kind(judged, said, outcome):
    [verdict] = judged(document(f", conduit: {{{said}}}"), "conduit-kind")
    assert verdict.outcome == outcome


def test_kind_in_a_zone_of_unknown_heat(judged):
    text = document(", conduit: {kind: nonmetallic, temperature_rating: 150 degC}")
    [verdict] = judged(
        text.replace(", temperature: {lowest: -20 degC, highest: 85 degC}", ""), "conduit-kind"
    )
    assert (verdict.outcome, verdict.missing) == ("undetermined", ("temperature of the zone",))
