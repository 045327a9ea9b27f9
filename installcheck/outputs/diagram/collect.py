"""Graph edges -> the parts that draw them."""

from __future__ import annotations

from collections.abc import Collection, Iterable

from ...graph import Edge, Graph
from ...model.fluid import Fitting as FluidFitting
from ...model.wiring import Junction
from .lines import Chain
from .parts import Parts
from .runs import Runs
from .things import Things


def collect(
    graph: Graph,
    edges: Iterable[Edge],
    circuits: dict[tuple[str, str], str],
    removed: Collection[tuple[str, str]] = (),
    *,
    number_bonds: bool = True,
) -> Parts:
    """The parts that draw some edges of the graph.

    ``circuits`` names the circuit of a run or line; ``removed`` holds section and id of what the alteration takes out.
    ``number_bonds`` gives joints to ground with long names a number.
    """
    sheet = Runs(graph, circuits, removed)
    sheet.number_bonds = number_bonds
    shown = list(edges)
    chains: dict[tuple[str, ...], Chain] = {}
    for edge in shown:
        nodes = (edge.a, edge.b)
        if edge.kind == "fluid line":
            chain = sheet.lines.chain(edge)
            chains.setdefault(tuple(sorted(e.ident for e in chain.lines)), chain)
            nodes = (chain.start, chain.end)
        if edge.kind in ("conductor", "bond", "fluid line", "shield"):
            for node in nodes:
                sheet.use(node)
    for edge in shown:
        if edge.kind in ("element", "coil", "couple", "contact", "load", "supply", "winding", "spool"):
            for node in (edge.a, edge.b):
                if node.partition(".")[0] in sheet.used and not node.endswith(".star"):
                    sheet.use(node)
    runs = dict.fromkeys(e.ident for e in shown if e.kind == "conductor" and e.run is not None)
    for ident in runs:
        for end in sheet.shield_ends(sheet.model.wire_runs[ident]):
            sheet.use(sheet.graph.node_of(end))
    sheet.things()
    for edge in shown:
        if edge.kind == "conductor":
            sheet.wire(edge)
        elif edge.kind == "bond":
            sheet.strap(edge)
    for chain in chains.values():
        sheet.line(chain)
    for ident in runs:
        sheet.shield(ident, sheet.model.wire_runs[ident])
    sheet.layout()
    sheet.cross()
    return sheet.parts


def place_alone(parts: Parts, graph: Graph, section: str, ident: str, thing: object) -> None:
    """Draw a thing that nothing joins."""
    alone = Things(graph, {}, ())
    alone.parts = parts
    if isinstance(thing, (Junction, FluidFitting)):
        alone.thing(section, ident, thing, [""])
    else:
        alone.thing(section, ident, thing, [])
    alone.layout()


def draw_barriers(parts: Parts, graph: Graph) -> None:
    """Draw the barriers between the zones of some parts."""
    between = Things(graph, {}, ())
    between.parts = parts
    between.layout()
