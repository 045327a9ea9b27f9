"""Whether the direct-current network can be solved: every load fed and returned, no two sources at odds."""

from __future__ import annotations

from collections.abc import Iterator

import networkx as nx

from ...analysis import missing
from ...analysis.circuit.drop_paths import Consumer, consumers
from ...analysis.circuit.solved import Circuit, circuit
from ...analysis.power.wiring import SOURCES
from ...analysis.study import Point, Study
from ...model.comparing import at_most
from ...model.quantities import plain_number
from ..verdicts import Verdict
from ..vocabulary import Subject, rule

_AT_ODDS = 1.25
"""Ratio of two source voltages on one network above which they are different systems [-]: a 12 V battery behind a 14.4 V
regulator is 1.2, a 14 V source on a 28 V bus is 2."""
_METAL = frozenset(("conductor", "joint", "contact", "spool"))


@rule(
    "circuit-solvable",
    title="Every supply and every load is part of one network that can be solved",
    why="A part that floats, has no source, or joins sources of two systems has no voltage that can be told; what rests on it "
    "must not pass for checked.",
    source="Kirchhoff's laws",
    formula="every node joined to the reference, every load supplied, sources on one network within a quarter of each other",
    example="a 14 V alternator on a 28 V bus: sources at odds, 2 to 1",
    over=lambda study: [*_sources(study), *(c.ident for c in consumers(study))],
)
def circuit_solvable(study: Study) -> Iterator[Verdict]:
    """One verdict per supply, and one per load, indicator or coil that is wired in the document."""
    for ident in _sources(study):
        yield _supply(Subject(study, (ident,), ("supplies", ident)))
    for consumer in consumers(study):
        yield _consumer(Subject(study, (consumer.ident,), consumer.path), consumer)


def _sources(study: Study) -> list[str]:
    return [i for i, s in study.model.supplies.items() if s.spec.kind in SOURCES]


def _supply(subject: Subject) -> Verdict:
    study, ident = subject.study, subject.ident
    volts = study.model.supplies[ident].spec.voltage
    edge = next((e for e in study.graph.by_thing.get(("supplies", ident), ()) if e.kind == "supply"), None)
    if volts is None:
        return subject.lacks(missing.SUPPLY_VOLTAGE)
    for point in study.points:
        net = circuit(study, point)
        if edge is None or net.voltage(edge.a) is None:
            floats = f"{ident} floats: nothing ties its negative to ground ({point.name})"
            return subject.lacks(missing.CIRCUIT_ALONE, because=floats)
        rival = _rival(net, ident, edge.a)
        if rival is not None:
            other = study.model.supplies[rival].spec.voltage
            return subject.discrepancy(
                f"{ident} of {plain_number(volts)} V and {rival} of {plain_number(other or 0.0)} V feed one network "
                f"({point.name})",
                remedy="keep the two systems apart, or correct the voltage of one of them",
            )
    net = circuit(study, study.points[0])
    stands = net.voltage(edge.a) if edge is not None else None
    return subject.meets(
        f"{ident} stands at {plain_number(stands or 0.0)} V ({net.point.name}) in a network that is solved"
    )


def _rival(net: Circuit, ident: str, node: str) -> str | None:
    """Another source joined to a positive by metal, not only through loads and ground, whose voltage is another system's."""
    supplies = net.study.model.supplies
    joined = _joined_by_metal(net, node)
    own = supplies[ident].spec.voltage
    for edge in net.study.graph.edges:
        if edge.kind != "supply" or edge.ident == ident or edge.a not in joined:
            continue
        other = supplies[edge.ident].spec.voltage
        if own is None or other is None or own <= 0 or other <= 0:
            continue
        if not at_most(max(own, other) / min(own, other), _AT_ODDS):
            return edge.ident
    return None


def _joined_by_metal(net: Circuit, node: str) -> set[str]:
    graph = net.study.graph
    network: nx.Graph[str] = nx.Graph()
    network.add_node(node)
    for edge, number in net.branch_of.items():
        ground = graph.is_ground(edge.a) or graph.is_ground(edge.b)
        if edge.kind in _METAL and not ground and not net.solution.network.is_open[number]:
            network.add_edge(edge.a, edge.b)
    return nx.node_connected_component(network, node)


def _consumer(subject: Subject, consumer: Consumer) -> Verdict:
    ident = consumer.ident
    if consumer.out is None or consumer.back is None:
        lacking = "is not tied to a bus" if consumer.out is None else "does not return to ground"
        return subject.lacks(missing.CIRCUIT_ALONE, because=f"{ident} {lacking} in the document")
    unfed = [p.name for p in subject.study.points if _unfed(circuit(subject.study, p), consumer)]
    if unfed:
        told = f"{ident} gets no voltage ({', '.join(unfed)}): no source reaches {consumer.bus}"
        return subject.lacks(missing.LOAD_SOURCE, because=told)
    return subject.meets(f"{ident} is fed from {consumer.bus} and returns to ground")


def _unfed(net: Circuit, consumer: Consumer) -> bool:
    draw = net.draw_of.get(consumer.edge)
    if draw is None or draw not in net.solution.unsupplied:
        return False
    return net.solution.network.draw_value[draw] > 0 and not _meant(net.point)


def _meant(point: Point) -> bool:
    """Whether the point itself opens the feed or kills the supply."""
    given = point.given
    return given is not None and bool(given.open_switches or given.dead_supplies or given.phase == "start")
