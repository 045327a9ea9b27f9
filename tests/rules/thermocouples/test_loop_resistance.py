import pytest

TEXT = """
zones: {{bay: {{}}, cabin: {{}}}}
operating_points:
  climb: {{zone_temperatures: {{bay: 25 degC, cabin: 25 degC}}, readings: {{head temperature: 230 degC}}}}
probes:
  probe: {{thermocouple: J, grade: standard, resistance: {couple}, zone: bay, measures: head temperature}}
indicators:
  gauge: {{principle: moving-coil thermocouple, thermocouple: J, terminals: ['+', '-'], zone: cabin, compensation: at its terminals,
    scale: {{lowest: 50 degF, highest: 600 degF}}{gauge}}}
wire_runs:
  W1: {{part: thermocouple lead J, gauge: {awg}, length: {length}, conductors: {{'+': {{from: probe.+, to: gauge.+}}, '-': {{from: probe.-, to: {end}}}}}}}
{more}
"""
MADE = ", loop_resistance: 2 ohm, loop_tolerance: 0.05 ohm"


def text(couple="0.128 ohm", gauge=MADE, awg="18 AWG", length="8 ft", end="gauge.-", more=""):
    return TEXT.format(couple=couple, gauge=gauge, awg=awg, length=length, end=end, more=more)


def judge(judged, document):
    [verdict] = judged(document, "thermocouple-loop-resistance")
    return verdict


def test_loop_as_calibrated(judged):
    # 8 ft of 18 AWG at 0.0464 + 0.1876 = 0.234 ohm/ft is 1.872 ohm; with the couple 2.000 ohm
    verdict = judge(judged, text())
    assert verdict.outcome == "meets"
    assert verdict.value == pytest.approx(2.0, abs=1e-6)
    assert verdict.margin == pytest.approx(0.05, abs=1e-6)


def test_too_much_resistance_reads_low(judged):
    # 10.56 ft: 2.471 + 0.129 = 2.6 ohm; R_m 10 ohm: 220.4 degC for 230, 17.2 degF low
    verdict = judge(judged, text("0.12896 ohm", MADE + ", inner_resistance: 10 ohm", length="10.56 ft"))
    assert verdict.outcome == "discrepancy"
    assert verdict.value == pytest.approx(2.6, abs=1e-3)
    assert (verdict.limit, verdict.unit) == (2.0, "ohm")
    assert verdict.margin == pytest.approx(0.05 - 0.6, abs=1e-3)
    assert "reads 17.2 degF low" in verdict.message
    # 0.6 ohm at 0.234 ohm/ft is 2.564 ft, 30.8 in; 16 AWG saves 2.471 (1 - 92^(-4/39)) = 0.917 ohm, leaving 0.317
    assert "shorten W1 by 30.8 in" in verdict.remedy
    assert "16 AWG with a spool of 0.317 ohm" in verdict.remedy


def test_inner_resistance_unknown_is_bounded(judged):
    # No resistance of its own: E(25) + (E(230) - E(25)) 2/2.6 = 1.277 + 11.168/1.3 = 9.868 mV: 183.6 degC, 83.6 degF low
    verdict = judge(judged, text("0.12896 ohm", length="10.56 ft"))
    assert verdict.outcome == "discrepancy"
    assert "up to 83.6 degF low" in verdict.message
    assert "inner resistance" in verdict.message


def test_too_little_resistance_takes_a_spool(judged):
    # 4 ft: 0.936 + 0.128 = 1.064 ohm, 0.936 ohm too little
    verdict = judge(judged, text(length="4 ft"))
    assert verdict.outcome == "discrepancy"
    assert verdict.remedy == "add a spool of 0.936 ohm in the lead of probe"


SPOOL = """  W2: {part: thermocouple lead J, gauge: 18 AWG, metal: constantan, resistance: 0.1876 ohm/ft, from: spool.out, to: gauge.-, length: 0 in}
junctions: {spool: {part: trim spool constantan, zone: cabin, resistance: 0.5 ohm}}
"""


