"""What is said alike of many things is printed once, with their names, and nothing is lost."""

from __future__ import annotations

from io import StringIO

from big_document import big_document
from rich.console import Console

from installcheck import check
from installcheck.causes.causes import find_causes
from installcheck.document import loads
from installcheck.outputs.alike import few
from installcheck.outputs.terminal.verdicts import print_check


def printed(text: str) -> str:
    """A check as the terminal shows it, its lines joined."""
    out = StringIO()
    print_check(find_causes(check(loads(text))), Console(file=out, width=100))
    return " ".join(out.getvalue().split())


def test_advice_on_eight_wires_is_given_once() -> None:
    # Each of two stations has four wires of 22 AWG that run alone through the engine bay: W101 to W104, W201 to W204.
    told = printed(big_document(20))
    assert told.count("runs alone through the engine bay, which vibrates") == 1
    assert "7 more likewise: W102, W103, W104, W201, W202, W203, W204" in told


def test_causes_without_a_cure_that_say_the_same_are_numbered_on_and_named() -> None:
    # A meter in series with its sender follows the supply, which stands below the voltage of the system: no part is given
    # here for which another could be tried.
    text = big_document(20).replace(
        "principle: electronic resistance, measures: oil pressure, terminals: [P]",
        "principle: series meter, measures: oil pressure, terminals: [P], inner_resistance: 120 ohm",
    )
    told = printed(text)
    assert "2 THINGS TO PUT RIGHT" in told
    assert told.count("psi off with all tolerances") == 1
    assert "2 likewise: monitor 2" in told


def test_many_names_are_cut_short_with_their_number() -> None:
    assert few([f"W{n}" for n in range(1, 11)]) == "W1, W2, W3, W4, W5, W6, W7, W8 and 2 more"
    assert few(["W1", "W1", "W2"]) == "W1, W2"
