"""Changes of a YAML text in one spot each: what is not changed stays as it is, byte for byte."""

from __future__ import annotations

import re

from .source import DocPath, Plain
from .spelling import WIDTH, lines, one_line, scalar, wrapped
from .yaml_spots import REST_OF_LINE, CannotWriteError, Spots
from .yaml_tree import Node

_LINE = re.compile(r"[^\r\n]*")
_PROPERTIES = re.compile(r"(?:[&!]\S*[ \t]*)+")
"""An anchor and a tag."""


class Splicing(Spots):
    """A text being changed."""

    def put(self, path: DocPath, value: Plain) -> None:
        """Write a value, 'unknown' in that word.

        Raises:
            CannotWriteError: the way it is written does not allow it.
        """
        root = self.tree.root
        if root is None or not path:
            raise CannotWriteError("the text holds no mapping to write in")
        self._opened(path[:-1])
        node, depth = self.deepest(path)
        if depth == len(path):
            self._replace(path, value)
        elif node.kind in ("mapping", "list"):
            word = str(path[depth]) if node.kind == "mapping" else None
            self._append(node, word, _nested(path[depth + 1 :], value), depth)
        else:
            self._replace(path[:depth], _nested(path[depth:], value))

    def drop(self, path: DocPath) -> None:
        """Take out what stands at ``path``, with its word.

        Raises:
            CannotWriteError: the way it is written does not allow it.
        """
        self._opened(path[:-1])
        self.released(path)
        node, depth = self.deepest(path[:-1])
        k = node.entry(path[-1]) if depth == len(path) - 1 else None
        if node.kind == "mapping" and str(path[-1]) in self.tree.merged(node):
            self._unmerge(path[:-1])  # what is taken over would show again
            self.drop(path)
            return
        if k is None:
            raise CannotWriteError(f"'{path[-1]}' is not written there")
        if len(node.entries) == 1:
            self._emptied(path[:-1], node)
        elif node.flow:
            self._drop_in_line(node, k)
        else:
            self._drop_lines(node, k)

    def _opened(self, path: DocPath) -> None:
        """Let everything on the way to ``path`` be written there: aliases, merged values and shared anchors are resolved."""
        for _ in range(1000):
            if not any(self._open(path[:depth]) for depth in range(1, len(path) + 1)):
                return
        raise CannotWriteError("too many aliases lead there; write the values out")

    def _open(self, path: DocPath) -> bool:
        node, depth = self.deepest(path)
        if depth < len(path):
            merged = self.tree.merged(node).get(str(path[depth])) if node.kind == "mapping" else None
            if depth == len(path) - 1 and isinstance(merged, (dict, list)):
                self._append(node, str(path[depth]), merged, depth)
                return True
            return False
        if node.kind == "alias":
            self.splice(node.start, node.end, one_line(self.tree.plain(node)))
            return True
        return self.release(node)

    def _unmerge(self, path: DocPath) -> None:
        """Write out what a mapping takes over by its merge keys."""
        node, depth = self.deepest(path)
        merged = self.tree.merged(node)
        own = {e.key.text for e in node.entries if e.key is not None and not e.merges}
        for word, value in merged.items():
            if word not in own:
                self._append(self.deepest(path)[0], word, value, depth)
        for _ in range(len(node.entries)):
            node, _ = self.deepest(path)
            k = next((i for i, e in enumerate(node.entries) if e.merges), None)
            if k is None:
                return
            (self._drop_in_line if node.flow else self._drop_lines)(node, k)

    def _replace(self, path: DocPath, value: Plain) -> None:
        if self._alike(path, value):
            self._opened(path)
            self._reconcile(path, value)
            return
        self.released(path)
        node, _ = self.deepest(path)
        if node.block:
            self._replace_block(path, node, value)
        elif node.style in ("|", ">"):
            self._replace_folded(node, value)
        elif node.empty:
            self._fill(path, node, value)
        elif isinstance(value, str):
            self.splice(node.start, node.end, scalar(value, style=node.style, flow=self._in_brackets(path)))
        else:
            self.splice(node.start, node.end, self._spelt(node.start, value))

    def _in_brackets(self, path: DocPath) -> bool:
        """Whether ``path`` lies in brackets."""
        return any(self.deepest(path[:depth])[0].flow for depth in range(len(path)))

    def _spelt(self, at: int, value: Plain) -> str:
        """A value to stand at ``at``, in as many lines as it needs."""
        line = self.text[self.line_start(at) : at]
        indent = len(line) - len(line.lstrip(" "))
        return wrapped(value, len(line), indent + 2).replace("\n", self.newline)

    def _alike(self, path: DocPath, value: Plain) -> bool:
        """Whether what is written at ``path`` is best changed into ``value`` entry by entry."""
        node, _ = self.deepest(path)
        there = self.tree.plain(node) if node.kind in ("mapping", "list") else None
        if isinstance(value, dict) and isinstance(there, dict):
            return bool(value.keys() & there.keys())
        return isinstance(value, list) and isinstance(there, list) and len(value) == len(there) > 0

    def _reconcile(self, path: DocPath, value: Plain) -> None:
        """Change a mapping or list into another, entry by entry."""
        there = self.tree.plain(self.deepest(path)[0])
        if isinstance(value, list) and isinstance(there, list):
            for i, (old, new) in enumerate(zip(there, value, strict=True)):
                if old != new:
                    self.put((*path, i), new)
        elif isinstance(value, dict) and isinstance(there, dict):
            for word, new in value.items():
                if word not in there or there[word] != new:
                    self.put((*path, word), new)
            for word in [w for w in there if w not in value]:
                self.drop((*path, word))

    def _replace_folded(self, node: Node, value: Plain) -> None:
        """Put a value in the place of a text in lines of its own; a comment beside its sign stays."""
        written = self.text[node.body : node.end]
        head = written.splitlines(keepends=True)[0]
        comment = re.sub(r"^[|>][-+0-9]*", "", head).rstrip()
        ended = self.newline if written.endswith(("\n", "\r")) else ""
        self.splice(node.start, node.end, one_line(value) + comment + ended)

    def _fill(self, path: DocPath, node: Node, value: Plain) -> None:
        """Write a value where nothing is written."""
        entry = self.holder(path)
        key = entry.key if entry is not None else None
        at, blank = node.body, ""
        if key is not None and ":" not in self.text[key.end : at]:
            at, blank = key.end, ": "
        elif at and self.text[at - 1] not in " \t":
            blank = " "
        self.splice(at, at, blank + one_line(value))

    def _replace_block(self, path: DocPath, node: Node, value: Plain) -> None:
        """Put a value in the place of lines of a block."""
        entry = self.holder(path)
        first = self.line_start(node.body)
        opens = entry.start if entry is not None else node.start
        if entry is None or first <= opens:  # it begins on the line of its dash, or is the whole text
            self.splice(node.start, node.end, one_line(value))
            return
        at = self.text.index("-", opens) if entry.key is None else self.text.index(":", entry.key.end)
        self.splice(first, self.line_after(node.end), "")
        properties = _PROPERTIES.match(self.text, node.start, first) if node.start < first else None
        end = properties.end() if properties is not None else at + 1
        blank = " " if self.text[end : end + 1] == "#" else ""
        self.splice(at + 1, end, f" {one_line(value)}{blank}")

    def _emptied(self, path: DocPath, node: Node) -> None:
        """Leave an empty mapping or list."""
        empty = "{}" if node.kind == "mapping" else "[]"
        if node.flow:
            self.splice(node.body, node.end, empty)
        elif path:
            self._replace_block(path, node, {} if node.kind == "mapping" else [])
        else:
            self.splice(node.body, node.end, empty)

    def _append(self, node: Node, word: str | None, value: Plain, depth: int) -> None:
        """Write a new entry after the last of a mapping or list."""
        start = f"{scalar(word)}: " if word is not None else "" if node.flow else "- "
        if node.flow:
            self._append_in_line(node, start, value)
            return
        last = node.entries[-1]
        indent = self.column(node.entries[0].start)
        at = self.line_after(last.end)
        if isinstance(value, (dict, list)) and value and (depth == 0 or last.value.block):
            inner = indent + (2 if isinstance(value, dict) or depth == 0 else 0)
            made = [" " * indent + start.rstrip(), *lines(value, inner)]
            if start == "- ":
                made = [" " * indent + "- " + made[1].lstrip(), *made[2:]]
        else:
            made = [" " * indent + start + wrapped(value, indent + len(start), indent + 2)]
        new = "".join(f"{line}\n" for line in made)
        spaced = self.newline * 2
        if depth == 0 and spaced in self.text and not self.text[:at].endswith(spaced):
            new = "\n" + new
        before = "" if at == 0 or self.text[at - 1] in "\r\n" else "\n"
        self.splice(at, at, (before + new).replace("\n", self.newline))

    def _append_in_line(self, node: Node, start: str, value: Plain) -> None:
        new = start + one_line(value)
        if not node.entries:
            self.splice(node.body + 1, node.end - 1, new)
            return
        last = node.entries[-1]
        comma = self.tree.past(last.end)
        first = self.line_start(last.end)
        rest = _LINE.match(self.text, last.end)
        if rest is not None and rest.end() - first <= WIDTH < rest.end() - first + len(new) + 2:
            written = self.text[first : last.end]
            indent = len(written) - len(written.lstrip(" ")) + (0 if first > node.body else 2)
            new = f"\n{' ' * indent}{start}{wrapped(value, indent + len(start), indent + 2, flow=True)}"
            new = new.replace("\n", self.newline)
        else:
            new = f" {new}"
        if self.text[comma] == ",":
            self.splice(comma + 1, comma + 1, new)
        else:
            colon = " " if self.text[last.end - 1] == ":" else ""
            self.splice(last.end, last.end, f"{colon},{new}")

    def _drop_in_line(self, node: Node, k: int) -> None:
        """Take an entry out of brackets, with one comma."""
        entry = node.entries[k]
        start, end = entry.start, entry.end
        comma = self.tree.past(end)
        if self.text[comma] == ",":
            end = comma + 1
        elif k:
            before = self.tree.past(node.entries[k - 1].end)
            if not self.text[before + 1 : start].strip():
                start = before
            else:  # a comment stands between
                self.splice(before, before + 1, "")
                start, end = start - 1, end - 1
        first = self.line_start(start)
        rest = REST_OF_LINE.match(self.text, end)
        if not self.text[first:start].strip(" \t") and rest is not None:
            start, end = first, rest.end()
        elif self.text[end - 1] == ",":
            end += len(self.text[end:]) - len(self.text[end:].lstrip(" \t"))
        self.splice(start, end, "")

    def _drop_lines(self, node: Node, k: int) -> None:
        """Take an entry out of a block, with its lines."""
        entry = node.entries[k]
        first = self.line_start(entry.start)
        if self.text[first : entry.start].strip():  # it shares its line with the dash or key above it
            self.splice(entry.start, node.entries[k + 1].start, "")
        else:
            self.splice(first, self.line_after(entry.end), "")


def _nested(path: DocPath, value: Plain) -> Plain:
    """``value`` within new mappings and lists for the steps of a path."""
    for step in reversed(path):
        value = [value] if isinstance(step, int) else {str(step): value}
    return value
