"""The graph of an installation in the DOT language, for any Graphviz or graph tool: what joins what, and no places.

Zones, barriers and devices are clusters; every terminal, ground point and crossing is a node; every conductor, shield,
joint to ground and fluid line is an edge from terminal to terminal, by way of the crossings of its route; so is each path
inside a device. Nodes and edges carry ``section``, ``ident`` and ``kind`` as the document has them, for programs that
read the file. What the alteration takes out is left out.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from itertools import pairwise

import graphviz

from ...analysis.study import Study
from ...drawing.text_width import printable
from ...graph import Edge, Graph
from ...model.installation import Thing, is_one_point, terminals_of
from ..wording import CAUTION
from .words import change_of, length_words, line_words, ohms_words, thing_words, wire_words

_FONT = "Helvetica"
_STYLES: dict[str, dict[str, str]] = {
    "conductor": {},
    "shield": {"style": "dotted"},
    "bond": {"penwidth": "2"},
    "fluid line": {"color": "black:white:black"},
}
_INSIDE = {"color": "gray40", "style": "dashed"}
"""Paths inside a device, and metal to metal in a junction."""

_Key = tuple[str, str]
_Placed = tuple[str, str, Thing]


def graph_dot(study: Study) -> str:
    """The installation of a study as DOT text."""
    return _Writer(study.graph).text()


class _Writer:
    def __init__(self, graph: Graph) -> None:
        self.graph, self.model = graph, graph.model
        self.names: dict[_Key, str] = {}
        self.joined: dict[str, dict[str, None]] = defaultdict(dict)
        for data in graph.nodes.values():
            self.joined[data["ident"]][data["terminal"]] = None
        self.crossings: dict[str, dict[_Key, str]] = {barrier: {} for barrier in self.model.barriers}
        self.ways = {edge: tuple(self._crossed(edge)) for edge in graph.edges}

    def text(self) -> str:
        header = self.model.installation
        revision = f", revision {header.revision}" if header.revision else ""
        out = graphviz.Graph(
            graph_attr={
                "label": _label((f"{header.name}{revision}", CAUTION), "\\l"),
                "labeljust": "l",
                "rankdir": "LR",
                "newrank": "true",
                "fontname": _FONT,
                "fontsize": "9",
            },
            node_attr={"fontname": _FONT, "fontsize": "8", "shape": "plain"},
            edge_attr={"fontname": _FONT, "fontsize": "7"},
        )
        zones: dict[str, list[_Placed]] = {zone: [] for zone in self.model.zones}
        barriers: dict[str, list[_Placed]] = {barrier: [] for barrier in self.model.barriers}
        for section, ident, thing in self.model.things():
            barrier, zone = getattr(thing, "barrier", None), getattr(thing, "zone", None)
            where = barriers.get(barrier) if barrier else None
            (where if where is not None else zones.setdefault(zone or "", [])).append((section, ident, thing))
        for number, (zone, things) in enumerate(zones.items(), start=1):
            with out.subgraph(name=f"cluster_zone_{number}") as box:
                words = _label((zone or "zone not given",))
                box.attr(label=words, style="dashed", section="zones", ident=_plain(zone))
                for placed in things:
                    self.thing(box, *placed)
        for number, (barrier, things) in enumerate(barriers.items(), start=1):
            with out.subgraph(name=f"cluster_barrier_{number}") as box:
                box.attr(label=_label((barrier,)), penwidth="3", section="barriers", ident=_plain(barrier))
                for placed in things:
                    self.thing(box, *placed)
                for key, words in self.crossings[barrier].items():
                    box.node(self.name(key), label=_label((words,)), shape="box", kind="crossing")
        for edge in self.graph.edges:
            self.edge(out, edge)
        return str(out.source)

    def name(self, key: _Key) -> str:
        """A plain node name: ids of the document may hold what DOT reads as a port or as markup."""
        return self.names.setdefault(key, f"n{len(self.names) + 1}")

    def thing(self, box: graphviz.Graph, section: str, ident: str, thing: Thing) -> None:
        """A thing that is one point as a node; any other as a cluster of its terminals."""
        words = _label((ident, *thing_words(self.model, ident, thing), change_of(thing).upper()))
        facts = {"section": section, "ident": _plain(ident)}
        names = dict.fromkeys(terminals_of(section, thing) or ()) | self.joined.get(ident, {})
        if is_one_point(thing) or not set(names) - {""}:
            box.node(self.name((ident, "")), label=words, shape="box", **facts)
            return
        with box.subgraph(name=f"cluster_{self.name(('cluster', ident))}") as body:
            body.attr(label=words, style="rounded", penwidth="1", **facts)
            for terminal in names:
                body.node(
                    self.name((ident, terminal)),
                    label=_label((terminal,)),
                    shape="circle",
                    margin="0.02",
                    width="0.15",
                    terminal=_plain(terminal),
                    **facts,
                )

    def edge(self, out: graphviz.Graph, edge: Edge) -> None:
        """An edge from end to end, one part after another between its crossings; the first part has the words."""
        ends = [self.graph.nodes[node] for node in (edge.a, edge.b)]
        start, end = ((data["ident"], data["terminal"]) for data in ends)
        facts = {"kind": edge.kind, "section": edge.section, "ident": _plain(edge.label)}
        style = _STYLES.get(edge.kind, _INSIDE)
        for number, (here, there) in enumerate(pairwise((start, *self.ways[edge], end))):
            words = (edge.label,) if number else tuple(_words(edge))
            out.edge(self.name(here), self.name(there), label=_label(words), **style, **facts)

    def _crossed(self, edge: Edge) -> Iterator[_Key]:
        """The crossings of a run or line, in the order of its route; runs of one bundle share theirs."""
        thing = edge.run or edge.line
        bundle = edge.run.bundle if edge.run is not None else None
        for step in (thing.route if thing is not None else None) or ():
            if step.barrier in self.crossings:
                words = step.fitting or step.through or "crossing not given"
                key = ("crossing", f"{step.barrier}\n{step.fitting or bundle or edge.ident}\n{words}")
                self.crossings[step.barrier][key] = words
                yield key


def _words(edge: Edge) -> Iterator[str]:
    """What stands at an edge: its name, and what a wire or line is made of; of a path inside a device its kind."""
    if edge.kind not in _STYLES:
        yield edge.kind
        return
    yield edge.label
    if edge.kind == "conductor":
        yield from wire_words(edge)
    elif edge.kind == "bond":
        yield ohms_words(edge.resistance)
    elif edge.line is not None:
        yield edge.line.medium or "medium not given"
        yield from line_words(edge.line)
        yield length_words(edge.line)


def _plain(word: str) -> str:
    """A word as the value of an attribute, read neither as escapes nor as markup."""
    plain: str = graphviz.escape(printable(word))
    return plain


def _label(words: Iterable[str], end: str = "\\n") -> str:
    """Words as a label, each followed by `end`, read neither as escapes nor as markup."""
    label = "".join(str(graphviz.escape(printable(word))) + end for word in words if word.strip())
    plain: str = graphviz.nohtml(label)
    return plain
