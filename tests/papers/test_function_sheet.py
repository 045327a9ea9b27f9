"""Function sheet against hand calculations: volts under load, legs, open and short values, water and barometer."""

import re

import pytest

from installcheck.analysis.study import Study
from installcheck.document import load, loads
from installcheck.papers.tables import cell_text

from .conftest import SMALL


def told(row):
    return [cell_text(row[name]) for name in ("expected", "pass from", "pass to")]


def test_volts_under_load(rows):
    warm = SMALL.replace(
        "zones: {engine: {}, cabin: {}}",
        "zones: {engine: {temperature: {lowest: 20 degC, highest: 20.1 degC}}, "
        "cabin: {temperature: {lowest: 20 degC, highest: 20.1 degC}}}",
    )
    warm = re.sub(r"length: (2|5) in", r"route: [{zone: cabin, length: \1 in}]", warm)
    lamp = rows(Study(loads(warm)), "function", "check", "of", "from")["volts under load lamp lamp.+"]
    # 2 A through 2 in + 12 ft + 5 in of 20 AWG, 9.88 ohm/1000 ft: 12.583 ft, 0.2487 V below the bus and above structure;
    # with the stud's milliohm 0.2507 V cold, 1.5108 times that at the wire's rating; the 14 V system allows 0.5 V
    # (AC 43.13-1B table 11-6)
    assert 0.2507 <= float(lamp["pass to"]) - float(lamp["expected"]) < 0.2507 * 1.5108
    assert float(lamp["pass to"]) - float(lamp["pass from"]) == pytest.approx(0.5)


def test_a_feed_that_drops_too_much_does_not_pass_as_computed(demo, rows):
    sheet = rows(Study(load(demo / "retrofit.yaml")), "function", "check", "of", "from")
    lights = sheet["volts under load panel lights panel lights.+"]
    assert lights["expected"] < lights["pass from"]
    assert "does not pass: put right first" in lights["how"]
    assert (
        "does not pass" not in sheet["volts under load fuel pressure gauge fuel pressure gauge.power"]["how"]
    )


def test_legs_to_body(demo, rows):
    sheet = rows(Study(load(demo / "retrofit.yaml")), "function", "check", "of", "from")
    assert told(sheet["leg to body head probe head probe.+ and head probe.-"]) == ["open", "1 Mohm", "open"]
    grounded = SMALL.replace(
        "thermocouple: J, resistance: 0.5 ohm", "thermocouple: J, junction: grounded, resistance: 0.5 ohm"
    )
    probe = rows(Study(loads(grounded)), "function", "check", "of", "from")[
        "leg to body head probe head probe.+"
    ]
    # 0.5 ohm within a tenth, and 0.02 ohm for the meter
    assert told(probe) == ["through", "0 ohm", "0.57 ohm"]


def test_open_and_short_of_a_rising_sender(small, rows):
    """10 ohm at 0 psi to 180 ohm at 100 psi: an open lead is more than any reading, a short less than any."""
    sheet = rows(small, "function", "check", "of", "from")
    assert sheet["open input pressure gauge pressure gauge.A"]["expected"] == "off scale high"
    assert sheet["short input pressure gauge pressure gauge.A"]["expected"] == "off scale low"


def test_open_and_short_of_a_falling_sender(rows):
    falling = SMALL.replace("[[0 psi, 10 ohm], [100 psi, 180 ohm]]", "[[0 psi, 180 ohm], [100 psi, 10 ohm]]")
    sheet = rows(Study(loads(falling)), "function", "check", "of", "from")
    assert sheet["open input pressure gauge pressure gauge.A"]["expected"] == "off scale low"


def test_open_and_short_at_each_position_of_a_selector(demo, rows):
    """Leads joined at the probe make a junction there: the gauge shows that place, not its own terminals."""
    sheet = rows(Study(load(demo / "retrofit.yaml")), "function", "check", "of")
    for n in range(1, 5):
        opened, shorted = (sheet[f"{state} input exhaust gauge at {n}"] for state in ("open", "short"))
        assert (opened["from"], opened["to"]) == (f"exhaust {n}.+", f"exhaust {n}.-")
        assert opened["expected"] == "off scale low"
        assert shorted["expected"] == "the temperature where they are joined"
        assert shorted["how"] == f"selector at {n}; exhaust {n}, its leads joined"


def test_barometer_and_boiling_water_at_the_field(demo, rows):
    """Standard atmosphere at 650 ft: 29.92 inHg (1 - 2.25577e-5 x 198.12)^5.25588 = 29.22; the budget is 0.8 inHg."""
    sheet = rows(Study(load(demo / "retrofit.yaml")), "function", "check", "of")
    gauge = sheet["barometer manifold pressure gauge"]
    assert float(gauge["pass to"]) / 3386.39 == pytest.approx(29.22 + 0.8, abs=0.02)
    # 1.24 degF less a thousand feet of height from 212: about 210.8
    assert told(sheet["boiling water head gauge"])[0] == "211 degF"


def test_what_is_not_given_is_asked_for(rows):
    low = Study(loads(SMALL.replace(", field_elevation: 5000 ft", "").replace("measures: head temperature, status: new}", "status: new}")
                      .replace("  head gauge: {", "  head gauge: {measures: head temperature, ")))  # fmt: skip
    row = rows(low, "function", "check", "of")["boiling water head gauge"]
    assert row["expected"] is None
    assert "give the field elevation" in row["how"]
