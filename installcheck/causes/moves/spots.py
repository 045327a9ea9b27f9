"""Fields of the document seen through the model: what stands there, what else could, and how it is written."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from types import UnionType
from typing import Any, Literal, Union, get_args, get_origin

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from ...analysis.study import Study
from ...dataclass import dataclass
from ...model.edits import Path, Put, Written
from ...model.quantities import Gauge, Quantity


@dataclass(frozen=True, slots=True)
class Spot:
    """One field of one thing.

    Attributes:
        path: where it stands.
        value: what the model holds there; ``None`` if nothing.
        field: how the model types it.
    """

    path: Path
    value: object
    field: FieldInfo | None

    @property
    def words(self) -> tuple[str, ...]:
        """The words the field takes, where it takes a few only."""
        return tuple(_words(self.field.annotation)) if self.field is not None else ()

    @property
    def yes_or_no(self) -> bool:
        """Whether it takes yes and no."""
        return self.field is not None and bool in (self.field.annotation, *get_args(self.field.annotation))

    def put(self, value: object) -> Put:
        """The change that writes another value here."""
        return Put(self.path, written(value))


def spot(study: Study, path: Sequence[str | int]) -> Spot | None:
    """The field at a path of the document; ``None`` if the model has no such field."""
    if len(path) < 3:
        return None
    try:
        value: Any = study.model.section(str(path[0]))[str(path[1])]
    except (AttributeError, KeyError):
        return None
    field: FieldInfo | None = None
    for step in path[2:]:
        if isinstance(value, BaseModel):
            name, holder = field_of(value, str(step))
            if holder is None:
                return None
            field, value = type(holder).model_fields[name], getattr(holder, name)
        elif isinstance(value, Mapping):
            field, value = None, value.get(step)
        elif isinstance(value, (list, tuple)) and isinstance(step, int) and step < len(value):
            field, value = None, value[step]
        else:
            return None
    return Spot(tuple(path), value, field)


def field_of(thing: BaseModel, word: str) -> tuple[str, BaseModel | None]:
    """The name of the field a word of the document fills, and the thing or spec that holds it."""
    spec = getattr(thing, "spec", None)
    for holder in (thing, spec):
        if isinstance(holder, BaseModel):
            for name, info in type(holder).model_fields.items():
                if (info.alias or name) == word and name != "spec":
                    return name, holder
    return word, None


def own_fields(study: Study, section: str, ident: str) -> Iterator[Spot]:
    """Every field of a thing that the document itself fills."""
    thing = study.model.section(section)[ident]
    for name, info in type(thing).model_fields.items():
        word = info.alias or name
        if name != "spec" and study.document.holds((section, ident, word)):
            yield Spot((section, ident, word), getattr(thing, name), info)
    spec = getattr(thing, "spec", None)
    if isinstance(spec, BaseModel):
        for name, info in type(spec).model_fields.items():
            if study.document.holds((section, ident, name)) and name not in type(thing).model_fields:
                yield Spot((section, ident, name), getattr(spec, name), info)


def written(value: object) -> Written:
    """A value of the model as a person writes it: texts, lists and mappings of texts.

    >>> written(True), written(Gauge("22"))
    ('yes', '22 AWG')
    """
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, Quantity):
        return value.text
    if isinstance(value, Gauge):
        return f"{value} AWG"
    if isinstance(value, BaseModel):
        return {
            info.alias or name: written(found)
            for name, info in type(value).model_fields.items()
            if (found := getattr(value, name)) is not None and name != "spec"
        }
    if isinstance(value, Mapping):
        return {str(key): written(one) for key, one in value.items()}
    if isinstance(value, (list, tuple)):
        return [written(one) for one in value]
    return str(value)


def told(value: object) -> str:
    """A value in words, as a sentence shows it."""
    plain = written(value)
    if isinstance(plain, str):
        return plain
    if isinstance(plain, Mapping):
        return ", ".join(f"{key} {told(one)}" for key, one in plain.items())
    return ", ".join(told(one) for one in plain)


def _words(annotation: object) -> Iterator[str]:
    if get_origin(annotation) is Literal:
        yield from (a for a in get_args(annotation) if isinstance(a, str))
    elif get_origin(annotation) in (Union, UnionType):
        for one in get_args(annotation):
            yield from _words(one)
