"""What the way from a source to its bus loses at rated current."""

from __future__ import annotations

from ...analysis import missing
from ...analysis.circuit.drop_paths import at_the_hottest, hot_ohms, way_to
from ...analysis.circuit.leads import conductor_ohms
from ...analysis.circuit.solved import circuit
from ...analysis.missing import Missing
from ...analysis.power.feed_drops import WHOLE_RISE
from ...analysis.study import Point, Study
from ...graph import Edge
from ...model.comparing import at_most
from ...model.power import Supply
from ...model.quantities import plain_number
from ...physics.conductors import feeder_drop_limit
from ..verdicts import Verdict
from ..vocabulary import Subject, rule


@rule(
    "feeder-drop",
    title="From source to bus no more than 2 percent of the regulated voltage is lost at rated current",
    why="What the feeder loses every load loses, before its own wires lose anything.",
    source="FAA-H-8083-31, wire size selection (second-hand)",
    formula="rated current x hot resistance of the way from the source to its bus <= 0.02 x regulated voltage",
    example="60 A through 0.003 ohm: 0.18 V against 0.28 V of 14 V, margin 0.10 V",
    over="supplies",
)
def feeder_drop(study: Study, subject: Subject, supply: Supply) -> Verdict | None:
    """An alternator or generator."""
    if supply.spec.kind not in ("alternator", "generator"):
        return None
    edge = next(
        (e for e in study.graph.by_thing.get(("supplies", subject.ident), ()) if e.kind == "supply"), None
    )
    if edge is None:
        return subject.lacks(missing.SUPPLY_TERMINALS)
    way, rated, volts = way_to(study, edge.a, edge, _is_bus), supply.spec.rated_current, supply.spec.voltage
    if way is None or not rated or not volts:
        facts = (
            (missing.SOURCE_TO_BUS, way),
            (missing.ALTERNATOR_RATING, rated),
            (missing.SUPPLY_VOLTAGE, volts),
        )
        return subject.lacks(*(word for word, value in facts if not value))
    return _fed(subject, way[1], float(rated), float(volts))


def _is_bus(study: Study, node: str) -> bool:
    supply = study.model.supplies.get(node)
    return supply is not None and supply.spec.kind == "bus"


def _fed(subject: Subject, way: tuple[Edge, ...], current: float, volts: float) -> Verdict:
    study, wires = subject.study, [e for e in way if e.kind == "conductor"]
    limit = feeder_drop_limit(volts)
    drops = {point.name: _lost(study, way, point, current) for point in study.points}
    where = max(drops, key=lambda name: drops[name])
    worst = drops[where]
    told = (
        f"{subject.ident} loses {plain_number(worst)} V on its way to the bus at its rated {plain_number(current)} A ({where}); "
        f"{plain_number(limit)} V, 2 percent of {plain_number(volts)} V, is allowed"
    )
    judged = subject.along(*(e.ident for e in wires))
    if at_most(worst, limit):
        unsettled = _lacking(study, way, passes_hot=at_most(worst * WHOLE_RISE, limit))
        return judged.lacks(*unsettled) if unsettled else judged.at_most(worst, limit, "V", told)
    if wires:
        run = max(wires, key=lambda e: conductor_ohms(study, e, study.points[0]).cold or 0)
        judged = judged.placed("wire_runs", run.ident, "gauge")
        remedy = f"use thicker wire in run {run.ident}: "
    else:
        remedy = "lower the resistance of the joints: "
    remedy += f"the way may have {plain_number(limit / current * 1000)} milliohm"
    return judged.at_most(worst, limit, "V", told, remedy=remedy)


def _lacking(study: Study, way: tuple[Edge, ...], *, passes_hot: bool) -> list[Missing]:
    """What bears on the drop; no temperatures where it passes with all its wire at 150 degC."""
    apart = {missing.JOINT_CONTACT, *((missing.RUN_ROUTE, missing.ZONE_TEMPERATURE) if passes_hot else ())}
    known = [fact for point in study.points for fact in circuit(study, point).lacking(way)]
    return [fact for fact in dict.fromkeys(known) if fact not in apart]


def _lost(study: Study, way: tuple[Edge, ...], point: Point, current: float) -> float:
    net = circuit(study, point)
    total = 0.0
    for edge in way:
        if edge.kind == "conductor":
            number = net.branch_of.get(edge)
            joints = float(net.parts.contact[number]) if number is not None else 0.0
            ohms = hot_ohms(study, edge, at_the_hottest(study, point), current)
            total += current * ((ohms or 0.0) + joints)
        else:
            total += current * (net.resistance(edge) or 0.0)
    return total
