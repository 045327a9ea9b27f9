"""What an editor can offer beside the words of the schema: parts, their sizes, and the ids and terminals of a document."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from types import MappingProxyType

from ..model.installation import SPECS, Installation, terminals_of
from .parts import Library
from .schema_short import Json, Node

NAMED: Mapping[str, str] = MappingProxyType(
    {
        "zone": "zones",
        "barrier": "barriers",
        "engine": "engines",
        "bundle": "bundles",
        "operating_point": "operating_points",
        "load": "loads",
        "shared_block": "junctions",
        "fitting": "fittings",
        "mates": "junctions",
        "backs_up": "indicators",
        "connected_at": "supplies",
    }
)
"""Words whose value names a thing of a section."""
ENDS = frozenset(("from", "to", "at", "of", "compensated_at", "joins", "screwed_into"))
"""Words whose value is a terminal or port of a thing."""


def ends(model: Installation) -> Iterator[tuple[str, str]]:
    """Every terminal and port a run or line of a document can end at, with the section of its thing."""
    for section, ident, thing in model.things():
        for terminal in terminals_of(section, thing) or ("",):
            yield (f"{ident}.{terminal}" if terminal else ident), section


def add_offers(
    definitions: Node, item_name: Callable[[str], str], library: Library, model: Installation | None
) -> None:
    """Let a schema offer parts and sizes by section and, of a document, its ids and terminals; nothing is refused by it.

    Args:
        definitions: the definitions of the schema; changed.
        item_name: the definition of a section's things.
        library: the parts.
        model: the document, if there is one.
    """
    for section in SPECS:
        words = _dict(_dict(definitions[item_name(section)])["properties"])
        parts = {key: part for key, part in library.parts.items() if part.section == section}
        if parts:
            _offer(words, "part", {key: str(part.raw.get("title") or "") for key, part in parts.items()})
        sizes: dict[str, list[str]] = {}
        for key, part in parts.items():
            for size in part.as_written():
                sizes.setdefault(size, []).append(key)
        if sizes and section != "wire_runs":
            told = {
                size: f"of {', '.join(of[:4])}" + " and more" * (len(of) > 4) for size, of in sizes.items()
            }
            _offer(words, "size", told)
    if model is None:
        return
    there = dict(ends(model))
    for definition in definitions.values():
        words = _dict(_dict(definition).get("properties", {}))
        for word in words:
            if word in NAMED:
                things = model.section(NAMED[word])
                _offer(words, word, {i: str(getattr(t, "title", None) or "") for i, t in things.items()})
            elif word in ENDS:
                _offer(words, word, {end: section.replace("_", " ") for end, section in there.items()})


def _offer(words: Node, word: str, offers: Mapping[str, str]) -> None:
    """Offer values for a word beside what it takes already."""
    if not offers or word not in words:
        return
    field = _dict(words[word])
    told = {"description": field["description"]} if "description" in field else {}
    rest: Node = {name: value for name, value in field.items() if name != "description"}
    values: Node = {"enum": list[Json](offers)}
    if any(offers.values()):
        values["enumDescriptions"] = list[Json](offers.values())
    words[word] = {**told, "anyOf": [values, rest]}


def _dict(value: Json) -> Node:
    assert isinstance(value, dict)
    return value
