import pytest

TEXT = """
engines: {{engine: {{limits: {{head temperature: {{maximum: 500 degF}}}}}}}}
zones: {{bay: {{}}, cabin: {{}}}}
operating_points:
  climb: {{zone_temperatures: {{bay: 25 degC, cabin: 25 degC}}, readings: {{head temperature: {true}}}}}
probes:
  probe: {{thermocouple: J, grade: standard, resistance: {couple}, zone: bay, measures: head temperature}}
indicators:
  gauge: {{principle: moving-coil thermocouple, thermocouple: J, terminals: ['+', '-'], zone: cabin, compensation: at its terminals,
    scale: {{lowest: 50 degF, highest: 600 degF{division}}}, accuracy: 8 degF, loop_resistance: 2 ohm, inner_resistance: {inner}{budget}}}
wire_runs:
  W1: {{kind: thermocouple lead, thermocouple: J, tolerance: standard, legs: {{'+': {{metal: iron, resistance: 0.5 ohm/ft}}, '-': {{metal: constantan, resistance: 0.5 ohm/ft}}}},
    route: [{{zone: bay, length: 6 in}}, {{zone: cabin, length: 6 in}}], conductors: {{'+': {{from: probe.+, to: gauge.+}}, '-': {{from: probe.-, to: gauge.-}}}}}}
"""
DIVISION, BUDGET = ", division: 25 degF", ", budget: 60 degF"


def text(true="465 degF", couple="1 ohm", inner="10 ohm", division=DIVISION, budget=BUDGET):
    return TEXT.format(true=true, couple=couple, inner=inner, division=division, budget=budget)


def judge(judged, document, rule="indication-within-budget"):
    [verdict] = judged(document, rule)
    return verdict


# Loop 1 ohm of lead and the couple. Iron of 0.5 ohm at 0.00567 per degC, 5 degC above 20, adds 0.014 ohm.
# At 500 degF (260 degC) E_J(260) - E_J(25) = 14.110 - 1.277 = 12.833 mV; 55.5 microvolt/degC.


def test_within_its_budget(judged):
    # Loop of 2.014 ohm: 12.833 x 0.014/12.014 is 0.015 mV, half a degree F. Couple 3.96, indicator 8 degF: 12.4 of 60
    verdict = judge(judged, text())
    assert verdict.outcome == "meets"
    assert verdict.value == pytest.approx(12.4, abs=0.3)
    assert (verdict.limit, verdict.unit) == (pytest.approx(60), "degF")
    assert verdict.margin == pytest.approx(60 - verdict.value)
    assert verdict.path == ("indicators", "gauge", "budget")


def test_beyond_its_budget(judged):
    # 2.614 ohm for 2: E(240.6) - E(25) = 13.027 - 1.277 = 11.75 mV; x 0.614/12.614 is 0.572 mV, 10.3 degC, 18.5 degF low;
    # with 3.96 and 8 degF of tolerances 30.5 degF
    verdict = judge(judged, text(couple="1.6 ohm", budget=", budget: 20 degF"))
    assert verdict.outcome == "discrepancy"
    assert verdict.value == pytest.approx(30.5, abs=1.0)
    assert verdict.margin == pytest.approx(20 - verdict.value)
    # a dirty joint is not trimmed over
    assert verdict.remedy.startswith(
        "clean the joints on the way and measure again; for what is left, trim the loop"
    )
    assert "low" in verdict.message


def test_no_budget_is_undetermined_and_still_tells_the_error(judged):
    verdict = judge(judged, text(budget=""))
    assert verdict.outcome == "undetermined"
    assert verdict.missing == ("error budget of the indication ('budget')",)
    assert "off with all tolerances" in verdict.message


def test_cause_missing_is_undetermined(judged):
    verdict = judge(judged, text().replace("grade: standard, ", ""))
    assert verdict.outcome == "undetermined"
    assert verdict.missing == ("tolerance grade of the couple",)


def test_pointer_off_its_scale(judged):
    crossed = (
        text()
        .replace("from: probe.+, to: gauge.+", "from: probe.+, to: gauge.-")
        .replace("from: probe.-, to: gauge.-", "from: probe.-, to: gauge.+")
    )
    verdict = judge(judged, crossed)
    assert verdict.outcome == "discrepancy"
    assert "below its scale" in verdict.message


def test_true_at_the_limit(judged):
    verdict = judge(judged, text(), "true-at-the-limit")
    assert verdict.outcome == "meets"
    # 0.015 mV at 55.5 microvolt/degC: 0.27 degC, 0.5 degF short; one division 25 degF
    assert verdict.value == pytest.approx(0.5, abs=0.1)
    assert verdict.limit == pytest.approx(25)


def test_thirty_degrees_low_at_the_limit_is_a_discrepancy_even_in_budget(judged):
    # 3.0 ohm of couple and lead, 10 ohm inside... 2.914 ohm outside: 12.833 x 0.914/12.914 = 0.908 mV, 16.4 degC, 29.5 degF
    low = text(couple="1.9 ohm")
    assert judge(judged, low).outcome == "meets"
    verdict = judge(judged, low, "true-at-the-limit")
    assert verdict.outcome == "discrepancy"
    assert verdict.value == pytest.approx(29.5, abs=1.0)
    assert verdict.limit == pytest.approx(25)
    assert "the limit stands at 471 degF on this dial" in verdict.remedy


