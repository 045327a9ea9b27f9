"""Quantities as a person writes them, against exact factors from the definitions of the units."""

import copy
import math
import pickle
import string

import pint
import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from installcheck.model.kinds import OTHER_SPELLINGS
from installcheck.model.quantities import (
    KINDS,
    READINGS,
    Gauge,
    Quantity,
    QuantityError,
    conversion,
    in_unit,
    parse,
    parse_gauge,
    plain_number,
    show,
)

FOOT, INCH, POUND = 0.3048, 0.0254, 0.45359237
"""m, m, kg: exact, NIST SP 811 (2008) appendix B.8."""
GRAVITY = 9.80665
"""m/s2: exact, NIST SP 811 appendix B.8."""
PSI = POUND * GRAVITY / INCH**2
QUART = 57.75 * INCH**3
"""m3: a US gallon is 231 cubic inches, NIST SP 811 appendix B.8; a quart a quarter of it."""
LENGTHS = {
    **dict.fromkeys(("ft", "foot", "feet", "'", "\u2032"), FOOT),
    **dict.fromkeys(("in", "inch", "inches", '"', "\u2033"), INCH),
    "m": 1.0,
    "mm": 1e-3,
    "cm": 1e-2,
    "km": 1e3,
}
FACTORS = {
    "length": LENGTHS,
    "station": LENGTHS,
    "temperature difference": {
        **dict.fromkeys(("degF", "F", "°F"), 5 / 9),
        **dict.fromkeys(("degC", "C", "°C", "K"), 1.0),
    },
    # conventional inch and millimetre of mercury: NIST SP 811 appendix B.8, to seven digits
    "pressure": {
        "psi": PSI,
        "inHg": 3386.389,
        "kPa": 1e3,
        "bar": 1e5,
        "mbar": 100.0,
        "hPa": 100.0,
        "Pa": 1.0,
        "MPa": 1e6,
        "mmHg": 133.3224,
    },
    "voltage": {
        **dict.fromkeys(("V", "volt", "volts"), 1.0),
        "mV": 1e-3,
        "kV": 1e3,
        **dict.fromkeys(("uV", "\u00b5V", "\u03bcV"), 1e-6),
    },
    "current": {
        **dict.fromkeys(("A", "amp", "amps"), 1.0),
        "mA": 1e-3,
        **dict.fromkeys(("uA", "\u00b5A", "\u03bcA"), 1e-6),
    },
    "resistance": {
        **dict.fromkeys(("ohm", "ohms", "\u03a9", "\u2126"), 1.0),
        **dict.fromkeys(("kohm", "k\u03a9"), 1e3),
        **dict.fromkeys(("Mohm", "M\u03a9"), 1e6),
        **dict.fromkeys(("mohm", "milliohm", "m\u03a9"), 1e-3),
        "microohm": 1e-6,
    },
    # a mechanical horsepower is 550 ft.lbf/s: NIST SP 811 appendix B.8
    "power": {
        **dict.fromkeys(("W", "watt", "watts"), 1.0),
        "kW": 1e3,
        "mW": 1e-3,
        "hp": 550 * FOOT * POUND * GRAVITY,
    },
    "speed": dict.fromkeys(("rpm", "rev/min", "r/min"), 1.0),
    "frequency": {"Hz": 1.0, "kHz": 1e3},
    "time": {
        **dict.fromkeys(("s", "seconds"), 1.0),
        **dict.fromkeys(("min", "minutes"), 60.0),
        **dict.fromkeys(("h", "hr", "hour", "hours"), 3600.0),
        **dict.fromkeys(("d", "day", "days"), 86400.0),
        **dict.fromkeys(("month", "months"), 365.25 * 86400 / 12),
        **dict.fromkeys(("year", "years"), 365.25 * 86400),
        "ms": 1e-3,
    },
    "volume": {
        **dict.fromkeys(("qt", "quart", "quarts"), QUART),
        **dict.fromkeys(("gal", "gallon", "gallons"), 4 * QUART),
        **dict.fromkeys(("L", "l"), 1e-3),
        **dict.fromkeys(("mL", "ml", "cm3"), 1e-6),
        "m3": 1.0,
        "in3": INCH**3,
    },
    "flow": {
        **dict.fromkeys(("gal/h", "gal/hr", "gph"), 4 * QUART / 3600),
        **dict.fromkeys(("L/min", "l/min"), 1e-3 / 60),
        **dict.fromkeys(("L/h", "l/h"), 1e-3 / 3600),
        "qt/min": QUART / 60,
    },
    "mass": {**dict.fromkeys(("lb", "lbs"), POUND), "oz": POUND / 16, "g": 1e-3, "kg": 1.0},
    "angle": dict.fromkeys(("deg", "degrees", "°"), 1.0),
    "ratio": dict.fromkeys(("%", "percent"), 0.01),
    "charge": dict.fromkeys(("Ah", "A.h"), 1.0),
    "resistance per length": {
        "ohm/1000 ft": 1 / (1000 * FOOT),
        "ohm/ft": 1 / FOOT,
        "ohm/m": 1.0,
        "ohm/km": 1e-3,
    },
    "mass per length": {
        "lb/1000 ft": POUND / (1000 * FOOT),
        "lb/ft": POUND / FOOT,
        "g/m": 1e-3,
        "kg/km": 1e-3,
    },
    # a knot is 1852 m in an hour, a statute mile 5280 ft
    "airspeed": {
        **dict.fromkeys(("kt", "kn"), 1852 / 3600),
        "mph": 5280 * FOOT / 3600,
        "km/h": 1 / 3.6,
        "m/s": 1.0,
    },
    "dissipation": {**dict.fromkeys(("mW/degC", "mW/°C"), 1e-3), **dict.fromkeys(("W/degC", "W/°C"), 1.0)},
    "torque": {"in-lb": INCH * POUND * GRAVITY, "ft-lb": FOOT * POUND * GRAVITY, "N.m": 1.0},
}
SEVEN_DIGITS = ("inHg", "mmHg")
OWN = {k: [u for u in KINDS[k].units if u not in OTHER_SPELLINGS] for k in KINDS}
SPELLINGS = [(k, u) for k in KINDS if k != "temperature" for u in OWN[k]]


