"""Whatever is made of an installation, every command answers it: a refusal with its place, or an answer, and nothing else; and
told otherwise it is answered alike, as long as it can be read.

A sample runs with every test run; ``INSTALLCHECK_MUTANTS=100000`` runs as many as it says.
"""

from __future__ import annotations

import json
import os
import random
import tempfile
from collections.abc import Callable, Sequence
from functools import cache
from io import StringIO
from pathlib import Path
from typing import Any

import pytest
import same_again as told
from installations import made_by_chance, read, text_of
from mutants import Plain, mutant
from rich.console import Console

from installcheck.analysis.study import Study
from installcheck.batch.record import record as checked_record
from installcheck.causes.causes import find_causes
from installcheck.causes.cure import cured
from installcheck.comparison.compare import compare_judged
from installcheck.document import Document, DocumentError, loads
from installcheck.document.places import Problem
from installcheck.faults.play import play, usual_point
from installcheck.outputs.diagram.dot import graph_dot
from installcheck.outputs.diagram.sheets import Subject, sheets
from installcheck.outputs.diagram.write import write_sheets
from installcheck.outputs.machine.compare_json import comparison_as_json
from installcheck.outputs.machine.faults_json import faults_as_json
from installcheck.outputs.machine.junit import as_junit
from installcheck.outputs.machine.sarif import as_sarif
from installcheck.outputs.machine.tables import as_csv, as_xlsx
from installcheck.outputs.machine.verdicts_json import as_json
from installcheck.outputs.report.files import as_html
from installcheck.outputs.report.record import record
from installcheck.outputs.terminal.verdicts import print_check
from installcheck.papers import PAPERS, paper
from installcheck.rules.engine import judge
from installcheck.rules.verdicts import Ledger, Verdict
from installcheck.sizing.size import size

COUNT = int(os.environ.get("INSTALLCHECK_MUTANTS", "500"))
LOTS = 10


@cache
def _original() -> Ledger:
    return judge(Study(read(made_by_chance(1))))


def _terminal(document: Document, ledger: Ledger) -> None:
    print_check(find_causes(ledger), Console(file=StringIO(), width=100))


def _json(document: Document, ledger: Ledger) -> None:
    json.loads(as_json(ledger))


def _machine(document: Document, ledger: Ledger) -> None:
    told = [checked_record(ledger)]
    json.loads(as_sarif(told))
    assert as_junit(told)


def _drawing(document: Document, ledger: Ledger) -> None:
    with tempfile.TemporaryDirectory() as folder:
        assert write_sheets(sheets(document, ledger, list(Subject)), Path(folder) / "out.svg")
    assert graph_dot(ledger.study)


def _papers(document: Document, ledger: Ledger) -> None:
    tables = [paper(word, ledger) for word in PAPERS]
    assert [as_csv(table) for table in tables]
    assert as_xlsx(document, tables)


def _record(document: Document, ledger: Ledger) -> None:
    assert as_html(record(ledger))


def _faults(document: Document, ledger: Ledger) -> None:
    study = Study(document)
    point = usual_point(study)
    json.loads(faults_as_json(document, point.name, play(study, point)))


def _comparison(document: Document, ledger: Ledger) -> None:
    json.loads(comparison_as_json(compare_judged(_original(), ledger)))
    json.loads(comparison_as_json(compare_judged(ledger, _original())))


def _sizing(document: Document, ledger: Ledger) -> None:
    size(document)


def _cures(document: Document, ledger: Ledger) -> None:
    found = find_causes(ledger)
    if any(cause.writable for cause in found.causes):
        assert cured(found, [], []).revision.texts


ANSWERS: tuple[Callable[[Document, Ledger], None], ...] = (
    _terminal, _json, _machine, _drawing, _papers, _record, _faults, _comparison, _sizing, _cures,
)  # fmt: skip


def _order(plain: Plain, found: list[Verdict], chance: random.Random) -> None:
    told.assert_alike(told.figures(told.judged(told.reordered(plain, chance))), told.figures(found))


