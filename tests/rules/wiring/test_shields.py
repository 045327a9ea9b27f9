import pytest

from installcheck.document import DocumentError

TEXT = """
zones: {{cabin: {{occupied: yes}}}}
grounds: {{airframe: {{kind: structure}}, stud: {{kind: stud, joins: airframe}}}}
senders: {{s: {{principle: resistance bulb, terminals: [A, B]}}}}
indicators: {{g: {{terminals: [A, B], principle: bridge, supply_terminals: [power, ground]}}}}
supplies: {{bus: {{kind: bus}}}}
wire_runs:
  W1:
    part: shielded cable 2 core
    gauge: 22 AWG
    sensing: {sensing}
    conductors: {{A: {{from: s.A, to: g.A}}, B: {{from: s.B, to: g.B}}}}
    {shield}
  W2: {{from: bus, to: g.power}}
  W3: {{from: g.ground, to: stud}}
"""


def document(shield, sensing="yes"):
    return TEXT.format(shield=f"shield: {{{shield}}}" if shield else "marked: yes", sensing=sensing)


@pytest.mark.parametrize(
    "shield", ["from: open, to: stud", "from: open, to: g.ground", "from: airframe, to: open"]
)
def test_grounded_once(judged, shield):
    [verdict] = judged(document(shield), "shield-grounded-once")
    assert (verdict.outcome, verdict.value, verdict.margin) == ("meets", 1, 0)


@pytest.mark.parametrize(
    ("shield", "count"),
    [("from: open, to: open", 0), ("from: airframe, to: stud", 2), ("from: stud, to: stud", 2)],
)
def test_grounded_never_or_twice(judged, shield, count):
    [verdict] = judged(document(shield), "shield-grounded-once")
    assert (verdict.outcome, verdict.value, verdict.margin) == ("advisory", count, -1)


def test_two_grounds_matter_to_signals_only(judged):
    [verdict] = judged(document("from: airframe, to: stud", sensing="no"), "shield-grounded-once")
    assert verdict.outcome == "meets"


@pytest.mark.parametrize("shield", ["", "to: stud"])
def test_ends_not_told(judged, shield):
    [verdict] = judged(document(shield), "shield-grounded-once")
    assert verdict.outcome == "undetermined"


PLUG = """
zones: {{cabin: {{occupied: yes}}}}
grounds: {{airframe: {{kind: structure}}}}
senders: {{s: {{principle: resistance bulb, terminals: [A]}}}}
indicators: {{g: {{terminals: [A], principle: bridge}}}}
junctions:
  P: {{kind: plug, terminals: [a, b], mates: R}}
  R: {{kind: plug, terminals: [a, b]}}
wire_runs:
  W1: {{from: s.A, to: P.a, shielded: yes, sensing: yes, shield: {{from: {far}, to: P.b}}}}
  W2: {{from: R.a, to: g.A, shielded: yes, sensing: yes, shield: {{from: R.b, to: {near}}}}}
"""


def test_shield_through_a_plug_is_one(judged):
    once = judged(PLUG.format(far="open", near="airframe"), "shield-grounded-once")
    assert [v.outcome for v in once] == ["meets", "meets"]
    twice = judged(
        PLUG.format(far="airframe", near="g.case").replace(
            "principle: bridge", "principle: bridge, grounding: {to: airframe}"
        ),
        "shield-grounded-once",
    )
    assert [(v.outcome, v.value) for v in twice] == [("advisory", 2), ("advisory", 2)]


