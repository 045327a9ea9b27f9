"""Each indication with everything that carries it, electrical or fluid."""

from __future__ import annotations

from ..dataclass import dataclass
from ..graph import Edge, Graph, Indication
from ..graph.indications import measure_of
from ..graph.walk import Walk
from ..model.installation import inputs_of, split_end


@dataclass(frozen=True, slots=True)
class Chain:
    """One indicator input with what it reads and what lies between.

    Attributes:
        name: ``head gauge``, ``monitor oil temperature``.
        indicator, input: its id and the name of the input; empty where there is only one.
        measure: what it is of, in words.
        sources: ids of the senders, probes or taps it reads; empty if it reads nothing.
        things: ids of everything in it, the indicator and the sources included.
    """

    name: str
    indicator: str
    input: str
    measure: str
    sources: tuple[str, ...]
    things: frozenset[str]


def chains(graph: Graph, found: list[Indication]) -> dict[str, Chain]:
    """The chain of every indicator input by its name, those that read nothing included."""
    by_input: dict[tuple[str, str], list[Indication]] = {}
    for one in found:
        by_input.setdefault((one.indicator, one.input), []).append(one)
    made: dict[str, Chain] = {}
    for ident, indicator in graph.whole.indicators.items():
        if indicator.status == "removed":
            continue
        for name, spec in inputs_of(indicator):
            sources: dict[str, None] = {}
            things = {ident}
            measure = spec.measures
            for one in by_input.get((ident, name), ()):
                sources[one.source] = None
                things |= {one.source} | {step.edge.ident for leg in one.legs for step in leg.steps}
                measure = measure or measure_of(graph, one)
            for port in spec.ports or ():
                seen = fluid_things(graph, f"{ident}.{port}")
                things |= seen
                sources |= dict.fromkeys(
                    t for t in sorted(seen) if t in graph.whole.taps or t in graph.whole.senders
                )
            whole = f"{ident} {name}".strip()
            made[whole] = Chain(whole, ident, name, measure or "", tuple(sources), frozenset(things))
    return made


def fluid_things(graph: Graph, port: str) -> set[str]:
    """Everything the fluid at a port passes on its way; a tap ends the search."""
    if port not in graph.fluid:
        return set()
    taps = graph.whole.taps

    def leaving(node: str) -> list[Edge]:
        return list(graph.fluid.at(node))

    things: set[str] = set()
    for node in Walk([port], leaving, stops=lambda node: node in taps):
        things.add(split_end(node)[0])
        if node not in taps:
            things |= {edge.ident for edge in leaving(node)}
    return things
