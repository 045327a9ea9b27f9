import pytest

BULB = """
zones: {{engine: {{}}, cabin: {{}}}}
senders: {{bulb: {{part: {bulb}, measures: oil temperature, zone: engine}}}}
indicators: {{gauge: {{part: {gauge}, zone: cabin}}}}
junctions: {{splice: {{part: splice red 22-18, zone: engine}}}}
wire_runs:
{runs}
"""
TWO, THREE = "resistance bulb nickel 90.38", "resistance bulb nickel 90.38 three lead"
BRIDGE_TWO, BRIDGE_THREE = (
    "electronic oil temperature indicator nickel 90.38",
    "bridge oil temperature indicator",
)


def runs(*ends):
    return "\n".join(
        f"  W{i}: {{part: AS22759/16, gauge: 20 AWG, length: 10 ft, from: {a}, to: {b}}}"
        for i, (a, b) in enumerate(ends, 1)
    )


def judge(judged, bulb, gauge, *ends, rule="bulb-lead-arrangement"):
    [verdict] = judged(BULB.format(bulb=bulb, gauge=gauge, runs=runs(*ends)), rule)
    return verdict


def test_two_leads_on_an_input_for_two(judged):
    verdict = judge(judged, TWO, BRIDGE_TWO, ("bulb.A", "gauge.A"), ("bulb.B", "gauge.B"))
    assert verdict.outcome == "meets"
    assert (verdict.value, verdict.limit) == (2, 2)


def test_three_leads_each_from_the_bulb(judged):
    ends = [(f"bulb.{t}", f"gauge.{t}") for t in "ABC"]
    assert judge(judged, THREE, BRIDGE_THREE, *ends).outcome == "meets"


def test_two_terminal_bulb_with_three_leads_joined_at_it(judged):
    ends = [("bulb.A", "gauge.A"), ("bulb.B", "gauge.B"), ("bulb.B", "gauge.C")]
    assert judge(judged, TWO, BRIDGE_THREE, *ends).outcome == "meets"


def test_two_leads_on_a_three_lead_bridge(judged):
    verdict = judge(judged, TWO, BRIDGE_THREE, ("bulb.A", "gauge.A"), ("bulb.B", "gauge.B"))
    assert verdict.outcome == "discrepancy"
    assert (verdict.value, verdict.limit, verdict.margin) == (2, 3, -1)
    assert "bulb.B to gauge.C" in verdict.remedy


def test_third_lead_joined_on_the_way(judged):
    ends = [("bulb.A", "gauge.A"), ("bulb.B", "splice.1"), ("splice.2", "gauge.B"), ("splice.2", "gauge.C")]
    verdict = judge(judged, TWO, BRIDGE_THREE, *ends)
    assert verdict.outcome == "discrepancy"
    assert verdict.at == ("bulb", "gauge", "W2")


@pytest.mark.parametrize(
    ("bulb", "order", "outcome"),
    [
        (THREE, "ABC", "meets"),
        (THREE, "ACB", "meets"),
        (THREE, "BAC", "discrepancy"),
        (THREE, "CBA", "discrepancy"),
        (TWO, "ABB", "meets"),
        (TWO, "BAA", "meets"),
        (TWO, "AAB", "discrepancy"),
    ],
)
def test_leads_of_a_three_lead_bulb_exchanged(judged, bulb, order, outcome):
    # the bridge balances leads of arms one and two: terminals B and C belong to one end of the element, A to the other
    ends = [(f"bulb.{ours}", f"gauge.{theirs}") for ours, theirs in zip(order, "ABC", strict=True)]
    verdict = judge(judged, bulb, BRIDGE_THREE, *ends)
    assert verdict.outcome == outcome
    if outcome == "discrepancy":
        assert set(verdict.at) == {"bulb", "gauge", "W1", "W2", "W3"}
        assert "by W1, W2 and W3" in verdict.message


def test_leads_of_the_indicator_not_stated(judged):
    text = BULB.format(bulb=TWO, gauge=BRIDGE_TWO, runs=runs(("bulb.A", "gauge.A"), ("bulb.B", "gauge.B")))
    bare = text.replace(f"part: {BRIDGE_TWO}", "principle: bridge, terminals: [A, B]")
    [verdict] = judged(bare, "bulb-lead-arrangement")
    assert verdict.outcome == "undetermined"
    assert "bulb_leads" in verdict.missing[0]


def test_bulb_on_another_kind_of_input(judged):
    text = BULB.format(bulb=TWO, gauge=BRIDGE_TWO, runs=runs(("bulb.A", "gauge.A"), ("bulb.B", "gauge.B")))
    [verdict] = judged(
        text.replace(f"part: {BRIDGE_TWO}", "principle: voltage, terminals: [A, B]"), "bulb-lead-arrangement"
    )
    assert verdict.outcome == "discrepancy"


CURVES = """
zones: {{engine: {{}}, cabin: {{}}}}
senders: {{sender: {{principle: {principle}, terminals: [A, B], measures: {measure}, zone: engine{sender}}}}}
indicators: {{gauge: {{principle: electronic resistance, terminals: [A, B], measures: {measure}, zone: cabin, accuracy: {accuracy},
  scale: {{lowest: {low}, highest: {high}}}{gauge}}}}}
wire_runs:
  W1: {{part: AS22759/16, gauge: 20 AWG, from: sender.A, to: gauge.A}}
  W2: {{part: AS22759/16, gauge: 20 AWG, from: sender.B, to: gauge.B}}
"""


