"""What an ohmmeter reads between any two terminals with all power off: the whole wiring as one network of resistors."""

from __future__ import annotations

from math import isinf

from ...graph import Edge
from ...graph.walk import Walk
from ...model.quantities import Quantity
from ...physics.network_parts import Branch, Network, in_bounds
from ...physics.networks import solve
from ..circuit.leads import ends_ohms
from ..study import Study
from .spans import JOINT_OHM, METER_OHM, Span, made_to_loop, source_span, wire_span

_PASSIVE = frozenset(
    ("conductor", "shield", "joint", "contact", "spool", "bond", "element", "couple", "winding")
)


def between(
    study: Study, start: str, end: str, temperature: float, true: Quantity | None = None
) -> Span | None:
    """Ohms between two nodes, supplies, loads and indicators lifted; ``None`` if a part on the way has no figure.

    Senders stand at ``true`` where that is told, else at rest. The span is infinite where nothing joins the two. Cost: linear in what hangs together with them.
    """
    edges = _joined(study, start)
    nodes = {name: n for n, name in enumerate(dict.fromkeys(x for e in edges for x in (e.a, e.b)))}
    if start not in nodes or end not in nodes:
        return Span(float("inf"), float("inf"), float("inf")) if start != end else Span(0.0, 0.0, 0.0)
    spans = [_span(study, edge, temperature, true) for edge in edges]
    known = [(e, s) for e, s in zip(edges, spans, strict=True) if s is not None]
    seen = [
        _solve(nodes, [(e, getattr(s, which)) for e, s in known], start, end)
        for which in ("expected", "lowest", "highest")
    ]
    if isinf(seen[0]) and len(known) < len(edges):
        return None
    joints = sum(1 for e, _ in known if e.kind == "conductor" and start in (e.a, e.b)) + 1
    return Span(seen[0], max(0.0, seen[1] - METER_OHM), seen[2] + METER_OHM + 2 * joints * JOINT_OHM)


def _joined(study: Study, start: str) -> list[Edge]:
    """Everything an ohmmeter's current can reach from a node."""

    def passes(edge: Edge, _there: str = "") -> bool:
        return edge.kind in _PASSIVE and edge.closed

    walk = Walk([start], study.graph.at, passes)
    return list(dict.fromkeys(e for node in walk for e in study.graph.at(node) if passes(e)))


def _span(study: Study, edge: Edge, temperature: float, true: Quantity | None) -> Span | None:
    if edge.kind == "conductor":
        if made_to_loop(edge):
            return None
        span = wire_span(edge, temperature)
        joints = ends_ohms(study, edge).cold
        return None if span is None or joints is None else span.plus(Span(joints, joints, joints))
    if edge.kind == "element":
        return source_span(study.model.senders[edge.ident], temperature, true)
    if edge.kind == "couple":
        return source_span(study.model.probes[edge.ident], temperature)
    if edge.kind in ("joint", "contact") and edge.resistance is None:
        return Span(0.0, 0.0, JOINT_OHM)
    return None if edge.resistance is None else Span(edge.resistance, edge.resistance, edge.resistance)


def _solve(nodes: dict[str, int], parts: list[tuple[Edge, float]], start: str, end: str) -> float:
    branches = [Branch(nodes[e.a], nodes[e.b], in_bounds(ohms)) for e, ohms in parts]
    solution = solve(Network.of(len(nodes), branches))
    return float(solution.resistance_between([nodes[start]], [nodes[end]])[0])
