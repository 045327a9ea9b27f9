"""Stand-ins for the things of a document: each field that is read is taken down, and an edit changes them in place.

A stand-in is of a class derived from that of its thing, so that it reads like it; it stays the same object when its thing
is edited, and so whatever holds it sees the thing as it is.
"""

from __future__ import annotations

from abc import ABCMeta
from collections.abc import Callable, Iterator
from functools import cache
from typing import Any, TypeAlias, TypeVar, cast

from pydantic import BaseModel

from .alike import alike
from .reads import FRAME, Token

M = TypeVar("M", bound=BaseModel)
_THING, _WHOLE, _INNER = "\tthing", "\twhole", "spec"
"""Where a stand-in keeps its thing, and the token of all of it; the field that has a stand-in of its own."""

Undo: TypeAlias = "list[tuple[dict[str, Any], str, Any]]"
"""What was written over: where, under which name, and what stood there."""


def stand_in(thing: M) -> M:
    """A stand-in for a thing; reads like it."""
    kind = _class(type(thing))
    made = object.__new__(kind)
    for name, empty in (
        ("__pydantic_fields_set__", set()),
        ("__pydantic_extra__", None),
        ("__pydantic_private__", None),
    ):
        object.__setattr__(made, name, empty)
    held = made.__dict__
    held.update(thing.__dict__)
    held[_THING] = thing
    inner = held.get(_INNER)
    if isinstance(inner, BaseModel):
        held[_INNER] = stand_in(inner)
    return cast(M, made)


def thing_of(made: BaseModel) -> BaseModel:
    """What a stand-in stands for."""
    return cast(BaseModel, made.__dict__[_THING])


def turned_into(made: BaseModel, thing: BaseModel, undo: Undo) -> Iterator[Token]:
    """Let a stand-in stand for a thing as it is now; the tokens of what changed."""
    held = made.__dict__
    if held[_THING] is thing:
        return
    undo.append((held, _THING, held[_THING]))
    held[_THING] = thing
    changed = False
    for name, new in thing.__dict__.items():
        old = held[name]
        if old is new:
            continue
        if name == _INNER and isinstance(old, BaseModel):
            for token in turned_into(old, new, undo):
                changed = True
                yield token
        elif not alike(old, new):
            undo.append((held, name, old))
            held[name] = new
            changed = True
            read: Token | None = held.get("\t" + name)
            if read is not None:
                yield read
    if changed and _WHOLE in held:
        yield held[_WHOLE]


def restore(undo: Undo) -> None:
    """Write back what was written over."""
    for held, name, value in reversed(undo):
        held[name] = value


def _reader(name: str) -> Callable[[Any], Any]:
    key = "\t" + name

    def read(self: Any) -> Any:
        held = self.__dict__
        try:
            FRAME.note(held[key])
        except KeyError:
            held[key] = token = Token()
            FRAME.note(token)
        return held[name]

    return read


def _all_of(self: Any) -> BaseModel:
    """The thing itself, for what reads all of it."""
    held = self.__dict__
    token = held.get(_WHOLE)
    if token is None:
        token = held[_WHOLE] = Token()
    FRAME.note(token)
    inner = held.get(_INNER)
    if isinstance(inner, BaseModel):
        _all_of(inner)
    return cast(BaseModel, held[_THING])


def _through(name: str) -> Callable[..., Any]:
    def call(self: Any, *given: Any, **named: Any) -> Any:
        return getattr(_all_of(self), name)(*given, **named)

    return call


def _equal(self: Any, other: Any) -> bool:
    return bool(_all_of(self) == (_all_of(other) if _THING in getattr(other, "__dict__", ()) else other))


_READ_WHOLE = (
    "__iter__",
    "__repr__",
    "__str__",
    "__repr_args__",
    "__rich_repr__",
    "__copy__",
    "__deepcopy__",
    "__getstate__",
    "__reduce__",
    "__reduce_ex__",
    "model_copy",
    "model_dump",
    "model_dump_json",
    "copy",
    "dict",
    "json",
)


@cache
def _class(kind: type[BaseModel]) -> type[BaseModel]:
    """The class of the stand-ins for a kind of thing. Made past pydantic's own maker, for it has no fields of its own."""
    words: dict[str, Any] = {name: property(_reader(name)) for name in kind.model_fields if name != _INNER}
    words |= {name: _through(name) for name in _READ_WHOLE}
    words["__eq__"], words["__hash__"] = _equal, object.__hash__
    words["model_fields_set"] = property(lambda self: _all_of(self).model_fields_set)
    words["__module__"], words["__slots__"] = __name__, ()
    return ABCMeta.__new__(type(kind), kind.__name__, (kind,), words)
