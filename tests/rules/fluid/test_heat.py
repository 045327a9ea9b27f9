import pytest

TEXT = """
zones: {{bay: {{{zone}}}}}
senders: {{sender: {{principle: switch, terminals: [S], {sender}}}}}
"""
HOT = "temperature: {lowest: -20 degC, highest: 230 degF}"


@pytest.mark.parametrize(
    ("zone", "sender", "outcome", "margin"),
    [
        # 230 degF is 110 degC
        (HOT, "zone: bay, temperature_rating: 125 degC", "meets", 15),
        (HOT, "zone: bay, temperature_rating: 110 degC", "meets", 0),
        (HOT, "zone: bay, temperature_rating: 105 degC", "discrepancy", -5),
        # its own place is cooler than its zone
        (
            HOT,
            "zone: bay, temperature_rating: 105 degC, temperature: {lowest: -20 degC, highest: 60 degC}",
            "meets",
            45,
        ),
        (HOT, "temperature_rating: 105 degC", "undetermined", None),
        (HOT, "zone: bay, temperature_rating: unknown", "undetermined", None),
        ("vibrates: no", "zone: bay, temperature_rating: 105 degC", "undetermined", None),
    ],
)
def test_a_sender_in_the_heat(judged, zone, sender, outcome, margin):
    [verdict] = judged(TEXT.format(zone=zone, sender=sender), "part-temperature")
    assert verdict.outcome == outcome
    assert verdict.margin == (None if margin is None else pytest.approx(margin, abs=1e-6))
