"""The work of ``check``: one installation, many of them, or one with what was measured on it."""

from __future__ import annotations

import sys
from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING, NoReturn

from .console import READ_FAILED, console, fail, say, unless_failed
from .reading import find_document, load_document

if TYPE_CHECKING:
    from ..batch.record import Record
    from ..batch.resuming import Kept
    from ..causes.found import Causes
    from ..rules.verdicts import Ledger


class Form(StrEnum):
    """How verdicts are printed."""

    TEXT = "text"
    JSON = "json"
    SARIF = "sarif"
    JUNIT = "junit"


def run_check(
    files: list[Path],
    form: Form = Form.TEXT,
    *,
    every: bool = False,
    watch: bool = False,
    measured: Path | None = None,
    at: str | None = None,
    decisions: Path | None = None,
    record: Path | None = None,
    scatter: int | None = None,
) -> NoReturn:
    """Judge installations; the only one in this folder where none is named.

    Raises:
        SystemExit: always, with the status that the command documents.
    """
    many = bool(files and (len(files) > 1 or files[0].is_dir()))
    if record is not None and (form is not Form.TEXT or not many or watch):
        fail("'--record' is of many files or folders, in text form: name those")
    if watch:
        if form is not Form.TEXT or measured is not None or scatter is not None:
            fail(
                "'--watch' tells a person what each save changes: leave '--form', '--measured' and '--scatter' out"
            )
        _watch(files or [find_document(None)], every=every)
    if measured is not None:
        _check_measured(files, measured, at, form, every=every)
    if at is not None:
        fail(
            "'--at' is the temperature at which the sheet of '--measured' was filled; name that sheet as well"
        )
    if decisions is not None and (form is not Form.TEXT or many):
        fail("'--decisions' belongs to one installation, in text form: name that file alone")
    if form is not Form.TEXT or many:
        _check_many(files or [find_document(None)], form, every=every, record=record)
    from .. import check as judge
    from ..outputs.terminal.verdicts import print_check
    from ..rules.decisions import DecisionsError, read_decisions, with_decisions
    from ..rules.verdicts import Outcome

    document = load_document(files[0] if files else None)
    review = None
    if decisions is not None:
        try:
            review = read_decisions(decisions)
            document = with_decisions(document, review)
        except DecisionsError as bad:
            fail(str(bad))
    ledger = judge(document)
    print_check(_causes(ledger), console(), every=every)
    if review is not None:
        from ..outputs.terminal.review import print_review

        print_review(review, ledger, console())
    if scatter is not None:
        from ..analysis.errors.indicated import all_budgets
        from ..analysis.errors.scatter import scatter as scatter_of
        from ..outputs.terminal.scatter import print_scatter

        scattered = ((budget, scatter_of(budget, scatter)) for budget in all_budgets(ledger.study))
        print_scatter(scattered, scatter, console())
    unless_failed(ledger)
    raise SystemExit(1 if ledger.count(Outcome.DISCREPANCY) else 0)


def _causes(ledger: Ledger) -> Causes:
    """What is to be put right; the search for it is loaded only where there is something to look for."""
    from ..causes.found import nothing_to_find
    from ..rules.verdicts import Outcome

    if not ledger.count(Outcome.DISCREPANCY):
        return nothing_to_find(ledger)
    from ..causes.causes import find_causes

    return find_causes(ledger)


def _watch(files: list[Path], *, every: bool) -> NoReturn:
    from ..batch.watching import watch
    from ..outputs.terminal.verdicts import print_check
    from ..outputs.terminal.watch import print_change, print_refused

    for file in files:
        if not file.is_file():
            fail(f"'{file}' is no file; '--watch' follows the files named")
    for saved in watch(files):
        if saved.ledger is None:
            print_refused(str(saved.file), saved.problems, console())
        elif saved.before is None:
            print_check(_causes(saved.ledger), console(), every=every)
        else:
            print_change(str(saved.file), saved.before, saved.ledger, console())
        sys.stdout.flush()
    raise AssertionError("watching does not end by itself")


def _check_measured(files: list[Path], sheet: Path, at: str | None, form: Form, *, every: bool) -> NoReturn:
    from .. import check as judge
    from ..batch.record import record
    from ..model.quantities import QuantityError, parse
    from ..outputs.terminal.verdicts import print_check
    from ..papers.read_back import ReadBackError, read_back, with_measured
    from ..rules.verdicts import Outcome

    if len(files) > 1 or (files and files[0].is_dir()):
        fail("'--measured' belongs to one installation: name that file alone")
    document = load_document(files[0] if files else None)
    try:
        warmth = parse(at, "temperature") if at is not None else None
        filled = read_back(sheet)
        document = with_measured(document, filled, warmth)
    except QuantityError as bad:
        fail(f"--at: {bad}")
    except ReadBackError as bad:
        for problem in bad.problems:
            say(f"{sheet}: {problem}")
        raise SystemExit(READ_FAILED) from None
    if not filled:
        fail(f"'{sheet}' holds no reading: its column 'measured [ohm]' is blank")
    ledger = judge(document)
    if form is Form.TEXT:
        print_check(_causes(ledger), console(), every=every)
    else:
        sys.stdout.write(_for_machines([record(ledger, _causes(ledger))], form, single=True, every=every))
    unless_failed(ledger)
    raise SystemExit(1 if ledger.count(Outcome.DISCREPANCY) else 0)


def _check_many(paths: list[Path], form: Form, *, every: bool, record: Path | None) -> NoReturn:
    from ..batch.many import check_many, find_installations
    from ..batch.record import Unreadable, exit_status
    from ..batch.resuming import RecordError
    from ..outputs.terminal.many import print_many, progress
    from ..outputs.terminal.verdicts import print_problems

    files, closed = find_installations(paths)
    if not files and not closed:
        fail(f"there is no installation in {', '.join(str(p) for p in paths)}")
    errors = console(stderr=True)
    try:
        kept = None if record is None else _kept(record)
        with progress(len(files), errors) as done:
            records = [*check_many(files, counts_only=form is Form.TEXT, done=done, kept=kept), *closed]
    except RecordError as bad:
        fail(str(bad))
    if form is Form.TEXT:
        print_many(records, console(), errors)
    else:
        sys.stdout.write(_for_machines(records, form, single=len(paths) == 1 and files == paths, every=every))
        for one in records:
            if isinstance(one, Unreadable):
                print_problems(one.problems, errors)
    raise SystemExit(exit_status(records))


def _kept(path: Path) -> Kept:
    """What came of files before; what of it counts for nothing is told.

    Raises:
        RecordError: it is no record, or cannot be read or written.
    """
    from ..batch.resuming import Kept

    kept = Kept(path)
    if kept.other_checker:
        say(f"'{path}' was kept by another release of installcheck: every file is judged again")
    if kept.broken:
        lines = "1 line" if kept.broken == 1 else f"{kept.broken} lines"
        say(f"{lines} of '{path}' cannot be made out: what is not told of is judged again")
    return kept


def _for_machines(records: list[Record], form: Form, *, single: bool, every: bool) -> str:
    if form is Form.SARIF:
        from ..outputs.machine.sarif import as_sarif

        return as_sarif(records, every=every)
    if form is Form.JUNIT:
        from ..outputs.machine.junit import as_junit

        return as_junit(records)
    from ..outputs.machine.verdicts_json import many_as_json

    return many_as_json(records, single=single)
