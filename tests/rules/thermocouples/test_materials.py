"""Readings by hand from NIST ITS-90 tables (mV): type K 25: 1.000, 50: 2.023, 60: 2.436, 82: 3.350, 205: 8.338; see each case."""

import pytest

HEAD = """
engines: {{engine: {{limits: {{head temperature: {{maximum: 500 degF}}}}}}}}
zones: {{engine: {{}}, engine bay: {{}}, cabin: {{occupied: yes}}}}
operating_points:
  climb: {{zone_temperatures: {{engine: {bay} degC, engine bay: {bay} degC, cabin: 25 degC}}, readings: {{head temperature: {true} degC}}}}
probes:
  head probe: {{part: bayonet probe {probe} isolated, zone: engine bay, measures: head temperature}}
indicators:
  head gauge: {{part: electronic head temperature indicator {gauge}, zone: cabin, scale: {{lowest: -100 degF, highest: 1200 degF}}}}
"""
PAIR = "  {ident}: {{part: {part}, gauge: 20 AWG, length: 3 ft, conductors: {{'+': {{from: {a}, to: {b}}}, '-': {{from: {c}, to: {d}}}}}}}\n"
LEAD = "head probe.+ head gauge.+ head probe.- head gauge.-"


def document(runs: str, probe="K", gauge="K", bay=82, true=205, more="") -> str:
    return HEAD.format(probe=probe, gauge=gauge, bay=bay, true=true) + more + "wire_runs:\n" + runs


def pair(part: str, ends: str, ident="W1") -> str:
    a, b, c, d = (e.replace("_", " ") for e in ends.replace("head ", "head_").split())
    return PAIR.format(ident=ident, part=part, a=a, b=b, c=c, d=d)


def single(ident: str, sign: str, part="AS22759/16", more="") -> str:
    return f"  {ident}: {{from: head probe.{sign}, to: head gauge.{sign}, part: {part}, gauge: 20 AWG, length: 3 ft{more}}}\n"


def degf(c: float) -> float:
    return c * 1.8


def judge(judged, text, rule="thermocouple-leg-material"):
    [verdict] = judged(text, rule)
    return verdict


def test_unbroken_legs_meet(judged):
    verdict = judge(judged, document(pair("thermocouple lead K", LEAD)))
    assert verdict.outcome == "meets"
    assert verdict.at == ("head probe", "head gauge")


@pytest.mark.parametrize(
    ("runs", "probe", "shown"),
    [
        # E_K(205) - E_K(82) + E_K(25) = 8.338 - 3.350 + 1.000 = 5.988 mV: 146.3 degC
        (single("W1", "+") + single("W2", "-"), "K", 146.3),
        # E_J(205) - E_J(82) + E_J(25): 150.5 degC
        (single("W1", "+") + single("W2", "-"), "J", 150.5),
        # E_K(205) - E_K(82) + E_J(82) - E_J(25) + E_K(25): 221.6 degC
        (pair("thermocouple lead J", LEAD), "K", 221.6),
        # E_J(205) - E_J(82) + E_K(82) - E_K(25) + E_J(25): 193.0 degC
        (pair("thermocouple lead K", LEAD), "J", 193.0),
        # Copper for chromel alone: 175.8; for alumel alone: 175.3 (single legs E_E - E_T and E_E - E_T - E_K)
        (single("W1", "+") + single("W2", "-", "thermocouple lead K", ", metal: alumel"), "K", 175.8),
        (single("W1", "+", "thermocouple lead K", ", metal: chromel") + single("W2", "-"), "K", 175.3),
        # Copper for constantan: 161.0; copper for iron: 194.6 (both within 1 degC: legs of type J)
        (single("W1", "+", "thermocouple lead J", ", metal: iron") + single("W2", "-"), "J", 161.0),
        (single("W1", "+") + single("W2", "-", "thermocouple lead J", ", metal: constantan"), "J", 194.6),
        # N on K: 185.9; alumel in both conductors acts as copper in both: 146.3
        (pair("thermocouple lead N", LEAD), "K", 185.9),
        (
            single("W1", "+", "thermocouple lead K", ", metal: alumel")
            + single("W2", "-", "thermocouple lead K", ", metal: alumel"),
            "K",
            146.3,
        ),
    ],
)
def test_wrong_metal_gives_the_reading_seen(judged, runs, probe, shown):
    verdict = judge(judged, document(runs, probe=probe, gauge=probe))
    assert verdict.outcome == "discrepancy"
    assert verdict.value == pytest.approx(degf(abs(shown - 205)), abs=1.0)
    assert verdict.unit == "degF"
    # Standard extension lead may be off 2.2 degC, which is 3.96 degF.
    assert verdict.limit == pytest.approx(3.96)
    assert verdict.margin == pytest.approx(verdict.limit - verdict.value)
    assert verdict.path[0] == "wire_runs"
    assert verdict.remedy


