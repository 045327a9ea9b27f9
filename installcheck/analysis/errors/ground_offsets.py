"""What a sensing return shares with other currents, as solved, and as a voltmeter found it."""

from __future__ import annotations

from collections.abc import Iterator

from ...dataclass import dataclass
from ...graph import Edge, Indication
from ...model.comparing import same
from ...model.devices import Curve
from ...model.quantities import Quantity
from ...physics.network_system import driven_otherwise
from ...physics.networks import voltages
from ..circuit.measuring_inputs import Meter
from ..circuit.solved import Circuit
from ..evidence.measured_ohms import what_of
from .reading import FloatArray, element_of, read

_FEW_AMPERES = 0.001
"""A, current beside the sensing current below which a segment is not called shared."""


_FELT = 0.01
"""V that a source of 1 V must move two ends apart to be taken for what stands between them."""


@dataclass(frozen=True, slots=True)
class Shared:
    """A segment of a sensing return and what else flows there: ohm, A of others, V it offsets."""

    edge: Edge
    ohm: float
    amperes: float
    volts: float


def shared_segments(net: Circuit, indication: Indication) -> list[Shared]:
    """Segments of the return that carry other currents, the one with the largest drop first."""
    element = element_of(net.study, indication.source)
    own = abs(net.current(element) or 0.0) if element is not None else 0.0
    found = []
    for edge in _return(indication):
        current, ohm = net.current(edge), net.resistance(edge)
        if current is None or ohm is None:
            continue
        others = abs(current) - own
        if others > _FEW_AMPERES:
            found.append(Shared(edge, ohm, others, others * ohm))
    return sorted(found, key=lambda s: -s.volts)


def _return(indication: Indication) -> list[Edge]:
    return [s.edge for leg in indication.legs if leg.through_ground for s in leg.steps]


def measured_shift(
    net: Circuit, indication: Indication, meter: Meter, curve: Curve, shown: float
) -> tuple[float, str]:
    """What a voltage measured along the return, beyond the one solved, adds to the reading [SI]; and between which ends."""
    edges = _return(indication)
    nodes = {n for e in edges for n in (e.a, e.b)}
    worst, where = 0.0, ""
    for one in net.study.model.measured:
        if one.between is None or one.connected is False or what_of(one) != "voltage":
            continue
        if any(net.study.model.find(e.partition(".")[0]) is None for e in one.between):
            continue
        start, end = (net.study.graph.node_of(e) for e in one.between)
        volts = [net.voltage(n) for n in (start, end)]
        if not {start, end} <= nodes or not isinstance(one.value, Quantity) or None in volts:
            continue
        solved = (volts[0] or 0.0) - (volts[1] or 0.0)
        more = abs(float(one.value)) - abs(solved)
        if more <= 0 or start not in net.nodes or end not in net.nodes:
            continue
        for moved in _driven(net, edges, (start, end), solved, more):
            value = read(meter, curve, moved).value
            if value is not None and abs(value - shown) > abs(worst):
                worst, where = value - shown, " to ".join(one.between)
    return worst, where


def _driven(
    net: Circuit, edges: list[Edge], ends: tuple[str, str], solved: float, more: float
) -> Iterator[FloatArray]:
    """Node voltages with ``more`` volts on top of what is solved between two ends, either way where that is nothing.

    A source is put into an edge of the return that moves the two ends apart, of the size that makes up the voltage.
    """
    a, b = (net.nodes[end] for end in ends)
    best, apart = None, 0.0
    for edge in edges:
        number = net.branch_of.get(edge)
        if number is None or not {edge.a, edge.b} & set(ends):
            continue
        moved = _with_emf(net, number, 1.0)
        gained = float(moved[a] - moved[b]) - solved
        if abs(gained) > abs(apart):
            best, apart = number, gained
    if best is None or abs(apart) < _FELT:
        return
    for side in (1.0, -1.0):
        if same(solved, 0.0) or (side > 0) == (solved > 0):
            yield _with_emf(net, best, side * more / apart)


def _with_emf(net: Circuit, number: int, volts: float) -> FloatArray:
    emf = net.solution.network.emf.copy()
    emf[number] += volts
    return voltages(driven_otherwise(net.solution.system, net.solution.network.with_figures(emf=emf)))
