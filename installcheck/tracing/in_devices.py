"""Hypotheses of senders, probes and gauges, and of the engine itself: the reading may be true."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import get_args

from ..analysis.errors.reading import element_of
from ..analysis.sender_curves import kind_of, output, output_kind
from ..analysis.study import Study
from ..analysis.thermocouple.circuits import Loop
from ..graph import Edge
from ..model.devices import Curve
from ..model.fields import Measure, ThermocoupleType
from ..physics.thermocouples import LEGS
from .changes import (
    Couple,
    Crossed,
    Cut,
    Drifts,
    Feels,
    FeelsOther,
    Joins,
    Metal,
    OtherCurve,
    Sends,
    Shows,
    Truly,
    World,
)
from .channels import Channel
from .hypotheses import Hypothesis, of_one, of_sizes
from .other_parts import wrong_curves
from .predict import Predictor

_SHARES = (0.03, 0.06, 0.1, 0.17, 0.28, 0.45, 0.7)
"""Shares of the dial a thing may be off by, either way, before the one that explains is sought between them."""
_STUCK = (0.0, 0.1, 0.25, 0.4, 0.5, 0.6, 0.75, 0.9, 1.0)
_SEATED = (0.97, 0.93, 0.88, 0.8, 0.7, 0.55, 0.4, 0.2)
"""Shares of the way from the air around it to the true temperature that a badly seated probe reaches."""


def in_devices(predictor: Predictor, bad: Sequence[Channel]) -> Iterator[Hypothesis]:
    """Every fault of the sender, the probe or the gauge of the indications that misbehave."""
    study = predictor.study
    done: set[str] = set()
    for channel in bad:
        for source in channel.sources:
            if source and source not in done:
                done.add(source)
                yield from _engine(predictor, channel, source)
                if channel.section == "senders":
                    yield from _sender(study, channel, source)
                elif channel.section == "probes":
                    yield from _probe(study, predictor, channel, source)
        yield from _gauge(channel)
        if channel.loop is not None:
            yield from _lead(study, channel)


def dial_of(channel: Channel) -> tuple[float, float] | None:
    """Both ends of its dial in SI."""
    dial = channel.spec.scale
    return (float(dial.lowest), float(dial.highest)) if dial is not None else None


def told_in(channel: Channel) -> tuple[str, str]:
    """Kind and unit of a difference on its dial."""
    dial = channel.spec.scale
    if dial is None:
        return "", ""
    kind = dial.highest.kind
    return ("temperature difference" if kind == "temperature" else kind), dial.highest.unit


def _offsets(channel: Channel) -> list[float]:
    dial = dial_of(channel)
    if dial is None:
        return []
    span = dial[1] - dial[0]
    return [-s * span for s in reversed(_SHARES)] + [s * span for s in _SHARES]


_OF_THE_ENGINE: frozenset[Measure] = frozenset(
    (
        "oil pressure",
        "oil temperature",
        "fuel pressure",
        "manifold pressure",
        "engine speed",
        "coolant temperature",
    )
)
"""Measures of which an engine has one: all its indications of it move when it is true."""


def _engine(predictor: Predictor, channel: Channel, source: str) -> Iterator[Hypothesis]:
    mine = _engine_of(predictor.study, channel)
    alike = [
        c.feels
        for c in predictor.channels
        if c.measure in _OF_THE_ENGINE
        and c.measure == channel.measure
        and _engine_of(predictor.study, c) == mine
    ]
    felt = tuple(dict.fromkeys((channel.feels, *alike)))

    def make(offset: float) -> World:
        return tuple(Truly(one, offset) for one in felt)

    offsets = _offsets(channel)
    if offsets:
        what = channel.measure or f"what {channel.show} shows"
        yield of_sizes(
            "true reading",
            (source,),
            f"{channel.show} is right: {what} differs from what was taken for true",
            offsets,
            make,
            told_in(channel),
            channel.path,
        )


def _engine_of(study: Study, channel: Channel) -> str | None:
    """The engine an indication is of, where the document says."""
    found = study.model.find(channel.source) or study.model.find(channel.indicator)
    return getattr(found[1], "engine", None) if found is not None else None


def _sender(study: Study, channel: Channel, source: str) -> Iterator[Hypothesis]:
    path = ("senders", source)
    sender = study.model.senders[source]
    where = sender.zone or ""
    element = element_of(study, source)
    if channel.way != "network":
        own = study.graph.by_thing.get(("senders", source), ())
        for edge in own:
            if edge.kind in ("element", "winding", "coil"):
                yield of_one("sender open", (source,), f"{source} is open inside", (Cut(edge),), path, where)
                break
        return
    curve = sender.spec.curve or channel.spec.curve
    if element is None or curve is None:
        return
    yield of_one("sender open", (source,), f"{source} is open inside", (Cut(element),), path, where)
    if output_kind(curve) == "resistance":
        yield of_one(
            "sender shorted", (source,), f"{source} is shorted inside", (Sends(source, 0.0),), path, where
        )
    else:
        yield of_one(
            "sender shorted", (source,), f"{source} gives nothing", (Sends(source, 0.0),), path, where
        )
    dial = dial_of(channel)
    if dial is not None and dial[1] > dial[0] and channel.spec.scale is not None:
        stuck = [dial[0] + s * (dial[1] - dial[0]) for s in _STUCK]
        outs = [(v, _out(curve, v)) for v in stuck]

        def held(value: float) -> World:
            return (Sends(source, _out(curve, value) or 0.0),)

        sizes = [v for v, o in outs if o is not None]
        if sizes and channel.spec.scale.lowest.kind == kind_of(curve):
            yield of_sizes(
                "sender stuck",
                (source,),
                f"{source} is stuck",
                sizes,
                held,
                (kind_of(curve), channel.spec.scale.highest.unit),
                path,
                where,
            )

        def drifted(offset: float) -> World:
            return (Drifts(source, offset),)

        yield of_sizes(
            "sender drifted",
            (source,),
            f"{source} has drifted from its curve",
            _offsets(channel),
            drifted,
            told_in(channel),
            path,
            where,
        )
    for part in wrong_curves(sender.spec):
        yield of_one(
            "wrong sender",
            (source, part),
            f"another sender than drawn is fitted for {source}: one like '{part}'",
            (OtherCurve(source, part),),
            path,
            where,
        )


def _out(curve: Curve, value: float) -> float | None:
    try:
        return output(curve, value)
    except ValueError:
        return None


def _probe(study: Study, predictor: Predictor, channel: Channel, source: str) -> Iterator[Hypothesis]:
    path = ("probes", source)
    probe = study.model.probes[source]
    where = probe.zone or ""
    couple = next((e for e in study.graph.by_thing.get(("probes", source), ()) if e.kind == "couple"), None)
    if couple is None:
        return
    yield of_one("probe open", (source,), f"{source} is open inside", (Cut(couple),), path, where)
    yield of_one(
        "probe legs touching",
        (source,),
        f"the leads of {source} touch each other at its terminals or under its sleeve",
        (Joins(couple.a, couple.b),),
        path,
        where,
    )
    kinds: tuple[ThermocoupleType, ...] = get_args(ThermocoupleType)
    for kind in kinds:
        if kind != probe.spec.thermocouple:
            yield of_one(
                "probe wrong type",
                (source, kind),
                f"{source} is a type {kind} probe",
                (Couple(source, kind),),
                path,
                where,
            )
            if channel.loop is not None:
                yield of_one(
                    "probe wrong type",
                    (source, kind, "lead"),
                    f"{source} and its whole lead are of type {kind}, its gauge is not",
                    _all_of_kind(channel.loop, kind),
                    path,
                    where,
                )
    if channel.measure != "outside air temperature":
        yield of_sizes(
            "probe badly seated",
            (source,),
            f"{source} is loose in its seat, or cooling air washes it",
            _SEATED,
            lambda share: (Feels(source, share),),
            ("ratio", "%"),
            path,
            where,
        )
    for other in predictor.channels:
        if other.measure == channel.measure and other.source != source and other.section == "probes":
            yield of_one(
                "probe in another place",
                (source, other.source),
                f"{source} and {other.source} are in each other's place, or their leads are exchanged",
                (FeelsOther(source, other.source), FeelsOther(other.source, source)),
                path,
                where,
            )


def _all_of_kind(loop: Loop, kind: ThermocoupleType) -> World:
    """Probe and every lead of a circuit of another couple, each leg where the one of its sign was."""
    legs = zip((loop.positive, loop.negative), LEGS[kind], strict=True)
    leads = [
        Metal(p.edge, metal) for side, metal in legs for p in side if p.sort == "lead" and p.edge is not None
    ]
    return (Couple(loop.probe_id, kind), *leads)


def _gauge(channel: Channel) -> Iterator[Hypothesis]:
    name, at = channel.show.name, (channel.show.name,)
    where = ""
    yield of_one(
        "gauge dead", at, f"{name} is open or dead inside", (Shows(name, state="dead"),), channel.path
    )
    dial = dial_of(channel)
    if dial is None or channel.spec.scale is None:
        return
    values = [dial[0] + s * (dial[1] - dial[0]) for s in _STUCK]
    yield of_sizes(
        "gauge stuck",
        at,
        f"the pointer of {name} sticks",
        values,
        lambda value: (Shows(name, value=value),),
        (channel.spec.scale.highest.kind, channel.spec.scale.highest.unit),
        channel.path,
        where,
    )
    yield of_sizes(
        "gauge drifted",
        at,
        f"{name} itself is off",
        _offsets(channel),
        lambda offset: (Shows(name, offset=offset),),
        told_in(channel),
        channel.path,
        where,
    )
    if channel.way == "line" or channel.spec.principle == "capillary":
        return  # no wire leads to it
    yield of_one(
        "noise picked up",
        at,
        f"{name} picks up noise from wires beside its leads",
        (Shows(name, state="erratic"),),
        channel.path,
    )


def _lead(study: Study, channel: Channel) -> Iterator[Hypothesis]:
    """The lead of a thermocouple: crossed, touching on the way, of copper."""
    loop = channel.loop
    assert loop is not None
    leads = [p for p in loop.pieces if p.sort == "lead" and p.edge is not None]
    by_run: dict[str, list[Edge]] = {}
    for p in leads:
        if p.edge is not None:
            by_run.setdefault(p.ident, []).append(p.edge)
    for run, edges in by_run.items():
        where = study.graph.zone_of(edges[0].a) or ""
        if len(edges) == 2:
            yield of_one(
                "leads exchanged",
                (run,),
                f"the two legs of {run} are crossed at its end towards {loop.probe_id}",
                (Crossed(tuple(edges)),),
                edges[0].path,
                where,
            )
            if any(
                e.metal not in (None, "copper") or e.run is None or e.run.spec.thermocouple for e in edges
            ):
                yield of_one(
                    "lead of wrong metal",
                    (run,),
                    f"{run} is copper, or was lengthened with it",
                    tuple(Metal(e, "copper") for e in edges),
                    edges[0].path,
                    where,
                )
            other = {"K": "J", "J": "K", "E": "K", "T": "K", "N": "K"}[loop.kind]
            metals = [LEGS[other]["+-".index(e.name)] if e.name in ("+", "-") else None for e in edges]
            if all(metals):
                yield of_one(
                    "lead of wrong metal",
                    (run, other),
                    f"{run} is lead of type {other}",
                    tuple(Metal(e, m) for e, m in zip(edges, metals, strict=True) if m),
                    edges[0].path,
                    where,
                )
    first = [p.hot for p in loop.positive if p.hot]
    second = [p.hot for p in loop.negative if p.hot]
    for a, b in zip(first[1:], second[1:], strict=False):
        yield of_one(
            "lead legs touching",
            (a, b),
            f"the two legs touch each other at {a} and {b}",
            (Joins(a, b),),
            channel.path,
            study.graph.zone_of(a) or "",
        )
    a, b = loop.terminals
    yield of_one(
        "lead legs touching",
        (a, b),
        f"the two legs touch each other at {a} and {b}",
        (Joins(a, b),),
        channel.path,
        study.graph.zone_of(a) or "",
    )
