"""Spots of a YAML text that is being changed: what stands where, and aliases that must not change along."""

from __future__ import annotations

import re

from .source import DocPath
from .spelling import one_line
from .yaml_tree import Entry, Node, Tree, tree_of

REST_OF_LINE = re.compile(r"[ \t]*(#[^\r\n]*)?(\r\n|[\r\n]|\Z)")
"""Blanks and a comment up to the end of a line."""


class CannotWriteError(Exception):
    """Why a change cannot be made in a text; the message says what to do."""


class Spots:
    """A text being changed, and where things stand in it now.

    Attributes:
        text: as it is now.
        newline: how its lines end.
    """

    def __init__(self, text: str) -> None:
        self.text = text
        self.newline = "\r\n" if "\r\n" in text else "\n"
        self._tree: Tree | None = None

    @property
    def tree(self) -> Tree:
        """The text as it is now."""
        if self._tree is None:
            self._tree = tree_of(self.text)
        return self._tree

    def splice(self, start: int, end: int, new: str) -> None:
        """Put ``new`` in the place of some characters."""
        self.text = self.text[:start] + new + self.text[end:]
        self._tree = None

    def deepest(self, path: DocPath) -> tuple[Node, int]:
        """The deepest node on a path, as written there, and how many steps lead to it."""
        node = self.tree.root
        assert node is not None
        for depth, step in enumerate(path):
            k = node.entry(step) if node.kind in ("mapping", "list") else None
            if k is None:
                return node, depth
            node = node.entries[k].value
        return node, len(path)

    def holder(self, path: DocPath) -> Entry | None:
        """The entry whose value stands at ``path``; ``None`` for the whole text."""
        if not path:
            return None
        node, _ = self.deepest(path[:-1])
        k = node.entry(path[-1])
        return node.entries[k] if k is not None else None

    def released(self, path: DocPath) -> None:
        """Let no alias elsewhere stand for anything at ``path`` or in it."""
        for _ in range(1000):
            node, depth = self.deepest(path)
            if depth < len(path) or not any(self.release(inner, node) for inner in node.within()):
                return

    def release(self, node: Node, whole: Node | None = None) -> bool:
        """Give the anchor of a node to the first alias outside of ``whole``, with what it stands for."""
        if node.anchor is None or node.kind == "alias":
            return False
        assert self.tree.root is not None
        inside = {id(n) for n in (whole or node).within()}
        for other in self.tree.root.within():
            if other.kind == "alias" and other.text == node.anchor and id(other) not in inside:
                break
        else:
            return False
        self.splice(other.start, other.end, f"&{node.anchor} {one_line(self.tree.plain(node))}")
        properties = self.text[node.start : node.body]
        rest = re.sub(rf"&{re.escape(node.anchor)}[ \t]*", "", properties, count=1)
        self.splice(node.start, node.body, "" if not rest.strip() and node.flow else rest)
        return True

    def line_start(self, at: int) -> int:
        """The index of the first character of the line ``at`` is in."""
        return max(self.text.rfind("\n", 0, at), self.text.rfind("\r", 0, at)) + 1

    def line_after(self, at: int) -> int:
        """The index of the line after the one that ends at ``at``, which may hold a comment still."""
        if at and self.text[at - 1] in "\r\n":
            return at
        found = REST_OF_LINE.match(self.text, at)
        if found is None:
            raise CannotWriteError("more stands on the same line; write it on a line of its own")
        return found.end()

    def column(self, at: int) -> int:
        """How many characters stand before ``at`` in its line."""
        return at - self.line_start(at)
