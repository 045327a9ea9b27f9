import pytest

RING = "{kind: ring, smallest_gauge: 22 AWG, largest_gauge: 18 AWG, stud: 0.164 in, max_current: 10 A}"
TEXT = """
zones: {{cabin: {{occupied: yes}}}}
supplies: {{bus: {{kind: bus, zone: cabin}}}}
loads: {{lamp: {{current: 4 A, terminals: ['+'], zone: cabin}}}}
grounds: {{stud: {{kind: stud, stud: {stud}, zone: cabin}}}}
wire_runs: {{W1: {{from: lamp.+, to: {to}, gauge: {gauge}, length: 3 ft, {more}}}}}
"""


def document(more=f"terminations: [{RING}, {RING}]", gauge="20 AWG", stud="0.164 in", to="stud"):
    return TEXT.format(more=more, gauge=gauge, stud=stud, to=to)


def test_rings_that_fit(judged):
    [verdict] = judged(document(), "terminal-fits")
    assert verdict.outcome == "meets"


def test_ring_of_another_gauge(judged):
    [verdict] = judged(document(gauge="16 AWG"), "terminal-fits")
    assert verdict.outcome == "discrepancy"
    assert verdict.path == ("wire_runs", "W1", "terminations", 0)
    assert verdict.remedy == "crimp on a terminal that takes 16 AWG"


def test_ring_for_another_stud(judged):
    [verdict] = judged(document(stud="1/4 in"), "terminal-fits")
    # 0.25 in - 0.164 in = 0.086 in
    assert (verdict.outcome, verdict.value, verdict.limit) == (
        "discrepancy",
        pytest.approx(0.164),
        pytest.approx(0.25),
    )
    assert verdict.margin == pytest.approx(-0.086)
    [verdict] = judged(document(stud="0.138 in"), "terminal-fits")
    assert "too little contact" in verdict.message


def test_ring_for_less_current(judged):
    text = document(to="bus").replace("current: 4 A", "current: 12 A")
    [verdict] = judged(text, "terminal-fits")
    assert (verdict.outcome, verdict.value, verdict.limit, verdict.margin) == ("discrepancy", 12, 10, -2)


@pytest.mark.parametrize("word", ["max_current", "stud"])
def test_terminal_figure_said_to_be_unknown(judged, word):
    ring = RING.replace("stud: 0.164 in, max_current: 10 A", f"{word}: unknown")
    [verdict] = judged(document(more=f"terminations: [{ring}, {ring}]"), "terminal-fits")
    assert verdict.outcome == "undetermined"


def test_nothing_said_of_terminals(judged):
    [verdict] = judged(document(more="marked: yes"), "terminal-fits")
    assert verdict.outcome == "undetermined"
    [verdict] = judged(document(more="terminations: [{kind: ring}, {kind: ring}]"), "terminal-fits")
    assert (verdict.outcome, verdict.missing) == (
        "undetermined",
        ("smallest and largest gauge the terminal takes", "stud the terminal fits"),
    )


def test_bare_end(judged):
    [verdict] = judged(document(more=f"terminations: [{{kind: none}}, {RING}]"), "terminal-fits")
    assert verdict.outcome == "advisory"


JOINT = """
zones: {{cabin: {{occupied: yes}}}}
supplies: {{bus: {{kind: bus, zone: cabin}}}}
loads: {{lamp: {{current: {amps}, terminals: ['+'], zone: cabin}}}}
junctions: {{joint: {{{joint}, zone: cabin}}}}
wire_runs:
  W1: {{from: bus, to: joint.A, part: AS22759/16, gauge: {gauge}, length: 3 ft}}
  W2: {{from: joint.B, to: lamp.+, part: AS22759/16, gauge: 20 AWG, length: 3 ft}}
"""


def test_contacts_take_their_wires(judged):
    text = JOINT.format(amps="1 A", joint="part: plug size 20 contacts, size: 2 contact", gauge="22 AWG")
    assert [v.outcome for v in judged(text, "joint-takes-wire")] == ["meets"]


def test_wire_too_thick_for_a_contact(judged):
    text = JOINT.format(amps="1 A", joint="part: plug size 20 contacts, size: 2 contact", gauge="18 AWG")
    [verdict] = judged(text, "joint-takes-wire")
    assert (verdict.outcome, verdict.at) == ("discrepancy", ("joint", "W1"))
    assert "24 to 20 AWG" in verdict.message


def test_contact_with_too_much_current(judged):
    text = JOINT.format(amps="6 A", joint="kind: plug, contact_size: '20', terminals: [A, B]", gauge="22 AWG")
    text = text.replace("to: lamp", "to: lamp").replace("from: joint.B", "from: joint.A")
    verdicts = judged(text, "joint-takes-wire")
    # 22 AWG 5 A at a contact, size 20 7.5 A: the lower rules
    first = next(v for v in verdicts if v.at == ("joint", "W1"))
    assert (first.outcome, first.value, first.limit, first.margin) == ("advisory", 6, 5, -1)


def test_splice_of_unknown_range(judged):
    text = JOINT.format(amps="1 A", joint="kind: splice", gauge="22 AWG")
    assert {v.outcome for v in judged(text, "joint-takes-wire")} == {"undetermined"}


def test_terminal_block_leaves_it_to_the_terminals(judged):
    text = JOINT.format(amps="1 A", joint="kind: terminal block, terminals: [A, B]", gauge="22 AWG")
    assert judged(text, "joint-takes-wire") == []


@pytest.mark.parametrize(
    ("most", "outcome"),
    [
        ("max_current: 5 A", "meets"),
        ("max_current: 3 A", "discrepancy"),
        ("max_current: unknown", "undetermined"),
    ],
)
def test_terminal_block_carries_no_more_than_it_may(judged, most, outcome):
    text = JOINT.format(amps="4 A", gauge="20 AWG", joint=f"kind: terminal block, terminals: [A, B], {most}")
    verdicts = judged(text, "joint-takes-wire")
    assert {v.outcome for v in verdicts} == {outcome}


def test_ring_on_a_stud_that_does_not_say_its_own(judged):
    ring = RING.replace("stud: 0.164 in, ", "")
    [verdict] = judged(document(more=f"terminations: [{RING}, {ring}]"), "terminal-fits")
    assert (verdict.outcome, verdict.missing) == ("undetermined", ("stud the terminal fits",))
    # nobody says of the bus bar what its screws are
    [verdict] = judged(document(more=f"terminations: [{RING}, {ring}]", to="bus"), "terminal-fits")
    assert verdict.outcome == "meets"
