import pytest

TEXT = """
zones: {{bay: {{occupied: no, {fire}}}, cabin: {{occupied: yes, fire_zone: no}}}}
barriers: {{firewall: {{between: [bay, cabin], kind: {kind}}}}}
taps: {{tap: {{medium: {medium}, zone: bay, pressure: 60 psi}}}}
indicators: {{gauge: {{principle: direct pressure, ports: [P], zone: cabin}}}}
fittings: {{union: {{kind: bulkhead fitting, ports: ['1', '2'], zone: bay{fitting}}}}}
fluid_lines:
  L1: {{from: tap, to: gauge.P{line}, route: [{{zone: bay, length: 1 m}}, {{barrier: firewall{through}}}, {{zone: cabin, length: 1 m}}]}}
"""


def text(**words: str) -> str:
    usual = {
        "fire": "fire_zone: yes",
        "kind": "firewall",
        "medium": "oil",
        "fitting": "",
        "line": "",
        "through": "",
    }
    return TEXT.format(**{**usual, **words})


THROUGH = ", through: bulkhead fitting, fitting: union"


@pytest.mark.parametrize(
    ("fitting", "outcome"),
    [
        (", material: steel", "meets"),
        (", material: brass", "meets"),
        (", material: aluminium", "discrepancy"),
        (", material: steel, fireproof: yes", "meets"),
        (", material: plastic", "discrepancy"),
        ("", "undetermined"),
    ],
)
def test_fitting_in_the_firewall(judged, fitting, outcome):
    [verdict] = judged(text(fitting=fitting, through=THROUGH), "line-through-barrier")
    assert verdict.outcome == outcome
    assert verdict.at == ("L1", "firewall", "union")


@pytest.mark.parametrize(
    ("through", "line", "outcome"),
    [
        (", through: grommet", "", "discrepancy"),
        (", through: open hole", "", "discrepancy"),
        (", through: fireproof grommet", ", material: 304 stainless", "meets"),
        (", through: fireproof grommet", ", material: 5052-O aluminium", "discrepancy"),
        (", through: fireproof grommet", "", "undetermined"),
        (", through: bulkhead fitting", "", "undetermined"),
        (", through: sealed hole", "", "undetermined"),
        ("", "", "undetermined"),
    ],
)
def test_other_ways_through_a_firewall(judged, through, line, outcome):
    [verdict] = judged(text(through=through, line=line), "line-through-barrier")
    assert verdict.outcome == outcome


def test_a_wall_that_need_not_stop_fire(judged):
    [verdict] = judged(text(kind="bulkhead", through=", through: grommet"), "line-through-barrier")
    assert verdict.outcome == "meets"
    [verdict] = judged(text(kind="bulkhead", through=", through: open hole"), "line-through-barrier")
    assert verdict.outcome == "advisory"


@pytest.mark.parametrize(
    ("fitting", "outcome"),
    [(", material: steel", "meets"), (", material: aluminium", "undetermined"), ("", "undetermined")],
)
def test_fitting_in_a_wall_of_which_nobody_says_whether_it_stops_fire(judged, fitting, outcome):
    body = text(fitting=fitting, through=THROUGH).replace(", kind: firewall", "")
    [verdict] = judged(body, "line-through-barrier")
    assert verdict.outcome == outcome
    if outcome == "undetermined":
        assert verdict.path == ("barriers", "firewall")


@pytest.mark.parametrize(
    ("through", "line", "outcome"),
    [
        (", through: grommet", "", "undetermined"),
        (", through: fireproof grommet", ", material: 304 stainless", "meets"),
        (", through: fireproof grommet", ", material: 5052-O aluminium", "undetermined"),
        (", through: open hole", "", "undetermined"),
    ],
)
def test_line_through_a_wall_of_which_nobody_says_whether_it_stops_fire(judged, through, line, outcome):
    body = text(through=through, line=line).replace(", kind: firewall", "")
    [verdict] = judged(body, "line-through-barrier")
    assert verdict.outcome == outcome


def test_wall_of_no_sort_in_the_way_of_a_line(judged):
    body = text().replace("{barrier: firewall}, ", "").replace(", kind: firewall", "")
    [verdict] = judged(body, "line-through-barrier")
    assert (verdict.outcome, verdict.path) == ("undetermined", ("barriers", "firewall"))


