"""Shorts on wires that are no part of an indication's circuit: thought of, and never excluded while the tests are answered."""

import random

import pytest
from faulted_aircraft import Aircraft, Fault, demo_of, touch
from harm import right
from trace_trials import answered

from installcheck.tracing.channels import channels
from installcheck.tracing.in_others import pieces
from installcheck.tracing.looks import Setup
from installcheck.tracing.phrases import observed
from installcheck.tracing.states import usual
from installcheck.tracing.trace import Tracer

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
