"""``trace``: what could be wrong with an indication, and the next best test."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from .console import READ_FAILED, PlainForm, console, fail, say
from .reading import load_document

if TYPE_CHECKING:
    from rich.console import Console

    from ..analysis.study import Study
    from ..tracing.looks import Observation
    from ..tracing.trace import Trace, Tracer
    from ..tracing.weights import Weights

_HELP_SEEN = (
    "something seen, in plain words, as often as needed: 'oil temperature gauge shows 150 degF at cruise', 'CHT reads 30 degF "
    "low', 'fuel pressure jumps with radios on', 'A to B measures 92 ohm'"
)


def trace(
    file: Annotated[
        Path | None, typer.Argument(help="installation; the only one in this folder when left out")
    ] = None,
    seen: Annotated[list[str] | None, typer.Option("--seen", help=_HELP_SEEN)] = None,
    record: Annotated[
        Path | None,
        typer.Option(
            help="text file of observations, one a line; what is seen and answered here is added to it"
        ),
    ] = None,
    altered: Annotated[
        list[str] | None, typer.Option(help="wire, plug or part that was altered last, by id")
    ] = None,
    weights: Annotated[
        Path | None, typer.Option(help="YAML file with figures of your own in place of the tool's judgement")
    ] = None,
    ask: Annotated[
        bool | None,
        typer.Option("--ask/--no-ask", help="ask for the result of each test; by itself on a terminal"),
    ] = None,
    form: Annotated[PlainForm, typer.Option(help="text for a person, json for a machine")] = PlainForm.TEXT,
    sheet: Annotated[
        Path | None, typer.Option(help="write a bench sheet of the tests: .html, or .pdf with the pdf extra")
    ] = None,
    every: Annotated[
        bool, typer.Option("--every", help="list every hypothesis, and why each excluded one is")
    ] = False,
) -> None:
    """Say what could be wrong, by what was seen, and the next best test. Exit status: 2 if something cannot be read."""
    from ..analysis.study import Study
    from ..tracing.trace import Tracer

    document = load_document(file)
    study = Study(document)
    found = _observations(study, seen or [], record)
    _check_altered(study, altered or [])
    tracer = Tracer(study, _weights(weights), altered or [])
    step = tracer.step(found)
    if form is PlainForm.JSON:
        from ..outputs.machine.trace_json import trace_as_json

        sys.stdout.write(trace_as_json(document, step, tracer.predictor))
    else:
        from ..outputs.terminal.trace import print_trace

        print_trace(document, step, tracer.predictor, console(), every=every)
        if ask if ask is not None else sys.stdin.isatty() and sys.stdout.isatty():
            step = _asked(tracer, step, record, console())
    if sheet is not None:
        _write_sheet(sheet, step, tracer)


def _observations(study: Study, seen: list[str], record: Path | None) -> list[Observation]:
    """What the document, the record and the command line tell; the record then holds what the command line told as well.

    Raises:
        Exit: a line of them cannot be read; what is wrong is printed, and where.
    """
    from ..outputs.terminal.verdicts import print_problems
    from ..tracing.phrases import observed, read_lines
    from ..tracing.pieces import PhraseError
    from ..tracing.written import written

    found, problems = written(study)
    wrong: list[str] = []
    lines: list[Observation] = []
    if record is not None and record.exists():
        lines, bad = read_lines(study, _lines_of(record))
        wrong += [f"{record}:{n}:{b.column}: {b.why}" for n, b in bad]
    more: list[Observation] = []
    for text in seen:
        try:
            one = observed(study, text)
            more += [one] if one not in lines else []
        except PhraseError as error:
            wrong.append(f"--seen, column {error.column}: {error.why}\n{error.pointed()}")
    if problems:
        print_problems(problems, console(stderr=True))
    for line in wrong:
        for part in line.split("\n"):
            say(part)
    if problems or wrong:
        raise SystemExit(READ_FAILED)
    if record is not None:
        for one in more:
            _add(record, one.said)
    return [*found, *lines, *more]


def _lines_of(record: Path) -> list[str]:
    from ..files.reading import UnreadableError, read_regular

    try:
        return read_regular(record, 1_000_000).decode("utf-8").splitlines()
    except UnreadableError as bad:
        fail(f"{record} {bad}")
    except UnicodeDecodeError:
        fail(f"{record} is not text in UTF-8")


def _check_altered(study: Study, altered: list[str]) -> None:
    from ..document.wording import unknown_word

    known = [
        *study.model.wire_runs,
        *study.model.fluid_lines,
        *study.model.bundles,
        *(i for _, i, _ in study.model.things()),
    ]
    for word in altered:
        if word not in known:
            fail(unknown_word(word, known, "thing in this document"))


def _weights(file: Path | None) -> Weights | None:
    from ..document.parsing import read_file
    from ..document.places import DocumentError
    from ..tracing.weights import WeightsError, read_weights

    if file is None:
        return None
    try:
        return read_weights(read_file(file))
    except (WeightsError, DocumentError) as bad:
        fail(str(bad))


def _asked(tracer: Tracer, step: Trace, record: Path | None, out: Console) -> Trace:
    """Ask for the result of each test in turn until nothing more is told."""
    from ..outputs.terminal.trace import print_seen, print_trace
    from ..tracing.phrases import answered
    from ..tracing.pieces import PhraseError

    if sys.stdin is None or sys.stdin.closed:
        say(
            "nothing can be asked: there is no input to read an answer from; tell it with --seen or in a record"
        )
        return step
    chosen = 0
    while chosen < len(step.tests):
        test = step.tests[chosen].test
        try:
            answer = input(
                "\nresult (a value with its unit, or a word; a number for another test; Enter ends): "
            ).strip()
        except EOFError:
            break
        except UnicodeDecodeError:
            say("that is not text in UTF-8")
            continue
        if not answer:
            break
        if answer.isdigit() and 1 <= int(answer) <= len(step.tests):
            from ..outputs.terminal.trace import print_test

            chosen = int(answer) - 1
            print_test(step, step.tests[chosen], out, f"TEST {answer}")
            continue
        try:
            found = answered(tracer.study, test.at, test.look, answer)
        except PhraseError as bad:
            for line in (*bad.pointed().split("\n"), bad.why):
                say(line)
            continue
        if record is not None:
            _add(record, found.said)
        step, chosen = tracer.step([*step.seen, found]), 0
        print_seen(step, out)
        print_trace(tracer.study.document, step, tracer.predictor, out)
    return step


def _add(record: Path, line: str) -> None:
    from ..files.writing import write_whole

    had = record.read_text(encoding="utf-8") if record.exists() else "# observations, one a line\n"
    ended = had if had.endswith("\n") or not had else f"{had}\n"
    write_whole(record, f"{ended}{line}\n".encode(), over=True)


def _write_sheet(sheet: Path, step: Trace, tracer: Tracer) -> None:
    from ..files.writing import OutputError, write_whole
    from ..outputs.report.bench_sheet import as_html, as_pdf, bench_sheet

    if sheet.suffix.lower() not in (".html", ".pdf"):
        fail(f"'{sheet}' must end in .html or .pdf")
    made = bench_sheet(step, tracer.predictor)
    try:
        write_whole(
            sheet, as_pdf(made) if sheet.suffix.lower() == ".pdf" else as_html(made).encode(errors="replace")
        )
    except OutputError as bad:
        fail(str(bad))
    say(str(sheet), out=True)
