"""The graph of a document whose every reading is taken down; after an edit, the edges that are as before stay the same."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from typing import Any, Protocol

from ...graph import Edge, Graph
from ...graph.edges import EdgeKind
from .reads import FRAME, Token, Tokens
from .sections import put
from .standins import Undo


class Keeper(Protocol):
    """Who keeps what is worked out from the graph: its study."""

    def kept(self, name: object, make: Callable[[], Any]) -> Any:
        """What is kept under a name, made if it does not stand."""

    def note_all(self) -> None:
        """Take down that everything is read."""


class WatchedGraph(Graph):
    """A graph as it is read: the edges at a node, those of a thing and all of them are read apart."""

    def __init__(self, study: Keeper, plain: Graph) -> None:
        self.model, self.whole = plain.model, plain.whole
        self._study, self.plain = study, plain
        self._at, self._by, self._node, self._of = Tokens(), Tokens(), Tokens(), Tokens()
        self._every, self._names = Token(), Token()
        self._nodes, self._things = _Nodes(self), _ByThing(self)
        self._leaving: dict[str, list[Edge]] = {}

    def turned_into(self, plain: Graph, undo: Undo) -> Iterator[Token]:
        """Let it be another graph, whose edges are those of this one where they are alike; the tokens of what changed."""
        before = self.plain
        put(self.__dict__, "plain", plain, undo)
        put(self.__dict__, "_leaving", {}, undo)
        kept, own = set(map(id, before.edges)), set(map(id, plain.edges))
        changed = [e for e in before.edges if id(e) not in own] + [
            e for e in plain.edges if id(e) not in kept
        ]
        in_order = [e for e in before.edges if id(e) in own] == [e for e in plain.edges if id(e) in kept]
        yield from self._nodes_changed(before.nodes, plain.nodes)
        if not in_order:
            yield from (*self._at.all(), *self._by.all(), *self._of.all(), self._every)
            return
        if changed:
            yield self._every
        for node in {node for e in changed for node in (e.a, e.b)}:
            yield from self._at.of(node)
        for key in {(e.section, e.ident) for e in changed}:
            yield from self._by.of(key)
        kinds = {e.kind for e in changed}
        for chosen, token in self._of.by_key.items():
            if not kinds.isdisjoint(chosen):
                yield token

    def _nodes_changed(self, old: Any, new: Any) -> Iterator[Token]:
        if list(old) != list(new):
            yield self._names
        for node, token in self._node.by_key.items():
            if old.get(node) != new.get(node):
                yield token

    def leaving(self, node: str) -> list[Edge]:
        """Edges that meet at a node."""
        self._at.note(node)
        found = self._leaving.get(node)
        if found is None:
            found = self._leaving[node] = list(self.plain.at(node))
        return found

    def at(self, node: str) -> Iterator[Edge]:
        """Edges that meet at a node."""
        return iter(self.leaving(node))

    def zone_of(self, node: str) -> str | None:
        """Zone of the thing a node belongs to."""
        self._node.note(node)
        return self.plain.zone_of(node)

    def add(self, edge: Edge) -> None:
        """Refused: it is changed by an edit alone."""
        raise TypeError("a watched graph is not added to")

    def node(self, name: str) -> str:
        """Refused: it is changed by an edit alone."""
        raise TypeError("a watched graph is not added to")

    @property
    def edges(self) -> list[Edge]:  # type: ignore[override]
        """All edges in document order."""
        FRAME.note(self._every)
        return self.plain.edges

    def of(self, *kinds: EdgeKind) -> list[Edge]:
        """Edges of some kinds, in document order."""
        self._of.note(kinds)
        return self.plain.of(*kinds)

    @property
    def by_thing(self) -> Mapping[tuple[str, str], list[Edge]]:  # type: ignore[override]
        """The edges of each thing."""
        return self._things

    @property
    def nodes(self) -> Any:  # type: ignore[override]
        """Its nodes one by one; whatever else is asked of them reads all of it."""
        return self._nodes

    @property
    def ground_links(self) -> Any:
        """As that of a plain graph."""
        return self._derived("ground_links")

    @property
    def circuit(self) -> Any:
        """As that of a plain graph."""
        return self._derived("circuit")

    @property
    def fluid(self) -> Any:
        """As that of a plain graph."""
        return self._derived("fluid")

    @property
    def crossings(self) -> Any:
        """As that of a plain graph."""
        return self._derived("crossings")

    def _derived(self, name: str) -> Any:
        make: Callable[[Graph], Any] = getattr(Graph, name).func
        return self._study.kept(name, lambda: make(self))


class _Nodes:
    """The nodes of a watched graph."""

    def __init__(self, graph: WatchedGraph) -> None:
        self._graph = graph

    def __getitem__(self, node: str) -> Mapping[str, Any]:
        self._graph._node.note(node)
        found: Mapping[str, Any] = self._graph.plain.nodes[node]
        return found

    def __contains__(self, node: object) -> bool:
        self._graph._node.note(node)
        return node in self._graph.plain.nodes

    def __iter__(self) -> Iterator[str]:
        FRAME.note(self._graph._names)
        return iter(self._graph.plain.nodes)

    def __getattr__(self, name: str) -> Any:
        self._graph._study.note_all()
        return getattr(self._graph.plain.nodes, name)


class _ByThing(Mapping[tuple[str, str], "list[Edge]"]):
    def __init__(self, graph: WatchedGraph) -> None:
        self._graph = graph

    def __getitem__(self, key: tuple[str, str]) -> list[Edge]:
        self._graph._by.note(key)
        return self._graph.plain.by_thing[key]

    def __iter__(self) -> Iterator[tuple[str, str]]:
        FRAME.note(self._graph._every)
        return iter(self._graph.plain.by_thing)

    def __len__(self) -> int:
        FRAME.note(self._graph._every)
        return len(self._graph.plain.by_thing)