def _units(plain: Plain, found: list[Verdict], chance: random.Random) -> None:
    assert told.verdicts(told.judged(told.in_other_units(plain))) == told.verdicts(found)


def _names(plain: Plain, found: list[Verdict], chance: random.Random) -> None:
    called = told.new_names(plain)
    assert told.verdicts(told.judged(told.renamed(plain, called))) == told.verdicts(found, called=called)


def _steps(plain: Plain, found: list[Verdict], chance: random.Random) -> None:
    assert told.verdicts(told.judged(told.with_split_routes(plain))) == told.verdicts(found)


def _lonely(plain: Plain, found: list[Verdict], chance: random.Random) -> None:
    more, lonely = told.with_lonely_things(plain)
    assert told.verdicts(told.judged(more), without=lonely) == told.verdicts(found)


def _removed(plain: Plain, found: list[Verdict], chance: random.Random) -> None:
    marked, deleted, gone = told.with_things_taken_out(plain, chance)
    assert _of_what_stays(marked, gone) == _of_what_stays(deleted, gone)


def _of_what_stays(plain: Plain, gone: set[str]) -> list[Any]:
    return [v for v in told.verdicts(told.judged(plain), without=gone) if v[0] not in told.TELLS_OF_REMOVED]


WAYS = (_order, _units, _names, _steps, _lonely, _removed)


def _have_places(problems: Sequence[Problem]) -> None:
    assert problems
    for problem in problems:
        assert problem.message
        assert problem.place.line >= 1
        assert problem.place.column >= 1


class Lot:
    """Some of the mutants: each is read and judged once for all that is tried of it."""

    def __init__(self, number: int) -> None:
        self.seeds = range(number, COUNT, LOTS)
        self._found: dict[int, list[Verdict] | None] = {}
        self._spoilt: dict[int, tuple[str, Plain]] = {}

    def spoilt(self, seed: int) -> tuple[str, Plain]:
        """A mutant and where it comes from; nobody changes it."""
        if seed not in self._spoilt:
            self._spoilt[seed] = mutant(seed)
        return self._spoilt[seed]

    def judged(self, seed: int) -> tuple[Document, Ledger] | None:
        """A mutant read and judged; ``None`` if it is refused, with places."""
        self._found[seed] = None
        try:
            document = loads(text_of(self.spoilt(seed)[1]))
        except DocumentError as bad:
            _have_places(bad.problems)
            return None
        ledger = judge(Study(document))
        self._found[seed] = ledger.verdicts
        return document, ledger

    def found(self, seed: int) -> list[Verdict] | None:
        """What is found of a mutant."""
        if seed not in self._found:
            self.judged(seed)
        return self._found[seed]


@pytest.fixture(scope="module", params=range(LOTS))
def lot(request: pytest.FixtureRequest) -> Lot:
    """One lot after another, with all that is tried of it."""
    return Lot(request.param)


def test_every_mutant_is_refused_or_answered(lot: Lot) -> None:
    answered = 0
    for seed in lot.seeds:
        try:
            judged = lot.judged(seed)
            if judged is not None:
                document, ledger = judged
                assert not ledger.failed, ledger.failed
                ANSWERS[seed % len(ANSWERS)](document, ledger)
                answered += 1
        except Exception as fault:
            raise AssertionError(f"mutant {seed} ({lot.spoilt(seed)[0]})") from fault
    assert answered


def test_a_mutant_told_otherwise_has_the_same_verdicts(lot: Lot) -> None:
    tried = 0
    for seed in lot.seeds:
        found = lot.found(seed)
        if found is None:
            continue
        tried += 1
        origin, plain = lot.spoilt(seed)
        way = WAYS[seed % len(WAYS)]
        try:
            way(plain, found, random.Random(seed))
        except Exception as fault:
            raise AssertionError(f"mutant {seed} ({origin}){way.__name__}") from fault
    assert tried
