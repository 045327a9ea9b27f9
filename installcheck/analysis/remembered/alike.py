"""Whether two results cannot be told apart by anything that reads them; stricter than ``==``."""

from __future__ import annotations

import math
from array import array
from collections.abc import Callable, Collection, Hashable, Iterable, Mapping, Sequence
from dataclasses import fields, is_dataclass
from functools import cache, partial
from itertools import chain
from operator import attrgetter, eq, is_
from typing import Any, cast

import numpy as np
from numpy.typing import NDArray
from pydantic import BaseModel

from ...graph import Edge
from ...graph.multigraph import Net
from ...physics.networks import Solution
from ..circuit.solved import Circuit
from ..study import Point

_EDGE = (
    "name",
    "a",
    "b",
    "kind",
    "section",
    "ident",
    "path",
    "resistance",
    "closed",
    "conductor",
    "run",
    "line",
)
"""What an edge says; its run and line are stand-ins, which stay the same."""
_PLAIN = (int, bool, str, bytes, type(None), complex)


def _getter(names: Sequence[str]) -> Callable[[Any], tuple[Any, ...]]:
    """What gives some attributes as a tuple."""
    if len(names) > 1:
        return attrgetter(*names)
    return lambda one: tuple(getattr(one, name) for name in names)


_edge_told = _getter(_EDGE)


def alike(one: Any, other: Any) -> bool:
    """Whether one can stand for the other: the same type, text, order and figures to the last bit.

    ``12 in`` and ``1 ft`` are not alike, though equal; an operating point is like no other, nor is an object that can change.
    What it does not know is like nothing.
    """
    if one is other:
        return True
    kind = type(one)
    return kind is type(other) and _comparison(cast(Hashable, kind))(one, other)


@cache
def _comparison(kind: type) -> Callable[[Any, Any], bool]:
    """What compares two things of a kind that are not the same one."""
    slots = _getter(_slots(kind))
    by_base: tuple[tuple[tuple[type, ...], Callable[[Any, Any], bool]], ...] = (
        (_PLAIN, eq),
        (
            (float,),
            lambda one, other: _same_number(one, float(other)) and _each_alike(slots(one), slots(other)),
        ),
        ((str,), lambda one, other: one == other and _each_alike(slots(one), slots(other))),
        ((tuple, list), lambda one, other: len(one) == len(other) and _all_alike(one, other)),
        ((Mapping,), _same_mapping),
        ((set, frozenset), lambda one, other: one == other and all(map(_exact, one))),
        ((np.ndarray,), _same_array),
        ((partial,), _same_partial),
        ((BaseModel,), alike_models),
        ((Net,), _same_net),
        ((Edge,), _same_edge),
    )
    for bases, comparison in by_base:
        if kind in bases or (bases is not _PLAIN and issubclass(kind, bases)):
            return comparison
    if is_dataclass(kind) and _is_told_whole(kind):
        told = _getter(_field_names(kind))
        return lambda one, other: _each_alike(told(one), told(other))
    return lambda one, other: False


def _same_mapping(one: Mapping[Any, Any], other: Mapping[Any, Any]) -> bool:
    return len(one) == len(other) and _all_alike(one, other) and _all_alike(one.values(), other.values())


def _same_array(one: NDArray[Any], other: NDArray[Any]) -> bool:
    return one.dtype == other.dtype and one.shape == other.shape and one.tobytes() == other.tobytes()


def _same_partial(one: partial[Any], other: partial[Any]) -> bool:
    return alike((one.func, one.args, one.keywords), (other.func, other.args, other.keywords))


def _same_edge(one: Edge, other: Edge) -> bool:
    return _each_alike(_edge_told(one), _edge_told(other))


def _all_alike(one: Collection[Any], other: Collection[Any]) -> bool:
    """Whether each of some things is like the other in its place; there are as many of both."""
    if all(map(is_, one, other)):
        return True
    kinds = set(map(type, one))
    if len(kinds) == 1 and kinds == set(map(type, other)):
        if not kinds.isdisjoint(_PLAIN):
            return list(one) == list(other)
        if kinds == {float}:
            return array("d", one).tobytes() == array("d", other).tobytes()
    return _each_alike(one, other)


def _each_alike(one: Iterable[Any], other: Iterable[Any]) -> bool:
    return all(a is b or alike(a, b) for a, b in zip(one, other, strict=True))


def blended(old: Any, new: Any) -> Any:
    """``old`` if the two are alike; else ``new``, with what is alike taken from ``old``, so that what rests on a part finds it to
    be the same.
    """
    if type(new) in (tuple, list) and type(old) is type(new):
        made = [a if a is b else blended(a, b) for a, b in zip(old, new, strict=False)]
        if len(old) == len(new) and all(map(is_, made, old)):
            return old
        return new if all(map(is_, made, new)) else type(new)(chain(made, new[len(made) :]))
    if type(new) is dict and type(old) is dict:
        taken = {key: blended(old[key], one) if key in old else one for key, one in new.items()}
        same = len(old) == len(new) and _all_alike(old, taken) and all(map(is_, taken.values(), old.values()))
        return old if same else taken
    return old if alike(old, new) else new


def alike_models(one: BaseModel, other: Any) -> bool:
    """Whether two parts of the model say the same in the same words."""
    mine, theirs = one.__dict__, other.__dict__
    for name in type(one).model_fields:
        a, b = mine[name], theirs[name]
        if a is not b and not alike(a, b):
            return False
    return True


def _same_number(one: float, other: float) -> bool:
    if one != other:
        return math.isnan(one) and math.isnan(other)
    return one != 0.0 or math.copysign(1.0, one) == math.copysign(1.0, other)


def _slots(kind: type) -> tuple[str, ...]:
    found: list[str] = []
    for base in kind.__mro__:
        told = base.__dict__.get("__slots__", ())
        found += (told,) if isinstance(told, str) else told
    return tuple(found)


@cache
def _is_told_whole(kind: type) -> bool:
    """Whether all there is to a thing is its fields, which stay as they are or are compared by it."""
    equal: object = kind.__eq__
    written: object = kind.__setattr__
    return kind is not Point and not (equal is object.__eq__ and written is object.__setattr__)


@cache
def _field_names(kind: type) -> tuple[str, ...]:
    # The equations of a network follow from the network, which is compared. What two circuits differ in is their solution.
    names = [f.name for f in fields(kind) if not (kind is Solution and f.name == "system")]
    return tuple(sorted(names, key=lambda name: not (kind is Circuit and name == "solution")))


def _exact(member: Any) -> bool:
    """Whether ``==`` tells a member of a set from every other that could be told from it."""
    kind = type(member)
    if kind in (int, bool, str, type(None)):
        return True
    if kind is tuple:
        return all(map(_exact, member))
    equal: object = kind.__eq__
    return equal is object.__eq__


def _same_net(one: Net, other: Net) -> bool:
    return list(one) == list(other) and all(alike(list(one.at(n)), list(other.at(n))) for n in one)
