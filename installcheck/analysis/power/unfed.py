"""Buses and inverters that no source reaches."""

from __future__ import annotations

from collections.abc import Collection

from ...graph import Edge, Walk
from ...graph.edges import CARRIES_SIGNAL
from ...graph.joining import Joined
from ...model.power import SOURCES
from .. import missing
from ..circuit.drop_paths import consumers
from ..missing import Missing
from ..study import Point, Study, once


def gives_nothing(study: Study, ident: str) -> bool:
    """Whether a source is rated 0 A."""
    supply = study.model.supplies.get(ident)
    rated = supply.spec.rated_current if supply is not None and supply.spec.kind in SOURCES else None
    return rated is not None and float(rated) == 0.0


def dead_at(point: Point) -> frozenset[str]:
    """The supplies that a point says are dead."""
    return frozenset(point.given.dead_supplies or ()) if point.given is not None else frozenset()


def cut_off(study: Study, ident: str, opened: Collection[str]) -> bool:
    """Whether switches and protectors that are open part a source from every bus and load that it feeds otherwise."""
    edge = next((e for e in study.graph.by_thing.get(("supplies", ident), ()) if e.kind == "supply"), None)
    return (
        bool(opened) and edge is not None and _feeds(study, edge.a, ()) and not _feeds(study, edge.a, opened)
    )


def _feeds(study: Study, post: str, opened: Collection[str]) -> bool:
    """Whether a post leads to a bus or a load past what is open."""
    graph, supplies = study.graph, study.model.supplies

    def passes(edge: Edge, there: str) -> bool:
        out = edge.kind == "contact" and edge.section == "supplies" and edge.ident in opened
        return edge.kind in CARRIES_SIGNAL and edge.closed and not out and not graph.is_ground(there)

    walk = Walk([post], graph.at, passes)
    return any(
        (node in supplies and supplies[node].spec.kind == "bus")
        or any(e.kind == "load" for e in graph.at(node))
        for node in walk
    )


@once
def drawn(study: Study) -> tuple[str, ...]:
    """Buses and inverters with a wire, in a document that draws a source. Cost: linear."""
    model = study.model
    if not any(one.spec.kind in SOURCES for one in model.supplies.values()):
        return ()
    wired = {node.partition(".")[0] for edge in study.graph.of("conductor") for node in (edge.a, edge.b)}
    return tuple(
        i for i, one in model.supplies.items() if one.spec.kind in ("bus", "inverter") and i in wired
    )


@once
def unfed(study: Study) -> frozenset[str]:
    """Those that no source reaches, through closed contacts; what a plug that meets nothing may bring feeds as well."""
    joined: Joined[str] = Joined()
    grounds = study.model.grounds
    for edge in study.graph.of("conductor", "joint", "contact", "spool"):
        if edge.closed and edge.a not in grounds and edge.b not in grounds:
            joined.union(edge.a, edge.b)
    fed = {joined[edge.a] for edge in study.graph.of("supply") if not gives_nothing(study, edge.ident)}
    fed |= {joined[node] for node in study.graph.nodes if _may_bring(study, node)}
    inverters = {i for i, one in study.model.supplies.items() if one.spec.kind == "inverter"}
    while live := [i for i in inverters if joined[_into(study, i)] in fed]:
        fed |= {joined[f"{ident}.out"] for ident in live}
        inverters.difference_update(live)
    return frozenset(ident for ident in drawn(study) if joined[_into(study, ident)] not in fed)


def dead_by(study: Study, bus: str) -> tuple[str, Missing]:
    """Why what hangs on a bus gets no voltage, in words, and what is to be said: no source reaches it, or nothing returns."""
    if bus in unfed(study) or bus not in drawn(study):
        return f"no source reaches {bus}", missing.LOAD_SOURCE
    return f"nothing joins its return to the other side of what feeds {bus}", missing.LOAD_BACK


def lacking_supply(study: Study, ident: str) -> Missing:
    """What an indicator without voltage lacks: what feeds it, or what returns it."""
    return dead_by(study, next((one.bus for one in consumers(study) if one.ident == ident and one.bus), ""))[
        1
    ]


def _into(study: Study, ident: str) -> str:
    """Where current comes into a bus or an inverter."""
    spec = study.model.supplies[ident].spec
    return f"{ident}.{(spec.terminals or ['in'])[0]}" if spec.kind == "inverter" else ident


def _may_bring(study: Study, node: str) -> bool:
    """Whether a node is of a supply of no stated kind, or of a plug that mates with nothing drawn."""
    ident = node.partition(".")[0]
    supply = study.model.supplies.get(ident)
    if supply is not None:
        return supply.spec.kind is None
    plug = study.model.junctions.get(ident)
    return (
        plug is not None
        and plug.spec.kind in ("plug", None)
        and plug.mates is None
        and ident not in _mates(study)
    )


@once
def _mates(study: Study) -> frozenset[str]:
    return frozenset(j.mates for j in study.model.junctions.values() if j.mates is not None)
