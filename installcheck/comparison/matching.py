"""What stands in a document after its change, under which names, and which names of two documents mean one thing."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import field
from typing import TypeAlias

from pydantic import BaseModel

from ..dataclass import dataclass
from ..graph import Graph
from ..model.installation import JOINABLE, Installation
from ..model.quantities import Quantity

Leaf: TypeAlias = object
ORDER = ("zones", "barriers", "engines", *JOINABLE, "bundles", "wire_runs", "fluid_lines")
"""Sections in the order in which names can be found again: a run is known by its ends, a thing by its zone."""
_THINGS = frozenset((*JOINABLE, "bundles", "wire_runs", "fluid_lines"))
_NAMES_A = {
    **dict.fromkeys(("zone", "between", "zone_temperatures"), "zones"),
    "barrier": "barriers",
    "engine": "engines",
    **dict.fromkeys(
        (
            "from_",
            "to",
            "joins",
            "mates",
            "screwed_into",
            "connected_at",
            "backs_up",
            "fitting",
            "loads_on",
            "open_switches",
            "dead_supplies",
            "joint_temperatures",
            "compensated_at",
            "of",
            "bundle",
            "at",
            "ends",
        ),
        "things",
    ),
}
"""Fields that name something, and what sort of thing."""
WORDING = frozenset(("title", "notes", "label", "location_note", "source", "standard"))
"""Fields that only say the same in other words."""
BOOKKEEPING = frozenset(("status",))


def standing(model: Installation, section: str) -> dict[str, BaseModel]:
    """The things of a section that the document does not say are removed."""
    return {
        ident: thing
        for ident, thing in model.section(section).items()
        if getattr(thing, "status", None) != "removed"
    }


@dataclass(slots=True)
class Names:
    """Names of the old document that the new one has changed: sort of thing -> old name -> new name."""

    renamed: dict[str, dict[str, str]] = field(default_factory=lambda: defaultdict(dict))

    def of(self, section: str, ident: str) -> str:
        """The new name of a thing of the old document."""
        return self.renamed[_sort(section)].get(ident, ident)

    def end(self, end: str) -> str:
        """An end of the old document as the new one names it."""
        ident, dot, terminal = end.partition(".")
        return f"{self.renamed['things'].get(ident, ident)}{dot}{terminal}"

    def value(self, word: str, value: Leaf) -> Leaf:
        """A text of the old document under a field as the new document would write it."""
        sort = _NAMES_A.get(word)
        if sort is None or not isinstance(value, str):
            return value
        return self.end(value) if sort == "things" else self.renamed[sort].get(value, value)


def _sort(section: str) -> str:
    return "things" if section in _THINGS else section


def match(old: Graph, new: Graph) -> Names:
    """Find what was only renamed: one thing gone and one come in a section, alike in everything but their name."""
    names = Names()
    for section in ORDER:
        before, after = standing(old.whole, section), standing(new.whole, section)
        gone = {i: t for i, t in before.items() if i not in after}
        come = {i: t for i, t in after.items() if i not in before and getattr(t, "status", None) != "new"}
        if not gone or not come:
            continue
        by_print: dict[object, tuple[list[str], list[str]]] = defaultdict(lambda: ([], []))
        for ident, thing in gone.items():
            by_print[_fingerprint(thing, old, names)][0].append(ident)
        for ident, thing in come.items():
            by_print[_fingerprint(thing, new, Names())][1].append(ident)
        for told, (olds, news) in by_print.items():
            if len(olds) == len(news) == 1 and told:
                names.renamed[_sort(section)][olds[0]] = news[0]
    return names


def _fingerprint(thing: BaseModel, graph: Graph, names: Names) -> object:
    """Everything a thing says of itself but its wording, in a form that two documents share."""
    return tuple(sorted(_leaves("", thing, graph, names)))


def _leaves(word: str, value: Leaf, graph: Graph, names: Names) -> Iterator[tuple[str, str]]:
    if value is None:
        return
    if isinstance(value, BaseModel):
        for name in type(value).model_fields:
            if name not in WORDING and name not in BOOKKEEPING:
                for path, told in _leaves(name, getattr(value, name), graph, names):
                    yield f"{word}/{path}", told
    elif isinstance(value, Mapping):
        for key, inner in value.items():
            named = names.value(word, key)
            for path, told in _leaves("", inner, graph, names):
                yield f"{word}/{named}/{path}", told
    elif isinstance(value, (list, tuple)):
        for i, inner in enumerate(value):
            for path, told in _leaves(word, inner, graph, names):
                yield f"{word}/{i}/{path}", told
    elif isinstance(value, Quantity):
        yield word, f"{value.kind} {float(value):.6g}"
    else:
        yield word, str(canonical(word, value, graph, names))


def canonical(word: str, value: Leaf, graph: Graph, names: Names) -> Leaf:
    """A value as the new document names things; an end gets the terminal it stands for where a thing has only one."""
    if word in ("from_", "to") and isinstance(value, str):
        try:
            return names.end(graph.node_of(value))
        except KeyError:
            pass
    return names.value(word, value)