@pytest.mark.parametrize(("kind", "unit"), SPELLINGS)
def test_every_spelling_has_its_exact_factor(kind, unit):
    got = parse(f"7 {unit}", kind)
    assert got == pytest.approx(7 * FACTORS[kind][unit], rel=2e-7 if unit in SEVEN_DIGITS else 1e-12)
    assert (got.kind, got.text) == (kind, f"7 {unit}")
    assert KINDS[kind].units[got.unit] == KINDS[kind].units[unit]


@pytest.mark.parametrize(("kind", "unit"), [(k, u) for k in KINDS for u in KINDS[k].units])
def test_a_units_library_agrees(kind, unit, registry):
    si, name = KINDS[kind].si, KINDS[kind].units[unit]
    for number in (0.0, 1.0, 37.5):
        factor, offset = conversion(kind, unit)
        other = registry.Quantity(number, name).to(si).magnitude
        assert number * factor + offset == pytest.approx(other, rel=1e-12, abs=1e-9 if offset else 1e-30)


@pytest.fixture(scope="module")
def registry() -> pint.UnitRegistry:
    made = pint.UnitRegistry(autoconvert_offset_to_baseunit=True)
    made.define("kilofoot = 1000 * foot")
    made.define("inHg_32F = inch_Hg_32F")
    return made


def test_every_kind_has_factors_for_every_spelling_and_no_more():
    assert {k: set(OWN[k]) for k in KINDS if k != "temperature"} == {k: set(v) for k, v in FACTORS.items()}


