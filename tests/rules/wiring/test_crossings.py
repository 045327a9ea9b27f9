import pytest

TEXT = """
aircraft: {{basis: {basis}}}
zones: {{bay: {{fire_zone: yes}}, cabin: {{occupied: yes}}, tail: {{}}}}
barriers:
  firewall: {{between: [bay, cabin], kind: firewall}}
  frame: {{between: [cabin, tail], kind: bulkhead}}
senders: {{s: {{terminals: [A], zone: {start}}}}}
indicators: {{g: {{terminals: [A], zone: cabin}}}}
fittings: {{union: {{kind: bulkhead fitting{fitting}, barrier: firewall}}}}
wire_runs: {{W1: {{from: s.A, to: g.A, {route}}}}}
"""


def document(step, start="bay", fitting="", basis="CAR 3"):
    route = f"route: [{{zone: {start}, length: 1 ft}}, {{{step}}}, {{zone: cabin, length: 3 ft}}]"
    return TEXT.format(route=route, start=start, fitting=fitting, basis=basis)


def test_fireproof_grommet(judged):
    [verdict] = judged(document("barrier: firewall, through: fireproof grommet"), "wire-through-barrier")
    assert verdict.outcome == "meets"


@pytest.mark.parametrize("through", ["open hole", "grommet", "plug"])
def test_what_does_not_stop_fire(judged, through):
    [verdict] = judged(document(f"barrier: firewall, through: {through}"), "wire-through-barrier")
    assert verdict.outcome == "discrepancy"
    assert verdict.path == ("wire_runs", "W1", "route", 1)


def test_amateur_built_is_counselled(judged):
    text = document("barrier: firewall, through: grommet", basis="amateur-built")
    [verdict] = judged(text, "wire-through-barrier")
    assert verdict.outcome == "advisory"


@pytest.mark.parametrize("step", ["barrier: firewall", "barrier: firewall, through: sealed plug"])
def test_what_is_not_told(judged, step):
    [verdict] = judged(document(step), "wire-through-barrier")
    assert verdict.outcome == "undetermined"


@pytest.mark.parametrize(
    ("fitting", "outcome"),
    [(", material: steel", "meets"), (", material: aluminium", "discrepancy"), ("", "undetermined")],
)
def test_fitting_in_the_firewall(judged, fitting, outcome):
    text = document("barrier: firewall, through: bulkhead fitting, fitting: union", fitting=fitting)
    [verdict] = judged(text, "wire-through-barrier")
    assert verdict.outcome == outcome


@pytest.mark.parametrize(
    ("step", "outcome"),
    [
        ("barrier: firewall, through: fireproof grommet", "meets"),
        ("barrier: firewall, through: grommet", "undetermined"),
        ("barrier: firewall, through: open hole, clearance: 1/2 in", "undetermined"),
        ("barrier: firewall, through: bulkhead fitting, fitting: union", "undetermined"),
    ],
)
def test_wall_of_which_nobody_says_whether_it_stops_fire(judged, step, outcome):
    text = document(step, fitting=", material: aluminium").replace(", kind: firewall", "")
    [verdict] = judged(text, "wire-through-barrier")
    assert verdict.outcome == outcome
    if outcome == "undetermined":
        assert verdict.path == ("barriers", "firewall")


def test_hole_in_a_frame(judged):
    [verdict] = judged(
        document("barrier: frame, through: open hole, clearance: 1/2 in", "tail"), "wire-through-barrier"
    )
    # 0.5 in - 0.375 in
    assert (verdict.outcome, verdict.margin) == ("meets", pytest.approx(0.125))
    [verdict] = judged(
        document("barrier: frame, through: open hole, clearance: 1/4 in", "tail"), "wire-through-barrier"
    )
    assert (verdict.outcome, verdict.margin) == ("discrepancy", pytest.approx(-0.125))
    [verdict] = judged(document("barrier: frame, through: open hole", "tail"), "wire-through-barrier")
    assert verdict.outcome == "undetermined"
    [verdict] = judged(document("barrier: frame, through: grommet", "tail"), "wire-through-barrier")
    assert verdict.outcome == "meets"


@pytest.mark.parametrize(
    "route",
    [
        "length: 4 ft",
        "route: [{zone: bay, length: 1 ft}, {zone: cabin, length: 3 ft}]",
        "route: [{zone: cabin, length: 3 ft}]",
    ],
)
def test_wall_that_must_be_crossed_and_is_not_told(judged, route):
    text = TEXT.format(route=route, start="bay", fitting="", basis="CAR 3")
    [verdict] = judged(text, "wire-through-barrier")
    assert (verdict.outcome, verdict.at) == ("undetermined", ("W1", "firewall"))


def test_run_within_one_zone(judged):
    text = TEXT.format(route="length: 4 ft", start="cabin", fitting="", basis="CAR 3")
    assert judged(text, "wire-through-barrier") == []


def test_route_told_from_the_far_end(judged):
    route = "route: [{zone: cabin, length: 3 ft}, {barrier: firewall, through: fireproof grommet}, {zone: bay, length: 1 ft}]"
    [verdict] = judged(
        TEXT.format(route=route, start="bay", fitting="", basis="CAR 3"), "wire-through-barrier"
    )
    assert verdict.outcome == "meets"
