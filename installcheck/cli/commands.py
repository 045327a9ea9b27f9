"""The command line: a thin layer over the functions of the package."""

from __future__ import annotations

import gc
import sys
from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, NoReturn

import typer

if TYPE_CHECKING:
    from rich.console import Console

    from ..batch.record import Record
    from ..document import Document

app = typer.Typer(
    add_completion=False,
    no_args_is_help=True,
    pretty_exceptions_enable=False,
    help="Checks a description of an aircraft engine-instrument installation, draws it and makes its papers.",
)
READ_FAILED = 2


def _console(*, stderr: bool = False) -> Console:
    from rich.console import Console

    stream = sys.stderr if stderr else sys.stdout
    plain = not stream.isatty()
    return Console(
        file=stream, width=110 if plain else None, highlight=False, no_color=plain or None, soft_wrap=False
    )


def _fail(message: str) -> NoReturn:
    print(f"installcheck: {message}", file=sys.stderr)
    raise typer.Exit(READ_FAILED)


def _asks() -> bool:
    return sys.stdin.isatty()


def _find(file: Path | None) -> Path:
    """The file named, or the only installation in this folder."""
    if file is not None:
        return file
    here = [
        p
        for p in sorted(Path().glob("*.y*ml"))
        if "installation:" in p.read_text(encoding="utf-8", errors="replace")
    ]
    if len(here) == 1:
        return here[0]
    if not here:
        _fail("there is no installation in this folder; name a file, or write one with 'installcheck new'")
    _fail(f"there are several installations here, name one: {', '.join(str(p) for p in here)}")


def _load(file: Path | None) -> Document:
    from ..document import DocumentError, load

    try:
        return load(_find(file))
    except DocumentError as bad:
        from ..outputs.terminal.verdicts import print_problems

        console = _console(stderr=True)
        print_problems(bad.problems, console)
        n = len(bad.problems)
        print(f"{n} problem{'s' if n != 1 else ''}: the document cannot be read", file=sys.stderr)
        raise typer.Exit(READ_FAILED) from None


class Form(StrEnum):
    """How verdicts are printed."""

    TEXT = "text"
    JSON = "json"
    SARIF = "sarif"
    JUNIT = "junit"


class CompareForm(StrEnum):
    """How a comparison is printed."""

    TEXT = "text"
    JSON = "json"


@app.command()
def check(
    files: Annotated[
        list[Path] | None,
        typer.Argument(help="installations, or folders of them; the only one in this folder when left out"),
    ] = None,
    form: Annotated[
        Form, typer.Option(help="text for a person; json, sarif or junit for a machine")
    ] = Form.TEXT,
    every: Annotated[
        bool, typer.Option("--every", help="list what meets as well, and the coverage of every rule")
    ] = False,
    measured: Annotated[
        Path | None,
        typer.Option(help="a ring-out sheet filled in, .csv or .xlsx, to judge with one installation"),
    ] = None,
    at: Annotated[
        str | None, typer.Option(help="temperature of the wiring when that sheet was filled: '68 degF'")
    ] = None,
    scatter: Annotated[
        int | None, typer.Option(min=1, max=1_000_000, help="trials of how each error scatters, in text form")
    ] = None,
) -> None:
    """Judge installations. Exit status: 0 no discrepancy, 1 discrepancies, 2 a document cannot be read."""
    if measured is not None:
        _check_measured(files or [], measured, at, form, every=every)
    if at is not None:
        _fail(
            "'--at' is the temperature at which the sheet of '--measured' was filled; name that sheet as well"
        )
    if form is not Form.TEXT or (files and (len(files) > 1 or files[0].is_dir())):
        _check_many(files or [_find(None)], form, every=every)
    from .. import check as judge
    from ..outputs.terminal.verdicts import print_ledger
    from ..rules.verdicts import Outcome

    document = _load(files[0] if files else None)
    ledger = judge(document)
    print_ledger(document, ledger, _console(), every=every)
    if scatter is not None:
        from ..analysis.errors.indicated import all_budgets
        from ..analysis.study import Study
        from ..outputs.terminal.scatter import print_scatter

        print_scatter(all_budgets(Study(document)), scatter, _console())
    raise typer.Exit(1 if ledger.count(Outcome.DISCREPANCY) else 0)