@pytest.mark.parametrize(
    ("text", "celsius"),
    [
        ("32 degF", 0),
        ("212 F", 100),
        ("-40 °F", -40),
        ("100 degC", 100),
        ("-40 C", -40),
        ("20 °C", 20),
        ("273.15 K", 0),
        ("-459.67 degF", -273.15),
        ("0 K", -273.15),
        ("\u221220 degC", -20),
    ],
)
def test_temperatures_have_their_offset(text, celsius):
    assert parse(text, "temperature") == pytest.approx(celsius, abs=1e-9)


def test_all_temperature_spellings_are_tried_above():
    assert set(OWN["temperature"]) == {"degF", "F", "°F", "degC", "C", "°C", "K"}


@pytest.mark.parametrize(
    ("text", "inches"),
    [
        ("12 ft 6 in", 150),
        ("12ft6in", 150),
        ("12' 6\"", 150),
        ("12\u2032 6\u2033", 150),
        ("1/8 in", 0.125),
        ("2 1/2 in", 2.5),
        ("2-1/2 in", 2.5),
        ("1 ft 2 1/2 in", 14.5),
        ("1 ft 2-1/2 in", 14.5),
        ("0.040 in", 0.04),
        (".25 in", 0.25),
        ("3. in", 3),
        ("1e2 in", 100),
        ("+5 in", 5),
        ("  5   in  ", 5),
        ("5\u00a0in", 5),
        ("0 ft 6 in", 6),
        ("1 m 2 cm 3 mm", 1023 / 25.4),
    ],
)
def test_lengths_as_written(text, inches):
    assert in_unit(parse(text, "length"), "in", "length") == pytest.approx(inches, rel=1e-12)


def test_a_station_may_be_ahead_of_the_datum():
    assert parse("-1 ft 6 in", "station") == pytest.approx(-18 * INCH)


@pytest.mark.parametrize(
    ("spelled", "shown"),
    [
        ("5 feet", "ft"),
        ("5 °F", "degF"),
        ("5 \u2033", "in"),
        ("5 rev/min", "rpm"),
        ("5 amps", "A"),
        ("5 RPM", "rpm"),
        ("5 deg F", "degF"),
        ("5 in.", "in"),
    ],
)
def test_units_are_shown_in_one_spelling(spelled, shown):
    kinds = ("length", "temperature", "speed", "current")
    assert parse(spelled, *kinds).unit == shown


def test_no_other_spelling_means_two_units():
    """A spelling taken beside a unit's own is that unit wherever it is known: exact spellings of other units win nowhere."""
    for kind in KINDS.values():
        for other in KINDS.values():
            for word in kind.units.keys() & other.units.keys():
                one, two = (k.units[word].removeprefix("delta_") for k in (kind, other))
                assert one == two, word
    # letters that differ in case alone and are other units: MV and mV, Mohm and mohm, MPa and mPa
    assert not {"MV", "mPa", "MA", "Mw"} & {word for kind in KINDS.values() for word in kind.units}


def test_the_first_kind_that_knows_the_unit_wins():
    assert parse("10 %", *READINGS).kind == "ratio"
    assert parse("10 degF", *READINGS).kind == "temperature"


