"""Records with verdicts of every outcome, made by hand so that they do not follow the rules' wording."""

from pathlib import Path

import pytest

from installcheck.batch.record import Checked, Unreadable
from installcheck.document import Place, Problem
from installcheck.rules.verdicts import Outcome, Tally, Verdict

HOSTILE = '"><script>alert(1)</script> \x07 & ]]> \U0001f525'


@pytest.fixture
def checked() -> Checked:
    path = ("wire_runs", "W1", "mark_spacing")
    verdicts = [
        Verdict(
            Outcome.DISCREPANCY,
            ("W1",),
            path,
            "run W1 is marked every 20 in, and 15 in is the most",
            value=20.0,
            limit=15.0,
            margin=-5.0,
            unit="in",
            remedy="add marks",
            source="AC 43.13-1B 11-208",
            rule="run-marked",
        ),
        Verdict(Outcome.DISCREPANCY, ("W1",), path, HOSTILE, source="physics", rule="run-marked"),
        Verdict(Outcome.ADVISORY, ("W2",), ("wire_runs", "W2"), "slack is short", rule="run-marked"),
        Verdict(
            Outcome.UNDETERMINED,
            ("W3",),
            ("wire_runs", "W3"),
            "W3: cannot be judged without the marking of the run",
            missing=("marking of the run",),
            rule="run-marked",
        ),
        Verdict(
            Outcome.ACCEPTED,
            ("W4",),
            ("wire_runs", "W4", "marked"),
            "run W4 carries no mark",
            deviation="accepted by A. Inspector on drawing 12, until 2031-01-01",
            rule="run-marked",
        ),
        Verdict(Outcome.MEETS, ("W5",), ("wire_runs", "W5"), "run W5 is marked", rule="run-marked"),
    ]
    counts = {
        Outcome.MEETS: 1,
        Outcome.DISCREPANCY: 2,
        Outcome.ADVISORY: 1,
        Outcome.UNDETERMINED: 1,
        Outcome.ACCEPTED: 1,
    }
    return Checked(
        "my plane/retrofit.yaml",
        "oil temperature retrofit",
        "B",
        None,
        "ab" * 32,
        (("my plane/retrofit.yaml", "cd" * 32),),
        counts,
        {"run-marked": Tally(5, 1, 2, 1, 1, 1, 0)},
        (),
        tuple((v, Place("my plane/retrofit.yaml", 10 + i, 5)) for i, v in enumerate(verdicts)),
    )


@pytest.fixture
def unreadable() -> Unreadable:
    problem = Problem(Place("broken.yaml", 3, 1), "'zonez' is not a section; did you mean 'zones'?", "zonez")
    return Unreadable("broken.yaml", (problem,))


@pytest.fixture(scope="session")
def demo_folder() -> Path:
    """The folder of demonstration installations."""
    return Path(__file__).parents[2] / "demo_aircraft"
