import pytest

TEXT = """
aircraft: {{basis: {basis}}}
zones: {{bay: {{fire_zone: yes}}, cabin: {{occupied: yes}}, tail: {{}}}}
barriers: {{wall: {{between: [{sides}], {wall}}}}}
"""


def document(wall, sides="bay, cabin", basis="CAR 3"):
    return TEXT.format(wall=wall, sides=sides, basis=basis)


@pytest.mark.parametrize(
    ("wall", "outcome"),
    [
        ("kind: firewall", "meets"),
        ("kind: firewall, material: stainless steel 0.015 in", "meets"),
        ("kind: firewall, material: stainless steel 0.010 in", "discrepancy"),
        ("kind: firewall, material: stainless steel 0.4 mm", "meets"),  # 0.0157 in
        ("kind: firewall, material: mild steel 0.016 in", "discrepancy"),
        ("kind: firewall, material: mild steel 0.018 in", "meets"),
        ("kind: firewall, material: titanium 0.015 in", "discrepancy"),
        ("kind: firewall, fireproof: yes, material: titanium 0.015 in", "meets"),
        ("kind: firewall, material: terne plate", "meets"),
        ("kind: firewall, material: aluminium alloy", "discrepancy"),
        ("kind: firewall, material: plywood", "discrepancy"),
        ("kind: firewall, material: mica board", "undetermined"),
        ("kind: firewall, fireproof: yes, material: carbon composite", "meets"),
        ("kind: firewall, fireproof: yes, material: aluminium", "discrepancy"),
        ("kind: firewall, fireproof: no", "discrepancy"),
        ("kind: panel", "discrepancy"),
        ("kind: panel, fireproof: yes", "meets"),
        ("material: stainless steel", "undetermined"),
    ],
)
def test_wall_between_engine_and_people(judged, wall, outcome):
    [verdict] = judged(document(wall), "firewall-made")
    assert verdict.outcome == outcome


def test_amateur_built_is_counselled(judged):
    [verdict] = judged(document("kind: panel", basis="amateur-built"), "firewall-made")
    assert verdict.outcome == "advisory"


def test_other_walls_are_not_concerned(judged):
    assert judged(document("kind: panel", sides="cabin, tail"), "firewall-made") == []


def test_wall_of_no_sort_beside_a_fire_zone_is_asked_for(judged):
    # Nobody says that people sit in the tail; the wall beside the fire is asked for all the same.
    [verdict] = judged(document("material: steel", sides="bay, tail"), "firewall-made")
    assert (verdict.outcome, verdict.path) == ("undetermined", ("barriers", "wall"))


def test_who_sits_behind_a_panel_beside_a_fire_zone_is_asked_for(judged):
    [verdict] = judged(document("kind: panel", sides="bay, tail"), "firewall-made")
    assert (verdict.outcome, verdict.path) == ("undetermined", ("zones", "tail"))
    text = document("kind: panel", sides="bay, tail").replace("tail: {}", "tail: {occupied: no}")
    assert judged(text, "firewall-made") == []
