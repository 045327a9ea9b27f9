import pytest

TEXT = """
taps: {{tap: {{medium: {medium}}}}}
senders: {{sender: {{principle: switch, terminals: [S], ports: [P]}}}}
fluid_lines: {{L1: {{from: tap, to: sender.P, length: 1 m{given}}}}}
"""


def judge(judged, one: str, medium: str = "fuel"):
    [verdict] = judged(
        TEXT.format(medium=medium, given=f", clearances: [{{to: it, {one}}}]"), "line-clearance"
    )
    return verdict


@pytest.mark.parametrize(
    ("one", "outcome", "margin"),
    [
        ("kind: exhaust, distance: 8 in", "meets", 2),
        ("kind: exhaust, distance: 4 in", "advisory", -2),
        ("kind: exhaust, distance: 4 in, guarded: yes", "meets", None),
        ("kind: exhaust, distance: 0 in, guarded: yes", "discrepancy", -6),
        # AC 43.13-1B 11-96: 6 in; not under 2 in, and then both clamped; the same limits as asked of the wires
        ("kind: wire, distance: 6 in, position: below", "meets", 0),
        ("kind: wire, distance: 2 in, position: below, clamped: yes", "meets", 0),
        ("kind: wire, distance: 3 in, position: below, clamped: no", "discrepancy", -3),
        ("kind: wire, distance: 3 in, clamped: yes", "undetermined", None),
        ("kind: wire, distance: 3 in, position: above", "discrepancy", -3),
        ("kind: wire, distance: 1 in, position: below, clamped: yes", "advisory", -1),
        ("kind: wire, distance: 1 in, position: below, clamped: no", "discrepancy", -5),
        ("kind: wire, distance: 1 in, position: below", "undetermined", None),
        ("kind: wire, distance: 0.25 in, clamped: yes", "discrepancy", -1.75),
        ("kind: ignition lead, distance: 0 in", "discrepancy", -2),
        ("kind: control cable, distance: 0.25 in", "advisory", -0.25),
        ("kind: control cable, distance: 0 in", "discrepancy", -0.5),
        ("kind: movable control, distance: 2 in", "meets", 1.5),
        ("kind: tank, distance: 0.25 in", "advisory", -0.25),
        ("kind: structure edge, distance: 0 in", "discrepancy", None),
        ("kind: structure edge, distance: 0 in, guarded: yes", "meets", None),
        ("kind: exhaust", "undetermined", None),
    ],
)
def test_clearance_of_a_fuel_line(judged, one, outcome, margin):
    verdict = judge(judged, one)
    assert verdict.outcome == outcome
    assert verdict.margin == (None if margin is None else pytest.approx(margin))
    assert verdict.path == ("fluid_lines", "L1", "clearances", 0)


def test_a_capillary_by_the_exhaust(judged):
    text = TEXT.format(
        medium="oil", given=", kind: capillary, clearances: [{to: it, kind: exhaust, distance: 1 in}]"
    )
    [verdict] = judged(text, "line-clearance")
    assert (verdict.outcome, verdict.margin) == ("advisory", -5)


def test_what_does_not_burn_may_lie_by_a_wire(judged):
    assert judge(judged, "kind: wire, distance: 1 in, position: above", "manifold air").outcome == "meets"


@pytest.mark.parametrize(
    ("medium", "given", "outcomes"),
    [("fuel", "", ["undetermined"]), ("manifold air", "", []), ("fuel", ", clearances: []", ["meets"])],
)
def test_silence_matters_only_for_what_burns(judged, medium, given, outcomes):
    found = judged(TEXT.format(medium=medium, given=given), "line-clearance")
    assert [str(v.outcome) for v in found] == outcomes
