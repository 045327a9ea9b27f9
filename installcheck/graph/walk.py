"""Walks through the graph: outward from some nodes, nearest first, and the way by which each node was reached."""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence

from ..dataclass import dataclass
from .edges import Edge


@dataclass(frozen=True, slots=True)
class Step:
    """One edge of a way, walked from ``near`` to ``far``."""

    edge: Edge
    near: str
    far: str


def _any(edge: Edge, there: str) -> bool:
    return True


def _none(node: str) -> bool:
    return False


class Walk:
    """A walk outward from some nodes. Iterating it goes on from where it stands and yields each node once, nearest first.

    Cost: linear in what is reached; a walk that is left early has looked no further.

    Args:
        starts: the nodes it starts from.
        leaving: the edges that leave a node: ``graph.at``, or some of them.
        passes: whether it may take an edge to the node beyond it.
        stops: whether it ends at a node it has reached.
    """

    def __init__(
        self,
        starts: Iterable[str],
        leaving: Callable[[str], Iterable[Edge]],
        passes: Callable[[Edge, str], bool] = _any,
        stops: Callable[[str], bool] = _none,
    ) -> None:
        self._leaving, self._passes, self._stops = leaving, passes, stops
        self.came: dict[str, Step | None] = dict.fromkeys(starts)
        self._ahead = deque(self.came)

    def __iter__(self) -> Iterator[str]:
        came, ahead = self.came, self._ahead
        while ahead:
            here = ahead.popleft()
            yield here
            if self._stops(here):
                continue
            for edge in self._leaving(here):
                there = edge.other(here)
                if there not in came and self._passes(edge, there):
                    came[there] = Step(edge, here, there)
                    ahead.append(there)

    def first(self, wanted: Callable[[str], bool]) -> str | None:
        """The nearest node that is wanted; ``None`` if none is reached."""
        return next((node for node in self if wanted(node)), None)

    def way(self, node: str) -> tuple[Step, ...]:
        """The steps to a node that was reached."""
        return steps_to(self.came, node)


def steps_to(came: Mapping[str, Step | None], node: str) -> tuple[Step, ...]:
    """The way to a node, from the step by which each node on it was reached."""
    steps: list[Step] = []
    step = came[node]
    while step is not None:
        steps.append(step)
        step = came[step.near]
    return tuple(reversed(steps))


def turned(steps: Sequence[Step]) -> tuple[Step, ...]:
    """The same way walked from its other end."""
    return tuple(Step(s.edge, s.far, s.near) for s in reversed(steps))


def between(links: Mapping[str, Sequence[Edge]], start: str, end: str) -> tuple[Step, ...] | None:
    """The shortest way from one node to another through some links; ``None`` if there is none.

    Searched from both ends, on each turn from the one with fewer links to follow: the airframe, to which everything is
    joined, is not walked when it lies between two studs.
    """
    if start == end:
        return ()
    came: tuple[dict[str, Step | None], dict[str, Step | None]] = ({start: None}, {end: None})
    fronts = [[start], [end]]
    while fronts[0] and fronts[1]:
        costs = [sum(len(links.get(node, ())) for node in front) for front in fronts]
        turn = 0 if costs[0] <= costs[1] else 1
        own, other, reached = came[turn], came[1 - turn], []
        for here in fronts[turn]:
            for edge in links.get(here, ()):
                there = edge.other(here)
                if there in own:
                    continue
                own[there] = Step(edge, here, there)
                if there in other:
                    return (*steps_to(came[0], there), *turned(steps_to(came[1], there)))
                reached.append(there)
        fronts[turn] = reached
    return None
