"""Which medium can reach which port, by which way, and past which restrictors."""

from __future__ import annotations

import heapq
from collections import defaultdict, deque
from collections.abc import Iterable, Iterator
from functools import cached_property

from ..dataclass import dataclass
from ..document.source import DocPath
from ..model.fields import Medium
from ..model.fluid import FluidLine
from .build import Graph
from .edges import Edge, total_length

_SEALED_SYSTEMS = frozenset(("vapour-pressure bulb", "liquid-filled bulb"))
_BLOCKS = 0.5
"""A fitting of less than half the bore of the lines beside it restricts, whatever it is called: a quarter of the area."""
_APART = 8
"""Sources of one net that are followed one by one; a net with more is followed from its nearest, to keep the cost linear."""
_FRICTION = 0.02
_HOLE = 1.5625
"""Weights for choosing the way that leaks most: a friction factor [-], and 1/Cd^2 of a hole at Cd 0.80 [-]."""

_WALL_SHARE = 0.1
"""Share by which a drawn wall may differ from its nominal: assumed. It is there twice in a bore."""
_READ_M = 0.001 * 0.0254
"""A bore is told to a thousandth of an inch."""


@dataclass(frozen=True, slots=True)
class Source:
    """Where a medium comes from: a tap, or the bulb of a sealed temperature system."""

    medium: Medium
    section: str
    ident: str
    node: str
    path: DocPath


@dataclass(frozen=True, slots=True)
class Hop:
    """One edge of a way, passed from ``near`` (the source's side) to ``far``."""

    edge: Edge
    near: str
    far: str


@dataclass(frozen=True)
class Feed:
    """The way of least resistance from one source to a port.

    Attributes:
        source: where the medium comes from.
        node: the port it leads to.
    """

    source: Source
    node: str
    _tree: _Tree

    @property
    def last(self) -> Hop | None:
        """The edge passed last; ``None`` at the source itself."""
        return self._tree.came[self.node]

    def before(self, hop: Hop) -> Feed:
        """The way up to an edge it passes."""
        return self._tree.feed(hop.near)

    @cached_property
    def hops(self) -> tuple[Hop, ...]:
        """The edges passed, from the source on."""
        return self._tree.hops(self.node)

    @property
    def restrictors(self) -> tuple[str, ...]:
        """Ids of the fittings on the way that restrict, from the source on."""
        return self._tree.restrictors[self.node]


def line_bore(line: FluidLine) -> float | None:
    """Bore of a line in metres: stated, else its outside diameter less two walls; ``None`` where these cannot all be true."""
    spec = line.spec
    if size_at_odds(line):
        return None
    if spec.bore is not None:
        return float(spec.bore)
    if spec.outside_diameter is None or spec.wall is None:
        return None
    return spec.outside_diameter - 2 * spec.wall


def size_at_odds(line: FluidLine) -> bool:
    """Whether bore, wall and outside diameter of a line cannot all be true."""
    outer, wall, bore = line.spec.outside_diameter, line.spec.wall, line.spec.bore
    if outer is not None and (
        (wall is not None and 2 * wall >= outer) or (bore is not None and bore >= outer)
    ):
        return True
    if outer is None or wall is None or bore is None:
        return False
    return abs(outer - 2 * wall - bore) > 2 * _WALL_SHARE * wall + _READ_M


