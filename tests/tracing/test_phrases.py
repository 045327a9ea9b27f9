"""Observations in plain words: read, written back, and pointed into where they are wrong."""

import pytest

from installcheck import load
from installcheck.analysis.study import Study
from installcheck.tracing.looks import Answers, Holding, Marked, Ohms, Shaken, Show, TrueValue, Volts
from installcheck.tracing.phrased import phrase
from installcheck.tracing.phrases import observed, read_lines
from installcheck.tracing.pieces import PhraseError
from installcheck.tracing.trace import Tracer

LINES = {
    "oil temperature gauge shows 150 degF at cruise": Show("oil temperature gauge"),
    "oil temperature gauge is off scale high at engine stopped": Show("oil temperature gauge"),
    "exhaust gauge at 3 shows 1200 degF at climb": Show("exhaust gauge", "3"),
    "oil pressure gauge is high at idle with panel lights on with radios off": Show("oil pressure gauge"),
    "oil bulb.A to oil temperature gauge.A measures 0.4 ohm with oil bulb disconnected": Ohms(
        "oil bulb.A", "oil temperature gauge.A"
    ),
    "oil bulb.A to oil bulb.B measures 95 ohm with oil bulb disconnected": Ohms("oil bulb.A", "oil bulb.B"),
    "oil temperature gauge.A to oil temperature gauge.C measures open": Ohms(
        "oil temperature gauge.A", "oil temperature gauge.C"
    ),
    "oil temperature gauge.power to airframe measures 12.1 V": Volts(
        "oil temperature gauge.power", "airframe"
    ),
    "oil temperature gauge is off scale high with oil temperature gauge.A lifted": Show(
        "oil temperature gauge"
    ),
    "oil temperature gauge shows 50 degC with 110 ohm in place of oil bulb": Show("oil temperature gauge"),
    "exhaust gauge at 1 is right with exhaust 1 and exhaust 2 swapped": Show("exhaust gauge", "1"),
    "oil temperature gauge is right with another oil bulb": Show("oil temperature gauge"),
    "test instrument at oil bulb shows 180 degF at cruise": TrueValue("oil bulb"),
    "test instrument beside oil pressure sender shows 60 psi at cruise": TrueValue(
        "oil pressure sender", True
    ),
    "head gauge is right at cruise with another head gauge": Show("head gauge"),
    "oil temperature gauge is jumping with its leads shaken": Shaken("oil temperature gauge"),
    "oil temperature gauge stays still with its leads shaken": Shaken("oil temperature gauge"),
    "marking of oil bulb is wrong": Marked("oil bulb"),
    "marking of head block is right": Marked("head block"),
    "exhaust gauge at 3 moves with exhaust 3 warmed": Answers("exhaust 3", "exhaust gauge at 3"),
    "head gauge is right with head gauge.+ joined to head gauge.- through 2 ohm": Show("head gauge"),
}


@pytest.fixture(scope="module")
def study() -> Study:
    return Study(load("demo_aircraft/retrofit_corrected.yaml"))


@pytest.mark.parametrize(("line", "look"), LINES.items())
def test_a_line_is_read_and_written_back(study, line, look):
    one = observed(study, line)
    assert one.look == look
    assert phrase(one) == line
    assert observed(study, phrase(one)) == one


def test_a_truth_is_told_with_the_value(study):
    one = observed(study, "oil temperature gauge shows 150 degF at cruise where 212 degF is true")
    assert one.at.known == (("oil bulb", pytest.approx(100.0)),)
    assert one.result.value == pytest.approx((150 - 32) * 5 / 9)


def test_a_direct_gauge_and_its_line_can_be_told():
    study = Study(load("demo_aircraft/before.yaml"))
    assert observed(study, "line of manifold pressure gauge falls").look == Holding("manifold pressure gauge")


