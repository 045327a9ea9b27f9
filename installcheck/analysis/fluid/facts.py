"""What the rules of fluid lines ask of a document: zones, media, pressures, and what stands at the ends."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TypeAlias

from ...dataclass import dataclass
from ...document.source import DocPath
from ...graph import total_length
from ...graph.media import Feed, Media, flood
from ...model.devices import Indicator, Sender
from ...model.fields import Measure, Medium
from ...model.fluid import Fitting, FluidLine
from ...model.installation import split_end
from ...model.quantities import Quantity
from ..study import Study, once

LIQUID: frozenset[Medium] = frozenset(("fuel", "oil", "hydraulic fluid", "primer fuel"))
"""Media that burn and run out of a broken line."""
FLAMMABLE: frozenset[Medium] = LIQUID | {"fuel-air mixture"}
MANIFOLD: frozenset[Medium] = frozenset(("fuel-air mixture", "manifold air"))

_STUB_M = 0.0254
"""A line of an inch or less is the fitting itself, not a run."""

Where: TypeAlias = tuple[tuple[str, float | None], ...]


@dataclass(frozen=True, slots=True)
class Part:
    """A fluid line that is judged, with its place in the document."""

    ident: str
    line: FluidLine
    path: DocPath

    @property
    def is_capillary(self) -> bool:
        """Whether it belongs to a sealed temperature system."""
        return self.line.spec.kind == "capillary" or self.line.medium == "bulb filling"


@once
def media(study: Study) -> Media:
    """Every medium flooded through the lines."""
    return flood(study.graph)


def lines(study: Study, *, capillaries: bool = False) -> Iterator[Part]:
    """The lines that stay in the aircraft; those of sealed temperature systems only if asked for."""
    for ident, line in study.model.fluid_lines.items():
        part = Part(ident, line, ("fluid_lines", ident))
        if capillaries or not (part.is_capillary or sealed(study, ident)):
            yield part


def runs(study: Study) -> Iterator[Part]:
    """The lines that have a run of their own; a stub of an inch or less is the fitting it belongs to."""
    for part in lines(study):
        length = total_length(part.line)
        if length is None or length > _STUB_M:
            yield part


def hoses(study: Study) -> Iterator[Part]:
    """The hoses that stay in the aircraft."""
    return (part for part in lines(study) if part.line.spec.kind == "hose")


def sealed(study: Study, ident: str) -> bool:
    """Whether nothing but the filling of a bulb reaches a line."""
    return media(study).in_line(ident) == {"bulb filling"}


def carried(study: Study, ident: str) -> frozenset[Medium]:
    """The media that can stand in a line: those that reach it, and the one it is labelled for."""
    label = study.model.fluid_lines[ident].medium
    reached = media(study).in_line(ident)
    return reached | {label} if label is not None else reached


def ends(study: Study, line: FluidLine) -> Iterator[tuple[str, str, object]]:
    """(section, id, thing) at the two ends of a line."""
    for end in (line.from_, line.to):
        found = study.model.find(split_end(end)[0])
        if found is not None:
            yield found[0], split_end(end)[0], found[1]


def _end_zone(study: Study, end: str) -> tuple[bool, str | None]:
    """Whether an end has a zone of its own to tell, and that zone; what is fixed in a barrier stands in neither."""
    found = study.model.find(split_end(end)[0])
    thing = found[1] if found is not None else None
    if isinstance(thing, Fitting) and (thing.barrier is not None or thing.spec.kind == "bulkhead fitting"):
        return False, None
    return True, getattr(thing, "zone", None)


def stretches(study: Study, line: FluidLine) -> Where | None:
    """Zones a line runs through, from its first end, with the metres in each if given; ``None`` if not known.

    Without a route, a line between two things of one zone stays in it, and one between two zones passes both.
    """
    steps = [(s.zone, None if s.length is None else float(s.length)) for s in line.route or () if s.zone]
    near, far = _end_zone(study, line.from_), _end_zone(study, line.to)
    if steps:
        passed = {zone for zone, _ in steps}
        if near[1] is not None and near[1] not in passed:
            steps.insert(0, (near[1], 0.0))
        if far[1] is not None and far[1] not in passed:
            steps.append((far[1], 0.0))
        return tuple(steps)
    if any(tells and zone is None for tells, zone in (near, far)):
        return None
    zones = [zone for _, zone in (near, far) if zone is not None]
    if not zones:
        return None
    if len(set(zones)) == 1:
        return ((zones[0], total_length(line)),)
    return tuple((zone, None) for zone in zones)


def zones_of(study: Study, line: FluidLine) -> tuple[str, ...] | None:
    """Zones a line runs through, each once; ``None`` if not known."""
    where = stretches(study, line)
    return None if where is None else tuple(dict.fromkeys(zone for zone, _ in where))


_PUMPED: dict[Medium, tuple[Measure, frozenset[str]]] = {
    "oil": ("oil pressure", frozenset(("gallery",))),
    "fuel": ("fuel pressure", frozenset(("pump outlet", "carburettor inlet", "servo inlet"))),
}
"""Taps at which an engine's own pressure stands: the indication its limit and readings are given for, and the places."""


