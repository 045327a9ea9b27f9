"""What a meter reads that nothing firm holds, and leads that go nowhere: by hand, on the bench document of 12 V.

A gauge whose ground is off stands, through itself, at the 12 V of its supply; a meter that loads it less than that may show nothing.
"""

import pytest
from bench_document import TWO_WIRE

from installcheck import load
from installcheck.analysis.study import Study
from installcheck.document import loads
from installcheck.tracing.changes import Adds, Cut, Drifts, Feels, OtherCurve, Reached, Truly
from installcheck.tracing.looks import STOPPED, Ohms, Setup, Show, Volts
from installcheck.tracing.phrases import observed
from installcheck.tracing.predict import Predictor
from installcheck.tracing.trace import Tracer


@pytest.fixture(scope="module")
def study() -> Study:
    return Study(loads(TWO_WIRE))


def edge(study: Study, run: str):
    return study.edges(run)[0]


@pytest.mark.parametrize("volts", ["0 V", "12 V", "7 V"])
def test_a_lost_ground_is_not_excluded_by_what_the_floating_gauge_reads(study, volts):
    lines = ["gauge is dead at cruise", f"gauge.ground to airframe measures {volts}"]
    found = Tracer(study).step([observed(study, line) for line in lines])
    assert "open at P3" in [r.hypothesis.key for r in found.ranking.standing]


def test_a_gauge_off_its_ground_may_read_its_supply_or_nothing(study):
    sound, lost = Predictor(study).expect(
        Setup(STOPPED), Volts("gauge.ground", "airframe"), [(), (Cut(edge(study, "P3")),)]
    )
    assert (sound.value, sound.word) == (pytest.approx(0.0, abs=0.01), None)
    assert (lost.value, lost.word) == (pytest.approx(12.0, abs=0.1), "floats")


def test_a_lead_broken_on_its_way_reads_nothing_when_it_is_lifted(study):
    """The bulb's other end is on ground through the gauge: 0 V either way, and never the volts beyond the break."""
    at = Setup(STOPPED, lifted=("gauge.S",))
    [broken] = Predictor(study).expect(at, Volts("plug.1", "airframe"), [(Cut(edge(study, "E3")),)])
    assert (broken.value, broken.word) == (0.0, None)


def test_a_wire_in_an_empty_cavity_is_open():
    """Cavity 3 of the plug is empty: with the wire of cavity 1 in it, the loop of 60 ohm (20 degC) is open."""
    study = Study(loads(TWO_WIRE.replace("terminals: ['1', '2']", "terminals: ['1', '2', '3']")))
    moved = Reached(((edge(study, "E1"), "plug.1", "plug.3"),))
    predictor = Predictor(study)
    sound, shifted = predictor.expect(Setup(STOPPED), Ohms("gauge.S", "gauge.R"), [(), (moved,)])
    assert sound.value == pytest.approx(60.0, abs=0.1)
    assert shifted.word == "open"
    assert predictor.expect(Setup("cruise"), Show("gauge"), [(moved,)])[0].word == "off scale high"


def test_a_hot_probe_may_be_laid_otherwise_when_another_is_fitted():
    study = Study(load("tests/tracing/reports/couples.yaml"))
    at = Setup("cruise", swapped=("head 3", ""))
    [hot] = Predictor(study).expect(at, Show("head gauge"), [(Feels("head 3", 1.3),)])
    assert hot.word == "relaid"
    assert hot.value is not None


def test_a_true_reading_of_probes_read_as_one_is_that_of_all():
    """Averaged, they read 30 K more only if all of them feel it."""
    study = Study(load("demo_aircraft/twin.yaml"))
    tracer = Tracer(study)
    found = tracer.step([observed(study, "right exhaust temperature is high at cruise")])
    [true] = [
        r.hypothesis for r in found.ranking.all if r.hypothesis.key == "true reading at right exhaust 1"
    ]
    world = true.make(30.0)
    assert {c.source for c in world if isinstance(c, Truly)} >= {f"right exhaust {n}" for n in range(1, 7)}
    look = Show("right exhaust temperature")
    sound, hot = tracer.predictor.expect(Setup("cruise"), look, [(), world])
    assert hot.value - sound.value == pytest.approx(30.0, abs=1.0)


def test_a_transducer_gives_less_by_its_supply():
    """0.5 to 4.5 V over 150 psi: 2.1 V at 60 psi and 5 V; 10 mA through 50 ohm in its feed leave 4.5 V, and 1.89 V."""
    study = Study(load("tests/harm/right/plover.yaml"))
    feed = next(e for e in study.edges("S1") if e.a == "oil transducer.+" or e.b == "oil transducer.+")
    one = observed(study, "monitor.OIL P to airframe measures 2.1 V with oil transducer brought to 60 psi")
    [weak] = Predictor(study).expect(one.at, one.look, [(Adds(feed, 50.0),)])
    assert weak.value == pytest.approx(1.89, abs=0.03)


def test_hoses_exchanged_on_a_line_that_feeds_two_move_both():
    """One hose feeds the oil pressure sender and the oil switch of 'teal': exchanged with the manifold's, both feel that."""
    study = Study(load("tests/harm/right/teal.yaml"))
    found = Tracer(study).step([observed(study, "manifold gauge is off scale high at cruise")])
    [both] = [r for r in found.ranking.all if r.hypothesis.kind == "hoses exchanged"]
    moved = {c.source for c in both.hypothesis.members[0].world}
    assert moved >= {"manifold gauge", "oil pressure sender", "oil switch"}
    assert not both.excluded


def test_ohms_of_a_sender_beyond_its_curve_are_told_as_unsure():
    """Tabled from 0 degC on: 40 K low on a day of 20 degC it feels -20 degC, and nobody knows whether it has its last 50 ohm."""
    predictor = Predictor(Study(loads(TWO_WIRE)))
    look = Ohms("bulb.A", "bulb.B")
    sound, beyond = predictor.expect(Setup(STOPPED, lifted=("bulb",)), look, [(), (Drifts("bulb", -40.0),)])
    assert (sound.value, sound.unsure) == (pytest.approx(60.0), 0.0)
    assert beyond.value == pytest.approx(50.0)
    assert beyond.unsure == pytest.approx(60.0)  # as much again as it has where its curve tells


def test_a_steep_wrong_sender_at_the_stop_may_be_on_the_dial_as_well():
    """A thermistor halves within some 20 K: near the ohms at which the bulb's dial ends, a few kelvin bring the pointer on it."""
    predictor = Predictor(Study(load("demo_aircraft/retrofit.yaml")))
    world = (OtherCurve("oil bulb", "thermistor sender 2 kohm"),)
    [cruise, climb] = [
        predictor.expect(Setup(point), Show("oil temperature gauge"), [world])[0]
        for point in ("cruise", "climb")
    ]
    assert (cruise.value, cruise.word) == (None, "off scale high")
    assert climb.word == "off scale high"
    assert climb.value is not None
