"""Hypotheses of shorts on wires that are none of an indication's own: of what hangs on the bus, breaker or ground it shares, and of
what lies beside its leads.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from functools import partial

from ..analysis.study import Study, once
from ..dataclass import dataclass
from ..graph import Edge
from ..graph.joining import groups
from ..graph.walk import Walk
from .changes import Joins, World
from .channels import Channel
from .hypotheses import Hypothesis, Member, of_one, of_sizes
from .looks import Setup
from .predict import Predictor
from .wires import TOUCH_OHM, differs, direct, ends_of, live_points, structure

_LEAKS_OHM = (0.5, 2.0)
"""ohm through which a live wire may leak onto a ground wire for good: some 28 and 7 A of 14 V. Through less a protector opens or the
bus falls, as when it touches the structure; through more less flows than a lamp takes."""
_NAMED = 6
"""Wires of one piece that are named in the text of a hypothesis."""


@dataclass(frozen=True, slots=True)
class Piece:
    """Wires that hang together without anything between them that could part them: no switch, no protector, no ground.

    Attributes:
        nodes: everything they join.
        wires: conductors among them.
    """

    nodes: frozenset[str]
    wires: tuple[Edge, ...]

    def grounded(self, study: Study) -> bool:
        """Whether it is part of the way back to the structure."""
        return any(study.graph.is_ground(n) for n in self.nodes)


@once
def pieces(study: Study) -> tuple[Piece, ...]:
    """Every piece of the wiring that carries direct current."""
    together = [e for e in study.graph.edges if e.kind in ("conductor", "joint") and direct(study, e)]
    found = []
    for nodes in groups((e.a, e.b) for e in together):
        wires = tuple(e for e in together if e.kind == "conductor" and e.a in nodes)
        if wires:
            found.append(Piece(frozenset(nodes), wires))
    return tuple(found)


@once
def _always_live(study: Study) -> frozenset[str]:
    """Nodes that stand at a bus whatever is switched: behind it and behind its protectors."""

    def leaving(node: str) -> Iterator[Edge]:
        for edge in study.graph.at(node):
            protects = edge.kind == "contact" and edge.section == "supplies"
            if edge.kind in ("conductor", "joint") or (
                protects
                and study.model.supplies[edge.ident].spec.kind in ("breaker", "fuse", "current limiter")
            ):
                yield edge

    return frozenset(Walk(live_points(study), leaving, stops=study.graph.is_ground))


def outside(
    predictor: Predictor, bad: Sequence[Channel], setups: Sequence[Setup], known: Collection[tuple[str, str]]
) -> Iterator[Hypothesis]:
    """Shorts to ground and to supply of wires not ``known`` yet that move the reading in one of the states looked at.

    Cost: one short in the solved network for each piece of the wiring and state.
    """
    found = [h for piece in pieces(predictor.study) for h in _of_piece(predictor.study, piece, known)]
    yield from _moving(predictor, bad, setups, found)


def _of_piece(study: Study, piece: Piece, known: Collection[tuple[str, str]]) -> Iterator[Hypothesis]:
    ground, live = structure(study), live_points(study)
    grounded = piece.grounded(study)
    to_ground = [w for w in piece.wires if ("short to ground", w.label) not in known]
    to_supply = [w for w in piece.wires if ("short to supply", w.label) not in known]
    if ground is not None and to_ground and not grounded:
        text = f"{_named(to_ground)} or what is fed by it touches ground: chafed through, or pinched"
        yield _touching("short to ground", to_ground, [ground], text)
    if not live or not to_supply or not piece.nodes.isdisjoint(_always_live(study)):
        return
    if grounded:
        yield of_sizes(
            "short to supply",
            [w.label for w in to_supply],
            f"a live wire leaks onto {_named(to_supply)}",
            _LEAKS_OHM,
            partial(_leaking, study, to_supply[0], live[0]),
            ("resistance", "ohm"),
            to_supply[0].path,
            study.graph.zone_of(to_supply[0].a) or "",
        )
    else:
        yield _touching("short to supply", to_supply, live, f"{_named(to_supply)} touches a live wire")


def _leaking(study: Study, wire: Edge, live: str, ohms: float) -> World:
    off_ground = wire.b if study.graph.is_ground(wire.a) else wire.a
    return (Joins(off_ground, live, ohms, wires=(wire, None)),)


def _touching(kind: str, wires: Sequence[Edge], others: Sequence[str], text: str) -> Hypothesis:
    """Any of some wires that hang together on one of some things, at either end of them: which wire makes no difference but to who looks for it."""
    near, far = wires[0].a, wires[-1].b
    loosely = [(wires[0], near, TOUCH_OHM)] if kind == "short to ground" else []
    ways = [*((w, near, 0.0) for w in wires), (wires[-1], far, 0.0), *loosely]
    members = tuple(
        Member((Joins(node, other, ohms, wires=(w, None)),)) for other in others for w, node, ohms in ways
    )
    return Hypothesis(kind, tuple(w.label for w in wires), text, members, path=wires[0].path)


def _named(wires: Sequence[Edge]) -> str:
    """``wire P2 (bus to breaker.in), P3 or P4``."""
    if len(wires) == 1:
        return f"wire {wires[0].label} ({ends_of(wires[0])})"
    labels = [w.label for w in wires]
    more = [f"{len(labels) - _NAMED} more with them"] if len(labels) > _NAMED else []
    *first, last = [*labels[:_NAMED], *more]
    return f"one of the wires {', '.join(first)} or {last}, which hang together,"


def beside(predictor: Predictor, bad: Sequence[Channel], setups: Sequence[Setup]) -> Iterator[Hypothesis]:
    """A lead of an indication touching a wire beside it in a bundle, a plug or at its gauge that is neither live nor on ground:
    that of a load behind its switch, the feed or the second lead of another sender.
    """
    found: list[Hypothesis] = []
    for channel in bad:
        if channel.indication is None or channel.way == "couple":
            continue
        for a, mine in _own_pieces(predictor.study, channel):
            found += _of_lead(predictor, channel, a, mine)
    yield from _moving(predictor, bad, setups, found)


def _own_pieces(study: Study, channel: Channel) -> Iterator[tuple[str, Piece]]:
    """The pieces that begin at the gauge, each with its terminal, but those that are ground."""
    assert channel.indication is not None
    near = dict.fromkeys(leg.steps[0].near for leg in channel.indication.legs if leg.steps)
    for node in near:
        piece = next((p for p in pieces(study) if node in p.nodes), None)
        if piece is not None and not piece.grounded(study):
            yield node, piece


def _of_lead(predictor: Predictor, channel: Channel, a: str, mine: Piece) -> Iterator[Hypothesis]:
    study = predictor.study
    gauges = study.model.indicators
    for other in pieces(study):
        if other is mine or other.grounded(study) or not other.nodes.isdisjoint(_always_live(study)):
            continue
        own = sorted(mine.wires, key=lambda w: a not in (w.a, w.b))
        pair = next(((w, v) for w in own for v in other.wires if _places(study, w) & _places(study, v)), None)
        if pair is None:
            continue
        wire, there = pair
        ends = (there.a, there.b, *sorted(other.nodes))
        b = next((n for n in ends if n.partition(".")[0] in gauges), there.a)
        yield of_one(
            "short to neighbour",
            (a, b),
            f"the leads at {a} and {b} touch each other somewhere on their way: wires {wire.label} and {there.label} lie side by side",
            (Joins(a, b, wires=(wire, there)),),
            channel.path,
            study.graph.zone_of(a) or "",
        )


@once
def _places(study: Study, wire: Edge) -> frozenset[str]:
    """What a wire shares with those beside it: its bundle, the plugs and blocks it passes and the gauge it ends at."""
    model = study.model
    ends = {n.partition(".")[0] for n in (wire.a, wire.b)}
    shared = {i for i in ends if i in model.junctions or i in model.indicators}
    bundle = wire.run.bundle if wire.run is not None else None
    return frozenset({*shared, f"bundle {bundle}"} if isinstance(bundle, str) else shared)


def _moving(
    predictor: Predictor, bad: Sequence[Channel], setups: Sequence[Setup], found: Sequence[Hypothesis]
) -> list[Hypothesis]:
    """Those that move the reading of an indication in one of the states looked at, in one of the ways they can be."""
    ways = [dict.fromkeys(_bare(m.world) for m in h.members) for h in found]
    worlds = list(dict.fromkeys(w for some in ways for w in some))
    moves: set[World] = set()
    for setup in dict.fromkeys(Setup(s.point, s.loads) for s in setups):
        for channel in bad:
            if channel.way == "line" or channel.spec.principle == "capillary":
                continue
            base, *others = predictor.expect(setup, channel.show, [(), *worlds])
            moves |= {w for w, got in zip(worlds, others, strict=True) if differs(channel, base, got)}
    return [h for h, some in zip(found, ways, strict=True) if not moves.isdisjoint(some)]


def _bare(world: World) -> World:
    """The same nodes touching, whichever wires it is that do."""
    return tuple(Joins(c.a, c.b, c.ohms) if isinstance(c, Joins) else c for c in world)