def _check_measured(files: list[Path], sheet: Path, at: str | None, form: Form, *, every: bool) -> NoReturn:
    from .. import check as judge
    from ..batch.record import record
    from ..model.quantities import QuantityError, parse
    from ..outputs.terminal.verdicts import print_ledger
    from ..papers.read_back import ReadBackError, read_back, with_measured
    from ..rules.verdicts import Outcome

    if len(files) > 1 or (files and files[0].is_dir()):
        _fail("'--measured' belongs to one installation: name that file alone")
    document = _load(files[0] if files else None)
    try:
        warmth = parse(at, "temperature") if at is not None else None
        filled = read_back(sheet)
        document = with_measured(document, filled, warmth)
    except QuantityError as bad:
        _fail(f"--at: {bad}")
    except ReadBackError as bad:
        for problem in bad.problems:
            print(f"{sheet}: {problem}", file=sys.stderr)
        raise typer.Exit(READ_FAILED) from None
    if not filled:
        _fail(f"'{sheet}' holds no reading: its column 'measured [ohm]' is blank")
    ledger = judge(document)
    if form is Form.TEXT:
        print_ledger(document, ledger, _console(), every=every)
    else:
        sys.stdout.write(_for_machines([record(document, ledger)], form, single=True, every=every))
    raise typer.Exit(1 if ledger.count(Outcome.DISCREPANCY) else 0)


def _check_many(paths: list[Path], form: Form, *, every: bool) -> NoReturn:
    from ..batch.many import check_many, find_installations
    from ..batch.record import Unreadable, exit_status
    from ..outputs.terminal.many import print_many, progress
    from ..outputs.terminal.verdicts import print_problems

    files, closed = find_installations(paths)
    if not files and not closed:
        _fail(f"there is no installation in {', '.join(str(p) for p in paths)}")
    errors = _console(stderr=True)
    with progress(len(files), errors) as done:
        records = [*check_many(files, counts_only=form is Form.TEXT, done=done), *closed]
    if form is Form.TEXT:
        print_many(records, _console(), errors)
    else:
        sys.stdout.write(_for_machines(records, form, single=len(paths) == 1 and files == paths, every=every))
        for one in records:
            if isinstance(one, Unreadable):
                print_problems(one.problems, errors)
    raise typer.Exit(exit_status(records))


def _for_machines(records: list[Record], form: Form, *, single: bool, every: bool) -> str:
    if form is Form.SARIF:
        from ..outputs.machine.sarif import as_sarif

        return as_sarif(records, every=every)
    if form is Form.JUNIT:
        from ..outputs.machine.junit import as_junit

        return as_junit(records)
    from ..outputs.machine.verdicts_json import many_as_json

    return many_as_json(records, single=single)


@app.command()
def draw(
    file: Annotated[
        Path | None, typer.Argument(help="installation to draw; the only one in this folder when left out")
    ] = None,
    out: Annotated[Path, typer.Option(help="file to write; the ending picks svg, png, pdf or dot")] = Path(
        "diagram.svg"
    ),
    show: Annotated[
        list[str] | None,
        typer.Option(help="whole, indications, power, fluid, grounds or all; may be given again"),
    ] = None,
    letter: Annotated[bool, typer.Option("--letter", help="Letter paper in place of A4")] = False,
    plain: Annotated[bool, typer.Option("--plain", help="leave the verdicts out")] = False,
    truth: Annotated[
        bool, typer.Option("--truth", help="plot true against indicated temperatures instead (svg)")
    ] = False,
    since: Annotated[
        Path | None,
        typer.Option(help="installation before the change: draw what is new, gone and kept since then"),
    ] = None,
) -> None:
    """Draw an installation: zones, barriers, wires and lines, with the verdicts at their places."""
    from .. import check as judge
    from ..document.wording import unknown_word
    from ..drawing.sheet import Paper
    from ..outputs.diagram.change import sheets_of_change
    from ..outputs.diagram.sheets import Subject, sheets
    from ..outputs.diagram.write import write_sheets
    from ..outputs.files import OutputError

    known = [s.value for s in Subject]
    wanted = show or ["whole"]
    for word in wanted:
        if word not in (*known, "all"):
            _fail(unknown_word(word, [*known, "all"], "set of sheets"))
    subjects = list(Subject) if "all" in wanted else [Subject(w) for w in wanted]
    document = _load(file)
    if truth:
        _plot_truth(document, out)
        return
    ledger = None if plain else judge(document)
    paper = Paper.LETTER if letter else Paper.A4
    try:
        if since is not None:
            made = sheets_of_change(_load(since), document, ledger, paper)
        else:
            made = sheets(document, ledger, subjects, paper)
        for name in write_sheets(made, out):
            print(name)
    except OutputError as bad:
        _fail(str(bad))


