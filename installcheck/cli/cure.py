"""``cure``: the cures that were tried, written into a copy of the text."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from .console import console, fail, say, unless_failed
from .reading import find_document, load_document
from .revising import require_free, write_texts

if TYPE_CHECKING:
    from ..document import Document


def cure(
    file: Annotated[
        Path | None, typer.Argument(help="installation; the only one in this folder when left out")
    ] = None,
    out: Annotated[
        Path | None, typer.Option(help="file to write; without it the change is only shown")
    ] = None,
    only: Annotated[
        str | None, typer.Option(help="numbers of the things to put right, as 'check' lists them: 3,5")
    ] = None,
    also: Annotated[
        list[Path] | None,
        typer.Option(help="included file that may be changed as well; give it again for each one"),
    ] = None,
    force: Annotated[bool, typer.Option("--force", help="write over files that are there")] = False,
) -> None:
    """Write tried cures into a copy of the text. Exit status: that of 'check' on it; 2 if nothing could be written."""
    from .. import check as judge
    from ..causes.causes import find_causes
    from ..causes.cure import NoSuchCureError, cured
    from ..document import DocumentError
    from ..outputs.terminal.cure import print_cured
    from ..rules.verdicts import Outcome

    source = find_document(file)
    document = load_document(source)
    chosen = _numbers(only)
    named = _included(document, also or [])
    if out is not None:
        require_free(out, source, force=force)
    ledger = judge(document)
    unless_failed(ledger)
    causes = find_causes(ledger)
    if not any(c.writable for c in causes.causes):
        n = ledger.count(Outcome.DISCREPANCY)
        say(
            f"{document.name}: " + ("no cure was found; see 'check'" if n else "there is nothing to cure"),
            out=True,
        )
        raise SystemExit(1 if n else 0)
    try:
        done = cured(causes, chosen, named, str(out) if out is not None else None)
    except NoSuchCureError as bad:
        fail(f"--only: {bad}")
    except DocumentError as bad:  # a text that was verified; nothing is written
        fail(f"what would be written cannot be read: {bad.problems[0]}")
    print_cured(done, str(out) if out is not None else None, console())
    if not done.revision.made:
        fail("no cure could be made in the files named: nothing is written")
    if out is not None:
        write_texts(document, done.revision.texts, out, force=force)
    else:
        say("nothing is written; name a file with --out", out=True)
    unless_failed(done.ledger)
    raise SystemExit(1 if done.left else 0)


def _numbers(only: str | None) -> list[int]:
    if only is None:
        return []
    words = [w.strip() for w in only.split(",") if w.strip()]
    if not words or not all(w.isascii() and w.isdigit() and len(w) < 7 for w in words):
        fail(f"--only: '{only}' is no list of numbers like 3,5")
    return [int(w) for w in words]


def _included(document: Document, also: list[Path]) -> list[str]:
    """The names under which included files were read."""
    names = []
    for path in also:
        found = [s.name for s in document.sources[1:] if Path(s.name).resolve() == path.resolve()]
        if not found:
            fail(f"--also: '{path}' is not a file that {document.name} includes")
        names += found
    return names
