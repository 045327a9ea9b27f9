"""Tests that are possible at accessible points: looks at gauges, ohms, volts, swaps, a resistor in a sender's place."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from ..analysis.circuit.solved import circuit
from ..analysis.sender_curves import output, output_kind
from ..analysis.study import Study
from ..graph import Edge
from ..graph.walk import Walk
from ..model.quantities import show
from ..physics.network_parts import LARGEST_RESISTANCE
from .channels import Channel, channels, stated_truth
from .hazards import hazards, zone_of
from .in_lines import feeds_of
from .looks import STOPPED, Answers, Holding, Look, Observation, Ohms, Setup, Show, TrueValue, Volts
from .states import point_of, stopped, usual

_MOST_LOOKS = 6
"""Other indications offered to be looked at."""


@dataclass(frozen=True, slots=True)
class Test:
    """One test.

    Attributes:
        at, look: the state of the aircraft, and what is looked at.
        words: what to do, as an order.
        effort: word of the effort in the weights.
        hazards: what must be safe first, in order.
    """

    at: Setup
    look: Look
    words: str
    effort: str
    hazards: tuple[str, ...]


def tests_for(study: Study, bad: Sequence[Channel], seen: Sequence[Observation]) -> list[Test]:
    """Every test that could say more of the indications that misbehave, those made already left out."""
    done = {(o.at, o.look) for o in seen}
    found: dict[tuple[Setup, Look], Test] = {}
    for channel in bad:
        for test in _of_channel(study, channel, seen):
            key = (test.at, test.look)
            if key not in done:
                found.setdefault(key, test)
    return list(found.values())


def _made(
    study: Study, at: Setup, look: Look, words: str, effort: str, channel: Channel | None, *nodes: str
) -> Test:
    return Test(at, look, words, effort, hazards(study, at, look, channel, nodes))


def _of_channel(study: Study, channel: Channel, seen: Sequence[Observation]) -> Iterator[Test]:
    yield from _looks(study, channel, seen)
    if channel.way == "line":
        yield from _line(study, channel)
        return
    if channel.indication is None:
        return
    yield from _resting(study, channel)
    yield from _supply(study, channel)
    if channel.spec.principle in ("synchro receiver", "synchronous tachometer", "capillary", "pulse counter"):
        yield from _ringing(study, channel)
        yield _true(study, channel)
        yield _other_gauge(study, channel)
        return
    yield from _ringing(study, channel)
    yield from _at_source(study, channel)
    yield from _at_gauge(study, channel)
    yield from _swaps(study, channel)
    yield _true(study, channel)
    yield _other_gauge(study, channel)
    if feeds_of(study, channel):
        yield _at_port(study, channel)


def _true(study: Study, channel: Channel) -> Test:
    measure = channel.measure or "what it senses"
    pressure = "pressure" in measure or measure == "vacuum"
    tool = "a test gauge" if pressure else "a test instrument"
    return _made(
        study,
        Setup(usual(study).name),
        TrueValue(channel.source),
        f"put {tool} beside {channel.source} and read the true {measure} at '{usual(study).name}'",
        "at a tap",
        channel,
        channel.source,
    )


def _looks(study: Study, channel: Channel, seen: Sequence[Observation]) -> Iterator[Test]:
    """Other indications in the states in which something was seen, those that share most with this one first."""
    states = dict.fromkeys(Setup(o.at.point, o.at.loads) for o in seen if isinstance(o.look, Show))
    mine = set(channel.edges) | {channel.indicator}
    others = sorted(
        (c for c in channels(study) if c is not channel),
        key=lambda c: (c.indicator != channel.indicator, -len(mine & {*c.edges, c.indicator})),
    )
    for at in states:
        for other in others[:_MOST_LOOKS]:
            named = at.point or usual(study).name
            turn = f", its selector at {other.show.position}" if other.show.position else ""
            yield _made(
                study,
                at,
                other.show,
                f"look at {other.show.name}{turn} at '{named}'",
                "look",
                other,
                other.indicator,
            )
    seen_at = {at.point or usual(study).name for at in states}
    for point in study.points:
        if point.name not in seen_at and point.given is not None and point.given.phase != "start":
            yield _made(
                study,
                Setup(point.name),
                channel.show,
                f"look at {channel.show} at '{point.name}'",
                "look",
                channel,
                channel.indicator,
            )
    at = Setup(STOPPED)
    yield _made(
        study,
        at,
        channel.show,
        f"look at {channel.show} with the engine stopped and cold, master on",
        "engine stopped",
        channel,
        channel.indicator,
    )
    for load, one in study.model.loads.items():
        state = next(iter(states), Setup())
        if (one.spec.current or one.spec.power) and not state.loads and one.duty != "intermittent":
            on = load in circuit(study, point_of(study, state)).loads_on
            yield _made(
                study,
                Setup(state.point, ((load, not on),)),
                channel.show,
                f"switch {load} {'off' if on else 'on'} and look at {channel.show}",
                "switch a load",
                channel,
                channel.indicator,
            )


def _resting(study: Study, channel: Channel) -> Iterator[Test]:
    """The leads at the gauge, lifted, by an ohmmeter: through the sender, and each to ground."""
    ends = _gauge_ends(study, channel)
    rest = Setup(STOPPED)
    ground = _structure(study)
    for a, b in ends:
        yield _made(
            study,
            rest,
            Ohms(a, b),
            f"power off, lift the leads at {channel.indicator}; measure ohms between those of {a} and {b}",
            "lift at the panel",
            channel,
            a,
            b,
        )
    for node in dict.fromkeys(n for pair in ends for n in pair if not study.graph.is_ground(n)):
        if ground is not None:
            yield _made(
                study,
                rest,
                Ohms(node, ground),
                f"power off, lift the lead at {node}; measure ohms from the lead to {ground}",
                "lift at the panel",
                channel,
                node,
            )


def _gauge_ends(study: Study, channel: Channel) -> list[tuple[str, str]]:
    assert channel.indication is not None
    nodes = [leg.steps[0].near for leg in channel.indication.legs if leg.steps]
    ground = _structure(study)
    if len(nodes) == 1 and ground is not None:
        return [(nodes[0], ground)]
    return [(nodes[0], n) for n in nodes[1:] if n != nodes[0]] + (
        [(nodes[1], nodes[2])] if len(nodes) > 2 and nodes[1] != nodes[2] else []
    )


def _structure(study: Study) -> str | None:
    grounds = [i for i, g in study.model.grounds.items() if g.kind not in ("strap", "bond")]
    structure = [i for i in grounds if study.model.grounds[i].kind == "structure"]
    return next(iter((*structure, *grounds)), None)


def _supply(study: Study, channel: Channel) -> Iterator[Test]:
    """Volts at the gauge and along its feed, and what its ground stands at with everything on."""
    spec = study.model.indicators[channel.indicator].spec
    if not spec.supply_terminals:
        return
    plus, minus = (f"{channel.indicator}.{t}" for t in spec.supply_terminals)
    net = circuit(study, stopped(study))
    ground = _structure(study)
    rest = Setup(STOPPED)
    if plus not in net.nodes or minus not in net.nodes:
        return
    yield _made(
        study,
        rest,
        Volts(plus, minus),
        f"master on, engine stopped: volts from {plus} to {minus}",
        "at the panel",
        channel,
        plus,
    )
    if ground is None:
        return
    for node in (plus, *_feed(study, plus)):
        yield _made(
            study, rest, Volts(node, ground), f"master on, engine stopped: volts from {node} to {ground}", _place(study, node),
            channel, node,
        )  # fmt: skip
    loads = tuple((i, True) for i, one in study.model.loads.items() if one.duty != "intermittent")
    for node in (minus, *_home(study, minus, ground)):
        if node != ground:
            yield _made(
                study,
                Setup(STOPPED, loads),
                Volts(node, ground),
                f"master on, engine stopped, every load on: volts from {node} to {ground}",
                _place(study, node),
                channel,
                node,
            )


def _feed(study: Study, plus: str) -> list[str]:
    """Nodes on the way from a gauge's supply terminal to its bus or battery, the nearest first."""

    def leaving(node: str) -> Iterator[Edge]:
        return (e for e in study.graph.at(node) if e.kind in ("conductor", "joint", "contact"))

    sources = {e.a for e in study.graph.edges if e.kind == "supply"}
    sources |= {i for i, one in study.model.supplies.items() if one.spec.kind == "bus"}
    walk = Walk((plus,), leaving, stops=study.graph.is_ground)
    bus = walk.first(lambda n: n in sources)
    if bus is None:
        return []
    return [s.far for s in walk.way(bus)]


