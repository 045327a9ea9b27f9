"""Harms of every kind put right again: the first cause names what was harmed, and the cures leave nothing wrong."""

from __future__ import annotations

import pytest
from harm import Harm
from harm_cures import both_righted, done_to, one_of_each_kind, pairs, righted

ADVISED = frozenset(
    (
        "no drip loop",
        "beside ignition leads",
        "signal beside feeders",
        "shield grounded at both ends",
        "shield grounded nowhere",
        "splice near the end of its wire",
        "splice not sealed",
        "exhaust probe at another distance",
        "aluminium fitting in a fire zone",
        "line without supports",
        "line close to the exhaust",
        "line rubs on a control",
        "no drain at the low point",
        "sender hung on the engine",
        "alternator return left off",
        "small battery",
        "long on, called intermittent",
        "compass beside a power wire",
        "conduit of household pipe",
        "bundle too thick",
        "bare power terminals",
        "wire with PVC insulation",
        "open circuit shows a reading",
        "line without its mark",
        "fuel that is shut too late",
        "nut that nothing locks",
    )
)
"""Kinds that are told as good practice or cannot be judged then: nothing is to be put right."""
NOT_NAMED = {
    "wrong loop resistance": "the spool is trimmed to the gauge as it is stated to be",
    "stud tied to nothing": "a strap from the engine case to the structure gives what returns there another way",
    "sources overloaded": "what a load draws is a fact; the protectors, wires and sources that it overloads are named",
}
"""Kinds whose first cause names another thing, and why."""
NOT_CURED = {
    "flammable fluid into the cabin": "a line with its fittings and its sender is not led back through the wall",
    "sources overloaded": "what a load draws is a fact",
    "resistance in a sense lead": "the resistance of a fuse is a fact where its part gives none",
    "point hotter than its zone": "which of two temperatures is right is not known",
    "breaker out in flight": "what is open at an operating point is a fact of that point",
    "ground on magnesium": "where else a stud can be set nobody can tell from the document",
    "strap of less than its wire": "what a strap resists is measured",
    "cylinders numbered from the other end": "which end an engine is numbered from is a fact",
    "required instrument called an extra": "which instrument is the required one stands in the papers",
    "gauge of something else": "what a sender is made for is a fact",
    "line that bursts below its rating": "what a line bursts at is a fact of its make",
    "gauges of two engines exchanged": "whether the gauges or their wires are exchanged is not known",
}
"""Kinds that no change is found for, and why."""
EACH = one_of_each_kind()


@pytest.mark.parametrize("harm", EACH, ids=lambda h: h.kind)
def test_the_first_cause_names_what_was_harmed_and_is_cured(harm: Harm) -> None:
    found = righted(harm)
    assert found.caught == (harm.kind not in ADVISED)
    if found.caught:
        assert found.named == (harm.kind not in NOT_NAMED), found.told
        assert found.cured == (harm.kind not in NOT_CURED), found.told


def test_most_kinds_are_named_and_cured() -> None:
    caught = [h.kind for h in EACH if h.kind not in ADVISED]
    assert sum(kind not in NOT_NAMED for kind in caught) >= 0.95 * len(caught)
    assert sum(kind not in NOT_CURED for kind in caught) >= 0.90 * len(caught)


@pytest.mark.parametrize(
    "pair", pairs("wren", 8, {*ADVISED, *NOT_CURED}), ids=lambda pair: f"{pair[0].kind} and {pair[1].kind}"
)
def test_two_harms_are_two_causes_and_cured(pair: tuple[Harm, Harm]) -> None:
    found = both_righted(*pair)
    assert found.causes == 2, found.told
    assert found.named, found.told
    assert found.cured, found.told


RELATED = (
    ("finch", "engine harness", "held by a fluid line", "supports too far apart"),
    ("osprey", "oil bulb", "bulb not in the fluid", "oil temperature taken elsewhere"),
    ("wren", "oil line", "line not made for the heat", "rigid line from engine to airframe"),
    ("osprey", "T1", "couple leads exchanged", "copper in place of couple metal"),
    ("osprey", "T1", "lead of another couple", "couple leads exchanged"),
    ("finch", "battery", "battery reversed", "battery of another voltage"),
    ("wren", "shunt", "shunt of another range", "wire left off"),
    ("teal", "oil pressure gauge", "wire left off", "return of a gauge left off"),
    ("wren", "B1", "battery reversed", "crowded bundle at full load"),
    ("wren", "H3", "load returned to the live side", "length ten times its route"),
)
"""Two harms to one thing, of which the one hides the other, or keeps its cure from being seen to hold."""


@pytest.mark.parametrize(("installation", "ident", "one", "other"), RELATED)
def test_two_harms_to_one_thing_are_both_cured(installation: str, ident: str, one: str, other: str) -> None:
    found = both_righted(done_to(installation, ident, one), done_to(installation, ident, other))
    assert found.named, found.told
    assert found.cured, found.told
