"""What looks show in worlds whose figures can be worked out by hand."""

import pytest
from bench_document import TWO_WIRE

from installcheck import load
from installcheck.analysis.sender_curves import output, output_carried
from installcheck.analysis.study import Study
from installcheck.document import loads
from installcheck.model.devices import Curve
from installcheck.tracing.changes import (
    Adds,
    Couple,
    Cut,
    Feels,
    FeelsOther,
    Jumps,
    Metal,
    OtherScale,
    Sends,
    Truly,
    Weak,
)
from installcheck.tracing.channels import channels
from installcheck.tracing.looks import STOPPED, Answers, Marked, Ohms, Setup, Shaken, Show, TrueValue, Volts
from installcheck.tracing.phrased import phrase
from installcheck.tracing.phrases import observed
from installcheck.tracing.predict import Predictor
from installcheck.tracing.trace import Tracer, contrasted


@pytest.fixture(scope="module")
def bench() -> Predictor:
    return Predictor(Study(loads(TWO_WIRE)))


@pytest.fixture(scope="module")
def finch() -> Predictor:
    return Predictor(Study(load("tests/harm/right/finch.yaml")))


@pytest.fixture(scope="module")
def couples() -> Predictor:
    return Predictor(Study(load("tests/tracing/reports/couples.yaml")))


def edge(predictor: Predictor, run: str):
    return predictor.study.edges(run)[0]


def test_an_ammeter_without_a_sense_lead_shows_nothing(finch):
    look = Show("ammeter")
    sound, broken = finch.expect(Setup("cruise"), look, [(), (Cut(edge(finch, "S2")),)])
    assert sound.value == pytest.approx(15.0)  # what the document says of cruise
    assert broken.value == pytest.approx(0.0, abs=0.01)


def test_an_ammeter_in_the_alternators_lead_shows_nothing_with_the_engine_stopped(finch):
    assert finch.expect(Setup(STOPPED), Show("ammeter"), [()])[0].value == pytest.approx(0.0, abs=0.01)


def test_a_low_alternator_lets_the_battery_take_over(finch):
    """At 11 V it stands below the 12 V battery and gives no ampere through the shunt."""
    shown = finch.expect(Setup("cruise"), Show("ammeter"), [(Weak("alternator", 11.0),)])[0]
    assert shown.value == pytest.approx(0.0, abs=0.01)


def test_a_gauge_on_too_little_supply_reads_or_does_not(bench):
    """50 mA through 50 ohm leave 12 - 2.5 = 9.5 V. Below 0.7 of 12 V it takes what 8.4 V / 50 mA = 168 ohm do: behind 130 ohm
    12 * 168 / 298 = 6.8 V, between 0.3 and 0.7 of the usual; behind 500 ohm 3.0 V, too little."""
    worlds = [(), *((Adds(edge(bench, "P2"), ohms),) for ohms in (50.0, 130.0, 500.0))]
    found = bench.expect(Setup(STOPPED), Show("gauge"), worlds)
    assert [e.word for e in found] == [None, None, "starved", "dead"]
    assert found[2].value is not None
    volts = bench.expect(Setup(STOPPED), Volts("gauge.power", "gauge.ground"), worlds)
    assert [e.value for e in volts] == pytest.approx([12.0, 9.5, 6.77, 3.02], abs=0.02)


def test_a_joint_without_a_working_point_does_not_seem_sound():
    """A monitor of 1 A from 9 V on, behind 40 ohm in its ground on 27.9 V: 27.9 * 9 / 49 = 5.1 V, less than 0.3 of the usual."""
    monitor = Predictor(Study(load("tests/harm/right/plover.yaml")))
    worlds = [(Adds(edge(monitor, "M3"), 40.0),)]
    [volts] = monitor.expect(Setup("cruise"), Volts("monitor.power", "monitor.ground"), worlds)
    assert volts.value == pytest.approx(5.1, abs=0.1)
    assert monitor.expect(Setup("cruise"), Show("monitor EGT 1"), worlds)[0].word == "dead"


def test_what_jumps_is_parted_by_rest_and_by_shaking(bench):
    worlds = [(Jumps("gauge", by),) for by in ("noise", "joint", "pressure")]
    assert [e.word for e in bench.expect(Setup("cruise"), Show("gauge"), worlds)] == ["erratic"] * 3
    assert [e.word for e in bench.expect(Setup(STOPPED), Show("gauge"), worlds)] == [
        "erratic",
        "erratic",
        None,
    ]
    assert [e.word for e in bench.expect(Setup(STOPPED), Shaken("gauge"), worlds)] == [
        "still",
        "erratic",
        "still",
    ]
    beside = bench.expect(Setup("cruise"), TrueValue("bulb", at_port=True), worlds)
    assert [e.word for e in beside] == [None, None, "erratic"]


