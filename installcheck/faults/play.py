"""Every single fault of an installation played through: what each takes from which indication, and what falls together.

Open wires, wires shorted to ground, lost grounds and open protectors are rank-one changes of the solved network; a dead
supply is solved afresh, since another may take over. Thermocouple and alternating circuits are judged by their topology.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from typing import Literal, TypeAlias

import numpy as np

from ..analysis.circuit.measuring import READ_BY_CIRCUIT
from ..analysis.circuit.solved import Circuit, circuit, solve_circuit
from ..analysis.circuit.states import States
from ..analysis.shown import listed
from ..analysis.study import Point, Study
from ..dataclass import dataclass
from ..document.source import DocPath
from ..graph import Edge, Indication
from ..model.power import SOURCES
from ..physics.network_faults import Fault, OpenBranch, Short
from .effects import LOST, Effect, Watch, opened, unsaid
from .lines import line_effects, lines_played, loss, together

FaultKind = Literal[
    "open wire",
    "short to ground",
    "lost ground",
    "open protector",
    "dead supply",
    "burst line",
    "blocked line",
]

_Planned: TypeAlias = tuple[FaultKind, Edge, Fault]
_LAMPS = frozenset(("warning light",))
_TURNING = frozenset(("synchro receiver", "synchronous tachometer"))
_COUPLES = frozenset(("moving-coil thermocouple", "electronic thermocouple"))


@dataclass(frozen=True, slots=True)
class Played:
    """One fault and what it does.

    Attributes:
        kind, at: what fails.
        path: where the document tells of it.
        effects: the indications it moves; those it does not are left out.
        opens: the protector that opens, for a short one can open.
        together: required indicators it takes away, when there are two or more.
        note: a word on what the fault does besides.
    """

    kind: FaultKind
    at: str
    path: DocPath
    effects: tuple[Effect, ...]
    opens: str = ""
    together: tuple[str, ...] = ()
    note: str = ""


def usual_point(study: Study) -> Point:
    """The point faults are played at: a cruise, else the first in which the engine is not being started."""
    for wanted in ("cruise", "climb"):
        for point in study.points:
            if point.given is not None and point.given.phase == wanted:
                return point
    return next((p for p in study.points if p.given is None or p.given.phase != "start"), study.points[0])


def play(study: Study, point: Point | None = None) -> list[Played]:
    """Play every single fault at a point. Cost: a few factorisations, and a few vector operations a fault."""
    where = point or usual_point(study)
    net = circuit(study, where)
    watch = Watch(net)
    legs = _by_conductor(study, watch)
    planned = list(_planned(net))
    after: dict[int, Played] = {}
    for one in States(net).after([fault for _, _, fault in planned]):
        kind, edge, _ = planned[one.number]
        effects = watch.effects(one.voltage)
        if kind == "open wire":
            effects += _by_topology(legs.get(edge, ()), "open", net)
        elif kind == "short to ground":
            effects += _by_topology(legs.get(edge, ()), "short", net)
        made = _made(watch, kind, edge, effects)
        after[one.number] = replace(made, opens=", ".join(one.opens), note=one.note)
    found = [after[i] for i in range(len(planned))]
    found += _outside_the_network(watch, legs)
    found += _dead_supplies(study, where, watch, net)
    found += _lines(study, where)
    return found


def _lines(study: Study, point: Point) -> Iterator[Played]:
    for ident in lines_played(study):
        path: DocPath = ("fluid_lines", ident)
        burst = line_effects(study, point, ident, burst=True)
        spill = loss(study, ident)
        yield Played("burst line", ident, path, burst, together=together(study, burst), note=spill)
        blocked = line_effects(study, point, ident, burst=False)
        if blocked:
            yield Played("blocked line", ident, path, blocked, together=together(study, blocked))


def _planned(net: Circuit) -> Iterator[_Planned]:
    network, reference = net.solution.network, net.nodes[net.reference]
    voltage = np.nan_to_num(net.solution.voltage)
    outlets = net.outlets
    grounds = net.study.model.grounds
    for edge in net.study.graph.edges:
        number = net.branch_of.get(edge)
        if number is None or network.is_open[number]:
            continue
        if edge.kind == "conductor":
            yield "open wire", edge, OpenBranch(number)
            if edge.a in grounds or edge.b in grounds:
                continue
            outlet = outlets.get(edge.a, outlets.get(edge.b))
            node = max((net.nodes[edge.a], net.nodes[edge.b]), key=lambda n: abs(float(voltage[n])))
            # An outlet gives up when it is shorted; its ideal source would not.
            fault: Fault = OpenBranch(outlet) if outlet is not None else Short(node, reference)
            yield "short to ground", edge, fault
        elif edge.kind == "bond":
            yield "lost ground", edge, OpenBranch(number)
        elif edge.kind == "contact" and edge.section == "supplies":
            yield "open protector", edge, OpenBranch(number)


def _made(watch: Watch, kind: FaultKind, edge: Edge, effects: Iterable[Effect]) -> Played:
    label = edge.label if edge.kind == "conductor" else edge.ident
    kept: dict[str, Effect] = {}
    for effect in effects:
        kept.setdefault(effect.indication, effect)
    together = sorted({e.indicator for e in kept.values() if e.what in LOST} & watch.required)
    return Played(
        kind, label, edge.path, tuple(kept.values()), together=tuple(together) if len(together) > 1 else ()
    )


def _by_conductor(study: Study, watch: Watch) -> dict[Edge, list[Indication]]:
    """Indications that the network does not read, or lacks something to read, by the conductors of their legs."""
    found: dict[Edge, list[Indication]] = {}
    read = {one.indication.key for one in watch.watched}
    for indication in study.indications:
        if _by_circuit(indication) and (indication.key in read or not unsaid(watch.net, indication)):
            continue
        for leg in indication.legs:
            for step in leg.steps:
                if step.edge.kind == "conductor":
                    found.setdefault(step.edge, []).append(indication)
    return found


def _by_circuit(indication: Indication) -> bool:
    return indication.section == "senders" and indication.spec.principle in READ_BY_CIRCUIT


def _by_topology(
    indications: Iterable[Indication], fault: Literal["open", "short"], net: Circuit
) -> list[Effect]:
    return [e for i in indications if (e := _topology(i, fault, net)) is not None]


def _topology(indication: Indication, fault: Literal["open", "short"], net: Circuit) -> Effect | None:
    principle = indication.spec.principle

    def say(what: str, text: str) -> Effect:
        return Effect(indication.name, indication.indicator, what, text)  # type: ignore[arg-type]

    if _by_circuit(indication) and not (fault == "open" and indication.spec.open_shows is not None):
        return say("cannot be told", f"cannot be told without the {listed(unsaid(net, indication))}")
    if principle in _TURNING:
        if fault == "open":
            text = "erratic: with one lead open it follows one way only, or stops"
            return say(
                "erratic",
                text if principle == "synchro receiver" else "erratic: two leads make no rotating field",
            )
        return say("erratic", "erratic if another lead is grounded too")
    if principle in _LAMPS:
        return say("dead", "dead: cannot light") if fault == "open" else say("stays lit", "stays lit")
    if fault == "open":
        return opened(indication)
    if principle in _COUPLES:
        probe = net.study.model.probes.get(indication.source)
        grounded = probe is not None and probe.spec.junction == "grounded"
        if not grounded and indication.spec.input_grounding in (None, "isolated"):
            return None
        return say("reads the temperature at the fault", "reads the temperature at the fault")
    return say("dead", "dead: its signal is shorted")


def _outside_the_network(watch: Watch, legs: dict[Edge, list[Indication]]) -> Iterator[Played]:
    """Thermocouple leads, which the network leaves out."""
    net = watch.net
    for edge in net.study.graph.edges:
        if edge.kind != "conductor" or edge in net.branch_of or edge not in legs:
            continue
        yield _made(watch, "open wire", edge, _by_topology(legs[edge], "open", net))
        yield _made(watch, "short to ground", edge, _by_topology(legs[edge], "short", net))


def _dead_supplies(study: Study, point: Point, watch: Watch, net: Circuit) -> Iterator[Played]:
    for ident, supply in study.model.supplies.items():
        if supply.spec.kind not in SOURCES:
            continue
        edge = next(
            (e for e in study.graph.by_thing.get(("supplies", ident), ()) if e.kind == "supply"), None
        )
        number = net.branch_of.get(edge) if edge is not None else None
        if edge is None or number is None:
            continue
        after = solve_circuit(study, point, dead=[ident])
        effects = watch.effects(after.solution.voltage) if after.nodes == net.nodes else []
        carrying = sorted(
            e for e in _sources(study) if e != ident and e not in after.resting and _gives(after, e)
        )
        note = f"{', '.join(carrying)} takes over" if carrying and ident not in net.resting else ""
        yield replace(_made(watch, "dead supply", edge, effects), note=note)


def _sources(study: Study) -> list[str]:
    return [i for i, s in study.model.supplies.items() if s.spec.kind in SOURCES]


def _gives(net: Circuit, ident: str) -> bool:
    for edge in net.study.graph.by_thing.get(("supplies", ident), ()):
        if edge.kind == "supply":
            return abs(net.current(edge) or 0.0) > 1e-3
    return False
