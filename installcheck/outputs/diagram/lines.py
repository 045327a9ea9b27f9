"""Fluid lines as they are drawn: small fittings folded into their port, lines on both sides of a bulkhead as one."""

from __future__ import annotations

from collections import defaultdict
from functools import cached_property

from ...dataclass import dataclass
from ...graph import Edge, Graph
from .words import FOLDED


@dataclass(frozen=True, slots=True)
class Chain:
    """Lines drawn as one: in order, the bulkhead fittings between them, and the ports at the ends.

    ``open_ends`` are fittings in a barrier at which the chain stops since nothing goes on from them.
    """

    lines: tuple[Edge, ...]
    bulkheads: tuple[str, ...]
    start: str
    end: str
    open_ends: tuple[str, ...]


class Lines:
    """The fluid lines of a graph."""

    def __init__(self, graph: Graph) -> None:
        self.graph, self.model = graph, graph.whole

    def fold(self, node: str) -> str:
        """The port a line really ends at: a small fitting screwed into a port is drawn as part of it."""
        seen: set[str] = set()
        while True:
            ident = node.partition(".")[0]
            fitting = self.model.fittings.get(ident)
            if fitting is None or fitting.screwed_into is None or ident in seen:
                return node
            if fitting.spec.kind not in FOLDED:
                return node
            seen.add(ident)
            node = self.graph.node_of(fitting.screwed_into)

    def bulkhead(self, node: str) -> str | None:
        """The fitting fixed in a barrier that a node belongs to."""
        ident = self.fold(node).partition(".")[0]
        fitting = self.model.fittings.get(ident)
        if fitting is None or fitting.spec.kind != "bulkhead fitting" or fitting.barrier is None:
            return None
        return ident

    @cached_property
    def _at(self) -> dict[str, list[Edge]]:
        """Lines by the bulkhead fitting they end at."""
        found: dict[str, list[Edge]] = defaultdict(list)
        for edge in self.graph.edges:
            if edge.kind == "fluid line":
                for ident in {self.bulkhead(edge.a), self.bulkhead(edge.b)} - {None}:
                    found[ident or ""].append(edge)
        return found

    def chain(self, edge: Edge) -> Chain:
        """The chain a line is in."""
        lines, bulkheads, open_ends = [edge], list[str](), list[str]()
        ends = [edge.a, edge.b]
        for side in (0, 1):
            while (fitting := self.bulkhead(ends[side])) is not None:
                beyond = [e for e in self._at[fitting] if e not in lines]
                if not beyond or fitting in bulkheads:
                    open_ends.append(fitting)
                    break
                lines.insert(len(lines) if side else 0, beyond[0])
                bulkheads.insert(len(bulkheads) if side else 0, fitting)
                near = self.bulkhead(beyond[0].a) == fitting
                ends[side] = beyond[0].b if near else beyond[0].a
        return Chain(tuple(lines), tuple(bulkheads), ends[0], ends[1], tuple(open_ends))