def test_marks_give_another_part_away(couples):
    worlds = [
        (),
        (Couple("head 3", "J"),),
        (OtherScale("head gauge", "J"),),
        (Metal(edge(couples, "T2"), "copper"),),
    ]
    for thing, told in (("head 3", 1), ("head gauge", 2), ("T2", 3)):
        words = [e.word for e in couples.expect(Setup(STOPPED), Marked(thing), worlds)]
        assert words == ["wrong" if i == told else "right" for i in range(4)]


def test_a_gauge_for_another_couple_reads_its_own_table(couples):
    """200 degC of type K over 20 degC is 8.138 - 0.798 = 7.340 mV (ASTM E230); type J, 1.019 mV at 20 degC, has 8.359 mV at 155 degC."""
    shown = couples.expect(Setup("cruise"), Show("head gauge"), [(OtherScale("head gauge", "J"),)])[0]
    assert shown.value == pytest.approx(155, abs=3)


def test_a_stuck_sender_does_not_follow_and_a_drifted_one_does(bench):
    worlds = [(), (Sends("bulb", 100.0),)]
    assert [e.word for e in bench.expect(Setup(STOPPED), Answers("bulb", "gauge"), worlds)] == [
        "moves",
        "still",
    ]


def test_a_part_of_another_kind_has_ohms_of_its_own(couples):
    look = Ohms("head gauge.+", "head gauge.-")
    found = couples.expect(Setup(STOPPED), look, [(), (Couple("head 3", "J"),)])
    assert found[1].value == found[0].value
    assert found[0].unsure == 0
    assert found[1].unsure >= 0.5  # nobody knows the ohms of a probe that is not the one drawn


def test_a_battery_that_nothing_holds_still_shows_its_volts(bench):
    worlds = [(Cut(edge(bench, "P4")),), (Weak("battery", 0.0),)]
    found = bench.expect(Setup(STOPPED), Volts("battery.+", "battery.-"), worlds)
    assert [e.value for e in found] == pytest.approx([12.0, 0.0], abs=0.1)


def test_a_bulb_goes_on_past_the_end_of_its_law():
    """Nickel bulbs are tabled to 120 degC; 30 K on, the slope of the last kelvin still holds."""
    curve = Curve.model_validate({"law": "nickel 90.38"})
    last = output(curve, 120.0) - output(curve, 119.0)
    assert output_carried(curve, 100.0) == output(curve, 100.0)
    assert output_carried(curve, 150.0) == pytest.approx(output(curve, 120.0) + 30 * last)


def test_a_true_temperature_beyond_the_bulbs_law_is_not_excluded():
    study = Study(load("demo_aircraft/retrofit_corrected.yaml"))
    found = Tracer(study).step([observed(study, "oil temperature gauge is off scale high at cruise")])
    standing = [r.hypothesis.key for r in found.ranking.standing]
    assert "true reading at oil bulb" in standing


def test_a_load_named_once_was_the_other_way_before():
    study = Study(load("tests/tracing/reports/oil.yaml"))
    lines = (
        "oil temperature gauge is right at cruise",
        "oil temperature gauge is high at cruise with landing light on",
    )
    first, second = contrasted([observed(study, line) for line in lines])
    assert first.at.loads == (("landing light", False),)
    assert second.at.loads == (("landing light", True),)


def test_a_tap_of_the_true_value_follows_the_truth_alone(bench):
    found = bench.expect(Setup("cruise"), TrueValue("bulb"), [(Truly("bulb", 25.0),), (Sends("bulb", 50.0),)])
    assert [e.value for e in found] == pytest.approx([125.0, 100.0])


def test_every_indication_of_the_right_installations_can_be_traced():
    for name in ("finch", "wren", "teal"):
        study = Study(load(f"tests/harm/right/{name}.yaml"))
        tracer = Tracer(study)
        for channel in channels(study):
            found = tracer.step([observed(study, f"{channel.show} is wrong")])
            assert found.ranking.standing, (name, str(channel.show))


def test_a_transducer_on_a_hand_pump_gives_what_its_curve_tells():
    """0.5 to 4.5 V over 150 psi: 2.1 V at 60 psi; through its lead broken, nothing reaches the gauge."""
    study = Study(load("tests/harm/right/plover.yaml"))
    monitor = Predictor(study)
    line = "monitor.OIL P to airframe measures 2.1 V with oil transducer brought to 60 psi"
    one = observed(study, line)
    assert phrase(one, study) == line
    signal = next(e for e in study.edges("S1") if "OIL P" in f"{e.a} {e.b}")
    exchanged = FeelsOther("oil transducer", "manifold transducer")
    leaking = Feels("oil transducer", 0.3)
    worlds = [(), (Cut(signal),), (exchanged,), (leaking,)]
    sound, broken, *of_the_line = monitor.expect(one.at, one.look, worlds)
    assert [e.value for e in of_the_line] == [sound.value] * 2  # the line is off, the pump in its place
    assert sound.value == pytest.approx(2.1, abs=0.02)
    assert broken.value == pytest.approx(0.0, abs=0.05)
