"""Hypotheses of senders: open, shorted, stuck, drifted, another than drawn."""

from __future__ import annotations

from collections.abc import Iterator

from ..analysis.errors.reading import element_of
from ..analysis.sender_curves import kind_of, output_carried, output_kind
from ..analysis.study import Study
from .changes import Cut, Drifts, OtherCurve, Sends, World
from .channels import Channel
from .dials import STUCK, dial_of, offsets_of, told_in, value_in
from .hypotheses import Hypothesis, of_one, of_sizes, of_sorts
from .other_parts import wrong_curves


def of_sender(study: Study, channel: Channel, source: str) -> Iterator[Hypothesis]:
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
    if dial is not None and dial[1] > dial[0]:
        stuck = [dial[0] + s * (dial[1] - dial[0]) for s in STUCK]

        def held(value: float) -> World:
            return (Sends(source, output_carried(curve, value)),)

        if value_in(channel)[0] == kind_of(curve):
            yield of_sizes(
                "sender stuck", (source,), f"{source} is stuck", stuck, held, value_in(channel), path, where
            )

        def drifted(offset: float) -> World:
            return (Drifts(source, offset),)

        yield of_sizes(
            "sender drifted",
            (source,),
            f"{source} has drifted from its curve",
            offsets_of(channel),
            drifted,
            told_in(channel),
            path,
            where,
        )
    parts = wrong_curves(sender.spec)
    if parts:
        yield of_sorts(
            "wrong sender",
            (source,),
            f"another sender than drawn is fitted for {source}",
            [(f"one like '{part}'", (OtherCurve(source, part),)) for part in parts],
            path,
            where,
        )
