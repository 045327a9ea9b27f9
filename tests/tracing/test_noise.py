"""A pointer that jumps while a load is on: what comes in by its leads is parted from what comes into the gauge itself."""

import pytest

from installcheck import load
from installcheck.analysis.study import Study
from installcheck.tracing.phrases import observed
from installcheck.tracing.trace import Tracer

CASES = {
    "couple": (
        "tests/tracing/reports/monitor.yaml",
        ["monitor CHT 2 is jumping at cruise with transmitter on", "monitor CHT 2 is right at cruise"],
        "with transmitter on with monitor.CHT 2 + joined to monitor.CHT 2 -",
        ("monitor CHT 2", "transmitter"),
        "shows 20 degC",
    ),
    "sender": (
        "tests/tracing/reports/oil.yaml",
        [
            "second oil gauge is jumping at cruise with landing light on",
            "second oil gauge is right at cruise",
        ],
        "with landing light on with second oil gauge.A lifted",
        ("second oil gauge", "landing light"),
        "shows 59 degF",
    ),
}


@pytest.mark.parametrize("case", CASES)
@pytest.mark.parametrize("jumps", [True, False])
def test_the_lead_taken_off_at_the_gauge_tells_how_the_noise_comes_in(case, jumps):
    document, told, done, at, steady = CASES[case]
    study = Study(load(document))
    tracer = Tracer(study)
    seen = [observed(study, line) for line in told]
    assert any("still jump" in choice.test.words for choice in tracer.step(seen).tests[:3])
    shown = "is jumping" if jumps else steady
    seen.append(observed(study, f"{at[0]} {shown} with engine off {done}"))
    first = tracer.step(seen).ranking.standing[0].hypothesis
    assert (first.kind, first.at) == ("noise with a load", (*at, "gauge") if jumps else at)
