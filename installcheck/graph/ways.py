"""Ways home through ground."""

from __future__ import annotations

from typing import TypeAlias

from .edges import CARRIES_SIGNAL, Edge
from .multigraph import Graph
from .walk import Step, Walk, between, turned

Grounds: TypeAlias = "dict[str, tuple[str, tuple[Step, ...]] | None]"
"""The nearest ground point of each terminal, and the way there."""


def ground_path(
    graph: Graph, start: str, end: str, grounds: Grounds | None = None
) -> tuple[Step, ...] | None:
    """The shortest way from a terminal to another through conductors and ground points; ``None`` if there is none.

    The way leaves each terminal by conductors as far as its first ground point; between ground points only straps and
    joints are walked, so the cost does not grow with what else is grounded there. ``grounds`` remembers the way of each
    terminal to ground from one call to the next.
    """
    known = {} if grounds is None else grounds
    for terminal in (start, end):
        if terminal not in known:
            known[terminal] = _to_ground(graph, terminal)
    out, back = known[start], known[end]
    if out is None or back is None:
        return None
    middle = between(graph.ground_links, out[0], back[0])
    return None if middle is None else (*out[1], *middle, *turned(back[1]))


def _to_ground(graph: Graph, start: str) -> tuple[str, tuple[Step, ...]] | None:
    """The nearest ground point joined to a terminal, and the way there; not through a bus or protector."""
    sections = graph.nodes

    def passes(edge: Edge, there: str) -> bool:
        return edge.kind in CARRIES_SIGNAL and edge.closed and sections[there]["section"] != "supplies"

    walk = Walk([start], graph.at, passes)
    ground = walk.first(graph.is_ground)
    return None if ground is None else (ground, walk.way(ground))
