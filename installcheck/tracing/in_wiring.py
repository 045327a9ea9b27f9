"""Hypotheses of wires, joints, plugs, grounds and supplies: what in the wiring bears on an indication, and how it fails."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from functools import partial

from ..analysis.circuit.solved import circuit
from ..analysis.study import Study
from ..graph import Edge
from ..graph.walk import Walk
from .changes import Adds, Cut, Joins, Reached, Shows, Weak, World
from .channels import Channel
from .hypotheses import SIZES_OHM, Hypothesis, of_one, of_sizes
from .looks import Setup
from .predict import Expect, Predictor
from .states import point_of, usual

_CARRIES = frozenset(("conductor", "joint", "contact", "bond", "spool"))
_MOVED = 0.002
"""Share of the dial a reading must move for an open circuit to bear on it."""
_LIVE = 1.0
"""V at a wire above which it can be called a supply, and another shorted to it."""
_LOW_SUPPLY = (0.6, 0.75, 0.85, 0.92, 1.08, 1.15)
"""Shares of its voltage a supply that does not hold it may give; above one, a regulator gone high."""
_MOST_IN_BUNDLE = 60


def in_wiring(predictor: Predictor, bad: Sequence[Channel], setups: Sequence[Setup]) -> Iterator[Hypothesis]:
    """Every fault of the wiring that bears on one of the indications that misbehave."""
    study = predictor.study
    concerned = _concerned(predictor, bad, setups)
    for edge in concerned:
        yield from _of_edge(study, edge, bad)
        yield from _loose(study, edge, bad)
    yield from _behind(study, concerned)
    yield from _plugs(study, concerned)
    yield from _harnesses(study, concerned)
    yield from _neighbours(study, bad, concerned)
    yield from _exchanged(study, predictor, bad)
    yield from _supplies(predictor, bad, setups)


def _concerned(predictor: Predictor, bad: Sequence[Channel], setups: Sequence[Setup]) -> list[Edge]:
    """Edges of the legs, and those whose loss moves the reading in one of the states looked at."""
    study = predictor.study
    found = dict.fromkeys(e for c in bad for e in c.edges if e.kind in _CARRIES)
    electric = [c for c in bad if c.way != "line" and c.spec.principle != "capillary"]
    for setup in dict.fromkeys(Setup(s.point, s.loads) for s in setups):
        net = circuit(study, point_of(study, setup))
        tried = [
            e
            for e, n in net.branch_of.items()
            if e.kind in _CARRIES and not net.solution.network.is_open[n] and e not in found
        ]
        worlds: list[World] = [(), *((Cut(e),) for e in tried)]
        for channel in electric:
            base, *others = predictor.expect(setup, channel.show, worlds)
            found |= dict.fromkeys(
                e for e, got in zip(tried, others, strict=True) if _differs(channel, base, got)
            )
    return list(found)


def _differs(channel: Channel, one: Expect, other: Expect) -> bool:
    if one.value is None or other.value is None:
        return one.word != other.word
    dial = channel.spec.scale
    span = float(dial.highest) - float(dial.lowest) if dial is not None else abs(one.value) or 1.0
    return abs(one.value - other.value) > _MOVED * span


def ends_of(edge: Edge) -> str:
    """``oil bulb.A to oil temperature gauge.A``."""
    return f"{edge.a} to {edge.b}"


def _of_edge(study: Study, edge: Edge, bad: Sequence[Channel]) -> Iterator[Hypothesis]:
    where = study.graph.zone_of(edge.a) or study.graph.zone_of(edge.b) or ""
    ohms = ("resistance", "ohm")

    def adds(r: float) -> World:
        return (Adds(edge, r),)

    if edge.kind == "conductor":
        name = f"wire {edge.label} ({ends_of(edge)})"
        yield of_one(
            "open", (edge.label,), f"{name} is broken, or off at an end", (Cut(edge),), edge.path, where
        )
        yield of_sizes(
            "bad joint",
            (edge.label,),
            f"a bad joint in {name} or at its ends",
            SIZES_OHM,
            adds,
            ohms,
            edge.path,
            where,
        )
        yield from _shorts(study, edge, bad, name, where)
    elif edge.kind == "joint":
        pin = f"{edge.ident} contact {edge.name}" if edge.name else edge.ident
        yield of_one("open", (pin,), f"{pin} does not meet its mate", (Cut(edge),), edge.path, where)
        yield of_sizes(
            "bad joint", (pin,), f"a bad contact at {pin}", SIZES_OHM, adds, ohms, edge.path, where
        )
    elif edge.kind == "contact" and edge.section == "supplies":
        title = f"{edge.ident}"
        yield of_one("breaker open", (edge.ident,), f"{title} is open", (Cut(edge),), edge.path, where)
        yield of_sizes(
            "bad joint", (edge.ident,), f"burnt contacts in {title}", SIZES_OHM, adds, ohms, edge.path, where
        )
    elif edge.kind == "bond":
        own = "case" if edge.section != "grounds" else ""
        title = f"the ground of {edge.ident}" if own else f"ground {edge.ident}"
        yield of_one("lost ground", (edge.ident,), f"{title} is off", (Cut(edge),), edge.path, where)
        yield of_sizes(
            "bad ground", (edge.ident,), f"resistance in {title}", SIZES_OHM, adds, ohms, edge.path, where
        )
    else:
        yield of_one(
            "open",
            (edge.ident,),
            f"{edge.ident} {edge.name} is open".replace("  ", " "),
            (Cut(edge),),
            edge.path,
            where,
        )
        yield of_sizes(
            "bad joint", (edge.ident,), f"a bad contact in {edge.ident} {edge.name}".rstrip(), SIZES_OHM, adds, ohms,
            edge.path, where,
        )  # fmt: skip


def _loose(study: Study, edge: Edge, bad: Sequence[Channel]) -> Iterator[Hypothesis]:
    """A joint that makes and breaks: what is read through it jumps about, and it may measure right at rest."""
    names = [c.show.name for c in bad if edge in c.edges]
    if names:
        yield of_one(
            "loose joint",
            (edge.label if edge.kind == "conductor" else edge.ident,),
            f"a joint of {edge.label if edge.kind == 'conductor' else edge.ident} makes and breaks ({ends_of(edge)})",
            tuple(Shows(name, state="erratic") for name in names),
            edge.path,
            study.graph.zone_of(edge.a) or "",
        )


def _shorts(study: Study, edge: Edge, bad: Sequence[Channel], name: str, where: str) -> Iterator[Hypothesis]:
    ground = _ground(study)
    if ground is None or study.graph.is_ground(edge.a) or study.graph.is_ground(edge.b):
        return
    signal = any(edge in c.edges for c in bad)
    node = edge.a
    yield of_one(
        "short to ground",
        (edge.label,),
        f"{name} touches ground: chafed through, or pinched",
        (Joins(node, ground),),
        edge.path,
        where,
    )
    bus = _bus(study)
    if signal and bus is not None and _direct(study, edge):
        yield of_one(
            "short to supply",
            (edge.label,),
            f"{name} touches a live wire",
            (Joins(node, bus),),
            edge.path,
            where,
        )


def _behind(study: Study, concerned: Sequence[Edge]) -> Iterator[Hypothesis]:
    """A short in what hangs on the same breaker takes all behind it, though its loss alone would change nothing."""
    graph = study.graph
    closed = [e for e in concerned if e.kind == "contact" and e.section == "supplies"]

    def leaving(node: str) -> Iterator[Edge]:
        return (e for e in graph.at(node) if e.kind in ("conductor", "joint"))

    reached = Walk(
        [f"{e.ident}.out" for e in closed if f"{e.ident}.out" in graph.multigraph],
        leaving,
        stops=graph.is_ground,
    )
    for edge in dict.fromkeys(e for node in reached for e in leaving(node)):
        if edge.kind == "conductor" and edge not in concerned and _direct(study, edge):
            name = f"wire {edge.label} ({ends_of(edge)}), or what it feeds,"
            yield from _shorts(study, edge, (), name, graph.zone_of(edge.a) or "")


def _direct(study: Study, edge: Edge) -> bool:
    return edge in circuit(study, usual(study)).branch_of


def _ground(study: Study) -> str | None:
    grounds = [i for i, g in study.model.grounds.items() if g.kind not in ("strap", "bond")]
    structure = [i for i in grounds if study.model.grounds[i].kind == "structure"]
    return next(iter((*structure, *grounds)), None)


def _bus(study: Study) -> str | None:
    return next((i for i, s in study.model.supplies.items() if s.spec.kind == "bus"), None)


def _plugs(study: Study, concerned: Sequence[Edge]) -> Iterator[Hypothesis]:
    """A plug that is off takes every contact of it; one that is told without its mate, every wire that ends at it."""
    graph = study.graph
    for ident, junction in study.model.junctions.items():
        if junction.spec.kind not in ("plug", "disconnect"):
            continue
        mates = [e for e in graph.by_thing.get(("junctions", ident), ()) if e.kind == "joint"]
        if not mates:
            ends = [n for n, d in graph.multigraph.nodes(data=True) if d["ident"] == ident and d["terminal"]]
            mates = [
                w
                for n in ends
                for w in [next((e for e in graph.at(n) if e.kind == "conductor"), None)]
                if w is not None
            ]
        if len(mates) > 1 and any(e in concerned for e in mates):
            yield of_one(
                "plug off",
                (ident,),
                f"plug {ident} is off, or not home",
                tuple(Cut(e) for e in mates),
                ("junctions", ident),
                graph.zone_of(mates[0].a) or "",
            )


def _harnesses(study: Study, concerned: Sequence[Edge]) -> Iterator[Hypothesis]:
    by_bundle: dict[str, list[Edge]] = defaultdict(list)
    for edge in study.graph.edges:
        if edge.kind == "conductor" and edge.run is not None and isinstance(edge.run.bundle, str):
            by_bundle[edge.run.bundle].append(edge)
    for bundle, edges in by_bundle.items():
        if 2 < len(edges) <= _MOST_IN_BUNDLE and any(e in concerned for e in edges):
            yield of_one(
                "harness damaged",
                (bundle,),
                f"harness {bundle} is cut or burnt through",
                tuple(Cut(e) for e in edges),
                ("bundles", bundle),
                study.model.bundles[bundle].zone or "" if bundle in study.model.bundles else "",
            )


def _neighbours(study: Study, bad: Sequence[Channel], concerned: Sequence[Edge]) -> Iterator[Hypothesis]:
    """The legs of one indication touching each other: at the gauge, at every joint between, at the sender."""
    for channel in bad:
        if channel.indication is None or channel.way == "couple" or len(channel.indication.legs) < 2:
            continue
        legs = channel.indication.legs
        pairs: dict[tuple[str, str], None] = {}
        for i, one in enumerate(legs):
            for other in legs[i + 1 :]:
                first = [s.near for s in one.steps]
                second = [s.near for s in other.steps]
                if (
                    first
                    and second
                    and first[0] != second[0]
                    and not one.through_ground
                    and not other.through_ground
                ):
                    pairs[first[0], second[0]] = None
        for a, b in pairs:
            yield of_one(
                "short to neighbour",
                (a, b),
                f"the leads at {a} and {b} touch each other somewhere on their way",
                (Joins(a, b),),
                channel.path,
                study.graph.zone_of(a) or "",
            )


def _exchanged(study: Study, predictor: Predictor, bad: Sequence[Channel]) -> Iterator[Hypothesis]:
    """Two signal leads of one indicator, or two of one plug, in each other's place; and the two leads of one sender."""
    seen: set[frozenset[str]] = set()
    for channel in bad:
        if channel.way != "network" or channel.indication is None:
            continue
        mine = _first_wire(channel)
        if mine is None:
            continue
        for other in predictor.channels:
            if other is channel or other.way != "network" or other.source == channel.source:
                continue
            theirs = _first_wire(other)
            if theirs is None or not _side_by_side(study, channel, other):
                continue
            pair = frozenset((mine[0].label, theirs[0].label))
            if len(pair) < 2 or pair in seen:
                continue
            seen.add(pair)
            moves = ((mine[0], mine[1], theirs[1]), (theirs[0], theirs[1], mine[1]))
            yield of_one(
                "leads exchanged",
                (mine[0].label, theirs[0].label),
                f"leads {mine[0].label} and {theirs[0].label} are in each other's place at {mine[1]} and {theirs[1]}",
                (Reached(moves),),
                channel.path,
                study.graph.zone_of(mine[1]) or "",
            )
        yield from _turned(study, channel)


