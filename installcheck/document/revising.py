"""Several edits made in the text of a document together; one that cannot be made is left out, and it is said why."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from pathlib import Path

from ..dataclass import dataclass
from ..model.edits import Edit
from .document import Document
from .parsing import read_source
from .reading import Reading
from .rewriting import CannotWriteError, rewritten, written_in
from .source import DocumentError


@dataclass(frozen=True, slots=True)
class Revision:
    """What becomes of a document's text.

    Attributes:
        texts: the files that change, by name, with what they hold then.
        made: numbers of the edits that are made.
        left_out: those that are not, each with the reason.
    """

    texts: Mapping[str, bytes]
    made: tuple[int, ...]
    left_out: Mapping[int, str]


def revised(document: Document, edits: Mapping[int, Sequence[Edit]], also: Collection[str] = ()) -> Revision:
    """The text of a document with numbered edits made, in the order of their numbers.

    Args:
        document: as it was read.
        edits: what is to be done; what stands under one number is done whole or not at all.
        also: names of included files that may be changed beside the main one.
    """
    left_out = {}
    chosen: dict[int, Sequence[Edit]] = {}
    for number, group in edits.items():
        why = _refusal(document, group, {document.name, *also})
        if why:
            left_out[number] = why
        else:
            chosen[number] = group
    while chosen:
        try:
            return Revision(rewritten(document, together(chosen.values())), tuple(chosen), left_out)
        except (CannotWriteError, DocumentError) as bad:
            number, why = _first_that_fails(document, chosen, bad)
            left_out[number] = why
            del chosen[number]
    return Revision({}, (), left_out)


def together(groups: Collection[Sequence[Edit]]) -> Edit:
    """All the changes of several edits, in their order, as one."""
    edits = [edit for group in groups for edit in group]
    return Edit(tuple(change for edit in edits for change in edit.changes), "; ".join(e.words for e in edits))


def _refusal(document: Document, group: Sequence[Edit], open_files: set[str]) -> str:
    """Why edits are not made at all, if they fall in a file that is not to be changed."""
    try:
        closed = [name for name in written_in(document, together([group])) if name not in open_files]
    except DocumentError:
        return ""  # it may fit once another is made
    if any(s.name in closed for s in document.files.places.sources if s.headings is not None):
        return ""  # what to change in the table is told when it is tried
    return f"this needs {', '.join(closed)}, which is not named" if closed else ""


def _first_that_fails(
    document: Document, chosen: Mapping[int, Sequence[Edit]], bad: Exception
) -> tuple[int, str]:
    """The first number that cannot be made after those before it, with the reason."""
    before: list[Sequence[Edit]] = []
    for number, group in chosen.items():
        before.append(group)
        try:
            rewritten(document, together(before))
        except (CannotWriteError, DocumentError) as why:
            return number, str(why)
    return max(chosen), str(bad)


def reread(document: Document, texts: Mapping[str, bytes], name: str | Path | None = None) -> Document:
    """A document read again with some of its files changed, as if they stood where they are read from.

    Args:
        document: as it was read.
        texts: the files that changed, by name.
        name: what the main file is called from now on.

    Raises:
        DocumentError: it cannot be read.
    """
    sources = []
    for k, source in enumerate(document.files.places.sources):
        shown = str(name) if name is not None and k == 0 else source.name
        raw = texts.get(source.name, source.raw)
        sources.append(source if raw == source.raw and shown == source.name else read_source(raw, shown))
    return Reading(document.files.holding(sources)).read()
