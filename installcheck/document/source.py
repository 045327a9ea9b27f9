"""YAML text -> plain values (every scalar as its text), with the place of each kept beside them.

PyYAML's C parser composes nodes; nothing is ever constructed from a tag. Scalars stay text, so that ``N``, ``no``,
``12:30`` or ``010`` mean what was written; the model gives them types.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from hashlib import sha256
from pathlib import Path
from typing import NamedTuple, TypeAlias

import yaml

Plain: TypeAlias = "str | list[Plain] | dict[str, Plain] | None"
Key: TypeAlias = "str | int"
DocPath: TypeAlias = "tuple[Key, ...]"

MAX_BYTES = 64 * 1024 * 1024
MAX_DEPTH = 40
MAX_VALUES = 5_000_000
MAX_SCALAR = 100_000
_CORE_TAGS = frozenset(
    f"tag:yaml.org,2002:{t}"
    for t in ("str", "int", "float", "bool", "null", "map", "seq", "timestamp", "value")
)
_NULLS = frozenset(("", "~", "null", "Null", "NULL"))


class Place(NamedTuple):
    """Where a value stands: file, 1-based line and column."""

    file: str
    line: int
    column: int

    def __str__(self) -> str:
        return f"{self.file}:{self.line}:{self.column}"


class Problem(NamedTuple):
    """One thing wrong with a document: where, what, and the offending text."""

    place: Place
    message: str
    text: str = ""

    def __str__(self) -> str:
        return f"{self.place}: {self.message}"


class DocumentError(Exception):
    """A document that cannot be read. ``problems`` holds everything found, sorted by place."""

    def __init__(self, problems: Sequence[Problem]) -> None:
        self.problems = tuple(
            sorted(set(problems), key=lambda p: (p.place.file, p.place.line, p.place.column, p.message))
        )
        super().__init__("\n".join(str(p) for p in self.problems))


@dataclass(slots=True)
class Source:
    """One YAML file: its plain value and the node tree that remembers positions."""

    name: str
    root: yaml.Node | None
    plain: Plain
    digest: bytes = b""
    problems: list[Problem] = field(default_factory=list)
    unknowns: set[int] = field(default_factory=set)
    _index: dict[int, dict[str, tuple[yaml.Node, yaml.Node]]] = field(default_factory=dict)

    def place_of(self, node: yaml.Node) -> Place:
        """The place where a node starts."""
        return Place(self.name, node.start_mark.line + 1, node.start_mark.column + 1)

    def find(self, path: DocPath) -> tuple[yaml.Node, yaml.Node | None, int] | None:
        """The deepest node on ``path``: (node, its key node, how many steps of the path were found)."""
        if self.root is None:
            return None
        node, key, depth = self.root, None, 0
        for step in path:
            if isinstance(node, yaml.MappingNode):
                entry = self._entries(node).get(str(step))
                if entry is None:
                    break
                key, node = entry
            elif isinstance(node, yaml.SequenceNode) and isinstance(step, int) and step < len(node.value):
                key, node = None, node.value[step]
            else:
                break
            depth += 1
        return node, key, depth

    def place(self, path: DocPath, *, of_key: bool = False) -> Place:
        """The place of the value at ``path``, or of its nearest parent that exists in this file."""
        found = self.find(path)
        if found is None:
            return Place(self.name, 1, 1)
        node, key, depth = found
        whole = depth == len(path)
        return self.place_of(
            key
            if key is not None and (of_key or not whole or not isinstance(node, yaml.ScalarNode))
            else node
        )

    def _entries(self, node: yaml.MappingNode) -> dict[str, tuple[yaml.Node, yaml.Node]]:
        entries = self._index.get(id(node))
        if entries is None:
            entries = self._index[id(node)] = {
                k.value: (k, v) for k, v in node.value if isinstance(k, yaml.ScalarNode)
            }
        return entries

    def declared_unknown(self, path: DocPath) -> bool:
        """Whether the document says ``unknown`` at ``path``."""
        found = self.find(path)
        return found is not None and found[2] == len(path) and id(found[0]) in self.unknowns


class _Builder:
    def __init__(self, source: Source) -> None:
        self.source, self.count = source, 0

    def problem(self, node: yaml.Node, message: str, text: str = "") -> None:
        self.source.problems.append(Problem(self.source.place_of(node), message, text))

    def build(self, node: yaml.Node, depth: int) -> Plain:
        self.count += 1
        if self.count > MAX_VALUES:
            raise DocumentError(
                [
                    Problem(
                        self.source.place_of(node),
                        f"more than {MAX_VALUES:,} values (aliases counted each time): too large to read",
                    )
                ]
            )
        if isinstance(node, yaml.ScalarNode):
            return self._scalar(node)
        if depth > MAX_DEPTH:
            self.problem(node, f"nested deeper than {MAX_DEPTH} levels")
            return None
        if node.tag not in _CORE_TAGS:
            self.problem(node, f"the tag '{node.tag}' is not read; write plain values", node.tag)
            return None
        if isinstance(node, yaml.SequenceNode):
            return [self.build(child, depth + 1) for child in node.value]
        return self._mapping(node, depth)

    def _scalar(self, node: yaml.ScalarNode) -> Plain:
        text: str = node.value
        if node.tag not in _CORE_TAGS:
            self.problem(node, f"the tag '{node.tag}' is not read; write plain values", node.tag)
            return None
        if node.style is None and text in _NULLS:
            return None
        if len(text) > MAX_SCALAR:
            self.problem(node, f"a text of {len(text):,} characters is too long to be meant", text[:40])
            return None
        if text == "unknown":
            self.source.unknowns.add(id(node))
            return None
        return text

    def _mapping(self, node: yaml.Node, depth: int) -> dict[str, Plain]:
        made: dict[str, Plain] = {}
        first: dict[str, yaml.Node] = {}
        for key, value in node.value:
            if not isinstance(key, yaml.ScalarNode):
                self.problem(key, "a key must be a plain word")
                continue
            word = key.value
            if key.tag == "tag:yaml.org,2002:merge":
                self.problem(key, "merge keys ('<<') are not read; put what is shared in a part file", word)
                continue
            if word in first:
                line = first[word].start_mark.line + 1
                self.problem(key, f"'{word}' is here twice; the first is on line {line}", word)
                continue
            first[word] = key
            made[word] = self.build(value, depth + 1)
        return made


def read_text(raw: bytes, name: str) -> str:
    """Bytes of a document as text.

    Raises:
        DocumentError: too large, or not UTF-8 (with the line of the first bad byte).
    """
    if len(raw) > MAX_BYTES:
        raise DocumentError(
            [
                Problem(
                    Place(name, 1, 1),
                    f"{len(raw):,} bytes: larger than the {MAX_BYTES // 1048576} MiB that are read",
                )
            ]
        )
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError as bad:
        before = raw[: bad.start]
        line = before.count(b"\n") + 1
        column = bad.start - (before.rfind(b"\n") + 1) + 1
        raise DocumentError(
            [
                Problem(
                    Place(name, line, column),
                    f"the byte 0x{raw[bad.start]:02x} is not UTF-8 text; save the file as UTF-8",
                )
            ]
        ) from None


def _guard_nesting(text: str, name: str) -> None:
    """Refuse nesting that would exhaust the stack of the recursive composer, before it runs."""
    depth = 0
    for event in yaml.parse(text, Loader=yaml.CSafeLoader):
        if isinstance(event, yaml.CollectionStartEvent):
            depth += 1
            if depth > 10 * MAX_DEPTH:
                mark = event.start_mark or yaml.Mark(name, 0, 0, 0, "", 0)
                raise DocumentError(
                    [
                        Problem(
                            Place(name, mark.line + 1, mark.column + 1),
                            f"nested deeper than {MAX_DEPTH} levels",
                        )
                    ]
                )
        elif isinstance(event, yaml.CollectionEndEvent):
            depth -= 1


def _may_nest_deep(text: str) -> bool:
    flow = text.count("[") + text.count("{")
    dashes = max((line.count("- ") + line.count("? ") for line in text.splitlines()), default=0)
    indent = max((len(line) - len(line.lstrip(" ")) for line in text.splitlines()), default=0)
    return (
        (flow > 10 * MAX_DEPTH and any(n in text for n in ("[[", "[ [", "{{", "[{", "{ {")))
        or dashes > MAX_DEPTH
        or indent > 5 * MAX_DEPTH
    )


def read_source(raw: bytes, name: str) -> Source:
    """Parse one YAML document.

    Raises:
        DocumentError: the text is not YAML, or holds more than one document, or cannot be decoded.
    """
    text = read_text(raw, name)
    try:
        if _may_nest_deep(text):
            _guard_nesting(text, name)
        root = yaml.compose(text, Loader=yaml.CSafeLoader)
    except yaml.MarkedYAMLError as bad:
        mark = bad.problem_mark or bad.context_mark
        place = Place(name, mark.line + 1, mark.column + 1) if mark else Place(name, 1, 1)
        what = " ".join(str(p) for p in (bad.context, bad.problem) if p)
        raise DocumentError([Problem(place, f"not YAML: {what}")]) from None
    except yaml.reader.ReaderError as bad:
        line = text.count("\n", 0, bad.position) + 1
        raise DocumentError([Problem(Place(name, line, 1), f"not YAML: {bad.reason}")]) from None
    except yaml.YAMLError as bad:
        raise DocumentError([Problem(Place(name, 1, 1), f"not YAML: {bad}")]) from None
    except (RecursionError, ValueError) as bad:
        raise DocumentError([Problem(Place(name, 1, 1), f"cannot be read: {bad}")]) from None
    source = Source(name, root, None, sha256(raw).digest())
    if root is not None:
        if _loops(root):
            raise DocumentError(
                [Problem(source.place_of(root), "an alias points into itself; write the values out")]
            )
        source.plain = _Builder(source).build(root, 0)
    return source


def _loops(root: yaml.Node) -> bool:
    """Whether an alias contains itself (depth-first, iterative, each node entered once)."""
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
            return True
        elif id(child) not in done and not isinstance(child, yaml.ScalarNode):
            active.add(id(child))
            stack.append((child, _children(child)))
    return False


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
        with path.open("rb") as handle:
            raw = handle.read(MAX_BYTES + 1)
    except (OSError, ValueError) as bad:
        reason = getattr(bad, "strerror", None) or str(bad)
        raise DocumentError([Problem(Place(shown, 1, 1), f"cannot be opened: {reason}")]) from None
    return read_source(raw, shown)


def mapping(value: Plain) -> Mapping[str, Plain]:
    """A value as a mapping; an empty one if it is anything else."""
    return value if isinstance(value, dict) else {}