def _plot_truth(document: Document, out: Path) -> None:
    from ..analysis.errors.truth_curves import truth_curves
    from ..analysis.study import Study
    from ..outputs.files import OutputError, write_whole
    from ..outputs.plots.truth import truth_svg

    if out.suffix.lower() != ".svg":
        _fail(f"'{out}' must end in .svg: the plot comes in that form alone")
    curves = truth_curves(Study(document))
    if not curves:
        _fail("the document holds no temperature indication with a scale")
    try:
        write_whole(out, truth_svg(curves, document.installation.installation.name).encode())
    except OutputError as bad:
        _fail(str(bad))
    print(out)


@app.command()
def lists(
    file: Annotated[
        Path | None, typer.Argument(help="installation to list; the only one in this folder when left out")
    ] = None,
    paper: Annotated[
        list[str] | None,
        typer.Option(
            help="wires, cut, parts, fluid, labels, ring-out, loads, load-change or weight; all when left out"
        ),
    ] = None,
    out: Annotated[
        Path | None,
        typer.Option(
            help="file to write: .xlsx holds all, .csv one file a paper; the terminal when left out"
        ),
    ] = None,
) -> None:
    """Make the papers: wire list, cut list, parts list, fluid lines, labels, ring-out sheet, load table, weight change."""
    from ..analysis.study import Study
    from ..document.wording import unknown_word
    from ..outputs.files import OutputError, write_whole
    from ..outputs.machine.tables import as_csv, as_xlsx, print_table
    from ..papers import PAPERS

    for word in paper or ():
        if word not in PAPERS:
            _fail(unknown_word(word, PAPERS, "paper"))
    document = _load(file)
    study = Study(document)
    tables = {word: PAPERS[word](study) for word in paper or PAPERS}
    try:
        if out is None:
            for table in tables.values():
                print_table(table, _console())
        elif out.suffix.lower() == ".xlsx":
            write_whole(out, as_xlsx(document, list(tables.values())))
            print(out)
        elif out.suffix.lower() == ".csv":
            for word, table in tables.items():
                name = out if len(tables) == 1 else out.with_name(f"{out.stem}-{word}.csv")
                write_whole(name, as_csv(table))
                print(name)
        else:
            _fail(f"'{out}' must end in .xlsx or .csv")
    except OutputError as bad:
        _fail(str(bad))


@app.command()
def compare(
    old: Annotated[Path, typer.Argument(help="installation before the change")],
    new: Annotated[Path, typer.Argument(help="installation after it")],
    form: Annotated[
        CompareForm, typer.Option(help="text for a person, json for a machine")
    ] = CompareForm.TEXT,
    every: Annotated[
        bool, typer.Option("--every", help="add what was only reworded, and verdicts that meet")
    ] = False,
) -> None:
    """Say what an alteration changes. Exit status: 1 if a discrepancy is new or worse, 2 if a document cannot be read."""
    from ..comparison import compare as compared

    found = compared(_load(old), _load(new))
    if form is CompareForm.JSON:
        from ..outputs.machine.compare_json import comparison_as_json

        sys.stdout.write(comparison_as_json(found))
    else:
        from ..outputs.terminal.compare import print_comparison

        print_comparison(found, _console(), every=every)
    raise typer.Exit(int(found.alarming))