@pytest.mark.parametrize(("join", "low"), [(40, 36.7), (60, 73.8), (100, 147.5)])
def test_copper_added_at_a_join_reads_low_by_what_the_join_is_warmer(judged, join, low):
    # Type K, gauge at 20 degC, true 200 degC: inverse(E(200) - E(join) + E(20)), 36.7, 73.8 and 147.5 degF low.
    more = (
        "junctions: {join: {kind: terminal block, metal: brass, zone: engine bay, terminals: ['1', '2']}}\n"
    )
    runs = (
        pair("thermocouple lead K", "head probe.+ join.1 head probe.- join.2", "W1")
        + "  W2: {from: join.1, to: head gauge.+, part: AS22759/16, gauge: 20 AWG, length: 1 ft}\n"
        + "  W3: {from: join.2, to: head gauge.-, part: AS22759/16, gauge: 20 AWG, length: 1 ft}\n"
    )
    text = document(runs, bay=join, true=200, more=more).replace("cabin: 25 degC", "cabin: 20 degC")
    verdict = judge(judged, text)
    assert verdict.outcome == "discrepancy"
    assert verdict.value == pytest.approx(low, abs=1.0)
    assert "W2" in verdict.at
    # The length of the copper does not enter.
    assert judge(judged, text.replace("length: 1 ft", "length: 30 ft")).value == verdict.value


def test_copper_within_one_zone_is_harmless(judged):
    more = "junctions: {join: {kind: terminal block, metal: brass, zone: cabin, terminals: ['1', '2']}}\n"
    runs = (
        pair("thermocouple lead K", "head probe.+ join.1 head probe.- join.2", "W1")
        + "  W2: {from: join.1, to: head gauge.+, part: AS22759/16, gauge: 20 AWG, length: 1 ft}\n"
        + "  W3: {from: join.2, to: head gauge.-, part: AS22759/16, gauge: 20 AWG, length: 1 ft}\n"
    )
    verdict = judge(judged, document(runs, more=more))
    assert verdict.outcome == "meets"
    assert "share one zone" in verdict.message


def test_block_in_the_engine_bay_with_matched_lead_both_sides(judged):
    more = (
        "junctions: {block: {kind: terminal block, metal: brass, zone: engine bay, terminals: ['1', '2']}}\n"
    )
    runs = pair("thermocouple lead K", "head probe.+ block.1 head probe.- block.2", "W1") + pair(
        "thermocouple lead K", "block.1 head gauge.+ block.2 head gauge.-", "W2"
    )
    assert judge(judged, document(runs, more=more)).outcome == "meets"


def test_crossed_once_at_the_probe(judged):
    # -E(205) + 2 E(82) = -8.338 + 6.700 = -1.638 mV: -43.1 degC, 248.1 degC low
    verdict = judge(
        judged, document(pair("thermocouple lead K", "head probe.- head gauge.+ head probe.+ head gauge.-"))
    )
    assert verdict.outcome == "discrepancy"
    assert "the legs of W1 are crossed at head probe" in verdict.message
    assert verdict.value == pytest.approx(degf(205 + 43.1), abs=1.0)


def test_crossed_once_at_the_indicator(judged):
    # 2 E(25) - E(120) = 2.000 - 4.920 = -2.919 mV: -80.0 degC
    text = document(
        pair("thermocouple lead K", "head probe.+ head gauge.- head probe.- head gauge.+"), true=120
    )
    verdict = judge(judged, text)
    assert "crossed at head gauge" in verdict.message
    assert verdict.value == pytest.approx(degf(120 + 80.0), abs=1.0)


def test_crossed_at_both_ends_still_moves_up_the_scale(judged):
    # E(205) - 2 E(82) + 2 E(25) = 8.338 - 6.700 + 2.000 = 3.638 mV: 89.0 degC
    verdict = judge(
        judged, document(pair("thermocouple lead K", "head probe.- head gauge.- head probe.+ head gauge.+"))
    )
    assert verdict.outcome == "discrepancy"
    assert "crossed at head probe and again at head gauge" in verdict.message
    assert verdict.value == pytest.approx(degf(205 - 89.0), abs=1.0)
    assert "head probe and at head gauge" in verdict.remedy


