import pytest

HEAD = """
zones: {{bay: {{}}, cabin: {{occupied: yes}}}}
operating_points:
  climb: {{zone_temperatures: {{bay: {bay} degC, cabin: {cabin} degC}}, readings: {{head temperature: 205 degC}}}}
probes: {{probe: {{part: bayonet probe K isolated, zone: bay, measures: head temperature}}}}
indicators:
  gauge: {{part: electronic head temperature indicator K, zone: cabin, scale: {{lowest: 0 degF, highest: 600 degF}}{gauge}}}
junctions:
{junctions}
wire_runs:
  W1: {{part: thermocouple lead K, gauge: 20 AWG, length: 3 ft, conductors: {{'+': {{from: probe.+, to: {a}}}, '-': {{from: probe.-, to: {b}}}}}}}
  W2: {{part: {lead}, gauge: 20 AWG, length: 3 ft, conductors: {{'+': {{from: {c}, to: gauge.+}}, '-': {{from: {d}, to: gauge.-}}}}}}
"""


def document(
    junctions,
    ends=("plug.A", "plug.B", "plug.A", "plug.B"),
    bay=60,
    cabin=50,
    gauge="",
    lead="thermocouple lead K",
):
    a, b, c, d = ends
    return HEAD.format(junctions=junctions, a=a, b=b, c=c, d=d, bay=bay, cabin=cabin, gauge=gauge, lead=lead)


MATED = """
  plug: {{part: plug size 20 contacts, size: 2 contact, zone: bay{more}}}
  receptacle: {{part: plug size 20 contacts, size: 2 contact, zone: cabin, mates: plug{more}}}
"""
THROUGH = ("plug.A", "plug.B", "receptacle.A", "receptacle.B")


def judge(judged, text, rule="thermocouple-joints"):
    return judged(text, rule)


def test_copper_pins_through_a_wall(judged):
    # -(E(60) - E(50)) = -(2.436 - 2.023) = -0.413 mV at 205 degC: 194.7 degC, 18.6 degF low
    [verdict] = judge(judged, document(MATED.format(more=""), THROUGH))
    assert verdict.outcome == "discrepancy"
    assert verdict.value == pytest.approx((205 - 194.7) * 1.8, abs=1.0)
    assert verdict.limit == pytest.approx(2.2 * 1.8)
    assert verdict.at == ("receptacle", "probe", "gauge")


def test_copper_pins_at_one_temperature(judged):
    [verdict] = judge(judged, document(MATED.format(more=""), THROUGH, bay=55, cabin=55))
    assert verdict.outcome == "meets"
    assert verdict.value == pytest.approx(0, abs=1e-9)


@pytest.mark.parametrize(
    ("more", "outcome"),
    [
        ("", "undetermined"),
        (", isothermal: yes", "meets"),
        # 2 degC across the contacts: 3.6 degF, within the 3.96 degF lead may be off anyway
        (", pin_temperature_difference: 2 degC", "meets"),
        (", pin_temperature_difference: 10 degC", "discrepancy"),
    ],
)
def test_copper_pins_of_one_plug(judged, more, outcome):
    plug = f"  plug: {{part: plug size 20 contacts, size: 2 contact, zone: bay{more}}}"
    [verdict] = judge(judged, document(plug))
    assert verdict.outcome == outcome
    if outcome == "discrepancy":
        # 65 to 55 degC: E 2.644 - 2.230 = 0.414 mV, 10.2 degC, 18.4 degF
        assert verdict.value == pytest.approx(18.4, abs=1.0)
    if outcome == "undetermined":
        assert "isothermal" in verdict.missing[0]


@pytest.mark.parametrize(
    ("more", "open_"), [("", True), (", isothermal: unknown", True), (", isothermal: yes", False)]
)
def test_the_budget_rests_on_the_plug_being_at_one_temperature(judged, more, open_):
    plug = f"  plug: {{part: plug size 20 contacts, size: 2 contact, zone: bay{more}}}"
    [verdict] = judged(document(plug, gauge=", budget: 90 degF"), "indication-within-budget")
    assert any("isothermal" in fact for fact in verdict.missing) == open_
    assert (verdict.outcome == "undetermined") or not open_


def test_contacts_of_the_couples_own_metals(judged):
    plug = "  plug: {part: thermocouple plug K, size: 2 pair, zone: bay, pin_temperature_difference: 30 degC}"
    ends = ("plug.1 +", "plug.1 -", "plug.1 +", "plug.1 -")
    [verdict] = judge(judged, document(plug, ends))
    assert verdict.outcome == "meets"


def test_brass_block_in_the_engine_bay(judged):
    block = "  block: {part: terminal block, size: 2 stud, zone: bay}"
    [verdict] = judge(judged, document(block, ("block.1", "block.2", "block.1", "block.2"), bay=90, cabin=20))
    assert verdict.outcome == "meets"
    assert "one temperature" in verdict.message


def test_reference_at_the_terminals(judged):
    block = "  block: {part: terminal block, size: 2 stud, zone: bay}"
    ends = ("block.1", "block.2", "block.1", "block.2")
    [verdict] = judge(judged, document(block, ends), "thermocouple-reference")
    assert verdict.outcome == "meets"


