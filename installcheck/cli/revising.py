"""Writing a document's changed text where the user says, and nowhere else."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING

from .console import fail, say

if TYPE_CHECKING:
    from ..document import Document


def require_free(out: Path, source: Path, *, force: bool) -> None:
    """Refuse to write over a file unless the user said so.

    Raises:
        Exit: there is one of that name.
    """
    if (out.exists() or out.is_symlink()) and not force:
        kind = "the file it is made from" if out.resolve() == source.resolve() else "there already"
        fail(f"--out: '{out}' is {kind}; name another file, or add --force to write over it")


def write_texts(document: Document, texts: Mapping[str, bytes], out: Path, *, force: bool) -> None:
    """Write a document's main file as ``out``, and what else of it changed beside that, by the name it has now.

    Raises:
        Exit: a file is there already and ``force`` is not set, or cannot be written.
    """
    from ..files.writing import OutputError, write_whole

    folder = (document.folder or Path()).resolve()
    targets = {document.name: out}
    for name in texts:
        if name != document.name:
            targets[name] = out.parent / Path(name).resolve().relative_to(folder)
    for name, target in targets.items():
        if name != document.name and target.exists() and not force:
            fail(
                f"'{target}' is there already and would change; add --force to write over it: nothing is written"
            )
    try:
        for name, target in targets.items():
            write_whole(target, texts.get(name, document.sources[0].raw), over=force)
            say(f"wrote {target}", out=True)
    except OutputError as bad:
        fail(str(bad))
    if out.parent.resolve() != folder and (
        len(document.sources) > len(targets) or document.files.part_sources
    ):
        say(f"it names files that lie beside {document.name}: move it there to use it", out=True)
