"""An edit made in the text of a document: comments, order and layout stay, byte for byte, wherever nothing changes."""

from __future__ import annotations

import codecs

from ..model.edits import Change, Drop, Edit, Put, Written
from .changing import Changing
from .document import Document
from .opening import opened
from .parsing import read_source
from .source import DocPath, DocumentError, Plain, Source
from .splicing import Splicing
from .yaml_spots import CannotWriteError
from .yaml_text import read_text

__all__ = ["CannotWriteError", "rewritten", "written_in"]


def written_in(document: Document, edit: Edit) -> tuple[str, ...]:
    """The files an edit falls in, by name; the main file first.

    Raises:
        DocumentError: a change fits nothing that is written.
    """
    changing = Changing(document.files.places.sources)
    changing.make(opened(document, edit))
    return tuple(
        new.name
        for new, old in zip(changing.sources, document.files.places.sources, strict=True)
        if new is not old
    )


def rewritten(document: Document, edit: Edit) -> dict[str, bytes]:
    """The files an edit falls in, by name, with it made in their text. Nothing is written to disk.

    What comes out is read again, and given only if it says exactly what the edit makes of the document.

    Args:
        document: as it was read; not one that was itself made by an edit.

    Raises:
        DocumentError: a change fits nothing that is written.
        CannotWriteError: the way the text is written does not allow it.
    """
    sources = document.files.places.sources
    if any(s.before is not None for s in sources):
        raise ValueError("the text of an edited document is not kept: read it again")
    edit = opened(document, edit)
    changing = Changing(sources)
    texts: dict[int, Splicing] = {}
    for change in edit.changes:
        steps = _steps(changing, change)
        changing.make(Edit((change,), edit.words))
        for k, inner, value in steps:
            if sources[k].headings is not None:
                raise CannotWriteError(_in_table(sources[k], inner, value))
            if k not in texts:
                texts[k] = Splicing(read_text(sources[k].raw, sources[k].name))
            try:
                if value is _NOTHING:
                    texts[k].drop(inner)
                else:
                    texts[k].put(inner, value)  # type: ignore[arg-type]
            except CannotWriteError as why:
                raise _refused(sources[k], edit, str(why)) from None
    return {
        sources[k].name: _verified(sources[k], changing.sources[k], text, edit) for k, text in texts.items()
    }


_NOTHING = object()


def _steps(changing: Changing, change: Change) -> list[tuple[int, DocPath, object]]:
    """What to write in which file, in order."""
    k, inner = changing.holder(change.path)
    if isinstance(change, Put):
        return [(k, inner, _plain(change.value))]
    if isinstance(change, Drop):
        return [(k, inner, _NOTHING)]
    other, there = changing.holder(change.other)
    here = [spelled(changing.sources[i], path) for i, path in ((k, inner), (other, there))]
    return [(k, inner, here[1]), (other, there, here[0])]


def _in_table(source: Source, path: DocPath, value: object) -> str:
    """What a person has to change in a table, which is never written to."""
    where = source.place(path)
    if len(path) < 3:
        return (
            f"{where}: a table is changed by hand: take the row out"
            if value is _NOTHING
            else f"{where}: a table is changed by hand"
        )
    there = source.holds(path)
    word = str(path[2]).replace("_", " ")
    what = f"write '{value}'" if isinstance(value, str) else "clear it" if value is _NOTHING else "change it"
    column = "" if there else f" under a heading '{word}'"
    return f"{where}: a table is changed by hand: {what}{column}"


def _plain(value: Written) -> Plain:
    if isinstance(value, str):
        return value
    if hasattr(value, "items"):
        return {str(word): _plain(inner) for word, inner in value.items()}
    return [_plain(inner) for inner in value]


def spelled(source: Source, path: DocPath = ()) -> Plain:
    """What a file says at a path, 'unknown' in that word."""
    value, _, depth = source.find(path)
    if depth < len(path):
        raise KeyError(path)
    return "unknown" if source.declared_unknown(path) else _spelled(source, value)


def _spelled(source: Source, value: Plain) -> Plain:
    if isinstance(value, dict):
        return {
            word: "unknown"
            if inner is None and (id(value), word) in source.unknowns
            else _spelled(source, inner)
            for word, inner in value.items()
        }
    if isinstance(value, list):
        return [
            "unknown" if inner is None and (id(value), i) in source.unknowns else _spelled(source, inner)
            for i, inner in enumerate(value)
        ]
    return value


def _verified(was: Source, wanted: Source, text: Splicing, edit: Edit) -> bytes:
    """The bytes of a changed text that says what it should.

    Raises:
        CannotWriteError: it does not.
    """
    raw = text.text.encode()
    if was.raw.startswith(codecs.BOM_UTF8):
        raw = codecs.BOM_UTF8 + raw
    try:
        anew = read_source(raw, was.name)
    except DocumentError as bad:
        raise _refused(was, edit, bad.problems[0].message) from None
    if anew.problems or spelled(anew) != spelled(wanted):
        raise _refused(was, edit, "it would say something else as well")
    return raw


def _refused(source: Source, edit: Edit, why: str) -> CannotWriteError:
    where = ", ".join(str(source.place(path)) for path in edit.paths[:2])
    return CannotWriteError(
        f"{where}: the change cannot be written there as the text stands ({why}); make it by hand"
    )
