"""Edits drawn by lot, of the kinds rules propose; many of them make no document."""

from __future__ import annotations

import random
from collections.abc import Iterator

from installcheck.document import Document
from installcheck.document.source import Plain
from installcheck.model.edits import Change, Drop, Edit, Path, Put, Swap, Written


def spelled(value: Plain, document: Document, path: Path = ()) -> Plain:
    """What is written, with 'unknown' in that word."""
    if isinstance(value, dict):
        return {k: spelled(v, document, (*path, k)) for k, v in value.items()}
    if isinstance(value, list):
        return [spelled(v, document, (*path, i)) for i, v in enumerate(value)]
    return "unknown" if value is None and document.declared_unknown(path) else value


def some_edit(document: Document, dice: random.Random) -> Edit:
    """One to three changes: words and things put, taken out and exchanged, at every depth."""
    paths = list(_paths(dict(document.whole)))
    words = [p for p in paths if len(p) == 3]
    changes: list[Change] = []
    for _ in range(dice.choice((1, 1, 2, 3))):
        path = dice.choice(words)
        alike = [p for p in words if p[0] == path[0] and p[2] == path[2]]
        kind = dice.randrange(9)
        if kind == 0:
            changes.append(Drop(path))
        elif kind == 1:
            changes.append(Drop(path[:2]))
        elif kind == 2:
            changes.append(Swap(path, dice.choice(alike)))
        elif kind == 3:
            new = (path[0], f"new {dice.randrange(9)}")
            changes.append(Put(new, _written(document, dice.choice(alike)[:2])))
        elif kind == 4:
            changes.append(Put(path, dice.choice(("unknown", "18 AWG", "4 ft", "nowhere", "A"))))
        elif kind == 5:
            changes.append(Put(path, _written(document, dice.choice(alike))))
        elif kind == 6:
            changes.append(Put((*path[:2], "notes"), ["seen: it's so", "2, 3"]))
        elif kind == 7:
            changes.append(
                Put((*path[:2], "title"), dice.choice(("a 'b' # c", "x: y", "[", "- z", " ", "é\n2")))
            )
        else:
            deep = dice.choice([p for p in paths if len(p) > 3] or paths)
            like = [p for p in paths if len(p) == len(deep) and (p[0], p[-1]) == (deep[0], deep[-1])]
            other = dice.choice(like)
            changes.append(dice.choice((Drop(deep), Swap(deep, other), Put(deep, _written(document, other)))))
    return Edit(tuple(changes), "try it")


def _paths(value: Plain, path: Path = ()) -> Iterator[Path]:
    if len(path) > 1 and path[0] != "installation":
        yield path
    if isinstance(value, (dict, list)):
        for step, inner in value.items() if isinstance(value, dict) else enumerate(value):
            yield from _paths(inner, (*path, step))


def _written(document: Document, path: Path) -> Written:
    value = spelled(document.written(path), document, path)
    return "unknown" if value is None else value  # type: ignore[return-value]
