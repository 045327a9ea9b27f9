"""What is in the aircraft after the change: an installation without what is removed, and without what names it."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Mapping
from itertools import islice
from typing import Any

from pydantic import BaseModel

Gone = Collection[str]

_NAMES = ("backs_up", "compensated_at", "connected_at", "fitting", "joins", "mates", "screwed_into")
"""Fields that name one thing or one of its terminals; what named a removed thing says nothing any more."""
_LISTS = ("dead_supplies", "loads_on", "open_switches")
"""Fields that list things."""
_DEEPER = ("inputs", "route", "spec")
"""Fields whose parts may name things."""


def without_removed(sections: Mapping[str, object]) -> dict[str, dict[str, BaseModel]]:
    """The sections that hold or name a removed thing, without it; nothing if nothing is removed.

    What is left of a thing that named a removed one is the thing without that word: how it is fed, grounded or joined now
    is not said. A strap from or to a removed ground is gone with it. Runs and lines keep their ends, for a wire that ends
    at a removed thing is still there.
    """
    mappings: dict[str, dict[str, BaseModel]] = {n: s for n, s in sections.items() if isinstance(s, dict)}
    gone = {
        i
        for held in mappings.values()
        if any("status" in type(t).model_fields for t in islice(held.values(), 1))  # all are of one kind
        for i, t in held.items()
        if getattr(t, "status", None) == "removed"
    }
    if not gone:
        return {}
    changed = {}
    for name, held in mappings.items():
        kept = {
            ident: _unnamed(thing, gone)
            for ident, thing in held.items()
            if getattr(thing, "status", None) != "removed" and not (name == "grounds" and _hangs(thing, gone))
        }
        if len(kept) != len(held) or any(kept[i] is not held[i] for i in kept):
            changed[name] = kept
    return changed


def _names_gone(text: object, gone: Gone) -> bool:
    return isinstance(text, str) and (text in gone or text.partition(".")[0] in gone)


def _hangs(ground: BaseModel, gone: Gone) -> bool:
    """Whether a strap or bond has lost one of its ends."""
    return any(_names_gone(getattr(ground, end), gone) for end in ("from_", "to"))


def _unnamed(thing: BaseModel, gone: Gone) -> BaseModel:
    """The thing without the words that name something in ``gone``; itself if it names nothing there."""
    update = dict(_changes(thing, gone))
    return thing.model_copy(update=update) if update else thing


def _changes(thing: BaseModel, gone: Gone) -> Iterator[tuple[str, Any]]:
    fields = type(thing).model_fields
    for name in _NAMES:
        if name in fields and _names_gone(getattr(thing, name), gone):
            yield name, None
    for name in _LISTS:
        listed = getattr(thing, name, None)
        if listed and any(_names_gone(one, gone) for one in listed):
            yield name, [one for one in listed if not _names_gone(one, gone)]
    grounding = getattr(thing, "grounding", None)
    if grounding is not None and _names_gone(grounding.to, gone):
        yield "grounding", None
    shield = getattr(thing, "shield", None)
    if shield is not None:
        ends = {end: None for end in ("from_", "to") if _names_gone(getattr(shield, end), gone)}
        if ends:
            yield "shield", shield.model_copy(update=ends)
    for name in _DEEPER:
        inner = getattr(thing, name, None)
        deeper = _each(inner, lambda part: _unnamed(part, gone))
        if deeper is not inner:
            yield name, deeper


def _each(held: Any, change: Callable[[BaseModel], BaseModel]) -> Any:
    """A model, or a list or mapping of models, each changed; the same object if none is."""
    if isinstance(held, BaseModel):
        return change(held)
    if isinstance(held, list):
        made = [change(one) for one in held]
        return made if any(a is not b for a, b in zip(made, held, strict=True)) else held
    if isinstance(held, dict):
        named = {key: change(one) for key, one in held.items()}
        return named if any(named[key] is not held[key] for key in held) else held
    return held
