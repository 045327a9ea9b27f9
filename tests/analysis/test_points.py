"""What an operating point says of the zones."""

from installcheck.analysis.study import Study
from installcheck.document import loads

TEXT = """
installation: {name: test}
zones:
  bay: {temperature: '0 to 80 degC, normal 60 degC'}
  cabin: {temperature: '0 to 40 degC, normal 25 degC'}
operating_points: {idle: {phase: ground, zone_temperatures: ZONES}}
"""


def zones(told):
    [point] = Study(loads(TEXT.replace("ZONES", told))).points
    return point.zones


def test_a_zone_a_point_says_nothing_of_is_as_usual():
    assert zones("{bay: 70 degC}") == {"bay": 70.0, "cabin": 25.0}


def test_a_temperature_said_to_be_unknown_is_not_that_of_other_days():
    assert set(zones("{bay: 70 degC, cabin: unknown}")) == {"bay"}
    assert zones("unknown") == {}