def _turned(study: Study, channel: Channel) -> Iterator[Hypothesis]:
    """The two leads of one sender crossed at the gauge."""
    assert channel.indication is not None
    ends = [(leg.steps[0].edge, leg.steps[0].near) for leg in channel.indication.legs if leg.steps]
    if len(ends) != 2 or any(e.kind != "conductor" for e, _ in ends) or ends[0][1] == ends[1][1]:
        return
    (one, a), (other, b) = ends
    yield of_one(
        "leads exchanged",
        (one.label, other.label),
        f"leads {one.label} and {other.label} are crossed at {a} and {b}",
        (Reached(((one, a, b), (other, b, a))),),
        channel.path,
        study.graph.zone_of(a) or "",
    )


def _first_wire(channel: Channel) -> tuple[Edge, str] | None:
    """The wire at the signal terminal of the indicator, and that terminal."""
    assert channel.indication is not None
    for leg in channel.indication.legs:
        if leg.steps and leg.steps[0].edge.kind == "conductor" and not leg.through_ground:
            return leg.steps[0].edge, leg.steps[0].near
    return None


def _side_by_side(study: Study, one: Channel, other: Channel) -> bool:
    """Whether the leads of two indications end at one indicator or pass one plug or block."""
    if one.indicator == other.indicator:
        return True
    return bool(_joints(study, one) & _joints(study, other))