@pytest.mark.parametrize(
    ("bay", "cabin", "outcome"),
    [
        ("fire_zone: no", "fire_zone: no", "meets"),
        ("occupied: yes", "occupied: yes", "meets"),  # people sit on both sides
        ("fire_zone: yes", "fire_zone: yes", "meets"),  # one fire zone beside another
        ("occupied: no", "occupied: yes", "undetermined"),  # nobody says whether the bay is a fire zone
    ],
)
def test_wall_of_no_sort_where_no_fire_stands_on_one_side_only(judged, bay, cabin, outcome):
    body = text(fitting=", material: aluminium", through=THROUGH).replace(", kind: firewall", "")
    body = body.replace("bay: {occupied: no, fire_zone: yes}", f"bay: {{{bay}}}")
    body = body.replace("cabin: {occupied: yes, fire_zone: no}", f"cabin: {{{cabin}}}")
    [verdict] = judged(body, "line-through-barrier")
    assert verdict.outcome == outcome


def test_amateur_built_is_a_recommendation(judged):
    body = "aircraft: {basis: amateur-built}\n" + text(through=", through: grommet")
    assert judged(body, "line-through-barrier")[0].outcome == "advisory"


def test_a_fitting_fixed_in_the_wall_between_two_lines(judged):
    body = (
        text(fitting=", material: aluminium, barrier: firewall")
        .replace(
            "route: [{zone: bay, length: 1 m}, {barrier: firewall}, {zone: cabin, length: 1 m}]",
            "route: [{zone: bay, length: 1 m}]",
        )
        .replace("to: gauge.P", "to: union.1")
    )
    [verdict] = judged(body, "line-through-barrier")
    assert (verdict.outcome, verdict.path) == ("discrepancy", ("fittings", "union"))


def test_a_line_that_must_cross_but_does_not_say_how(judged):
    body = text().replace("{barrier: firewall}, ", "")
    [verdict] = judged(body, "line-through-barrier")
    assert verdict.outcome == "undetermined"


@pytest.mark.parametrize(
    ("line", "outcome"),
    [
        (", kind: hose, material: rubber, fire: none", "discrepancy"),
        (", kind: hose, material: rubber, fire: none, sleeve: yes", "meets"),
        (", kind: hose, material: PTFE, fire: fire resistant", "meets"),
        (", kind: tube, material: 304 stainless", "meets"),
        (", kind: tube, material: 5052-O aluminium", "advisory"),
        (", kind: tube, material: nylon", "discrepancy"),
        ("", "undetermined"),
    ],
)
def test_line_in_a_fire_zone(judged, line, outcome):
    [verdict] = judged(text(line=line), "fire-zone-line")
    assert verdict.outcome == outcome


def test_no_fire_zone_and_no_word_of_it(judged):
    hose = ", kind: hose, material: rubber"
    # Two zones that are both no fire zone are not parted by a firewall.
    parted = text(line=hose, fire="fire_zone: no").replace("kind: firewall", "kind: bulkhead")
    assert judged(parted, "fire-zone-line")[0].outcome == "meets"
    assert judged(text(line=hose, fire="vibrates: no"), "fire-zone-line")[0].outcome == "undetermined"


def test_what_does_not_burn_is_not_concerned(judged):
    assert judged(text(medium="air", line=", kind: hose, material: rubber"), "fire-zone-line") == []


FITTING = """
zones: {{bay: {{fire_zone: {fire}}}}}
taps: {{tap: {{medium: oil, zone: bay}}}}
senders: {{sender: {{principle: switch, terminals: [S], ports: [P], zone: bay}}}}
fittings: {{tee: {{kind: tee, ports: ['1', '2', '3'], zone: bay, {material}}}}}
fluid_lines: {{L1: {{from: tap, to: tee.1}}, L2: {{from: tee.2, to: sender.P}}}}
"""


@pytest.mark.parametrize(
    ("material", "fire", "outcome"),
    [
        ("material: steel", "yes", "meets"),
        ("material: aluminium", "yes", "advisory"),
        ("material: plastic", "yes", "discrepancy"),
        ("material: plastic", "no", "meets"),
        ("bore: 0.1 in", "yes", "undetermined"),
    ],
)
def test_fitting_in_a_fire_zone(judged, material, fire, outcome):
    [verdict] = judged(FITTING.format(material=material, fire=fire), "fire-zone-fitting")
    assert verdict.outcome == outcome
