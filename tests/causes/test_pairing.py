"""Which verdict of one judgement is which of another."""

from installcheck.causes.pairing import difference
from installcheck.rules.verdicts import Outcome, Verdict


def verdict(rule: str, ident: str, outcome: Outcome = Outcome.DISCREPANCY, **more: object) -> Verdict:
    return Verdict(outcome, (ident,), ("wire_runs", ident), "", rule=rule, **more)  # type: ignore[arg-type]


def test_what_is_not_found_any_more_is_gone() -> None:
    before = [verdict("a", "P1"), verdict("a", "P2")]
    found = difference(before, [verdict("a", "P2")])
    assert found.gone == {0}
    assert found.come == ()


def test_an_advisory_in_place_of_a_discrepancy_is_no_harm_and_no_cure() -> None:
    found = difference([verdict("a", "P1")], [verdict("a", "P1", Outcome.ADVISORY)])
    assert found.gone == frozenset()
    assert found.come == ()


def test_what_cannot_be_judged_any_more_has_come() -> None:
    now = verdict("a", "P1", Outcome.UNDETERMINED)
    assert difference([verdict("a", "P1")], [now]).come == (now,)


def test_a_verdict_that_grows_much_worse_has_come() -> None:
    # 1 V where 0.5 V is allowed, then 2 V.
    before = verdict("drop", "P1", value=1.0, limit=0.5, margin=-0.5, unit="V")
    worse = verdict("drop", "P1", value=2.0, limit=0.5, margin=-1.5, unit="V")
    assert difference([before], [worse]).come == (worse,)
