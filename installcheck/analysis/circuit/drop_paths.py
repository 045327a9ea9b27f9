"""The way of a load's current from its bus and back to ground, and what drops along it."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace

from ...dataclass import dataclass
from ...document.source import DocPath
from ...graph import Edge, Walk
from ...model.power import SOURCES
from ...physics.conductors import COLDEST, HOTTEST, compliance_temperature
from ..study import Point, Study, once
from .assembly import is_switch, wired
from .conductor_heat import current_limit, surroundings
from .leads import conductor_ohms, temperature_coefficient
from .solved import Circuit

_PASSES = frozenset(("conductor", "joint", "contact", "spool", "bond"))


@dataclass(frozen=True, slots=True)
class Consumer:
    """Something that takes current by two terminals: a load, an indicator, a contactor's coil.

    ``bus`` is the bus it is fed from, or the positive of its source; ``out`` and ``back`` are the edges of the shortest
    way from there and to ground. Either is ``None`` where there is no such way.
    """

    section: str
    ident: str
    edge: Edge
    path: DocPath
    bus: str | None
    out: tuple[Edge, ...] | None
    back: tuple[Edge, ...] | None

    @property
    def runs(self) -> list[Edge]:
        """The conductors on the way out and back."""
        return [e for e in (*(self.out or ()), *(self.back or ())) if e.kind == "conductor"]


@once
def consumers(study: Study) -> list[Consumer]:
    """Everything whose feed is wired in the document. Cost: linear in the feeds, each walked to its first bus or ground."""
    return list(_consumers(study))


def _consumers(study: Study) -> Iterator[Consumer]:
    for edge in study.graph.of("load"):
        if edge.section not in ("loads", "indicators", "supplies"):
            continue
        thing = study.model.section(edge.section)[edge.ident]
        if getattr(thing, "connected_at", None) is not None:
            continue
        if edge.section != "loads" and not (wired(study, edge.a) or wired(study, edge.b)):
            continue
        start = edge.b
        if getattr(thing, "grounding", None) is not None and not any(
            e.ident != edge.ident for e in study.graph.at(edge.b)
        ):
            start = f"{edge.ident}.case"
        found = way_to(study, edge.a, edge, _is_source)
        back = way_to(study, start, edge, _is_ground)
        yield Consumer(
            edge.section,
            edge.ident,
            edge,
            (edge.section, edge.ident),
            found[0] if found else None,
            found[1] if found else None,
            (*back[1], *_to_structure(study, back[0])) if back else None,
        )


def _to_structure(study: Study, ground: str) -> tuple[Edge, ...]:
    """Straps and joints from a ground point to the structure; none where it is the structure or not tied to it."""
    grounds, links = study.model.grounds, study.graph.ground_links
    walk = Walk([ground], lambda node: links.get(node, ()))
    structure = walk.first(lambda node: node in grounds and grounds[node].kind == "structure")
    return () if structure is None else tuple(step.edge for step in walk.way(structure))


def _is_source(study: Study, node: str) -> bool:
    ident = node.partition(".")[0]
    supply = study.model.supplies.get(ident)
    if supply is None:
        return False
    return supply.spec.kind == "bus" or (supply.spec.kind in SOURCES and node.endswith(".+"))


def _is_ground(study: Study, node: str) -> bool:
    if study.graph.is_ground(node):
        return True
    supply = study.model.supplies.get(node.partition(".")[0])
    return supply is not None and supply.spec.kind == "battery" and node.endswith(".-")


def live_from(study: Study, start: str, load: Edge) -> str:
    """The bus or source that a terminal of a load leads to; empty for none."""
    found = way_to(study, start, load, _is_source)
    return found[0] if found is not None else ""


def ground_from(study: Study, start: str, load: Edge) -> str:
    """The ground or battery post that a terminal of a load leads to; empty for none."""
    found = way_to(study, start, load, _is_ground)
    return found[0] if found is not None else ""


def way_to(
    study: Study, start: str, load: Edge, goal: Callable[[Study, str], bool]
) -> tuple[str, tuple[Edge, ...]] | None:
    """The first node that satisfies the goal, and the edges to it."""

    def passes(edge: Edge, there: str) -> bool:
        selector = edge.kind == "contact" and edge.section == "junctions" and not edge.closed
        carries = edge.kind in _PASSES or is_switch(study, edge)
        return carries and edge is not load and not selector

    def stops(node: str) -> bool:
        return node != start and (study.graph.is_ground(node) or _is_source(study, node))

    walk = Walk([start], study.graph.at, passes, stops)
    found = walk.first(lambda node: node != start and goal(study, node))
    return None if found is None else (found, tuple(step.edge for step in walk.way(found)))


def hot_ohms(study: Study, edge: Edge, point: Point, current: float) -> float | None:
    """Resistance of a conductor at the temperature the AC estimates for its current (AC 43.13-1B 11-66), in ohm.

    Where zone temperature, rating or gauge is not given it is that at the zone temperatures alone, or cold.
    """
    ohms = conductor_ohms(study, edge, point)
    if ohms.cold is None:
        return None
    ambient, limit = surroundings(edge, point), current_limit(study, edge, point)
    rating = edge.run.spec.temperature_rating if edge.run is not None else None
    coefficient = temperature_coefficient(edge.metal)
    hot = ohms.hot if ohms.hot is not None else ohms.cold
    if ambient is None or limit is None or rating is None or coefficient is None or rating <= ambient:
        return hot
    carried = min(abs(current), limit)
    if not COLDEST <= ambient <= HOTTEST:
        return hot
    rise = compliance_temperature(ambient, float(rating), carried, limit) - ambient
    return hot + ohms.cold * coefficient * rise


@once
def at_the_hottest(study: Study, point: Point) -> Point:
    """An operating point with every zone at the highest the document gives for it, over its range and all points; itself where
    its zones are.
    """
    known = {zone: study.hottest(zone) for zone in study.model.zones}
    zones = point.zones | {z: float(t) for z, t in known.items() if t is not None}
    return point if zones == point.zones else replace(point, zones=zones)


def added_by_heat(net: Circuit, consumer: Consumer, more: dict[Edge, float], at: Point) -> float:
    """Volts the AC's temperature estimate adds to the solved drop along a feed, its zones as hot as they are ``at`` a point.

    ``more`` is current that flows in each edge besides the solved one.
    """
    total = 0.0
    for edge in consumer.runs:
        solved, current = net.resistance(edge), net.current(edge)
        if solved is None or current is None:
            continue
        carried = abs(current) + more.get(edge, 0.0)
        hot = hot_ohms(net.study, edge, at, carried)
        network_cold = conductor_ohms(net.study, edge, net.point)
        if hot is None or network_cold.cold is None:
            continue
        number = net.branch_of[edge]
        joints = float(net.parts.contact[number])
        total += carried * max(0.0, hot + joints - solved)
    return total