def _home(study: Study, minus: str, ground: str) -> list[str]:
    """Nodes between a gauge's ground terminal and the structure."""

    def leaving(node: str) -> Iterator[Edge]:
        return (e for e in study.graph.at(node) if e.kind in ("conductor", "joint", "bond"))

    walk = Walk((minus,), leaving)
    return [s.far for s in walk.way(ground)[:-1]] if walk.first(lambda n: n == ground) is not None else []


def _place(study: Study, node: str) -> str:
    zone = study.model.zones.get(zone_of(study, node) or "")
    if zone is None or zone.occupied:
        return "at the panel"
    return "on the engine" if zone.hot_parts else "in the engine bay"


def _ringing(study: Study, channel: Channel) -> Iterator[Test]:
    """Each stretch of each leg end to end, the sender or probe off; and what is found at each joint towards the sender."""
    assert channel.indication is not None
    off = Setup(STOPPED, replaced=((channel.source, LARGEST_RESISTANCE),))
    at_joints: list[list[str]] = []
    for leg in channel.indication.legs:
        nodes = [leg.steps[0].near, *(s.far for s in leg.steps)] if leg.steps else []
        if len(nodes) < 2:
            continue
        start, end = nodes[0], nodes[-1]
        if start != end:
            yield _made(
                study,
                off,
                Ohms(start, end),
                f"power off, leads off at {channel.indicator} and at {channel.source}: ohms from {start} to {end}",
                _place(study, end),
                channel,
                start,
                end,
            )
        joints = [n for n in nodes[1:-1] if n.partition(".")[0] in study.model.junctions]
        at_joints.append(joints)
        for joint in joints:
            for other in (start, end):
                if other != joint:
                    yield _made(
                        study,
                        off,
                        Ohms(other, joint),
                        f"power off, leads off at {channel.indicator} and at {channel.source}: ohms from {other} to {joint}",
                        max((_place(study, n) for n in (joint, other)), key=_FAR.index),
                        channel,
                        joint,
                        other,
                    )
    if len(at_joints) == 2:
        for a, b in zip(reversed(at_joints[0]), reversed(at_joints[1]), strict=False):
            if a.partition(".")[0] == b.partition(".")[0] and a != b:
                yield _made(
                    study,
                    Setup(STOPPED),
                    Ohms(a, b),
                    f"power off, leads off at {channel.indicator}: ohms between {a} and {b}, towards {channel.source}",
                    "at a plug" if _place(study, a) == "at the panel" else _place(study, a),
                    channel,
                    a,
                )


