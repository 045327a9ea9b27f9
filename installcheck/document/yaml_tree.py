"""YAML text -> a tree that knows where every entry begins and ends, so that a text can be changed in one spot.

Extents are indices into the text. PyYAML's C parser says where a node begins; where a block ends, comments left out, is the
end of the last thing in it.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import field
from typing import Literal

import yaml

from ..dataclass import dataclass
from .source import NULLS, Plain
from .yaml_text import uncollected

MERGE = "<<"
_PROPERTIES = re.compile(r"(?:[&!]\S*(?:[ \t]|\r\n|[\r\n])*(?:#[^\r\n]*(?:\r\n|[\r\n])[ \t]*)*)*")
"""An anchor and a tag, with what stands between them and the value."""
_SPACE = re.compile(r"(?:[ \t]|\r\n|[\r\n]|#[^\r\n]*)*")
"""Blanks, line ends and comments."""


@dataclass(slots=True, eq=False)
class Node:
    """A value in a text.

    Attributes:
        kind: what it is; an alias stands for the node of its anchor.
        start: index of its first character, its anchor and tag included.
        body: index of its first character after these.
        end: index after its last character, comments after it left out.
        flow: whether a mapping or list is written in brackets.
        style: of a scalar: ``|``, ``>``, a quote, or empty for plain.
        text: of a scalar, what it says; of an alias, the name of its anchor.
        anchor: name of its anchor.
        entries: of a mapping or list.
    """

    kind: Literal["scalar", "mapping", "list", "alias"]
    start: int
    body: int
    end: int
    flow: bool = False
    style: str = ""
    text: str = ""
    anchor: str | None = None
    entries: list[Entry] = field(default_factory=list)

    @property
    def empty(self) -> bool:
        """Whether nothing at all is written for it."""
        return self.kind == "scalar" and self.body == self.end

    @property
    def block(self) -> bool:
        """Whether it is a mapping or list without brackets."""
        return self.kind in ("mapping", "list") and not self.flow

    def entry(self, step: str | int) -> int | None:
        """Which of its entries ``step`` is."""
        if self.kind == "list":
            return step if isinstance(step, int) and 0 <= step < len(self.entries) else None
        for i, entry in enumerate(self.entries):
            if entry.key is not None and entry.key.kind == "scalar" and entry.key.text == str(step):
                return i
        return None

    def within(self) -> Iterator[Node]:
        """Itself and every node in it, keys too."""
        yield self
        for entry in self.entries:
            if entry.key is not None:
                yield from entry.key.within()
            yield from entry.value.within()


@dataclass(slots=True, eq=False)
class Entry:
    """An entry of a mapping, or of a list (without a key).

    Attributes:
        start: index of its key, or of the dash or value of a list's entry.
    """

    start: int
    key: Node | None
    value: Node

    @property
    def end(self) -> int:
        """Index after its last character."""
        return max(self.value.end, self.key.end if self.key is not None else 0)

    @property
    def merges(self) -> bool:
        """Whether it takes over entries of another mapping."""
        return self.key is not None and self.key.text == MERGE and not self.key.style


@dataclass(slots=True, eq=False)
class Tree:
    """A text as nodes.

    Attributes:
        root: ``None`` if the text holds nothing.
        anchors: nodes by their anchor.
    """

    text: str
    root: Node | None
    anchors: dict[str, Node]

    def meant(self, node: Node) -> Node:
        """The node an alias stands for; any other is itself."""
        return self.anchors[node.text] if node.kind == "alias" else node

    def plain(self, node: Node) -> Plain:
        """What a node says, 'unknown' in that word."""
        node = self.meant(node)
        if node.kind == "scalar":
            return None if not node.style and node.text in NULLS else node.text
        if node.kind == "list":
            return [self.plain(e.value) for e in node.entries]
        own = {e.key.text: self.plain(e.value) for e in node.entries if e.key is not None and not e.merges}
        return {**own, **{k: v for k, v in self.merged(node).items() if k not in own}}

    def merged(self, node: Node) -> dict[str, Plain]:
        """What a mapping takes over from others by its merge keys; the first that says a word is taken."""
        taken: dict[str, Plain] = {}
        for entry in node.entries:
            if entry.merges:
                value = self.meant(entry.value)
                for one in [e.value for e in value.entries] if value.kind == "list" else [value]:
                    plain = self.plain(one)
                    for word, said in plain.items() if isinstance(plain, dict) else ():
                        taken.setdefault(word, said)
        return taken

    def past(self, at: int) -> int:
        """The index after blanks, line ends and comments at ``at``."""
        found = _SPACE.match(self.text, at)
        return found.end() if found else at


def tree_of(text: str) -> Tree:
    """The tree of a text that has been read as a document before."""
    with uncollected():
        return _Reader(text).read()


class _Reader:
    def __init__(self, text: str) -> None:
        self.tree = Tree(text, None, {})
        self.events: list[yaml.Event] = []
        loader = yaml.CSafeLoader(text)
        try:
            while (event := loader.get_event()) is not None and not isinstance(event, yaml.StreamEndEvent):
                self.events.append(event)
        finally:
            loader.dispose()
        self.events.reverse()

    def read(self) -> Tree:
        while self.events:
            if isinstance(self.events[-1], yaml.NodeEvent):
                self.tree.root = self._node()
            else:
                self.events.pop()
        return self.tree

    def _node(self) -> Node:
        event = self.events.pop()
        start, end = _index(event.start_mark), _index(event.end_mark)
        if isinstance(event, yaml.AliasEvent):
            return Node("alias", start, start, end, text=str(event.anchor))
        assert isinstance(event, (yaml.ScalarEvent, yaml.CollectionStartEvent))
        found = _PROPERTIES.match(self.tree.text, start, end)
        body = found.end() if found and (event.anchor or event.tag) else start
        if isinstance(event, yaml.ScalarEvent):
            node = Node("scalar", start, body, end, style=event.style or "", text=str(event.value))
        elif isinstance(event, yaml.MappingStartEvent):
            node = self._mapping(Node("mapping", start, body, end, flow=bool(event.flow_style)))
        else:
            node = self._list(Node("list", start, body, end, flow=bool(event.flow_style)))
        node.anchor = event.anchor
        if node.anchor is not None:
            self.tree.anchors[node.anchor] = node
        return node

    def _mapping(self, node: Node) -> Node:
        while not isinstance(self.events[-1], yaml.MappingEndEvent):
            key = self._node()
            node.entries.append(Entry(key.start, key, self._node()))
        return self._ended(node)

    def _list(self, node: Node) -> Node:
        at = node.body
        while not isinstance(self.events[-1], yaml.SequenceEndEvent):
            dash = self.tree.past(at)
            value = self._node()
            node.entries.append(Entry(value.start if node.flow else dash, None, value))
            at = max(value.end, dash + 1)
        return self._ended(node)

    def _ended(self, node: Node) -> Node:
        event = self.events.pop()
        if node.entries and not node.flow:
            node.end = node.entries[-1].end
        elif node.flow:
            node.end = max(_index(event.end_mark), node.entries[-1].end if node.entries else 0)
        return node


def _index(mark: object) -> int:
    found: int = mark.index  # type: ignore[attr-defined]
    return found
