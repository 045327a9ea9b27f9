"""Faults for trials of tracing: every kind the documents can be edited to have, or that a simulated aircraft can have beside.

Where a kind has very many places (exchanged leads, shifted contacts, a plug that is off), the places are those the tracer thinks of;
what each does is written into the document here, wire by wire, and worked out afresh from that document.
"""

from __future__ import annotations

import random
from collections.abc import Iterator

from faulted_aircraft import Fault, change, cut, resist, touch
from installations import Plain

from installcheck.analysis.sender_curves import output, output_kind
from installcheck.analysis.study import Study
from installcheck.graph import Edge
from installcheck.physics.thermocouples import LEGS
from installcheck.tracing.changes import (
    Cut,
    Feels,
    FeelsOther,
    Joins,
    Jumps,
    Metal,
    OtherCurve,
    OtherScale,
    Reached,
)
from installcheck.tracing.channels import Channel
from installcheck.tracing.hypotheses import Hypothesis
from installcheck.tracing.in_devices import in_devices
from installcheck.tracing.in_lines import feeds_of, in_lines
from installcheck.tracing.in_plugs import in_plugs
from installcheck.tracing.in_wiring import in_wiring
from installcheck.tracing.looks import Setup
from installcheck.tracing.other_parts import curve_called
from installcheck.tracing.predict import Predictor


def faults_of(plain: Plain, channel: Channel, study: Study, chance: random.Random) -> Iterator[Fault]:
    """Faults of one indication."""
    name, source = channel.show.name, channel.source
    dial = channel.spec.scale
    span = float(dial.highest) - float(dial.lowest) if dial is not None else 100.0
    much = chance.choice((-1, 1)) * chance.uniform(0.12, 0.4) * span
    yield Fault("gauge dead", (name,))
    yield Fault("gauge drifted", (name,), offset=much)
    if dial is not None:
        yield Fault("gauge stuck", (name,), offset=float(dial.lowest) + chance.uniform(0.05, 0.95) * span)
    yield Fault("true reading", (source,), of=channel.feels, offset=much)
    if channel.way == "network":
        yield from _of_sender(channel, study, chance, much)
    if channel.section == "probes" and len(channel.sources) == 1:
        yield Fault("probe open", (source,), of=source)
        yield Fault("probe legs touching", (source,), of=source)
        yield Fault("probe badly seated", (source,), of=source, share=chance.uniform(0.3, 0.8))
        if channel.measure == "head temperature":
            yield Fault("probe heated", (source,), of=source, share=chance.uniform(1.1, 1.6))
        other = chance.choice([k for k in "JKET" if k != study.model.probes[source].spec.thermocouple])
        ohms = study.model.probes[source].spec.resistance
        kept = {} if ohms is None else {"resistance": f"{float(ohms):.6g} ohm"}
        yield Fault(
            "probe wrong type", (source,), change("probes", source, thermocouple=other, **kept), of=source
        )
    if channel.way == "line":
        lines = _lines(study, channel)
        yield Fault("line leaking", lines, of=channel.feels, share=chance.uniform(0.2, 0.8))
        yield Fault("hose off", lines, of=channel.feels, share=0.0)
        yield Fault("line blocked", lines, of=channel.feels)
    yield from _of_wires(plain, channel, study, chance)
    yield from _of_supplies(plain, study, chance)
    yield from _of_places(channel, study, chance)


def _lines(study: Study, channel: Channel) -> tuple[str, ...]:
    feeds = feeds_of(study, channel)
    return tuple(
        dict.fromkeys(h.edge.ident for f in feeds[:1] for h in f.hops if h.edge.kind == "fluid line")
    )