@app.command()
def faults(
    file: Annotated[
        Path | None, typer.Argument(help="installation; the only one in this folder when left out")
    ] = None,
    point: Annotated[
        str | None, typer.Option(help="operating point they are played at; the cruise when left out")
    ] = None,
    form: Annotated[
        CompareForm, typer.Option(help="text for a person, json for a machine")
    ] = CompareForm.TEXT,
    every: Annotated[
        bool, typer.Option("--every", help="list faults that no indication shows as well")
    ] = False,
) -> None:
    """Play every single fault and say what it does to each indication. Exit status: 2 if the document cannot be read."""
    from ..analysis.study import Study
    from ..document.wording import unknown_word
    from ..faults.play import play, usual_point

    document = _load(file)
    study = Study(document)
    named = {p.name: p for p in study.points}
    if point is not None and point not in named:
        _fail(unknown_word(point, named, "operating point"))
    where = named[point] if point is not None else usual_point(study)
    played = play(study, where)
    if form is CompareForm.JSON:
        from ..outputs.machine.faults_json import faults_as_json

        sys.stdout.write(faults_as_json(document, where.name, played))
    else:
        from ..outputs.terminal.faults import print_faults

        print_faults(document, where.name, played, _console(), every=every)


@app.command("size")
def size_(
    file: Annotated[
        Path | None, typer.Argument(help="installation; the only one in this folder when left out")
    ] = None,
    form: Annotated[
        CompareForm, typer.Option(help="text for a person, json for a machine")
    ] = CompareForm.TEXT,
) -> None:
    """Choose the lightest gauges and protectors no rule faults. Exit status: 1 if a fault is left that no size cures."""
    from ..sizing.size import size

    document = _load(file)
    sizing = size(document)
    if form is CompareForm.JSON:
        from ..outputs.machine.size_json import sizing_as_json

        sys.stdout.write(sizing_as_json(document, sizing))
    else:
        from ..outputs.terminal.size import print_sizing

        print_sizing(document, sizing, _console())
    raise typer.Exit(1 if sizing.unmet else 0)


@app.command()
def new(
    file: Annotated[Path, typer.Argument(help="file to write")] = Path("installation.yaml"),
    name: Annotated[str | None, typer.Option(help="name of the installation")] = None,
    indication: Annotated[
        list[str] | None, typer.Option(help="indication it holds; give it again for each one")
    ] = None,
    cylinders: Annotated[int | None, typer.Option(help="cylinders of the engine")] = None,
    layout: Annotated[str | None, typer.Option(help="opposed, inline, radial or vee")] = None,
    volts: Annotated[int | None, typer.Option(help="system voltage: 14 or 28")] = None,
    basis: Annotated[str | None, typer.Option(help="certification basis")] = None,
    force: Annotated[bool, typer.Option("--force", help="write over a file that is there")] = False,
) -> None:
    """Write a commented document to start from; what no option says is asked, or taken as usual when piped."""
    from ..outputs.files import OutputError, write_whole
    from ..starter.questions import wishes
    from ..starter.write import starter

    if file.exists() and not force:
        _fail(f"{file} is there already; name another file, or add --force to write over it")
    try:
        text = starter(wishes(name, indication, cylinders, layout, volts, basis, ask=_asks()), file.name)
        write_whole(file, text.encode())
    except (ValueError, OutputError) as bad:
        _fail(str(bad))
    print(f"wrote {file}; next: installcheck check {file}")


@app.command()
def report(
    file: Annotated[
        Path | None, typer.Argument(help="installation to review; the only one in this folder when left out")
    ] = None,
    out: Annotated[
        Path, typer.Option(help="file to write: .html needs nothing else, .pdf needs the pdf extra")
    ] = Path("review.html"),
    letter: Annotated[bool, typer.Option("--letter", help="Letter paper in place of A4")] = False,
) -> None:
    """Write the review record: verdicts, coverage, error by cause, sheets, lists, basis of each rule, lines to sign."""
    from .. import check as judge
    from ..drawing.sheet import Paper
    from ..outputs.files import OutputError, write_whole
    from ..outputs.report.files import as_html, as_pdf
    from ..outputs.report.record import record

    if out.suffix.lower() not in (".html", ".pdf"):
        _fail(f"'{out}' must end in .html or .pdf")
    document = _load(file)
    try:
        made = record(document, judge(document), Paper.LETTER if letter else Paper.A4)
        write_whole(out, as_pdf(made) if out.suffix.lower() == ".pdf" else as_html(made).encode())
    except OutputError as bad:
        _fail(str(bad))
    print(out)


class SurveyForm(StrEnum):
    """How a survey is printed."""

    TEXT = "text"
    JSON = "json"


