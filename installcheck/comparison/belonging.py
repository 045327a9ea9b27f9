"""Which indication a thing belongs to: what carries its signal, what feeds it, what it is grounded by."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from ..graph import Graph
from ..model.installation import split_end
from .chains import Chain, fluid_things


def belonging(graph: Graph, chains: Mapping[str, Chain]) -> dict[str, str]:
    """Name of the one indication each thing belongs to, by its id; what serves several, or none, is left out.

    Beside what carries its signal: runs with an end at the indicator or at what it reads, the blocks between, and the lines
    that bring a sender its fluid.
    """
    found: dict[str, set[str]] = {}
    at: dict[str, set[str]] = {}
    for name, chain in chains.items():
        for ident in chain.things:
            found.setdefault(ident, set()).add(name)
        for ident in (chain.indicator, *chain.sources):
            at.setdefault(ident, set()).add(name)
    for port in graph.fluid:
        sender = split_end(port)[0]
        if sender in graph.whole.senders:
            for ident in fluid_things(graph, port):
                found.setdefault(ident, set()).update(at.get(sender, ()))
    carried = frozenset(found)
    for edge in graph.edges:
        if edge.section != "wire_runs":
            continue
        ends = [split_end(end)[0] for end in (edge.a, edge.b)]
        if edge.ident not in carried:
            found.setdefault(edge.ident, set()).update(*(at.get(end, ()) for end in ends))
        for end in ends:
            if end in graph.whole.junctions:
                found.setdefault(end, set()).update(found[edge.ident])
    return {ident: next(iter(names)) for ident, names in found.items() if len(names) == 1}


def most_at(belongs: Mapping[str, str], idents: Iterable[str]) -> str:
    """The indication most of some things belong to, the first of them where there is a choice; empty where none does."""
    told = [belongs[ident] for ident in idents if ident in belongs]
    return max(told, key=told.count) if told else ""
