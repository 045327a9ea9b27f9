"""What happened to things, and what makes no difference."""

import random

import pytest
import yaml

from installcheck.comparison import Kind, compare
from installcheck.document import loads


def kinds(found):
    return [(c.kind.value, c.section, c.ident) for c in found.changes if c.kind is not Kind.REWORDED]


def only(found):
    [change] = found.changes
    return change


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("length: 3 ft}, {barrier", "length: 36 in}, {barrier"),
        ("length: 3 ft}, {barrier", "length: 0.9144 m}, {barrier"),
        ("length: 3 ft}, {barrier", "length: 1 ft}, {zone: engine, length: 2 ft}, {barrier"),
        ("current: 0.5 A", "current: 500 mA"),
        ("gauge: 18 AWG", "gauge: AWG 18"),
        ("rating: 5 A, zone: cabin}", "rating: 5.0 A, zone: cabin}  # as placarded"),
        ("occupied: yes", "occupied: true"),
        ("resistance: 16.2 ohm/1000 ft, length: 5 ft", "resistance: 0.0162 ohm/ft, length: 60 in"),
        ("{from: bulb.B, to: gauge.B,", "{to: bulb.B, from: gauge.B,"),
        (
            "{from: bulb.A, to: gauge.A, gauge: 22 AWG, resistance: 16.2 ohm/1000 ft, route: [{zone: engine, length: 3 ft}, {barrier: firewall, through: grommet}, {zone: cabin, length: 2 ft}]}",
            "{from: gauge.A, to: bulb.A, gauge: 22 AWG, resistance: 16.2 ohm/1000 ft, route: [{zone: cabin, length: 2 ft}, {barrier: firewall, through: grommet}, {zone: engine, length: 3 ft}]}",
        ),
        ("installation: {name: test}", "installation: {name: test, revision: B, date: 2026-05-01}"),
    ],
)
def test_units_spelling_and_direction_make_no_difference(altered, old, new):
    found = altered((old, new))
    assert found.changes == ()
    assert found.left == ()
    assert found.verdicts == ()
    assert found.retests == ()


def test_order_makes_no_difference(base):
    plain = yaml.load(base, Loader=yaml.BaseLoader)
    shuffled = {}
    for section in random.Random(8).sample(list(plain), len(plain)):
        things = plain[section]
        shuffled[section] = {
            ident: dict(reversed(thing.items())) if isinstance(thing, dict) else thing
            for ident, thing in reversed(things.items())
        }
    found = compare(loads(base), loads(yaml.safe_dump(shuffled, sort_keys=False)))
    assert found.changes == ()
    assert found.verdicts == ()


def test_order_of_terminals_and_of_a_route_does(altered):
    assert kinds(altered(("terminals: [A, B], zone: cabin", "terminals: [B, A], zone: cabin"))) == [
        ("changed", "indicators", "gauge")
    ]


def test_added_and_removed(altered):
    found = altered(
        (
            "  lamp: {current: 0.5 A, duty: continuous, zone: cabin, weight: 1 lb, station: 20 in}",
            "  dome: {current: 1 A, zone: engine}",
        ),
        ("to: lamp.+", "to: dome.+"),
        ("from: lamp.-", "from: dome.-"),
    )
    assert kinds(found) == [
        ("removed", "loads", "lamp"),
        ("added", "loads", "dome"),
        ("reconnected", "wire_runs", "P2"),
        ("reconnected", "wire_runs", "P3"),
    ]
    assert found.changes[2].message == "run P2 reconnected: to end was lamp.+, now dome.+"


def test_status_removed_counts_as_gone_and_new_as_come(altered):
    found = altered(("gauge: 20 AWG, length: 3 ft", "gauge: 20 AWG, length: 3 ft, status: removed"))
    assert kinds(found) == [("removed", "wire_runs", "P2")]


def test_moved(altered):
    change = only(
        altered(("measures: oil temperature, zone: engine", "measures: oil temperature, zone: cabin"))
    )
    assert change.message == "sender bulb moved: zone was engine, now cabin"
    assert change.path == ("senders", "bulb")