def test_margin_in_flight_counts_when_it_is_smaller_than_a_division(judged):
    # 2.314 ohm: 12.833 x 0.314/12.314 = 0.327 mV, 5.9 degC, 10.6 degF short; flight at 490 degF leaves 10 degF
    verdict = judge(judged, text(true="490 degF", couple="1.3 ohm"), "true-at-the-limit")
    assert verdict.outcome == "discrepancy"
    assert verdict.limit == pytest.approx(10)
    assert verdict.value == pytest.approx(10.6, abs=0.3)


def test_tolerances_beyond_the_margin_in_flight_advise(judged):
    # root of 3.96^2 + 8^2 = 8.9 degF, and 0.5 with its sign: 9.4 degF where flight at 492 degF leaves 8
    verdict = judge(judged, text(true="492 degF"), "true-at-the-limit")
    assert verdict.outcome == "advisory"
    assert "9.4" in verdict.message


def test_reading_high_at_a_highest_limit_is_safe(judged):
    verdict = judge(judged, text(couple="0.5 ohm"), "true-at-the-limit")
    assert verdict.outcome == "meets"
    assert verdict.value < 0


def test_no_limit_is_not_concerned(judged):
    of_exhaust = (
        text().replace("maximum: 500 degF", "normal_low: 200 degF").replace("head temp", "exhaust temp")
    )
    assert judged(of_exhaust, "true-at-the-limit") == []


def test_highest_head_temperature_is_asked_for(judged):
    [verdict] = judged(text().replace("maximum: 500 degF", "normal_low: 200 degF"), "true-at-the-limit")
    assert verdict.outcome == "undetermined"
    assert "highest the engine is allowed" in verdict.message


def test_indicator_of_which_nobody_says_how_it_works(judged):
    body = "zones: {cabin: {}}\nindicators: {gauge: {zone: cabin, measures: oil pressure}}"
    [verdict] = judged(body, "indication-within-budget")
    assert (verdict.outcome, verdict.at) == ("undetermined", ("gauge",))
    assert "principle" in verdict.message


def test_cause_missing_at_the_limit(judged):
    verdict = judge(judged, text().replace(", inner_resistance: 10 ohm", ""), "true-at-the-limit")
    assert verdict.outcome == "undetermined"


PRESSURE = """
engines: {{engine: {{limits: {{oil pressure: {{minimum: 25 psi}}}}}}}}
zones: {{bay: {{}}, cabin: {{}}}}
operating_points: {{idle: {{zone_temperatures: {{bay: 20 degC, cabin: 20 degC}}, readings: {{oil pressure: 40 psi}}}}}}
senders: {{sender: {{part: oil pressure sender rising two wire, size: 100 psi, zone: bay, tolerance: 1 psi}}}}
indicators:
  gauge: {{principle: electronic resistance, measures: oil pressure, terminals: [S, G], zone: cabin, excitation: 5 V, pull_up: 1000 ohm, ratiometric: yes, input_grounding: isolated,
    curve: {{points: [[0 psi, 10 ohm], [100 psi, 180 ohm]]}}, accuracy: 1 psi, scale: {{lowest: 0 psi, highest: 100 psi, division: 5 psi}}, budget: 12 psi}}
wire_runs:
  W1: {{kind: wire, metal: copper, resistance: {ohm} ohm/ft, route: [{{zone: bay, length: 6 in}}, {{zone: cabin, length: 6 in}}], from: sender.S, to: gauge.S}}
  W2: {{kind: wire, metal: copper, resistance: 0.001 ohm/ft, route: [{{zone: bay, length: 6 in}}, {{zone: cabin, length: 6 in}}], from: sender.G, to: gauge.G}}
"""


def test_lowest_limit_is_unsafe_on_the_high_side(judged):
    # 10 ohm more on 1.7 ohm a psi reads 5.88 psi high: the gauge shows 30.9 psi at the limit of 25
    highest, verdict = judged(PRESSURE.format(ohm=10), "true-at-the-limit")
    assert (verdict.outcome, highest.outcome) == ("discrepancy", "undetermined")
    assert verdict.value == pytest.approx(5.88, abs=0.1)
    assert verdict.limit == pytest.approx(5)
    # 5.88 + 1 + 1 psi of tolerances
    within = judge(judged, PRESSURE.format(ohm=10))
    assert within.outcome == "meets"
    assert within.value == pytest.approx(7.88, abs=0.1)


def test_lowest_limit_shown_true(judged):
    _, lowest = judged(PRESSURE.format(ohm=0.01), "true-at-the-limit")
    assert lowest.outcome == "meets"


def test_lowest_pressure_is_asked_for_where_the_highest_alone_is_told(judged):
    body = PRESSURE.format(ohm=0.01).replace("minimum: 25 psi", "maximum: 90 psi")
    highest, lowest = judged(body, "true-at-the-limit")
    assert (lowest.outcome, highest.outcome) == ("undetermined", "meets")
    assert "lowest the engine is allowed" in lowest.message


@pytest.mark.parametrize("top", ["500 degF", "260 degC", "533.15 K"])
@pytest.mark.parametrize("end", ["500 degF", "260 degC", "533.15 K"])
def test_a_limit_at_the_end_of_the_dial_is_judged_in_any_unit(judged, top, end):
    # 500 degF, 260 degC and 533.15 K are one temperature; their conversions differ in the last bits
    document = (
        text().replace("maximum: 500 degF", f"maximum: {top}").replace("highest: 600 degF", f"highest: {end}")
    )
    assert judge(judged, document, "true-at-the-limit").outcome == "meets"
    [place] = judged(document, "red-line-place")
    assert (place.outcome, round(place.value)) == ("advisory", 100)
