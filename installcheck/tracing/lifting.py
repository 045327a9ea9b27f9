"""What a setup changes in the network: wires taken off, terminals joined by hand, a resistor in a sender's place."""

from __future__ import annotations

from ..analysis.circuit.solved import Circuit
from ..graph import Edge
from .changes import Change, Cut, Joins, Reached, Sends, World
from .looks import Setup


def of_setup(net: Circuit, setup: Setup, world: World = ()) -> list[Change]:
    """What a setup changes; the wire lifted from a terminal is the one that is found there."""
    changes: list[Change] = []
    moves = [m for c in world if isinstance(c, Reached) for m in c.moves]
    for terminal in setup.lifted:
        gone = {e for e, node, _ in moves if node == terminal}
        come = [e for e, _, there in moves if there == terminal]
        changes += [Cut(e) for e in (*_wires_at(net, terminal), *come) if e not in gone or e in come]
    changes += [Joins(a, b, ohms) for a, b, ohms in setup.joined]
    changes += [Sends(sender, ohms) for sender, ohms in setup.replaced]
    return changes


def is_lifted(setup: Setup, node: str) -> bool:
    """Whether the wires of a node are taken off, or all of its thing."""
    return node in setup.lifted or node.partition(".")[0] in setup.lifted


def lead_at(net: Circuit, setup: Setup, node: str) -> str | None:
    """Where volts of a node are told: of a lifted one by the far end of its wire; ``None`` where that is not one wire."""
    if not is_lifted(setup, node):
        return node
    wires = _wires_at(net, node)
    return (wires[0].b if wires[0].a == node else wires[0].a) if len(wires) == 1 else None


def _wires_at(net: Circuit, terminal: str) -> list[Edge]:
    graph = net.study.graph
    try:
        node = graph.node_of(terminal)
    except KeyError:
        return []
    ident = node.partition(".")[0]
    if "." not in terminal:
        return [
            e
            for n, data in graph.nodes.items()
            if data["ident"] == ident
            for e in graph.at(n)
            if e.ident != ident and e in net.branch_of
        ]
    return [e for e in graph.at(node) if e.ident != ident and e in net.branch_of]
