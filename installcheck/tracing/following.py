"""Walks with a meter from point to point: along the supply of a gauge, and along the leads of an indication."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ..analysis.study import Study
from ..graph import Edge
from ..graph.walk import Walk
from .changes import Adds, Cut, Joins, Metal, Reached, World
from .channels import Channel
from .expected import Expect
from .unpowered import Unpowered
from .wires import live_points, structure

LOST_VOLTS, HELD_VOLTS = 0.15, 0.08
"""Shares of the supply by which a point may be off: above the first its volts are lost, below the second they are there."""
LOST_OHM, SPREAD = 1.0, 0.1
"""ohm, and share of its own, by which a lead may be above what is drawn and still ring through."""
_NEARLY = 0.3
"""Share of that within which nobody can say which it will be."""
_NAMES = 0.9
"""Probability that the place that is lost is named, and no other."""


def feed_of(study: Study, plus: str) -> list[str]:
    """Nodes on the way from a gauge's supply terminal to its bus or battery, the nearest first."""

    def leaving(node: str) -> Iterator[Edge]:
        return (e for e in study.graph.at(node) if e.kind in ("conductor", "joint", "contact"))

    sources = {e.a for e in study.graph.edges if e.kind == "supply"}
    sources |= {i for i, one in study.model.supplies.items() if one.spec.kind == "bus"}
    walk = Walk((plus,), leaving, stops=study.graph.is_ground)
    bus = walk.first(lambda n: n in sources)
    return [s.far for s in walk.way(bus)] if bus is not None else []


def home_of(study: Study, minus: str, ground: str) -> list[str]:
    """Nodes between a gauge's ground terminal and the structure."""

    def leaving(node: str) -> Iterator[Edge]:
        return (e for e in study.graph.at(node) if e.kind in ("conductor", "joint", "bond"))

    walk = Walk((minus,), leaving)
    return [s.far for s in walk.way(ground)[:-1]] if walk.first(lambda n: n == ground) is not None else []


def supply_points(study: Study, indicator: str) -> tuple[list[str], list[str]]:
    """Points of a gauge's supply in the order they are touched: from its bus to its terminal, and from the structure to the other."""
    terminals, ground = study.model.indicators[indicator].spec.supply_terminals, structure(study)
    if not terminals or ground is None:
        return [], []
    plus, minus = (f"{indicator}.{t}" for t in terminals)
    feed = [*reversed(feed_of(study, plus)), plus]
    home = [n for n in (*reversed(home_of(study, minus, ground)), minus) if n != ground]
    return feed, home


def followed(points: tuple[list[str], list[str]], sound: Sequence[float], volts: Sequence[float]) -> Expect:
    """What is found along a supply: volts at each point to the structure in a world, and in a sound aircraft."""
    most = max(sound, default=0.0)
    if most <= 0:
        return Expect()
    for node, had, has in zip((*points[0], *points[1]), sound, volts, strict=True):
        off = abs(had - has) / most
        if off > LOST_VOLTS:
            return Expect(word="lost", places=((node, _NAMES),))
        if off > HELD_VOLTS:
            return Expect()
    return Expect(word="right")


def lead_points(study: Study, channel: Channel) -> list[list[tuple[Edge, str, str]]]:
    """The leads of an indication from its gauge on: each edge with the point it is rung from, and that it is rung to."""
    found = []
    for way in _ways(channel):
        points: list[tuple[Edge, str, str]] = []
        for edge, near, far in way:
            if study.graph.is_ground(far) and edge.kind != "conductor":
                break
            points.append((edge, near, far))
        if points:
            found.append(points)
    return found


def _ways(channel: Channel) -> list[list[tuple[Edge, str, str]]]:
    if channel.meter is not None:
        ways = (channel.meter.plus, channel.meter.minus)
        return [[(s.edge, s.near, s.far) for s in way] for way in ways if way]
    legs = channel.indication.legs if channel.indication is not None else ()
    return [[(s.edge, s.near, s.far) for s in leg.steps] for leg in legs]


def rung(study: Study, channel: Channel, bench: Unpowered, world: World) -> Expect:
    """Where the leads of an indication are lost in a world: the first such point of each."""
    lost: list[str] = []
    for way in lead_points(study, channel):
        drawn = 0.0
        for edge, _, far in way:
            drawn += bench.ohms(edge, ()) or 0.0
            state = _of_edge(study, edge, drawn, world)
            if state is None:
                return Expect()
            if state:
                lost.append(far)
                break
    if not lost:
        return Expect(word="right")
    return Expect(word="lost", places=((" and ".join(dict.fromkeys(lost)), _NAMES),))


def insulated(study: Study, world: World) -> Expect:
    """Which wire reads to ground, to what is live or to a wire beside it in a world, each free at both ends; of two, both."""
    live = live_points(study)
    for change in world:
        if not isinstance(change, Joins):
            continue
        wires = [w.label for w in change.wires if w is not None]
        if len(wires) == 2 or any(study.graph.is_ground(n) or n in live for n in (change.a, change.b)):
            if wires:
                return Expect(word="wrong", places=((" and ".join(sorted(set(wires))), _NAMES),))
        else:
            return Expect()  # two legs that touch: in their wire or at the probe, nobody can say
    return Expect(word="right")


def _of_edge(study: Study, edge: Edge, drawn: float, world: World) -> bool | None:
    """Whether a lead no longer rings through past an edge of it; ``None`` where nobody can say."""
    for change in world:
        if isinstance(change, Cut) and change.edge is edge:
            return not _doubled(study, edge)
        if isinstance(change, Metal) and change.edge is edge:
            return None
        if isinstance(change, Reached) and any(e is edge for e, _, _ in change.moves):
            return True
        if isinstance(change, Adds) and change.edge is edge:
            limit = LOST_OHM + SPREAD * drawn
            if _doubled(study, edge) or change.ohms < (1 - _NEARLY) * limit:
                return False
            return None if change.ohms < (1 + _NEARLY) * limit else True
    return False


def _doubled(study: Study, edge: Edge) -> bool:
    """Whether another wire joins the same two points."""
    return any(e is not edge and {e.a, e.b} == {edge.a, edge.b} for e in study.graph.at(edge.a))
