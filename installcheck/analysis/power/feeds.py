"""What every power wire feeds: the loads behind it, whether it is the only way to them, and what else can drive it.

The figures are upper bounds that hold in every operating state: all loads on at once, and the whole current on each
of several ways that lead to one place, since one of them may be open.
"""

from __future__ import annotations

from ...dataclass import dataclass
from ...graph import Edge
from .. import missing
from ..missing import Missing
from ..study import Study, once
from .wiring import RATING, Hung, Key, Side, Wiring, feed_side, protector_of, return_side, starts

_OF_SOURCES = frozenset((missing.ALTERNATOR_RATING, missing.SUPPLY_KIND, missing.JOINT_KIND))
"""What leaves open how much a source gives; a protector before it bounds that too."""


@dataclass(frozen=True, slots=True)
class Branch:
    """What hangs behind one power conductor, seen from the battery.

    Attributes:
        side: on the way to the loads, or on their way back.
        load: ampere of all loads behind it, starters apart; a lower bound where ``missing`` names something.
        loads: how many loads those are.
        sources: rated ampere of the alternators behind it.
        starter: ampere of the starters behind it.
        bare: whether a load hangs behind it with no protector between, coils and starters apart.
        coil: whether a contactor coil does.
        protectors: protectors that come next behind it.
        alone: whether it is the only way to what is behind it.
        missing: data to add to know the load.
    """

    side: Side
    load: float
    loads: int
    sources: float
    starter: float
    bare: bool
    coil: bool
    protectors: tuple[str, ...]
    alone: bool
    missing: tuple[Missing, ...]


@once
def branches(study: Study) -> dict[Key, Branch]:
    """What hangs behind every power conductor; conductors that only carry signals are not in it. Cost: linear."""
    return {**_feed_walk(study).found(), **_spread(study, return_side(study)).found()}


def beyond(study: Study) -> dict[str, Hung]:
    """What hangs behind each protector, switch, contactor and shunt, as its far side sees it."""
    return _feed_walk(study).beyond


@once
def _feed_walk(study: Study) -> _Walk:
    return _spread(study, feed_side(study))


def _spread(study: Study, wiring: Wiring) -> _Walk:
    walk = _Walk(study, wiring)
    for roots in starts(study, wiring):
        walk.begin(roots)
    return walk


class _Walk:
    """A depth-first walk that sums what hangs behind each edge and tells bridges from meshes (low links)."""

    def __init__(self, study: Study, wiring: Wiring) -> None:
        self.study, self.wiring = study, wiring
        self.number: dict[str, int] = {}
        self.low: dict[str, int] = {}
        self.came: dict[str, tuple[Edge | None, str]] = {}
        self.behind: dict[str, Hung] = {}
        self.order: list[str] = []
        self.back: list[tuple[Edge, str]] = []
        self.beyond: dict[str, Hung] = {}

    def begin(self, roots: list[str]) -> None:
        """Walk from ``roots``, taken as one point."""
        first = len(self.number) + 1
        for root in roots:
            self.number[root] = self.low[root] = first
            self.came[root] = (None, "")
        for root in roots:
            self.behind[root] = self._own(root)
            self._from(root)

    def _own(self, node: str) -> Hung:
        own = Hung()
        if (at := self.wiring.hung.get(node)) is not None:
            own.add(at)
        return own

    def _from(self, root: str) -> None:
        adjacent, number, low = self.wiring.adjacent, self.number, self.low
        stack = [(root, iter(adjacent.get(root, ())))]
        while stack:
            here, edges = stack[-1]
            entered = self.came[here][0]
            for edge, there in edges:
                if edge is entered:
                    continue
                if there not in number:
                    number[there] = low[there] = len(number) + 1
                    self.came[there] = (edge, here)
                    self.behind[there] = self._own(there)
                    self.order.append(there)
                    stack.append((there, iter(adjacent.get(there, ()))))
                    break
                if number[there] <= number[here]:
                    low[here] = min(low[here], number[there])
                    self.back.append((edge, here))
            else:
                stack.pop()
                self._leave(here)

    def _leave(self, node: str) -> None:
        edge, before = self.came[node]
        if edge is None:
            return
        self.low[before] = min(self.low[before], self.low[node])
        back = self.low[node] < self.number[node]
        self.behind[before].add(self._through(edge, self.behind[node], back=back))

    def _through(self, edge: Edge, behind: Hung, *, back: bool) -> Hung:
        """What hangs behind a protector, as the wire before it sees it; ``back`` if its far side leads back to what feeds it.

        One that nothing is drawn behind may feed what is not drawn, up to its rating; not so one that another source feeds.
        """
        supply = protector_of(self.study, edge)
        if edge.kind in ("contact", "spool"):
            self.beyond[edge.ident] = behind
        if supply is None:
            return behind
        rating = supply.spec.rating
        seen = Hung(behind.load, behind.loads, behind.sources, behind.starter, protectors=(edge.ident,))
        if rating is None:
            seen.missing = behind.missing or (() if behind.loads or behind.sources else (RATING,))
        elif behind.missing or not (behind.loads or behind.sources or back):
            seen.load, seen.loads = float(rating), max(1, behind.loads)
            if not _OF_SOURCES.isdisjoint(behind.missing):
                seen.sources = float(rating)
        else:
            seen.load = min(behind.load, float(rating))
        return seen

    def found(self) -> dict[Key, Branch]:
        """The branch of every conductor walked."""
        made: dict[Key, Branch] = {}
        top: dict[str, str] = {}
        for node in self.order:
            edge, before = self.came[node]
            assert edge is not None
            top[node] = node if self.low[node] >= self.number[before] else top.get(before, node)
            if edge.run is not None:
                alone = self.low[node] > self.number[before]
                made[edge.ident, edge.name] = self._branch(self.behind[top[node]], alone)
        for edge, node in self.back:
            if edge.run is not None and node in top:
                made[edge.ident, edge.name] = self._branch(self.behind[top[node]], False)
        return made

    def _branch(self, behind: Hung, alone: bool) -> Branch:
        return Branch(
            self.wiring.side,
            behind.load,
            behind.loads,
            behind.sources,
            behind.starter,
            behind.bare,
            behind.coil,
            behind.protectors,
            alone,
            behind.missing,
        )
