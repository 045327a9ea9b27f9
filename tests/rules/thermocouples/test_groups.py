import pytest

HEAD = """
zones: {{bay: {{}}, cabin: {{}}}}
operating_points:
  climb: {{zone_temperatures: {{bay: 60 degC, cabin: 25 degC}}, readings: {{exhaust temperature: 675 degC}}}}
indicators:
  gauge: {{principle: {principle}, thermocouple: K, terminals: ['+', '-'], zone: cabin, compensation: at its terminals, accuracy: 5 degC,
    loop_resistance: 8 ohm, loop_tolerance: 0.05 ohm, inner_resistance: 20 ohm}}
junctions:
  joint: {{part: {part}, size: {size}, zone: cabin}}
"""


def document(
    lengths,
    junction="junction: isolated",
    averaged=False,
    principle="moving-coil thermocouple",
    cross=None,
    direct=None,
):
    out = "out" if averaged else "common"
    part = "thermocouple averaging block K" if averaged else "thermocouple selector switch"
    text = HEAD.format(principle=principle, part=part, size="4 couple" if averaged else "4 position")
    text += "probes:\n"
    for i in range(1, len(lengths) + 1):
        text += f"  probe {i}: {{thermocouple: K, resistance: 0.5 ohm, zone: bay, measures: exhaust temperature, {junction}}}\n"
    text += "wire_runs:\n"
    for i, length in enumerate(lengths, 1):
        minus = f"joint.{i} -"
        if cross == i:
            minus = f"joint.{len(lengths) + 1} -"
        if direct == i:
            minus = "gauge.-"
        text += (
            f"  W{i}: {{part: thermocouple lead K, gauge: 20 AWG, length: {length}, conductors: "
            f"{{'+': {{from: probe {i}.+, to: joint.{i} +}}, '-': {{from: probe {i}.-, to: {minus}}}}}}}\n"
        )
    text += f"  W9: {{part: thermocouple lead K, gauge: 20 AWG, length: 1 ft, conductors: {{'+': {{from: joint.{out} +, to: gauge.+}}, '-': {{from: joint.{out} -, to: gauge.-}}}}}}\n"
    return text


def judge(judged, text, rule):
    [verdict] = judged(text, rule)
    return verdict


def test_equal_leads_behind_a_selector(judged):
    verdict = judge(judged, document(["10 ft", "10 ft", "10 ft"]), "thermocouple-leads-matched")
    assert verdict.outcome == "meets"
    assert verdict.value == pytest.approx(0)
    assert verdict.at == ("gauge", "probe 1", "probe 2", "probe 3")


def test_one_long_lead_behind_a_selector(judged):
    # 2 ft more of 20 AWG K at 0.4152 + 0.1738 = 0.589 ohm/ft: 1.178 ohm
    verdict = judge(judged, document(["10 ft", "10 ft", "12 ft"]), "thermocouple-leads-matched")
    assert verdict.outcome == "discrepancy"
    assert verdict.value == pytest.approx(1.178, abs=1e-3)
    assert verdict.limit == pytest.approx(0.1)
    assert verdict.path == ("wire_runs", "W3")
    assert (
        verdict.remedy
        == "put 1.18 ohm in the lead of probe 1, 1.18 ohm in the lead of probe 2, as a spool or as equal length"
    )


def test_electronic_selector_needs_no_matching(judged):
    text = document(["10 ft", "20 ft"], principle="electronic thermocouple")
    assert judge(judged, text, "thermocouple-leads-matched").outcome == "meets"


def test_averaged_branches_weigh_by_conductance(judged):
    # Branches 0.5 + 0.589 L ohm (and 3 milliohm of joints, which hardly count): 0.849 ft makes 1, 2.547 ft makes 2.
    # Weights 2/7, 2/7, 2/7, 1/7: 3 (2/7 - 1/4) x 100 degF = 10.7 degF
    text = document(["0.849 ft", "0.849 ft", "0.849 ft", "2.547 ft"], averaged=True)
    verdict = judge(judged, text, "thermocouple-leads-matched")
    assert verdict.outcome == "discrepancy"
    assert verdict.value == pytest.approx(10.7, abs=0.1)
    assert verdict.limit == pytest.approx(9.0)
    assert verdict.path == ("wire_runs", "W4")


def test_averaged_equal_branches(judged):
    verdict = judge(judged, document(["2 ft"] * 4, averaged=True), "thermocouple-leads-matched")
    assert verdict.outcome == "meets"
    assert verdict.value == pytest.approx(0, abs=1e-9)


def test_unknown_length_is_undetermined(judged):
    text = document(["2 ft", "2 ft"]).replace(
        "length: 2 ft, conductors: {'+': {from: probe 2", "conductors: {'+': {from: probe 2"
    )
    verdict = judge(judged, text, "thermocouple-leads-matched")
    assert verdict.outcome == "undetermined"
    assert verdict.missing == ("length of the run",)


@pytest.mark.parametrize(
    ("junction", "outcome"),
    [
        ("junction: isolated", "meets"),
        ("junction: grounded", "discrepancy"),
        ("grade: standard", "undetermined"),
    ],
)
def test_averaging_wants_isolated_probes(judged, junction, outcome):
    text = document(["2 ft"] * 4, junction=junction, averaged=True)
    assert judge(judged, text, "thermocouple-averaging").outcome == outcome


def test_both_poles_switched(judged):
    verdicts = judged(document(["2 ft", "2 ft"]), "thermocouple-selector")
    assert [v.outcome for v in verdicts] == ["meets", "meets"]


def test_legs_on_two_positions(judged):
    verdicts = judged(document(["2 ft", "2 ft"], cross=2), "thermocouple-selector")
    assert [v.outcome for v in verdicts] == ["meets", "discrepancy"]
    assert "2 and 3" in verdicts[1].message


def test_one_leg_past_the_selector(judged):
    verdicts = judged(
        document(["2 ft", "2 ft"], junction="junction: grounded", direct=2), "thermocouple-selector"
    )
    assert verdicts[1].outcome == "discrepancy"
    isolated = judged(document(["2 ft", "2 ft"], direct=2), "thermocouple-selector")
    assert isolated[1].outcome == "advisory"