def test_spool_is_trimmed(judged):
    # 8 ft 1.872 + couple 0.128 + spool 0.5 = 2.5 ohm: the spool has to go to 0
    verdict = judge(judged, text(end="spool.in", more=SPOOL, length="7 ft"))
    # 7 ft: 1.638 + 0.128 + 0.5 = 2.266 ohm; spool 0.5 - 0.266 = 0.234 ohm
    assert verdict.value == pytest.approx(2.266, abs=1e-3)
    assert verdict.remedy == "trim spool to 0.234 ohm"
    assert verdict.path == ("junctions", "spool", "resistance")


def test_measured_loop_counts_before_the_table(judged):
    measured = "measured: [{between: [gauge.+, gauge.-], value: 2.3 ohm, what: resistance, connected: no}]\n"
    verdict = judge(judged, text(more=measured))
    assert verdict.outcome == "discrepancy"
    assert verdict.value == pytest.approx(2.3)
    assert "is measured at" in verdict.message


def test_lead_made_to_a_resistance(judged):
    # 7 ohm per 25 ft: 20 ft are 5.6 ohm; with 0.6 ohm of couple 6.2 ohm: a spool of 1.8 ohm makes 8
    made = text("0.6 ohm", MADE.replace("2 ohm", "8 ohm"), length="20 ft")
    made = made.replace("thermocouple lead J, gauge: 18 AWG", "thermocouple lead K 7 ohm per 25 ft").replace(
        "thermocouple: J", "thermocouple: K"
    )
    verdict = judge(judged, made)
    assert verdict.value == pytest.approx(6.2, abs=1e-3)
    assert verdict.remedy == "add a spool of 1.8 ohm in the lead of probe"


def test_tolerance_not_stated_makes_an_advisory(judged):
    assert judge(judged, text(gauge=", loop_resistance: 2 ohm", length="10 ft")).outcome == "advisory"


@pytest.mark.parametrize(
    ("document", "missing"),
    [
        (text(gauge=""), "external resistance the indicator is calibrated for"),
        (text().replace("length: 8 ft, ", ""), "length of the run"),
        (text().replace("resistance: 0.128 ohm, ", ""), "resistance of the probe with its own lead"),
    ],
)
def test_silence_is_undetermined(judged, document, missing):
    verdict = judge(judged, document)
    assert verdict.outcome == "undetermined"
    assert verdict.missing == (missing,)


def test_electronic_indicator_is_not_concerned(judged):
    electronic = text().replace("moving-coil thermocouple", "electronic thermocouple")
    assert judged(electronic, "thermocouple-loop-resistance") == []


BLOCK = """
junctions: {block: {kind: terminal block, terminals: [A, B], contact_resistance: 0.3 ohm, zone: cabin}}
"""


def test_a_dirty_joint_is_cleaned_before_the_spool_is_touched(judged):
    # 8 ft make the 2 ohm; two joints of 0.3 ohm, half of it at each lead's end, add 0.6 ohm.
    lead = "conductors: {'+': {from: probe.+, to: gauge.+}, '-': {from: probe.-, to: gauge.-}}"
    first = "conductors: {'+': {from: probe.+, to: block.A}, '-': {from: probe.-, to: block.B}}}"
    second = "  W2: {part: thermocouple lead J, gauge: 18 AWG, length: 4 ft, conductors: {'+': {from: block.A, to: gauge.+}, '-': {from: block.B, to: gauge.-}}"
    document = text(length="4 ft").replace(lead, f"{first}\n{second}", 1) + BLOCK
    verdict = judge(judged, document)
    assert verdict.value == pytest.approx(2.6, abs=1e-3)
    assert verdict.remedy.startswith("clean and remake block, whose contacts add 0.6 ohm")
    assert "trim" not in verdict.remedy


def test_a_measured_defect_is_found_before_the_spool_is_touched(judged):
    measured = "measured: [{between: [gauge.+, gauge.-], value: 2.4 ohm, what: resistance, connected: no}]"
    verdict = judge(judged, text(more=measured))
    assert "0.4 ohm more than its parts come to (2 ohm)" in verdict.remedy
    assert "set the spool only when that is mended" in verdict.remedy
