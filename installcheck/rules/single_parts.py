"""Which single part takes out which indication: cuts of the circuit, the ground net and the fluid net.

A part is one whose loss alone ends the indication: on the only way from a source to the supply terminal, from the ground
terminal to the structure, from the indicator to what it reads, or joined to the tap it senses. Ways that are doubled do
not count, except where both run in one bundle or plug, which a cut of single wires does not see.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cached_property
from typing import TypeAlias

import networkx as nx

from ..document.installation import split_end, terminals_of
from ..graph.edges import CARRIES_SIGNAL, Edge
from ..graph.indications import Indication, Leg
from .case import Case
from .shown_facts import Shown

Part: TypeAlias = tuple[str, str]
"""Kind in trade words, and id."""
Parts: TypeAlias = frozenset[Part]

PROTECTORS = frozenset(("breaker", "fuse", "current limiter"))
_SOURCES = frozenset(("battery", "alternator", "generator"))
_PART_SUPPLIES = PROTECTORS | {"switch", "contactor", "inverter"}
_WHOLE_JUNCTIONS = frozenset(("plug", "disconnect", "selector switch", "averaging block"))
"""Junctions that fail as one; of others it is a single terminal that comes loose."""
_ROOT = "\0root"


@dataclass(frozen=True)
class _Cuts:
    """The parts on every way from a root to a node, by dominators: near linear in the size of the net."""

    case: Case
    net: nx.DiGraph[str]
    middles: dict[str, Edge]

    @cached_property
    def _above(self) -> dict[str, str]:
        above: dict[str, str] = nx.immediate_dominators(self.net, _ROOT)
        return above

    def to(self, node: str) -> set[Part]:
        """Parts that every way to ``node`` passes; empty if there is none."""
        found: set[Part] = set()
        here = node
        while here in self._above and here != _ROOT and self._above[here] != here:
            edge = self.middles.get(here)
            found |= _of_edge(self.case, edge) if edge is not None else _of_node(self.case, here)
            here = self._above[here]
        return found


def _cuts(case: Case, roots: Iterable[str], *, ground: bool) -> _Cuts:
    net: nx.DiGraph[str] = nx.DiGraph()
    net.add_node(_ROOT)
    net.add_edges_from((_ROOT, root) for root in roots)
    middles: dict[str, Edge] = {}
    for i, edge in enumerate(case.graph.edges):
        if edge.kind not in CARRIES_SIGNAL or not edge.closed:
            continue
        if not ground and (case.graph.is_ground(edge.a) or case.graph.is_ground(edge.b)):
            continue
        middle = f"\0{i}"
        middles[middle] = edge
        for a, b in ((edge.a, edge.b), (edge.b, edge.a)):
            net.add_edge(a, middle)
            net.add_edge(middle, b)
    if not ground:
        for ident, supply in case.model.supplies.items():
            if supply.spec.kind == "inverter":
                net.add_edge(f"{ident}.in", f"{ident}.out")
    return _Cuts(case, net, middles)


def _power(case: Case) -> _Cuts:
    live = [f"{i}.+" for i, s in case.model.supplies.items() if s.spec.kind in _SOURCES]
    buses = [i for i, s in case.model.supplies.items() if s.spec.kind == "bus"]
    return _cuts(case, live or buses, ground=False)


def _ground(case: Case) -> _Cuts:
    frames = [i for i, g in case.model.grounds.items() if g.kind == "structure"]
    ends = frames or [
        i for i, g in case.model.grounds.items() if g.joins is None and g.kind not in ("strap", "bond")
    ]
    backs = [f"{i}.-" for i, s in case.model.supplies.items() if s.spec.kind in (*_SOURCES, "inverter")]
    return _cuts(case, [*ends, *backs], ground=True)


def _of_edge(case: Case, edge: Edge) -> set[Part]:
    if edge.section == "wire_runs":
        bundle = edge.run.bundle if edge.run is not None else None
        return {("wire", edge.ident), *([("harness", bundle)] if bundle is not None else [])}
    if edge.section == "grounds":
        return {("ground", edge.ident)}
    if edge.kind == "bond":
        return {("ground path of", edge.ident)}
    return _of_thing(case, edge.ident)


def _of_node(case: Case, node: str) -> set[Part]:
    ident, terminal = split_end(node)
    ground = case.model.grounds.get(ident)
    if ground is not None:
        return set() if ground.kind == "structure" else {("ground", ident)}
    junction = case.model.junctions.get(ident)
    if junction is not None and junction.spec.kind not in _WHOLE_JUNCTIONS and terminal:
        return {("terminal", node)}
    return _of_thing(case, ident)


def _of_thing(case: Case, ident: str) -> set[Part]:
    supply = case.model.supplies.get(ident)
    if supply is not None:
        kind = supply.spec.kind
        return {(kind, ident)} if kind in _PART_SUPPLIES and kind is not None else set()
    junction = case.model.junctions.get(ident)
    if junction is not None:
        # A plug and its receptacle are one, named by the first of the two; either may tell of the other.
        mate = junction.mates or case.memo("mates", _mates).get(ident, ident)
        return {(junction.spec.kind or "junction", min(ident, mate))}
    return set()


def _mates(case: Case) -> dict[str, str]:
    return {j.mates: ident for ident, j in case.model.junctions.items() if j.mates is not None}


def takes_out(case: Case, one: Shown) -> Parts:
    """Every part whose loss alone ends an indication, computed once for each input."""
    return case.memo(f"parts of {one.indicator}\0{one.input}", lambda c: frozenset(_all(c, one)))


def _all(case: Case, one: Shown) -> set[Part]:
    found: set[Part] = {("indicator", one.indicator)}
    found |= _fed(case, one)
    readings = [_read(case, read) for read in one.reads]
    if readings:
        found |= set.intersection(*readings)
    for port in one.spec.ports or ():
        found |= wetted(case, f"{one.indicator}.{port}")
    return found


def _fed(case: Case, one: Shown) -> set[Part]:
    ends = one.item.spec.supply_terminals
    if one.spec.principle == "synchro receiver":
        return _rotor(case, one.indicator, list(one.spec.terminals or ()))
    if ends is None:
        return set()
    power, ground = case.memo("power cuts", _power), case.memo("ground cuts", _ground)
    return power.to(f"{one.indicator}.{ends[0]}") | ground.to(f"{one.indicator}.{ends[1]}")


def _rotor(case: Case, ident: str, terminals: list[str]) -> set[Part]:
    """A rotor is fed from either side of its source, whichever way round it is joined."""
    power, ground = case.memo("power cuts", _power), case.memo("ground cuts", _ground)
    found: set[Part] = set()
    for terminal in terminals[3:5]:
        found |= power.to(f"{ident}.{terminal}") or ground.to(f"{ident}.{terminal}")
    return found


def _read(case: Case, one: Indication) -> set[Part]:
    found: set[Part] = {(one.section.removesuffix("s"), one.source)}
    for leg in one.legs:
        found |= _on_leg(case, one.indicator, leg)
    if one.section == "senders":
        sender = case.model.senders[one.source]
        if sender.spec.principle == "synchro transmitter":
            found |= _rotor(case, one.source, list(terminals_of("senders", sender) or ()))
        elif sender.spec.supply_voltage is not None and len(sender.spec.terminals or ()) >= 3:
            power = case.memo("power cuts", _power)
            found |= power.to(f"{one.source}.{(sender.spec.terminals or ['+'])[0]}")
        for port in sender.spec.ports or ():
            found |= wetted(case, f"{one.source}.{port}")
    return found


def _on_leg(case: Case, indicator: str, leg: Leg) -> set[Part]:
    if leg.through_ground:
        # Straps may be doubled, so only what every way to the structure passes counts.
        ground = case.memo("ground cuts", _ground)
        return ground.to(leg.reaches) | ground.to(f"{indicator}.{leg.terminal}")
    found: set[Part] = set()
    for step in leg.steps:
        found |= _of_edge(case, step.edge)
        if step.edge.section != "junctions":
            for node in (step.near, step.far):
                if (
                    node in case.graph.multigraph
                    and case.graph.multigraph.nodes[node]["section"] == "junctions"
                ):
                    found |= _of_node(case, node)
    return found


def wetted(case: Case, port: str) -> set[Part]:
    """Lines, fittings and taps of the fluid net a port belongs to: a burst of any of them takes its pressure."""
    nets = case.memo("fluid nets", _nets)
    return set(nets.get(port, frozenset()))


def _nets(case: Case) -> dict[str, Parts]:
    found: dict[str, Parts] = {}
    for nodes in nx.connected_components(case.graph.fluid):
        parts: set[Part] = set()
        for node in nodes:
            ident = split_end(node)[0]
            if ident in case.model.taps:
                parts.add(("tap", ident))
            elif ident in case.model.fittings:
                parts.add(("fitting", ident))
            for edge in case.graph.at(node):
                if edge.line is not None:
                    parts.add(("line", edge.ident))
        whole = frozenset(parts)
        found.update(dict.fromkeys(nodes, whole))
    return found


def loads_behind(case: Case) -> dict[Part, list[str]]:
    """The loads each part of the supply takes out."""
    power = case.memo("power cuts", _power)
    found: dict[Part, list[str]] = {}
    for ident, load in case.model.loads.items():
        if load.status == "removed":
            continue
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
