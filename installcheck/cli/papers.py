"""``lists`` and ``report``: the papers of an installation and its review record."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from .console import console, fail, say, unless_failed
from .reading import load_document


def lists(
    file: Annotated[
        Path | None, typer.Argument(help="installation to list; the only one in this folder when left out")
    ] = None,
    paper: Annotated[
        list[str] | None,
        typer.Option(
            help="wires, cut, parts, fluid, labels, ring-out, function, loads, load-change or weight; all when left out"
        ),
    ] = None,
    out: Annotated[
        Path | None,
        typer.Option(
            help="file to write: .xlsx holds all, .csv one file a paper; the terminal when left out"
        ),
    ] = None,
) -> None:
    """Make the papers: wire list, cut list, parts list, fluid lines, labels, ring-out and function sheets, loads, weight change."""
    from .. import check as judge
    from ..document.wording import unknown_word
    from ..files.writing import OutputError, write_whole
    from ..outputs.machine.tables import as_csv, as_xlsx
    from ..outputs.terminal.tables import print_table
    from ..papers import PAPERS
    from ..papers import paper as made

    for word in paper or ():
        if word not in PAPERS:
            fail(unknown_word(word, PAPERS, "paper"))
    document = load_document(file)
    ledger = judge(document)
    tables = {word: made(word, ledger) for word in paper or PAPERS}
    try:
        if out is None:
            for table in tables.values():
                print_table(table, console())
        elif out.suffix.lower() == ".xlsx":
            write_whole(out, as_xlsx(document, list(tables.values())))
            say(str(out), out=True)
        elif out.suffix.lower() == ".csv":
            for word, table in tables.items():
                name = out if len(tables) == 1 else out.with_name(f"{out.stem}-{word}.csv")
                write_whole(name, as_csv(table))
                say(str(name), out=True)
        else:
            fail(f"'{out}' must end in .xlsx or .csv")
    except OutputError as bad:
        fail(str(bad))
    unless_failed(ledger)


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
    from ..drawing.kinds import Paper
    from ..files.writing import OutputError, write_whole
    from ..outputs.pages import require_form
    from ..outputs.report.files import as_html, as_pdf
    from ..outputs.report.record import record

    try:
        form = require_form(out, (".html", ".pdf"))
    except OutputError as bad:
        fail(str(bad))
    document = load_document(file)
    try:
        ledger = judge(document)
        made = record(ledger, Paper.LETTER if letter else Paper.A4)
        write_whole(out, as_pdf(made) if form == ".pdf" else as_html(made).encode(errors="replace"))
    except OutputError as bad:
        fail(str(bad))
    say(str(out), out=True)
    unless_failed(ledger)
