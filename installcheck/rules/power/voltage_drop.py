"""Voltage drop of every feed, out and back, at conductor temperature, against AC 43.13-1B table 11-6."""

from __future__ import annotations

from dataclasses import replace

from ...analysis import missing
from ...analysis.circuit.drop_paths import Consumer, consumers
from ...analysis.missing import Missing
from ...analysis.power.feed_drops import (
    WHOLE_RISE,
    Drop,
    drop_of,
    is_intermittent,
    joint_share,
    own_current,
    wire_share,
    with_gauges,
)
from ...analysis.power.wiring import system_voltage
from ...analysis.study import Study
from ...graph import Edge
from ...model.comparing import at_most
from ...model.quantities import Gauge, plain_number
from ...physics.conductors import allowable_drop
from ..verdicts import Verdict
from ..vocabulary import Subject, rule

_CURRENT = {
    "indicators": missing.INDICATOR_SUPPLY_CURRENT,
    "loads": missing.LOAD_CURRENT,
    "supplies": missing.CONTACTOR_COIL,
}
_ALLOWS_FOR = frozenset((missing.RUN_ROUTE, missing.ZONE_TEMPERATURE))
"""Facts without which a drop passes that passes even with all its wire at 150 degC."""


@rule(
    "voltage-drop",
    title="The drop of every feed, out and back, is within the limit of its system",
    why="A lamp, a motor or an indicator short of voltage is dim, slow or wrong, and long thin wire runs hot.",
    source="AC 43.13-1B 11-66, table 11-6 (intermittent column recalled)",
    formula="(bus - load +) + (load - - structure) in the solved network, conductors at T1 + (TR - T1) sqrt(I/Imax), at the points, and T1 the "
    "hottest each zone gets",
    example="size 22, 18 ft, 0.4 A at 70 degC: 0.1396 V against 0.5 V of a 14 V system, margin 0.36 V",
    over=consumers,
)
def voltage_drop(study: Study, subject: Subject, consumer: Consumer) -> Verdict | None:
    """A load, an indicator's supply or a contactor's coil."""
    volts = system_voltage(study)
    lacking = _lacking(study, consumer, volts)
    if lacking or volts is None:
        return subject.lacks(*lacking)
    drop = drop_of(study, consumer)
    if drop is None:
        return subject.lacks(missing.LOAD_POINT) if consumer.section == "loads" else None
    duty = "intermittent" if is_intermittent(study, consumer) else "continuous"
    subject = subject.along(*(e.ident for e in consumer.runs))
    try:
        limit = allowable_drop(volts, intermittent=duty == "intermittent")
    except ValueError:
        return subject.placed("aircraft", "system_voltage").lacks(missing.SYSTEM_VOLTAGE_OF_TABLE)
    if at_most(drop.volts, limit.drop) and not at_most(drop.hottest, limit.drop):
        drop = replace(drop, volts=drop.hottest, hot=True)
    where = f"{drop.point}, zones at their hottest" if drop.hot else drop.point
    told = (
        f"{consumer.ident} drops {plain_number(drop.volts)} V out and back at {plain_number(drop.current)} A "
        f"({where}); {plain_number(limit.drop)} V is allowed for {duty} duty in a {plain_number(limit.system)} V system"
    )
    if at_most(drop.volts, limit.drop):
        passes_hot = at_most(drop.volts * WHOLE_RISE, limit.drop)
        unsettled = [m for m in drop.missing if not (passes_hot and m in _ALLOWS_FOR)]
        return subject.lacks(*unsettled) if unsettled else subject.at_most(drop.volts, limit.drop, "V", told)
    worst, remedy = _remedy(study, consumer, drop, limit.drop)
    if worst is not None:
        subject = subject.placed(
            worst.section, worst.ident, *(("gauge",) if worst.kind == "conductor" else ())
        )
    return subject.at_most(drop.volts, limit.drop, "V", told, remedy=remedy)


def _lacking(study: Study, consumer: Consumer, volts: float | None) -> tuple[Missing, ...]:
    facts = (
        (missing.SYSTEM_VOLTAGE, volts),
        (missing.LOAD_FEED, consumer.out),
        (missing.LOAD_BACK, consumer.back),
        (_CURRENT[consumer.section], own_current(study, consumer, volts or 14.0)),
    )
    return tuple(word for word, value in facts if value is None)


def _remedy(study: Study, consumer: Consumer, drop: Drop, limit: float) -> tuple[Edge | None, str]:
    """Where most is lost, and what brings the drop within the limit: a gauge in one run, a joint renewed, a gauge in all."""
    shares = {e: wire_share(drop, e) for e in consumer.runs}
    runs = sorted(consumer.runs, key=lambda e: -shares[e])
    tried = {e: dict(with_gauges(study, e, shares[e])) for e in runs}
    for edge in runs[:1]:
        for gauge, volts in tried[edge].items():
            total = drop.volts - shares[edge] + volts
            if at_most(total, limit):
                return edge, f"{gauge} AWG in run {edge.ident} gives {plain_number(total)} V"
    joints = {e: joint_share(drop, e) for e in (*(consumer.out or ()), *(consumer.back or ()))}
    poor = max(joints, key=lambda e: joints[e])
    left = drop.volts - joints[poor]
    if at_most(left, limit):
        return poor, (
            f"{poor.label} alone drops {plain_number(joints[poor])} V in what joins it: "
            f"clean or renew it, which leaves {plain_number(left)} V"
        )
    for gauge in sorted({g for t in tried.values() for g in t}, key=lambda g: -Gauge(g).number):
        total = drop.volts - sum(shares[e] - min(tried[e].get(gauge, shares[e]), shares[e]) for e in runs)
        if at_most(total, limit):
            names = ", ".join(dict.fromkeys(e.ident for e in runs if gauge in tried[e]))
            return runs[0], f"{gauge} AWG in runs {names} gives {plain_number(total)} V"
    if not runs:
        return None, "lower the resistance of the joints and contacts on the way"
    return runs[0], "no gauge of this wire is enough: shorten the way, or feed it from a nearer bus"
