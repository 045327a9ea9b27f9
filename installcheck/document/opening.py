"""An edit of what is implied, as one of what is written: what it falls in is written out in the thing itself first."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping

from ..model.edits import Change, Drop, Edit, Path, Put, Swap, Written
from .document import Document
from .lines import LINED
from .source import Plain, mapping

_FITS = re.compile(r"[^\s,:#{}\[\]'\"]+( [^\s,:#{}\[\]'\"]+)*")
"""What can stand between the commas of a line."""


def opened(document: Document, edit: Edit) -> Edit:
    """An edit that says the same and needs nothing implied.

    A word of a run in one line is changed in the line, or the line becomes words of its own; a value told elsewhere (by ``usual``, a bundle, a route, ``ends``) is
    written in the thing before a part of it is changed; taken out, it is ``unknown`` there.
    """
    changes: list[Change] = []
    done: set[Path] = set()
    for change in edit.changes:
        inside = _in_text(document, change) if _alone(edit, change) else None
        if inside is not None:
            changes.append(inside)
            continue
        paths = (change.path, change.other) if isinstance(change, Swap) else (change.path,)
        for path in paths:
            for put in _written_out(document, path, whole=not isinstance(change, Put)):
                if put.path not in done:
                    done.add(put.path)
                    changes.append(put)
        changes.append(
            Put(change.path, "unknown")
            if isinstance(change, Drop) and _told(document, change.path)
            else change
        )
    return Edit(tuple(changes), edit.words)


def _alone(edit: Edit, change: Change) -> bool:
    """Whether nothing else in the edit falls in the same thing."""
    return sum(path[:2] == change.path[:2] for path in edit.paths) == 1


def _in_text(document: Document, change: Change) -> Put | None:
    """A change of a word in a thing's own line as one of the line; ``None`` if it is no such word."""
    if not isinstance(change, Put) or not isinstance(change.value, str) or not _FITS.fullmatch(change.value):
        return None
    said = document.files.places.said(change.path)
    if said is None or said.offset < 0 or said.path[:2] != change.path[:2]:
        return None
    try:
        line, old = document.files.places.text(said.path), document.written(change.path)
    except (KeyError, TypeError):
        return None
    if not isinstance(old, str) or not line.startswith(old, said.offset):
        return None
    return Put(said.path, f"{line[: said.offset]}{change.value}{line[said.offset + len(old) :]}")


def _thing(document: Document, path: Path) -> Plain:
    section, ident = str(path[0]), str(path[1])
    return mapping(document.whole.get(section)).get(ident) if isinstance(path[1], str) else None


def _told(document: Document, path: Path) -> bool:
    """Whether a field is told elsewhere, and not in the thing."""
    if len(path) != 3 or path[2] == LINED.get(str(path[0])) or (raw := _thing(document, path)) is None:
        return False
    own = document.expansion.written(str(path[0]), str(path[1]), raw)
    return isinstance(own, dict) and str(path[2]) not in own and document.holds(path)


def _written_out(document: Document, path: Path, *, whole: bool) -> Iterator[Put]:
    """What must be written before ``path`` can be changed; ``whole`` if its field itself must be there."""
    if len(path) < 3 or (raw := _thing(document, path)) is None:
        return
    section, ident, word = str(path[0]), str(path[1]), str(path[2])
    own = document.expansion.written(section, ident, raw)
    if not isinstance(own, dict):
        return
    if word == LINED.get(section):
        return
    if section in LINED and own != raw:
        yield Put((section, ident), _worded(own))
    full = document.expansion.full(section, ident, raw)
    part = len(path) > 3
    told = isinstance(full, Mapping) and word in full and own.get(word) != full[word]
    if isinstance(full, Mapping) and told and (part or (whole and word not in own)):
        yield Put((section, ident, word), _worded(full[word]))


def _worded(value: Plain) -> Written:
    """A plain value as it is written; nothing as ``unknown``."""
    if value is None:
        return "unknown"
    if isinstance(value, dict):
        return {word: _worded(one) for word, one in value.items()}
    if isinstance(value, list):
        return [_worded(one) for one in value]
    return value
