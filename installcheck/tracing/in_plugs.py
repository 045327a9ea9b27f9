"""Hypotheses of cavities: contacts of a plug that sit one off, beside an empty one."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from ..analysis.study import Study
from ..graph import Edge
from ..model.installation import terminals_of
from .changes import Reached
from .channels import Channel, channels
from .hypotheses import Hypothesis, of_one


def in_plugs(study: Study, bad: Sequence[Channel]) -> Iterator[Hypothesis]:
    """Every run of contacts, up to an empty cavity, that may be one off and bears on an indication that misbehaves.

    Cost: per plug, its empty cavities times the contacts beside them.
    """
    for plug, junction in study.model.junctions.items():
        if junction.spec.kind != "plug":
            continue
        cavities = list(terminals_of("junctions", junction) or ())
        wires = _wires(plug, channels(study))
        mine = _wires(plug, bad)
        for order in (cavities, cavities[::-1]):
            for last, beyond in pairwise(order):
                if last in wires and not _wired(study, plug, beyond):
                    yield from _of_run(study, plug, order[: order.index(beyond) + 1], wires, set(mine))


def _of_run(
    study: Study, plug: str, order: Sequence[str], wires: dict[str, Edge], mine: set[str]
) -> Iterator[Hypothesis]:
    """Shifts towards the last cavity of an order, from one contact to all in a row."""
    moved: list[tuple[Edge, str, str]] = []
    bears = False
    for there, pin in pairwise(order[::-1]):
        if pin not in wires:
            return
        moved.append((wires[pin], f"{plug}.{pin}", f"{plug}.{there}"))
        bears = bears or pin in mine
        if bears:
            span = f"cavity {pin} is" if len(moved) == 1 else f"cavities {pin} to {order[-2]} are"
            wire = "the wire of" if len(moved) == 1 else "the wires of"
            off = "" if len(moved) == 1 else "each "
            yield of_one(
                "cavities shifted",
                (plug, pin, order[-1]),
                f"{wire} {plug} {span} {off}one off, towards {order[-1]}, which should be empty",
                (Reached(tuple(moved)),),
                ("junctions", plug),
                study.graph.zone_of(f"{plug}.{pin}") or "",
            )


def _wires(plug: str, some: Sequence[Channel]) -> dict[str, Edge]:
    """The wire in each cavity on the side away from the indicators, of the indications that pass the plug."""
    found: dict[str, Edge] = {}
    for channel in some:
        for edge in channel.edges:
            if edge.kind == "conductor":
                for node in (edge.a, edge.b):
                    ident, _, pin = node.partition(".")
                    if ident == plug:
                        found[pin] = edge
    return found


def _wired(study: Study, plug: str, pin: str) -> bool:
    return any(e.kind == "conductor" for e in study.graph.at(f"{plug}.{pin}"))
