"""Plain data with changes made: only what stands on the way to a change is copied, and every place stays known."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace

from ..model.edits import Change, Drop, Edit, Path, Put, Swap, Written
from .source import DocumentError, Key, Place, Plain, Problem, Source, Spot, mapping

_FILES = ("include", "part_files")


class Changing:
    """The sources of one document being changed. The sources given are left as they are.

    Attributes:
        sources: as they are now; one that no change falls in is the one given.
    """

    def __init__(self, sources: Sequence[Source]) -> None:
        self.sources = list(sources)
        self._own: dict[int, Plain] = {}
        """Mappings and lists made here, by identity: they can be changed."""
        self._copies: set[int] = set()
        """Which of the sources are copies."""

    def make(self, edit: Edit) -> None:
        """Make the changes of an edit, in their order.

        Raises:
            DocumentError: a change fits nothing that is written.
        """
        for change in edit.changes:
            self._make(change)

    def _make(self, change: Change) -> None:
        if isinstance(change, Put):
            source, path = self.holder(change.path)
            self._put(source, path, change.value)
        elif isinstance(change, Drop):
            source, path = self._found(change.path)
            self._drop(source, path)
        else:
            self._swap(change)

    def holder(self, path: Path) -> tuple[int, Path]:
        """Which file holds ``path``, or what is nearest above it, and the path within that file.

        What stands nowhere yet belongs to the main file, and a further entry of a list after its last.

        Raises:
            DocumentError: the path leads to what names the files themselves.
        """
        if not path or path[0] in _FILES:
            raise DocumentError([Problem(self.sources[0].place(path), "an edit changes no file names", "")])
        section = path[0]
        if len(path) > 1 and isinstance(path[1], int):
            holding = [
                k for k, s in enumerate(self.sources) if isinstance(mapping(s.plain).get(str(section)), list)
            ]
            left = path[1]
            for k in holding:
                there = mapping(self.sources[k].plain)[str(section)]
                assert isinstance(there, list)
                if left < len(there) or k == holding[-1]:
                    return k, (section, left, *path[2:])
                left -= len(there)
            return 0, path
        found = [s.find(path)[2] for s in self.sources]
        deepest = max(found)
        return (found.index(deepest) if deepest > 1 or len(path) == 1 else 0), path

    def place(self, path: Path) -> Place:
        """Where ``path`` stands, or what is nearest above it."""
        k, inner = self.holder(path)
        return self.sources[k].place(inner)

    def _refuse(self, path: Path, why: str) -> DocumentError:
        return DocumentError([Problem(self.place(path), why, str(path[-1]) if path else "")])

    def _found(self, path: Path) -> tuple[int, Path]:
        k, inner = self.holder(path)
        if not self.sources[k].holds(inner):
            raise self._refuse(path, f"{said(path)} is not written, so that it cannot be taken from there")
        return k, inner

    def _put(self, k: int, path: Path, value: Written) -> None:
        parent = self._writable(k, path[:-1], make=path[-1])
        source, step = self.sources[k], path[-1]
        if isinstance(parent, list) and isinstance(step, int) and 0 <= step <= len(parent):
            key: Key = step
            if step == len(parent):
                parent.append(None)
        elif isinstance(parent, dict) and not isinstance(step, bool):
            key = str(step)
        else:
            raise self._refuse(
                path, f"{said(path)}: there is no entry {step} in this list, nor is it the next"
            )
        spot = source.spots[id(parent)].setdefault(key, self._above(source, path[:-1]))
        self._set(source, parent, key, self._plain(source, value, spot), unknown=value == "unknown")

    def _set(self, source: Source, parent: Plain, key: Key, value: Plain, *, unknown: bool) -> None:
        parent[key] = value  # type: ignore[index]
        mark = (id(parent), key)
        if unknown:
            source.unknowns.add(mark)
        else:
            source.unknowns.discard(mark)

    def _drop(self, k: int, path: Path) -> None:
        parent, step = self._writable(k, path[:-1], make=path[-1]), path[-1]
        source = self.sources[k]
        if isinstance(parent, list) and isinstance(step, int):
            kept = [i for i in range(len(parent)) if i != step]
            spots, unknowns = source.spots[id(parent)], source.unknowns
            lost = {i for i in range(len(parent)) if (id(parent), i) in unknowns}
            unknowns.difference_update({(id(parent), i) for i in lost})
            unknowns.update({(id(parent), new) for new, old in enumerate(kept) if old in lost})
            source.spots[id(parent)] = {new: spots[old] for new, old in enumerate(kept)}
            del parent[step]
        elif isinstance(parent, dict):
            del parent[str(step)]
            del source.spots[id(parent)][str(step)]
            source.unknowns.discard((id(parent), str(step)))

    def _swap(self, change: Swap) -> None:
        ends = [self._found(p) for p in (change.path, change.other)]
        if change.path == change.other:
            return
        shorter, longer = sorted((change.path, change.other), key=len)
        if longer[: len(shorter)] == shorter:
            raise self._refuse(longer, f"{said(longer)} cannot be exchanged with what it is a part of")
        values = [self.sources[k].find(p)[0] for k, p in ends]
        unknown = [self.sources[k].declared_unknown(p) for k, p in ends]
        for (k, path), (other, _), value, is_unknown in zip(
            ends, ends[::-1], values[::-1], unknown[::-1], strict=True
        ):
            parent = self._writable(k, path[:-1], make=path[-1])
            if other != k:
                value = self._moved(self.sources[other], self.sources[k], value)
            key = path[-1] if isinstance(parent, list) else str(path[-1])
            self._set(self.sources[k], parent, key, value, unknown=is_unknown)

    def _moved(self, giver: Source, taker: Source, value: Plain) -> Plain:
        """What is known of a value of one file, told to another that now holds it."""
        if isinstance(value, (dict, list)):
            taker.spots[id(value)] = giver.spots[id(value)]
            for key, inner in value.items() if isinstance(value, dict) else enumerate(value):
                if inner is None and (id(value), key) in giver.unknowns:
                    taker.unknowns.add((id(value), key))
                self._moved(giver, taker, inner)
        return value

    def _writable(self, k: int, path: Path, *, make: Key) -> dict[str, Plain] | list[Plain]:
        """The mapping or list at ``path``, made where there is none, as one that can be changed."""
        source = self._source(k)
        here = self._copied(
            source, source.plain, lambda new: setattr(source, "plain", new), path[0] if path else make
        )
        for depth, step in enumerate(path):
            spot = self._above(source, path[:depth])
            after = path[depth + 1] if depth + 1 < len(path) else make
            key: Key = step if isinstance(here, list) else str(step)
            there = isinstance(step, int) and step < len(here) if isinstance(here, list) else key in here
            if isinstance(here, list) and not there:
                raise self._refuse(path, f"{said(path[: depth + 1])} is not there to be changed")
            parent = here
            value: Plain = parent[key] if there else None  # type: ignore[index]
            if isinstance(value, str):
                raise self._refuse(
                    (*path, make),
                    f"{said(path[: depth + 1])} is one text, '{value}': nothing can stand under it",
                )
            source.spots[id(parent)].setdefault(key, spot)

            def hold(new: Plain, parent: Plain = parent, key: Key = key) -> None:
                self._set(source, parent, key, new, unknown=False)

            here = self._copied(source, value, hold, after)
        return here

    def _source(self, k: int) -> Source:
        """The source to be changed: a copy, made once, which keeps the one it was made from."""
        old = self.sources[k]
        if k in self._copies:
            return old
        new = replace(old, unknowns=set(old.unknowns), spots=dict(old.spots), before=old)
        self._copies.add(k)
        self.sources[k] = new
        return new

    def _copied(
        self, source: Source, value: Plain, hold: Callable[[Plain], None], step: Key
    ) -> dict[str, Plain] | list[Plain]:
        """``value`` as a mapping or list made here, held by its parent; of the kind ``step`` needs if it is nothing yet."""
        if isinstance(value, (dict, list)) and id(value) in self._own:
            return value
        new: dict[str, Plain] | list[Plain]
        if isinstance(value, dict):
            new = dict(value)
        elif isinstance(value, list):
            new = list(value)
        else:
            new = [] if isinstance(step, int) else {}
        source.spots[id(new)] = dict(source.spots[id(value)]) if isinstance(value, (dict, list)) else {}
        if isinstance(value, (dict, list)):
            entries = value.items() if isinstance(value, dict) else enumerate(value)
            empty = [key for key, inner in entries if inner is None]
            source.unknowns.update({(id(new), key) for key in empty if (id(value), key) in source.unknowns})
        self._own[id(new)] = new
        hold(new)
        return new

    @staticmethod
    def _above(source: Source, path: Path) -> Spot:
        """The spot of what stands at ``path``, for what is new within it."""
        line, column = source.find(path)[1][:2]
        return Spot(line, column, line, column)

    def _plain(self, source: Source, value: Written, spot: Spot) -> Plain:
        """A value as it is read, everything in it at one spot."""
        if value is None or isinstance(value, str):
            return None if value == "unknown" else value
        made: dict[str, Plain] | list[Plain]
        entries: list[tuple[Key, Written]]
        if isinstance(value, Mapping):
            made, entries = {}, list(value.items())
        else:
            made, entries = [], list(enumerate(value))
        source.spots[id(made)] = dict.fromkeys((k for k, _ in entries), spot)
        self._own[id(made)] = made
        for key, inner in entries:
            plain = self._plain(source, inner, spot)
            if isinstance(made, list):
                made.append(plain)
            else:
                made[str(key)] = plain
            if inner == "unknown":
                source.unknowns.add((id(made), key))
        return made


def said(path: Path) -> str:
    """A path as it is told: ``'gauge' of wire_runs E3``."""
    *above, last = path
    return f"'{last}'" + (f" of {' '.join(str(step) for step in above)}" if above else "")
