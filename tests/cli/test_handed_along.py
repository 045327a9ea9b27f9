"""What one command works out it works out once: a study for each document, a circuit for each operating point."""

from collections import Counter
from pathlib import Path

import pytest
from typer.testing import CliRunner

from installcheck.analysis.circuit import solved
from installcheck.analysis.study import Study
from installcheck.cli.commands import app
from installcheck.faults import play

DEMO = Path(__file__).parents[2] / "demo_aircraft"
CORRECTED = str(DEMO / "retrofit_corrected.yaml")
"""Nothing to put right: the search for causes, which tries changes, has nothing to do."""
AFTER, BEFORE = str(DEMO / "retrofit.yaml"), str(DEMO / "before.yaml")
JUDGED_AGAIN = 3
"""Studies more of the document before the change: it says that a spacing of marks is unknown, and is judged again with it
little, much and as it is left open."""
POINTS = 3
"""Operating points of each of the two documents: start, climb, cruise."""


@pytest.fixture
def run(monkeypatch, tmp_path):
    """Run a command; gives how often each document is studied, and each state of its circuit solved."""
    studies: Counter[str] = Counter()
    states: Counter[tuple[object, ...]] = Counter()
    whole_init, whole_solve = Study.__init__, solved.solve_circuit

    def init(self, document):
        studies[Path(document.name).name] += 1
        whole_init(self, document)

    def solve(study, point, dead=()):
        states[study.document.name, point.name, tuple(dead)] += 1
        return whole_solve(study, point, dead)

    monkeypatch.setattr(Study, "__init__", init)
    monkeypatch.setattr(solved, "solve_circuit", solve)
    monkeypatch.setattr(play, "solve_circuit", solve)
    monkeypatch.chdir(tmp_path)

    def invoke(*words):
        result = CliRunner().invoke(app, list(words))
        assert result.exit_code in (0, 1), result.output
        return studies, states

    return invoke


@pytest.mark.parametrize(
    ("words", "documents", "circuits"),
    [
        (["check", CORRECTED], 1, POINTS),
        (["check", CORRECTED, "--form", "json"], 1, POINTS),
        (["check", CORRECTED, "--form", "sarif"], 1, POINTS),
        (["check", CORRECTED, "--scatter", "5"], 1, POINTS),
        (["draw", CORRECTED, "--show", "all"], 1, POINTS),
        (["draw", CORRECTED, "--since", BEFORE], 2, POINTS),
        (["lists", AFTER], 2, POINTS),
        (["compare", BEFORE, AFTER], 2, 2 * POINTS),
        (["compare", BEFORE, AFTER, "--form", "json"], 2, 2 * POINTS),
        # Beside both documents' points: the cruise without the battery, and without the alternator.
        (["report", CORRECTED], 2, 2 * POINTS + 2),
    ],
    ids=lambda value: " ".join(Path(w).name for w in value) if isinstance(value, list) else None,
)
def test_nothing_is_worked_out_twice(run, words, documents, circuits):
    studies, states = run(*words)
    again = {"before.yaml": JUDGED_AGAIN} if words[0] in ("compare", "report") else {}
    assert len(studies) == documents
    assert all(n == 1 + again.get(name, 0) for name, n in studies.items())
    assert len(states) == circuits
    assert all(n <= 1 + again.get(Path(str(name)).name, 0) for (name, *_), n in states.items())
