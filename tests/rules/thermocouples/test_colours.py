import pytest

TEXT = """
installation: {{name: test{scheme}}}
zones: {{bay: {{}}}}
probes: {{probe: {{part: bayonet probe {kind} isolated, zone: bay}}}}
indicators: {{gauge: {{principle: electronic thermocouple, thermocouple: {kind}, terminals: ['+', '-'], zone: bay}}}}
wire_runs:
  W1: {{part: thermocouple lead {kind}, gauge: 20 AWG, conductors: {{'+': {{from: probe.+, to: gauge.+{plus}}}, '-': {{from: probe.-, to: gauge.-{minus}}}}}}}
"""


def outcomes(judged, scheme="US", plus="", minus="", kind="K"):
    text = TEXT.format(
        scheme=f", thermocouple_colours: {scheme}" if scheme else "",
        plus=f", colour: {plus}" if plus else "",
        minus=f", colour: {minus}" if minus else "",
        kind=kind,
    )
    return judged(text, "thermocouple-colours")


@pytest.mark.parametrize(
    ("scheme", "plus", "minus", "kind"),
    [
        ("US", "yellow", "red", "K"),
        ("IEC", "green", "white", "K"),
        ("military", "white", "green", "K"),
        ("US", "white", "red", "J"),
        ("IEC", "black", "white", "J"),
        ("US", "", "", "K"),
    ],
)
def test_colours_of_the_code(judged, scheme, plus, minus, kind):
    assert [v.outcome for v in outcomes(judged, scheme, plus, minus, kind)] == ["meets", "meets"]


def test_swapped_pair(judged):
    verdicts = outcomes(judged, "US", "red", "yellow")
    assert [v.outcome for v in verdicts] == ["discrepancy", "discrepancy"]
    assert "swapped" in verdicts[0].message
    assert verdicts[0].path == ("wire_runs", "W1", "conductors", "+", "colour")


def test_green_is_positive_in_one_code_and_negative_in_another(judged):
    swapped = outcomes(judged, "military", "green", "white")
    assert [v.outcome for v in swapped] == ["discrepancy", "discrepancy"]


def test_colour_of_another_code(judged):
    verdicts = outcomes(judged, "US", "green", "white")
    assert [v.outcome for v in verdicts] == ["advisory", "advisory"]
    assert "type K positive (IEC)" in verdicts[0].message


def test_recalled_military_colours_only_advise(judged):
    verdicts = outcomes(judged, "military", "yellow", "black", "J")
    assert [v.outcome for v in verdicts] == ["advisory", "advisory"]


def test_code_not_stated(judged):
    verdicts = outcomes(judged, None, "yellow", "red")
    assert [v.outcome for v in verdicts] == ["undetermined", "undetermined"]


def test_code_without_colours_for_the_type(judged):
    text = TEXT.format(scheme=", thermocouple_colours: military", plus="", minus="", kind="E")
    text = text.replace("part: bayonet probe E isolated", "thermocouple: E")
    assert [v.outcome for v in judged(text, "thermocouple-colours")] == ["advisory", "advisory"]
