"""What a wire is called, whether it bears on a reading, and what touching something else does to it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ..analysis.circuit.solved import circuit
from ..analysis.study import Study, once
from ..analysis.thermocouple.grounds import on_ground
from ..graph import Edge
from ..model.power import SOURCES
from .changes import Joins, World
from .channels import Channel
from .expected import Expect
from .hypotheses import Hypothesis, Member, of_sizes
from .states import usual

_MOVED = 0.002
"""Share of the dial a reading must move for an open circuit to bear on it."""


_OTHER_VOLTAGE = 0.25
"""Share by which two systems differ: more than a battery from its alternator, less than 24 V from 14 V."""
_FIRM_OHM = (0.00003, 0.0003, 0.003, 0.03, 0.3)
"""ohm a touch may have, from a firm one on: a shunt has about a milliohm."""
TOUCH_OHM = 0.05
"""ohm of a touch that is not firm: as much as a few feet of instrument wire, so that what it does to a supply may differ."""


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
    first = any(edge is c.first_wire[0] for c in bad if c.first_wire is not None)
    much = not first or any(edge in c.edges for c in bad if c.way == "couple")
    metered = any(edge in c.edges for c in bad if c.meter is not None)
    yield _touching(
        "short to ground",
        f"{name} touches ground: chafed through, or pinched",
        edge,
        [ground],
        where,
        metered,
        much,
    )
    live = [n for n in live_points(study) if n not in (edge.a, edge.b)]
    loops = [c.loop for c in bad if c.loop is not None and edge in c.edges]
    if signal and live and (direct(study, edge) or any(on_ground(study, loop) for loop in loops)):
        yield _touching("short to supply", f"{name} touches a live wire", edge, live, where, metered, much)


def _touching(
    kind: str, text: str, edge: Edge, others: Sequence[str], where: str, metered: bool, much: bool
) -> Hypothesis:
    """A wire that touches one of some things at either end of it, or through some resistance; beside a shunt, any resistance tells."""
    if metered:

        def through(ohms: float) -> World:
            return (Joins(edge.a, others[0], ohms, wires=(edge, None)),)

        return of_sizes(kind, (edge.label,), text, _FIRM_OHM, through, ("resistance", ""), edge.path, where)
    ways = ((edge.a, 0.0), (edge.b, 0.0), (edge.a, TOUCH_OHM))[: 3 if much else 1]
    members = tuple(
        Member((Joins(end, other, ohms, wires=(edge, None)),)) for other in others for end, ohms in ways
    )
    return Hypothesis(kind, (edge.label,), text, members, path=edge.path, where=where)


def direct(study: Study, edge: Edge) -> bool:
    return edge in circuit(study, usual(study)).branch_of


def structure(study: Study) -> str | None:
    grounds = [i for i, g in study.model.grounds.items() if g.kind not in ("strap", "bond")]
    structure = [i for i in grounds if study.model.grounds[i].kind == "structure"]
    return next(iter((*structure, *grounds)), None)


@once
def live_points(study: Study) -> tuple[str, ...]:
    """Where live wires come from: the first bus, or without one the positive terminal of the first source; after it, what stands
    at another voltage in the usual state.
    """
    supplies, net = study.model.supplies, circuit(study, usual(study))
    buses = [i for i, s in supplies.items() if s.spec.kind == "bus"]
    nodes = [*buses, *(f"{i}.+" for i, s in supplies.items() if s.spec.kind in SOURCES)]
    nodes = [n for n in nodes if n in study.graph.nodes]
    found: dict[str, float] = {}
    for node in nodes:
        here = net.voltage(node) or 0.0
        if here > 0 and all(abs(here - v) > _OTHER_VOLTAGE * max(here, v) for v in found.values()):
            found[node] = here
    return tuple(found or nodes[:1])
