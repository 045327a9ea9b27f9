"""What a study knows of an operating point."""

from installcheck.analysis.study import Study
from installcheck.document import loads

TEXT = """
installation: {name: test}
zones: {bay: {temperature: {lowest: 0 degC, highest: 100 degC, normal: 60 degC}}, cabin: {temperature: {lowest: 0 degC, highest: 40 degC, normal: 20 degC}}}
operating_points:
  cruise: {engine_speed: 2400 rpm, outside_air: -5 degC, joint_temperatures: {block: 75 degC}}
  climb: {readings: {engine speed: 2650 rpm}, engine_speed: 2600 rpm}
junctions:
  block: {kind: terminal block, zone: bay, terminals: ['1', '2']}
  splice: {kind: splice, zone: cabin, shared_block: block}
  alone: {kind: splice, zone: cabin}
"""


def test_speed_and_outside_air_of_a_point_are_true_values():
    cruise, climb = Study(loads(TEXT)).points
    assert cruise.reading("engine speed").text == "2400 rpm"
    assert cruise.reading("outside air temperature").text == "-5 degC"
    assert climb.reading("engine speed").text == "2650 rpm"  # a reading says more than the state


def test_a_joint_on_a_block_has_its_temperature():
    study = Study(loads(TEXT))
    cruise, climb = study.points
    assert study.node_temperature("splice", cruise) == 75
    assert study.node_temperature("splice", climb) == 60  # the block's zone
    assert study.node_temperature("alone", climb) == 20
