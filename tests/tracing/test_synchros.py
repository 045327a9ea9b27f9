"""Remote synchros: what an open rotor, a dead inverter and exchanged leads leave of their indications."""

import pytest

from installcheck import load
from installcheck.analysis.study import Study
from installcheck.tracing.changes import Cut, Reached
from installcheck.tracing.channels import channels
from installcheck.tracing.expected import Expect
from installcheck.tracing.in_synchros import in_synchros, rotor_wires
from installcheck.tracing.looks import STOPPED, Marked, Ohms, Setup, Show
from installcheck.tracing.phrases import observed
from installcheck.tracing.predict import Predictor
from installcheck.tracing.trace import Tracer


@pytest.fixture(scope="module")
def osprey() -> Predictor:
    return Predictor(Study(load("tests/harm/right/osprey.yaml")))


def oil(osprey: Predictor):
    return next(c for c in channels(osprey.study) if c.show.name == "oil pressure")


def test_both_rotors_of_a_pair_are_found_and_none_of_what_is_no_synchro(osprey):
    assert {node for _, node in rotor_wires(osprey.study, oil(osprey))} == {
        "oil pressure.R1", "oil pressure.R2", "oil transmitter.R1", "oil transmitter.R2",
    }  # fmt: skip
    tachometer = next(c for c in channels(osprey.study) if c.show.name == "tachometer")
    assert rotor_wires(osprey.study, tachometer) == ()


def test_a_rotor_that_is_not_excited_leaves_the_pointer_where_it_stood(osprey):
    [wire] = [e for e, node in rotor_wires(osprey.study, oil(osprey)) if node == "oil transmitter.R1"]
    sound, broken = osprey.expect(Setup("cruise"), Show("oil pressure"), [(), (Cut(wire),)])
    assert sound.value is not None
    assert broken.word == "frozen"
    assert osprey.expect(Setup("cruise"), Show("fuel pressure"), [(Cut(wire),)])[0].value is not None


def test_exchanged_stator_leads_are_told_by_their_marks_and_by_ringing_them(osprey):
    [first, *_] = [h for h in in_synchros(osprey.study, [oil(osprey)]) if h.kind == "leads exchanged"]
    world = first.members[0].world
    assert isinstance(world[0], Reached)
    edge, near, _ = world[0].moves[0]
    far = edge.a if edge.b == near else edge.b
    assert osprey.expect(Setup("cruise"), Show("oil pressure"), [world]) == [
        Expect()
    ]  # no angle of the dial is told
    assert osprey.expect(Setup(STOPPED), Marked("oil pressure"), [world])[0].word == "wrong"
    off = Setup(STOPPED, replaced=(("oil transmitter", 1e12),))
    assert osprey.expect(off, Ohms(near, far), [world])[0].word == "open"


def test_one_dead_inverter_stands_for_all_synchros_on_it():
    study = Study(load("tests/harm/right/osprey.yaml"))
    lines = ("oil pressure is frozen at cruise", "fuel pressure is frozen at cruise")
    found = Tracer(study).step([observed(study, line) for line in lines])
    assert found.explained
    assert "dead supply at inverter" in [r.hypothesis.key for r in found.ranking.leading]
