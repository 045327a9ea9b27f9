"""The worst first: what can bring fuel, oil or fire to people before wires that burn, and those before false readings."""

from __future__ import annotations

from pathlib import Path

from installcheck import check
from installcheck.causes.causes import find_causes
from installcheck.causes.danger import FIRE, HEAT, danger
from installcheck.document import load
from installcheck.rules.engine import all_rules
from installcheck.rules.verdicts import Outcome

DEMO = Path(__file__).parents[2] / "demo_aircraft" / "retrofit.yaml"


def test_causes_stand_in_the_order_of_what_they_endanger_but_for_what_must_be_cured_first() -> None:
    found = find_causes(check(load(DEMO))).causes
    grades = [
        min(danger(v) for v in cause.verdicts if v.outcome is Outcome.DISCREPANCY)
        for cause in found
        if not cause.after
    ]
    assert grades == sorted(grades)
    assert all(number < place for place, cause in enumerate(found, 1) for number in cause.after)
    fuel = next(c for c in found if any(v.rule == "fluid-into-cabin" for v in c.verdicts))
    couple = next(c for c in found if any(v.rule == "thermocouple-leg-material" for v in c.verdicts))
    assert found.index(fuel) < found.index(couple)


def test_every_rule_that_is_ranked_is_a_rule() -> None:
    assert all_rules().keys() >= FIRE | HEAT
