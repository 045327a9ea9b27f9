"""The worst first: what can bring fuel, oil or fire to people before wires that burn, and those before false readings."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from demo_causes import causes_of

from installcheck.causes.danger import ENDANGERS, FIRE, HEAT, LEAST, LOST, badness, beyond, danger
from installcheck.rules.engine import all_rules
from installcheck.rules.verdicts import Outcome, discrepancy

DEMO = Path(__file__).parents[2] / "demo_aircraft" / "retrofit.yaml"


def test_causes_stand_in_the_order_of_what_they_endanger_but_for_what_must_be_cured_first() -> None:
    found = causes_of("retrofit").causes
    grades = [
        badness([v for v in cause.verdicts if v.outcome is Outcome.DISCREPANCY])
        for cause in found
        if not cause.after
    ]
    assert grades == sorted(grades)
    assert all(number < place for place, cause in enumerate(found, 1) for number in cause.after)
    fuel = next(c for c in found if any(v.rule == "fluid-into-cabin" for v in c.verdicts))
    couple = next(c for c in found if any(v.rule == "thermocouple-leg-material" for v in c.verdicts))
    assert found.index(fuel) < found.index(couple)


def test_every_rule_that_is_ranked_is_a_rule() -> None:
    assert all_rules().keys() >= FIRE | HEAT | LOST
    assert not FIRE & (HEAT | LOST)
    assert not HEAT & LOST
    assert len(ENDANGERS) == LEAST + 1


def broken(rule, **figures):
    return replace(discrepancy(["x"], (), "it is broken", **figures), rule=rule)


def test_fire_before_heat_before_what_is_lost_before_what_is_false_before_the_rest():
    rules = ("media-joined", "wire-protected", "required-powered", "indication-within-budget", "run-marked")
    assert [danger(broken(rule)) for rule in rules] == [0, 1, 2, 3, 4]
    assert danger(broken("voltage-drop")) == 4  # what is fed still works: fed-within-range says where not
    assert danger(broken("fed-within-range")) == 2


def test_how_far_beyond_a_limit_is_counted_in_the_limit():
    """4 psi where 2 psi are allowed is once the limit beyond; 15 psi where 25 psi are the least, two fifths."""
    assert beyond(broken("indication-within-budget", value=4.0, limit=2.0, margin=-2.0)) == 1.0
    assert beyond(broken("fed-within-range", value=15.0, limit=25.0, margin=-10.0)) == 0.4
    assert beyond(broken("media-joined")) == beyond(broken("x", value=3.0, limit=0.0, margin=-3.0)) == 1.0


def test_in_one_grade_the_furthest_beyond_comes_first_and_only_the_worst_grade_counts():
    far = broken("indication-within-budget", value=9.0, limit=2.0, margin=-7.0)
    near = broken("true-at-the-limit", value=3.0, limit=2.0, margin=-1.0)
    burns = broken("wire-protected", value=6.0, limit=5.0, margin=-1.0)
    assert sorted([[near], [near, burns], [far], [far, near]], key=badness) == [
        [near, burns],
        [far, near],
        [far],
        [near],
    ]
