"""What a feed drops, out and back, at its worst operating point, and the share of each part of it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

import numpy as np

from ...dataclass import dataclass
from ...graph import Edge
from ...physics.network_system import responses
from ..circuit.assembly import CONTACT
from ..circuit.drop_paths import Consumer, added_by_heat, at_the_hottest, hot_ohms
from ..circuit.leads import conductor_ohms
from ..circuit.solved import Circuit, circuit
from ..missing import Missing
from ..study import Point, Study
from .wire_sizes import sizes_of
from .wiring import drawn_at, system_voltage

WHOLE_RISE = (234.5 + 150.0) / 254.5
"""Resistance of copper at 150 degC, the rating of most of its wire, over that at 20 degC [-]: AC 43.13-1B 11-66."""


def own_current(study: Study, consumer: Consumer, volts: float) -> float | None:
    """Ampere it takes at a voltage, as the document says; ``None`` where it does not."""
    if consumer.section == "indicators":
        stated = study.model.indicators[consumer.ident].spec.supply_current
        return None if stated is None else float(stated)
    if consumer.section == "supplies":
        coil = study.model.supplies[consumer.ident].spec.coil_current
        return None if coil is None else float(coil)
    return drawn_at(study.model.loads[consumer.ident], volts)


def is_intermittent(study: Study, consumer: Consumer) -> bool:
    """Whether the intermittent column applies."""
    return consumer.section == "loads" and study.model.loads[consumer.ident].duty == "intermittent"


@dataclass(frozen=True, slots=True)
class Drop:
    """The largest drop of a feed: volts, the operating point, the amperes, and the data assumed on the way.

    ``hottest`` is the drop with each zone at its hottest; ``hot`` tells that ``volts`` is that one.
    """

    volts: float
    hottest: float
    point: str
    current: float
    missing: tuple[Missing, ...]
    net: Circuit
    more: float
    hot: bool = False

    @property
    def at(self) -> Point:
        """The point at whose temperatures ``volts`` holds."""
        return at_the_hottest(self.net.study, self.net.point) if self.hot else self.net.point


def drop_of(study: Study, consumer: Consumer) -> Drop | None:
    """The largest drop of a feed over the operating points; ``None`` where it draws no current at any."""
    volts = system_voltage(study) or 14.0
    current = own_current(study, consumer, volts)
    if current is None or consumer.out is None or consumer.back is None or consumer.bus is None:
        return None
    worst: Drop | None = None
    unsaid: dict[Missing, None] = {}
    for point in study.points:
        if point.given is not None and point.given.phase == "start" and not is_intermittent(study, consumer):
            continue
        net = circuit(study, point)
        found = _at(net, consumer, current)
        if found is None:
            continue
        unsaid |= dict.fromkeys(net.undrawn_between(*_ends(net, consumer)))
        if worst is None or found.volts > worst.volts:
            worst = found
    return (
        replace(worst, missing=tuple(dict.fromkeys((*worst.missing, *unsaid)))) if worst is not None else None
    )


def _at(net: Circuit, consumer: Consumer, current: float) -> Drop | None:
    drawing = _draws(net, consumer)
    if not drawing and not is_intermittent(net.study, consumer):
        return None
    assert consumer.bus is not None
    more = 0.0 if drawing else current
    solved = _solved(net, consumer)
    if solved is None or not drawing:
        added = _superposed(net, consumer, current) if solved is not None and not drawing else None
        if added is None:
            solved, more = _along(net, consumer, current), current
        else:
            solved = (solved or 0.0) + added
    extra = dict.fromkeys(consumer.runs, more)
    hot = at_the_hottest(net.study, net.point)
    volts = solved + added_by_heat(net, consumer, extra, net.point)
    hottest = volts if hot.zones == net.point.zones else solved + added_by_heat(net, consumer, extra, hot)
    missing = tuple(m for m in net.lacking((*(consumer.out or ()), *(consumer.back or ()))) if m != CONTACT)
    return Drop(volts, max(volts, hottest), net.point.name, current, missing, net, more)


def _draws(net: Circuit, consumer: Consumer) -> bool:
    taken = net.current(consumer.edge)
    return taken is not None and abs(taken) > 1e-12


def _solved(net: Circuit, consumer: Consumer) -> float | None:
    """(bus - positive) + (negative - structure) as solved."""
    (bus, plus), (minus, _) = _ends(net, consumer)
    high, fed, low = (net.voltage(n) for n in (bus, plus, minus))
    return None if high is None or fed is None or low is None else high - fed + low


def _ends(net: Circuit, consumer: Consumer) -> tuple[tuple[str, str], tuple[str, str]]:
    """Where its way out begins and ends, and its way back."""
    return (consumer.bus or "", consumer.edge.a), (consumer.edge.b, net.reference)


def _superposed(net: Circuit, consumer: Consumer, current: float) -> float | None:
    """What a load that is off in the solved state adds along its own feed when it is switched on."""
    system, edge = net.solution.system, consumer.edge
    numbers = [net.nodes.get(n) for n in (edge.a, edge.b, consumer.bus or "")]
    if any(n is None for n in numbers):
        return None
    a, b, bus = (int(n) for n in numbers if n is not None)
    if not system.island[a] == system.island[b] == system.island[bus] == system.referenced:
        return None
    rows = system.row[[a, b, bus]]
    answer = responses(system, np.array([rows[1]]), np.array([rows[0]]))[:, 0] * current
    return float(answer[rows[2]] - answer[rows[0]] + answer[rows[1]])


def _along(net: Circuit, consumer: Consumer, current: float) -> float:
    """The load's own current through the resistances of its way, for a feed that a switch holds open."""
    ohms = (net.resistance(e) for e in (*(consumer.out or ()), *(consumer.back or ())))
    return current * sum(r for r in ohms if r is not None)


def wire_share(drop: Drop, edge: Edge) -> float:
    """Volts one conductor drops, its joints apart."""
    carried = abs(drop.net.current(edge) or 0.0) + drop.more
    ohms = hot_ohms(drop.net.study, edge, drop.at, carried)
    return carried * (ohms or 0.0)


def joint_share(drop: Drop, edge: Edge) -> float:
    """Volts lost in the joints, contacts or bond an edge stands for."""
    number = drop.net.branch_of.get(edge)
    if number is None:
        return 0.0
    return (abs(drop.net.current(edge) or 0.0) + drop.more) * float(drop.net.parts.contact[number])


def with_gauges(study: Study, edge: Edge, volts: float) -> Iterable[tuple[str, float]]:
    """Volts the conductor would drop in each thicker gauge, at the same temperature (a thicker wire stays cooler)."""
    run = edge.run
    if run is None or run.gauge is None or not run.spec.resistance:
        return
    if conductor_ohms(study, edge, study.points[0]).cold is None:
        return
    for size in sizes_of(study, run):
        if size.gauge.number < run.gauge.number:
            yield str(size.gauge), volts * size.resistance / float(run.spec.resistance)
