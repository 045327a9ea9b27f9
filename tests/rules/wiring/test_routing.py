import pytest

TEXT = """
zones: {{bay: {{occupied: no}}, cabin: {{occupied: yes}}}}
senders: {{s: {{terminals: [A, B], zone: {zone}}}}}
indicators: {{g: {{terminals: [A, B], zone: {zone}}}}}
bundles: {{harness: {{{bundle}}}}}
wire_runs:
  W1: {{from: s.A, to: g.A, outside_diameter: 0.30 in, length: 3 ft, bundle: harness}}
  W2: {{from: s.B, to: g.B, {second}}}
"""


def document(
    bundle="wires: 8", second="outside_diameter: 0.06 in, length: 3 ft, bundle: harness", zone="bay"
):
    return TEXT.format(bundle=bundle, second=second, zone=zone)


def test_bend_of_the_thickest_wire(judged):
    [verdict] = judged(document("bend_radius: 3 in"), "wire-bend")
    # 10 x 0.30 in
    assert (verdict.outcome, verdict.value, verdict.limit) == ("meets", pytest.approx(3), pytest.approx(3))
    [verdict] = judged(document("bend_radius: 2 in"), "wire-bend")
    assert (verdict.outcome, verdict.margin) == ("discrepancy", pytest.approx(-1))
    assert verdict.path == ("bundles", "harness", "bend_radius")


def test_run_that_speaks_for_itself(judged):
    second = "outside_diameter: 0.06 in, length: 3 ft, bundle: harness, bend_radius: 1/2 in"
    verdicts = judged(document("bend_radius: 3 in", second), "wire-bend")
    # 10 x 0.06 in = 0.6 in against 0.5 in
    assert [(v.at[0], v.outcome) for v in verdicts] == [("harness", "meets"), ("W2", "discrepancy")]


def test_bend_not_told(judged):
    [verdict] = judged(document(), "wire-bend")
    assert verdict.outcome == "undetermined"
    [verdict] = judged(document("bend_radius: 3 in", "length: 3 ft, bundle: harness"), "wire-bend")
    assert (verdict.missing, verdict.at) == (("outside diameter of the wire",), ("harness", "W2"))


def test_bend_that_suits_the_whole_bundle_suits_each_wire(judged):
    told = "bend_radius: 6 in, outside_diameter: 0.6 in"
    [verdict] = judged(document(told, "length: 3 ft, bundle: harness"), "wire-bend")
    assert (verdict.outcome, verdict.limit) == ("meets", pytest.approx(6))


def test_bend_too_tight_for_a_wire_that_is_told_is_certain(judged):
    # 10 x 0.30 in of W1, however thick W2 is
    [verdict] = judged(document("bend_radius: 1 in", "length: 3 ft, bundle: harness"), "wire-bend")
    assert (verdict.outcome, verdict.margin) == ("discrepancy", pytest.approx(-2))


def test_jumper_needs_no_bend_radius(judged):
    verdicts = judged(document("bend_radius: 3 in", "length: 5 in"), "wire-bend")
    assert [v.at[0] for v in verdicts] == ["harness"]


@pytest.mark.parametrize(
    ("bundle", "outcome"),
    [
        ("support_spacing: 12 in, supported_by: cushioned clamps", "meets"),
        ("support_spacing: 30 in, supported_by: cushioned clamps", "discrepancy"),
        ("support_spacing: 12 in, supported_by: ties", "discrepancy"),
        ("supported_by: fluid line", "discrepancy"),
        ("supported_by: conduit", "meets"),
        ("support_spacing: 12 in", "undetermined"),
        ("supported_by: cushioned clamps", "undetermined"),
    ],
)
def test_supports(judged, bundle, outcome):
    [verdict] = judged(document(bundle), "wire-supports")
    assert verdict.outcome == outcome


def test_support_figures(judged):
    [verdict] = judged(document("support_spacing: 30 in, supported_by: cushioned clamps"), "wire-supports")
    assert (verdict.value, verdict.limit, verdict.margin) == (pytest.approx(30), 24, pytest.approx(-6))


def test_within_one_span(judged):
    verdicts = judged(document("supported_by: conduit", "length: 2 ft"), "wire-supports")
    assert [v.outcome for v in verdicts] == ["meets", "meets"]


def test_drip_loop(judged):
    assert [v.outcome for v in judged(document("drip_loop: yes"), "drip-loop")] == ["meets"]
    assert [v.outcome for v in judged(document("drip_loop: no"), "drip-loop")] == ["advisory"]
    assert [v.outcome for v in judged(document(), "drip-loop")] == ["undetermined"]
    assert judged(document(zone="cabin"), "drip-loop") == []


def test_bundle_size(judged):
    assert [v.outcome for v in judged(document("wires: 75"), "bundle-size")] == ["meets"]
    [verdict] = judged(document("wires: 90"), "bundle-size")
    assert (verdict.outcome, verdict.margin) == ("advisory", -15)
    [verdict] = judged(document("wires: 9, outside_diameter: 2.5 in"), "bundle-size")
    assert (verdict.outcome, verdict.margin) == ("advisory", pytest.approx(-0.5))
    assert [v.outcome for v in judged(document("drip_loop: yes"), "bundle-size")] == ["undetermined"]
