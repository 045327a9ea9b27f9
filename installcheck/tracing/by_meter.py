"""Tests by ohms and volts, at the gauge, along its feed and its leads, and at its sender."""

from __future__ import annotations

from collections.abc import Iterator

from ..analysis.circuit.solved import circuit
from ..analysis.sender_curves import output_kind
from ..analysis.study import Study
from ..graph import Edge
from ..graph.walk import Walk
from ..physics.network_parts import LARGEST_RESISTANCE
from .channels import Channel
from .looks import STOPPED, Ohms, Setup, Volts
from .meters import metered_ends
from .offered import FARTHER, Test, gauge_ends, made, place_of
from .states import stopped, usual
from .wires import structure


def resting(study: Study, channel: Channel) -> Iterator[Test]:
    """The leads at the gauge, lifted, by an ohmmeter: through the sender, and each to ground."""
    ends = gauge_ends(study, channel)
    rest = Setup(STOPPED)
    ground = structure(study)
    for a, b in ends:
        yield made(
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
            yield made(
                study,
                rest,
                Ohms(node, ground),
                f"power off, lift the lead at {node}; measure ohms from the lead to {ground}",
                "lift at the panel",
                channel,
                node,
            )


def supply(study: Study, channel: Channel) -> Iterator[Test]:
    """Volts at the gauge and along its feed, and what its ground stands at with everything on."""
    spec = study.model.indicators[channel.indicator].spec
    if not spec.supply_terminals:
        return
    plus, minus = (f"{channel.indicator}.{t}" for t in spec.supply_terminals)
    net = circuit(study, stopped(study))
    ground = structure(study)
    rest = Setup(STOPPED)
    if plus not in net.nodes or minus not in net.nodes:
        return
    yield made(
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
        yield made(
            study, rest, Volts(node, ground), f"master on, engine stopped: volts from {node} to {ground}", place_of(study, node),
            channel, node,
        )  # fmt: skip
    loads = tuple((i, True) for i, one in study.model.loads.items() if one.duty != "intermittent")
    for node in (minus, *_home(study, minus, ground)):
        if node != ground:
            yield made(
                study,
                Setup(STOPPED, loads),
                Volts(node, ground),
                f"master on, engine stopped, every load on: volts from {node} to {ground}",
                place_of(study, node),
                channel,
                node,
            )
            yield made(
                study,
                rest,
                Ohms(node, ground),
                f"power off: ohms from {node} to {ground}",
                place_of(study, node),
                channel,
                node,
            )


def at_supplies(study: Study, channel: Channel) -> Iterator[Test]:
    """Volts of each bus with the engine running, at the terminals of each battery, and of each alternator as it turns."""
    ground, running = structure(study), usual(study).name
    for ident, one in study.model.supplies.items():
        if one.spec.kind == "bus" and ground is not None and ident in circuit(study, usual(study)).nodes:
            yield made(
                study, Setup(running), Volts(ident, ground), f"at '{running}': volts from {ident} to {ground}", "at the panel",
                channel, ident,
            )  # fmt: skip
    for ident, one in study.model.supplies.items():
        plus, minus = f"{ident}.+", f"{ident}.-"
        if one.spec.kind not in ("battery", "alternator", "generator") or minus not in study.graph.nodes:
            continue
        rests = one.spec.kind == "battery"
        at = Setup(STOPPED if rests else usual(study).name)
        state = "master on, engine stopped" if rests else f"at '{usual(study).name}'"
        yield made(
            study,
            at,
            Volts(plus, minus),
            f"{state}: volts at {ident}, from {plus} to {minus}",
            place_of(study, plus),
            channel,
            plus,
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


def ringing(study: Study, channel: Channel) -> Iterator[Test]:
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
            yield made(
                study,
                off,
                Ohms(start, end),
                f"power off, leads off at {channel.indicator} and at {channel.source}: ohms from {start} to {end}",
                place_of(study, end),
                channel,
                start,
                end,
            )
        joints = [n for n in nodes[1:-1] if n.partition(".")[0] in study.model.junctions]
        at_joints.append(joints)
        for joint in joints:
            for other in (start, end):
                if other != joint:
                    yield made(
                        study,
                        off,
                        Ohms(other, joint),
                        f"power off, leads off at {channel.indicator} and at {channel.source}: ohms from {other} to {joint}",
                        max((place_of(study, n) for n in (joint, other)), key=FARTHER.index),
                        channel,
                        joint,
                        other,
                    )
    if len(at_joints) == 2:
        for a, b in zip(reversed(at_joints[0]), reversed(at_joints[1]), strict=False):
            if a.partition(".")[0] == b.partition(".")[0] and a != b:
                yield made(
                    study,
                    Setup(STOPPED),
                    Ohms(a, b),
                    f"power off, leads off at {channel.indicator}: ohms between {a} and {b}, towards {channel.source}",
                    "at a plug" if place_of(study, a) == "at the panel" else place_of(study, a),
                    channel,
                    a,
                )


def at_source(study: Study, channel: Channel) -> Iterator[Test]:
    """The sender or probe alone, and how its body reaches ground."""
    section = channel.section
    inner = [
        e
        for e in study.graph.by_thing.get((section, channel.source), ())
        if e.kind in ("element", "couple", "winding")
    ]
    for edge in inner:
        curve = study.model.senders[channel.source].spec.curve if section == "senders" else None
        if curve is not None and output_kind(curve) != "resistance":
            continue
        yield made(
            study,
            Setup(STOPPED, lifted=(channel.source,)),
            Ohms(edge.a, edge.b),
            f"power off, {channel.source} disconnected: ohms between its own terminals {edge.a} and {edge.b}",
            place_of(study, edge.a),
            channel,
            edge.a,
        )
    ground = structure(study)
    case = f"{channel.source}.case"
    if ground is not None and case in study.graph.nodes and section == "senders":
        loads = tuple((i, True) for i, one in study.model.loads.items() if one.duty != "intermittent")
        yield made(
            study,
            Setup(STOPPED),
            Ohms(case, ground),
            f"power off: ohms from the body of {channel.source} to {ground}",
            place_of(study, case),
            channel,
            case,
        )
        yield made(
            study,
            Setup(STOPPED, loads),
            Volts(case, ground),
            f"master on, engine stopped, every load on: volts from the body of {channel.source} to {ground}",
            place_of(study, case),
            channel,
            case,
        )


def of_meter(study: Study, channel: Channel) -> Iterator[Test]:
    """A voltmeter or an ammeter: volts at its terminals, and each of its leads end to end."""
    assert channel.meter is not None
    plus, minus = metered_ends(channel)
    for at, words in (
        (Setup(STOPPED), "master on, engine stopped"),
        (Setup(usual(study).name), f"at '{usual(study).name}'"),
    ):
        yield made(
            study,
            at,
            Volts(plus, minus),
            f"{words}: volts from {plus} to {minus}",
            "at the panel",
            channel,
            plus,
        )
    for way in (channel.meter.plus, channel.meter.minus):
        steps = way or ()
        for a, b in ((steps[0].near, s.far) for s in steps if s.far != steps[0].near):
            yield made(
                study,
                Setup(STOPPED),
                Ohms(a, b),
                f"power off, lift the lead at {a}: ohms from it to {b}",
                max((place_of(study, n) for n in (a, b)), key=FARTHER.index),
                channel,
                a,
                b,
            )