REFUSED = [
    ("12", "length", "'12' has no unit: a length is written like '12 ft' (ft, in, m, mm, cm, km)"),
    ("5 12", "length", "'5 12' has no unit: a length is written like '12 ft 6 in' (ft, in, m, mm, cm, km)"),
    ("", "length", "a length is wanted here, like '12 ft 6 in'"),
    ("-", "angle", "an angle is wanted here, like '37 deg'"),
    ("long", "length", "'long' is not a quantity: write a number and a unit, like '12 ft 6 in'"),
    ("nan V", "voltage", "'nan V' is not a quantity: write a number and a unit, like '14 V'"),
    ("inf V", "voltage", "'inf V' is not a quantity: write a number and a unit, like '14 V'"),
    ("1e999 V", "voltage", "'1e999 V' is not a voltage found on an aircraft: 100000 V is the most"),
    ("1e16 V", "voltage", "'1e16 V' is not a voltage found on an aircraft: 100000 V is the most"),
    (
        "1e-300 in",
        "length",
        "'1e-300 in' is not a length that can be told from zero; write 0 in where it is none",
    ),
    ("-3 ohm", "resistance", "'-3 ohm': a resistance cannot be negative; write it without the minus"),
    ("1/0 in", "length", "'1/0' divides by zero"),
    ("-500 degF", "temperature", "'-500 degF' is below absolute zero"),
    ("25 psi", "voltage", "'25 psi' is a pressure, but a voltage is wanted (V, mV, kV, uV)"),
    ("1,000 ft", "length", "'1,000 ft': write a point before decimals, and no comma in thousands"),
    ("2,5 mm", "length", "'2,5 mm': write a point before decimals, and no comma in thousands"),
    (
        "6 in 2 ft",
        "length",
        "'6 in 2 ft' joins units that are not written together; write one number and unit",
    ),
    (
        "3 ft 2 ft",
        "length",
        "'3 ft 2 ft' joins units that are not written together; write one number and unit",
    ),
    (
        "3 V 2 mV",
        "voltage",
        "'3 V 2 mV' joins units that are not written together; write one number and unit",
    ),
    (
        "25 pSi",
        "pressure",
        "'pSi' in '25 pSi' is not a unit of a pressure (psi, inHg, kPa, bar, mbar, hPa, Pa, MPa); did you mean"
        " 'psi'?",
    ),
    (
        "3 \u200bV",
        "voltage",
        "'\u200bV' in '3 \u200bV' is not a unit of a voltage (V, mV, kV, uV); did you mean 'V'?",
    ),
    ("9" * 201 + " V", "voltage", f"'{'9' * 40}...' is too long to be a quantity"),
]


@pytest.mark.parametrize(("text", "kind", "said"), REFUSED)
def test_refused_with_what_would_be_right(text, kind, said):
    with pytest.raises(QuantityError) as bad:
        parse(text, kind)
    assert str(bad.value) == said


def test_refused_where_any_indication_will_do():
    with pytest.raises(QuantityError) as bad:
        parse("5", *READINGS)
    assert str(bad.value).startswith(
        "'5' has no unit: an indication (temperature, pressure, speed, flow...) is written like '180 degF' (degF,"
    )


@pytest.mark.parametrize(
    "text", ["2 m 3 mV", "3 MA", "3 Mv", "5 PSIG", "3 x 4 in", "3--1/2 in", "--3 V", "5 mpa"]
)
def test_not_guessed(text):
    with pytest.raises(QuantityError):
        parse(text, "length", "voltage", "current", "pressure")


def test_quantities_survive_copying_and_compare_as_numbers():
    got = parse("12 ft 6 in", "length")
    for same in (copy.deepcopy(got), pickle.loads(pickle.dumps(got))):
        assert isinstance(same, Quantity)
        assert (same, same.text, same.unit, same.kind) == (got, "12 ft 6 in", "ft", "length")
    assert repr(got) == "<12 ft 6 in>"


@pytest.mark.parametrize(
    ("number", "digits", "text"),
    [
        (0.04123, 3, "0.0412"),
        (1234.6, 3, "1235"),
        (-0.0001, 3, "-0.0001"),
        (0.0, 3, "0"),
        (2.0, 3, "2"),
        (0.999999, 3, "1"),
        (123456789.0, 3, "123456789"),
        (float("nan"), 3, "nan"),
    ],
)
def test_plain_numbers(number, digits, text):
    assert plain_number(number, digits) == text


def test_shown_in_the_unit_asked_for():
    assert show(0.4119, "V", "voltage") == "0.412 V"
    assert show(100.0, "degF", "temperature") == "212 degF"
    assert show(68.9475729, "psi", "pressure") == "0.01 psi"


