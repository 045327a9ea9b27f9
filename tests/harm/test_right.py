"""Right installations: nothing in them is a discrepancy, and every advisory is one that is explained."""

import pytest
from harm import INSTALLATIONS, right
from installations import read
from rights import RIGHTS

from installcheck import check
from installcheck.rules.verdicts import Outcome

EXPLAINED = {
    "terminals-connected": "a breaker kept for later use has no wire",
    "run-marked": "existing wiring without marks is marked when it is next worked on",
    "scale-resolution": "dials of the usual division leave less than two of them between the green arc and the red line",
    "red-line-place": "a dial of a standard range sets the red line where it falls",
    "single-part-takes-out": "one harness, one ground and one monitor serve every indication: so it is in most light aircraft",
    "protector-takes-out": "one breaker feeds the one monitor",
    "fluid-into-cabin": "an existing restricted line is an inspection item; a manifold line at suction is told of",
    "oil-gauge-cold": "oil of this grade does not flow in a gauge line at the lowest temperature",
    "sender-mounting": "a light switch on a tee at the engine, whose mass is not told",
    "light-beside-heavy": "feeders and instrument wires share the panel harness of the twin",
    "sensing-apart": "feeders and signal wires share the panel harness of the twin",
    "true-at-the-limit": "the tolerance of a sender of 5 percent takes what flight leaves at the lowest pressure",
}
"""Advisories of the bases, by rule, with what makes them right to tell."""


def judge(plain):
    """Nothing is a discrepancy, and no advisory is one that is not explained."""
    verdicts = check(read(plain)).verdicts
    assert [(v.rule, v.at, v.message) for v in verdicts if v.outcome is Outcome.DISCREPANCY] == []
    assert {v.rule for v in verdicts if v.outcome is Outcome.ADVISORY} <= set(EXPLAINED)


@pytest.mark.parametrize("name", INSTALLATIONS)
def test_a_right_installation_is_not_accused(name):
    judge(right(name))


@pytest.mark.parametrize("one", RIGHTS, ids=lambda r: r.name)
def test_what_is_unusual_and_right_is_not_accused(one):
    judge(one.made())


def test_enough_right_installations_are_tried():
    assert len(INSTALLATIONS) + len(RIGHTS) >= 40
    assert len({r.name for r in RIGHTS}) == len(RIGHTS)
