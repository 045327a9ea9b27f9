"""The multigraph of an installation: terminals and ports, and what joins them; its circuit, fluid and zone views."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import field
from functools import cached_property
from typing import TYPE_CHECKING, TypedDict

from ..dataclass import dataclass
from ..document.source import DocPath
from ..model.installation import Installation, is_one_point, split_end, terminals_of
from .edges import ELECTRICAL, FLUID, Edge, EdgeKind
from .joining import groups

if TYPE_CHECKING:
    import networkx as nx


class Node(TypedDict):
    """The thing a terminal or port belongs to, and its zone."""

    section: str
    ident: str
    terminal: str
    zone: str | None


class Net:
    """Ends and the edges that join them, any number between two; in the order in which they were added."""

    def __init__(self, edges: Iterable[Edge] = ()) -> None:
        self._near: dict[str, dict[str, list[Edge]]] = {}
        for edge in edges:
            self.add(edge)

    def add(self, edge: Edge) -> None:
        """Add an edge and its ends."""
        between = self._near.setdefault(edge.a, {}).setdefault(edge.b, [])
        self._near.setdefault(edge.b, {})[edge.a] = between
        between.append(edge)

    def __iter__(self) -> Iterator[str]:
        return iter(self._near)

    def __contains__(self, node: str) -> bool:
        return node in self._near

    def at(self, node: str) -> Iterator[Edge]:
        """Edges that meet at a node, those to one other node together."""
        for between in self._near.get(node, {}).values():
            yield from between

    def degree(self, node: str) -> int:
        """How many ends of edges meet at a node."""
        near = self._near[node]
        return sum(map(len, near.values())) + len(near.get(node, ()))

    def groups(self) -> list[set[str]]:
        """Nodes that hang together."""
        return groups((one, other) for one, near in self._near.items() for other in near)


def node_of(model: Installation, end: str) -> str:
    """The node an end stands for; see :meth:`Graph.node_of`.

    Raises:
        KeyError: the end names nothing in the document.
    """
    ident, terminal = split_end(end)
    found = model.find(ident)
    if found is None:
        raise KeyError(end)
    section, thing = found
    if is_one_point(thing):
        return ident
    if not terminal:
        names = terminals_of(section, thing)
        terminal = names[0] if names else ""
    return f"{ident}.{terminal}" if terminal else ident


@dataclass(eq=False)
class Graph:
    """The installation as a graph.

    Attributes:
        model: what is in the aircraft: the installation it was built from without what is removed.
        whole: that installation with what is removed.
        nodes: its ends (``oil bulb.A``; ``airframe`` for what is one point), each with its thing and zone.
        net: how edges join them.
        edges: all edges in document order.
    """

    model: Installation
    whole: Installation
    nodes: dict[str, Node] = field(default_factory=dict)
    net: Net = field(default_factory=Net)
    edges: list[Edge] = field(default_factory=list)
    by_thing: dict[tuple[str, str], list[Edge]] = field(default_factory=dict)
    _owners: dict[str, tuple[str, str | None]] = field(default_factory=dict, repr=False)
    """Section and zone of each thing that has a node."""

    def lay(self, found: Iterable[Edge | str]) -> None:
        """Add nodes and edges."""
        for one in found:
            if isinstance(one, str):
                self.node(one)
            else:
                self.add(one)

    def add(self, edge: Edge) -> None:
        """Add an edge and the nodes it needs."""
        for node in (edge.a, edge.b):
            if node not in self.nodes:
                self.node(node)
        self.net.add(edge)
        self.edges.append(edge)
        self.by_thing.setdefault((edge.section, edge.ident), []).append(edge)

    def node(self, name: str) -> str:
        """Add a node by its end, with its thing and zone."""
        if name not in self.nodes:
            ident, terminal = split_end(name)
            known = self._owners.get(ident)
            if known is None:
                section, thing = self.model.find(ident) or ("", None)
                known = self._owners[ident] = section, getattr(thing, "zone", None)
            section, zone = known
            self.nodes[name] = {"section": section, "ident": ident, "terminal": terminal, "zone": zone}
        return name

    def node_of(self, end: str) -> str:
        """The node an end stands for: one per terminal, or one per thing where the thing is one point.

        Raises:
            KeyError: the end names nothing in the document.
        """
        return node_of(self.model, end)

    def nodes_of(self, ends: Iterable[str]) -> list[str]:
        """The nodes of those ends that are in the aircraft: one at a thing that is taken out, or 'open', has none."""
        return [self.node_of(end) for end in ends if self.model.find(split_end(end)[0]) is not None]

    def at(self, node: str) -> Iterator[Edge]:
        """Edges that meet at a node."""
        return self.net.at(node)

    def zone_of(self, node: str) -> str | None:
        """Zone of the thing a node belongs to."""
        found = self.nodes.get(node)
        return None if found is None else found["zone"]

    def is_ground(self, node: str) -> bool:
        """Whether a node is a ground point, structure or engine case."""
        return node in self.model.grounds

    @cached_property
    def multigraph(self) -> nx.MultiGraph[str]:
        """The whole of it for networkx: nodes with their thing and zone, edges with their :class:`Edge` under ``edge``.

        It is made when it is asked for: to import networkx takes a quarter of a check.
        """
        import networkx

        made: nx.MultiGraph[str] = networkx.MultiGraph()
        made.add_nodes_from((name, dict(node)) for name, node in self.nodes.items())
        made.add_edges_from((edge.a, edge.b, {"edge": edge}) for edge in self.edges)
        return made

    def of(self, *kinds: EdgeKind) -> list[Edge]:
        """Edges of some kinds, in document order. What asks for these is not touched by a change of the others."""
        found = self._of_kinds.get(kinds)
        if found is None:
            found = self._of_kinds[kinds] = [edge for edge in self.edges if edge.kind in kinds]
        return found

    @cached_property
    def _of_kinds(self) -> dict[tuple[EdgeKind, ...], list[Edge]]:
        return {}

    @cached_property
    def ground_links(self) -> dict[str, list[Edge]]:
        """For each ground point, the straps, joints and wires that lead from it to another ground point."""
        links: dict[str, list[Edge]] = {}
        for edge in self.of("bond", "conductor"):
            if self.is_ground(edge.a) and self.is_ground(edge.b):
                links.setdefault(edge.a, []).append(edge)
                links.setdefault(edge.b, []).append(edge)
        return links

    @cached_property
    def circuit(self) -> Net:
        """The circuit view: every edge that can carry current."""
        return self._view(ELECTRICAL)

    @cached_property
    def fluid(self) -> Net:
        """The fluid view: lines and the passages of fittings."""
        return self._view(FLUID)

    def _view(self, kinds: Iterable[EdgeKind]) -> Net:
        return Net(self.of(*kinds))

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