SHORT = {
    # 190 degF is true at cruise, 390 degF of the head there, 4 psi of the fuel at idle: as the document says.
    "oil temperature gauge reads 40 degF low at cruise": "oil temperature gauge shows 150 degF at cruise",
    "Oil temp reads 20 degC too high in cruise": "oil temperature gauge shows 107.8 degC at cruise",
    "the CHT reads 30 degF low": "head gauge shows 360 degF",
    "fuel pressure gauge shows 5 psi too high at idle": "fuel pressure gauge shows 9 psi at idle",
    "MAP reads 2 inHg high at cruise where 24 inHg is true": "manifold pressure gauge shows 26 inHg at cruise where 24 inHg is true",
    "oil pressure gauge drops to zero at idle": "oil pressure gauge shows 0 psi at idle",
    "fuel quantity gauge shows empty": "fuel quantity gauge shows 0 %",
    "fuel quantity gauge is full": "fuel quantity gauge shows 100 %",
    "oil temp gauge is pegged high": "oil temperature gauge is off scale high",
    "oil temperature gauge jumps when radios transmit": "oil temperature gauge is erratic with radios on",
    "head gauge swings during climb": "head gauge is erratic at climb",
    "oil temperature gauge reads high with panel lights and radios on": "oil temperature gauge is high with panel lights on with radios on",
    "oil pressure gauge reads full scale with master on, engine stopped": "oil pressure gauge is off scale high at engine stopped",
    "oil pressure gauge is dead when the engine is off": "oil pressure gauge is dead at engine stopped",
    "oil temperature gauge reads high when the panel lights and the radios are on": "oil temperature gauge is high with panel lights on with radios on",
    "oil temperature gauge is off scale high with the oil bulb off": "oil temperature gauge is off scale high with oil bulb disconnected",
    "oil bulb measures 92 ohm": "oil bulb.A to oil bulb.B measures 92 ohm with oil bulb disconnected",
    "head probe measures 2 ohm": "head probe.+ to head probe.- measures 2 ohm with head probe disconnected",
    "main bus measures 11.2 V": "main bus to airframe measures 11.2 V",
    "oil temperature gauge.power measures 13.9 V at cruise": "oil temperature gauge.power to airframe measures 13.9 V at cruise",
    "oil temp pegged high": "oil temperature gauge is off scale high",
    "oil pressure needle bounces at idle": "oil pressure gauge is erratic at idle",
    "oil temp cuts out": "oil temperature gauge is erratic",
    "oil pressure gauge dead": "oil pressure gauge is dead",
    "oil pressure was dead at cruise": "oil pressure gauge is dead at cruise",
    "oil temp went to 150 degF": "oil temperature gauge shows 150 degF",
    "fuel quantity reads full all the time": "fuel quantity gauge shows 100 %",
    "fuel quantity stuck": "fuel quantity gauge is frozen",
    "the oil pressure indicator does not move": "oil pressure gauge is frozen",
    "MP reads 2 inches high at cruise where 24 inches is true": "manifold pressure gauge shows 26 inHg at cruise where 24 inHg is true",
    "MAP 25 inches at cruise": "manifold pressure gauge shows 25 inHg at cruise",
    "CHT 30 degF low": "head gauge shows 360 degF",
    "exhaust gauge at 3 1200 degF at climb": "exhaust gauge at 3 shows 1200 degF at climb",
    "no oil pressure at idle": "oil pressure gauge shows 0 psi at idle",
    "No indication on oil pressure gauge with radios on": "oil pressure gauge is dead with radios on",
    "oil temperature gauge is off scale high with head block unplugged": "oil temperature gauge is off scale high with head block disconnected",
}  # fmt: skip


@pytest.mark.parametrize(("short", "long"), SHORT.items())
def test_what_people_say_for_short_is_read(study, short, long):
    one, other = observed(study, short), observed(study, long)
    assert (one.look, one.at) == (other.look, other.at)
    assert one.result.word in ((other.result.word,) if other.result.value is None else (None, "high", "low"))
    assert (one.result.value or 0.0) == pytest.approx(other.result.value or 0.0, rel=1e-3)


