"""``add``: one more indication, written into a document."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from .console import console, fail, say, unless_failed
from .reading import find_document, load_document
from .revising import require_free, write_texts


def add(
    indication: Annotated[str, typer.Argument(help="what it is of: 'fuel flow', 'head temperature'")],
    file: Annotated[
        Path | None, typer.Argument(help="installation; the only one in this folder when left out")
    ] = None,
    out: Annotated[
        Path | None, typer.Option(help="file to write; without it the change is only shown")
    ] = None,
    engine: Annotated[str | None, typer.Option(help="engine it serves, where there are several")] = None,
    cylinder: Annotated[int | None, typer.Option(min=1, max=36, help="cylinder of a probe")] = None,
    force: Annotated[bool, typer.Option("--force", help="write over a file that is there")] = False,
) -> None:
    """Put one more indication into a document, with its wiring. Exit status: 2 if that cannot be done."""
    from .. import check as judge
    from ..document import DocumentError
    from ..document.revising import reread
    from ..document.rewriting import CannotWriteError, rewritten
    from ..outputs.terminal.added import print_added
    from ..starter.add import NoSpotError, added

    source = find_document(file)
    document = load_document(source)
    if out is not None:
        require_free(out, source, force=force)
    try:
        edit = added(document, indication.strip().lower(), engine, cylinder)
        texts = rewritten(document, edit)
        ledger = judge(reread(document, texts, out))
    except (NoSpotError, CannotWriteError) as bad:
        fail(str(bad))
    except DocumentError as bad:
        fail(f"it does not fit this document: {bad.problems[0]}")
    before = judge(document)
    print_added(before, ledger, edit, texts, str(out) if out is not None else None, console())
    if out is not None:
        write_texts(document, texts, out, force=force)
    else:
        say("nothing is written; name a file with --out", out=True)
    unless_failed(ledger)
