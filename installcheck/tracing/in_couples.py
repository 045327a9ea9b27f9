"""Hypotheses of thermocouple probes and their leads."""

from __future__ import annotations

from collections.abc import Iterator
from typing import get_args

from ..analysis.study import Study
from ..analysis.thermocouple.circuits import Loop
from ..graph import Edge
from ..model.fields import ThermocoupleType
from ..physics.thermocouples import LEGS
from .changes import Couple, Crossed, Cut, Feels, FeelsOther, Joins, Metal, World
from .channels import Channel
from .hypotheses import Hypothesis, of_one, of_sizes, of_sorts
from .predict import Predictor

_SEATED = (0.97, 0.93, 0.88, 0.8, 0.7, 0.55, 0.4, 0.2)
"""Shares of the way from the air around it to the true temperature that a badly seated probe reaches."""

_HEATED = (1.05, 1.1, 1.18, 1.3, 1.5, 2.0)
"""The same of a probe that is hotter than what it sits in."""


def of_probe(study: Study, predictor: Predictor, channel: Channel, source: str) -> Iterator[Hypothesis]:
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
    others: list[ThermocoupleType] = [k for k in get_args(ThermocoupleType) if k != probe.spec.thermocouple]
    yield of_sorts(
        "probe wrong type",
        (source,),
        f"another probe than drawn is fitted for {source}",
        [(f"one of type {kind}", (Couple(source, kind),)) for kind in others],
        path,
        where,
    )
    if channel.loop is not None:
        loop = channel.loop
        yield of_sorts(
            "probe wrong type",
            (source, "lead"),
            f"{source} and its whole lead are of another type than its gauge",
            [(f"type {kind}", _all_of_kind(loop, kind)) for kind in others],
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
    if channel.measure not in ("outside air temperature", "exhaust temperature", "turbine inlet temperature"):
        yield of_sizes(
            "probe heated",
            (source,),
            f"{source} or its sheath is heated from beside, by the exhaust or a leak of it",
            _HEATED,
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


def of_lead(study: Study, channel: Channel) -> Iterator[Hypothesis]:
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
        sorts = (
            []
            if all(_plain_copper(e) for e in edges)
            else [("copper", tuple(Metal(e, "copper") for e in edges))]
        )
        for kind in get_args(ThermocoupleType):
            metals = [LEGS[kind]["+-".index(e.name)] if e.name in ("+", "-") else None for e in edges]
            if kind != loop.kind and all(metals):
                sorts.append(
                    (
                        f"lead of type {kind}",
                        tuple(Metal(e, m) for e, m in zip(edges, metals, strict=True) if m),
                    )
                )
        if sorts:
            yield of_sorts(
                "lead of wrong metal",
                (run,),
                f"{run} is of other metals than drawn, or was lengthened with them",
                sorts,
                edges[0].path,
                where,
            )
    first = [p.hot for p in loop.positive if p.hot]
    second = [p.hot for p in loop.negative if p.hot]
    for a, b in (*zip(first[1:], second[1:], strict=False), loop.terminals):
        yield of_one(
            "lead legs touching",
            (a, b),
            f"the two legs touch each other at {a} and {b}",
            (Joins(a, b),),
            channel.path,
            study.graph.zone_of(a) or "",
        )


def _plain_copper(edge: Edge) -> bool:
    return edge.metal in (None, "copper") and (edge.run is None or not edge.run.spec.thermocouple)