def test_slightly_wrong_metal_is_an_advisory(judged):
    # Type T lead on a K probe from 60 to 50 degC: slopes 43.6 and 41.2 microvolt/degC, 0.02 mV, about 0.6 degC.
    text = document(pair("thermocouple lead T", LEAD), bay=60).replace("cabin: 25 degC", "cabin: 50 degC")
    verdict = judge(judged, text)
    assert verdict.outcome == "advisory"
    assert verdict.value == pytest.approx(degf(0.6), abs=0.5)


def test_compensating_lead_is_the_right_metal(judged):
    assert judge(judged, document(pair("compensating lead K", LEAD))).outcome == "meets"


def test_copper_is_right_beyond_a_reference_junction_elsewhere(judged):
    more = (
        "junctions: {block: {kind: terminal block, metal: brass, zone: engine bay, terminals: ['1', '2']}}\n"
    )
    runs = (
        pair("thermocouple lead K", "head probe.+ block.1 head probe.- block.2", "W1")
        + "  W2: {from: block.1, to: head gauge.+, part: AS22759/16, gauge: 20 AWG, length: 1 ft}\n"
        + "  W3: {from: block.2, to: head gauge.-, part: AS22759/16, gauge: 20 AWG, length: 1 ft}\n"
    )
    text = document(runs, more=more)
    assert judge(judged, text).outcome == "discrepancy"
    moved = text.replace(
        "zone: cabin, scale", "zone: cabin, compensation: elsewhere, compensated_at: block.1, scale"
    )
    assert judge(judged, moved).outcome == "meets"


def test_metal_not_stated_is_undetermined(judged):
    runs = single("W1", "+").replace("part: AS22759/16, ", "") + single("W2", "-")
    verdict = judge(
        judged,
        document(
            runs.replace(
                "W2: {from: head probe.-, to: head gauge.-, part: AS22759/16",
                "W2: {from: head probe.-, to: head gauge.-",
            )
        ),
    )
    assert verdict.outcome == "undetermined"
    assert verdict.missing


def test_wrong_metal_between_unknown_temperatures_is_still_wrong(judged):
    text = document(single("W1", "+") + single("W2", "-")).replace("engine bay: 82 degC, ", "")
    verdict = judge(judged, text)
    assert verdict.outcome == "discrepancy"
    assert verdict.value is None


def test_open_leg(judged):
    text = document(
        single("W1", "+")
        + "  W2: {from: head probe.-, to: block.1, part: AS22759/16, gauge: 20 AWG, length: 3 ft}\n"
        "  W3: {from: block.2, to: head gauge.-, part: AS22759/16, gauge: 20 AWG, length: 3 ft}\n",
        more="junctions: {block: {kind: terminal block, zone: cabin, terminals: ['1', '2']}}\n",
    )
    verdict = judge(judged, text)
    assert verdict.outcome == "discrepancy"
    assert "open" in verdict.message


def test_leg_not_described_is_undetermined(judged):
    verdict = judge(judged, document(single("W1", "+")))
    assert verdict.outcome == "undetermined"


def test_legs_on_each_other_s_screws_of_one_block(judged):
    # The lead is whole from probe to gauge; only the screws it passes are of the other leg's metal, against their marks.
    text = """
probes: {head probe: {part: bayonet probe J isolated}}
indicators: {head gauge: {part: moving-coil head temperature indicator 2 ohm J}}
junctions: {block: {part: thermocouple terminal block J, size: 1 pair}}
wire_runs:
  T1: {part: thermocouple lead J, gauge: 20 AWG, conductors: {'+': {from: head probe.+, to: block.1 -}, '-': {from: head probe.-, to: block.1 +}}}
  T2: {part: thermocouple lead J, gauge: 20 AWG, conductors: {'+': {from: block.1 -, to: head gauge.+}, '-': {from: block.1 +, to: head gauge.-}}}
"""
    verdict = judge(judged, text)
    assert verdict.outcome == "discrepancy"
    assert verdict.path == ("junctions", "block")
    assert "reads right only while" in verdict.message


def test_a_pointer_below_its_dial_is_told_no_figure(judged):
    """Crossed at the gauge with 25 degC there: E = 1.000 - (8.338 - 1.000) = -6.338 mV, about -226 degC, far below the dial."""
    crossed = document(pair("thermocouple lead K", "head probe.+ head gauge.- head probe.- head gauge.+"))
    verdict = judge(judged, crossed)
    assert verdict.outcome == "discrepancy"
    assert "head gauge is driven below its scale" in verdict.message
    assert "degF low" not in verdict.message
