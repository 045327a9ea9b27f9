"""Tests by ohms and volts, at the gauge, along its feed and its leads, and at its sender."""

from __future__ import annotations

from collections.abc import Iterator

from ..analysis.circuit.solved import circuit
from ..analysis.sender_curves import output_kind
from ..analysis.study import Study
from ..model.power import SOURCES
from ..physics.network_parts import LARGEST_RESISTANCE
from .channels import Channel
from .following import LOST_OHM, feed_of, home_of, lead_points, supply_points
from .looks import STOPPED, Followed, Insulated, Ohms, Rung, Setup, Volts
from .meters import metered_ends
from .offered import FARTHER, Test, gauge_ends, made, place_of
from .states import stopped, usual
from .wires import live_points, structure


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
    points = supply_points(study, channel.indicator)
    if points[0]:
        far = max((place_of(study, n) for side in points for n in side), key=FARTHER.index)
        yield made(
            study, rest, Followed(channel.indicator),
            f"master on, engine stopped, black lead on {ground}: touch {', '.join(points[0])} in turn, which should all have the volts "
            f"of the bus, then {', '.join(points[1])}, which should have none; where is that lost first?",
            far, channel, *points[0], *points[1],
        )  # fmt: skip
    for node in (plus, *feed_of(study, plus)):
        yield made(
            study, rest, Volts(node, ground), f"master on, engine stopped: volts from {node} to {ground}", place_of(study, node),
            channel, node,
        )  # fmt: skip
    loads = tuple((i, True) for i, one in study.model.loads.items() if one.duty != "intermittent")
    for node in (minus, *home_of(study, minus, ground)):
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
        if one.spec.kind not in SOURCES or minus not in study.graph.nodes:
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


def ringing(study: Study, channel: Channel) -> Iterator[Test]:
    """Each leg end to end, the sender or probe off; and what is found at each joint towards the sender."""
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


def along_leads(study: Study, channel: Channel) -> Iterator[Test]:
    """The leads rung through from joint to joint, each from its gauge on."""
    ways = lead_points(study, channel)
    nodes = list(dict.fromkeys(n for way in ways for _, near, far in way for n in (near, far)))
    if not nodes:
        return
    turned = f", its selector at {channel.show.position}" if channel.show.position else ""
    told = "; ".join(", ".join(dict.fromkeys((way[0][1], *(far for _, _, far in way)))) for way in ways)
    yield made(
        study,
        Setup(STOPPED, replaced=((channel.source, LARGEST_RESISTANCE),)),
        Rung(str(channel.show)),
        f"power off{turned}, leads off at {channel.indicator} and at {channel.source}: ring each lead through from point to point ({told}); "
        f"to which does it not ring, or reads more than {LOST_OHM:g} ohm and a tenth above its wire?",
        max((place_of(study, n) for n in nodes), key=FARTHER.index),
        channel,
        *nodes,
    )


def insulation(study: Study, channel: Channel) -> Iterator[Test]:
    """Each wire by itself to ground, to the bus and to those beside it, where one may be chafed through."""
    ground = structure(study)
    buses = "".join(f" and to {live}" for live in live_points(study))
    if ground is not None and channel.edges:
        yield made(
            study,
            Setup(STOPPED),
            Insulated(str(channel.show)),
            f"power off, battery off its terminals: lift each wire of {channel.show}, of its supply and of what hangs on the same bus, breaker "
            f"or ground at both ends, one at a time, and measure ohms from it to {ground}{buses} and to the wires beside it: which does not "
            "read open, and to which wire?",
            "in the engine bay",
            channel,
            *(n for e in channel.edges for n in (e.a, e.b)),
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
