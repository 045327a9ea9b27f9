"""What can be written at a place of a text, and what a word there means: from the schema, the parts and the document."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from functools import cache
from typing import Any

from ..dataclass import dataclass
from ..document.parts import Library, standard_library
from ..document.schema import document_schema
from ..document.schema_offers import ENDS, NAMED, ends
from ..model.edits import Path
from ..model.installation import Installation
from .context import Context

Node = Mapping[str, Any]
MOST = 400
"""Offers of one answer; what is written narrows them."""


@dataclass(frozen=True, slots=True)
class Offer:
    """A word or value that fits.

    Attributes:
        word: what is written.
        kind: 'word', 'thing', 'terminal', 'part', 'size' or 'value'.
        help: what it is, in a line.
    """

    word: str
    kind: str
    help: str = ""


@cache
def _schema() -> Node:
    return document_schema()


def node_at(path: Path) -> Node | None:
    """The schema of what stands at a path; ``None`` where nothing can stand."""
    node: Node | None = _schema()
    for step in path:
        if node is None:
            return None
        node = _inside(node, step)
    return node


def _plain(node: Node) -> Iterator[Node]:
    """A node and its alternatives, references followed."""
    if "$ref" in node:
        name = str(node["$ref"]).rpartition("/")[2]
        yield from _plain(_schema()["$defs"][name])
        return
    yield node
    for other in (*node.get("anyOf", ()), *node.get("oneOf", ()), *node.get("allOf", ())):
        yield from _plain(other)


def _inside(node: Node, step: str | int) -> Node | None:
    for one in _plain(node):
        if isinstance(step, int):
            if isinstance(one.get("items"), dict):
                return one["items"]  # type: ignore[no-any-return]
        elif step in one.get("properties", {}):
            return one["properties"][step]  # type: ignore[no-any-return]
        elif isinstance(one.get("additionalProperties"), dict):
            return one["additionalProperties"]  # type: ignore[no-any-return]
    return None


def help_at(path: Path) -> str:
    """What the word at a path means, in a line; empty where it is not known."""
    node = node_at(path)
    if node is None:
        return ""
    if "description" in node:
        return str(node["description"])
    return next((str(one["description"]) for one in _plain(node) if "description" in one), "")


def offers(context: Context, model: Installation | None, library: Library | None = None) -> list[Offer]:
    """What fits at a context, what begins as written first.

    Args:
        model: the document as it was last read, for its ids; ``None`` if it never was.
        library: the parts it can use; the standard ones when left out.
    """
    parts = library if library is not None else standard_library()
    found = _values(context.path, model, parts) if context.of_value else _words(context)
    typed = context.written.strip().lower().lstrip("\"'")
    seen: dict[str, Offer] = {}
    for one in found:
        seen.setdefault(one.word, one)
    ranked = sorted(
        (one for one in seen.values() if typed in one.word.lower()),
        key=lambda one: (not one.word.lower().startswith(typed),),
    )
    return ranked[:MOST]


def _words(context: Context) -> Iterator[Offer]:
    node = node_at(context.path)
    if node is None:
        return
    for one in _plain(node):
        for word, inner in one.get("properties", {}).items():
            if word not in context.beside:
                yield Offer(word, "word", help_at((*context.path, word)) or str(inner.get("description", "")))


def _values(path: Path, model: Installation | None, library: Library) -> Iterator[Offer]:
    word = next((step for step in reversed(path) if isinstance(step, str)), "")
    section = str(path[0]) if path else ""
    if word == "part":
        for key, part in library.parts.items():
            if part.section == section:
                yield Offer(key, "part", str(part.raw.get("title") or ""))
        return
    if word in ("gauge", "size") and model is not None and len(path) == 3:
        yield from _sizes(model, section, str(path[1]), library)
    if model is not None:
        yield from _things(word, model)
    node = node_at(path)
    for one in _plain(node) if node is not None else ():
        for value in one.get("enum", ()):
            if value not in (None, True, False):
                yield Offer(str(value), "value")


def _sizes(model: Installation, section: str, ident: str, library: Library) -> Iterator[Offer]:
    thing = model.section(section).get(ident)
    part = library.parts.get(str(getattr(thing, "part", "")))
    if part is not None:
        for size in part.as_written():
            yield Offer(size, "size")


def _things(word: str, model: Installation) -> Iterator[Offer]:
    if word in NAMED:
        yield from _ids(model, (NAMED[word],))
    elif word in ENDS:
        for end, section in ends(model):
            yield Offer(end, "terminal" if "." in end else "thing", section.replace("_", " "))


def _ids(model: Installation, sections: Iterable[str]) -> Iterator[Offer]:
    for section in sections:
        for ident, thing in model.section(section).items():
            yield Offer(ident, "thing", str(getattr(thing, "title", None) or section.replace("_", " ")))
