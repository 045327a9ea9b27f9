"""Every word an installation says, its parts' figures included: where it stands, what else it could say, and how to unsay it."""

from __future__ import annotations

import copy
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any, Literal, get_args, get_origin

from installations import Plain
from pydantic import BaseModel

from installcheck.document import Document
from installcheck.model.fields import Model
from installcheck.model.installation import Installation
from installcheck.model.quantities import Gauge, Quantity

Path = tuple[str | int, ...]
_NAMES = {"zone": "zones", "engine": "engines", "bundle": "bundles"}
"""Words that name another thing, and the section it is in."""
_CHOICES = 3
"""Of a word out of a list, how many others are tried."""


@dataclass(frozen=True, slots=True)
class Word:
    """One word of an installation.

    Attributes:
        path: where a document says it.
        inner: where the typed model holds it.
        value: what is said.
        kind: type of the field.
    """

    path: Path
    inner: Path
    value: Any
    kind: Any

    @property
    def section(self) -> str:
        """The section it is in."""
        return str(self.path[0])

    @property
    def words(self) -> str:
        """The word under its item, entries of a list or mapping all alike: 'route.length'."""
        return ".".join(step for step in self.path[1:] if isinstance(step, str) and step in _FIELDS)


def _models(kind: Any, seen: set[type[BaseModel]]) -> set[type[BaseModel]]:
    for inner in get_args(kind) or (kind,):
        if isinstance(inner, type) and issubclass(inner, BaseModel):
            if inner not in seen:
                seen.add(inner)
                for field in inner.model_fields.values():
                    _models(field.annotation, seen)
        elif get_args(inner):
            _models(inner, seen)
    return seen


_FIELDS = frozenset(
    field.alias or name
    for model in _models(Installation, set()) - {Installation}
    for name, field in model.model_fields.items()
)
"""Every word of the model: what a path holds beside them are ids, keys and indices."""


def words(document: Document) -> Iterator[Word]:
    """Every word of every item, those a part supplies included."""
    for section in Installation.model_fields:
        held = getattr(document.installation, section)
        if isinstance(held, Model):
            yield from _of(held, (section,), (section,))
        else:
            for ident, item in held.items() if isinstance(held, dict) else enumerate(held):
                yield from _of(item, (section, ident), (section, ident))


def _of(node: Any, path: Path, inner: Path, kind: Any = None) -> Iterator[Word]:
    if isinstance(node, Model):
        for name, field in type(node).model_fields.items():
            value = getattr(node, name)
            if value is not None:
                told = path if name == "spec" else (*path, field.alias or name)
                yield from _of(value, told, (*inner, name), field.annotation)
    elif isinstance(node, Mapping) and any(isinstance(v, (Model, Quantity)) for v in node.values()):
        for key, value in node.items():
            yield from _of(value, (*path, key), (*inner, key), kind)
    elif isinstance(node, Sequence) and any(isinstance(v, Model) for v in node):
        for i, value in enumerate(node):
            yield from _of(value, (*path, i), (*inner, i), kind)
    else:
        yield Word(path, inner, node, kind)


def unsaid(plain: Plain, word: Word, document: Document) -> Plain:
    """The plain document with ``unknown`` in place of the word; a part's figure is overridden where the part is used."""
    changed = copy.deepcopy(plain)
    node: Any = changed
    for depth, step in enumerate(word.path[:-1]):
        if isinstance(node, dict) and step not in node:
            item = getattr(document.installation, word.section)[word.path[1]]
            assert depth == 2, word.path
            node[step] = _written(getattr(item.spec, str(step)))
        node = node[step]
    node[word.path[-1]] = "unknown"
    return changed


def _written(value: Any) -> Any:
    """What the model holds, as a document would write it."""
    if isinstance(value, Model):
        held = {f.alias or n: getattr(value, n) for n, f in type(value).model_fields.items()}
        return {word: _written(one) for word, one in held.items() if one is not None}
    if isinstance(value, Mapping):
        return {k: _written(v) for k, v in value.items()}
    if isinstance(value, (list, tuple)):
        return [_written(v) for v in value]
    return (
        value.text if isinstance(value, Quantity) else f"{value} AWG" if isinstance(value, Gauge) else value
    )


def otherwise(document: Document, word: Word) -> Iterator[Document]:
    """The document with other things said in place of the word: much more and much less, other words it could be."""
    for value in _others(word, document.installation):
        yield replace(document, installation=_with(document.installation, word.inner, value))


def _others(word: Word, model: Installation) -> Iterator[Any]:
    value, last = word.value, str(word.path[-1])
    choices = [c for c in _choices(word.kind) if c != value]
    if isinstance(value, Quantity):
        more = value + 60 if value.kind == "temperature" else value * 4 or 1.0
        yield Quantity(more, value.text, value.unit, value.kind)
    elif isinstance(value, Gauge):
        yield Gauge("8" if value.number > 14 else "24")
    elif isinstance(value, bool):
        yield not value
    elif isinstance(value, (int, float)):
        yield type(value)(value * 2)
    elif choices:
        yield from choices[:_CHOICES]
    elif last in _NAMES:
        yield from [k for k in getattr(model, _NAMES[last]) if k != value][:_CHOICES]
    elif isinstance(value, str):
        yield "something else"
    elif isinstance(value, (list, tuple)) and len(value) > 1:
        yield type(value)(value[:-1])


def _choices(kind: Any) -> Iterator[str]:
    if get_origin(kind) is Literal:
        yield from get_args(kind)
    else:
        for inner in get_args(kind):
            yield from _choices(inner)


def _with(value: Any, inner: Path, put: Any) -> Any:
    if not inner:
        return put
    step, rest = inner[0], inner[1:]
    if isinstance(value, Model):
        return value.model_copy(update={str(step): _with(getattr(value, str(step)), rest, put)})
    if isinstance(value, Mapping):
        return {**value, step: _with(value[step], rest, put)}
    made = [_with(one, rest, put) if i == step else one for i, one in enumerate(value)]
    return type(value)(made) if isinstance(value, tuple) else made
