import pytest

TEXT = """
zones: {{bay: {{temperature: {{lowest: {cold}, highest: 85 degC}}}}}}
taps: {{tap: {{medium: {medium}, zone: bay, pressure: 25 psi, temperature: {warm}}}}}
indicators: {{gauge: {{principle: direct pressure, ports: [P], zone: bay{gauge}}}}}
fluid_lines: {{L1: {{from: tap, to: gauge.P, bore: {bore}, length: 2 m}}}}
"""


def one(judged, rule, **words):
    usual = {
        "cold": "0 degC",
        "medium": "fuel",
        "warm": "15 degC",
        "gauge": ", budget: 1 psi",
        "bore": "0.061 in",
    }
    [verdict] = judged(TEXT.format(**{**usual, **words}), rule)
    return verdict


def test_head_of_fuel(judged):
    verdict = one(judged, "head-error", gauge=", budget: 0.5 psi, elevation: 0.6 m")
    # 720 * 9.80665 * 0.6 = 4236.5 Pa = 0.6144 psi
    assert verdict.outcome == "discrepancy"
    assert verdict.value == pytest.approx(0.61445, rel=1e-4)
    assert verdict.margin == pytest.approx(-0.11445, rel=1e-3)
    assert verdict.path == ("indicators", "gauge", "elevation")
    # a true 25 psi shows as 24.4 psi, so that is where its mark belongs
    assert "mark the dial 0.614 psi lower" in verdict.remedy
    assert one(judged, "head-error", gauge=", budget: 1 psi, elevation: 0.6 m").outcome == "meets"


def test_a_gauge_below_its_tap_reads_high(judged):
    verdict = one(judged, "head-error", gauge=", budget: 0.5 psi, elevation: -0.6 m")
    # 720 * 9.80665 * 0.6 = 4236.5 Pa = 0.6144 psi, the other way
    assert verdict.outcome == "discrepancy"
    assert verdict.value == pytest.approx(0.61445, rel=1e-4)
    assert "below tap: it reads high by 0.614 psi" in verdict.message
    # a true 25 psi shows as 25.6 psi, so that is where its mark belongs
    assert "mark the dial 0.614 psi higher" in verdict.remedy
    assert one(judged, "head-error", gauge=", budget: 1 psi, elevation: -0.6 m").outcome == "meets"


def test_the_length_of_the_line_bounds_an_elevation_not_given(judged):
    # 2 m of fuel: 2.048 psi at most
    verdict = one(judged, "head-error", gauge=", budget: 3 psi")
    assert (verdict.outcome, verdict.value) == ("meets", pytest.approx(2.0482, rel=1e-3))
    verdict = one(judged, "head-error", gauge=", budget: 1 psi")
    assert verdict.missing == ("height of the gauge or sender above its tap ('elevation')",)


def test_head_without_a_budget(judged):
    assert one(judged, "head-error", gauge=", elevation: 1 m").missing == ("error budget of the indication",)
    assert one(judged, "head-error", gauge=", elevation: 1 m, accuracy: 2 psi").outcome == "meets"


def test_a_sender_is_judged_by_the_budget_of_its_indication(judged):
    body = """
taps: {tap: {medium: oil, temperature: 90 degC}}
senders: {sender: {principle: resistive, measures: oil pressure, terminals: [S, G], ports: [P], elevation: 0.6 m}}
indicators: {gauge: {principle: series meter, measures: oil pressure, terminals: [S, G], budget: 0.5 psi}}
wire_runs: {W1: {from: sender.S, to: gauge.S}, W2: {from: sender.G, to: gauge.G}}
fluid_lines: {L1: {from: tap, to: sender.P, length: 1 m}}
"""
    [verdict] = judged(body, "head-error")
    # 840 * 9.80665 * 0.6 = 4942.6 Pa = 0.7169 psi
    assert verdict.at == ("sender", "tap")
    assert (verdict.outcome, verdict.value) == ("discrepancy", pytest.approx(0.7169, rel=1e-3))


def test_air_has_no_head(judged):
    text = TEXT.format(cold="0 degC", medium="air", warm="15 degC", gauge="", bore="0.1 in")
    assert judged(text, "head-error") == []


def test_cold_oil_in_a_thin_line(judged):
    verdict = one(judged, "oil-gauge-cold", medium="oil")
    # tau 8.114 s at 890 kg/m3 and 4445.8 cSt (2 m of 0.061 in); at 888 kg/m3 8.096 s; 90 % after 2.3026 tau = 18.64 s
    assert verdict.outcome == "meets"
    assert verdict.value == pytest.approx(18.64, rel=0.005)


def test_cold_oil_in_a_thinner_line(judged):
    verdict = one(judged, "oil-gauge-cold", medium="oil", bore="0.05 in")
    # 18.64 * (0.061/0.05)^4 = 41.3 s
    assert verdict.outcome == "advisory"
    assert verdict.value == pytest.approx(41.3, rel=0.005)


def test_oil_below_its_pour_point(judged):
    verdict = one(judged, "oil-gauge-cold", medium="oil", cold="-20 degC")
    assert verdict.outcome == "advisory"
    assert "does not flow" in verdict.message


def test_fuel_does_not_thicken(judged):
    text = TEXT.format(cold="0 degC", medium="fuel", warm="15 degC", gauge="", bore="0.1 in")
    assert judged(text, "oil-gauge-cold") == []


def test_a_zone_without_a_temperature(judged):
    text = TEXT.format(cold="0 degC", medium="oil", warm="15 degC", gauge="", bore="0.1 in")
    text = text.replace("temperature: {lowest: 0 degC, highest: 85 degC}", "occupied: no")
    [verdict] = judged(text, "oil-gauge-cold")
    assert verdict.missing == ("temperature of the zone",)