def _of_sender(channel: Channel, study: Study, chance: random.Random, much: float) -> Iterator[Fault]:
    source = channel.source
    curve = study.model.senders[source].spec.curve or channel.spec.curve
    yield Fault("sender drifted", (source,), of=source, offset=much)
    if curve is None or output_kind(curve) != "resistance":
        return
    yield Fault("sender open", (source,), of=source, element=1e9)
    yield Fault("sender shorted", (source,), of=source, element=0.001)
    dial = channel.spec.scale
    if dial is not None:
        value = float(dial.lowest) + chance.uniform(0.1, 0.9) * (float(dial.highest) - float(dial.lowest))
        try:
            yield Fault("sender stuck", (source,), of=source, element=output(curve, value))
        except ValueError:
            return


def _leg(edge: Edge) -> str:
    return edge.name if edge.run is not None and edge.run.conductors else ""


def _of_wires(plain: Plain, channel: Channel, study: Study, chance: random.Random) -> Iterator[Fault]:
    ground = next((i for i, g in study.model.grounds.items() if g.kind == "structure"), None)
    for edge in channel.edges:
        if edge.kind == "conductor" and edge.ident in plain["wire_runs"]:
            yield Fault("open", (edge.label,), cut(edge.ident, _leg(edge)), of=channel.source)
            if channel.way in ("network", "meter"):
                ohms = 10 ** chance.uniform(0.7, 3)
                yield Fault(
                    "bad joint", (edge.label,), resist(edge.ident, ohms, _leg(edge)), of=channel.source
                )
                far = study.graph.is_ground(edge.a) or study.graph.is_ground(edge.b)
                if ground is not None and not far:
                    yield Fault("short to ground", (edge.label,), touch(edge.a, ground), of=channel.source)
        elif edge.kind == "bond" and edge.section == "grounds":
            ohms = 10 ** chance.uniform(0.5, 2)
            yield Fault(
                "bad ground", (edge.ident,), change("grounds", edge.ident, resistance=f"{ohms:.4g} ohm")
            )
            yield Fault("lost ground", (edge.ident,), change("grounds", edge.ident, resistance="500 Mohm"))
    spec = study.model.indicators[channel.indicator].spec
    for terminal in spec.supply_terminals or ():
        for edge in study.graph.at(f"{channel.indicator}.{terminal}"):
            if edge.kind == "conductor" and edge.ident in plain["wire_runs"]:
                yield Fault("open", (edge.label,), cut(edge.ident, _leg(edge)))
                ohms = 10 ** chance.uniform(0.7, 2)
                yield Fault("bad joint", (edge.label,), resist(edge.ident, ohms, _leg(edge)))
                for end in (edge.a, edge.b):
                    ident = end.partition(".")[0]
                    if ident in study.model.supplies and study.model.supplies[ident].spec.kind == "breaker":
                        yield Fault(
                            "breaker open", (ident,), change("supplies", ident, inner_resistance="500 Mohm")
                        )


def _of_supplies(plain: Plain, study: Study, chance: random.Random) -> Iterator[Fault]:
    for ident, supply in study.model.supplies.items():
        if supply.spec.kind in ("battery", "alternator", "generator") and supply.spec.voltage is not None:
            yield Fault("dead supply", (ident,))
            volts = chance.choice((0.7, 0.8, 1.12)) * float(supply.spec.voltage)
            yield Fault("low supply", (ident,), change("supplies", ident, voltage=f"{volts:.4g} V"))


PLACED = frozenset(
    (
        "short to neighbour",
        "short to supply",
        "plug off",
        "harness damaged",
        "leads exchanged",
        "cavities shifted",
        "lead of wrong metal",
        "lead legs touching",
        "wrong sender",
        "probe in another place",
        "line holds liquid",
        "restrictor missing",
        "hoses exchanged",
        "noise picked up",
        "loose joint",
        "wrong gauge",
    )
)
"""Kinds whose places are those the tracer thinks of."""


def _of_places(channel: Channel, study: Study, chance: random.Random) -> Iterator[Fault]:
    predictor = Predictor(study)
    some = (channel,)
    thought = [
        *in_devices(predictor, some),
        *in_lines(predictor, some),
        *in_wiring(predictor, some, [Setup()]),
        *in_plugs(study, some),
    ]
    for one in thought:
        if one.kind in PLACED:
            fault = placed(one, channel, chance)
            if fault is not None:
                yield fault


