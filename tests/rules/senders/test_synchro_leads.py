import pytest

TEXT = """
zones: {{cabin: {{occupied: yes, temperature: {{lowest: 0 degC, highest: 40 degC}}}}}}
senders: {{tx: {{part: synchro transmitter, measures: oil pressure, zone: cabin}}}}
indicators: {{rx: {{part: synchro oil pressure indicator, zone: cabin{winding}}}}}
wire_runs:
{leads}
"""


def document(length=("10 ft", "10 ft", "10 ft"), winding=""):
    leads = "\n".join(
        f"  L{i}: {{from: tx.S{i}, to: rx.S{i}, part: AS22759/16, gauge: 20 AWG, route: [{{zone: cabin, length: {n}}}]}}"
        for i, n in enumerate(length, 1)
        if n
    )
    return TEXT.format(leads=leads, winding=winding)


def test_leads_alike(judged):
    [verdict] = judged(document(), "synchro-lead-balance")
    assert (verdict.outcome, verdict.value) == ("meets", 0)


def test_leads_unlike(judged):
    text = document(length=("10 ft", "10 ft", "110 ft"), winding=", winding_resistance: 20 ohm")
    [verdict] = judged(text, "synchro-lead-balance")
    # 100 ft x 9.88 ohm/1000 ft = 0.988 ohm, 9.88 % of the 10 ohm leg; 0.0988 / 3 rad = 1.89 deg; 1 % gives 0.19 deg
    assert (verdict.outcome, verdict.value) == ("advisory", pytest.approx(1.887, abs=0.001))
    assert verdict.limit == pytest.approx(0.191, abs=0.001)
    [verdict] = judged(text.replace("20 ohm", "400 ohm"), "synchro-lead-balance")
    # 0.49 % of a 200 ohm leg: 0.094 deg
    assert (verdict.outcome, verdict.value) == ("meets", pytest.approx(0.0943, abs=0.0005))


def test_leads_unlike_on_an_unknown_winding(judged):
    [verdict] = judged(document(length=("10 ft", "10 ft", "110 ft")), "synchro-lead-balance")
    assert (verdict.outcome, verdict.missing) == (
        "undetermined",
        ("winding resistance between two leads of the receiver",),
    )
    [verdict] = judged(document(length=("10 ft", "10 ft", "unknown")), "synchro-lead-balance")
    assert verdict.outcome == "undetermined"


def test_lead_left_out_is_no_question_of_balance(judged):
    assert judged(document(length=("10 ft", None, "10 ft")), "synchro-lead-balance") == []