def test_who_says_how_far_it_is_off_finds_it_wrong(study):
    """60 degF high on a head gauge may lie within what gauge and truth may be off; the value alone would say nothing is wrong."""
    step = Tracer(study).step([observed(study, "head gauge reads 60 degF high at cruise")])
    assert not step.sound
    assert Tracer(study).step([observed(study, "head gauge shows 395 degF at cruise")]).sound


def test_what_is_said_for_short_is_told_back_in_full(study):
    one = observed(study, "oil temp reads 40 degF low at cruise")
    assert (
        one.said == "oil temp reads 40 degF low at cruise  # oil temperature gauge shows 150 degF at cruise"
    )
    [again], _ = read_lines(study, [one.said])
    assert again == one
    assert (
        observed(study, "oil temperature gauge is low at cruise").said
        == "oil temperature gauge is low at cruise"
    )


@pytest.mark.parametrize(
    ("line", "column", "said"),
    [
        ("EGT reads low", 1, "several show exhaust temperature"),
        ("all gauges read high", 1, "'all gauges' is not an indication"),
        ("tachometer generator measures 3 ohm", 1, "say between which terminals"),
        ("oil temperature gauge reads 40 psi low", 29, "a temperature difference is wanted"),
        ("oil temp gauge shows empty", 22, "is not a quantity"),
        ("oil temperature gauge jumps when lamp is on", 34, "is not a load"),
        ("oil temperature gauge jumps when radios and lamp are on", 45, "is not a load"),
        ("oil temperature gauge is dead with gauges breaker pulled", 36, "'with LOAD on'"),
        ("oil temperature gauge is dead with gauges breaker off", 36, "is not a load"),
        ("oil temperture gauge shows 150 degF", 1, "did you mean 'oil temperature gauge'"),
        ("oil temperature gauge shows 150", 29, "has no unit"),
        ("oil temperature gauge shows 150 psi", 29, "is a pressure"),
        ("oil temperature gauge shows 150 degF at cruize", 41, "did you mean 'cruise'"),
        ("oil bulb.A to oil bulb.Q measures 3 ohm", 15, "is not a terminal"),
        ("oil temperature gauge shows 150 degF with lamp on", 43, "is not a load"),
        ("oil temperature gauge shows 150 degF with feeling", 43, "'with LOAD on'"),
        ("oil temperature gauge shows 150 degF where 3 psi is true", 44, "is a pressure"),
        ("oil temperature gauge shows 150 degF where it rains", 44, "'where 60 psi is true'"),
        ("exhaust temperature is low", 1, "several show exhaust temperature: name one of exhaust gauge at 1"),
        ("oil temperature gauge", 22, "say what it shows"),
        ("oil temperature gauge shows open", 29, "only a meter"),
        ("marking of oil blub is wrong", 12, "did you mean 'oil bulb'"),
        ("oil temperature gauge is right with its leads shaken", 32, "'stays still' with its leads shaken"),
        ("oil temperature gauge is right at", 34, "is not an operating point"),
        ("no oil pressure at noon", 20, "is not an operating point"),
        ("oil temp pegged", 10, "off scale high, off scale low"),
        ("no pressure", 4, "did you mean 'oil pressure gauge'"),
        ("CHT 30 high at cruise", 5, "has no unit"),
        ("", 1, "nothing is said"),
    ],
)
def test_an_error_points_into_the_line(study, line, column, said):
    with pytest.raises(PhraseError) as bad:
        observed(study, line)
    assert (bad.value.column, said in bad.value.why) == (column, True), bad.value.why
    assert bad.value.pointed().splitlines()[-1] == " " * (column - 1) + "^"


def test_a_record_holds_a_line_each_with_remarks(study):
    found, wrong = read_lines(
        study, ["# first flight", "", "oil pressure gauge is right  # as ever", "oil presure gauge is right"]
    )
    assert [o.look for o in found] == [Show("oil pressure gauge")]
    assert [(n, e.column) for n, e in wrong] == [(4, 1)]
