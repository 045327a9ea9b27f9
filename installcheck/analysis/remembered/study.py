"""A study that goes over from one document to the next, and works out again only what read something that changed."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any, cast

from ...document import Document
from ...graph import Edge, Graph, build
from ..study import Study
from .alike import alike
from .documents import Files, WatchedDocument
from .graphs import WatchedGraph
from .memory import Kept, Memory
from .reads import FRAME, Reading, Token, work
from .sections import Watched
from .standins import Undo, restore


class RememberedStudy(Study):
    """A study of a document that is edited. It stands for one document at a time; use it from one thread.

    What is worked out reads the model, the graph and the document through stand-ins that take down what is read. What could
    not be taken down counts as reading everything.

    Attributes:
        memory: what is worked out, with what it read.
        plain: the document it stands for now.
    """

    def __init__(self, document: Document) -> None:
        self.memory = Memory()
        self.plain = document
        self._asked = WatchedDocument(document)
        self._live = Watched(document.installation.live)
        self._whole = Watched(document.installation, self._live.model)
        self._files, self._anything = Files(), Token()
        self._own: Kept = {}
        self.facts = {}
        self.document = cast(Document, self._asked)
        self.whole, self.model = self._whole.model, self._live.model
        self._laid = _Laid()
        self._edges: dict[tuple[str, ...], list[Edge]] = {}
        self.graph = WatchedGraph(self, self._built())

    def ask(self, make: Callable[..., Any], asked: tuple[Any, ...], named: dict[str, Any]) -> Any:
        """A fact: as it is remembered if all it read is as it was, else worked out again."""
        home = self.facts.get(make)
        if home is None:
            home = self.facts[make] = {}
        known = home.get(asked)
        if known is not None and not (known.reading.hit or known.reading.doubts):  # by far the most often
            FRAME.note(known.token)
            return known.value
        return self.memory.fact(home, asked, lambda: make(self, *asked, **named))

    def kept(self, name: object, make: Callable[[], Any]) -> Any:
        """A fact that is no function of the study."""
        return self.memory.fact(self._own, name, make)

    def sure(self, name: object, value: object) -> bool:
        """Whether what is kept under a name is still a value, and nothing it rests on is in doubt."""
        known = self._own.get(name)
        return known is not None and known.value is value and not known.reading.doubted

    def note_all(self) -> None:
        """Take down that everything is read."""
        FRAME.note(self._anything)

    def opened(self, file: Path) -> None:
        """Take down that a file is read."""
        self._files.note(file)

    def move(self, document: Document) -> None:
        """Go over to another document, for good."""
        self._go(document, [], [*self._files.changed()])

    @contextmanager
    def trying(self, document: Document) -> Iterator[None]:
        """Stand for another document within the block, and for the one before after it.

        Raises:
            RuntimeError: something in doubt was not judged.
        """
        undo: Undo = []
        laid, before = self._laid.reading, self.plain
        with self.memory.trial():
            try:
                self._go(document, undo, [])
                yield
            finally:
                restore(undo)
                self.plain = before
                if self._laid.reading is not laid:
                    laid.dead, self._laid.reading = False, laid

    def _go(self, document: Document, undo: Undo, changed: list[Token]) -> None:
        self.memory.round += 1
        self.plain = document
        changed += self._whole.turned_into(document.installation, undo)
        changed += self._live.turned_into(document.installation.live, undo)
        changed += self._asked.turned_into(document, undo)
        changed.append(self._anything)
        self.memory.doubt(changed)
        if self._laid.reading.doubted:
            self._relaid(undo)

    def _relaid(self, undo: Undo) -> None:
        """Build the graph again, unless nothing comes out as another of what its things add to it."""
        if self.memory.stands(self._laid.reading):
            return
        self._laid.reading.dead = True
        graph = self.graph
        assert isinstance(graph, WatchedGraph)
        self.memory.doubt([*graph.turned_into(self._built(), undo)])

    def _built(self) -> Graph:
        """The graph of the model; the edges of a thing that come out as they were stay the same."""
        with work() as read:
            built = build(
                self.whole, lambda name, make: self.kept(("laid", *name), lambda: self._known(make()))
            )
        self._laid.reading = self.memory.reading(self._laid, read)
        return built

    def _known(self, laid: Any) -> Any:
        """What a thing adds to the graph, each edge as the one that ever said the same: results are kept by their edges."""
        if not isinstance(laid, list):
            return laid
        return [self._known_edge(one) if isinstance(one, Edge) else one for one in laid]

    def _known_edge(self, edge: Edge) -> Edge:
        said = self._edges.setdefault((edge.section, edge.ident, edge.name, edge.a, edge.b), [])
        known = next((one for one in said if alike(one, edge)), None)
        if known is None:
            said.append(edge)
        return known or edge


class _Laid:
    """Whose reading the graph is."""

    token = None
    reading: Reading

    def in_doubt(self) -> None:
        """It is seen to at once."""
