import pytest

TEXT = """
zones: {{bay: {{temperature: {{lowest: -20 degC, highest: {hot}}}}}}}
senders: {{a: {{terminals: [A, B, C], zone: bay}}}}
indicators: {{b: {{terminals: [A, B, C], zone: bay}}}}
bundles: {{harness: {{wires: 8}}}}
junctions:
  S1: {{kind: splice, zone: bay{splice}}}
  S2: {{kind: splice, zone: bay{splice}}}
wire_runs:
  W1: {{from: a.A, to: S1, length: {first}, bundle: harness}}
{runs}
"""
ONE = "  W2: {from: S1, to: b.A, length: 5 ft, bundle: harness}"
TWO = "  W2: {from: S1, to: S2, length: 5 ft, bundle: harness}\n  W3: {from: S2, to: b.A, length: 2 ft, bundle: harness}"
ASIDE = (
    ONE
    + """
  W3: {from: a.B, to: S2, length: %s, bundle: harness}
  W4: {from: S2, to: b.B, length: 5 ft, bundle: harness}"""
)


def document(runs=ONE, first="2 ft", hot="80 degC", splice=""):
    return TEXT.format(runs=runs, first=first, hot=hot, splice=splice)


def test_one_splice_meets(judged):
    [verdict] = judged(document(), "splices-per-run")
    assert (verdict.outcome, verdict.value, verdict.limit) == ("meets", 1, 1)


def test_two_splices_in_one_wire(judged):
    [verdict] = judged(document(TWO), "splices-per-run")
    assert (verdict.outcome, verdict.value, verdict.margin) == ("discrepancy", 2, -1)
    # 2 ft + 5 ft + 2 ft
    assert "one run of 9 ft" in verdict.remedy
    assert set(verdict.at) == {"S1", "S2", "W1", "W2", "W3"}


def test_one_splice_in_each_leg_of_a_pair_is_one_in_each_wire(judged):
    text = (
        document().partition("wire_runs:")[0]
        + """
wire_runs:
  W1: {conductors: {A: {from: a.A, to: S1}, B: {from: a.B, to: S2}}}
  W2: {conductors: {A: {from: S1, to: b.A}, B: {from: S2, to: b.B}}}
"""
    )
    assert [(v.outcome, v.value) for v in judged(text, "splices-per-run")] == [("meets", 1), ("meets", 1)]


def test_two_splices_in_one_leg_of_a_pair(judged):
    text = (
        document().partition("wire_runs:")[0]
        + """
wire_runs:
  W1: {conductors: {A: {from: a.A, to: S1}, B: {from: a.B, to: b.B}}}
  W2: {from: S1, to: S2}
  W3: {from: S2, to: b.A}
"""
    )
    [verdict] = judged(text, "splices-per-run")
    assert (verdict.outcome, verdict.value) == ("discrepancy", 2)


def test_many_into_one_does_not_count(judged):
    runs = TWO + "\n  W4: {from: a.B, to: S2, length: 2 ft}"
    [verdict] = judged(document(runs), "splices-per-run")
    assert verdict.outcome == "meets"


def test_splice_far_enough_from_its_ends(judged):
    [verdict] = judged(document(), "splice-place")
    # 2 ft = 24 in - 12 in
    assert (verdict.outcome, verdict.margin) == ("meets", pytest.approx(12))


def test_splice_close_to_an_end(judged):
    [verdict] = judged(document(first="4 in"), "splice-place")
    assert (verdict.outcome, verdict.value, verdict.margin) == (
        "advisory",
        pytest.approx(4),
        pytest.approx(-8),
    )
    [verdict] = judged(document(splice=", distance_from_end: 3 in"), "splice-place")
    assert verdict.value == pytest.approx(3)


def test_splice_in_a_run_of_unknown_length(judged):
    [verdict] = judged(document(first="unknown"), "splice-place")
    assert (verdict.outcome, verdict.missing) == ("undetermined", ("length of the run",))


def test_one_point_is_too_hot_for_a_splice_already(judged):
    text = document(splice=", temperature_rating: 105 degC").replace(
        "temperature: {lowest: -20 degC, highest: 80 degC}", ""
    )
    point = "operating_points: {climb: {zone_temperatures: {bay: %s}}}\n"
    assert {v.outcome for v in judged(point % "120 degC" + text, "splice-heat")} == {"discrepancy"}
    assert {v.outcome for v in judged(point % "90 degC" + text, "splice-heat")} == {"undetermined"}


def test_splices_side_by_side(judged):
    beside = [v for v in judged(document(ASIDE % "2 ft"), "splice-place") if "harness" in v.at]
    assert [v.outcome for v in beside] == ["advisory"]
    apart = [v for v in judged(document(ASIDE % "2 ft 3 in"), "splice-place") if "harness" in v.at]
    assert [v.outcome for v in apart] == ["meets"]


def test_heat(judged):
    first = judged(document(), "splice-heat")[0]
    # 105 degC for a splice of no stated rating, less 80 degC
    assert (first.outcome, first.margin) == ("meets", pytest.approx(25))
    first = judged(document(hot="120 degC", splice=", temperature_rating: 105 degC"), "splice-heat")[0]
    assert (first.outcome, first.margin) == ("discrepancy", pytest.approx(-15))
    first = judged(document(hot="120 degC"), "splice-heat")[0]
    assert (first.outcome, first.missing) == ("undetermined", ("temperature rating of the splice",))
