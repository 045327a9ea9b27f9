"""Typed model -> one multigraph of terminals and ports, joined by conductors, lines and the insides of devices."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import cache, partial
from typing import Protocol, TypeVar

from ..document.source import DocPath
from ..document.yaml_text import uncollected
from ..model.fluid import FluidLine
from ..model.installation import Installation, split_end, terminals_of
from ..model.wiring import WireRun
from .edges import Edge
from .insides import Insides, return_terminal
from .multigraph import Crossing, Graph, node_of

__all__ = ["Crossing", "Graph", "build", "return_terminal"]

T = TypeVar("T")


class Keep(Protocol):
    """Keeps what something adds to a graph: gives what is kept under a name, or what is made for it now."""

    def __call__(self, name: tuple[str, ...], make: Callable[[], T], /) -> T: ...


def _anew(_: tuple[str, ...], make: Callable[[], T]) -> T:
    return make()


def build(model: Installation, keep: Keep | None = None) -> Graph:
    """The graph of an installation; removed things are left out. Cost: linear in its size."""
    graph = Graph(model.live, model)
    used: Callable[[], dict[str, list[str]]] = partial(_used_terminals, model)
    once = cache(used) if keep is None else partial(keep, ("used terminals",), used)
    keep = keep or _anew
    insides = Insides(graph.model, once)
    runs, lines = graph.model.wire_runs, graph.model.fluid_lines
    with uncollected():
        for section, ident, thing in graph.model.things():
            graph.lay(keep((section, ident), partial(insides.of, section, ident, thing)))
        for ident, run in runs.items():
            graph.lay(keep(("wire_runs", ident), partial(_conductors, insides, ident, run)))
        for ident, line in lines.items():
            graph.lay(keep(("fluid_lines", ident), partial(_line, insides, ident, line)))
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


def _conductors(insides: Insides, ident: str, run: WireRun) -> list[Edge]:
    """Every conductor of a run, and its shield if that is joined at both its ends."""
    path: DocPath = ("wire_runs", ident)
    found: list[Edge] = []
    if run.from_ is not None and run.to is not None and not _loose(insides, run.from_, run.to):
        a, b = _nodes(insides, run.from_, run.to)
        found.append(Edge("conductor", "wire_runs", ident, "", a, b, path, run=run))
    for name, one in (run.conductors or {}).items():
        if not _loose(insides, one.from_, one.to):
            a, b = _nodes(insides, one.from_, one.to)
            at = (*path, "conductors", name)
            found.append(Edge("conductor", "wire_runs", ident, name, a, b, at, run=run, conductor=one))
    if run.shield is not None:
        ends = [e for e in (run.shield.from_, run.shield.to) if e is not None and e != "open"]
        if len(ends) == 2 and not _loose(insides, *ends):
            a, b = _nodes(insides, *ends)
            found.append(Edge("shield", "wire_runs", ident, "shield", a, b, (*path, "shield"), run=run))
    return found


def _line(insides: Insides, ident: str, line: FluidLine) -> list[Edge]:
    if _loose(insides, line.from_, line.to):
        return []
    a, b = _nodes(insides, line.from_, line.to)
    return [Edge("fluid line", "fluid_lines", ident, "", a, b, ("fluid_lines", ident), line=line)]


def _nodes(insides: Insides, a: str, b: str) -> tuple[str, str]:
    return node_of(insides.model, a), node_of(insides.model, b)


def _loose(insides: Insides, *ends: str) -> bool:
    """Whether what these ends are joined to is taken out by this change."""
    return any(insides.gone(end) for end in ends)
