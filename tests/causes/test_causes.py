"""Causes and cures on small installations."""

from __future__ import annotations

from installcheck import check
from installcheck.causes.causes import find_causes
from installcheck.causes.found import Causes
from installcheck.document import loads
from installcheck.document.edited import edited
from installcheck.rules.verdicts import Outcome

POWER = """
installation: {name: test}
aircraft: {system_voltage: 14 V}
zones: {cabin: {occupied: yes, fire_zone: no, hot_parts: no, vibrates: no, temperature: {lowest: 0 degC, highest: 40 degC}}}
supplies:
  battery: {kind: battery, voltage: 12.6 V, zone: cabin}
  bus: {kind: bus, zone: cabin}
  lights breaker: {kind: breaker, rating: RATING, zone: cabin}
grounds: {airframe: {kind: structure, zone: cabin}}
loads: {lights: {current: 1 A, duty: continuous, zone: cabin}}
wire_runs:
  P1: {from: battery.+, to: bus, part: AS22759/16, gauge: 10 AWG, route: [{zone: cabin, length: 6 in}]}
  P2: {from: bus, to: lights breaker.in, part: AS22759/16, gauge: 10 AWG, route: [{zone: cabin, length: 3 in}]}
  P3: {from: lights breaker.out, to: lights.+, part: AS22759/16, gauge: 20 AWG, route: [{zone: cabin, length: 4 ft}]}
  P4: {from: lights.-, to: airframe, part: AS22759/16, gauge: 20 AWG, route: [{zone: cabin, length: 4 ft}]}
  P5: {from: battery.-, to: airframe, part: AS22759/16, gauge: 10 AWG, route: [{zone: cabin, length: 6 in}]}
"""


def causes_of(text: str) -> Causes:
    return find_causes(check(loads(text)))


def test_nothing_to_put_right() -> None:
    # 20 AWG bears a 7.5 A breaker by AC 43.13-1B table 11-3; 5 A is within it.
    found = causes_of(POWER.replace("RATING", "5 A"))
    assert found.causes == []


def test_a_breaker_too_big_for_its_wire_is_the_cause() -> None:
    found = causes_of(POWER.replace("RATING", "20 A"))
    (cause,) = found.causes
    assert cause.edits[0].touches == (("supplies", "lights breaker"),)
    assert {v.rule for v in cause.verdicts if v.outcome is Outcome.DISCREPANCY} == {"wire-protected"}


def test_all_cures_together_leave_no_discrepancy() -> None:
    document = loads(POWER.replace("RATING", "20 A"))
    for cause in find_causes(check(document)).causes:
        for edit in cause.edits:
            document = edited(document, edit)
    assert check(document).count(Outcome.DISCREPANCY) == 0


def test_what_no_change_cures_stands_alone() -> None:
    # 40 A over 4 ft of 20 AWG and back: no protector both carries it and is borne by a wire its part comes in here.
    found = causes_of(POWER.replace("RATING", "20 A").replace("current: 1 A", "current: 400 A"))
    alone = [c for c in found.causes if not c.edits]
    assert alone
    assert all(len(c.verdicts) == 1 for c in alone)
