"""From the edges of the graph to the branches and draws of a direct-current network, each with what is assumed."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Final, NamedTuple, TypeAlias

import numpy as np

from ...dataclass import dataclass
from ...graph import Edge, total_length
from ...graph.edges import EdgeKind
from ...model.power import Load
from ...model.things import Grounding
from ...model.wiring import WireRun
from ...physics.conductors import wire_resistance
from ...physics.network_parts import SMALLEST_RESISTANCE, DrawKind
from .. import missing
from ..ignition import is_ignition_lead
from ..missing import Missing
from ..study import Point, Study, once
from .leads import conductor_ohms, ends_ohms, temperature_coefficient

_DIRECT: Final[tuple[EdgeKind, ...]] = (
    "conductor",
    "shield",
    "joint",
    "contact",
    "element",
    "supply",
    "load",
    "bond",
    "spool",
)
"""Edges that are part of the direct-current network: no thermocouples, no alternating windings, and no coils, which
:mod:`measuring` lays as the circuit the indicator really has."""
THERMOELEMENTS = frozenset(("chromel", "alumel", "iron", "constantan", "nicrosil", "nisil"))
BONDING_JOINT = 0.003
"""ohm, most a bonding joint may have: AC 43.13-1B 11-189. Taken for a bare thread or bolts whose resistance is not given."""
TRANSDUCER_CURRENT = 0.010
"""A, assumed of a transducer whose supply current is not given; no public figure, most of its kind take less."""

BODY, STRAP, CONTACT = missing.SENDER_BODY, missing.GROUND_RESISTANCE, missing.JOINT_CONTACT
LOAD_CURRENT, TRANSDUCER = missing.LOAD_CURRENT, missing.SENDER_SUPPLY_CURRENT

_ASSUMED_GOOD = frozenset(("thread", "bolts"))


class Branch(NamedTuple):
    """A branch under assembly, between two nodes; resistances in ohm, emf in V.

    ``fixed`` is that of devices, ``cold`` of conductors at 20 degC, ``heat`` what the zones add to it and ``slope`` each degC
    of its own, ``contact`` that of joints, contacts, bonds and the ends of wires.
    """

    start: int
    end: int
    fixed: float
    cold: float
    heat: float
    slope: float
    contact: float
    emf: float
    is_open: bool
    edge: Edge | None


_new = tuple.__new__
"""Makes a named tuple of a tuple at once, by the thousand."""


class Draw(NamedTuple):
    """A draw under assembly; ``sensing`` marks what belongs to a measuring circuit: a loop's signal, a transducer's supply."""

    start: int
    end: int
    value: float
    kind: DrawKind
    edge: Edge | None
    sensing: bool


@dataclass(frozen=True, slots=True)
class Undrawn:
    """A device that is on between two nodes and does not say what it draws: the figure that is missing."""

    figure: Missing
    start: int
    end: int


class Assembly:
    """Nodes, branches and draws of one installation at one operating point.

    ``missing`` holds, per edge, the data whose place an assumption takes.
    """

    def __init__(
        self,
        study: Study,
        point: Point,
        open_contacts: frozenset[str],
        dead: frozenset[str],
        volts: Mapping[str, float],
        carried: bool,
    ) -> None:
        self.volts, self.carried = volts, carried
        self.study, self.point, self.dead, self.open_contacts = study, point, dead, open_contacts
        self.nodes: dict[str, int] = {}
        self.branches: list[Branch] = []
        self.draws: list[Draw] = []
        self.branch_of: dict[Edge, int] = {}
        self.draw_of: dict[Edge, int] = {}
        self.missing: dict[Edge, tuple[Missing, ...]] = {}
        self.resistive_loads: list[int] = []
        self.undrawn: list[Undrawn] = []
        self.batteries: list[int] = []
        self.alternators: list[int] = []
        self.loads_on = _loads_on(study, point)
        self._conductors = _conductors(study, point)

    def node(self, name: str) -> int:
        """Number of a node, given on first use."""
        return self.nodes.setdefault(name, len(self.nodes))

    def branch(
        self,
        a: str,
        b: str,
        edge: Edge | None = None,
        *,
        fixed: float = 0.0,
        cold: float = 0.0,
        heat: float = 0.0,
        slope: float = 0.0,
        contact: float = 0.0,
        emf: float = 0.0,
        is_open: bool = False,
    ) -> int:
        """Lay a branch from ``a`` to ``b``; its number."""
        nodes, number = self.nodes, len(self.branches)
        start = nodes.setdefault(a, len(nodes))
        end = nodes.setdefault(b, len(nodes))
        laid = (start, end, fixed, cold, heat, slope, contact, emf, is_open, edge)
        self.branches.append(_new(Branch, laid))
        if edge is not None:
            self.branch_of[edge] = number
        return number

    def draw(
        self, a: str, b: str, value: float, kind: DrawKind, edge: Edge | None = None, *, sensing: bool = False
    ) -> int:
        """Lay a draw from ``a`` to ``b``; its number."""
        number = len(self.draws)
        self.draws.append(Draw(self.node(a), self.node(b), value, kind, edge, sensing))
        if edge is not None:
            self.draw_of[edge] = number
        return number

    def lacks(self, edge: Edge, *data: Missing) -> None:
        """Note data an edge lacks."""
        known = self.missing.get(edge)
        self.missing[edge] = tuple(dict.fromkeys((*known, *data) if known else data))

    def edge(self, edge: Edge) -> None:
        """Lay what an edge of the graph stands for; elements of senders are left to :mod:`measuring`."""
        if edge.kind == "conductor":
            self._conductor(edge)
        elif edge.kind == "shield":
            self._shield(edge)
        elif edge.kind == "joint" and edge.section != "probes":
            self._contact(edge)
        elif edge.kind == "contact":
            is_open = not edge.closed or (edge.section == "supplies" and edge.ident in self.open_contacts)
            self._contact(edge, is_open=is_open)
        elif edge.kind == "bond":
            self._bond(edge)
        elif edge.kind == "spool":
            if edge.resistance is None:
                self.lacks(edge, missing.JOINT_SPOOL)
            self.branch(edge.a, edge.b, edge, fixed=_least(edge.resistance))
        elif edge.kind == "supply":
            self._supply(edge)
        elif edge.kind == "load":
            self._load(edge)
        elif is_switch(self.study, edge):
            self.branch(edge.a, edge.b, edge, contact=SMALLEST_RESISTANCE)

    def _conductor(self, edge: Edge) -> None:
        cold, heat, slope, contact, lacking = self._conductors[edge]
        if lacking:
            self.lacks(edge, *lacking)
        is_open = bool(self.dead) and self._on_dead_bus(edge)
        self.branch(edge.a, edge.b, edge, cold=cold, heat=heat, slope=slope, contact=contact, is_open=is_open)

    def _on_dead_bus(self, edge: Edge) -> bool:
        """Whether a conductor ends at a bus that is said to give nothing: what feeds it and what it feeds are parted from it."""
        supplies = self.study.model.supplies
        ends = {node.partition(".")[0] for node in (edge.a, edge.b)} & self.dead
        return any(supplies[i].spec.kind == "bus" for i in ends)

    def _shield(self, edge: Edge) -> None:
        run = edge.run
        assert run is not None
        length = total_length(run)
        if run.spec.shield_resistance is not None and length:
            cold = float(run.spec.shield_resistance) * length
            self.branch(edge.a, edge.b, edge, cold=cold, slope=cold * _coefficient(edge))

    def _contact(self, edge: Edge, *, is_open: bool = False) -> None:
        if edge.resistance is None:
            place = (edge.section, edge.ident)
            words = ("contact_resistance", "inner_resistance")
            said = any(self.study.document.declared_unknown((*place, word)) for word in words)
            unknown = (
                missing.SUPPLY_RESISTANCE if edge.section == "supplies" else missing.JOINT_CONTACT_UNKNOWN
            )
            self.lacks(edge, unknown if said else CONTACT)
        self.branch(edge.a, edge.b, edge, contact=_least(edge.resistance), is_open=is_open)

    def _bond(self, edge: Edge) -> None:
        resistance = edge.resistance
        if resistance is None and edge.section == "grounds":
            ground = self.study.model.grounds[edge.ident]
            unknown = self.study.document.declared_unknown(("grounds", edge.ident, "resistance"))
            if ground.gauge is not None and ground.length is not None and not unknown:
                resistance = wire_resistance(str(ground.gauge), float(ground.length))
            else:
                self.lacks(edge, STRAP)
        elif resistance is None:
            grounding: Grounding | None = getattr(
                self.study.model.section(edge.section)[edge.ident], "grounding", None
            )
            place = (edge.section, edge.ident, "grounding", "resistance")
            unknown = self.study.document.declared_unknown(place)
            if grounding is not None and grounding.through in _ASSUMED_GOOD and not unknown:
                resistance = BONDING_JOINT
            else:
                self.lacks(edge, BODY)
        self.branch(edge.a, edge.b, edge, contact=_least(resistance))

    def _supply(self, edge: Edge) -> None:
        spec = self.study.model.supplies[edge.ident].spec
        if spec.voltage is None:
            self.lacks(edge, missing.SUPPLY_VOLTAGE)
            return
        dead = edge.ident in self.dead
        number = self.branch(
            edge.b,
            edge.a,
            edge,
            fixed=0.0 if edge.resistance is None else _least(edge.resistance),
            emf=self.volts.get(edge.ident, float(spec.voltage)),
            is_open=dead,
        )
        if not dead:
            (self.batteries if spec.kind == "battery" else self.alternators).append(number)

    def _load(self, edge: Edge) -> None:
        model = self.study.model
        if edge.section == "loads":
            load = model.loads[edge.ident]
            if edge.ident in self.loads_on and load.connected_at is None:
                self.load(edge, load, edge.a, edge.b)
        elif edge.section == "indicators":
            current = model.indicators[edge.ident].spec.supply_current
            self._draw_if_joined(edge, current, missing.INDICATOR_SUPPLY_CURRENT)
        elif edge.section == "supplies":
            coil = model.supplies[edge.ident].spec.coil_current
            if edge.ident not in self.open_contacts:
                self._draw_if_joined(edge, coil, missing.CONTACTOR_COIL)
        elif edge.section == "senders":
            stated = model.senders[edge.ident].spec.supply_current
            if stated is None:
                self.lacks(edge, TRANSDUCER)
            amps = TRANSDUCER_CURRENT if stated is None else float(stated)
            if _joined(self.study, edge):
                self.draw(edge.a, edge.b, amps, DrawKind.CURRENT_LOAD, edge, sensing=True)

    def _draw_if_joined(self, edge: Edge, current: float | None, figure: Missing) -> None:
        """A device whose supply is not wired in the document draws nothing."""
        joined = _joined(self.study, edge)
        if current is None:
            self.lacks(edge, figure)
            if joined:
                self.undrawn.append(Undrawn(figure, self.node(edge.a), self.node(edge.b)))
        if joined:
            self.draw(edge.a, edge.b, float(current or 0.0), DrawKind.CURRENT_LOAD, edge)

    def load(self, edge: Edge, load: Load, a: str, b: str) -> None:
        """Lay a load between two nodes as the document describes it."""
        spec, count = load.spec, load.quantity or 1
        if spec.current is not None:
            self.draw(a, b, float(spec.current) * count, DrawKind.CURRENT_LOAD, edge)
        elif spec.power is not None:
            self.draw(a, b, float(spec.power) * count, DrawKind.POWER_LOAD, edge)
        elif spec.resistance is not None and spec.resistance > 0:
            self.resistive_loads.append(self.branch(a, b, edge, fixed=float(spec.resistance) / count))
        else:
            self.lacks(edge, LOAD_CURRENT)
            self.undrawn.append(Undrawn(LOAD_CURRENT, self.node(a), self.node(b)))


_Parts: TypeAlias = "tuple[float, float, float, float, tuple[Missing, ...]]"


@once
def _conductors(study: Study, point: Point) -> dict[Edge, _Parts]:
    """What every conductor of the network is at a point."""
    return {e: _conductor_parts(study, e, point) for e in direct_edges(study) if e.kind == "conductor"}


@once
def _conductor_parts(study: Study, edge: Edge, point: Point) -> _Parts:
    """Of a conductor ``cold``, ``heat``, ``slope`` and ``contact`` of its branch, and what is missing of them."""
    ohms, ends = conductor_ohms(study, edge, point), ends_ohms(study, edge)
    cold = 0.0 if ohms.cold is None else ohms.cold
    heat = 0.0 if ohms.hot is None else ohms.hot - cold
    cold = max(cold, SMALLEST_RESISTANCE)
    return cold, heat, cold * _coefficient(edge), ends.cold or 0.0, (*ohms.missing, *ends.missing)


def _coefficient(edge: Edge) -> float:
    return temperature_coefficient(edge.metal) or 0.0


@once
def direct_edges(study: Study) -> tuple[Edge, ...]:
    """The edges of the direct-current network in document order; no legs of thermocouples, and no leads to spark plugs."""
    return tuple(
        edge for edge in study.graph.of(*_DIRECT) if edge.kind != "conductor" or _is_direct(study, edge)
    )


def _is_direct(study: Study, edge: Edge) -> bool:
    return edge.run is not None and not (is_thermoelement(edge) or is_ignition_lead(study, edge.run))


def _least(resistance: float | None) -> float:
    """A resistance the solver tells from an ideal connection, so that every branch keeps a current of its own."""
    return max(float(resistance or 0.0), SMALLEST_RESISTANCE)


def is_thermoelement(edge: Edge) -> bool:
    """Whether a conductor is a leg of a thermocouple circuit, which the direct-current network leaves out."""
    spec = edge.run.spec if edge.run is not None else None
    return spec is not None and (
        spec.kind == "thermocouple lead" or spec.thermocouple is not None or edge.metal in THERMOELEMENTS
    )


def is_switch(study: Study, edge: Edge) -> bool:
    """Whether an edge is the contact of a pressure or temperature switch, taken to be closed: an hour meter runs through it."""
    return edge.kind == "element" and study.model.senders[edge.ident].spec.principle == "switch"


@once
def _joined(study: Study, edge: Edge) -> bool:
    return wired(study, edge.a) and wired(study, edge.b)


def wired(study: Study, node: str) -> bool:
    """Whether anything outside the device itself meets a terminal: a conductor, a joint, a bond."""
    ident = node.partition(".")[0]
    return any(e.ident != ident or e.kind == "bond" for e in study.graph.at(node))


def runs_with_own_current(study: Study) -> list[tuple[str, WireRun]]:
    """Runs whose current is written on them because what they feed is not described."""
    return [(ident, run) for ident, run in study.model.wire_runs.items() if run.current is not None]


def _loads_on(study: Study, point: Point) -> frozenset[str]:
    listed = point.given.loads_on if point.given is not None else None
    if listed is not None:
        return frozenset(listed)
    return frozenset(ident for ident, load in study.model.loads.items() if load.duty != "intermittent")


def as_array(values: Sequence[float]) -> np.ndarray[tuple[int], np.dtype[np.float64]]:
    """Some numbers as an array."""
    return np.array(values, dtype=np.float64)
