"""``check``: one installation, many of them, or one with what was measured on it."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from .checking import Form, run_check


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
    watch: Annotated[
        bool,
        typer.Option(
            "--watch", help="judge again at each save and tell what has gone and come; Ctrl-C ends it"
        ),
    ] = False,
    measured: Annotated[
        Path | None,
        typer.Option(help="a ring-out sheet filled in, .csv or .xlsx, to judge with one installation"),
    ] = None,
    at: Annotated[
        str | None, typer.Option(help="temperature of the wiring when that sheet was filled: '68 degF'")
    ] = None,
    decisions: Annotated[
        Path | None,
        typer.Option(
            help="what a reviewer accepted in the review record, saved from its page, as deviations"
        ),
    ] = None,
    record: Annotated[
        Path | None,
        typer.Option(
            help="of many files: keep what came of each there; the same call goes on from it and judges again what has changed"
        ),
    ] = None,
    scatter: Annotated[
        int | None, typer.Option(min=1, max=1_000_000, help="trials of how each error scatters, in text form")
    ] = None,
) -> None:
    """Judge installations. Exit status: 0 no discrepancy, 1 discrepancies, 2 a document cannot be read, 3 the checker failed."""
    run_check(
        files or [],
        form,
        every=every,
        watch=watch,
        measured=measured,
        at=at,
        decisions=decisions,
        record=record,
        scatter=scatter,
    )