@given(st.sampled_from(sorted(KINDS)), st.data())
def test_what_is_shown_is_read_back(kind, data):
    unit = data.draw(st.sampled_from(sorted(KINDS[kind].units)))
    # Numbers whose size in SI lies within what the kind takes, a hair inside its bounds.
    factor, offset = conversion(kind, unit)
    least = max(KINDS[kind].least, 1e-6 * factor) * 1.001
    most = min(KINDS[kind].most * 0.999, 1e6 * factor)
    number = data.draw(st.floats((least - min(offset, 0.0)) / factor, (most - max(offset, 0.0)) / factor))
    text = show(parse(f"{number!r} {unit}", kind), unit, kind, digits=15)
    got = parse(text, kind)
    assert in_unit(got, unit, kind) == pytest.approx(number, rel=1e-9, abs=1e-9)
    assert KINDS[kind].units[got.unit] == KINDS[kind].units[unit]


@given(
    st.one_of(
        st.text(),
        st.text(alphabet=string.digits + " ./-+eE'\"ftinVA%degCFohm,\u2126\u00b5", max_size=30),
        st.builds(
            "{} {}".format,
            st.floats() | st.integers(),
            st.sampled_from([u for k in KINDS.values() for u in k.units]),
        ),
    ),
    st.sampled_from([(k,) for k in KINDS] + [READINGS]),
)
@example("\u0663 ft", ("length",))
@example("1/\u0660 in", ("length",))
@example("\u00b2 ft", ("length",))
def test_any_text_is_a_quantity_or_refused(text, kinds):
    try:
        got = parse(text, *kinds)
    except QuantityError:
        return
    assert math.isfinite(got)
    assert got.kind in kinds
    assert got.unit in KINDS[got.kind].units
    assert KINDS[got.kind].signed or got >= 0


@pytest.mark.parametrize(
    ("text", "gauge", "number"),
    [
        ("22 AWG", "22", 22),
        ("AWG 22", "22", 22),
        ("22AWG", "22", 22),
        ("22 awg", "22", 22),
        ("8 AWG", "8", 8),
        ("08 AWG", "8", 8),
        ("0 AWG", "0", 0),
        ("1/0 AWG", "0", 0),
        ("2/0 AWG", "2/0", -1),
        ("00 AWG", "2/0", -1),
        ("000 AWG", "3/0", -2),
        ("4/0 AWG", "4/0", -3),
        ("0000 AWG", "4/0", -3),
        ("40 AWG", "40", 40),
    ],
)
def test_gauges(text, gauge, number):
    got = parse_gauge(text)
    assert isinstance(got, Gauge)
    assert (got, got.number, repr(got)) == (gauge, number, f"<{gauge} AWG>")


@pytest.mark.parametrize(
    "text", ["", "5/0 AWG", "22 mm", "-2 AWG", "2.5 AWG", "AWG", "22 AWG 3", "00000 AWG"]
)
def test_gauges_refused(text):
    with pytest.raises(QuantityError, match="is not a wire gauge: write it like '22 AWG' or '2/0 AWG'"):
        parse_gauge(text)


@pytest.mark.parametrize("text", ["22", "#22", "22 ga", "22 gauge"])
def test_a_gauge_without_its_unit_is_told_how_it_is_written(text):
    with pytest.raises(QuantityError, match=f"'{text}' is not a wire gauge: write '22 AWG'"):
        parse_gauge(text)


def test_gauges_nobody_uses():
    with pytest.raises(QuantityError, match="'41 AWG' is not a gauge in use: 4/0 AWG to 40 AWG"):
        parse_gauge("41 AWG")


@given(st.text(alphabet=string.digits + " /AWGawg", max_size=12) | st.text())
def test_any_text_is_a_gauge_or_refused(text):
    try:
        got = parse_gauge(text)
    except QuantityError:
        return
    assert -3 <= got.number <= 40
