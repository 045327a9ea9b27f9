"""Public problem reports retold: the cause is among the first three before any test, and first once the answers are in."""

from functools import cache
from pathlib import Path

import pytest
import yaml

from installcheck import load
from installcheck.analysis.study import Study
from installcheck.tracing.phrases import observed
from installcheck.tracing.trace import Tracer

HERE = Path(__file__).parent / "reports"
REPORTS = yaml.load((HERE / "reports.yaml").read_text(), yaml.CSafeLoader)
RUN_DRY = "Engine stopped and not run"
STOPS_AN_ENGINE = ("broken at the fitting", "was low", "whatever the engine does")
"""Reports of an oil pressure that is low, or may be."""


@cache
def study_of(name: str) -> Study:
    return Study(load(HERE / name))


def place_of(step, kind: str, thing: str) -> int | None:
    """The place of a cause among what stands, those of equal share counted as one."""
    mine = [
        r.share
        for r in step.ranking.standing
        if r.hypothesis.kind == kind and any(at == thing for at in r.hypothesis.at)
    ]
    if not mine:
        return None
    return 1 + sum(r.share > max(mine) * 1.001 for r in step.ranking.standing)


@pytest.mark.parametrize("told", REPORTS, ids=lambda r: r["report"])
def test_a_report_is_traced_to_its_cause(told):
    study = study_of(told["document"])
    tracer = Tracer(study, altered=told.get("altered", ()))
    seen = [observed(study, line) for line in told["seen"]]
    before = tracer.step(seen)
    place = place_of(before, *told["cause"])
    assert place is not None
    assert place <= 3
    assert told.get("asks", "") in before.tests[0].test.words
    if any(words in told["report"] for words in STOPS_AN_ENGINE):
        assert RUN_DRY in before.dangers[0].text
    after = tracer.step(seen + [observed(study, line) for line in told["answers"]])
    assert place_of(after, *told["cause"]) == 1


def test_there_are_twenty_and_more_of_them():
    assert len(REPORTS) >= 20
    assert len({r["report"] for r in REPORTS}) == len(REPORTS)