@once
def working_pressure(study: Study, ident: str) -> Quantity | None:
    """The highest pressure a tap can give: what it states, and what the engine's limit and the readings come to there.

    ``None`` where the document does not say, or says that the highest is unknown.
    """
    tap = study.model.taps[ident]
    if study.document.declared_unknown(("taps", ident, "max_pressure")):
        return None
    known = [p for p in (tap.pressure, tap.max_pressure) if p is not None]
    if not known:
        return None
    measure, places = _PUMPED.get(tap.medium, (None, frozenset()))
    if measure is not None and tap.location in places:
        found = study.model.engine_of(tap)
        limit = (found[1].limits or {}).get(measure) if found is not None else None
        reached = [limit.maximum if limit is not None else None]
        if len(study.model.engines) <= 1:
            reached += [(p.readings or {}).get(measure) for p in study.model.operating_points.values()]
        known += [p for p in reached if p is not None and p.kind == "pressure"]
    return max(known)


def highest_pressure(study: Study, ident: str) -> tuple[Quantity | None, str]:
    """Highest pressure of the taps that reach a line, and the tap it comes from; ``None`` if one does not say."""
    most: tuple[Quantity | None, str] = None, ""
    for _, feed in media(study).into_line(ident):
        if feed.source.ident not in study.model.taps:
            continue
        pressure = working_pressure(study, feed.source.ident)
        if pressure is None:
            return None, feed.source.ident
        if most[0] is None or pressure > most[0]:
            most = pressure, feed.source.ident
    return most


def pressurised(study: Study, feed: Feed) -> bool:
    """Whether a tap gives liquid under pressure; a tap that does not say is held to."""
    tap = study.model.taps.get(feed.source.ident)
    if tap is None or tap.medium not in LIQUID:
        return False
    pressure = working_pressure(study, feed.source.ident)
    return pressure is None or pressure > 0


def readers(study: Study, ident: str) -> tuple[tuple[str, str, Indicator | Sender], ...]:
    """Gauges and senders that read through a line: (section, id, thing)."""
    return tuple(_readers(study).get(ident, {}).values())


@once
def _readers(study: Study) -> dict[str, dict[str, tuple[str, str, Indicator | Sender]]]:
    flooded = media(study)
    through: dict[str, dict[str, tuple[str, str, Indicator | Sender]]] = {}
    for name in study.graph.fluid:
        ident = split_end(name)[0]
        found = study.model.find(ident)
        if found is None or not isinstance(found[1], (Indicator, Sender)):
            continue
        for feed in flooded.feeds(name):
            if feed.source.ident == ident:
                continue
            for hop in feed.hops:
                if hop.edge.line is not None:
                    through.setdefault(hop.edge.ident, {})[ident] = (found[0], ident, found[1])
    return through


def gauges(study: Study, ident: str) -> list[str]:
    """Direct-reading gauges that read through a line."""
    return [i for section, i, _ in readers(study, ident) if section == "indicators"]


def amateur_built(study: Study) -> bool:
    """Whether part 23 is no rule for this aircraft, only good counsel."""
    return study.model.aircraft.basis == "amateur-built"


def listed(words: list[str]) -> str:
    """Words joined for a sentence.

    >>> listed(["a", "b", "c"])
    'a, b and c'
    """
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}" if words else ""
