"""The model of a document whose every reading is taken down, and which an edit changes in place."""

from __future__ import annotations

from abc import ABCMeta
from collections.abc import Callable, ItemsView, Iterator, KeysView, Mapping, ValuesView
from functools import cache
from typing import Any, cast

from pydantic import BaseModel

from ...model.installation import JOINABLE, Installation, Thing
from .alike import alike
from .reads import FRAME, Token, Tokens
from .standins import Undo, stand_in, thing_of, turned_into


class Section(Mapping[str, BaseModel]):
    """A section that maps ids to things: which ids it has, whether it has one, and the things themselves are read apart."""

    def __init__(self, things: Mapping[str, BaseModel]) -> None:
        self._things = things
        self._made: dict[str, BaseModel] = {}
        self._all: dict[str, BaseModel] | None = None
        self._ids = Token()
        self._has = Tokens()

    def _of(self, ident: str) -> BaseModel:
        made = self._made.get(ident)
        if made is None:
            made = self._made[ident] = stand_in(self._things[ident])
        return made

    def _walked(self) -> dict[str, BaseModel]:
        FRAME.note(self._ids)
        if self._all is None:
            self._all = {ident: self._of(ident) for ident in self._things}
        return self._all

    def __getitem__(self, ident: str) -> BaseModel:
        self._has.note(ident)
        return self._of(ident)

    def get(self, ident: str, default: Any = None) -> Any:
        """The thing of an id."""
        self._has.note(ident)
        return self._of(ident) if ident in self._things else default

    def __contains__(self, ident: object) -> bool:
        self._has.note(ident)
        return ident in self._things

    def __iter__(self) -> Iterator[str]:
        return iter(self._walked())

    def __len__(self) -> int:
        FRAME.note(self._ids)
        return len(self._things)

    def keys(self) -> KeysView[str]:
        """Its ids."""
        return self._walked().keys()

    def values(self) -> ValuesView[BaseModel]:
        """Its things."""
        return self._walked().values()

    def items(self) -> ItemsView[str, BaseModel]:
        """Ids and things."""
        return self._walked().items()

    def turned_into(self, things: Mapping[str, BaseModel], undo: Undo) -> Iterator[Token]:
        """Let it hold other things; the tokens of what changed."""
        before = self._things
        if before is things:
            return
        put(self.__dict__, "_things", things, undo)
        for ident in before.keys() ^ things.keys():
            yield from self._has.of(ident)
        if list(before) != list(things):
            put(self.__dict__, "_all", None, undo)
            yield self._ids
        for ident, made in self._made.items():
            thing = things.get(ident)
            if thing is not None and thing is not thing_of(made):
                yield from turned_into(made, thing, undo)


def put(held: dict[str, Any], name: str, value: object, undo: Undo) -> None:
    """Write over an attribute so that it can be written back."""
    undo.append((held, name, held[name]))
    held[name] = value


class Watched:
    """An installation whose every reading is taken down.

    Attributes:
        model: it, to be read like any other.
        plain: the installation it stands for.
    """

    def __init__(self, plain: Installation, live: Installation | None = None) -> None:
        self.plain = plain
        self._found = Tokens()
        self._lists: dict[str, Token] = {}
        self.model = object.__new__(_class())
        held = self.model.__dict__
        held["\twatched"], held["\tlive"] = self, live or self.model
        for name in Installation.model_fields:
            value = getattr(plain, name)
            if isinstance(value, Mapping):
                held[name] = Section(value)
            elif isinstance(value, BaseModel):
                held[name] = stand_in(value)
            else:
                held["\t" + name] = value
                self._lists[name] = Token()

    def listed(self, name: str) -> Any:
        """A section that is a list."""
        FRAME.note(self._lists[name])
        return self.model.__dict__["\t" + name]

    def find(self, ident: str) -> tuple[str, Thing] | None:
        """The section and thing of an id a run or line can end at."""
        self._found.note(ident)
        found = self.plain.find(ident)
        if found is None:
            return None
        return found[0], cast(Thing, self.model.__dict__[found[0]]._of(ident))

    def turned_into(self, plain: Installation, undo: Undo) -> list[Token]:
        """Let it stand for another installation; the tokens of what changed."""
        before, held = self.plain, self.model.__dict__
        if before is plain:
            return []
        put(self.__dict__, "plain", plain, undo)
        changed: list[Token] = []
        for name in Installation.model_fields:
            value, shown = getattr(plain, name), held.get(name)
            if value is getattr(before, name):
                continue
            if isinstance(shown, Section):
                if name in JOINABLE:
                    old = getattr(before, name)
                    for ident in old.keys() ^ value.keys():
                        changed += self._found.of(ident)
                changed += shown.turned_into(value, undo)
            elif isinstance(shown, BaseModel):
                changed += turned_into(shown, value, undo)
            elif not alike(held["\t" + name], value):
                put(held, "\t" + name, value, undo)
                changed.append(self._lists[name])
        return changed


def _listed(name: str) -> property:
    def read(self: Any) -> Any:
        return self.__dict__["\twatched"].listed(name)

    return property(read)


def _refused(name: str) -> Callable[..., Any]:
    def call(self: Any, *given: Any, **named: Any) -> Any:
        raise TypeError(f"{name} of a watched installation: what it reads could not be taken down")

    return call


_NOT_READ = (
    "__iter__",
    "__eq__",
    "__hash__",
    "__copy__",
    "__deepcopy__",
    "__reduce_ex__",
    "model_copy",
    "model_dump",
    "model_dump_json",
)


@cache
def _class() -> type[Installation]:
    lists = [n for n, f in Installation.model_fields.items() if isinstance(f.default, list)]
    words: dict[str, Any] = {name: _listed(name) for name in lists}
    words |= {name: _refused(name) for name in _NOT_READ}
    words["find"] = lambda self, ident: self.__dict__["\twatched"].find(ident)
    words["live"] = property(lambda self: self.__dict__.get("\tlive", self))
    words["_by_id"] = property(_refused("_by_id"))
    words["__repr__"] = words["__str__"] = lambda self: "<watched installation>"
    words["__module__"], words["__slots__"] = __name__, ()
    return ABCMeta.__new__(type(Installation), "Installation", (Installation,), words)
