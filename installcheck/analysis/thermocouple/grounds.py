"""The second ground of a grounded junction: what stands between the engine and an input that grounds its negative leg."""

from __future__ import annotations

from collections.abc import Iterable

from ...dataclass import dataclass
from ...graph import Edge
from ...graph.walk import Step, Walk
from .. import missing
from ..circuit.assembly import is_thermoelement
from ..circuit.solved import Circuit, circuit
from ..missing import Missing
from ..study import Point, Study
from .circuits import Loop
from .readings import Emf

_ALONG = frozenset(("bond", "conductor", "joint", "contact"))
_METAL = _ALONG - {"bond"}
_NOTHING_V = 1e-7
"""V: a four-hundredth of a degree of any couple."""


@dataclass(frozen=True, slots=True)
class Offset:
    """What stands in series with a couple because both its ends are grounded.

    Attributes:
        volts: potential of the junction's ground less that of the input's, in V; ``None`` if it cannot be known.
        shared: ids of the joints and runs whose drop it is, the largest first.
        measured: whether it was measured, and is larger than what the circuit gives.
        missing: data to add where it cannot be known.
    """

    volts: float | None
    shared: tuple[str, ...] = ()
    measured: bool = False
    missing: tuple[Missing, ...] = ()


def tip_grounded(loop: Loop) -> bool:
    """Whether the junction stands on ground: as said, or because what it touches is."""
    junction = loop.probe.spec.junction
    return junction == "grounded" or (junction is None and loop.probe.grounding is not None)


def on_ground(study: Study, loop: Loop) -> bool:
    """Whether a circuit stands on ground anywhere, at its junction, by a leg or in its gauge."""
    return tip_grounded(loop) or leg_grounded(study, loop)


def leg_grounded(study: Study, loop: Loop) -> bool:
    """Whether a leg stands on ground, in its gauge or by a wire."""
    return loop.spec.input_grounding == "grounded negative" or leg_ground(study, loop) is not None


def leg_ground(study: Study, loop: Loop) -> str | None:
    """The ground that a wire joins to a leg; ``None`` where none does."""
    own = {p.edge for p in loop.pieces if p.edge is not None}
    nodes = dict.fromkeys(n for p in loop.pieces for n in (p.meter, p.hot) if n)

    def leaving(node: str) -> Iterable[Edge]:
        return (e for e in study.graph.at(node) if e.kind in _METAL and e.closed and e not in own)

    return Walk(nodes, leaving).first(study.graph.is_ground)


def twice_grounded(study: Study, loop: Loop) -> bool:
    """Whether junction and a leg are both grounded, so that the difference of the grounds adds to the couple."""
    return tip_grounded(loop) and leg_grounded(study, loop)


def ground_offset(study: Study, loop: Loop, point: Point) -> Offset | None:
    """What the two grounds of a circuit add at a point; ``None`` where it has not two."""
    if not twice_grounded(study, loop):
        return None
    net = circuit(study, point)
    tip, gauge = _tip(net, loop), _gauge(study, net, loop)
    measured = _measured(study, tip, gauge)
    if tip is None or gauge is None:
        if measured is not None:
            return Offset(measured, measured=True)
        sides = ((missing.PROBE_GROUND, tip), (missing.INDICATOR_GROUND, gauge))
        return Offset(None, missing=tuple(word for word, node in sides if node is None))
    high, low = net.voltage(tip), net.voltage(gauge)
    way = _way(study, net, gauge, tip)
    if high is None or low is None or way is None:
        return (
            Offset(measured, measured=True)
            if measured is not None
            else Offset(None, missing=(missing.PROBE_GROUND,))
        )
    solved = high - low
    drops = sorted(way, key=lambda step: -_drop(net, step))
    shared = tuple(dict.fromkeys(step.edge.ident for step in drops if _drop(net, step) > _NOTHING_V))
    if measured is not None and abs(measured) > abs(solved):
        return Offset(measured, shared, measured=True)
    # What the body of the probe adds counts for nothing: no current flows through it.
    unsaid = net.lacking(step.edge for step in way if step.edge.ident != loop.probe_id)
    return Offset(None if unsaid else solved, shared, missing=unsaid)


def with_offset(emf: Emf, offset: Offset | None) -> Emf:
    """The emf at the terminals with what the grounds add to it."""
    if emf.mv is None or offset is None or offset.volts is None:
        return emf
    return Emf(emf.mv + 1000 * offset.volts, emf.doubt_mv)


def _tip(net: Circuit, loop: Loop) -> str | None:
    """Node of the body of the probe, which its junction touches; ``None`` where no ground of it is told."""
    node = f"{loop.probe_id}.case"
    return node if node in net.nodes else None


def _gauge(study: Study, net: Circuit, loop: Loop) -> str | None:
    """Node a leg is grounded at: the ground a wire joins to it, else the input's supply ground, or its case."""
    if loop.spec.input_grounding != "grounded negative":
        return leg_ground(study, loop)
    ident = loop.indication.indicator
    supply = study.model.indicators[ident].spec.supply_terminals
    names = ([supply[1]] if supply is not None else []) + ["case"]
    return next((node for node in (f"{ident}.{name}" for name in names) if node in net.nodes), None)


def _way(study: Study, net: Circuit, start: str, end: str) -> tuple[Step, ...] | None:
    def leaving(node: str) -> Iterable[Edge]:
        return (
            e
            for e in study.graph.at(node)
            if e in net.branch_of and e.kind in _ALONG and not is_thermoelement(e)
        )

    walk = Walk((start,), leaving)
    return walk.way(end) if walk.first(lambda node: node == end) is not None else None


def _drop(net: Circuit, step: Step) -> float:
    near, far = net.voltage(step.near), net.voltage(step.far)
    return abs(near - far) if near is not None and far is not None else 0.0


def _measured(study: Study, tip: str | None, gauge: str | None) -> float | None:
    """Voltage measured between the two grounds in V, that of the junction's less that of the input's."""
    engine, panel = {tip} - {None}, {gauge} - {None}
    if tip is not None:
        engine |= {e.other(tip) for e in study.graph.at(tip) if e.kind == "bond"}
    if gauge is not None:
        panel |= {e.other(gauge) for e in study.graph.at(gauge) if e.kind in _ALONG}
    for one in study.model.measured:
        if one.between is None or isinstance(one.value, str) or one.value.kind != "voltage":
            continue
        ends = study.graph.nodes_of(one.between)
        if len(ends) != 2:
            continue
        if ends[0] in engine and ends[1] in panel:
            return float(one.value)
        if ends[1] in engine and ends[0] in panel:
            return -float(one.value)
    return None