def test_regauged_run_carries_its_figures_along(altered):
    change = only(
        altered(
            (
                "gauge: 22 AWG, resistance: 16.2 ohm/1000 ft, length",
                "gauge: 20 AWG, resistance: 9.88 ohm/1000 ft, length",
            )
        )
    )
    assert change.message == "run W2 re-gauged: gauge was 22 AWG, now 20 AWG"
    assert [(d.what, d.follows) for d in change.details] == [("gauge", False), ("resistance", True)]


def test_relengthened(altered):
    change = only(altered(("length: 2 ft}]", "length: 30 in}]")))
    assert change.kind is Kind.RELENGTHENED
    # 3 ft + 30 in = 5.5 ft, told in the unit of the old route
    assert (change.details[0].old, change.details[0].new) == ("5 ft", "5.5 ft")


def test_same_length_otherwise_divided(altered):
    change = only(
        altered(
            ("[{zone: engine, length: 3 ft}", "[{zone: engine, length: 4 ft}"),
            ("length: 2 ft}]", "length: 1 ft}]"),
        )
    )
    assert change.kind is Kind.RELENGTHENED
    assert change.details[0].what == "length by zone"


def test_rerouted(altered):
    change = only(altered(("through: grommet", "through: fireproof grommet")))
    assert change.kind is Kind.REROUTED
    assert "through firewall by fireproof grommet" in change.message


def test_a_clearance_that_was_nothing_is_a_change_too(base):
    was, now = (
        base.replace("through: grommet", f"through: grommet, clearance: {c}") for c in ("0 in", "0.25 in")
    )
    change = only(compare(loads(was), loads(now)))
    assert change.message.endswith("clearance at firewall was 0 in, now 0.25 in")


def test_replaced_folds_in_what_follows(altered):
    found = altered(
        (
            "{principle: bridge, terminals: [A, B], zone: cabin,",
            "{principle: ratio meter, terminals: [A, B], zone: cabin, inner_resistance: 90 ohm,",
        )
    )
    change = only(found)
    assert change.message == "indicator gauge replaced: principle was bridge, now ratio meter"
    assert [d.what for d in change.details if d.follows] == ["inner resistance"]


def test_renamed_thing_is_one_change_and_its_runs_none(base):
    new = base.replace("gauge.A", "dial.A").replace("gauge.B", "dial.B").replace("  gauge:", "  dial:")
    change = only(compare(loads(base), loads(new)))
    assert change.message == "indicator dial renamed: name was gauge, now dial"


def test_renamed_zone(base):
    new = (
        base.replace("zone: cabin", "zone: cockpit")
        .replace("  cabin:", "  cockpit:")
        .replace("engine, cabin]", "engine, cockpit]")
    )
    assert only(compare(loads(base), loads(new))).kind is Kind.RENAMED


def test_a_new_thing_like_an_old_one_is_no_rename(base):
    new = base.replace("gauge.A", "dial.A").replace("gauge.B", "dial.B")
    new = new.replace("  gauge: {", "  dial: {status: new, ")
    assert {c.kind for c in compare(loads(base), loads(new)).changes} == {
        Kind.REMOVED,
        Kind.ADDED,
        Kind.RECONNECTED,
    }


def test_two_alike_are_not_guessed_at(base):
    base = base.replace("loads:\n", "loads:\n  spare 1: {current: 1 A}\n  spare 2: {current: 1 A}\n")
    new = base.replace("spare 1", "spare 3").replace("spare 2", "spare 4")
    assert sorted(k for k, _, _ in kinds(compare(loads(base), loads(new)))) == ["added"] * 2 + ["removed"] * 2


def test_changed_value_in_another_unit_is_told_in_both(altered):
    change = only(altered(("rating: 5 A", "rating: 7500 mA")))
    # 7500 mA = 7.5 A
    assert change.message == "breaker breaker changed: rating was 5 A, now 7500 mA (7.5 A)"


def test_wording_is_apart(altered):
    change = only(altered(("{current: 0.5 A,", "{current: 0.5 A, title: reading lamp,")))
    assert change.kind is Kind.REWORDED


def test_measurements_are_compared_whatever_their_order(base):
    a = base + "measured:\n  - {of: W1, value: 0.1 ohm}\n  - {of: W2, value: 0.2 ohm}\n"
    b = base + "measured:\n  - {of: W2, value: 200 milliohm}\n  - {of: W1, value: 0.3 ohm}\n"
    assert [c.kind for c in compare(loads(a), loads(b)).changes] == [Kind.REMOVED, Kind.ADDED]
