"""What a wire is called, whether it bears on a reading, and what touching something else does to it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ..analysis.circuit.solved import circuit
from ..analysis.study import Study
from ..graph import Edge
from .changes import Joins
from .channels import Channel
from .expected import Expect
from .hypotheses import Hypothesis, of_one
from .states import usual

_MOVED = 0.002
"""Share of the dial a reading must move for an open circuit to bear on it."""


def differs(channel: Channel, one: Expect, other: Expect) -> bool:
    if one.value is None or other.value is None:
        return one.word != other.word
    dial = channel.spec.scale
    span = float(dial.highest) - float(dial.lowest) if dial is not None else abs(one.value) or 1.0
    return abs(one.value - other.value) > _MOVED * span


def ends_of(edge: Edge) -> str:
    """``oil bulb.A to oil temperature gauge.A``."""
    return f"{edge.a} to {edge.b}"


def shorts(study: Study, edge: Edge, bad: Sequence[Channel], name: str, where: str) -> Iterator[Hypothesis]:
    ground = structure(study)
    if ground is None or study.graph.is_ground(edge.a) or study.graph.is_ground(edge.b):
        return
    signal = any(edge in c.edges for c in bad)
    yield of_one(
        "short to ground",
        (edge.label,),
        f"{name} touches ground: chafed through, or pinched",
        (Joins(edge.a, ground, wires=(edge, None)),),
        edge.path,
        where,
    )
    bus = _bus(study)
    if signal and bus is not None and direct(study, edge):
        yield of_one(
            "short to supply",
            (edge.label,),
            f"{name} touches a live wire",
            (Joins(edge.a, bus, wires=(edge, None)),),
            edge.path,
            where,
        )


def direct(study: Study, edge: Edge) -> bool:
    return edge in circuit(study, usual(study)).branch_of


def structure(study: Study) -> str | None:
    grounds = [i for i, g in study.model.grounds.items() if g.kind not in ("strap", "bond")]
    structure = [i for i in grounds if study.model.grounds[i].kind == "structure"]
    return next(iter((*structure, *grounds)), None)


def _bus(study: Study) -> str | None:
    return next((i for i, s in study.model.supplies.items() if s.spec.kind == "bus"), None)
