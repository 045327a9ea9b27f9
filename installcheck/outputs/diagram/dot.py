"""A sheet in the DOT language, for other tools: zones and devices are clusters, terminals nodes, runs edges.

It says what is joined to what and leaves all places to `dot`; the pages that we draw ourselves are laid out by us.
"""

from collections import defaultdict
from collections.abc import Iterable
from itertools import pairwise

import graphviz

from ...drawing.draw import verdict_title
from ...drawing.flags import flag_parts
from ...drawing.items import Run, change_word
from ...drawing.page import page_title
from ...drawing.page_dot import FONT
from ...drawing.sheet import (
    Block,
    Change,
    Device,
    FluidLine,
    Joint,
    Mark,
    Sheet,
    WireKind,
)
from ...drawing.text_width import printable


def sheet_dot(sheet: Sheet) -> str:
    """The connections of a sheet as DOT text."""
    return _DotWriter(sheet).text()


class _DotWriter:
    def __init__(self, sheet: Sheet) -> None:
        self.sheet = sheet
        self.names: dict[str, str] = {}
        self.marks: dict[str, list[Mark]] = defaultdict(list)
        for mark in sheet.marks:
            self.marks[mark.target].append(mark)

    def text(self) -> str:
        sheet = self.sheet
        graph = graphviz.Graph(
            graph_attr={
                "rankdir": "LR",
                "fontname": FONT,
                "fontsize": "9",
                "labeljust": "l",
                "newrank": "true",
            },
            node_attr={"fontname": FONT, "fontsize": "8"},
            edge_attr={"fontname": FONT, "fontsize": "7"},
        )
        words = [page_title(sheet), sheet.caution, *map(verdict_title, sheet.marks), *sheet.notes]
        graph.graph_attr["label"] = _lines(words, end="\\l")
        for number, band in enumerate(sheet.bands):
            with graph.subgraph(name=f"cluster_zone_{number}") as zone:
                zone.attr(label=self._words(band.id, [band.label, band.note]), style="dashed")
                for thing in sheet.placed:
                    if thing.band == band.id:
                        self._thing(zone, thing)
        for number, barrier in enumerate(sheet.barriers):
            with graph.subgraph(name=f"cluster_barrier_{number}") as wall:
                wall.attr(label=self._words(barrier.id, [barrier.label]), penwidth="3")
                for fitting in sheet.fittings:
                    if fitting.barrier == barrier.id:
                        words = [fitting.label, change_word(fitting.change)]
                        wall.node(self._name(fitting.id), label=self._words(fitting.id, words), shape="box")
        for run in sheet.runs:
            self._run(graph, run)
        return str(graph.source)

    def _thing(self, graph: graphviz.Graph, thing: Device | Block | Joint) -> None:
        if isinstance(thing, Joint):
            if not thing.block:
                words = [thing.label, thing.kind.value, change_word(thing.change)]
                graph.node(self._name(thing.id), label=self._words(thing.id, words), shape="plain")
            return
        with graph.subgraph(name=f"cluster_{self._name(thing.id)}") as box:
            if isinstance(thing, Device):
                words = [*thing.lines, change_word(thing.change)]
                box.attr(label=self._words(thing.id, words), style="rounded", tooltip=thing.kind.value)
                pins = [(terminal.id, terminal.label) for terminal in thing.terminals]
            else:
                box.attr(label=self._words(thing.id, [thing.label]), style="solid")
                pins = [(joint.id, joint.label) for joint in self.sheet.joints if joint.block == thing.id]
            for pin, label in pins:
                box.node(
                    self._name(pin),
                    label="",
                    shape="circle",
                    width="0.06",
                    fixedsize="true",
                    xlabel=self._words(pin, [label]),
                    tooltip=graphviz.escape(printable(pin)),
                )

    def _run(self, graph: graphviz.Graph, run: Run) -> None:
        """One edge from end to end, or one for each part between fittings, in the order of the barriers."""
        order = {band.id: number for number, band in enumerate(self.sheet.bands)}
        after = {barrier.id: number for number, barrier in enumerate(self.sheet.barriers)}
        place = {
            f.id: (order[self.sheet.barriers[after[f.barrier]].after], after[f.barrier])
            for f in self.sheet.fittings
        }
        bands = {joint.id: joint.band for joint in self.sheet.joints}
        bands |= {terminal.id: device.band for device in self.sheet.devices for terminal in device.terminals}
        left, right = sorted((run.start, run.end), key=lambda end: order[bands[end]])
        stops = [left, *sorted(run.through, key=place.__getitem__), right]
        label = self._words(run.id, ["  ".join([run.id, *flag_parts(run)])])
        for number, (here, there) in enumerate(pairwise(stops)):
            words = _lines([run.id], "") if number else label
            graph.edge(self._name(here), self._name(there), label=words, **_style(run))

    def _name(self, thing: str) -> str:
        """A plain node name: ids of the document may hold what DOT reads as a port or as markup."""
        return self.names.setdefault(thing, f"n{len(self.names) + 1}")

    def _words(self, thing: str, words: Iterable[str]) -> str:
        marks = [f"[{mark.number} {mark.outcome}]" for mark in self.marks.get(thing, ())]
        return _lines((*words, *marks), "\\n")


def _lines(words: Iterable[str], end: str) -> str:
    """Words as a label, each followed by `end`, read neither as escapes nor as markup."""
    label = "".join(str(graphviz.escape(printable(word))) + end for word in words if word.strip())
    plain: str = graphviz.nohtml(label)
    return plain


def _style(run: Run) -> dict[str, str]:
    if run.change is Change.REMOVED:
        return {"color": "gray40", "style": "dotted"}
    if isinstance(run, FluidLine):
        return {"color": "black:white:black"}
    return {
        WireKind.THERMOCOUPLE: {"style": "dashed"},
        WireKind.SHIELD: {"style": "dotted"},
        WireKind.STRAP: {"penwidth": "2"},
    }.get(run.kind, {})
