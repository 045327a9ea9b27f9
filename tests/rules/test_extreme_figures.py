"""Figures that can be written, and that no formula was made for, end in verdicts: the rule does not fail."""

import pytest
from installations import demo, read

from installcheck import check


@pytest.mark.parametrize("budget", ["0 psi", "0.001 psi"])
def test_a_budget_of_nothing_is_exceeded(budget: str) -> None:
    """The strap of the demo makes the gauge read wrong, which no resistance brings down to nothing."""
    plain = demo("poor_ground")
    plain["indicators"]["oil pressure gauge"]["budget"] = budget
    ledger = check(read(plain))
    assert not ledger.failed
    assert [v for v in ledger.verdicts if v.rule == "ground-shared" and v.limit == float(budget[:-4])]


@pytest.mark.parametrize("ohms", ["1e9 ohm", "2e9 ohm", "1e11 ohm"])
def test_an_input_that_takes_next_to_nothing_is_solved(ohms: str) -> None:
    """An electrometer's input: 28 V drive 28 nA through 1 Gohm, and no circuit of an aircraft tells it from an open one."""
    plain = demo("retrofit_corrected")
    plain["indicators"]["oil pressure gauge"]["inner_resistance"] = ohms
    assert not check(read(plain)).failed
