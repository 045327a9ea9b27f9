import pytest

TEXT = """
zones: {{cabin: {{occupied: yes}}}}
loads: {{lamp: {{current: 1 A, terminals: [A, B, C, D, E, F, G, H, J], zone: cabin}}}}
supplies: {{bus: {{kind: bus, zone: cabin}}}}
grounds: {{airframe: {{kind: structure, zone: cabin}}, stud: {{kind: stud, joins: airframe, zone: cabin{stack}}}}}
wire_runs:
{runs}
"""


def document(count, to="stud", stack=""):
    runs = "\n".join(f"  W{i}: {{from: lamp.{'ABCDEFGHJ'[i]}, to: {to}, length: 1 ft}}" for i in range(count))
    return TEXT.format(runs=runs, stack=f", stack: [{stack}]" if stack else "")


def test_four_on_a_stud_meet(judged):
    [verdict] = judged(document(4), "terminals-per-stud")
    assert (verdict.outcome, verdict.value, verdict.limit, verdict.margin) == ("meets", 4, 4, 0)


def test_nine_on_a_stud(judged):
    [verdict] = judged(document(9), "terminals-per-stud")
    assert (verdict.outcome, verdict.value, verdict.margin) == ("discrepancy", 9, -5)
    # a link takes one of the four places of each stud: 9 / 3
    assert verdict.remedy == "share them over 3 studs joined by a bus link"


def test_shields_and_straps_count(judged):
    text = (
        document(3)
        .replace("cabin, terminals", "cabin, terminals")
        .replace("length: 1 ft}", "length: 1 ft, shield: {from: open, to: stud}}", 1)
    )
    text = text.replace(
        "airframe: {kind: structure",
        "strap: {kind: strap, from: airframe, to: stud}, airframe: {kind: structure",
    )
    [verdict] = judged(text, "terminals-per-stud")
    # three runs, a shield and a strap
    assert (verdict.outcome, verdict.value) == ("discrepancy", 5)


def test_declared_stack_counts(judged):
    text = document(1, stack="washer, W0, a, b, c, d, lock washer, nut")
    [verdict] = judged(text, "terminals-per-stud")
    assert (verdict.outcome, verdict.value) == ("discrepancy", 5)


def test_structure_and_bus_bar_are_no_stud(judged):
    assert judged(document(9, to="airframe"), "terminals-per-stud") == []
    assert judged(document(9, to="bus"), "terminals-per-stud") == []
    [verdict] = judged(document(9, to="bus.1"), "terminals-per-stud")
    assert verdict.outcome == "discrepancy"


def test_stack_in_order(judged):
    [verdict] = judged(document(2, stack="flat washer, W0, W1, flat washer, lock washer, nut"), "stack-order")
    assert verdict.outcome == "meets"


def test_lug_above_the_lock_nut(judged):
    [verdict] = judged(document(2, stack="W0, washer, lock nut, W1, nut"), "stack-order")
    assert verdict.outcome == "discrepancy"
    assert verdict.remedy == "put W1 below the lock nut"


def test_no_nut(judged):
    [verdict] = judged(document(2, stack="W0, W1"), "stack-order")
    assert (verdict.outcome, verdict.path) == ("discrepancy", ("grounds", "stud", "stack"))


def test_no_washer(judged):
    [verdict] = judged(document(2, stack="W0, W1, nut"), "stack-order")
    assert (verdict.outcome, verdict.remedy) == ("advisory", "fit a washer under the nut")


def test_stack_that_leaves_a_terminal_out(judged):
    [verdict] = judged(document(3, stack="W0, W1, washer, lock washer, nut"), "stack-order")
    assert verdict.outcome == "advisory"
    assert "names 2 terminals, and 3 land on it" in verdict.message


@pytest.mark.parametrize(
    ("top", "outcome"),
    [
        ("washer, nut", "advisory"),
        ("washer, lock washer, nut", "meets"),
        ("washer, self-locking nut", "meets"),
        ("washer, nut, nut", "meets"),
    ],
)
def test_the_nut_of_a_stack_is_locked(judged, top, outcome):
    [verdict] = judged(document(3, stack=f"W0, W1, W2, {top}"), "stack-order")
    assert verdict.outcome == outcome


def test_stack_not_told(judged):
    [verdict] = judged(document(2), "stack-order")
    assert verdict.outcome == "undetermined"
    assert judged(document(1), "stack-order") == []


RINGS = """
loads: {{lamp: {{current: 1 A, terminals: [A, B]}}}}
grounds: {{airframe: {{kind: structure}}, post: {{kind: stud, joins: airframe}}}}
wire_runs:
  W1: {{from: lamp.A, to: post, terminations: [{{kind: ring, stud: 0.164 in}}, {{kind: ring, stud: {one}}}]}}
  W2: {{from: lamp.B, to: post, terminations: [{{kind: ring, stud: 0.164 in}}, {{kind: ring, stud: {other}}}]}}
"""


@pytest.mark.parametrize(
    ("one", "other", "outcome"),
    [
        ("0.19 in", "0.19 in", "meets"),
        ("0.1875 in", "0.19 in", "meets"),  # 3/16 in counts for No. 10
        ("0.164 in", "0.25 in", "discrepancy"),  # 0.25 / 0.164 = 1.52
        ("0.19 in", "0.25 in", "discrepancy"),  # 0.25 / 0.19 = 1.32
        ("0.25 in", "unknown", "undetermined"),
    ],
)
def test_rings_of_one_post_are_of_one_size(judged, one, other, outcome):
    [verdict] = judged(RINGS.format(one=one, other=other), "rings-on-one-stud")
    assert verdict.outcome == outcome
    assert {"W1", "W2"} & {*verdict.at} or outcome == "meets"


RING = "terminations: [{{kind: soldered}}, {{kind: ring{}}}]"


@pytest.mark.parametrize(
    ("second", "outcome"),
    [
        (", stud: 0.164 in", "meets"),
        # 0.25 in is more than 1.12 times 0.164 in, 0.184 in
        (", stud: 0.25 in", "discrepancy"),
        (", stud: unknown", "undetermined"),
        ("", "undetermined"),
    ],
)
def test_rings_of_one_size(judged, second, outcome):
    text = document(2)
    for hole in (", stud: 0.164 in", second):
        text = text.replace("length: 1 ft}", f"length: 1.0 ft, {RING.format(hole)}}}", 1)
    [verdict] = judged(text, "rings-on-one-stud")
    assert verdict.outcome == outcome