def test_no_compensation(judged):
    # E(205) - E(25) = 7.338 mV on a scale that supposes ice: 180.0 degC, 45.1 degF low
    block = "  block: {part: terminal block, size: 2 stud, zone: bay}"
    text = document(
        block,
        ("block.1", "block.2", "block.1", "block.2"),
        cabin=25,
        gauge=", compensation: none, reference_temperature: 0 degC",
    )
    [verdict] = judge(judged, text, "thermocouple-reference")
    assert verdict.outcome == "discrepancy"
    assert verdict.value == pytest.approx((205 - 179.953) * 1.8, abs=0.5)


def uncompensated(cabin, more=""):
    block = "  block: {part: terminal block, size: 2 stud, zone: bay}"
    ends = ("block.1", "block.2", "block.1", "block.2")
    return document(block, ends, cabin=cabin, gauge=", compensation: none" + more)


def test_what_an_uncompensated_scale_is_drawn_for_is_asked(judged):
    # At 25 degC a scale drawn for 75 degF (23.9 degC) is 1.1 K off and within a lead's 2.2; one drawn for ice is not.
    [verdict] = judge(judged, uncompensated(25), "thermocouple-reference")
    assert verdict.outcome == "undetermined"
    assert "32 degF or 75 degF" in verdict.message
    [stated] = judge(judged, uncompensated(25, ", reference_temperature: 75 degF"), "thermocouple-reference")
    assert stated.outcome == "meets"


def test_an_uncompensated_scale_is_wrong_whatever_it_is_drawn_for(judged):
    # Cold end at 50 degC: drawn for 75 degF, E(205) - E(50) + E(23.9) = 8.338 - 2.023 + 0.955 = 7.270 mV, 178.3 degC,
    # 26.7 K low; drawn for ice it is further off still.
    [verdict] = judge(judged, uncompensated(50), "thermocouple-reference")
    assert verdict.outcome == "discrepancy"
    assert verdict.value == pytest.approx(26.7 * 1.8, abs=0.5)
    assert "75 degF" in verdict.message


def test_splice_with_unequal_ends(judged):
    # Copper sleeve in the chromel leg, 20 K between its ends about 60 degC. Chromel against copper by the tables:
    # E_E - E_T from 70 to 50 degC, (4.330 - 2.909) - (3.048 - 2.036) = 0.409 mV, at 40 microvolt/K 10.2 K, 18.4 degF.
    parts = """
  plus: {kind: splice, metal: copper, terminals: ['1', '2'], zone: bay, pin_temperature_difference: 20 degC}
  minus: {kind: splice, metal: copper, terminals: ['1', '2'], zone: bay, isothermal: yes}"""
    plus, minus = judge(judged, document(parts, ("plus.1", "minus.1", "plus.2", "minus.2")))
    assert (plus.outcome, minus.outcome) == ("discrepancy", "meets")
    assert plus.value == pytest.approx(18.4, abs=0.5)


def test_reference_taken_beside_the_lead(judged):
    # The lead ends at 25 degC, 60 degC is believed: E(205) - E(25) + E(60) = 8.338 - 1.000 + 2.436 = 9.774 mV,
    # 240.7 degC, 64 degF high.
    block = "  block: {part: terminal block, size: 2 stud, zone: bay}\n  other: {part: terminal block, size: 2 stud, zone: bay}"
    gauge = ", compensation: elsewhere, compensated_at: other.1"
    text = document(block, ("block.1", "block.2", "block.1", "block.2"), cabin=25, gauge=gauge)
    [verdict] = judge(judged, text, "thermocouple-reference")
    assert verdict.outcome == "discrepancy"
    assert verdict.value == pytest.approx(64.2, abs=1.0)
    assert "high" in verdict.message


@pytest.mark.parametrize(
    ("more", "outcome"),
    [
        ("", "undetermined"),
        (", isothermal: yes", "meets"),
        (", pin_temperature_difference: 10 degC", "discrepancy"),
    ],
)
def test_reference_at_a_block(judged, more, outcome):
    block = f"  block: {{part: terminal block, size: 2 stud, zone: bay{more}}}"
    gauge = ", compensation: elsewhere, compensated_at: block.1"
    copper = "{kind: cable, metal: copper"
    text = document(block, ("block.1", "block.2", "block.1", "block.2"), gauge=gauge).replace(
        "W2: {part: thermocouple lead K", f"W2: {copper}"
    )
    [verdict] = judge(judged, text, "thermocouple-reference")
    assert verdict.outcome == outcome


def test_place_of_the_reference_not_stated(judged):
    block = "  block: {part: terminal block, size: 2 stud, zone: bay}"
    text = document(block, ("block.1", "block.2", "block.1", "block.2")).replace(
        "part: electronic head temperature indicator K",
        "principle: electronic thermocouple, thermocouple: K, terminals: ['+', '-']",
    )
    [verdict] = judge(judged, text, "thermocouple-reference")
    assert verdict.outcome == "undetermined"
