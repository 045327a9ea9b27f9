"""Every word an installation says, its parts' figures included: where it stands, what else it could say, and how to unsay it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Literal, get_args, get_origin

from pydantic import BaseModel

from installcheck.document import Document
from installcheck.model.edits import Edit, Put
from installcheck.model.fields import Model
from installcheck.model.installation import Installation
from installcheck.model.quantities import KINDS, Gauge, Quantity, in_unit

Path = tuple[str | int, ...]
_NAMES = {"zone": "zones", "engine": "engines", "bundle": "bundles"}
"""Words that name another thing, and the section it is in."""
_CHOICES = 2
"""Of a word out of a list, how many others are tried."""


@dataclass(frozen=True, slots=True)
class Word:
    """One word of an installation.

    Attributes:
        path: where a document says it.
        value: what is said.
        kind: type of the field.
    """

    path: Path
    value: Any
    kind: Any

    @property
    def section(self) -> str:
        """The section it is in."""
        return str(self.path[0])

    @property
    def words(self) -> str:
        """The word under its item, entries of a list or mapping all alike: 'route.length'."""
        return ".".join(step for step in self.path[2:] if isinstance(step, str) and step in _FIELDS)


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
            yield from _of(held, (section,))
        else:
            for ident, item in held.items() if isinstance(held, dict) else enumerate(held):
                yield from _of(item, (section, ident))


def _of(node: Any, path: Path, kind: Any = None) -> Iterator[Word]:
    if isinstance(node, Model):
        for name, field in type(node).model_fields.items():
            value = getattr(node, name)
            if value is not None:
                yield from _of(
                    value, path if name == "spec" else (*path, field.alias or name), field.annotation
                )
    elif isinstance(node, Mapping) and any(isinstance(v, (Model, Quantity)) for v in node.values()):
        for key, value in node.items():
            yield from _of(value, (*path, key), kind)
    elif isinstance(node, Sequence) and any(isinstance(v, Model) for v in node):
        for i, value in enumerate(node):
            yield from _of(value, (*path, i), kind)
    else:
        yield Word(path, node, kind)


def saying(document: Document, word: Word, text: Any) -> Put:
    """Says something else in place of a word; a part's figure is overridden where the part is used."""
    if len(word.path) < 4 or document.holds(word.path[:3]):
        return Put(word.path, text)
    item = getattr(document.installation, word.section)[word.path[1]]
    return Put(word.path[:3], _with(_written(getattr(item.spec, str(word.path[2]))), word.path[3:], text))


def unsaid(document: Document, *swept: Word) -> Edit:
    """Says that words are unknown."""
    return Edit(tuple(saying(document, word, "unknown") for word in swept), "say that it is unknown")


def _with(value: Any, path: Path, put: Any) -> Any:
    if not path:
        return put
    if isinstance(value, dict):
        return {**value, path[0]: _with(value[path[0]], path[1:], put)}
    return [_with(one, path[1:], put) if i == path[0] else one for i, one in enumerate(value)]


def _written(value: Any) -> Any:
    """What the model holds, as a document would write it."""
    if isinstance(value, Model):
        held = {f.alias or n: getattr(value, n) for n, f in type(value).model_fields.items()}
        return {word: _written(one) for word, one in held.items() if one is not None}
    if isinstance(value, Mapping):
        return {str(k): _written(v) for k, v in value.items()}
    if isinstance(value, (list, tuple)):
        return [_written(v) for v in value]
    if isinstance(value, bool):
        return "yes" if value else "no"
    return (
        value.text
        if isinstance(value, Quantity)
        else f"{value} AWG"
        if isinstance(value, Gauge)
        else str(value)
    )


def otherwise(document: Document, word: Word) -> Iterator[Edit]:
    """Says other things in place of a word: much more, other words it could be."""
    for text in _others(word, document.installation):
        yield Edit((saying(document, word, text),), "say something else")


def _others(word: Word, model: Installation) -> Iterator[Any]:
    value, last = word.value, str(word.path[-1])
    choices = [c for c in _choices(word.kind) if c != value]
    if isinstance(value, Quantity):
        unit = next(iter(KINDS[value.kind].units))
        si = value + 60 if value.kind == "temperature" else value * 3.1 or 1.0
        yield f"{in_unit(si, unit, value.kind):.9f} {unit}"
    elif isinstance(value, Gauge):
        yield "8 AWG" if value.number > 14 else "24 AWG"
    elif isinstance(value, bool):
        yield "no" if value else "yes"
    elif isinstance(value, (int, float)):
        yield str(type(value)(value * 2))
    elif choices:
        yield from choices[:_CHOICES]
    elif last in _NAMES:
        yield from [k for k in getattr(model, _NAMES[last]) if k != value][:_CHOICES]
    elif isinstance(value, str):
        yield "something else"
    elif isinstance(value, (list, tuple)) and value:
        yield _written(value[:-1])


def _choices(kind: Any) -> Iterator[str]:
    if get_origin(kind) is Literal:
        yield from get_args(kind)
    else:
        for inner in get_args(kind):
            yield from _choices(inner)
