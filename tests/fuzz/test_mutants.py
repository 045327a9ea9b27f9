"""Whatever is made of an installation, every command answers it: a refusal with its place, or an answer, and nothing else.

A sample runs with every test run; ``INSTALLCHECK_MUTANTS=100000`` runs as many as it says.
"""

from __future__ import annotations

import json
import os
import tempfile
from collections.abc import Callable
from functools import cache
from io import StringIO
from pathlib import Path

import pytest
from installations import made_by_chance, read, text_of
from mutants import mutant
from rich.console import Console

from installcheck.analysis.study import Study
from installcheck.batch.record import record as checked_record
from installcheck.causes.causes import find_causes
from installcheck.causes.cure import cured
from installcheck.comparison.compare import compare_judged
from installcheck.document import Document, DocumentError, loads
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
from installcheck.rules.verdicts import Ledger
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


def _try(seed: int) -> str:
    """Put one mutant through reading, judging and one answer more; what became of it."""
    origin, plain = mutant(seed)
    try:
        document = loads(text_of(plain))
    except DocumentError as bad:
        problems = bad.problems
    else:
        problems = None
    if problems is not None:
        assert problems
        for problem in problems:
            assert problem.message
            assert problem.place.line >= 1
            assert problem.place.column >= 1
        return "refused"
    ledger = judge(Study(document))
    assert not ledger.failed, (origin, seed, ledger.failed)
    ANSWERS[seed % len(ANSWERS)](document, ledger)
    return "answered"


@pytest.mark.parametrize("lot", range(LOTS))
def test_every_mutant_is_refused_or_answered(lot: int) -> None:
    became = {"refused": 0, "answered": 0}
    for seed in range(lot, COUNT, LOTS):
        try:
            became[_try(seed)] += 1
        except Exception as fault:
            raise AssertionError(f"mutant {seed} ({mutant(seed)[0]})") from fault
    assert sum(became.values()) == len(range(lot, COUNT, LOTS))
    assert became["answered"], became
