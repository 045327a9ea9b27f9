"""What could stand in place of a word that is not known: little and much of a quantity, every other word of a choice."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from math import inf
from types import MappingProxyType
from typing import Any, Literal, get_args, get_origin

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from ...document.source import DocPath
from ...model.edits import Written
from ...model.fields import Of, WordOr
from ...model.installation import SPECS, Installation
from ...model.measures import kinds_of
from ...model.power import SOURCES
from ...model.quantities import Gauge, Quantity

COULD_BE: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        "length": ("0.02 in", "6 ft", "30000 ft"),
        "station": ("-10 in", "200 in"),
        "temperature": ("-40 degC", "60 degC", "400 degC"),
        "temperature difference": ("1 degF", "200 degF"),
        "pressure": ("0.1 psi", "30 psi", "5000 psi"),
        "voltage": ("0.1 V", "5 V", "60 V"),
        "current": ("1 mA", "2 A", "100 A"),
        "resistance": ("1 milliohm", "10 ohm", "100 kohm"),
        "power": ("1 W", "2000 W"),
        "speed": ("300 rpm", "6000 rpm"),
        "frequency": ("20 Hz", "5 kHz"),
        "time": ("1 s", "1 h", "20 years"),
        "volume": ("1 mL", "20 gal"),
        "flow": ("0.5 gal/h", "60 gal/h"),
        "mass": ("0.02 lb", "40 lb"),
        "angle": ("1 deg", "80 deg"),
        "ratio": ("1 %", "100 %"),
        "charge": ("1 Ah", "200 Ah"),
        "resistance per length": ("0.1 ohm/1000 ft", "100 ohm/ft"),
        "mass per length": ("1 lb/1000 ft", "2 lb/ft"),
        "airspeed": ("40 kt", "300 kt"),
        "dissipation": ("0.1 mW/degC", "1 W/degC"),
        "torque": ("10 in-lb", "500 in-lb"),
    }
)
"""Little and much of each kind of quantity: not figures of anything, only far enough apart that what rests on one differs."""
_GAUGES = ("24 AWG", "14 AWG", "2 AWG")
_COUNTS = ("1", "2", "4", "12", "40")
_SHARES = ("0.5", "2", "1000")
_DATES = ("1950-01-01", "2020-01-01", "2099-01-01")
_OTHER_WORDS = 4
"""Of a word that is free or names a thing, how many of those said elsewhere are tried."""
_NAMED: Mapping[str, str] = MappingProxyType(
    {
        "zone": "zones",
        "engine": "engines",
        "bundle": "bundles",
        "barrier": "barriers",
        "to": "grounds",
        "joins": "grounds",
        "connected_at": "supplies",
    }
)
"""Words that name a thing, and the section it is in."""
_LISTS: Mapping[str, tuple[str, frozenset[str]]] = MappingProxyType(
    {
        "loads_on": ("loads", frozenset()),
        "open_switches": ("supplies", frozenset(("switch", "breaker", "contactor"))),
        "dead_supplies": ("supplies", SOURCES),
    }
)
"""Words that list things, and the things they could list: none or all of a section, or of some kinds of it."""


def could_be(model: Installation, path: DocPath) -> Iterator[Written]:
    """What could stand at a path of a document, as it would be written; nothing where that cannot be told.

    Args:
        model: what is in the aircraft.
    """
    section, rest = str(path[0]), path[1:]
    kind = Installation.model_fields[section].annotation
    found = _field(_models(kind), rest[1:] if get_origin(kind) in (dict, list) else rest, SPECS.get(section))
    if found is not None:
        yield from _of_field(model, path, found)


def _models(kind: Any) -> list[type[BaseModel]]:
    if isinstance(kind, type) and issubclass(kind, BaseModel):
        return [kind]
    return [model for inner in get_args(kind) for model in _models(inner)]


def _field(
    models: Sequence[type[BaseModel]], steps: Sequence[str | int], spec: type[BaseModel] | None
) -> FieldInfo | None:
    """The field the last step names; steps that are keys or indices lead nowhere else."""
    found: FieldInfo | None = None
    for step in steps:
        fields = [
            f
            for model in (*models, *((spec,) if spec is not None else ()))
            for name, f in model.model_fields.items()
            if step in (f.alias, name)
        ]
        spec = None
        if fields:
            found, models = fields[0], _models(fields[0].annotation)
    return found


def _of_field(model: Installation, path: DocPath, field: FieldInfo) -> Iterator[Written]:
    marks = [m for m in (*field.metadata, *_marks(field.annotation)) if isinstance(m, (Of, WordOr))]
    models = _models(field.annotation)
    words = _choices(field.annotation)
    if marks:
        for mark in marks:
            yield from mark.words if isinstance(mark, WordOr) else ()
            kinds = mark.quantity.kinds if isinstance(mark, WordOr) else mark.kinds
            for kind in _kinds_beside(model, path, kinds):
                yield from COULD_BE[kind]
    elif models and not any(_holds_generic(field.annotation, kind) for kind in (list, dict)):
        yield from _whole(model, path, models[0])
    elif path[-1] in _LISTS:
        section, sorts = _LISTS[str(path[-1])]
        held = model.section(section).items()
        yield from ([], [i for i, one in held if not sorts or _inner(one, "kind") in sorts])
    elif words:
        yield from words
    elif _holds(field.annotation, bool):
        yield from ("yes", "no")
    elif _holds(field.annotation, Gauge):
        yield from _GAUGES
    elif _holds(field.annotation, int):
        yield from _within(field, _COUNTS, _most_cylinders(model) if path[-1] == "cylinder" else inf)
    elif _holds(field.annotation, float):
        yield from _within(field, _SHARES)
    elif _takes(field, _DATES[0]):
        yield from _DATES
    elif _holds(field.annotation, str) and not models:
        yield from _said_elsewhere(model, path)
        yield "something else"


def _within(field: FieldInfo, figures: Sequence[str], most: float = inf) -> Sequence[str]:
    """Figures, each no less and no more than a field allows."""
    least = max((m.ge for m in field.metadata if hasattr(m, "ge")), default=-inf)
    most = min((m.le for m in field.metadata if hasattr(m, "le")), default=inf) if most == inf else most
    return list(dict.fromkeys(f"{min(max(float(f), least), most):g}" for f in figures))


def _most_cylinders(model: Installation) -> float:
    """How many cylinders the engine has that has most."""
    return max((engine.cylinders or 0 for engine in model.engines.values()), default=0) or inf


def _takes(field: FieldInfo, text: str) -> bool:
    """Whether a field asks for texts of a pattern, and this is one."""
    patterns = [str(m.pattern) for m in field.metadata if getattr(m, "pattern", None)]
    return bool(patterns) and all(re.search(pattern, text) for pattern in patterns)


def _marks(annotation: Any) -> Iterator[object]:
    yield from getattr(annotation, "__metadata__", ())
    for inner in get_args(annotation):
        yield from _marks(inner)


def _choices(annotation: Any) -> list[str]:
    if get_origin(annotation) is Literal:
        return [str(word) for word in get_args(annotation)]
    return [word for inner in get_args(annotation) for word in _choices(inner)]


def _holds(annotation: Any, kind: type) -> bool:
    return annotation is kind or any(_holds(inner, kind) for inner in get_args(annotation))


def _holds_generic(annotation: Any, kind: type) -> bool:
    return get_origin(annotation) is kind or any(
        _holds_generic(inner, kind) for inner in get_args(annotation)
    )


def _whole(installation: Installation, path: DocPath, model: type[BaseModel]) -> Iterator[Written]:
    """A whole entry with what it needs: a range from little to much."""
    needed = {f.alias or n: f for n, f in model.model_fields.items() if f.is_required()}
    each = {word: list(_of_field(installation, (*path, word), f)) for word, f in needed.items()}
    if not each or not all(each.values()):
        return
    for turn in range(max(map(len, each.values()))):
        yield {w: c[min(turn + (w == "highest"), len(c) - 1)] for w, c in each.items()}


def _kinds_beside(model: Installation, path: DocPath, kinds: Sequence[str]) -> Sequence[str]:
    """Of several kinds a quantity could be of, those of what it measures, else of its neighbours: nearest first."""
    if len(kinds) == 1:
        return kinds
    node: object = model
    chain: list[object] = []
    for step in path[:-1]:
        node = _inner(node, step)
        if node is None:
            break
        chain.append(node)
    measures = [*path[2:], *(_inner(near, "measures") for near in reversed(chain))]
    for measure in measures:
        meant = [_as(kind, kinds) for kind in kinds_of(str(measure))]
        if any(kind in kinds for kind in meant):
            return [kind for kind in meant if kind in kinds]
    for near in reversed(chain[1:] or chain):
        seen = {_as(kind, kinds) for kind in _quantities(near)} & {*kinds}
        if seen:
            return [kind for kind in kinds if kind in seen]
    return kinds


def _as(kind: str, kinds: Sequence[str]) -> str:
    return "temperature difference" if kind == "temperature" and kind not in kinds else kind


def _inner(node: object, step: str | int) -> object:
    if isinstance(node, BaseModel):
        for holder in (node, getattr(node, "spec", None)):
            for name, field in type(holder).model_fields.items() if isinstance(holder, BaseModel) else ():
                if step in (name, field.alias):
                    return getattr(holder, name)
        return None
    if isinstance(node, Mapping):
        return node.get(step)
    if isinstance(node, Sequence) and isinstance(step, int) and step < len(node):
        return node[step]
    return None


def _quantities(node: object) -> Iterator[str]:
    if isinstance(node, Quantity):
        yield node.kind
    elif isinstance(node, BaseModel):
        for name in type(node).model_fields:
            yield from _quantities(getattr(node, name))
    elif isinstance(node, Mapping):
        for value in node.values():
            yield from _quantities(value)
    elif isinstance(node, (list, tuple)):
        for value in node:
            yield from _quantities(value)


def _said_elsewhere(model: Installation, path: DocPath) -> list[str]:
    """What other things of the section say in that word, what most of them say first; ids where it names a thing."""
    held = getattr(model, str(path[0]))
    things = held.values() if isinstance(held, Mapping) else held if isinstance(held, list) else ()
    said = []
    for thing in things:
        for step in path[2:]:
            thing = _inner(thing, step)
        said.append(thing)
    count = Counter(word for word in said if isinstance(word, str))
    section = _NAMED.get(str(path[-1]))
    words = [word for word, _ in count.most_common()]
    if section is not None:
        ids = model.section(section)
        words = list(dict.fromkeys([*(word for word in words if word in ids), *ids]))
    return words[:_OTHER_WORDS]
