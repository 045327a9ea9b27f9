"""Which synchro indications have their rotors excited at an operating point: by alternating current, which is not solved."""

from __future__ import annotations

from ...graph import Walk
from ...graph.edges import CARRIES_SIGNAL, Edge
from ...model.devices import IndicatorSpec, SenderSpec
from ..study import Point, Study, once
from .assembly import wired
from .solved import circuit

_RECEIVER, _TRANSMITTER = "synchro receiver", "synchro transmitter"
_LIVE = 0.5
"""V at the input of an inverter below which it gives nothing."""


@once
def unexcited(study: Study) -> frozenset[tuple[str, str]]:
    """Synchro indicators, each with the name of a point at which its rotor or that of its transmitter gets nothing.

    Only what a point itself opens or kills is looked at: a rotor that nothing is joined to has a rule of its own.
    """
    found = set()
    for ident, rotors in _rotors(study).items():
        for point in study.points:
            if any(_dead(study, rotor, point) for rotor in rotors):
                found.add((ident, point.name))
    return frozenset(found)


def _rotors(study: Study) -> dict[str, list[str]]:
    """First rotor terminal of each synchro indicator and of what it reads."""
    model = study.model
    found = {
        ident: [node]
        for ident, one in model.indicators.items()
        if one.spec.principle == _RECEIVER and (node := _rotor(ident, one.spec))
    }
    for one in study.indications:
        sender = model.senders.get(one.source)
        if one.indicator in found and sender is not None and sender.spec.principle == _TRANSMITTER:
            node = _rotor(one.source, sender.spec)
            found[one.indicator] += [node] if node else []
    return found


def _rotor(ident: str, spec: IndicatorSpec | SenderSpec) -> str:
    ends = spec.terminals or []
    return f"{ident}.{ends[3]}" if len(ends) == 5 else ""


def _dead(study: Study, rotor: str, point: Point) -> bool:
    given = point.given
    off = (
        frozenset((*(given.open_switches or ()), *(given.dead_supplies or ())))
        if given is not None
        else frozenset()
    )
    fed = _sources(study, rotor, frozenset()) if off else set()
    if not fed:
        return False
    return not any(_gives(study, ident, point) for ident in fed & _sources(study, rotor, off))


def _sources(study: Study, rotor: str, out: frozenset[str]) -> set[str]:
    """Inverters and buses that a rotor is joined to, through what is not ``out``; the buses only where no inverter is drawn."""
    supplies = study.model.supplies

    def passes(edge: Edge, there: str) -> bool:
        ends = {node.partition(".")[0] for node in (edge.a, edge.b)}
        carries = edge.kind in CARRIES_SIGNAL and edge.closed
        return carries and ends.isdisjoint(out) and not study.graph.is_ground(there)

    reached = {node.partition(".")[0] for node in Walk([rotor], study.graph.at, passes)}
    inverters = {i for i, one in supplies.items() if one.spec.kind == "inverter"}
    buses = {i for i, one in supplies.items() if one.spec.kind == "bus"}
    return reached & (inverters or buses)


def _gives(study: Study, ident: str, point: Point) -> bool:
    """Whether an inverter has its input; a bus of alternating current without one is taken for fed."""
    if study.model.supplies[ident].spec.kind != "inverter":
        return True
    node = f"{ident}.in"
    if not wired(study, node):
        return True
    volts = circuit(study, point).voltage(node)
    return volts is not None and abs(volts) >= _LIVE