@app.command()
def survey(
    log: Annotated[Path, typer.Argument(help="recorder log of a flight, as text")],
    cylinders: Annotated[int | None, typer.Option(help="cylinders of the engine")] = None,
    limit: Annotated[str | None, typer.Option(help="head temperature limit, like '500 degF'")] = None,
    probed: Annotated[int | None, typer.Option(help="cylinder the aircraft's own probe is on")] = None,
    grade: Annotated[
        str | None,
        typer.Option(help="grade of the survey's probes: standard, special, IEC class 1 or IEC class 2"),
    ] = None,
    thermocouple: Annotated[str, typer.Option(help="type of the survey's probes: J, K, E, T or N")] = "K",
    column: Annotated[
        list[str] | None, typer.Option(help="what a column is, like 'cht 1=TC-3'; may be given again")
    ] = None,
    unit: Annotated[
        list[str] | None,
        typer.Option(help="unit the log does not state, like 'cht=degF'; may be given again"),
    ] = None,
    engine: Annotated[int, typer.Option(help="which engine, in a log that holds several")] = 1,
    interval: Annotated[str | None, typer.Option(help="time between rows of a log without times")] = None,
    form: Annotated[SurveyForm, typer.Option(help="text for a person, json for a machine")] = SurveyForm.TEXT,
    out: Annotated[Path | None, typer.Option(help="svg file to draw the temperatures in")] = None,
) -> None:
    """Find the hottest cylinder in a flight log: by phase, by how much, and how sure. Exit status: 2 if it cannot be read."""
    from ..outputs.files import OutputError, write_whole
    from ..survey.request import SurveyError, survey_log

    if out is not None and out.suffix.lower() != ".svg":
        _fail(f"'{out}' must end in .svg")
    try:
        found = survey_log(
            log,
            cylinders=cylinders,
            limit=limit,
            probed=probed,
            grade=grade,
            thermocouple=thermocouple,
            columns=column or (),
            units=unit or (),
            engine=engine,
            interval=interval,
        )
        if out is not None:
            from ..outputs.plots.survey import survey_svg

            write_whole(out, survey_svg(found).encode())
    except (SurveyError, OutputError) as bad:
        _fail(str(bad))
    if form is SurveyForm.JSON:
        from ..outputs.machine.survey_json import survey_json

        sys.stdout.write(survey_json(found))
    else:
        from ..outputs.terminal.survey import print_survey

        print_survey(found, _console())
        if out is not None:
            print(out)


@app.command()
def basis(
    rule: Annotated[
        str | None, typer.Argument(help="rule to explain; all of them, one line each, when left out")
    ] = None,
    page: Annotated[bool, typer.Option("--page", help="all rules as one page of Markdown")] = False,
) -> None:
    """Why a rule exists, its source, its formula and a worked number."""
    from ..rules.engine import all_rules

    rules = all_rules()
    if page:
        from ..outputs.report.rules_page import rules_page

        sys.stdout.write(rules_page(rules.values()))
        return
    if rule is None:
        width = max(len(r) for r in rules)
        for ident, one in rules.items():
            print(f"{ident:<{width}}  {one.title}")
        return
    if rule not in rules:
        from ..document.wording import unknown_word

        _fail(unknown_word(rule, rules, "rule"))
    one = rules[rule]
    for label, text in (
        ("rule", one.id),
        ("asks", one.title),
        ("why", one.why),
        ("source", one.source),
        ("formula", one.formula),
        ("example", one.example),
    ):
        print(f"{label:>8}: {text}")


class Schema(StrEnum):
    """What a schema is of."""

    DOCUMENT = "document"
    PARTS = "parts"
    VERDICTS = "verdicts"


@app.command()
def schema(
    of: Annotated[
        Schema, typer.Option(help="the document, a part file, or the verdicts of --form json")
    ] = Schema.DOCUMENT,
) -> None:
    """Write a JSON Schema: an editor uses it to complete and check a document as it is written."""
    from ..outputs.machine.schemas import schema_text

    sys.stdout.write(schema_text(of.value))


def main() -> None:
    """Entry point of the ``installcheck`` command."""
    gc.set_threshold(200_000, 50, 50)  # a document is a million small objects, none of them garbage
    for stream in (sys.stdout, sys.stderr):
        reconfigure = getattr(stream, "reconfigure", None)
        if reconfigure is not None:
            reconfigure(encoding="utf-8", errors="replace")
    try:
        app()
    except BrokenPipeError:
        sys.stderr.close()
        raise SystemExit(1) from None