def curves(
    judged,
    sender,
    gauge,
    low="0 degC",
    high="90 degC",
    principle="resistance bulb",
    measure="oil temperature",
    accuracy="1 degC",
):
    text = CURVES.format(
        sender=f", curve: {sender}" if sender else "", gauge=f", curve: {gauge}" if gauge else "", low=low, high=high,
        principle=principle, measure=measure, accuracy=accuracy,
    )  # fmt: skip
    [verdict] = judged(text, "sender-curve-match")
    return verdict


def test_same_curve(judged):
    assert curves(judged, "{law: Pt100}", "{law: Pt100}").outcome == "meets"


def test_nickel_bulb_on_a_platinum_dial(judged):
    # R_Ni(50) = 108.39 ohm is 21.5 degC on Pt100, 28.5 low: the worst from 0 (24.5 low) to 90 degC (26.5 low)
    verdict = curves(judged, "{law: nickel 90.38}", "{law: Pt100}")
    assert verdict.outcome == "discrepancy"
    assert verdict.value == pytest.approx(28.5, abs=0.2)
    assert verdict.limit == pytest.approx(1)
    assert verdict.unit == "degC"
    # R_Ni(90) = 124.59 ohm is 63.5 degC on Pt100
    top = curves(judged, "{law: nickel 90.38}", "{law: Pt100}", "89.9 degC", "90 degC")
    assert top.value == pytest.approx(90 - 63.5, abs=0.3)


def test_rising_sender_on_a_falling_dial(judged):
    # 10 ohm at 0 psi is below the 33 ohm the falling dial has at 100 psi.
    verdict = curves(
        judged, "{points: [[0 psi, 10 ohm], [100 psi, 180 ohm]]}", "{points: [[0 psi, 240 ohm], [100 psi, 33 ohm]]}",
        "0 psi", "100 psi", "resistive", "oil pressure", "3 psi",
    )  # fmt: skip
    assert verdict.outcome == "discrepancy"
    assert "driven above its scale" in verdict.message


def test_curves_within_their_tolerances(judged):
    # Five per cent more resistance on a rising dial of 170 ohm a 100 psi: 9 ohm at 180, 5.3 psi; 6 psi allowed
    points = "{points: [[0 psi, 10 ohm], [100 psi, 180 ohm]]}"
    near = "{points: [[0 psi, 10.5 ohm], [100 psi, 189 ohm]]}"
    verdict = curves(judged, near, points, "0 psi", "100 psi", "resistive", "oil pressure", "6 psi")
    assert verdict.outcome == "meets"
    assert verdict.value == pytest.approx(9 / 1.7, abs=0.01)


def test_volts_on_an_ohm_dial(judged):
    verdict = curves(
        judged, "{points: [[0 psi, 0.5 V], [100 psi, 4.5 V]]}", "{points: [[0 psi, 10 ohm], [100 psi, 180 ohm]]}",
        "0 psi", "100 psi", "pressure transducer", "oil pressure", "3 psi",
    )  # fmt: skip
    assert verdict.outcome == "discrepancy"


@pytest.mark.parametrize(
    ("sender", "gauge", "missing"),
    [
        (None, "{law: Pt100}", "curve of the sender"),
        ("{law: Pt100}", None, "curve the indicator's dial is drawn for"),
    ],
)
def test_curve_not_stated(judged, sender, gauge, missing):
    verdict = curves(judged, sender, gauge)
    assert verdict.outcome == "undetermined"
    assert verdict.missing == (missing,)


@pytest.mark.parametrize(
    ("shows", "outcome"),
    [
        (", open_shows: 59 degF", "advisory"),
        (", open_shows: last value", "advisory"),
        (", open_shows: 30 degF", "meets"),
        (", open_shows: off scale high", "meets"),
        (", open_shows: nothing", "meets"),
        ("", "undetermined"),
    ],
)
def test_what_an_open_circuit_shows(judged, shows, outcome):
    text = CURVES.format(
        sender="",
        gauge=shows,
        low="50 degF",
        high="300 degF",
        principle="thermistor",
        measure="oil temperature",
        accuracy="3 degF",
    )
    [verdict] = judged(text, "open-circuit-believable")
    assert verdict.outcome == outcome


def test_open_moving_coil_rests_at_the_panel(judged):
    text = CURVES.format(
        sender="",
        gauge="",
        low="50 degF",
        high="600 degF",
        principle="thermistor",
        measure="head temperature",
        accuracy="3 degF",
    ).replace("electronic resistance", "moving-coil thermocouple")
    [verdict] = judged(text, "open-circuit-believable")
    assert verdict.outcome == "meets"


def test_a_sender_for_two_gauges_has_half_the_resistance_their_dials_are_drawn_for(judged):
    # Both gauges' equal currents flow through it: at each it stands for twice its ohms, 90 ohm for 180 ohm.
    half = "{points: [[0 psi, 5 ohm], [100 psi, 90 ohm]]}, stations: 2"
    dial = "{points: [[0 psi, 10 ohm], [100 psi, 180 ohm]]}"
    told = curves(judged, half, dial, "0 psi", "100 psi", "resistive", "oil pressure", "1 psi")
    assert told.outcome == "meets"
    assert told.value is None or told.value == pytest.approx(0, abs=1e-6)
    single = curves(
        judged, half.partition(", st")[0], dial, "0 psi", "100 psi", "resistive", "oil pressure", "1 psi"
    )
    assert single.outcome == "discrepancy"
