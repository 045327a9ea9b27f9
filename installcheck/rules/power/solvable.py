"""Whether the direct-current network can be solved: every load fed and returned, no two sources at odds."""

from __future__ import annotations

from collections.abc import Iterator

from ...analysis import missing
from ...analysis.circuit.assembly import wired
from ...analysis.circuit.drop_paths import Consumer, consumers, ground_from, live_from
from ...analysis.circuit.solved import Circuit, circuit
from ...analysis.power.fed import off_on_purpose
from ...analysis.power.unfed import dead_at, dead_by, gives_nothing
from ...analysis.power.wiring import at_odds
from ...analysis.study import Point, Study
from ...graph import Edge
from ...graph.joining import groups
from ...model.comparing import at_least, at_most
from ...model.power import SOURCES, Supply
from ...model.quantities import plain_number
from ...physics.conductors import feeder_drop_limit
from ..verdicts import Verdict
from ..vocabulary import Subject, rule

_METAL = frozenset(("conductor", "joint", "contact"))
_CHARGING = frozenset(("alternator", "generator"))
_CHARGED = (12.6, 25.2)
"""Charged lead-acid batteries at rest [V]: 6 and 12 cells of 2.1 V (FAA-H-8083-30, recalled). Only what is above it charges one."""


@rule(
    "system-voltage",
    title="Every source is of the system voltage the aircraft is said to have, and every alternator can charge its battery",
    why="Limits of drop, lamps and gauges go by the system voltage; said wrong, twice the drop passes and a 14 V gauge burns. A "
    "source set below its battery charges nothing, and one set below its neighbour carries nothing.",
    source="plain physics; AC 43.13-1B table 11-6 by nominal system voltage; 2.1 V a lead-acid cell, charged and at rest "
    "(FAA-H-8083-30, recalled); 2 percent from source to bus (FAA-H-8083-31)",
    formula="voltage of the source and of the system within a quarter of each other; alternator or generator > 2.1 V a cell, 12.6 or "
    "25.2 V, and no less than its battery; two on one bus within 2 percent",
    example="14 V alternator in an aircraft of 28 V: 2 to 1",
    over="supplies",
)
def of_the_system(study: Study, subject: Subject, supply: Supply) -> Verdict | None:
    """A battery, alternator or generator of an aircraft whose system voltage is stated."""
    stated, volts = study.model.aircraft.system_voltage, supply.spec.voltage
    if supply.spec.kind not in SOURCES:
        return None
    if stated is None:
        return _too_low_to_charge(study, subject, supply) if volts is not None else None
    if volts is None:
        return subject.lacks(missing.SUPPLY_VOLTAGE)
    told = f"{subject.ident} is of {plain_number(volts)} V, the aircraft of {plain_number(stated)} V"
    if not at_odds(float(volts), float(stated)):
        wrong = _too_low_to_charge(study, subject, supply) or _carries_nothing(study, subject, supply)
        return wrong or subject.meets(told)
    return subject.field("voltage").discrepancy(
        told, remedy="put the system voltage right, or fit a source of that voltage"
    )


def _too_low_to_charge(study: Study, subject: Subject, supply: Supply) -> Verdict | None:
    """The verdict on an alternator or generator that is set no higher than the batteries of its system stand by themselves."""
    own = float(supply.spec.voltage or 0)
    if supply.spec.kind not in _CHARGING or own <= 0:
        return None
    batteries = {
        ident: float(one.spec.voltage)
        for ident, one in study.model.supplies.items()
        if one.spec.kind == "battery"
        and one.spec.voltage is not None
        and not at_odds(float(one.spec.voltage), own)
    }
    stated = study.model.aircraft.system_voltage
    systems = [float(stated)] if stated is not None else [*batteries.values()]
    rest = [volts for volts in _CHARGED for system in systems if not at_odds(volts, system)]
    most = max((*rest, *(volts for volts in batteries.values() if volts > own)), default=None)
    if most is None or not at_most(own, most):
        return None
    return (
        subject.along(*batteries)
        .field("voltage")
        .discrepancy(
            f"{subject.ident} is of {plain_number(own)} V, and a charged battery stands at {plain_number(most)} V: it charges none",
            remedy="read the voltage its regulator is set to, and correct the document or the regulator",
        )
    )


