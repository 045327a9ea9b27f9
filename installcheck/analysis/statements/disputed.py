"""What a document disputes with itself, and the study of what is left when nobody knows which statement is right."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import TypeVar

from pydantic import BaseModel

from ...document import Document
from ..study import Study, once
from .figures import bundles, loads, ranges, tubes
from .heights import heights
from .labels import labels
from .locations import locations
from .pairs import Field, Pair
from .places import fire_zones, firewalls, seats
from .routes import extents, ways
from .states import drives, points, straps

T = TypeVar("T")
_TOLD_TWICE = (
    extents,
    ways,
    heights,
    loads,
    bundles,
    tubes,
    ranges,
    fire_zones,
    firewalls,
    seats,
    locations,
    labels,
    points,
    straps,
    drives,
)


@once
def disputes(study: Study) -> tuple[Pair, ...]:
    """Every two statements of one fact of which one must be wrong."""
    return tuple(pair for number in range(len(_TOLD_TWICE)) for pair in _disputes_of(study, number))


@once
def _disputes_of(study: Study, number: int) -> tuple[Pair, ...]:
    return tuple(pair for pair in _TOLD_TWICE[number](study) if pair.certain and not pair.agree)


def left_open(study: Study) -> Document:
    """The document of a study with what is disputed left open, or taken for the side that asks for more."""
    installation = study.plain.installation
    for pair in disputes(study):
        for field in pair.open:
            installation = _with(installation, field, None)
        for field, value in pair.taken:
            installation = _with(installation, field, value)
    return replace(study.plain, installation=installation)


def undisputed(study: Study) -> Study:
    """The study of the same document with what is disputed left open."""
    return Study(left_open(study))


def _with(value: T, field: Field, put: object) -> T:
    """A copy of a part of the model in which one fact is another."""
    if not field:
        return put  # type: ignore[return-value]
    word, rest = field[0], field[1:]
    if isinstance(value, BaseModel):
        name = str(word)
        return value.model_copy(update={name: _with(getattr(value, name), rest, put)})
    if isinstance(value, Mapping):
        return {**value, word: _with(value[word], rest, put)}  # type: ignore[return-value]
    if isinstance(value, Sequence) and isinstance(word, int):
        return [_with(one, rest, put) if i == word else one for i, one in enumerate(value)]  # type: ignore[return-value]
    return value
