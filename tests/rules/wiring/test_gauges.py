import pytest

TEXT = """
zones: {{bay: {zone}}}
senders: {{a: {{terminals: [A, B], zone: bay}}}}
indicators: {{b: {{terminals: [A, B], zone: bay}}}}
bundles: {{harness: {{wires: {wires}}}}}
wire_runs: {{W1: {{from: a.A, to: b.A, length: 3 ft, {run}}}}}
"""


def document(run, wires="8", zone="{vibrates: yes}"):
    return TEXT.format(run=run, wires=wires, zone=zone)


def test_common_wire_meets(judged):
    [verdict] = judged(document("part: AS22759/16, gauge: 20 AWG"), "wire-gauge")
    assert verdict.outcome == "meets"


def test_thin_copper_is_told_the_alloy(judged):
    [verdict] = judged(document("part: AS22759/32, gauge: 24 AWG, bundle: harness"), "wire-gauge")
    # 22 - 24
    assert (verdict.outcome, verdict.value, verdict.limit, verdict.margin) == ("advisory", 24, 22, -2)
    assert "AS22759/33" in verdict.remedy


def test_thin_alloy_in_company_meets(judged):
    [verdict] = judged(document("part: AS22759/33, gauge: 26 AWG, bundle: harness"), "wire-gauge")
    assert verdict.outcome == "meets"


def test_thin_wire_alone_where_it_shakes(judged):
    [verdict] = judged(document("part: AS22759/16, gauge: 22 AWG"), "wire-gauge")
    assert verdict.outcome == "advisory"
    assert verdict.remedy.startswith("use 20 AWG")
    [verdict] = judged(document("part: AS22759/16, gauge: 22 AWG", zone="{vibrates: no}"), "wire-gauge")
    assert verdict.outcome == "meets"
    [verdict] = judged(document("part: AS22759/16, gauge: 22 AWG", zone="{occupied: no}"), "wire-gauge")
    assert (verdict.outcome, verdict.path) == ("undetermined", ("zones", "bay"))


def test_gauge_not_told(judged):
    [verdict] = judged(document("metal: copper"), "wire-gauge")
    assert (verdict.outcome, verdict.missing) == ("undetermined", ("gauge of the run",))


@pytest.mark.parametrize("gauge", ["10 AWG", "4 AWG"])
def test_aluminium_signal_wire_is_refused(judged, gauge):
    [verdict] = judged(document(f"metal: aluminium, gauge: {gauge}, sensing: yes"), "wire-gauge")
    assert verdict.outcome == "discrepancy"


def test_large_aluminium_feeder_meets(judged):
    [verdict] = judged(document("metal: aluminium, gauge: 4 AWG, current: 40 A"), "wire-gauge")
    assert verdict.outcome == "meets"
    [verdict] = judged(document("metal: aluminium, gauge: 10 AWG, current: 10 A"), "wire-gauge")
    assert verdict.outcome == "discrepancy"


def test_couple_leads_of_24_awg_are_of_their_own_alloy(judged):
    text = document("gauge: 24 AWG, kind: thermocouple lead, thermocouple: K")
    assert [v.outcome for v in judged(text, "wire-gauge")] == ["meets"]