def _carries_nothing(study: Study, subject: Subject, supply: Supply) -> Verdict | None:
    """The verdict on an alternator or generator set so far below another on its bus that it carries nothing beside it.

    The higher one holds the bus no lower than its own voltage less the drop its feeder is allowed. A standby source is set low
    on purpose: it is advised only.
    """
    own = float(supply.spec.voltage or 0)
    edge = next((e for e in study.graph.of("supply") if e.ident == subject.ident), None)
    if supply.spec.kind not in _CHARGING or edge is None:
        return None
    for other in study.graph.of("supply"):
        rival = study.model.supplies[other.ident].spec
        if rival.kind not in _CHARGING or rival.voltage is None or gives_nothing(study, other.ident):
            continue
        held = float(rival.voltage) - feeder_drop_limit(float(rival.voltage))
        if at_least(own, held) or not any(
            other.a in _joined_by_metal(circuit(study, point), edge.a)
            for point in study.points
            if other.ident not in dead_at(point)
        ):
            continue
        return (
            subject.along(other.ident)
            .field("voltage")
            .advisory(
                f"{subject.ident} of {plain_number(own)} V carries nothing beside {other.ident} of {plain_number(rival.voltage)} V, "
                f"which holds their bus at {plain_number(held)} V or more",
                remedy="set both regulators alike, unless it is a standby that is set low on purpose",
            )
        )
    return None


@rule(
    "circuit-solvable",
    title="Every supply and every load is part of one network that can be solved",
    why="A part that floats, has no source, or joins sources of two systems has no voltage that can be told; what rests on it "
    "must not pass for checked.",
    source="Kirchhoff's laws",
    formula="every node joined to the reference, every load supplied, sources on one network within a quarter of each other",
    example="a 14 V alternator on a 28 V bus: sources at odds, 2 to 1",
    over=lambda study: [*_sources(study), *(c.ident for c in consumers(study))],
)
def circuit_solvable(study: Study) -> Iterator[Verdict]:
    """One verdict per supply, and one per load, indicator or coil that is wired in the document."""
    for ident in _sources(study):
        yield _supply(Subject(study, (ident,), ("supplies", ident)))
    for consumer in consumers(study):
        yield _consumer(Subject(study, (consumer.ident,), consumer.path), consumer)


def _sources(study: Study) -> list[str]:
    return [i for i, s in study.model.supplies.items() if s.spec.kind in SOURCES]


def _supply(subject: Subject) -> Verdict:
    study, ident = subject.study, subject.ident
    volts = study.model.supplies[ident].spec.voltage
    edge = next((e for e in study.graph.by_thing.get(("supplies", ident), ()) if e.kind == "supply"), None)
    if volts is None:
        return subject.lacks(missing.SUPPLY_VOLTAGE)
    floats = f"{ident} floats: nothing ties its negative to ground"
    if edge is None:
        return subject.lacks(missing.CIRCUIT_ALONE, because=floats)
    for point in study.points:
        net = circuit(study, point)
        grounded = _joined_by_metal(net, net.reference, through_ground=True)
        if edge.a in grounded:
            turned = "both its posts are joined" if edge.b in grounded else "its positive is joined"
            return subject.discrepancy(
                f"{ident} is short-circuited or the wrong way round: {turned} to ground ({point.name})",
                remedy=f"join {edge.b} to ground and {edge.a} to what it feeds",
            )
        if edge.b not in grounded and not _in_series(net, edge.b):
            return subject.lacks(missing.CIRCUIT_ALONE, because=f"{floats} ({point.name})")
        told = _at_odds(net, edge, float(volts))
        if told:
            return subject.discrepancy(
                told, remedy="keep the two systems apart, or correct the voltage of one of them"
            )
        told = _out_of_its_own(net, edge, float(volts))
        if told:
            return subject.discrepancy(told, remedy="find what it feeds that it is not made for")
    net = circuit(study, study.points[0])
    solved = (circuit(study, point) for point in study.points)
    if lacking := dict.fromkeys(m for one in solved for m in one.undrawn_between((edge.a, one.reference))):
        return subject.lacks(*lacking)
    stands = net.voltage(edge.a)
    return subject.meets(
        f"{ident} stands at {plain_number(stands or 0.0)} V ({net.point.name}) in a network that is solved"
    )


def _out_of_its_own(net: Circuit, edge: Edge, volts: float) -> str:
    """Why the voltage across a source that is alive is not its own, but while an engine is started."""
    given = net.point.given
    if given is not None and (given.phase == "start" or edge.ident in (given.dead_supplies or ())):
        return ""
    plus, minus = net.voltage(edge.a), net.voltage(edge.b)
    across = plus - minus if plus is not None and minus is not None else 0.0
    if across > 0 and volts > 0 and not at_odds(across, volts):
        return ""
    return f"{edge.ident} of {plain_number(volts)} V stands at {plain_number(across)} V ({net.point.name})"


