"""Ways through the graph: step by step, and home through ground."""

from __future__ import annotations

from collections import deque
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TypeAlias

from .edges import CARRIES_SIGNAL, Edge
from .multigraph import Graph


@dataclass(frozen=True, slots=True)
class Step:
    """One edge of a leg, walked from ``near`` (the indicator's side) to ``far`` (the sender's side)."""

    edge: Edge
    near: str
    far: str


Grounds: TypeAlias = "dict[str, tuple[str, tuple[Step, ...]] | None]"
"""The nearest ground point of each terminal, and the way there."""


def steps_to(came: Mapping[str, Step | None], node: str) -> tuple[Step, ...]:
    """The way to a node, from the step by which each node on it was reached."""
    steps: list[Step] = []
    step = came[node]
    while step is not None:
        steps.append(step)
        step = came[step.near]
    return tuple(reversed(steps))


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
    middle = _between(graph, out[0], back[0])
    return None if middle is None else (*out[1], *middle, *_turned(back[1]))


def _turned(steps: Sequence[Step]) -> tuple[Step, ...]:
    """The same way walked from its other end."""
    return tuple(Step(s.edge, s.far, s.near) for s in reversed(steps))


def _to_ground(graph: Graph, start: str) -> tuple[str, tuple[Step, ...]] | None:
    """The nearest ground point joined to a terminal, and the way there; not through a bus or protector."""
    came: dict[str, Step | None] = {start: None}
    queue = deque([start])
    while queue:
        here = queue.popleft()
        if graph.is_ground(here):
            return here, steps_to(came, here)
        for edge in graph.at(here):
            there = edge.other(here)
            if (
                edge.kind in CARRIES_SIGNAL
                and edge.closed
                and there not in came
                and graph.multigraph.nodes[there]["section"] != "supplies"
            ):
                came[there] = Step(edge, here, there)
                queue.append(there)
    return None


def _between(graph: Graph, start: str, end: str) -> tuple[Step, ...] | None:
    """The shortest way from one ground point to another.

    Searched from both ends, on each turn from the one with fewer links to follow: the airframe, to which everything is
    joined, is not walked when it lies between two studs.
    """
    if start == end:
        return ()
    links = graph.ground_links
    came: tuple[dict[str, Step | None], dict[str, Step | None]] = ({start: None}, {end: None})
    edges = [[start], [end]]
    while edges[0] and edges[1]:
        costs = [sum(len(links.get(node, ())) for node in side) for side in edges]
        turn = 0 if costs[0] <= costs[1] else 1
        own, other, reached = came[turn], came[1 - turn], []
        for here in edges[turn]:
            for edge in links.get(here, ()):
                there = edge.other(here)
                if there in own:
                    continue
                own[there] = Step(edge, here, there)
                if there in other:
                    return (*steps_to(came[0], there), *_turned(steps_to(came[1], there)))
                reached.append(there)
        edges[turn] = reached
    return None
