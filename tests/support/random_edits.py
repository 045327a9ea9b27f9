"""Edits made by chance, for tests: words written, taken out and exchanged, things added and taken out."""

from __future__ import annotations

from random import Random

from installcheck.document import Document, DocumentError
from installcheck.document.edited import edited
from installcheck.model.edits import Drop, Edit, Put, Swap

LEFT_ALONE = frozenset(("installation", "include", "part_files"))


def _leaves(value, path=()):
    """Every value of a raw document with its path, those that hold others too."""
    yield path, value
    inner = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    for key, one in inner:
        yield from _leaves(one, (*path, key))


def _written(value):
    """A raw value as a person writes it."""
    if isinstance(value, dict):
        return {key: _written(one) for key, one in value.items()}
    if isinstance(value, list):
        return [_written(one) for one in value]
    return "unknown" if value is None else value


class RandomEdits:
    """Edits of one document after another, each one that leaves a readable document."""

    def __init__(self, seed: int) -> None:
        self.random = Random(seed)
        self.count = 0

    def of(self, document: Document) -> tuple[Edit, Document]:
        """An edit, and the document with it made."""
        raw = {s: v for s, v in document.whole.items() if s not in LEFT_ALONE}
        while True:
            edit = self._edit(raw)
            if edit is None:
                continue
            try:
                return edit, edited(document, edit)
            except DocumentError:
                continue

    def _edit(self, raw) -> Edit | None:
        chance = self.random
        how = chance.choice(
            ("other", "other", "other", "scaled", "scaled", "unknown", "drop", "drop", "swap", "new", "gone")
        )
        section = chance.choice([s for s in raw if isinstance(raw[s], (dict, list)) and raw[s]])
        held = raw[section]
        key = chance.choice(list(held) if isinstance(held, dict) else range(len(held)))
        self.count += 1
        if how == "gone":
            return Edit((Drop((section, key)),), f"take {key} out")
        if how == "new":
            if not isinstance(held, dict) or not isinstance(held[key], dict):
                return None
            return Edit((Put((section, f"added {self.count}"), _written(held[key])),), f"add one like {key}")
        words = [(p, v) for p, v in _leaves(held[key]) if p and v is not None]
        if not words:
            return None
        path, value = chance.choice(words)
        at = (section, key, *path)
        if how == "drop":
            return Edit((Drop(at),), f"take {at} out")
        if how == "unknown":
            return Edit((Put(at, "unknown"),), f"leave {at} open")
        if how == "scaled":
            number, _, unit = str(value).partition(" ") if isinstance(value, str) else ("", "", "")
            if not unit or not number.replace(".", "", 1).isdigit():
                return None
            return Edit(
                (Put(at, f"{float(number) * chance.choice((0.5, 0.9, 1.1, 3)):g} {unit}"),), f"scale {at}"
            )
        others = [o for o in (held if isinstance(held, dict) else range(len(held))) if o != key]
        if not others:
            return None
        other = chance.choice(others)
        there = held[other]
        for step in path:
            there = (
                there.get(step)
                if isinstance(there, dict)
                else there[step]
                if isinstance(there, list) and isinstance(step, int) and step < len(there)
                else None
            )
        if there is None:
            return None
        if how == "swap":
            return Edit((Swap(at, (section, other, *path)),), f"exchange {at} and that of {other}")
        return Edit((Put(at, _written(there)),), f"write at {at} what {other} has")
