"""Direct gauges against the head of a column worked by hand."""

import pytest

from installcheck.analysis.errors.direct_budget import direct_budgets
from installcheck.analysis.study import Study
from installcheck.document import loads
from installcheck.model.quantities import conversion

PSI = conversion("pressure", "psi")[0]
TEXT = """
installation: {name: test}
zones: {engine: {}, cabin: {}}
engines: {engine: {limits: {fuel pressure: {minimum: 0.5 psi, maximum: 8 psi}}}}
operating_points: {cruise: {readings: {fuel pressure: 4 psi}}}
taps: {inlet: {medium: fuel, engine: engine, zone: engine, temperature: 15 degC}}
indicators:
  gauge: {principle: direct pressure, measures: fuel pressure, ports: [P], zone: cabin, elevation: 2 ft, accuracy: 0.5 psi, budget: 1 psi}
fluid_lines: {line: {from: inlet, to: gauge.P, medium: fuel, route: [{zone: engine, length: 4 ft}]}}
"""


def budget(text):
    [one] = direct_budgets(Study(loads(text)))
    return one


def test_fuel_above_its_tap_reads_low():
    one = budget(TEXT)
    # avgas of about 0.72 at 15 degC: 720 x 9.80665 x 0.6096 = 4304 Pa = 0.624 psi
    assert one.error / PSI == pytest.approx(-0.624, rel=0.01)
    assert one.worst_case / PSI == pytest.approx(0.624 + 0.5, rel=0.01)
    assert one.missing == ()


@pytest.mark.parametrize(
    ("cut", "word"),
    [
        (", accuracy: 0.5 psi", "accuracy of the indicator"),
        (", elevation: 2 ft", "height of the gauge or sender above its tap ('elevation')"),
    ],
)
def test_what_is_not_stated_is_asked_for(cut, word):
    assert budget(TEXT.replace(cut, "")).missing == (word,)


def test_accuracy_in_another_unit_is_not_nothing():
    one = budget(TEXT.replace("accuracy: 0.5 psi", "accuracy: 2 deg"))
    assert one.missing == ("tolerance or accuracy in the unit of the indication",)


def test_no_line_no_reading():
    one = budget(
        TEXT.replace("to: gauge.P", "to: line end").replace(
            "fluid_lines:", "fittings: {line end: {ports: [P]}}\nfluid_lines:"
        )
    )
    assert one.indicated is None
    assert "line from a tap to the gauge" in one.missing


def test_air_has_no_head():
    text = TEXT.replace("medium: fuel", "medium: manifold air").replace("fuel pressure", "manifold pressure")
    assert budget(text).error == 0