_FAR = ("at the panel", "lift at the panel", "at a plug", "in the engine bay", "on the engine")


def _at_source(study: Study, channel: Channel) -> Iterator[Test]:
    """The sender or probe alone, and how its body reaches ground."""
    section = channel.section
    inner = [
        e for e in study.graph.by_thing.get((section, channel.source), ()) if e.kind in ("element", "couple")
    ]
    for edge in inner:
        curve = study.model.senders[channel.source].spec.curve if section == "senders" else None
        if curve is not None and output_kind(curve) != "resistance":
            continue
        yield _made(
            study,
            Setup(STOPPED, lifted=(channel.source,)),
            Ohms(edge.a, edge.b),
            f"power off, {channel.source} disconnected: ohms between its own terminals {edge.a} and {edge.b}",
            _place(study, edge.a),
            channel,
            edge.a,
        )
    ground = _structure(study)
    case = f"{channel.source}.case"
    if ground is not None and case in study.graph.multigraph and section == "senders":
        loads = tuple((i, True) for i, one in study.model.loads.items() if one.duty != "intermittent")
        yield _made(
            study,
            Setup(STOPPED),
            Ohms(case, ground),
            f"power off: ohms from the body of {channel.source} to {ground}",
            _place(study, case),
            channel,
            case,
        )
        yield _made(
            study,
            Setup(STOPPED, loads),
            Volts(case, ground),
            f"master on, engine stopped, every load on: volts from the body of {channel.source} to {ground}",
            _place(study, case),
            channel,
            case,
        )


def _at_gauge(study: Study, channel: Channel) -> Iterator[Test]:
    """What the gauge itself makes of an open, a joined or a known input."""
    assert channel.indication is not None
    ends = _gauge_ends(study, channel)
    rest = STOPPED
    if not ends:
        return
    a, b = ends[0]
    if channel.way == "couple":
        yield _made(
            study,
            Setup(rest, joined=((a, b, 0.0),)),
            channel.show,
            f"join {a} and {b} at {channel.indicator} by a short wire, master on: it should show the temperature of its terminals",
            "at the panel",
            channel,
            a,
        )
        return
    yield _made(
        study,
        Setup(rest, lifted=(a,)),
        channel.show,
        f"lift the lead at {a}, master on: look at {channel.show}",
        "lift at the panel",
        channel,
        a,
    )
    ohms = _resistor(study, channel)
    if ohms is not None:
        yield _made(
            study,
            Setup(rest, lifted=(a,), joined=((a, b, ohms),)),
            channel.show,
            f"lift the lead at {a} and put {show(ohms, 'ohm', 'resistance')} from {a} to {b}, master on: look at {channel.show}",
            "lift at the panel",
            channel,
            a,
        )
        yield _made(
            study,
            Setup(rest, replaced=((channel.source, ohms),)),
            channel.show,
            f"put {show(ohms, 'ohm', 'resistance')} in the place of {channel.source} at its leads, master on: look at {channel.show}",
            _place(study, channel.source),
            channel,
            channel.source,
        )


