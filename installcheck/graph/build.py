"""Typed model -> one multigraph of terminals and ports, joined by conductors, lines and the insides of devices."""

from __future__ import annotations

from collections.abc import Iterator

from ..document.source import DocPath
from ..document.yaml_text import uncollected
from ..model.installation import Installation, split_end, terminals_of
from .edges import Edge
from .insides import Insides, return_terminal
from .multigraph import Crossing, Graph

__all__ = ["Crossing", "Graph", "build", "return_terminal"]


def build(model: Installation) -> Graph:
    """The graph of an installation; removed things are left out. Cost: linear in its size."""
    graph = Graph(model.live, model)
    insides = Insides(graph, _used_terminals(model))
    with uncollected():
        for section, ident, thing in graph.model.things():
            insides.add(section, ident, thing)
        for edge in (*_conductors(graph, insides), *_lines(graph, insides)):
            graph.add(edge)
    return graph


def _used_terminals(model: Installation) -> dict[str, list[str]]:
    """Terminals that runs and lines name, of junctions and fittings that name none themselves."""
    used: dict[str, dict[str, None]] = {
        ident: {}
        for section, things in (("junctions", model.junctions), ("fittings", model.fittings))
        for ident, thing in things.items()
        if terminals_of(section, thing) is None
    }
    if used:
        for end in _ends(model):
            ident, terminal = split_end(end)
            if ident in used:
                used[ident][terminal] = None
    return {ident: list(terminals) for ident, terminals in used.items()}


def _ends(model: Installation) -> Iterator[str]:
    for run in model.wire_runs.values():
        yield from (end for end in (run.from_, run.to) if end is not None)
        for conductor in (run.conductors or {}).values():
            yield from (conductor.from_, conductor.to)
    for line in model.fluid_lines.values():
        yield from (line.from_, line.to)
    for things in (model.senders, model.fittings):
        yield from (t.screwed_into for t in things.values() if t.screwed_into is not None)


def _conductors(graph: Graph, insides: Insides) -> Iterator[Edge]:
    """Every conductor of every run, and each shield that is joined at both its ends."""
    for ident, run in graph.model.wire_runs.items():
        path: DocPath = ("wire_runs", ident)
        if run.from_ is not None and run.to is not None and not _loose(insides, run.from_, run.to):
            a, b = graph.node_of(run.from_), graph.node_of(run.to)
            yield Edge("conductor", "wire_runs", ident, "", a, b, path, run=run)
        for name, one in (run.conductors or {}).items():
            if not _loose(insides, one.from_, one.to):
                a, b = graph.node_of(one.from_), graph.node_of(one.to)
                at = (*path, "conductors", name)
                yield Edge("conductor", "wire_runs", ident, name, a, b, at, run=run, conductor=one)
        if run.shield is not None:
            ends = [e for e in (run.shield.from_, run.shield.to) if e is not None and e != "open"]
            if len(ends) == 2 and not _loose(insides, *ends):
                a, b = graph.node_of(ends[0]), graph.node_of(ends[1])
                yield Edge("shield", "wire_runs", ident, "shield", a, b, (*path, "shield"), run=run)


def _lines(graph: Graph, insides: Insides) -> Iterator[Edge]:
    for ident, line in graph.model.fluid_lines.items():
        if not _loose(insides, line.from_, line.to):
            a, b = graph.node_of(line.from_), graph.node_of(line.to)
            yield Edge("fluid line", "fluid_lines", ident, "", a, b, ("fluid_lines", ident), line=line)


def _loose(insides: Insides, *ends: str) -> bool:
    """Whether what these ends are joined to is taken out by this change."""
    return any(insides.gone(end) for end in ends)
