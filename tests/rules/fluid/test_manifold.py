import pytest

TEXT = """
aircraft: {{{aircraft}}}
taps: {{plenum: {{medium: fuel-air mixture}}}}
indicators: {{gauge: {{principle: direct pressure, measures: manifold pressure, ports: [P]{gauge}}}}}
fluid_lines: {{L1: {{from: plenum, to: gauge.P{line}}}}}
measured: [{measured}]
"""


def judge(judged, rule, **words):
    usual = {"aircraft": "", "gauge": "", "line": "", "measured": ""}
    return judged(TEXT.format(**{**usual, **words}), rule)


def test_a_line_with_a_low_point(judged):
    [verdict] = judge(judged, "manifold-line-drain", line=", rise: 150 mm, low_point_drain: no")
    # 998 * 9.80665 * 0.150 = 1468.1 Pa = 0.4335 inHg
    assert verdict.outcome == "advisory"
    assert verdict.value == pytest.approx(0.4335, rel=1e-3)
    assert verdict.unit == "inHg"


def test_a_line_that_drains_and_one_of_which_nothing_is_said(judged):
    assert judge(judged, "manifold-line-drain", line=", low_point_drain: yes")[0].outcome == "meets"
    assert judge(judged, "manifold-line-drain")[0].outcome == "undetermined"


def test_lag(judged):
    [verdict] = judge(judged, "manifold-line-lag", line=", bore: 0.061 in, length: 2 m")
    # 0.11505 s at 70 928 Pa and 1.81e-5 Pa s: times 70 928/50 000 * 1.813/1.81 = 0.1635 s
    assert verdict.outcome == "meets"
    assert verdict.value == pytest.approx(0.1635, rel=0.005)


def test_a_very_thin_line_lags(judged):
    [verdict] = judge(judged, "manifold-line-lag", line=", bore: 0.040 in, length: 2 m")
    # 0.60129 s at 70 928 Pa: 0.8543 s at 50 000 Pa; 0.5 s wants 0.040 * (0.8543/0.5)^0.25 = 0.0457 in
    assert verdict.outcome == "advisory"
    assert verdict.value == pytest.approx(0.8543, rel=0.005)
    assert "0.0457 in or more" in verdict.remedy


def test_lag_without_a_bore(judged):
    [verdict] = judge(judged, "manifold-line-lag", line=", length: 2 m")
    assert verdict.missing == ("bore of the line, or its outside diameter and wall",)


def test_lag_over_two_lines_and_a_hole(judged):
    body = """
taps: {plenum: {medium: manifold air}}
indicators: {gauge: {principle: direct pressure, measures: manifold pressure, ports: [P]}}
fittings:
  hole: {kind: restrictor, bore: 0.010 in, ports: [in, out], screwed_into: plenum}
  union: {kind: union, ports: ['1', '2']}
fluid_lines:
  L1: {from: hole.out, to: union.1, bore: 0.040 in, length: 1 m}
  L2: {from: union.2, to: gauge.P, bore: 0.040 in, length: 1 m}
"""
    [verdict] = judged(body, "manifold-line-lag")
    # two metres of one bore lag as one line of 2 m, 0.8543 s; the hole of 0.254 mm, 0.762 mm long, feeds 30 cm3 and the
    # 1.621 cm3 of the lines: 128 * 1.813e-5 * 0.762e-3/(pi * (0.254e-3)^4) = 1.3523e8 Pa s/m3, times 31.62e-6/50 000 = 0.0855 s
    assert verdict.value == pytest.approx(0.8543 + 0.0855, rel=0.01)
    assert verdict.at == ("gauge", "L1", "L2")


RULE = "manifold-gauge-engine-off"
STUCK = "{what: engine-off indication, of: gauge, value: 16 inHg%s}"


def test_a_gauge_stuck_at_sixteen(judged):
    [verdict] = judge(judged, RULE, aircraft="field_elevation: 0 ft", measured=STUCK % "")
    # 29.921 - 16 = 13.92 inHg; 1 inHg of weather and 0.5 inHg of the gauge are allowed
    assert verdict.outcome == "discrepancy"
    assert (verdict.value, verdict.limit) == (pytest.approx(13.921, abs=0.002), pytest.approx(1.5))


def test_a_field_below_the_sea(judged):
    # ISO 2533 at -1,200 ft, -365.8 m: 29.92 x (1 + 2.25577e-5 x 365.8)^5.25588 = 31.24 inHg, less 16 inHg
    [verdict] = judge(judged, RULE, aircraft="field_elevation: -1200 ft", measured=STUCK % "")
    assert verdict.outcome == "discrepancy"
    assert verdict.value == pytest.approx(15.24, abs=0.02)


def test_the_barometer_was_read(judged):
    measured = "{what: engine-off indication, of: gauge, value: 29.0 inHg, true_value: 29.8 inHg}"
    [verdict] = judge(judged, RULE, measured=measured, gauge=", accuracy: 1 inHg")
    assert (verdict.outcome, verdict.margin) == ("meets", pytest.approx(0.2))
    [verdict] = judge(judged, RULE, measured=measured)
    assert (verdict.outcome, verdict.margin) == ("discrepancy", pytest.approx(-0.3))


def test_neither_barometer_nor_field(judged):
    assert judge(judged, RULE, measured=STUCK % "")[0].outcome == "undetermined"
