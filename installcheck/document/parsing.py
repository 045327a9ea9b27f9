"""YAML text -> plain values (every scalar as its text), with the place of each put into its source.

PyYAML's C parser composes nodes; nothing is ever constructed from a tag. Scalars stay text, so that ``N``, ``no``,
``12:30`` or ``010`` mean what was written; the model gives them types.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from hashlib import sha256
from pathlib import Path
from unicodedata import category
from unicodedata import name as character_name

import yaml

from ..files.reading import UnreadableError, read_regular
from .places import DocumentError, Key, Place, Problem
from .source import NULLS, Plain, Source, Spot, mapping
from .yaml_text import MAX_BYTES, MAX_DEPTH, compose, read_text

MAX_COPIED = 100_000
"""Values that aliases may repeat in one file; a table of sizes shared by every wire of the library takes a few hundred."""
MAX_MERGED = 1_000_000
"""Values that merge keys may repeat in one file: twenty in each of fifty thousand wires."""
MAX_SCALAR = 100_000
_CORE_TAGS = frozenset(
    f"tag:yaml.org,2002:{t}" for t in ("str", "int", "float", "bool", "null", "map", "seq")
)
_HIDDEN = frozenset(("Cc", "Cf", "Cs", "Zl", "Zp"))
"""Unicode classes of characters that show nothing: controls, direction marks, joiners, line separators."""


class Builder:
    """Plain values of the nodes of one file, put with their spots and problems into its source."""

    def __init__(self, source: Source) -> None:
        self.source, self.copied, self.depth = source, 0, 0
        self.seen: set[int] = set()
        self.shared: dict[int, tuple[Mapping[str, Plain], int]] = {}
        """What merge keys name, by the identity of its node, with how many values it holds."""
        self.merged = 0

    def problem(self, node: yaml.Node, message: str, text: str = "") -> None:
        self.source.problems.append(Problem(self.place_of(node), message, text))

    def place_of(self, node: yaml.Node) -> Place:
        return Place(self.source.name, node.start_mark.line + 1, node.start_mark.column + 1)

    def build(self, node: yaml.Node) -> Plain:
        if isinstance(node, yaml.ScalarNode):
            return self._scalar(node)
        if id(node) in self.seen:
            self._count_copy(node)
        self.seen.add(id(node))
        if not self.untagged(node):
            return None
        if self.depth >= MAX_DEPTH:
            what = f"nested deeper than {MAX_DEPTH} levels by its aliases"
            raise DocumentError([Problem(self.place_of(node), what)])
        self.depth += 1
        made = self._list(node) if isinstance(node, yaml.SequenceNode) else self._mapping(node)
        self.depth -= 1
        return made

    def _count_copy(self, node: yaml.Node) -> None:
        self.copied += 1 + len(node.value)
        if self.copied > MAX_COPIED:
            place = self.place_of(node)
            what = f"aliases repeat this and others more than {MAX_COPIED:,} times: too much to read"
            raise DocumentError([Problem(place, what)])

    def untagged(self, node: yaml.Node) -> bool:
        """Whether a node carries no tag that would make an object of it; tells if it does."""
        if node.tag in _CORE_TAGS:
            return True
        self.problem(node, f"the tag '{node.tag}' is not read; write plain values", node.tag)
        return False

    def _scalar(self, node: yaml.ScalarNode) -> Plain:
        text: str = node.value
        if not self.untagged(node):
            return None
        if not node.style and text in NULLS:
            return None
        return self._readable(node)

    def _readable(self, node: yaml.ScalarNode) -> str:
        """The text of a scalar; tells if it is too long, or holds what shows as nothing or as something else."""
        text: str = node.value
        if len(text) > MAX_SCALAR:
            self.problem(node, f"a text of {len(text):,} characters is too long to be meant", text[:40])
            return text[:40]
        if text.isprintable():
            return text
        bad = next((c for c in text if c not in "\n\t\xa0" and category(c) in _HIDDEN), None)
        if bad is not None:
            what = f"the text holds the hidden character U+{ord(bad):04X} ({_called(bad)}); take it out"
            self.problem(node, what, text.replace(bad, "")[:40])
        return text

    def _list(self, node: yaml.Node) -> list[Plain]:
        made: list[Plain] = []
        spots: dict[Key, Spot] = {}
        for i, child in enumerate(node.value):
            mark = child.start_mark
            spots[i] = Spot(mark.line + 1, mark.column + 1, mark.line + 1, mark.column + 1)
            made.append(self._entry(made, i, child))
        self.source.spots[id(made)] = spots
        return made

    def _mapping(self, node: yaml.Node) -> dict[str, Plain]:
        made: dict[str, Plain] = {}
        spots: dict[Key, Spot] = {}
        merged: list[yaml.Node] = []
        before: tuple[str, yaml.ScalarNode] | None = None
        for key, value in node.value:
            if not isinstance(key, yaml.ScalarNode):
                self.problem(key, "a list or mapping cannot name anything; write a word and ': '")
                continue
            if not self.untagged(key):
                continue
            word = self._readable(key)
            if word == "<<" and not key.style:
                merged.append(value)
                continue
            if word in spots:
                line = spots[word].key_line
                self.problem(
                    key,
                    f"'{word}' is here twice; the first is on line {line}: put both in one, or give this another name",
                    word,
                )
                continue
            if before is not None and _stands_alone(key, value):
                self._broken(made, before, word)
                continue
            in_braces = isinstance(node, yaml.MappingNode) and node.flow_style
            before = (word, value) if in_braces and isinstance(value, yaml.ScalarNode) else None
            at, mark = key.start_mark, value.start_mark
            spots[word] = Spot(at.line + 1, at.column + 1, mark.line + 1, mark.column + 1)
            made[word] = self._entry(made, word, value)
        for value in merged:
            self._merge(made, spots, value)
        self.source.spots[id(made)] = spots
        return made

    def _broken(self, made: dict[str, Plain], before: tuple[str, yaml.ScalarNode], piece: str) -> None:
        """Tell of a word that stands alone after a comma: a text whose comma has parted it. It is joined again."""
        word, node = before
        written = made[word]
        so_far: str = written if isinstance(written, str) else node.value
        whole = f"{so_far}, {piece}"
        if so_far[-1:].isdigit() and piece[:1].isdigit():
            meant = f"write a point before decimals: '{word}: {so_far}.{piece}'"
        elif ":" in piece and " " not in piece.partition(":")[0]:
            meant = f"write a blank after its colon: '{piece.replace(':', ': ', 1)}'"
        else:
            meant = (
                f"put a text that holds a comma in quotes: {word}: '{whole}'; a list stands in []; "
                f"a word of its own has its value: '{piece}: ...'"
            )
        if self.source.problems and self.source.problems[-1].place == self.place_of(node):
            self.source.problems.pop()
        self.problem(node, f"'{piece}' stands alone after a comma; {meant}", whole)
        made[word] = whole

    def _merge(self, made: dict[str, Plain], spots: dict[Key, Spot], node: yaml.Node) -> None:
        """Add what a merge key ('<<') names and the mapping does not write itself, each entry at its own place."""
        if isinstance(node, yaml.SequenceNode):
            for one in node.value:
                self._merge(made, spots, one)
            return
        if not isinstance(node, yaml.MappingNode):
            self.problem(node, "a merge key ('<<') takes a mapping, like '<<: *name' of one marked '&name'")
            return
        shared = self.shared.get(id(node))
        if shared is None:
            built = self.build(node)
            shared = self.shared[id(node)] = (mapping(built), _size(built))
        entries, size = shared
        self.merged += size
        if self.merged > MAX_MERGED:
            what = f"merge keys repeat this and others more than {MAX_MERGED:,} times: too much to read"
            raise DocumentError([Problem(self.place_of(node), what)])
        for word, value in entries.items():
            if word not in made:
                made[word], spots[word] = value, self.source.spots[id(entries)][word]
                if (id(entries), word) in self.source.unknowns:
                    self.source.unknowns.add((id(made), word))

    def _entry(self, parent: Plain, step: Key, node: yaml.Node) -> Plain:
        value = self.build(node)
        if value == "unknown":
            self.source.unknowns.add((id(parent), step))
            return None
        return value


def _stands_alone(key: yaml.Node, value: yaml.Node) -> bool:
    """Whether a word in braces has no colon behind it."""
    return (
        isinstance(value, yaml.ScalarNode)
        and not value.style
        and value.value == ""
        and bool(value.start_mark.index == key.end_mark.index == value.end_mark.index)
    )


def _size(value: Plain) -> int:
    """How many values there are in a value, itself included."""
    if isinstance(value, (dict, list)):
        return 1 + sum(_size(one) for one in (value.values() if isinstance(value, dict) else value))
    return 1


def _called(character: str) -> str:
    return character_name(character, "control character").lower()


def read_source(raw: bytes, name: str) -> Source:
    """Parse one YAML document.

    Raises:
        DocumentError: the text is not YAML, or holds more than one document, or cannot be decoded.
    """
    root = compose(read_text(raw, name), name)
    source = Source(name, digest=sha256(raw).digest(), raw=raw)
    if root is not None:
        builder = Builder(source)
        looped = _loop(root) if b"*" in raw else None
        if looped is not None:
            what = "an alias in this points back to this itself; write the values out"
            raise DocumentError([Problem(builder.place_of(looped), what)])
        mark = root.start_mark
        source.top = Spot(mark.line + 1, mark.column + 1, mark.line + 1, mark.column + 1)
        source.plain = builder.build(root)
        source.merged = [entries for entries, _ in builder.shared.values()]
    return source


def _loop(root: yaml.Node) -> yaml.Node | None:
    """A node that contains itself by an alias, if there is one (depth-first, each node entered once)."""
    active: set[int] = set()
    done: set[int] = set()
    stack: list[tuple[yaml.Node, Iterator[yaml.Node]]] = [(root, _children(root))]
    active.add(id(root))
    while stack:
        node, rest = stack[-1]
        child = next(rest, None)
        if child is None:
            stack.pop()
            active.discard(id(node))
            done.add(id(node))
        elif id(child) in active:
            return child
        elif id(child) not in done and not isinstance(child, yaml.ScalarNode):
            active.add(id(child))
            stack.append((child, _children(child)))
    return None


def _children(node: yaml.Node) -> Iterator[yaml.Node]:
    if isinstance(node, yaml.MappingNode):
        for key, value in node.value:
            yield key
            yield value
    elif isinstance(node, yaml.SequenceNode):
        yield from node.value


def read_file(path: Path, name: str | None = None) -> Source:
    """Read and parse a YAML file.

    Raises:
        DocumentError: it cannot be opened, decoded or parsed.
    """
    shown = name or str(path)
    try:
        raw = read_regular(path, MAX_BYTES)
    except UnreadableError as bad:
        raise DocumentError([Problem(Place(shown, 1, 1), str(bad))]) from None
    return read_source(raw, shown)