LIVE = """
zones: {{cabin: {{occupied: yes}}}}
grounds: {{airframe: {{kind: structure}}}}
senders: {{s: {{principle: pressure transducer, terminals: ['+', out, '-']}}}}
indicators: {{g: {{principle: voltage, terminals: [5 V, signal, minus], supply_terminals: [power, ground]}}}}
loads: {{lamp: {{current: 1 A}}}}
supplies:
  battery: {{kind: battery, voltage: 14 V}}
  bus: {{kind: bus}}
  breaker: {{kind: breaker, rating: 5 A}}
  switch: {{kind: switch}}
wire_runs:
  P1: {{from: battery.+, to: bus}}
  P2: {{from: battery.-, to: airframe}}
  P3: {{from: bus, to: breaker.in}}
  P4: {{from: breaker.out, to: g.power}}
  P5: {{from: g.ground, to: airframe}}
  P6: {{from: bus, to: switch.in}}
  P7: {{from: switch.out, to: lamp.+}}
  P8: {{from: lamp.-, to: airframe}}
  W1:
    part: shielded cable 3 core
    gauge: 22 AWG
    sensing: yes
    conductors: {{A: {{from: s.+, to: g.5 V}}, B: {{from: s.out, to: g.signal}}, C: {{from: s.-, to: g.minus}}}}
    shield: {{from: {far}, to: {near}}}
"""


@pytest.mark.parametrize(
    "near",
    [
        "bus",
        "breaker.out",
        "switch.out",
        "battery.+",
        "g.power",
        "g.5 V",
        "g.signal",
        "s.+",
        "s.out",
        "lamp.+",
    ],
)
def test_a_shield_at_a_live_terminal(judged, near):
    [verdict] = judged(LIVE.format(far="open", near=near), "shield-grounded-once")
    assert (verdict.outcome, near in verdict.message) == ("discrepancy", True)
    assert judged(LIVE.format(far="open", near=near), "shield-carries-nothing") == []
    # with its other end at ground the braid shorts what that terminal gives
    [verdict] = judged(LIVE.format(far="airframe", near=near), "shield-carries-nothing")
    assert verdict.outcome == "discrepancy"


@pytest.mark.parametrize("near", ["airframe", "battery.-", "g.ground", "g.minus", "s.-", "lamp.-"])
def test_a_shield_at_a_terminal_that_is_ground(judged, near):
    [verdict] = judged(LIVE.format(far="open", near=near), "shield-grounded-once")
    assert (verdict.outcome, verdict.value) == ("meets", 1)


def test_a_shield_at_a_terminal_that_reaches_no_ground(judged):
    loose = LIVE.format(far="open", near="lamp.-").replace("  P8: {from: lamp.-, to: airframe}\n", "")
    [verdict] = judged(loose, "shield-grounded-once")
    assert verdict.outcome == "undetermined"


def test_shield_as_the_return(judged):
    text = """
zones: {cabin: {occupied: yes}}
senders: {s: {principle: resistive, terminals: [S, G]}}
indicators: {g: {terminals: [S, G], principle: ratio meter}}
wire_runs: {W1: {from: s.S, to: g.S, part: shielded cable 1 core, gauge: 22 AWG, shield: {from: s.G, to: g.G}}}
"""
    [verdict] = judged(text, "shield-carries-nothing")
    assert verdict.outcome == "discrepancy"
    [verdict] = judged(document("from: open, to: stud"), "shield-carries-nothing")
    assert verdict.outcome == "meets"


def test_a_body_that_is_grounded_is_ground_for_a_shield(judged):
    """A body of which nothing is said has no such terminal: the document is refused."""
    text = """
grounds: {engine case: {kind: engine case}}
senders: {s: {terminals: [A], grounding: {to: engine case, through: thread, resistance: 2 milliohm}}}
indicators: {g: {terminals: [A]}}
wire_runs: {W1: {from: s.A, to: g.A, shielded: yes, sensing: yes, shield: {from: s.case, to: open}}}
"""
    [verdict] = judged(text, "shield-grounded-once")
    assert verdict.outcome == "meets"
    with pytest.raises(DocumentError, match="'case' is not a terminal of 's'"):
        judged(
            text.replace(", grounding: {to: engine case, through: thread, resistance: 2 milliohm}", ""),
            "shield-grounded-once",
        )
