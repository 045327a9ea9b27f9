"""Voltage drop of every feed, out and back, at conductor temperature, against AC 43.13-1B table 11-6."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

import numpy as np

from ...analysis import missing
from ...analysis.circuit.assembly import CONTACT
from ...analysis.circuit.drop_paths import (
    Consumer,
    added_by_heat,
    consumers,
    hot_ohms,
)
from ...analysis.circuit.leads import SPLIT, ZONE_TEMPERATURE, conductor_ohms
from ...analysis.circuit.solved import Circuit, circuit
from ...analysis.power.wire_sizes import sizes_of
from ...analysis.study import Study
from ...graph import Edge
from ...model.quantities import plain_number
from ...physics.conductors import allowable_drop
from ...physics.network_system import responses
from ..verdicts import (
    Verdict,
    discrepancy,
    meets,
    undetermined,
)
from ..vocabulary import rule

_CURRENT = {
    "indicators": missing.INDICATOR_SUPPLY_CURRENT,
    "loads": missing.LOAD_CURRENT,
    "supplies": missing.CONTACTOR_COIL,
}
FEED = "wire runs that feed it from a bus"
BACK = "wire run or body that returns it to ground"
SYSTEM = "system voltage of the aircraft"
WHOLE_RISE = (234.5 + 150.0) / 254.5
"""Resistance of copper at 150 degC, the rating of most of its wire, over that at 20 degC [-]: AC 43.13-1B 11-66."""
OVER = 1e-6
"""Share of a limit that is rounding [-]."""


def system_voltage(study: Study) -> float | None:
    """Nominal system voltage in V: as stated, else that of its alternator or battery."""
    stated = study.model.aircraft.system_voltage
    if stated is not None:
        return float(stated)
    for kinds in (("alternator", "generator"), ("battery",)):
        for supply in study.model.supplies.values():
            if supply.spec.kind in kinds and supply.spec.voltage is not None:
                return float(supply.spec.voltage)
    return None


def _own_current(study: Study, consumer: Consumer, volts: float) -> float | None:
    if consumer.section == "indicators":
        stated = study.model.indicators[consumer.ident].spec.supply_current
        return None if stated is None else float(stated)
    if consumer.section == "supplies":
        coil = study.model.supplies[consumer.ident].spec.coil_current
        return None if coil is None else float(coil)
    load = study.model.loads[consumer.ident]
    spec, count = load.spec, load.quantity or 1
    if spec.current is not None:
        return float(spec.current) * count
    if spec.power is not None:
        return float(spec.power) * count / volts
    return count * volts / float(spec.resistance) if spec.resistance else None


def is_intermittent(study: Study, consumer: Consumer) -> bool:
    """Whether the intermittent column applies."""
    return consumer.section == "loads" and study.model.loads[consumer.ident].duty == "intermittent"


@dataclass(frozen=True, slots=True)
class Drop:
    """The largest drop of a feed: volts, the operating point, the amperes, and the data assumed on the way."""

    volts: float
    point: str
    current: float
    missing: tuple[str, ...]
    net: Circuit
    more: float


def drop_of(study: Study, consumer: Consumer) -> Drop | None:
    """The largest drop of a feed over the operating points; ``None`` where it draws no current at any."""
    volts = system_voltage(study) or 14.0
    current = _own_current(study, consumer, volts)
    if current is None or consumer.out is None or consumer.back is None or consumer.bus is None:
        return None
    worst: Drop | None = None
    for point in study.points:
        if point.given is not None and point.given.phase == "start" and not is_intermittent(study, consumer):
            continue
        found = _at(circuit(study, point), consumer, current)
        if found is not None and (worst is None or found.volts > worst.volts):
            worst = found
    return worst


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
    heated = added_by_heat(net, consumer, extra)
    missing = tuple(m for m in net.lacking((*(consumer.out or ()), *(consumer.back or ()))) if m != CONTACT)
    return Drop(solved + heated, net.point.name, current, missing, net, more)


def _draws(net: Circuit, consumer: Consumer) -> bool:
    taken = net.current(consumer.edge)
    return taken is not None and abs(taken) > 1e-12


def _solved(net: Circuit, consumer: Consumer) -> float | None:
    """(bus - positive) + (negative - structure) as solved."""
    edge = consumer.edge
    minus = edge.b
    nodes = [net.voltage(n) for n in (consumer.bus or "", edge.a, minus)]
    if any(v is None for v in nodes):
        return None
    bus, plus, low = (float(v) for v in nodes if v is not None)
    return bus - plus + low


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


@rule(
    "voltage-drop",
    title="The drop of every feed, out and back, is within the limit of its system",
    why="A lamp, a motor or an indicator short of voltage is dim, slow or wrong, and long thin wire runs hot.",
    source="AC 43.13-1B 11-66, table 11-6 (intermittent column recalled)",
    formula="(bus - load +) + (load - - structure) in the solved network, conductors at T1 + (TR - T1) sqrt(I/Imax)",
    example="size 22, 18 ft, 0.4 A at 70 degC: 0.1396 V against 0.5 V of a 14 V system, margin 0.36 V",
    over=lambda study: [c.ident for c in consumers(study)],
)
def voltage_drop(study: Study) -> Iterator[Verdict]:
    """One verdict per load, per indicator supply and per contactor coil."""
    volts = system_voltage(study)
    for consumer in consumers(study):
        at = (consumer.ident,)
        lacking = _lacking(study, consumer, volts)
        if lacking:
            yield undetermined(at, consumer.path, lacking)
            continue
        assert volts is not None
        drop = drop_of(study, consumer)
        if drop is None:
            if consumer.section == "loads":
                yield undetermined(at, consumer.path, "operating point at which it is on")
            continue
        yield _judged(study, consumer, drop, volts)


def _lacking(study: Study, consumer: Consumer, volts: float | None) -> tuple[str, ...]:
    data = []
    if volts is None:
        data.append(SYSTEM)
    if consumer.out is None:
        data.append(FEED)
    if consumer.back is None:
        data.append(BACK)
    if _own_current(study, consumer, volts or 14.0) is None:
        data.append(_CURRENT[consumer.section])
    return tuple(data)


def _judged(study: Study, consumer: Consumer, drop: Drop, volts: float) -> Verdict:
    duty = "intermittent" if is_intermittent(study, consumer) else "continuous"
    at = (consumer.ident, *dict.fromkeys(e.ident for e in consumer.runs))
    try:
        limit = allowable_drop(volts, intermittent=duty == "intermittent")
    except ValueError:
        return undetermined(
            at, ("aircraft", "system_voltage"), "system voltage of table 11-6: 14, 28, 115 or 200 V"
        )
    told = (
        f"{consumer.ident} drops {plain_number(drop.volts)} V out and back at {plain_number(drop.current)} A "
        f"({drop.point}); {plain_number(limit.drop)} V is allowed for {duty} duty in a {plain_number(limit.system)} V system"
    )
    numbers = {"value": drop.volts, "limit": limit.drop, "margin": limit.drop - drop.volts, "unit": "V"}
    if drop.volts > limit.drop * (1 + OVER):
        worst, remedy = _remedy(study, consumer, drop, limit.drop)
        path = consumer.path if worst is None else (worst.section, worst.ident)
        if worst is not None and worst.kind == "conductor":
            path = (*path, "gauge")
        return discrepancy(at, path, told, remedy=remedy, **numbers)
    at_most = drop.volts * WHOLE_RISE
    unsettled = [m for m in drop.missing if not (m in (SPLIT, ZONE_TEMPERATURE) and at_most <= limit.drop)]
    if unsettled:
        return undetermined(at, consumer.path, unsettled)
    return meets(at, consumer.path, told, **numbers)


def _remedy(study: Study, consumer: Consumer, drop: Drop, limit: float) -> tuple[Edge | None, str]:
    """Where most is lost, and what brings the drop within the limit: a gauge in one run, a joint renewed, a gauge in all."""
    shares = {e: _share(drop, e) for e in consumer.runs}
    runs = sorted(consumer.runs, key=lambda e: -shares[e])
    for edge in runs[:1]:
        for gauge, volts in _with_gauges(study, edge, shares[edge]):
            total = drop.volts - shares[edge] + volts
            if total <= limit:
                return edge, f"{gauge} AWG in run {edge.ident} gives {plain_number(total)} V"
    joints = {e: _joint_share(drop, e) for e in (*(consumer.out or ()), *(consumer.back or ()))}
    poor = max((e for e in (*(consumer.out or ()), *(consumer.back or ()))), key=lambda e: joints[e])
    if drop.volts - joints[poor] <= limit:
        left = drop.volts - joints[poor]
        return poor, (
            f"{poor.label} alone drops {plain_number(joints[poor])} V in what joins it: "
            f"clean or renew it, which leaves {plain_number(left)} V"
        )
    tried = {e: dict(_with_gauges(study, e, shares[e])) for e in runs}
    every = sorted({g for t in tried.values() for g in t}, key=_thickness)
    for gauge in every:
        total = drop.volts - sum(shares[e] - min(tried[e].get(gauge, shares[e]), shares[e]) for e in runs)
        if total <= limit:
            names = ", ".join(dict.fromkeys(e.ident for e in runs if gauge in tried[e]))
            return runs[0], f"{gauge} AWG in runs {names} gives {plain_number(total)} V"
    if not runs:
        return None, "lower the resistance of the joints and contacts on the way"
    return runs[0], "no gauge of this wire is enough: shorten the way, or feed it from a nearer bus"


def _thickness(gauge: str) -> int:
    return -(1 - int(gauge[0]) if gauge.endswith("/0") else int(gauge))


def _share(drop: Drop, edge: Edge) -> float:
    """Volts one conductor drops, its joints apart."""
    carried = abs(drop.net.current(edge) or 0.0) + drop.more
    ohms = hot_ohms(drop.net.study, edge, drop.net.point, carried)
    return carried * (ohms or 0.0)


def _joint_share(drop: Drop, edge: Edge) -> float:
    """Volts lost in the joints, contacts or bond an edge stands for."""
    number = drop.net.branch_of.get(edge)
    if number is None:
        return 0.0
    return (abs(drop.net.current(edge) or 0.0) + drop.more) * float(drop.net.parts.contact[number])


def _with_gauges(study: Study, edge: Edge, volts: float) -> Iterable[tuple[str, float]]:
    """Volts the conductor would drop in each thicker gauge, at the same temperature (a thicker wire stays cooler)."""
    run = edge.run
    cold = conductor_ohms(edge, study.points[0]).cold
    length = None if run is None else cold
    if run is None or length is None or run.gauge is None or run.spec.resistance is None:
        return
    for size in sizes_of(study, run):
        if _thickness(size.gauge) > _thickness(run.gauge):
            yield str(size.gauge), volts * size.resistance / float(run.spec.resistance)
