"""Whether the direct-current network can be solved: every load fed and returned, no two sources at odds."""

from __future__ import annotations

from collections.abc import Iterator

from ...analysis.circuit.drop_paths import Consumer, consumers
from ...analysis.circuit.solved import Circuit, circuit
from ...analysis.study import Point, Study
from ...model.quantities import plain_number
from ..verdicts import (
    Verdict,
    discrepancy,
    meets,
    undetermined,
)
from ..vocabulary import rule

_AT_ODDS = 1.25
"""Ratio of two source voltages on one network above which they are different systems [-]: a 12 V battery behind a 14.4 V
regulator is 1.2, a 14 V source on a 28 V bus is 2."""
ALONE = "wire runs and joints that tie it to a bus and to ground"
VOLTAGE = "voltage of the supply"


@rule(
    "circuit-solvable",
    title="Every supply and every load is part of one network that can be solved",
    why="A part that floats, has no source, or joins sources of two systems has no voltage that can be told; what rests on it "
    "must not pass for checked.",
    source="Kirchhoff's laws",
    formula="every node joined to the reference, every load supplied, sources on one network within a quarter of each other",
    example="a 14 V alternator on a 28 V bus: sources at odds, 2 to 1",
    over=lambda study: [
        *(c.ident for c in consumers(study)),
        *(
            i
            for i, s in study.model.supplies.items()
            if s.spec.kind in ("battery", "alternator", "generator")
        ),
    ],
)
def circuit_solvable(study: Study) -> Iterator[Verdict]:
    """One verdict per supply, and one per load, indicator or coil that is wired in the document."""
    for ident, supply in study.model.supplies.items():
        if supply.spec.kind in ("battery", "alternator", "generator"):
            yield _supply(study, ident)
    for consumer in consumers(study):
        yield _consumer(study, consumer)


def _supply(study: Study, ident: str) -> Verdict:
    at, path = (ident,), ("supplies", ident)
    spec = study.model.supplies[ident].spec
    edge = next((e for e in study.graph.by_thing.get(("supplies", ident), ()) if e.kind == "supply"), None)
    if spec.voltage is None:
        return undetermined(at, path, VOLTAGE)
    for point in study.points:
        net = circuit(study, point)
        if edge is None or net.voltage(edge.a) is None:
            return undetermined(
                at, path, ALONE, f"{ident} floats: nothing ties its negative to ground ({point.name})"
            )
        rival = _rival(study, net, ident, edge.a)
        if rival is not None:
            other = study.model.supplies[rival].spec.voltage
            assert other is not None
            return discrepancy(
                at,
                path,
                f"{ident} of {plain_number(spec.voltage)} V and {rival} of {plain_number(other)} V feed one network "
                f"({point.name})",
                value=float(spec.voltage),
                limit=float(other),
                unit="V",
                remedy="keep the two systems apart, or correct the voltage of one of them",
            )
    net = circuit(study, study.points[0])
    volts = net.voltage(edge.a) if edge is not None else None
    return meets(
        at,
        path,
        f"{ident} stands at {plain_number(volts or 0.0)} V ({net.point.name}) in a network that is solved",
    )


def _rival(study: Study, net: Circuit, ident: str, node: str) -> str | None:
    """Another source in the same part of the network whose voltage is another system's."""
    own = study.model.supplies[ident].spec.voltage
    island = net.solution.island
    for edge in study.graph.edges:
        if edge.kind != "supply" or edge.ident == ident or edge.a not in net.nodes:
            continue
        other = study.model.supplies[edge.ident].spec.voltage
        if own is None or other is None or own <= 0 or other <= 0:
            continue
        together = island[net.nodes[edge.a]] == island[net.nodes[node]] and _same_feed(net, node, edge.a)
        if together and max(own, other) / min(own, other) > _AT_ODDS:
            return edge.ident
    return None


def _same_feed(net: Circuit, a: str, b: str) -> bool:
    """Whether two positives are joined by metal, not only through loads and ground."""
    graph = net.study.graph
    seen, stack = {a}, [a]
    while stack:
        here = stack.pop()
        if here == b:
            return True
        for edge in graph.at(here):
            there = edge.other(here)
            number = net.branch_of.get(edge)
            passes = edge.kind in ("conductor", "joint", "contact", "spool") and number is not None
            if (
                passes
                and not net.solution.network.is_open[number]
                and there not in seen
                and not graph.is_ground(there)
            ):
                seen.add(there)
                stack.append(there)
    return False


def _consumer(study: Study, consumer: Consumer) -> Verdict:
    at = (consumer.ident,)
    unfed: list[Point] = []
    for point in study.points:
        net = circuit(study, point)
        draw = net.draw_of.get(consumer.edge)
        if draw is None:
            continue
        if (
            net.solution.network.draw_value[draw] > 0
            and draw in net.solution.unsupplied
            and not _meant(net, consumer)
        ):
            unfed.append(point)
    if consumer.out is None or consumer.back is None:
        lacking = "is not tied to a bus" if consumer.out is None else "does not return to ground"
        return undetermined(at, consumer.path, ALONE, f"{consumer.ident} {lacking} in the document")
    if unfed:
        return undetermined(
            at,
            consumer.path,
            "supply that feeds it at this point",
            f"{consumer.ident} gets no voltage ({', '.join(p.name for p in unfed)}): no source reaches {consumer.bus}",
        )
    return meets(at, consumer.path, f"{consumer.ident} is fed from {consumer.bus} and returns to ground")


def _meant(net: Circuit, consumer: Consumer) -> bool:
    """Whether the point itself opens the feed or kills the supply."""
    given = net.point.given
    return given is not None and bool(given.open_switches or given.dead_supplies or given.phase == "start")
