"""What an alteration does to things: added, removed, replaced, moved, rerouted, re-gauged, re-lengthened, reconnected."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from pydantic import BaseModel

from ..document.source import DocPath
from ..model.fluid import FluidLine
from ..model.installation import JOINABLE, SPECS
from ..model.wiring import WireRun
from .change import NOUNS, Change, Detail, Kind, described, noun
from .differences import Difference, Pair, differences, in_words, left_over, spoken
from .matching import ORDER, WORDING, standing
from .reversed_runs import turned_like
from .routes import route_changes

_BY_FIELD = {
    **dict.fromkeys(
        (
            "zone",
            "station",
            "engine",
            "location",
            "elevation",
            "mounted_on",
            "cylinder",
            "mount",
            "distance",
            "side",
            "barrier",
        ),
        Kind.MOVED,
    ),
    **dict.fromkeys(
        (
            "from_",
            "to",
            "conductors",
            "grounding",
            "joins",
            "connected_at",
            "mates",
            "cavities",
            "shield",
            "screwed_into",
        ),
        Kind.RECONNECTED,
    ),
    "bundle": Kind.REROUTED,
    "gauge": Kind.REGAUGED,
    "part": Kind.REPLACED,
    **dict.fromkeys(WORDING, Kind.REWORDED),
}
_MAKES_IT = frozenset(("part", "size", "kind", "principle"))
"""Fields that say which thing it is: where they differ, it is another thing, and its figures follow from that."""


def altered_things(pair: Pair) -> list[Change]:
    """Every change of what is installed and of what is said of the aircraft. Cost: linear in the documents' size."""
    found: list[Change] = []
    old, new = pair.old.whole, pair.new.whole
    for section in (*ORDER, "operating_points", "survey"):
        found += _section(section, pair)
    found += _grouped("aircraft", "", differences(old.aircraft, new.aircraft, pair), ("aircraft",))
    for section in ("measured", "deviations"):
        gone, come = left_over(section, getattr(old, section), getattr(new, section), pair)
        found += [Change(Kind.REMOVED, section, "", NOUNS[section], told=in_words(one)) for one in gone]
        found += [Change(Kind.ADDED, section, "", NOUNS[section], told=in_words(one)) for one in come]
    order = list(Kind)
    return sorted(found, key=lambda change: order.index(change.kind))


def _section(section: str, pair: Pair) -> Iterator[Change]:
    before, after = standing(pair.old.whole, section), standing(pair.new.whole, section)
    names = {pair.names.of(section, ident): ident for ident in before}
    for ident, was in before.items():
        if pair.names.of(section, ident) not in after:
            yield Change(
                Kind.REMOVED, section, ident, noun(section, was), (), described(was), (section, ident)
            )
    for ident, thing in after.items():
        path = (section, ident)
        if ident not in names:
            yield Change(Kind.ADDED, section, ident, noun(section, thing), (), described(thing), path)
            continue
        was = before[names[ident]]
        if names[ident] != ident:
            detail = Detail("name", names[ident], ident)
            yield Change(Kind.RENAMED, section, ident, noun(section, thing), (detail,), "", path)
        yield from _thing(section, ident, was, thing, pair)


def _thing(section: str, ident: str, was: BaseModel, thing: BaseModel, pair: Pair) -> Iterator[Change]:
    thing = turned_like(was, thing, pair)
    if isinstance(thing, (WireRun, FluidLine)) and isinstance(was, (WireRun, FluidLine)):
        found = [d for d in differences(was, thing, pair) if d.words[0] not in ("route", "length")]
        yield from route_changes(section, ident, was, thing, pair)
    else:
        found = list(differences(was, thing, pair))
    yield from _grouped(section, ident, found, (section, ident), noun(section, thing))


def _grouped(
    section: str, ident: str, found: Iterable[Difference], path: DocPath, name: str = ""
) -> Iterator[Change]:
    """The differences of one thing as one change of each kind."""
    by_kind: dict[Kind, list[Detail]] = {}
    listed = list(found)
    causes = frozenset(_kind(section, one) for one in listed if _makes_it(section, one))
    for one in listed:
        kind = _kind(section, one)
        follows = False
        if one.words[0] == "spec" and causes and not _makes_it(section, one):
            if kind is Kind.REWORDED:
                continue
            kind, follows = min(causes), True
        detail = Detail(_what(one), in_words(one.old), in_words(one.new, one.old), follows)
        by_kind.setdefault(kind, []).append(detail)
    for kind, details in by_kind.items():
        details.sort(key=lambda d: (d.follows, d.what not in _MAKES_IT))
        yield Change(kind, section, ident, name or NOUNS[section], tuple(details), "", path)


def _makes_it(section: str, one: Difference) -> bool:
    """Whether a difference says that it is another thing or another size, from which its figures follow."""
    return _kind(section, one) is Kind.REPLACED or (
        section in ("wire_runs", "fluid_lines") and _kind(section, one) is Kind.REGAUGED
    )


def _field(one: Difference) -> str:
    return one.words[1] if one.words[0] == "spec" and len(one.words) > 1 else one.words[0]


def _kind(section: str, one: Difference) -> Kind:
    field = _field(one)
    if one.words[-1] in WORDING:
        return Kind.REWORDED
    if section == "wire_runs" and one.words[0] == "conductors" and one.words[-1] == "gauge":
        return Kind.REGAUGED
    if section == "fluid_lines" and field == "size":
        return Kind.REGAUGED
    if field in _MAKES_IT and section in (*SPECS, "grounds"):
        return Kind.REPLACED
    if one.words[0] == "spec" or section not in (*JOINABLE, "wire_runs", "fluid_lines"):
        return Kind.CHANGED
    kind = _BY_FIELD.get(field, Kind.CHANGED)
    told_once = one.old is None or one.new is None
    return Kind.CHANGED if kind is Kind.MOVED and told_once else kind


def _what(one: Difference) -> str:
    words = one.words[1:] if one.words[0] == "spec" else one.words
    if words[0] == "conductors":
        words = ("leg", *words[1:])
    ends = {"from_": "from end", "to": "to end"} if words[0] in ("from_", "to", "leg", "shield") else {}
    return " ".join(ends.get(word, spoken(word)) for word in words)
