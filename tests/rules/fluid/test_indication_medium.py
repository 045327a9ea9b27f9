"""A sender takes what it measures from the fluid it measures."""

import pytest

TEXT = """
zones: {{bay: {{}}}}
taps: {{a: {{medium: {a}, zone: bay}}, b: {{medium: {b}, zone: bay}}}}
senders:
  s: {{principle: pressure transducer, measures: {measures}, terminals: ['+'], ports: [P, R], zone: bay}}
fluid_lines: {{L1: {{from: a, to: s.P}}{more}}}
"""


def outcomes(judged, measures, a, b="air", more=""):
    text = TEXT.format(measures=measures, a=a, b=b, more=more)
    return [v.outcome for v in judged(text, "indication-medium")]


@pytest.mark.parametrize(
    ("measures", "medium", "outcome"),
    [
        ("oil pressure", "oil", "meets"),
        ("oil pressure", "fuel", "discrepancy"),
        ("fuel pressure", "oil", "discrepancy"),
        ("fuel flow", "oil", "discrepancy"),
        ("manifold pressure", "fuel-air mixture", "meets"),
        ("manifold pressure", "fuel", "discrepancy"),
        ("fuel pressure", "manifold air", "discrepancy"),
        ("hydraulic pressure", "oil", "discrepancy"),
    ],
)
def test_what_reaches_it(judged, measures, medium, outcome):
    assert outcomes(judged, measures, medium) == [outcome]


def test_fuel_pressure_against_the_manifold_is_no_mistake(judged):
    assert outcomes(judged, "fuel pressure", "fuel", "manifold air", ", L2: {from: b, to: s.R}") == ["meets"]


def test_what_is_of_no_fluid_is_not_asked(judged):
    assert outcomes(judged, "engine speed", "oil") == []
