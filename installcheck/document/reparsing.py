"""A text parsed again where one entry of it changed; what stands around it is taken as it was parsed before.

An entry of a block mapping is a text of its own: it begins at its key and ends before the line of the next, and what stands in it
cannot change what the lines around it mean unless it does not parse alone. So it is parsed alone, and whatever is not as plain as
that is left to :func:`source.read_source`.
"""

from __future__ import annotations

import re
from bisect import bisect_left, bisect_right
from collections.abc import Callable, Iterator
from hashlib import sha256

from .parsing import Builder
from .places import DocumentError
from .source import Plain, Source
from .yaml_text import compose, line_starts, read_text

_REACHES_OUT = re.compile(r"^(?:---|\.\.\.|%)|[&*]", re.MULTILINE)
"""What begins or ends a document, or may give a name to something or name it again."""


def parsed_again(old: Source, raw: bytes) -> Source | None:
    """The source of a text that differs within one entry from one parsed before; ``None`` if it has to be parsed whole.

    Args:
        old: as it was parsed.
        raw: the text as it is now.

    Cost: copying the places of the file.
    """
    if old.problems or old.headings is not None or not old.raw:
        return None
    try:
        text, before = read_text(raw, old.name), read_text(old.raw, old.name)
        starts = [*line_starts(before), len(before)]
        same, same_end = _alike(before, text)
        path, first, last = _entry_around(old, before, starts, same, len(before) - same_end)
        if not path:
            return None
        now = text[starts[first] : len(text) - len(before) + starts[last]]
        was = before[starts[first] : starts[last]]
        if len(line_starts(now)) != len(line_starts(was)) or any(map(_REACHES_OUT.search, (was, now))):
            return None
        return _with_entry(old, path, raw, "\n" * first + now)
    except DocumentError:
        return None


def _alike(a: str, b: str) -> tuple[int, int]:
    """How many characters two texts begin with alike, and with how many after those they end alike."""
    most = min(len(a), len(b))
    start = _longest(most, lambda n: a[:n] == b[:n])
    return start, _longest(most - start, lambda n: a[len(a) - n :] == b[len(b) - n :])


def _longest(most: int, alike: Callable[[int], bool]) -> int:
    """The greatest length up to ``most`` of which ``alike`` holds, as it does of every lesser one."""
    return bisect_left(range(most), True, key=lambda n: not alike(n + 1))


def _entry_around(
    old: Source, text: str, starts: list[int], begin: int, end: int
) -> tuple[tuple[str, ...], int, int]:
    """The innermost entry of block mappings that holds all between two characters, behind the first of its key.

    Returns:
        Its path, empty if there is none; its first line from 0, and the one after its last.
    """
    path: tuple[str, ...] = ()
    value, spot, first, last = old.plain, old.top, 0, len(starts) - 1
    while isinstance(value, dict) and value:
        spots = old.spots[id(value)]
        lines = [one.key_line - 1 for one in spots.values()]
        word, inner = next(iter(spots.items()))
        if (spot.line, spot.column) != (inner.key_line, inner.key_column) or lines != sorted(set(lines)):
            break
        at = bisect_right([starts[line] for line in lines], begin) - 1
        if at < 0:
            break
        word, inner = list(spots.items())[at]
        key = starts[lines[at]] + inner.key_column - 1
        after = lines[at + 1] if at + 1 < len(lines) else last
        if begin <= key or end > starts[after] or text[starts[lines[at]] : key].strip(" "):
            break
        path, first, last = (*path, str(word)), lines[at], after
        value, spot = value[str(word)], inner
    return path, first, last


def _with_entry(old: Source, path: tuple[str, ...], raw: bytes, text: str) -> Source | None:
    """A source with one entry as ``text`` has it, if it says that entry and no more, and nothing is wrong with it."""
    root = compose(text, old.name)
    if root is None:
        return None
    part = Source(old.name)
    builder = Builder(part)
    made = builder.build(root)
    was, spot, _ = old.find(path)
    if part.problems or not isinstance(made, dict) or list(made) != [path[-1]]:
        return None
    spots = part.spots.pop(id(made))
    if spots[path[-1]][:2] != spot[:2]:
        return None
    value, unknown = made[path[-1]], bool(part.unknowns & {(id(made), path[-1])})
    part.unknowns.discard((id(made), path[-1]))
    parents = [old.find(path[:depth])[0] for depth in range(len(path))]
    gone = {*_containers(was), *map(id, parents)}
    new = Source(
        old.name,
        digest=sha256(raw).digest(),
        unknowns={mark for mark in old.unknowns if mark[0] not in gone} | part.unknowns,
        top=old.top,
        spots={of: held for of, held in old.spots.items() if of not in gone} | part.spots,
        raw=raw,
        merged=old.merged,
    )
    for parent, step in zip(reversed(parents), reversed(path), strict=True):
        assert isinstance(parent, dict)
        made = {**parent, step: value}
        new.spots[id(made)] = old.spots[id(parent)] | spots
        new.unknowns |= {(id(made), k) for k in parent if k != step and (id(parent), k) in old.unknowns}
        if unknown:
            new.unknowns.add((id(made), step))
        value, unknown, spots = made, False, {}
    new.plain = value
    return new


def _containers(value: Plain) -> Iterator[int]:
    """The identity of a mapping or list and of each within it."""
    if isinstance(value, (dict, list)):
        yield id(value)
        for one in value.values() if isinstance(value, dict) else value:
            yield from _containers(one)
