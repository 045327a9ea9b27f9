import pytest

TEXT = """
zones: {{bay: {{fire_zone: yes, hot_parts: {hot}}}, cabin: {{occupied: yes}}}}
taps: {{fuel: {{medium: fuel, zone: bay}}}}
senders: {{s: {{terminals: [A], ports: [P], zone: bay}}}}
indicators: {{g: {{terminals: [A], zone: bay}}, h: {{terminals: [A], zone: cabin}}, i: {{terminals: [A], zone: cabin}}}}
bundles: {{harness: {{zone: bay{bundle}}}}}
fluid_lines: {{fuel hose: {{from: fuel, to: s.P, kind: hose, route: [{{zone: bay, length: 2 ft}}]}}}}
wire_runs:
  W1: {{from: s.A, to: g.A, bundle: harness, route: [{{zone: bay, length: 3 ft}}]}}
  W2: {{from: h.A, to: i.A, route: [{{zone: cabin, length: 3 ft}}]}}
"""


def document(clearances=None, hot="no"):
    told = f", clearances: {clearances}" if clearances is not None else ""
    return TEXT.format(bundle=told, hot=hot)


def fuel(**more):
    words = ", ".join(f"{k}: {v}" for k, v in {"to": "fuel hose", "kind": "flammable line", **more}.items())
    return document(f"[{{{words}}}]")


def test_six_inches_meet(judged):
    [verdict] = judged(fuel(distance="6 in"), "wire-from-flammable-line")
    assert (verdict.outcome, verdict.limit, verdict.margin) == ("meets", 6, pytest.approx(0))
    assert verdict.at == ("harness", "fuel hose")


@pytest.mark.parametrize(
    ("more", "outcome"),
    [
        ({"distance": "3 in", "position": "above", "clamped": "yes"}, "meets"),
        ({"distance": "3 in", "position": "below", "clamped": "yes"}, "discrepancy"),
        ({"distance": "3 in", "position": "above", "clamped": "no"}, "discrepancy"),
        ({"distance": "1 in", "position": "above", "clamped": "yes"}, "advisory"),
        ({"distance": "1/4 in", "position": "above", "clamped": "yes"}, "discrepancy"),
        ({"distance": "3 in", "position": "above"}, "undetermined"),
        ({"distance": "3 in", "clamped": "yes"}, "undetermined"),
        ({}, "undetermined"),
    ],
)
def test_closer_than_six_inches(judged, more, outcome):
    [verdict] = judged(fuel(**more), "wire-from-flammable-line")
    assert verdict.outcome == outcome


def test_clamped_limits(judged):
    [verdict] = judged(fuel(distance="3 in", position="above", clamped="yes"), "wire-from-flammable-line")
    # 3 in - 2 in
    assert (verdict.limit, verdict.margin) == (2, pytest.approx(1))


def test_touching_a_line_is_told_against_the_same_limit(judged):
    [touching] = judged(fuel(distance="0 in", clamped="yes"), "wire-from-flammable-line")
    [close] = judged(fuel(distance="1 in", clamped="yes", position="above"), "wire-from-flammable-line")
    assert (touching.outcome, touching.limit, touching.margin) == ("discrepancy", 2, pytest.approx(-2))
    assert (close.outcome, close.limit, close.margin) == ("advisory", 2, pytest.approx(-1))


def test_silence_matters_where_fuel_runs(judged):
    [verdict] = judged(document(), "wire-from-flammable-line")
    # the lone run in the cabin passes no fuel line and is not asked
    assert (verdict.outcome, verdict.at) == ("undetermined", ("harness",))
    [verdict] = judged(document("[]"), "wire-from-flammable-line")
    assert verdict.outcome == "meets"
    [verdict] = judged(
        document("[{to: door, kind: structure edge, distance: 1 in}]"), "wire-from-flammable-line"
    )
    assert verdict.outcome == "undetermined"


def test_without_a_route_in_a_document_with_fuel(judged):
    text = (
        document()
        .replace("bundle: harness, route: [{zone: bay, length: 3 ft}]", "length: 3 ft")
        .replace("to: g.A", "to: h.A")
    )
    [verdict] = judged(text, "wire-from-flammable-line")
    assert verdict.missing == ("route of the run with the length in each zone",)


@pytest.mark.parametrize(
    ("clearance", "outcome"),
    [
        ("distance: 8 in", "meets"),
        ("distance: 2 in, guarded: yes", "meets"),
        ("distance: 2 in", "advisory"),
        ("distance: 0 in", "discrepancy"),
        ("clamped: yes", "undetermined"),
    ],
)
def test_exhaust(judged, clearance, outcome):
    [verdict] = judged(document(f"[{{to: stacks, kind: exhaust, {clearance}}}]", "yes"), "wire-from-heat")
    assert verdict.outcome == outcome


def test_exhaust_is_asked_for_where_it_runs(judged):
    assert judged(document(), "wire-from-heat") == []
    [verdict] = judged(document(hot="yes"), "wire-from-heat")
    assert verdict.outcome == "undetermined"
    [verdict] = judged(document().replace(", hot_parts: no", ""), "wire-from-heat")
    assert verdict.outcome == "undetermined"


@pytest.mark.parametrize(
    ("clearance", "outcome", "margin"),
    [
        ("kind: control cable, distance: 4 in", "meets", 1),
        ("kind: control cable, distance: 1 in", "advisory", -2),
        ("kind: movable control, distance: 1 in", "meets", 0.5),
        # 3/8 in at an edge, touching or not
        ("kind: structure edge, distance: 0 in", "discrepancy", -0.375),
        ("kind: structure edge, distance: 1/8 in", "advisory", -0.25),
        ("kind: structure edge, distance: 3/8 in", "meets", 0),
    ],
)
def test_controls_and_edges(judged, clearance, outcome, margin):
    [verdict] = judged(document(f"[{{to: it, {clearance}}}]"), "wire-from-controls")
    assert (verdict.outcome, verdict.margin) == (outcome, pytest.approx(margin))


def test_controls_are_not_asked_for(judged):
    assert judged(document(), "wire-from-controls") == []
    [verdict] = judged(document("[{to: cable, kind: control cable}]"), "wire-from-controls")
    assert verdict.outcome == "undetermined"


@pytest.mark.parametrize(("distance", "outcome"), [("6 in", "meets"), ("1 in", "advisory")])
def test_wires_keep_off_a_tank_as_off_a_line_by_practice(judged, distance, outcome):
    text = document(f"[{{to: wing tank, kind: tank, distance: {distance}, position: above, clamped: no}}]")
    [verdict] = judged(text, "wire-from-flammable-line")
    assert verdict.outcome == outcome
    assert "no figure for tanks" in verdict.source
