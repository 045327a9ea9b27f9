import pytest

BAND = ", exhaust_probe_band: [2 in, 8 in]"


def document(distances, engine=""):
    text = f"zones: {{engine: {{}}}}\nengines: {{engine: {{cylinders: 4{engine}}}}}\nprobes:\n"
    for n, distance in enumerate(distances, 1):
        text += f"  e{n}: {{kind: exhaust clamp, measures: exhaust temperature, cylinder: {n}, distance: {distance}, zone: engine}}\n"
    return text


def test_within_the_band(judged):
    [verdict] = judged(document(["3 in"], BAND), "exhaust-probe-distance")
    assert verdict.outcome == "meets"
    # 3 - 2
    assert (verdict.value, verdict.limit, verdict.margin) == tuple(pytest.approx(x) for x in (3, 2, 1))


def test_outside_the_declared_band(judged):
    [verdict] = judged(document(["9 in"], BAND), "exhaust-probe-distance")
    assert verdict.outcome == "discrepancy"
    # 8 - 9
    assert (verdict.value, verdict.limit, verdict.margin) == tuple(pytest.approx(x) for x in (9, 8, -1))
    assert verdict.remedy == "move it 1 in, to 8 in or within"
    assert "its papers allow 2 to 8 in" in verdict.message


def test_outside_what_manuals_allow_is_advice(judged):
    [verdict] = judged(document(["1.5 in"]), "exhaust-probe-distance")
    assert verdict.outcome == "advisory"
    assert verdict.margin == pytest.approx(-0.5)


def test_single_distance_is_held_to_half_an_inch(judged):
    asks = ", exhaust_probe_distance: 3 in"
    assert judged(document(["3.5 in"], asks), "exhaust-probe-distance")[0].outcome == "meets"
    [verdict] = judged(document(["4 in"], asks), "exhaust-probe-distance")
    assert verdict.outcome == "advisory"
    # 3.5 - 4
    assert verdict.margin == pytest.approx(-0.5)


def test_distance_not_given(judged):
    text = document(["3 in", "unknown"])
    assert [v.outcome for v in judged(text, "exhaust-probe-distance")] == ["meets", "undetermined"]
    [verdict] = judged(text, "exhaust-probes-even")
    assert verdict.outcome == "undetermined"
    assert verdict.path == ("probes", "e2")


def test_spread_and_the_one_that_stands_out(judged):
    [verdict] = judged(document(["2.65 in", "2.7 in", "2.6 in", "3.5 in"]), "exhaust-probes-even")
    assert verdict.outcome == "advisory"
    # 3.5 - 2.6; middle of 2.6, 2.65, 2.7, 3.5 is 2.675
    assert (verdict.value, verdict.margin) == (pytest.approx(0.9), pytest.approx(-0.4))
    assert "cylinder 4 stands out at 3.5 in" in verdict.message
    assert "move e4 to 2.68 in" in verdict.remedy


def test_one_distance(judged):
    [verdict] = judged(document(["2.65 in", "2.7 in", "2.6 in", "2.55 in"]), "exhaust-probes-even")
    assert verdict.outcome == "meets"
    assert verdict.value == pytest.approx(0.15)


@pytest.mark.parametrize(
    ("distance", "within", "outcome"),
    [
        ("7.5 in", "0.25 in", "meets"),
        # 7.5 in within 1 in is 6.5 to 8.5 in, across the 8 in of the band
        ("7.5 in", "1 in", "undetermined"),
        ("8.5 in", "1 in", "undetermined"),
        # 9.5 in within 1 in is 8.5 in at least
        ("9.5 in", "1 in", "discrepancy"),
    ],
)
def test_how_well_the_distance_is_known(judged, distance, within, outcome):
    text = document([f"{distance}, distance_tolerance: {within}"], BAND)
    [verdict] = judged(text, "exhaust-probe-distance")
    assert verdict.outcome == outcome


def test_probes_even_as_far_as_they_are_known(judged):
    # 0.4 in apart, each within 0.1 in: 0.2 to 0.6 in, and 0.5 in is the most
    text = document(["3 in, distance_tolerance: 0.1 in", "3.4 in, distance_tolerance: 0.1 in"])
    [verdict] = judged(text, "exhaust-probes-even")
    assert verdict.outcome == "undetermined"
