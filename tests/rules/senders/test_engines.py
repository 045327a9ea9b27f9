"""What is shown of an engine comes from that engine."""

import pytest

TEXT = """
engines: {{left: {{}}, right: {{}}}}
zones: {{bay: {{}}}}
senders:
  bulb: {{principle: thermistor, measures: oil temperature, terminals: [a, b]{bulb}}}
  transducer: {{principle: pressure transducer, terminals: [c], ports: [P], measures: oil pressure{transducer}}}
indicators:
  gauge: {{principle: electronic resistance, measures: oil temperature, terminals: [x, y]{gauge}}}
wire_runs: {{A: {{from: bulb.a, to: gauge.x}}, B: {{from: bulb.b, to: gauge.y}}}}
taps: {{gallery: {{medium: oil, zone: bay{tap}}}}}
fluid_lines: {{L1: {{from: gallery, to: transducer.P}}}}
"""
LEFT, RIGHT = ", engine: left", ", engine: right"


def outcomes(judged, **more):
    told = {"bulb": "", "transducer": "", "gauge": "", "tap": ""} | more
    return {v.at[0]: (v.outcome, v.message) for v in judged(TEXT.format(**told), "indication-engine")}


@pytest.mark.parametrize(
    ("gauge", "bulb", "outcome"),
    [(LEFT, LEFT, "meets"), (LEFT, RIGHT, "discrepancy"), (LEFT, "", "undetermined")],
)
def test_by_wire(judged, gauge, bulb, outcome):
    assert outcomes(judged, gauge=gauge, bulb=bulb)["gauge"][0] == outcome


def test_names_both(judged):
    _, told = outcomes(judged, gauge=LEFT, bulb=RIGHT)["gauge"]
    assert told == "gauge is of engine left, but reads bulb of engine right"


@pytest.mark.parametrize(
    ("transducer", "tap", "outcome"), [(RIGHT, RIGHT, "meets"), (RIGHT, LEFT, "discrepancy")]
)
def test_by_line(judged, transducer, tap, outcome):
    assert outcomes(judged, transducer=transducer, tap=tap)["transducer"][0] == outcome


def test_what_says_no_engine_is_not_asked(judged):
    assert outcomes(judged) == {}


def test_a_single_has_nothing_to_exchange(judged):
    text = TEXT.format(bulb=RIGHT, transducer="", gauge=RIGHT, tap="").replace("left: {}, ", "")
    assert judged(text, "indication-engine") == []
