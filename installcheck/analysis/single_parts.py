"""Which single part takes out which indication: cuts of the circuit, the ground net and the fluid net.

A part is one whose loss alone ends the indication: on the only way from a source to the supply terminal, from the ground
terminal to the structure, from the indicator to what it reads, or joined to the tap it senses. Ways that are doubled do
not count, except where both run in one bundle or plug, which a cut of single wires does not see.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import cached_property
from typing import TypeAlias

from ..dataclass import dataclass
from ..graph.edges import CARRIES_SIGNAL, Edge
from ..graph.indications import Indication, Leg
from ..graph.joining import dominators
from ..model.installation import split_end, terminals_of
from ..model.power import SOURCES
from .shown import Shown
from .study import Study, once

Part: TypeAlias = tuple[str, str]
"""Kind in trade words, and id."""
Parts: TypeAlias = frozenset[Part]

PROTECTORS = frozenset(("breaker", "fuse", "current limiter"))
_PART_SUPPLIES = PROTECTORS | {"switch", "contactor", "inverter"}
_WHOLE_JUNCTIONS = frozenset(("plug", "disconnect", "selector switch", "averaging block"))
"""Junctions that fail as one; of others it is a single terminal that comes loose."""
_ROOT = "\0root"


@dataclass(frozen=True)
class _Cuts:
    """The parts on every way from a root to a node, by dominators: near linear in the size of the net."""

    study: Study
    leads: Mapping[str, Sequence[str]]
    middles: dict[str, Edge]

    @cached_property
    def _above(self) -> dict[str, str]:
        return dominators(self.leads, _ROOT)

    def to(self, node: str) -> set[Part]:
        """Parts that every way to ``node`` passes; empty if there is none."""
        found: set[Part] = set()
        here = node
        while here in self._above and here != _ROOT and self._above[here] != here:
            edge = self.middles.get(here)
            found |= _of_edge(self.study, edge) if edge is not None else _of_node(self.study, here)
            here = self._above[here]
        return found


def _cuts(study: Study, roots: Iterable[str], *, ground: bool) -> _Cuts:
    leads: dict[str, list[str]] = {_ROOT: list(roots)}
    middles: dict[str, Edge] = {}
    for i, edge in enumerate(study.graph.of(*CARRIES_SIGNAL)):
        if not edge.closed:
            continue
        if not ground and (study.graph.is_ground(edge.a) or study.graph.is_ground(edge.b)):
            continue
        middle = f"\0{i}"
        middles[middle] = edge
        for a, b in ((edge.a, edge.b), (edge.b, edge.a)):
            leads.setdefault(a, []).append(middle)
            leads.setdefault(middle, []).append(b)
    if not ground:
        for ident, supply in study.model.supplies.items():
            if supply.spec.kind == "inverter":
                leads.setdefault(f"{ident}.in", []).append(f"{ident}.out")
    return _Cuts(study, leads, middles)


@once
def _power(study: Study) -> _Cuts:
    live = [f"{i}.+" for i, s in study.model.supplies.items() if s.spec.kind in SOURCES]
    buses = [i for i, s in study.model.supplies.items() if s.spec.kind == "bus"]
    return _cuts(study, live or buses, ground=False)


@once
def _ground(study: Study) -> _Cuts:
    frames = [i for i, g in study.model.grounds.items() if g.kind == "structure"]
    ends = frames or [
        i for i, g in study.model.grounds.items() if g.joins is None and g.kind not in ("strap", "bond")
    ]
    backs = [f"{i}.-" for i, s in study.model.supplies.items() if s.spec.kind in (*SOURCES, "inverter")]
    return _cuts(study, [*ends, *backs], ground=True)


def _of_edge(study: Study, edge: Edge) -> set[Part]:
    if edge.section == "wire_runs":
        bundle = edge.run.bundle if edge.run is not None else None
        return {("wire", edge.ident), *([("harness", bundle)] if bundle is not None else [])}
    if edge.section == "grounds":
        return {("ground", edge.ident)}
    if edge.kind == "bond":
        return {("ground path of", edge.ident)}
    return _of_thing(study, edge.ident)


def _of_node(study: Study, node: str) -> set[Part]:
    ident, terminal = split_end(node)
    ground = study.model.grounds.get(ident)
    if ground is not None:
        return set() if ground.kind == "structure" else {("ground", ident)}
    junction = study.model.junctions.get(ident)
    if junction is not None and junction.spec.kind not in _WHOLE_JUNCTIONS and terminal:
        return {("terminal", node)}
    return _of_thing(study, ident)


def _of_thing(study: Study, ident: str) -> set[Part]:
    supply = study.model.supplies.get(ident)
    if supply is not None:
        kind = supply.spec.kind
        return {(kind, ident)} if kind in _PART_SUPPLIES and kind is not None else set()
    junction = study.model.junctions.get(ident)
    if junction is not None:
        # A plug and its receptacle are one, named by the first of the two; either may tell of the other.
        mate = junction.mates or _mates(study).get(ident, ident)
        return {(junction.spec.kind or "junction", min(ident, mate))}
    return set()


@once
def _mates(study: Study) -> dict[str, str]:
    return {j.mates: ident for ident, j in study.model.junctions.items() if j.mates is not None}


@once
def takes_out(study: Study, one: Shown) -> Parts:
    """Every part whose loss alone ends an indication."""
    found: set[Part] = {("indicator", one.indicator)}
    found |= _fed(study, one)
    readings = [_read(study, read) for read in one.reads]
    if readings:
        found |= set.intersection(*readings)
    for port in one.spec.ports or ():
        found |= wetted(study, f"{one.indicator}.{port}")
    return frozenset(found)


def _fed(study: Study, one: Shown) -> set[Part]:
    ends = one.item.spec.supply_terminals
    if one.spec.principle == "synchro receiver":
        return _rotor(study, one.indicator, list(one.spec.terminals or ()))
    if ends is None:
        return set()
    return _power(study).to(f"{one.indicator}.{ends[0]}") | _ground(study).to(f"{one.indicator}.{ends[1]}")


def _rotor(study: Study, ident: str, terminals: list[str]) -> set[Part]:
    """A rotor is fed from either side of its source, whichever way round it is joined."""
    found: set[Part] = set()
    for terminal in terminals[3:5]:
        found |= _power(study).to(f"{ident}.{terminal}") or _ground(study).to(f"{ident}.{terminal}")
    return found


def _read(study: Study, one: Indication) -> set[Part]:
    found: set[Part] = {(one.section.removesuffix("s"), one.source)}
    for leg in one.legs:
        found |= _on_leg(study, one.indicator, leg)
    if one.section == "senders":
        sender = study.model.senders[one.source]
        if sender.spec.principle == "synchro transmitter":
            found |= _rotor(study, one.source, list(terminals_of("senders", sender) or ()))
        elif sender.spec.supply_voltage is not None and len(sender.spec.terminals or ()) >= 3:
            found |= _power(study).to(f"{one.source}.{(sender.spec.terminals or ['+'])[0]}")
        for port in sender.spec.ports or ():
            found |= wetted(study, f"{one.source}.{port}")
    return found


def _on_leg(study: Study, indicator: str, leg: Leg) -> set[Part]:
    if leg.through_ground:
        # Straps may be doubled, so only what every way to the structure passes counts.
        return _ground(study).to(leg.reaches) | _ground(study).to(f"{indicator}.{leg.terminal}")
    found: set[Part] = set()
    for step in leg.steps:
        found |= _of_edge(study, step.edge)
        if step.edge.section != "junctions":
            for node in (step.near, step.far):
                if node in study.graph.nodes and study.graph.nodes[node]["section"] == "junctions":
                    found |= _of_node(study, node)
    return found


def wetted(study: Study, port: str) -> set[Part]:
    """Lines, fittings and taps of the fluid net a port belongs to: a burst of any of them takes its pressure."""
    return set(_nets(study).get(port, frozenset()))


@once
def _nets(study: Study) -> dict[str, Parts]:
    found: dict[str, Parts] = {}
    for nodes in study.graph.fluid.groups():
        parts: set[Part] = set()
        for node in nodes:
            ident = split_end(node)[0]
            if ident in study.model.taps:
                parts.add(("tap", ident))
            elif ident in study.model.fittings:
                parts.add(("fitting", ident))
            for edge in study.graph.at(node):
                if edge.line is not None:
                    parts.add(("line", edge.ident))
        whole = frozenset(parts)
        found.update(dict.fromkeys(nodes, whole))
    return found


@once
def loads_behind(study: Study) -> dict[Part, list[str]]:
    """The loads each part of the supply takes out."""
    power = _power(study)
    found: dict[Part, list[str]] = {}
    for ident, load in study.model.loads.items():
        feed = f"{ident}.{(load.spec.terminals or ['+'])[0]}"
        for part in power.to(feed):
            found.setdefault(part, []).append(ident)
    return found


def words(parts: Iterable[Part]) -> Iterator[str]:
    """Parts as a person names them, those a person would look at first in front."""
    order = (
        *PROTECTORS,
        "inverter",
        "switch",
        "contactor",
        "indicator",
        "sender",
        "probe",
        "tap",
        "line",
        "fitting",
        "plug",
        "harness",
        "ground",
    )
    rank = {kind: i for i, kind in enumerate(order)}
    for kind, ident in sorted(parts, key=lambda p: (rank.get(p[0], len(order)), p)):
        yield f"{kind} '{ident}'"