def _at_odds(net: Circuit, edge: Edge, own: float) -> str:
    """What a source says against another that is joined to its positive by metal, not only through loads and ground."""
    supplies = net.study.model.supplies
    joined = _joined_by_metal(net, edge.a)
    for other in net.study.graph.of("supply"):
        if other.ident == edge.ident or other.a not in joined:
            continue
        theirs = supplies[other.ident].spec.voltage
        if theirs is not None and own > 0 and theirs > 0 and at_odds(own, float(theirs)):
            return (
                f"{edge.ident} of {plain_number(own)} V and {other.ident} of {plain_number(theirs)} V feed one network "
                f"({net.point.name})"
            )
    return ""


def _in_series(net: Circuit, minus: str) -> bool:
    """Whether a negative stands on another source's positive: batteries in series."""
    joined = _joined_by_metal(net, minus)
    return any(e.a in joined for e in net.study.graph.of("supply"))


def _joined_by_metal(net: Circuit, node: str, *, through_ground: bool = False) -> set[str]:
    """Nodes joined to one by wires, joints, closed contacts and shunts; by ground, bonds and straps as well if asked."""
    graph = net.study.graph
    links = [(node, node)]
    for edge, number in net.branch_of.items():
        if net.solution.network.is_open[number]:
            continue
        metal = edge.kind in _METAL or (edge.kind == "spool" and _is_shunt(net, edge))
        ground = graph.is_ground(edge.a) or graph.is_ground(edge.b)
        if (metal and not ground) or (through_ground and (metal or edge.kind == "bond")):
            links.append((edge.a, edge.b))
    return groups(links)[0]


def _is_shunt(net: Circuit, edge: Edge) -> bool:
    return net.study.model.junctions[edge.ident].spec.kind == "shunt"


def _consumer(subject: Subject, consumer: Consumer) -> Verdict:
    ident = consumer.ident
    if consumer.out is None or consumer.back is None:
        certain = _both_on_one_side(subject.study, consumer) or _leads_nowhere(subject.study, consumer)
        if certain:
            return subject.discrepancy(certain, remedy=_joined_rightly(consumer))
        lacking = "is not tied to a bus" if consumer.out is None else "does not return to ground"
        return subject.lacks(missing.CIRCUIT_ALONE, because=f"{ident} {lacking} in the document")
    dead = [p for p in subject.study.points if _unfed(circuit(subject.study, p), consumer)]
    never = len(dead) == len(subject.study.points) and not any(_switched_off(subject.study, p) for p in dead)
    unfed = [p.name for p in dead if never or not off_on_purpose(p)]
    if unfed:
        why, lacking_of = dead_by(subject.study, consumer.bus or "")
        told = f"{ident} gets no voltage ({', '.join(unfed)}): {why}"
        return subject.lacks(lacking_of, because=told)
    return subject.meets(f"{ident} is fed from {consumer.bus} and returns to ground")


def _both_on_one_side(study: Study, consumer: Consumer) -> str:
    """That metal joins both ends of a load to the live side, or both to ground; empty where it does not."""
    edge = consumer.edge
    if consumer.out is not None and (live := live_from(study, edge.b, edge)):
        return f"both ends of {consumer.ident} are on the live side: {edge.b} leads to {live}"
    if consumer.back is not None and (ground := ground_from(study, edge.a, edge)):
        return f"both ends of {consumer.ident} are at ground: {edge.a} leads to {ground}"
    return ""


def _leads_nowhere(study: Study, consumer: Consumer) -> str:
    """That a wire is on an end of a load and leads to no bus or ground; empty for a part of an aircraft, which may not draw all."""
    edge = consumer.edge
    if study.model.installation.scope == "part":
        return ""
    if consumer.back is None and wired(study, edge.b):
        return f"{consumer.ident} does not return: what is joined to {edge.b} leads to no ground"
    if consumer.out is None and wired(study, edge.a):
        return f"{consumer.ident} is not fed: what is joined to {edge.a} leads to no bus or source"
    return ""


def _joined_rightly(consumer: Consumer) -> str:
    edge = consumer.edge
    return (
        f"join {edge.b} to a ground"
        if consumer.back is None
        else f"feed {edge.a} from a bus, through a protector"
    )


def _unfed(net: Circuit, consumer: Consumer) -> bool:
    draw = net.draw_of.get(consumer.edge)
    if draw is None or draw not in net.solution.unsupplied:
        return False
    return bool(net.solution.network.draw_value[draw] > 0)


def _switched_off(study: Study, point: Point) -> bool:
    """Whether a point opens a switch or contactor, which is how a load is put off; a breaker or fuse is not."""
    opened = (point.given.open_switches or ()) if point.given is not None else ()
    kinds = {study.model.supplies[i].spec.kind for i in opened if i in study.model.supplies}
    return not kinds.isdisjoint(("switch", "contactor"))
