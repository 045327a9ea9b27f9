"""Vapour and liquid gauges against ln p = A - B/(T + C) worked by hand."""

import pytest

from installcheck.analysis.errors.capillary_budget import capillaries, capillary_budget, capillary_budgets
from installcheck.analysis.study import Study
from installcheck.document import loads

TEXT = """
installation: {{name: test}}
zones: {{engine: {{}}, cabin: {{{cabin}}}}}
operating_points:
  cruise: {{zone_temperatures: {{engine: {engine} degC, cabin: 20 degC}}, altitude: {altitude}, readings: {{oil temperature: {true} degC}}}}
senders:
  bulb: {{principle: {principle}, measures: oil temperature, ports: [P], filling: {filling}, zone: engine{more}}}
indicators:
  gauge: {{principle: capillary, measures: oil temperature, ports: [P], zone: cabin, accuracy: 2 degC, scale: {{lowest: 0 degC, highest: 140 degC}}}}
fluid_lines:
  capillary: {{kind: capillary, from: bulb.P, to: gauge.P, medium: bulb filling, rise: {rise}, route: [{{zone: engine, length: 1 m}}, {{zone: cabin, length: 1 m}}]}}
"""


def document(
    principle="vapour-pressure bulb",
    filling="diethyl ether",
    true=80,
    altitude="0 ft",
    rise="0 in",
    engine=40,
    more="",
    cabin="",
):
    return TEXT.format(
        principle=principle,
        filling=filling,
        true=true,
        altitude=altitude,
        rise=rise,
        engine=engine,
        more=more,
        cabin=cabin,
    )


def budget(text):
    [one] = capillary_budgets(Study(loads(text)))
    return one


def causes(one):
    return {c.name: c.amount for c in one.causes}


def test_reads_true_where_it_was_calibrated():
    one = budget(document())
    assert one.error == pytest.approx(0, abs=0.01)
    assert one.missing == ()
    assert causes(one)["indicator accuracy"] == 2.0


@pytest.mark.parametrize(
    ("filling", "high"),
    [
        # p_v(80) + 101.325 - 69.7 kPa: ether 402.9 + 31.6 = 434.5 kPa, 82.9 degC; sulfur dioxide 80.75 degC
        ("diethyl ether", 2.93),
        ("sulfur dioxide", 0.75),
    ],
)
def test_reads_high_at_altitude(filling, high):
    assert causes(budget(document(filling=filling, altitude="10000 ft")))["altitude"] == pytest.approx(
        high, abs=0.1
    )


def test_gauge_above_the_bulb_reads_low():
    # 713 kg/m3 x 9.807 x 0.5 m = 3.50 kPa below p_v(40): 0.85 degC low
    one = budget(document(true=40, rise="0.5 m", engine=30))
    assert causes(one)["head of the liquid"] == pytest.approx(-0.85, abs=0.05)
    assert one.error == pytest.approx(-0.85, abs=0.05)


def test_no_head_where_vapour_fills_the_line():
    one = budget(document(true=40, rise="0.5 m", engine=60).replace("cabin: 20 degC", "cabin: 60 degC"))
    assert "head of the liquid" not in causes(one)


def test_liquid_filled_capillary_is_warmed():
    # Bore 0.4 mm: 0.1257 cm3 a metre; 1 m at 80 and 1 m at 20 degC, bulb 2 cm3: 0.1257 x 60/2 = 3.77 degC high
    text = document(
        "liquid-filled bulb", "mercury", engine=80, more=", bulb_volume: 2 cm3, capillary_bore: 0.4 mm"
    )
    assert causes(budget(text))["warmth of the capillary"] == pytest.approx(3.77, abs=0.01)


@pytest.mark.parametrize(
    ("text", "missing"),
    [
        (
            document(filling="methyl chloride"),
            "filling with a published vapour-pressure curve: diethyl ether or sulfur dioxide",
        ),
        (document().replace("filling: diethyl ether, ", ""), "filling of the bulb"),
        (document().replace("altitude: 0 ft, ", ""), "pressure altitude of the operating point"),
        (document(cabin="pressurised: yes"), "pressure in the gauge's case: its zone is pressurised"),
        (
            document().replace("rise: 0 in, ", ""),
            "height of the gauge above the bulb ('rise' of the line, or 'elevation' of the gauge)",
        ),
        (document("liquid-filled bulb", "mercury"), "bulb volume and capillary bore of the system"),
        (document().replace("accuracy: 2 degC, ", ""), "accuracy of the indicator"),
    ],
)
def test_data_missing_are_named(text, missing):
    assert missing in budget(text).missing


def test_pointer_at_its_stop():
    one = budget(document(true=139, altitude="14000 ft"))
    assert one.indicated is None
    assert one.beyond == "above"


def test_any_true_value_can_be_asked():
    study = Study(loads(document(altitude="10000 ft")))
    [one] = capillaries(study)
    # At 120 degC the same fall of pressure is worth 1.5 degC
    assert capillary_budget(study, one, study.points[0], 120.0).error == pytest.approx(1.5, abs=0.1)


@pytest.mark.parametrize(("engine", "asked"), [(40, False), (100, True)])
def test_liquid_in_part_of_the_line_is_asked_for(engine, asked):
    # the bulb at 80 degC: a bay of 100 degC holds vapour, the cabin of 20 degC liquid, at a height nobody told
    one = budget(document(engine=engine, rise="3 ft"))
    assert ("height of the parts of the capillary that are colder than the bulb" in one.missing) is asked
