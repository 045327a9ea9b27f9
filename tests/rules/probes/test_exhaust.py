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
