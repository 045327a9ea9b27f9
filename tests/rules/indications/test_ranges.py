import pytest

DOCUMENT = """
aircraft: {{basis: CAR 3, operation: [VFR day]}}
zones: {{cabin: {{}}}}
engines: {{e: {{cooling: air, cowl_flaps: yes, pressure_oil: yes{limits}}}}}
{points}
indicators: {{gauge: {{principle: {principle}, measures: oil temperature, terminals: [A, B]{scale}{more}, zone: cabin}}}}
"""
LIMITS = ", limits: {{oil temperature: {{maximum: {top}, normal_low: 140 degF, normal_high: {green}}}}}"


def document(
    *,
    top="245 degF",
    green="220 degF",
    scale="100 degF, highest: 300 degF, division: 10 degF",
    limits=None,
    points="",
    more="",
    principle="bridge",
):
    return DOCUMENT.format(
        limits=LIMITS.format(top=top, green=green) if limits is None else limits,
        scale=f", scale: {{lowest: {scale}}}" if scale else "",
        points=points,
        more=more,
        principle=principle,
    )


def test_scale_covers(judged):
    [verdict] = judged(document(), "scale-covers-limits")
    assert verdict.outcome == "meets"
    # 140 - 100 = 40 degF below, 300 - 245 = 55 above: the nearer counts
    assert (verdict.value, verdict.limit, verdict.margin) == tuple(pytest.approx(x) for x in (140, 100, 40))
    assert verdict.unit == "degF"


def test_what_a_scale_covers_is_what_is_told(judged):
    points = "operating_points: {cold: {readings: {oil temperature: 150 degF}}}"
    [verdict] = judged(document(points=points), "scale-covers-limits")
    assert verdict.message.endswith(
        "which covers what is told of it: bottom of the normal range 140 degF, top of the normal range 220 degF, "
        "limit 245 degF and its readings"
    )
    told = document().replace("oil temperature: {maximum", "oil temperature: {minimum: 110 degF, maximum")
    [verdict] = judged(told, "scale-covers-limits")
    assert verdict.message.endswith("which covers its limits and normal operation")


def test_limit_beyond_the_scale(judged):
    [verdict] = judged(document(scale="100 degF, highest: 230 degF"), "scale-covers-limits")
    assert verdict.outcome == "discrepancy"
    # 230 - 245
    assert verdict.margin == pytest.approx(-15)
    assert "15 degF beyond the scale" in verdict.message
    assert verdict.remedy == "fit a scale of at least 140 degF to 245 degF"


def test_reading_beyond_the_scale_is_advice(judged):
    points = "operating_points: {cold: {readings: {oil temperature: 60 degF}}}"
    [verdict] = judged(document(points=points), "scale-covers-limits")
    assert verdict.outcome == "advisory"
    # 60 - 100
    assert verdict.margin == pytest.approx(-40)
    assert verdict.path[-1] == "lowest"


def test_scale_or_limits_not_said(judged):
    [verdict] = judged(document(scale=""), "scale-covers-limits")
    assert verdict.missing == ("range of the dial ('scale')",)
    [verdict] = judged(document(limits=""), "scale-covers-limits")
    assert verdict.missing == ("engine limits of the indication",)


def test_extra_without_limits_is_not_judged(judged):
    assert judged(document(limits="", more=", required: no"), "scale-covers-limits") == []


@pytest.mark.parametrize(
    ("division", "outcome", "margin"), [("10 degF", "meets", 2.5), ("25 degF", "advisory", -12.5)]
)
def test_resolution(judged, division, outcome, margin):
    # 245 - 220 = 25 degF, half is 12.5
    [verdict] = judged(
        document(scale=f"100 degF, highest: 300 degF, division: {division}"), "scale-resolution"
    )
    assert verdict.outcome == outcome
    assert verdict.margin == pytest.approx(margin)


def test_resolution_in_other_units(judged):
    # 10 degC is 18 degF
    [verdict] = judged(document(scale="-70 degC, highest: 150 degC, division: 10 degC"), "scale-resolution")
    assert (verdict.value, verdict.limit) == (pytest.approx(18), pytest.approx(12.5))


def test_resolution_not_said_or_not_a_dial(judged):
    [verdict] = judged(document(scale="100 degF, highest: 300 degF"), "scale-resolution")
    assert verdict.outcome == "undetermined"
    assert (
        judged(
            document(scale="100 degF, highest: 300 degF", principle="electronic resistance"),
            "scale-resolution",
        )
        == []
    )
    assert judged(document(green="245 degF"), "scale-resolution") == []


@pytest.mark.parametrize(
    ("scale", "outcome", "value"),
    [
        # (245 - 100)/200 = 72.5 %; (245 - 0)/500 = 49 %; (245 - 100)/150 = 96.7 %
        ("100 degF, highest: 300 degF", "meets", 72.5),
        ("0 degF, highest: 500 degF", "advisory", 49.0),
        ("100 degF, highest: 250 degF", "advisory", 96.6667),
    ],
)
def test_place_of_the_red_line(judged, scale, outcome, value):
    [verdict] = judged(document(scale=scale), "red-line-place")
    assert verdict.outcome == outcome
    assert (verdict.value, verdict.unit) == (pytest.approx(value, abs=1e-3), "%")


def test_published_place_of_the_red_line(judged):
    # published: 460 degF on 100 to 600 degF stands at 72 %
    [verdict] = judged(document(top="460 degF", scale="100 degF, highest: 600 degF"), "red-line-place")
    assert verdict.value == pytest.approx(72)


def test_scale_that_would_place_it_better(judged):
    # 100 + 145/0.9 = 261.1
    [verdict] = judged(document(scale="100 degF, highest: 250 degF"), "red-line-place")
    assert verdict.remedy == "a scale from 100 degF to 261 degF puts it at 90 %"
