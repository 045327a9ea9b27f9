import pytest

from installcheck.rules.thermocouples.types import _hotter

TEXT = """
engines: {{engine: {{limits: {{{measure}: {{maximum: {limit}}}}}}}}}
zones: {{engine: {{}}, cabin: {{}}}}
operating_points:
  cruise: {{zone_temperatures: {{engine: 82 degC, cabin: 20 degC}}, readings: {{{measure}: {true}}}}}
probes:
  probe: {{thermocouple: {probe}, zone: engine, measures: {measure}}}
indicators:
  gauge: {{principle: {principle}, measures: {measure}, thermocouple: {gauge}, terminals: ['+', '-'], zone: cabin, compensation: at its terminals}}
wire_runs:
  W1: {{kind: thermocouple lead, thermocouple: {probe}, conductors: {{'+': {{from: probe.+, to: gauge.+}}, '-': {{from: probe.-, to: gauge.-}}}}}}
"""


def text(
    probe="K",
    gauge="K",
    true="400 degF",
    limit="500 degF",
    measure="head temperature",
    principle="electronic thermocouple",
):
    return TEXT.format(probe=probe, gauge=gauge, true=true, limit=limit, measure=measure, principle=principle)


def test_same_couple_meets(judged):
    [verdict] = judged(text(), "thermocouple-type-match")
    assert verdict.outcome == "meets"


@pytest.mark.parametrize(
    ("probe", "gauge", "true", "shown"),
    [
        # E_probe(T) - E_probe(20 degC) + E_indicator(20 degC), read on the indicator's scale
        ("K", "E", 1400, 821),
        ("K", "E", 400, 274),
        ("E", "K", 400, 622),
        ("J", "K", 400, 511),
        ("K", "J", 400, 319),
    ],
)
def test_another_couple_gives_the_reading_seen(judged, probe, gauge, true, shown):
    [verdict] = judged(text(probe, gauge, f"{true} degF"), "thermocouple-type-match")
    assert verdict.outcome == "discrepancy"
    assert verdict.value == pytest.approx(abs(shown - true), abs=1.0)
    assert f"shows {shown} degF" in verdict.message
    assert verdict.path == ("indicators", "gauge", "thermocouple")


def test_beyond_the_scale(judged):
    # 57.9 mV where type K ends at 54.9 mV
    [verdict] = judged(text("E", "K", "1400 degF"), "thermocouple-type-match")
    assert verdict.outcome == "discrepancy"
    assert "driven above its scale" in verdict.message


def test_scale_not_stated(judged):
    [verdict] = judged(text().replace("thermocouple: K, terminals", "terminals"), "thermocouple-type-match")
    assert verdict.outcome == "undetermined"
    assert verdict.missing == ("couple the indicator's scale is drawn for",)


def test_couple_on_a_bridge(judged):
    [verdict] = judged(text(principle="bridge"), "thermocouple-type-match")
    assert verdict.outcome == "discrepancy"


def test_sender_on_a_thermocouple_input(judged):
    swapped = (
        text()
        .replace("probes:", "senders:")
        .replace("probe: {thermocouple: K,", "probe: {principle: thermistor, terminals: ['+', '-'],")
    )
    [verdict] = judged(swapped, "thermocouple-type-match")
    assert verdict.outcome == "discrepancy"
    assert verdict.at == ("probe", "gauge")


def test_iron_in_an_exhaust(judged):
    hot = text("J", "J", "1450 degF", "1650 degF", "exhaust temperature")
    [verdict] = judged(hot, "thermocouple-range")
    assert verdict.outcome == "discrepancy"
    # 1650 degF is 898.9 degC; type J ends at 760 degC, 1400 degF
    assert (verdict.value, verdict.limit, verdict.margin) == (
        pytest.approx(1650),
        pytest.approx(1400),
        pytest.approx(-250),
    )


def test_chromel_in_an_exhaust(judged):
    [verdict] = judged(text("K", "K", "1450 degF", "1650 degF", "exhaust temperature"), "thermocouple-range")
    assert verdict.outcome == "meets"
    # 1260 degC is 2300 degF
    assert verdict.margin == pytest.approx(650)


def test_range_without_any_temperature(judged):
    bare = (
        text()
        .split("operating_points")[0]
        .replace("limits: {head temperature: {maximum: 500 degF}}", "cylinders: 4")
    )
    [verdict] = judged(bare + "probes:" + text().split("probes:")[1], "thermocouple-range")
    assert verdict.outcome == "undetermined"


def test_a_couple_is_not_offered_in_place_of_itself():
    # ASTM E230: J to 760, K and N to 1260, E to 870, T to 370 degC
    assert _hotter(800) == "fit a probe, lead and indicator of type E, K or N"
    assert _hotter(1000) == "fit a probe, lead and indicator of type K or N"
    assert "no couple of base metal" in _hotter(1371)
