import pytest

TEXT = """
zones: {{bay: {{temperature: {{lowest: 0 degC, highest: {hottest} degC}}}}, cabin: {{temperature: {{lowest: 5 degC, highest: 40 degC}}}}}}
probes: {{probe: {{thermocouple: {kind}, zone: bay}}}}
indicators: {{gauge: {{principle: electronic thermocouple, thermocouple: {kind}, terminals: ['+', '-'], zone: cabin}}}}
wire_runs:
  W1: {{{lead}, conductors: {{'+': {{from: probe.+, to: gauge.+}}, '-': {{from: probe.-, to: gauge.-}}}}}}
"""


def judge(judged, hottest, lead="part: extension lead K, gauge: 20 AWG", kind="K"):
    return judged(TEXT.format(hottest=hottest, lead=lead, kind=kind), "extension-lead-range")


def test_within_its_range(judged):
    [verdict] = judge(judged, 110)
    assert verdict.outcome == "meets"
    # Standard range 0 to 200 degC; the coldest end is at 0 degC
    assert (verdict.value, verdict.margin) == (0, 0)


def test_above_its_range(judged):
    [verdict] = judge(judged, 230)
    assert verdict.outcome == "discrepancy"
    assert (verdict.value, verdict.limit, verdict.margin) == (pytest.approx(230), 200, pytest.approx(-30))


def test_compensating_pair_ends_at_100(judged):
    [verdict] = judge(judged, 110, "part: compensating lead K, gauge: 20 AWG")
    assert verdict.outcome == "discrepancy"
    assert (verdict.limit, verdict.margin) == (100, pytest.approx(-10))


def test_thermocouple_grade_is_not_concerned(judged):
    assert judge(judged, 230, "part: thermocouple lead K, gauge: 20 AWG") == []


def test_grade_not_stated(judged):
    [verdict] = judge(judged, 110, "kind: thermocouple lead, thermocouple: K")
    assert verdict.outcome == "undetermined"


def test_zone_temperature_not_stated(judged):
    text = TEXT.format(hottest=110, lead="part: extension lead K, gauge: 20 AWG", kind="K")
    bare = text.replace("bay: {temperature: {lowest: 0 degC, highest: 110 degC}}", "bay: {}")
    [verdict] = judged(bare, "extension-lead-range")
    assert verdict.outcome == "undetermined"
    assert "temperature of the zone" in verdict.missing


POINT = "operating_points: {{cruise: {{zone_temperatures: {{bay: {bay} degC, cabin: 20 degC}}, readings: {{head temperature: 200 degC}}}}}}\n"


@pytest.mark.parametrize(("bay", "outcome"), [(150, "undetermined"), (230, "discrepancy")])
def test_one_point_of_cruise_is_not_the_hottest_of_a_zone(judged, bay, outcome):
    text = TEXT.format(hottest=110, lead="part: extension lead K, gauge: 20 AWG", kind="K")
    silent = text.replace("bay: {temperature: {lowest: 0 degC, highest: 110 degC}}", "bay: {}")
    [verdict] = judged(POINT.format(bay=bay) + silent, "extension-lead-range")
    assert verdict.outcome == outcome


def test_lead_t_begins_at_0_by_the_later_tables(judged):
    """MC96.1 let it begin at -60 degC; the later tables, the safer, at 0."""
    text = TEXT.format(hottest=90, lead="part: extension lead T, gauge: 20 AWG", kind="T")
    text = text.replace("lowest: 0 degC", "lowest: -40 degC, normal: -20 degC")
    [verdict] = judged(text, "extension-lead-range")
    assert (verdict.outcome, verdict.limit) == ("discrepancy", 0)
