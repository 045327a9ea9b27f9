"""Where two models of the same sort differ, as values and not as text: order, units and spelling make no difference."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import TypeAlias

from pydantic import BaseModel

from ..dataclass import dataclass
from ..graph import Graph
from ..model.comparing import same
from ..model.quantities import Gauge, Quantity, show
from .matching import BOOKKEEPING, Leaf, Names, canonical

NOT_GIVEN = "not given"
_ORDERED = frozenset(("stack", "terminals", "ports"))
"""Lists of names whose order says something."""
Words: TypeAlias = "tuple[str, ...]"


@dataclass(frozen=True, slots=True)
class Pair:
    """Two graphs whose models are compared, and the names the second has changed."""

    old: Graph
    new: Graph
    names: Names


@dataclass(frozen=True, slots=True)
class Difference:
    """One value that differs. ``words`` are the fields that lead to it; ``None`` where one side says nothing."""

    words: Words
    old: Leaf
    new: Leaf


def differences(old: BaseModel, new: BaseModel, pair: Pair, words: Words = ()) -> Iterator[Difference]:
    """Every field in which two models differ; bookkeeping fields are left out."""
    for name in type(old).model_fields:
        if name not in BOOKKEEPING:
            yield from _compare((*words, name), name, getattr(old, name), getattr(new, name, None), pair)


def _compare(words: Words, word: str, old: Leaf, new: Leaf, pair: Pair) -> Iterator[Difference]:
    if isinstance(old, BaseModel) and isinstance(new, BaseModel) and type(old) is type(new):
        yield from differences(old, new, pair, words)
    elif isinstance(old, Mapping) and isinstance(new, Mapping):
        named = {pair.names.value(word, key): value for key, value in old.items()}
        for key in dict.fromkeys((*named, *new)):
            yield from _compare((*words, str(key)), "", named.get(key), new.get(key), pair)
    elif isinstance(old, tuple) and isinstance(new, tuple) and len(old) == len(new):
        for i, (a, b) in enumerate(zip(old, new, strict=True), 1):
            yield from _compare((*words, str(i)), word, a, b, pair)
    elif not _same(word, old, new, pair):
        yield Difference(words, old, new)


def _same(word: str, old: Leaf, new: Leaf, pair: Pair) -> bool:
    if isinstance(old, Quantity) and isinstance(new, Quantity):
        return old.kind == new.kind and same(old, new)
    if isinstance(old, float) and isinstance(new, float):
        return same(old, new)
    if isinstance(old, (list, tuple)) and isinstance(new, (list, tuple)):
        return _same_lists(word, old, new, pair)
    if isinstance(old, BaseModel) and isinstance(new, BaseModel):
        return next(differences(old, new, pair), None) is None
    if isinstance(old, str) and isinstance(new, str) and not isinstance(old, Gauge):
        return canonical(word, old, pair.old, pair.names) == canonical(word, new, pair.new, Names())
    return old == new


def _same_lists(word: str, old: Sequence[Leaf], new: Sequence[Leaf], pair: Pair) -> bool:
    if len(old) != len(new):
        return False
    if (
        isinstance(old, tuple)
        or word in _ORDERED
        or not all(isinstance(v, (str, int, BaseModel)) for v in old)
    ):
        return all(_same(word, a, b, pair) for a, b in zip(old, new, strict=True))
    return not left_over(word, old, new, pair)[0]


def left_over(
    word: str, old: Sequence[Leaf], new: Sequence[Leaf], pair: Pair
) -> tuple[list[Leaf], list[Leaf]]:
    """What of two lists has no equal in the other; the order makes no difference. Cost: product of their lengths."""
    rest = list(new)
    missing = []
    for value in old:
        at = next((i for i, other in enumerate(rest) if _same(word, value, other, pair)), None)
        if at is None:
            missing.append(value)
        else:
            del rest[at]
    return missing, rest


def in_words(value: Leaf, like: Leaf = None) -> str:
    """A value in words; a quantity in another unit than ``like`` is told in both."""
    if value is None:
        return NOT_GIVEN
    if isinstance(value, Quantity):
        if isinstance(like, Quantity) and like.kind == value.kind and like.unit != value.unit:
            return f"{value.text} ({show(value, like.unit, like.kind, 4)})"
        return value.text
    if isinstance(value, Gauge):
        return f"{value} AWG"
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, BaseModel):
        inner = ((name, getattr(value, name)) for name in type(value).model_fields if name not in BOOKKEEPING)
        return ", ".join(f"{spoken(name)} {in_words(one)}" for name, one in inner if one is not None)
    if isinstance(value, Mapping):
        return "; ".join(f"{key}: {in_words(one)}" for key, one in value.items())
    if isinstance(value, (list, tuple)):
        return "; ".join(in_words(one) for one in value) or "none"
    return str(value)


def spoken(word: str) -> str:
    """A field as a person says it."""
    return word.strip("_").replace("_", " ")
