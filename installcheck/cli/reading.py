"""Finding the installation a command is asked about, and reading it."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from .console import READ_FAILED, console, fail, say

if TYPE_CHECKING:
    from ..document import Document


def find_document(file: Path | None) -> Path:
    """The file named, or the only installation in this folder."""
    if file is not None:
        return file
    found = only_installation()
    if found is None:
        fail("there is no installation in this folder; name a file, or write one with 'installcheck new'")
    return found


def only_installation() -> Path | None:
    """The only installation in this folder; ``None`` if there is none.

    Raises:
        SystemExit: there are several.
    """
    here = [p for p in sorted(Path().glob("*.y*ml")) if not p.is_dir() and _is_installation(p)]
    if len(here) > 1:
        fail(f"there are several installations here, name one: {', '.join(str(p) for p in here)}")
    return here[0] if here else None


def _is_installation(file: Path) -> bool:
    from ..document.yaml_text import MAX_BYTES
    from ..files.reading import UnreadableError, read_regular

    try:
        return b"installation:" in read_regular(file, MAX_BYTES)
    except UnreadableError as bad:
        say(f"{file} {bad}; it is left out")
        return False


def load_document(file: Path | None) -> Document:
    """The installation of a file, or the only one in this folder; what is wrong with it is printed.

    Raises:
        SystemExit: it cannot be read.
    """
    from ..document import DocumentError, load

    try:
        return load(find_document(file))
    except DocumentError as bad:
        from ..outputs.terminal.verdicts import print_problems

        print_problems(bad.problems, console(stderr=True))
        n = len(bad.problems)
        say(f"{n} problem{'s' if n != 1 else ''}: the document cannot be read")
        raise SystemExit(READ_FAILED) from None
