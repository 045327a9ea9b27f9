"""The multigraph of an installation: terminals and ports, and what joins them; its circuit, fluid and zone views."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import field
from functools import cached_property

import networkx as nx

from ..dataclass import dataclass
from ..document.source import DocPath
from ..model.installation import Installation, is_one_point, split_end, terminals_of
from .edges import ELECTRICAL, Edge


@dataclass(eq=False)
class Graph:
    """The installation as a graph.

    Attributes:
        model: what is in the aircraft: the installation it was built from without what is removed.
        whole: that installation with what is removed.
        multigraph: the multigraph. Nodes are ends (``oil bulb.A``; ``airframe`` for what is one point), with attributes
            ``section``, ``ident``, ``terminal`` and ``zone``; each edge carries its :class:`Edge` as ``edge``.
        edges: all edges in document order.
    """

    model: Installation
    whole: Installation
    multigraph: nx.MultiGraph[str]
    edges: list[Edge] = field(default_factory=list)
    by_thing: dict[tuple[str, str], list[Edge]] = field(default_factory=dict)

    def add(self, edge: Edge) -> None:
        """Add an edge and the nodes it needs."""
        for node in (edge.a, edge.b):
            self.node(node)
        self.multigraph.add_edge(edge.a, edge.b, edge=edge)
        self.edges.append(edge)
        self.by_thing.setdefault((edge.section, edge.ident), []).append(edge)

    def node(self, name: str) -> str:
        """Add a node by its end, with its thing and zone."""
        if name not in self.multigraph:
            ident, terminal = split_end(name)
            found = self.model.find(ident)
            section, thing = found if found else ("", None)
            self.multigraph.add_node(
                name, section=section, ident=ident, terminal=terminal, zone=getattr(thing, "zone", None)
            )
        return name

    def node_of(self, end: str) -> str:
        """The node an end stands for: one per terminal, or one per thing where the thing is one point.

        Raises:
            KeyError: the end names nothing in the document.
        """
        ident, terminal = split_end(end)
        found = self.model.find(ident)
        if found is None:
            raise KeyError(end)
        section, thing = found
        if is_one_point(thing):
            return ident
        if not terminal:
            names = terminals_of(section, thing)
            terminal = names[0] if names else ""
        return f"{ident}.{terminal}" if terminal else ident

    def at(self, node: str) -> Iterator[Edge]:
        """Edges that meet at a node."""
        if node in self.multigraph:
            for _, _, data in self.multigraph.edges(node, data=True):
                yield data["edge"]

    def zone_of(self, node: str) -> str | None:
        """Zone of the thing a node belongs to."""
        zone: str | None = self.multigraph.nodes[node]["zone"] if node in self.multigraph else None
        return zone

    def is_ground(self, node: str) -> bool:
        """Whether a node is a ground point, structure or engine case."""
        return node in self.model.grounds

    @cached_property
    def ground_links(self) -> dict[str, list[Edge]]:
        """For each ground point, the straps, joints and wires that lead from it to another ground point."""
        links: dict[str, list[Edge]] = {}
        for edge in self.edges:
            if edge.kind in ("bond", "conductor") and self.is_ground(edge.a) and self.is_ground(edge.b):
                links.setdefault(edge.a, []).append(edge)
                links.setdefault(edge.b, []).append(edge)
        return links

    @cached_property
    def circuit(self) -> nx.MultiGraph[str]:
        """The circuit view: every edge that can carry current."""
        return self._view(ELECTRICAL)

    @cached_property
    def fluid(self) -> nx.MultiGraph[str]:
        """The fluid view: lines and the passages of fittings."""
        return self._view(frozenset(("fluid line", "passage")))

    def _view(self, kinds: Iterable[str]) -> nx.MultiGraph[str]:
        chosen: nx.MultiGraph[str] = nx.MultiGraph()
        wanted = frozenset(kinds)
        for edge in self.edges:
            if edge.kind in wanted:
                chosen.add_edge(edge.a, edge.b, edge=edge)
        return chosen

    @cached_property
    def crossings(self) -> dict[str, list[Crossing]]:
        """The zone view: for each barrier, what crosses it and by what."""
        found: dict[str, list[Crossing]] = {b: [] for b in self.model.barriers}
        for section in ("wire_runs", "fluid_lines"):
            for ident, run in getattr(self.model, section).items():
                for i, step in enumerate(run.route or ()):
                    if step.barrier is not None and step.barrier in found:
                        before = next((s.zone for s in reversed(run.route[:i]) if s.zone), None)
                        after = next((s.zone for s in run.route[i + 1 :] if s.zone), None)
                        crossing = Crossing(
                            section,
                            ident,
                            step.barrier,
                            i,
                            step.through,
                            step.fitting,
                            before,
                            after,
                            (section, ident, "route", i),
                        )
                        found[step.barrier].append(crossing)
        return found


@dataclass(frozen=True, slots=True)
class Crossing:
    """A run or line that crosses a barrier."""

    section: str
    ident: str
    barrier: str
    step: int
    through: str | None
    fitting: str | None
    before: str | None
    after: str | None
    path: DocPath