def _joints(study: Study, channel: Channel) -> set[str]:
    return {
        n.partition(".")[0]
        for e in channel.edges
        for n in (e.a, e.b)
        if n.partition(".")[0] in study.model.junctions
    }


def _supplies(predictor: Predictor, bad: Sequence[Channel], setups: Sequence[Setup]) -> Iterator[Hypothesis]:
    for ident, supply in predictor.study.model.supplies.items():
        if supply.spec.kind not in ("battery", "alternator", "generator") or supply.spec.voltage is None:
            continue
        if not any(
            _differs(channel, *predictor.expect(setup, channel.show, [(), (Weak(ident, 0.0),)]))
            for setup in dict.fromkeys(Setup(s.point, s.loads) for s in setups)
            for channel in bad
        ):
            continue
        path = ("supplies", ident)
        where = supply.zone or ""
        yield of_one("dead supply", (ident,), f"{ident} gives nothing", (Weak(ident, 0.0),), path, where)
        yield of_sizes(
            "low supply",
            (ident,),
            f"{ident} does not hold its voltage",
            [share * float(supply.spec.voltage) for share in _LOW_SUPPLY],
            partial(_weak, ident),
            ("voltage", "V"),
            path,
            where,
        )


def _weak(ident: str, volts: float) -> World:
    return (Weak(ident, volts),)
