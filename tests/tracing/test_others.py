"""Shorts on wires that are no part of an indication's circuit: thought of, and never excluded while the tests are answered."""

import random

import pytest
import yaml
from bench_document import TWO_WIRE
from faulted_aircraft import Aircraft, Fault, demo_of, touch
from harm import right
from installations import read
from trace_trials import answered

from installcheck.analysis.study import Study
from installcheck.tracing.changes import Joins
from installcheck.tracing.channels import channels
from installcheck.tracing.in_others import pieces
from installcheck.tracing.in_wiring import in_wiring
from installcheck.tracing.looks import Setup
from installcheck.tracing.phrases import observed
from installcheck.tracing.predict import Predictor
from installcheck.tracing.states import usual
from installcheck.tracing.trace import Tracer
from installcheck.tracing.wires import live_points

ASKED = 4

SHORTS = [
    # A feed of the main bus that nothing protects takes the whole bus down.
    (demo_of, "retrofit", "oil temperature gauge", "short to ground", "P1", touch("main bus", "airframe")),
    # Two senders on one 5 V feed: the wire of the other one pulls it to ground.
    (right, "plover", "monitor fuel pressure", "short to ground", "S1 A", touch("oil transducer.+", "airframe")),
    # The wire of a lamp behind its switch lies in the bundle of a sender's lead, and pulls it to ground through the lamp.
    (right, "finch", "oil pressure gauge", "short to neighbour", "E1 B", touch("oil pressure gauge.-", "landing light.+")),
]  # fmt: skip


def mine(step, kind: str, label: str):
    """Hypotheses of a kind that name a wire, or a node that hangs together with it."""
    hang = {n for p in pieces(step.study) for w in p.wires if w.label == label for n in p.nodes}
    return [
        r for r in step.ranking.all if r.hypothesis.kind == kind and ({label} | hang) & set(r.hypothesis.at)
    ]


@pytest.mark.parametrize(
    ("made", "name", "show", "kind", "label", "edit"), SHORTS, ids=[f"{s[1]} {s[4]}" for s in SHORTS]
)
def test_a_short_beside_an_indication_stands_until_it_is_found(made, name, show, kind, label, edit):
    aircraft = Aircraft(made(name), Fault(kind, (label,), edit), random.Random(1))
    tracer = Tracer(aircraft.sound)
    channel = next(c for c in channels(aircraft.sound) if str(c.show) == show)
    seen = [aircraft.look(Setup(usual(aircraft.sound).name), channel.show)]
    for _ in range(ASKED + 1):
        step = tracer.step(seen)
        found = mine(step, kind, label)
        assert found
        assert not all(r.excluded for r in found), seen
        if not step.tests:
            break
        answer = answered(aircraft, step)
        assert answer is not None
        seen.append(answer[1])
    assert found[0].share >= step.ranking.standing[0].share / 10


def test_a_thermocouple_lead_may_touch_ground_at_either_end():
    """Where it does matters: the junction that ground makes is at the temperature of that place, at the gauge that of the cabin,
    22 degC at cruise."""
    study = Aircraft(right("finch"), Fault("none", ()), random.Random(0)).sound
    [channel] = [c for c in channels(study) if str(c.show) == "head gauge"]
    tracer = Tracer(study)
    seen = [observed(study, "head gauge shows 22 degC at cruise")]
    [found] = mine(tracer.step(seen), "short to ground", "T1 +")
    ends = {m.world[0].a for m in found.hypothesis.members}
    assert ends == {n for e in channel.edges if e.label == "T1 +" for n in (e.a, e.b)}
    assert not found.excluded


def test_a_live_wire_may_be_of_any_system_on_board():
    """A second battery of 28 V beside one of 12 V; a third of 13 V is of the same system as the first, and a bus that nothing feeds
    makes nothing live."""
    more = yaml.load(TWO_WIRE, yaml.CSafeLoader)
    for name, volts in (("winch battery", "28 V"), ("spare battery", "13 V")):
        more["supplies"][name] = {
            "kind": "battery",
            "voltage": volts,
            "inner_resistance": "10 milliohm",
            "zone": "cabin",
        }
        more["wire_runs"][f"{name} return"] = {"from": f"{name}.-", "to": "airframe", "resistance": "0.01 ohm/m", "length": "1 m"}  # fmt: skip
    more["supplies"]["spare bus"] = {"kind": "bus"}
    more["supplies"] = dict(sorted(more["supplies"].items(), key=lambda one: one[0] == "spare bus"))
    study = Study(read(more))
    assert live_points(study) == ("battery.+", "winch battery.+")
    step = Tracer(study).step([observed(study, "gauge shows 150 degC at cruise")])
    [found] = mine(step, "short to supply", "E1")
    assert {m.world[0].b for m in found.hypothesis.members} == set(live_points(study))


@pytest.mark.parametrize(
    ("grounded", "leg", "word"),
    [
        ("grounded", "+", "off scale high"),
        ("grounded", "-", "off scale low"),
        ("isolated", "+", None),
        ("isolated", "-", None),
    ],
)
def test_a_live_wire_on_a_couple_drives_its_gauge_off_scale_where_the_couple_stands_on_ground(
    grounded, leg, word
):
    """14 V against the 10 to 20 mV of a couple; where nothing of it stands on ground no current flows, and nothing is seen."""
    plain = right("finch")
    plain["probes"]["head 3"]["junction"] = grounded
    study = Study(read(plain))
    [channel] = [c for c in channels(study) if str(c.show) == "head gauge"]
    wire = next(e for e in channel.edges if e.label == f"T1 {leg}")
    predictor, at = Predictor(study), Setup(usual(study).name)
    [sound, got] = predictor.expect(
        at, channel.show, [(), (Joins(wire.a, live_points(study)[0], wires=(wire, None)),)]
    )
    assert got.word == word
    assert (got.value == sound.value) is (word is None)
    told = {h.kind for h in in_wiring(predictor, [channel], [at]) if h.at == (wire.label,)}
    assert ("short to supply" in told) is (word is not None)


def test_leads_that_touch_are_named_by_the_wires_that_do():
    """Two leads of a three-lead bulb hang together at the bulb: who looks for the chafed one must be told the right one."""
    study = Study(read(right("teal")))
    [channel] = [c for c in channels(study) if str(c.show) == "air temperature gauge"]
    touching = [
        h for h in in_wiring(Predictor(study), (channel,), [Setup()]) if h.kind == "short to neighbour"
    ]
    own = [h for h in touching if all(n.startswith("air temperature gauge.") for n in h.at)]
    assert len(own) >= 3
    for one in own:
        [join] = one.members[0].world
        for node, wire in zip(one.at, join.wires, strict=True):
            assert node in (wire.a, wire.b)