def placed(one: Hypothesis, channel: Channel, chance: random.Random) -> Fault | None:
    """A hypothesis as a fault of the document; ``None`` where its wires are not written there."""
    world = chance.choice(one.members).world
    of = channel.feels
    jumping = tuple(c.indication for c in world if isinstance(c, Jumps))
    if jumping:
        return Fault(one.kind, one.at, of=of, erratic=jumping)
    if any(isinstance(c, FeelsOther) for c in world):
        return Fault(
            one.kind, one.at, of=of, other={c.source: c.other for c in world if isinstance(c, FeelsOther)}
        )
    if any(isinstance(c, Feels) for c in world):
        [felt] = [c for c in world if isinstance(c, Feels)]
        return Fault(one.kind, one.at, of=of, offset=felt.offset)
    edits = []
    for change_ in world:
        if isinstance(change_, Cut):
            edge = change_.edge
            if edge.kind == "conductor":
                edits.append(cut(edge.ident, _leg(edge)))
            else:
                edits.append(_unmated(edge.ident))
        elif isinstance(change_, Joins):
            edits.append(touch(change_.a, change_.b, change_.ohms))
        elif isinstance(change_, Metal):
            edits.append(_of_metal(change_.edge, change_.metal))
        elif isinstance(change_, Reached):
            edits += [_ends_at(e, node, there) for e, node, there in change_.moves]
        elif isinstance(change_, OtherCurve):
            edits.append(change("senders", change_.sender, curve=_written(change_.part)))
        elif isinstance(change_, OtherScale):
            edits.append(_made_for(channel, change_.like))
        else:
            return None

    def edit(doc: Plain) -> None:
        for each in edits:
            each(doc)

    touching = [tuple(w.label for w in c.wires if w is not None) for c in world if isinstance(c, Joins)]
    wires = next((w for w in touching if len(w) == 2), ())
    return Fault(one.kind, one.at, edit, of=of, wires=wires)


def _written(part: str) -> Plain:
    """The curve of a part as a document writes it."""
    written: Plain = curve_called(part).model_dump(mode="json", exclude_none=True)
    return written


def _made_for(channel: Channel, like: str):
    """An input made for another sender or couple."""

    def edit(plain: Plain) -> None:
        holder = plain["indicators"][channel.indicator]
        if channel.input:
            holder = holder["inputs"][channel.input]
        holder.update({"thermocouple": like} if channel.way == "couple" else {"curve": _written(like)})

    return edit


def _holder(plain: Plain, edge: Edge) -> dict:
    held = plain["wire_runs"][edge.ident]
    return held["conductors"][_leg(edge)] if _leg(edge) else held


def _unmated(ident: str):
    """A plug pulled out of its mate."""

    def edit(plain: Plain) -> None:
        own = plain["junctions"][ident].pop("mates", None)
        for other, junction in plain["junctions"].items():
            if other == own or junction.get("mates") == ident:
                junction.pop("mates", None)

    return edit


def _ends_at(edge: Edge, node: str, there: str):
    """A wire laid to another terminal."""

    def edit(plain: Plain) -> None:
        holder = _holder(plain, edge)
        for end in ("from", "to"):
            if str(holder.get(end)) == node:
                holder[end] = there
                return
        raise LookupError(f"{edge.label} does not end at {node}")

    return edit


def _of_metal(edge: Edge, metal: str):
    """A leg of another metal."""

    def edit(plain: Plain) -> None:
        holder = _holder(plain, edge)
        holder["metal"] = metal.rpartition(" ")[2]
        kind = next((k for k, legs in LEGS.items() if metal in legs and metal != "copper"), None)
        if kind is not None:
            plain["wire_runs"][edge.ident]["thermocouple"] = kind

    return edit
