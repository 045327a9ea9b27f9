"""Colours of warning lights against the limits they stand for."""

import pytest

DOCUMENT = """
aircraft: {{basis: {basis}}}
zones: {{cabin: {{occupied: yes}}}}
engines: {{engine: {{limits: {{oil temperature: {{maximum: 245 degF, caution_low: 220 degF, caution_high: 245 degF}}}}}}}}
senders: {{switch: {{principle: switch, measures: oil temperature, terminals: [A], zone: cabin}}}}
indicators: {{light: {{principle: warning light, measures: oil temperature, terminals: [A], zone: cabin, markings: {marks}}}}}
wire_runs: {{W1: {{from: switch.A, to: light.A}}}}
"""


@pytest.mark.parametrize(
    ("colour", "at", "outcome"),
    [
        ("red", "245 degF", "meets"),
        ("red", "250 degF", "meets"),
        ("yellow", "245 degF", "discrepancy"),
        ("green", "250 degF", "discrepancy"),
        ("yellow", "230 degF", "meets"),
        ("red", "230 degF", "discrepancy"),
        ("green", "180 degF", "meets"),
        ("blue", "180 degF", "meets"),  # any other colour, different enough
        ("red", "180 degF", "discrepancy"),
    ],
)
def test_colour_by_what_is_asked_of_the_pilot(judged, colour, at, outcome):
    text = DOCUMENT.format(basis="part 23 before 2017", marks=f"[{{colour: {colour}, at: {at}}}]")
    [verdict] = judged(text, "light-colours")
    assert verdict.outcome == outcome
    if outcome == "discrepancy":
        assert verdict.remedy.startswith("fit a lens of")


def test_amber_is_said_for_yellow(judged):
    text = DOCUMENT.format(basis="part 23 before 2017", marks="[{colour: yellow, at: 245 degF}]")
    assert "amber at 245 degF" in judged(text, "light-colours")[0].message


def test_amateur_built_is_advised(judged):
    text = DOCUMENT.format(basis="amateur-built", marks="[{colour: green, at: 250 degF}]")
    assert judged(text, "light-colours")[0].outcome == "advisory"


def test_a_light_without_the_value_it_comes_on_at(judged):
    text = DOCUMENT.format(basis="CAR 3", marks="[{colour: red}]")
    assert judged(text, "light-colours")[0].outcome == "undetermined"