def _resistor(study: Study, channel: Channel) -> float | None:
    """A resistor of the usual series nearest to what the sender gives at the usual point [ohm]."""
    sender = study.model.senders.get(channel.source)
    curve = channel.spec.curve or (sender.spec.curve if sender is not None else None)
    truth = stated_truth(study, channel, usual(study))
    if curve is None or output_kind(curve) != "resistance" or truth is None:
        return None
    try:
        ohms = output(curve, truth)
    except ValueError:
        return None
    return min(_E24, key=lambda r: abs(r - ohms))


_E24 = tuple(
    m * 10.0**k
    for k in range(5)
    for m in (
        1.0,
        1.1,
        1.2,
        1.3,
        1.5,
        1.6,
        1.8,
        2.0,
        2.2,
        2.4,
        2.7,
        3.0,
        3.3,
        3.6,
        3.9,
        4.3,
        4.7,
        5.1,
        5.6,
        6.2,
        6.8,
        7.5,
        8.2,
        9.1,
    )
)
"""ohm, resistors of the E24 series (IEC 60063)."""


def _swaps(study: Study, channel: Channel) -> Iterator[Test]:
    """With another channel of one kind: the leads at the panel, and the probes or senders themselves."""
    likes = [
        c
        for c in channels(study)
        if c is not channel
        and c.section == channel.section
        and c.way == channel.way
        and c.indicator == channel.indicator
        and c.spec.principle == channel.spec.principle
        and c.measure == channel.measure
        and len(c.sources) == 1
        and len(channel.sources) == 1
    ]
    named = usual(study).name
    for other in likes[:1]:
        if channel.way == "couple" and channel.show.position is None:
            yield _made(
                study,
                Setup(named, swapped=(str(channel.show), str(other.show))),
                channel.show,
                f"exchange the leads of {channel.show} and {other.show} at {channel.indicator}, then look at {channel.show} at '{named}'",
                "swap",
                channel,
                channel.indicator,
            )
        yield _made(
            study,
            Setup(named, swapped=(channel.source, other.source)),
            channel.show,
            f"exchange {channel.source} and {other.source}, then look at {channel.show} at '{named}'",
            "on the engine",
            channel,
            channel.source,
        )
    if channel.way in ("couple",):
        yield _made(
            study,
            Setup(STOPPED),
            Answers(channel.source, str(channel.show)),
            f"warm {channel.source} alone with a hot-air gun or in hot water, master on: does {channel.show} answer?",
            "on the engine",
            channel,
            channel.source,
        )
    yield _made(
        study,
        Setup(named, swapped=(channel.source, "")),
        channel.show,
        f"fit a {'probe' if channel.section == 'probes' else 'sender'} known to be sound for {channel.source}, then look at {channel.show} at '{named}'",
        "at a tap",
        channel,
        channel.source,
    )


def _line(study: Study, channel: Channel) -> Iterator[Test]:
    yield _made(
        study,
        Setup(STOPPED),
        Holding(channel.show.name),
        f"line off at its tap: put a little pressure or suction on it and see whether {channel.show} holds it",
        "at a tap",
        channel,
        channel.source,
    )
    yield _true_line(study, channel)
    yield _at_port(study, channel)
    yield _other_gauge(study, channel)


def _at_port(study: Study, channel: Channel) -> Test:
    point = usual(study).name
    return _made(
        study,
        Setup(point),
        TrueValue(channel.feels, at_port=True),
        f"tee a test gauge in beside {channel.feels}, where its line ends, and read it at '{point}'",
        "at a plug",
        channel,
        channel.feels,
    )


def _other_gauge(study: Study, channel: Channel) -> Test:
    point = usual(study).name
    return _made(
        study,
        Setup(point, swapped=(channel.indicator, "")),
        channel.show,
        f"put a gauge known to be sound in the place of {channel.indicator} and look at it at '{point}'",
        "swap",
        channel,
        channel.indicator,
    )


def _true_line(study: Study, channel: Channel) -> Test:
    point = usual(study).name
    return _made(
        study,
        Setup(point),
        TrueValue(channel.indicator),
        f"tee a test gauge in at the tap of {channel.show} and read it at '{point}'",
        "at a tap",
        channel,
        channel.source,
    )
