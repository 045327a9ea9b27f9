"""``draw``: the sheets of an installation, its change, or its true against indicated temperatures."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from .console import fail, say, unless_failed
from .reading import load_document

if TYPE_CHECKING:
    from ..document import Document
    from ..drawing.kinds import Paper


def draw(
    file: Annotated[
        Path | None, typer.Argument(help="installation to draw; the only one in this folder when left out")
    ] = None,
    out: Annotated[Path, typer.Option(help="file to write; the ending picks svg, png, pdf or dot")] = Path(
        "diagram.svg"
    ),
    show: Annotated[
        list[str] | None,
        typer.Option(help="whole, power, indications, fluid, grounds or all; may be given again"),
    ] = None,
    letter: Annotated[bool, typer.Option("--letter", help="Letter paper in place of A4")] = False,
    plain: Annotated[bool, typer.Option("--plain", help="leave the verdicts out")] = False,
    truth: Annotated[
        bool, typer.Option("--truth", help="plot true against indicated temperatures instead")
    ] = False,
    since: Annotated[
        Path | None,
        typer.Option(help="installation before the change: draw what is new, gone and kept since then"),
    ] = None,
) -> None:
    """Draw an installation: zones, barriers, wires and lines, with the verdicts at their places."""
    from .. import check as judge
    from ..analysis.study import Study
    from ..causes.causes import find_causes
    from ..document.wording import unknown_word
    from ..drawing.kinds import Paper
    from ..files.writing import OutputError
    from ..outputs.diagram.change import sheets_of_change
    from ..outputs.diagram.sheets import Subject, sheets
    from ..outputs.diagram.write import FORMS, GRAPH, write_graph, write_sheets
    from ..outputs.pages import require_form

    known = [s.value for s in Subject]
    wanted = show or ["whole"]
    for word in wanted:
        if word not in (*known, "all"):
            fail(unknown_word(word, [*known, "all"], "set of sheets"))
    subjects = list(Subject) if "all" in wanted else [Subject(w) for w in wanted]
    document = load_document(file)
    paper = Paper.LETTER if letter else Paper.A4
    if truth:
        _plot_truth(document, out, paper)
        return
    try:
        if require_form(out, FORMS) == GRAPH:
            for name in write_graph(Study(document), out):
                say(str(name), out=True)
            return
        ledger = None if plain else judge(document)
        causes = find_causes(ledger) if ledger is not None else None
        if since is not None:
            made = sheets_of_change(load_document(since), document, ledger, paper, causes)
        else:
            made = sheets(document, ledger, subjects, paper, causes)
        for name in write_sheets(made, out):
            say(str(name), out=True)
        if ledger is not None:
            unless_failed(ledger)
    except OutputError as bad:
        fail(str(bad))


def _plot_truth(document: Document, out: Path, paper: Paper) -> None:
    from ..analysis.errors.truth_curves import truth_curves
    from ..analysis.study import Study
    from ..files.writing import OutputError
    from ..outputs.pages import require_form, write_pages
    from ..outputs.plots.truth import truth_pages

    try:
        require_form(out)
        curves = truth_curves(Study(document))
        if not curves:
            fail("the document holds no temperature indication with a scale")
        for name in write_pages(truth_pages(curves, document.installation.installation.name, paper), out):
            say(str(name), out=True)
    except OutputError as bad:
        fail(str(bad))