class Media:
    """Every source flooded through the lines and fittings of a graph.

    A closed cock stops a medium, a check valve lets it through one way, and an instrument or sender ends it. The cost
    is linear in the fluid net, times at most eight sources of one medium that meet in it.
    """

    def __init__(self, graph: Graph) -> None:
        self.graph = graph
        self._trees: dict[Medium, list[_Tree]] = defaultdict(list)
        self._feeding: dict[str, list[_Tree]] = defaultdict(list)
        for group in self._groups():
            tree = _Tree(self, group)
            self._trees[tree.medium].append(tree)
            for node in tree.cost:
                self._feeding[node].append(tree)

    @cached_property
    def sources(self) -> tuple[Source, ...]:
        """Every tap, and every bulb of a sealed system."""
        model = self.graph.model
        found = [Source(t.medium, "taps", i, i, ("taps", i)) for i, t in model.taps.items()]
        for ident, sender in model.senders.items():
            if sender.spec.principle in _SEALED_SYSTEMS:
                port = (sender.spec.ports or ["P"])[0]
                found.append(Source("bulb filling", "senders", ident, f"{ident}.{port}", ("senders", ident)))
        return tuple(found)

    @cached_property
    def restricting(self) -> frozenset[str]:
        """Ids of the fittings that restrict: restrictors, and any with less than half the bore of its lines."""
        found = set()
        for ident, fitting in self.graph.model.fittings.items():
            if fitting.spec.kind == "restrictor":
                found.add(ident)
                continue
            bore = fitting.spec.bore
            if bore is None:
                continue
            ends = {n for e in self.graph.by_thing.get(("fittings", ident), ()) for n in (e.a, e.b)}
            beside = [
                b
                for n in ends
                for e in self.graph.at(n)
                if e.line is not None and (b := line_bore(e.line)) is not None
            ]
            if beside and bore < _BLOCKS * min(beside):
                found.add(ident)
        return frozenset(found)

    def restricts(self, edge: Edge) -> bool:
        """Whether a medium that passes this edge passes a restriction."""
        return edge.section == "fittings" and edge.name != "thread" and edge.ident in self.restricting

    def at(self, node: str) -> frozenset[Medium]:
        """The media that can reach a node."""
        return frozenset(t.medium for t in self._feeding.get(node, ()))

    def in_line(self, ident: str) -> frozenset[Medium]:
        """The media that can stand in a line."""
        return frozenset(m for e in self._edges(ident) for n in (e.a, e.b) for m in self.at(n))

    def feeds(self, node: str) -> Iterator[Feed]:
        """The way from each source that reaches a node."""
        for tree in self._feeding.get(node, ()):
            yield tree.feed(node)

    def into_line(self, ident: str) -> Iterator[tuple[str, Feed]]:
        """For each source that reaches a line, the node it enters by and its way there.

        A line that a source reaches from both sides is entered by both.
        """
        for edge in self._edges(ident):
            trees = dict.fromkeys([*self._feeding.get(edge.a, ()), *self._feeding.get(edge.b, ())])
            for tree in trees:
                for node in (edge.a, edge.b):
                    if node in tree.cost:
                        last = tree.came[node]
                        if last is None or last.edge is not edge:
                            yield node, tree.feed(node)

    def unrestricted(self, node: str, medium: Medium) -> Feed | None:
        """The way from the nearest source of a medium that passes no restrictor; ``None`` if every way passes one."""
        tree = self._open.get(medium)
        return tree.feed(node) if tree is not None and node in tree.cost else None

    @cached_property
    def _open(self) -> dict[Medium, _Tree]:
        by_medium: dict[Medium, list[Source]] = defaultdict(list)
        for source in self.sources:
            by_medium[source.medium].append(source)
        return {m: _Tree(self, group, past_restrictors=False) for m, group in by_medium.items()}

    def _edges(self, ident: str) -> Iterable[Edge]:
        return self.graph.by_thing.get(("fluid_lines", ident), ())

    def _groups(self) -> Iterator[list[Source]]:
        net: dict[str, int] = {}
        for i, nodes in enumerate(self.graph.fluid.groups()):
            net.update(dict.fromkeys(nodes, i))
        meeting: dict[tuple[Medium, int], list[Source]] = defaultdict(list)
        for i, source in enumerate(self.sources):
            meeting[source.medium, net.get(source.node, -1 - i)].append(source)
        for group in meeting.values():
            if len(group) > _APART:
                yield group
            else:
                yield from ([source] for source in group)

    def _weight(self, edge: Edge) -> float:
        """Resistance of an edge beside others, in 1/mm^4; the least where the document gives no figure."""
        if edge.line is not None:
            bore = (line_bore(edge.line) or 0.00635) * 1000
            return (0.1 + _FRICTION * (total_length(edge.line) or 0.0) * 1000 / bore) / bore**4
        if self.restricts(edge):
            hole = self.graph.model.fittings[edge.ident].spec.bore
            return _HOLE / (float(hole) * 1000) ** 4 if hole is not None else 1e-6
        return 1e-9


class _Tree:
    """The ways of least resistance from one source, or from the nearest of a group, to every node it reaches."""

    def __init__(self, media: Media, group: list[Source], *, past_restrictors: bool = True) -> None:
        self.media, self.medium = media, group[0].medium
        starts = {s.node: s for s in group}
        self.source: dict[str, Source] = {}
        self.cost: dict[str, float] = {}
        self.came: dict[str, Hop | None] = {}
        self.restrictors: dict[str, tuple[str, ...]] = {}
        heap: list[tuple[float, int, str, Hop | None]] = [
            (0.0, i, node, None) for i, node in enumerate(starts)
        ]
        count = len(heap)
        while heap:
            cost, _, node, hop = heapq.heappop(heap)
            if node in self.cost:
                continue
            self.cost[node], self.came[node] = cost, hop
            self.source[node] = starts[node] if hop is None else self.source[hop.near]
            passed = () if hop is None else self.restrictors[hop.near]
            if hop is not None and media.restricts(hop.edge) and hop.edge.ident not in passed:
                passed += (hop.edge.ident,)
            self.restrictors[node] = passed
            for edge in _passages(media.graph, node):
                if not past_restrictors and media.restricts(edge):
                    continue
                far = edge.other(node)
                if far not in self.cost:
                    count += 1
                    heapq.heappush(heap, (cost + media._weight(edge), count, far, Hop(edge, node, far)))

    def feed(self, node: str) -> Feed:
        return Feed(self.source[node], node, self)

    def hops(self, node: str) -> tuple[Hop, ...]:
        found: deque[Hop] = deque()
        hop = self.came[node]
        while hop is not None:
            found.appendleft(hop)
            hop = self.came[hop.near]
        return tuple(found)


def _passages(graph: Graph, node: str) -> Iterator[Edge]:
    """Edges a fluid can leave a node by."""
    for edge in graph.at(node):
        if edge.kind not in ("fluid line", "passage") or not edge.closed:
            continue
        if (
            edge.section == "fittings"
            and edge.name != "thread"
            and graph.model.fittings[edge.ident].spec.kind == "check valve"
            and edge.a != node
        ):
            continue
        yield edge


def flood(graph: Graph) -> Media:
    """Which medium can reach which port."""
    return Media(graph)
