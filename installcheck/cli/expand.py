"""``expand``: a document with everything it implies written out."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Annotated

import typer

from .console import fail, say
from .reading import load_document


def expand(
    file: Annotated[
        Path | None, typer.Argument(help="installation; the only one in this folder when left out")
    ] = None,
    out: Annotated[Path | None, typer.Option(help="file to write; printed when left out")] = None,
) -> None:
    """Write a document out in full: usual fields, lines, routes and terminations, each with where it was said."""
    from ..files.writing import OutputError, write_whole
    from ..outputs.machine.expanded import as_expanded

    text = as_expanded(load_document(file))
    if out is None:
        sys.stdout.write(text)
        return
    try:
        write_whole(out, text.encode())
    except OutputError as bad:
        fail(str(bad))
    say(f"wrote {out}", out=True)
