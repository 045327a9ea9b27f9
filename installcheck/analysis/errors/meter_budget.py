"""Voltmeters and ammeters on a shunt: what the leads, the ground, the feed and the shunt do to the reading."""

from __future__ import annotations

from collections.abc import Iterator

from ...dataclass import dataclass
from ...document.source import DocPath
from ...graph.edges import CARRIES_SIGNAL, Edge
from ...graph.walk import Step, Walk
from ...model.devices import InputSpec
from ...model.fields import Measure
from ...model.installation import split_end
from ...physics.scale import OffScaleError
from .. import missing
from ..circuit.solved import Circuit, circuit
from ..missing import Missing
from ..sender_curves import shown
from ..study import Point, Study, once
from .error_budget import Cause, ErrorBudget, tolerance

_KINDS = {"bus voltage": ("voltage", "V"), "load current": ("current", "A")}
_SOURCES = frozenset(("bus", "battery", "alternator", "generator"))
_PROTECTORS = frozenset(("fuse", "breaker", "current limiter"))
_NOTHING = 1e-9
"""Share of the true value below which a cause is rounding [-]."""


@dataclass(frozen=True, slots=True, eq=False)
class PlainMeter:
    """A voltage input that shows the bus, or the current through a shunt.

    Attributes:
        ident, input, spec: the indicator and its input.
        plus, minus: the way from each of its two terminals to what it is joined to; ``None`` if it is joined to nothing.
    """

    ident: str
    input: str
    spec: InputSpec
    plus: tuple[Step, ...] | None
    minus: tuple[Step, ...] | None

    @property
    def name(self) -> str:
        """As an indication is named."""
        return f"{self.ident} {self.input}".strip()

    @property
    def path(self) -> DocPath:
        """Where the document tells of the input."""
        return ("indicators", self.ident, *(("inputs", self.input) if self.input else ()))

    @property
    def measure(self) -> Measure | None:
        """What it is of."""
        return self.spec.measures

    @property
    def source(self) -> str:
        """The bus or shunt it reads; empty if none reaches it."""
        return split_end(self.plus[-1].far)[0] if self.plus else ""

    @property
    def leads(self) -> list[Edge]:
        """What stands between it and what it reads."""
        return [step.edge for way in (self.plus, self.minus) for step in way or ()]


@once
def plain_meters(study: Study) -> tuple[PlainMeter, ...]:
    """Every voltage input of the bus voltage or a load's current that reads no sender."""
    reading = {(one.indicator, one.input) for one in study.indications}
    found = []
    for ident in study.model.indicators:
        for name, spec in study.inputs(ident):
            ends = spec.terminals or ()
            own = spec.principle == "voltage" and spec.measures in _KINDS and (ident, name) not in reading
            if own and len(ends) == 2:
                ways = [_way(study, f"{ident}.{end}", spec.measures) for end in ends]
                found.append(PlainMeter(ident, name, spec, *ways))
    return tuple(found)


def _way(study: Study, start: str, measure: Measure | None) -> tuple[Step, ...] | None:
    """The way from a terminal to the shunt, or to the bus or ground, that it is joined to."""

    def wanted(node: str) -> bool:
        ident = split_end(node)[0]
        joint, supply = study.model.junctions.get(ident), study.model.supplies.get(ident)
        if measure == "load current":
            return joint is not None and joint.spec.kind == "shunt"
        return study.graph.is_ground(node) or (supply is not None and supply.spec.kind in _SOURCES)

    walk = Walk([start], study.graph.at, lambda edge, _: edge.kind in CARRIES_SIGNAL and edge.closed)
    node = walk.first(wanted)
    return walk.way(node) if node is not None else None


def meter_budgets(study: Study) -> list[ErrorBudget]:
    """A budget for each at each operating point: of what the point says is true, else of what is solved."""
    found = []
    for one in plain_meters(study):
        for point in study.points:
            reading = point.reading(one.measure)
            true = (
                float(reading)
                if reading is not None and reading.kind == _kind(one)[0]
                else solved_reading(study, one, point)
            )
            if true is not None:
                found.append(meter_budget(study, one, point, true))
    return found


def _kind(one: PlainMeter) -> tuple[str, str]:
    return _KINDS[one.measure or ""]


def solved_reading(study: Study, one: PlainMeter, point: Point) -> float | None:
    """V of the bus over structure, or A through the shunt, as solved at a point; ``None`` if either is not in the network."""
    net = circuit(study, point)
    if one.measure == "load current":
        current = _through_shunt(study, net, one)
        return None if current is None else abs(current)
    bus, ground = (_end_voltage(net, way) for way in (one.plus, one.minus))
    return None if bus is None or ground is None else max(bus, ground) - _structure(study, net)


def _through_shunt(study: Study, net: Circuit, one: PlainMeter) -> float | None:
    edge = _shunt(study, one.source)
    return net.current(edge) if edge is not None else None


def _shunt(study: Study, ident: str) -> Edge | None:
    return next((e for e in study.graph.by_thing.get(("junctions", ident), ()) if e.kind == "spool"), None)


def _end_voltage(net: Circuit, way: tuple[Step, ...] | None) -> float | None:
    return net.voltage(way[-1].far) if way else None


def _structure(study: Study, net: Circuit) -> float:
    """V of the structure in the solved network, 0 if there is none."""
    grounds = study.model.grounds
    found = (net.voltage(ident) for ident, ground in grounds.items() if ground.kind == "structure")
    return next((volts for volts in found if volts is not None), 0.0)


def meter_budget(study: Study, one: PlainMeter, point: Point, true: float) -> ErrorBudget:
    """The budget of a voltmeter or ammeter at a true value [V, A]."""
    net = circuit(study, point)
    kind, usual = _kind(one)
    lacks: list[Missing] = [] if one.plus and one.minus else [missing.INDICATOR_CIRCUIT]
    ohms = _lead_ohms(study, net, one, lacks)
    signed: tuple[Cause, ...] | None = None
    value: float | None = None
    dial, beyond = one.spec.scale, ""
    try:
        told = _ammeter if kind == "current" else _voltmeter
        signed = told(study, net, one, true, ohms, lacks) if one.plus and one.minus else None
    except OffScaleError as off:
        beyond = off.side
    causes = [c for c in signed or () if abs(c.amount) > _NOTHING * max(1.0, abs(true))]
    if signed is not None:
        value = true + sum(c.amount for c in causes)
    causes += _tolerances(study, one, true, lacks)
    if value is not None and dial is not None and dial.lowest.kind == kind:
        beyond = "below" if value < dial.lowest else "above" if value > dial.highest else ""
    if beyond or value is None:
        value, causes = None, []
    units = (one.spec.budget, dial.highest if dial is not None else None)
    return ErrorBudget(
        one.name,
        one.source,
        one.measure,
        point.name,
        one.path,
        kind,
        next((q.unit for q in units if q is not None and q.kind == kind), usual),
        true,
        value,
        tuple(causes),
        beyond,
        tuple(dict.fromkeys(lacks)),
    )


def _lead_ohms(study: Study, net: Circuit, one: PlainMeter, lacks: list[Missing]) -> float:
    """Ohm of both leads, their fuses included; an ammeter of few ohms asks what those have."""
    lacks += [m for m in net.lacking(one.leads) if m != missing.JOINT_CONTACT]
    if one.measure == "load current" and any(_is_fuse_unsaid(study, edge) for edge in one.leads):
        lacks.append(missing.SENSE_FUSE)
    return sum(net.resistance(edge) or 0.0 for edge in one.leads)


def _is_fuse_unsaid(study: Study, edge: Edge) -> bool:
    supply = study.model.supplies.get(edge.ident) if edge.section == "supplies" else None
    unknown = study.document.declared_unknown(("supplies", edge.ident, "inner_resistance"))
    return (
        supply is not None
        and supply.spec.kind in _PROTECTORS
        and edge.resistance is None
        and not unknown  # which the network lacks already
    )


def _tolerances(study: Study, one: PlainMeter, true: float, lacks: list[Missing]) -> Iterator[Cause]:
    yield from tolerance(
        "indicator accuracy", one.spec.accuracy, _kind(one)[0], missing.INDICATOR_ACCURACY, lacks
    )
    shunt = study.model.junctions.get(one.source)
    if shunt is not None and shunt.spec.tolerance is None:
        lacks.append(missing.SHUNT_TOLERANCE)
    elif shunt is not None and shunt.spec.tolerance:
        yield Cause("shunt tolerance", float(shunt.spec.tolerance) * abs(true), tolerance=True)


def _voltmeter(
    study: Study, net: Circuit, one: PlainMeter, true: float, ohms: float, lacks: list[Missing]
) -> tuple[Cause, ...] | None:
    """Causes with a sign; ``None`` if its circuit is not known."""
    names = [f"{one.ident}.{end}" for end in one.spec.terminals or ()]
    ends = [_end_voltage(net, way) for way in (one.plus, one.minus)]
    here = [net.voltage(name) for name in names]
    if None in ends or None in here:
        lacks.append(missing.INDICATOR_CIRCUIT)
        return None
    bus, ground, plus, minus = (float(v or 0.0) for v in (*ends, *here))
    if ground > bus:  # its leads are exchanged: it is driven against its lower stop
        return (Cause("leads exchanged", -2 * true),)
    if one.spec.inner_resistance is None:
        lacks.append(missing.INDICATOR_INNER)
        return None
    feed, offset = plus - bus, _structure(study, net) - minus
    lost = ohms / (ohms + one.spec.inner_resistance)
    return (
        Cause("lead resistance", -true * lost),
        Cause("other loads on its lead", feed),
        Cause("ground offset", offset),
    )


def _ammeter(
    study: Study, net: Circuit, one: PlainMeter, true: float, ohms: float, lacks: list[Missing]
) -> tuple[Cause, ...] | None:
    """Causes with a sign; ``None`` if its circuit is not known.

    Raises:
        OffScaleError: it is driven beyond its curve.
    """
    shunt = study.model.junctions.get(one.source)
    if shunt is None:
        return None
    wanted = (
        (missing.JOINT_SPOOL, shunt.spec.resistance),
        (missing.INDICATOR_INNER, one.spec.inner_resistance),
        (missing.INDICATOR_SHUNT, one.spec.curve or (one.spec.full_scale and one.spec.input_range)),
    )
    lacks += [word for word, value in wanted if not value]
    if any(not value for _, value in wanted) or shunt.spec.resistance is None:
        return None
    if (way := _sense(one)) is None:
        lacks.append(missing.INDICATOR_CIRCUIT)
        return None
    own, inner = float(shunt.spec.resistance), float(one.spec.inner_resistance or 0.0)
    flows = _through_shunt(study, net, one) or 0.0
    dial = one.spec.scale
    if way * flows < 0 and (dial is None or dial.lowest >= 0):
        return (Cause("leads exchanged", -2 * true),)
    volts = true * own
    shares = (inner / (inner + own), inner / (inner + own + ohms))
    full, loaded, led = (_amperes(one.spec, volts * share) for share in (1.0, *shares))
    return (
        Cause("shunt and ammeter of different range", full - true),
        Cause("loading of the shunt", loaded - full),
        Cause("lead resistance", led - loaded),
    )


def _sense(one: PlainMeter) -> int | None:
    """1 where its first terminal is joined to the inlet of the shunt, -1 the other way; ``None`` where both meet one end."""
    first, second = (
        (split_end(way[-1].far)[1] in ("in", "sense +")) for way in (one.plus or (), one.minus or ())
    )
    return None if first == second else 1 if first else -1


def _amperes(spec: InputSpec, volts: float) -> float:
    """What the dial shows for a voltage at its terminals.

    Raises:
        OffScaleError: beyond its curve.
    """
    if spec.curve is not None:
        return shown(spec.curve, volts)
    assert spec.full_scale is not None
    assert spec.input_range is not None
    return volts * float(spec.full_scale) / float(spec.input_range.highest)
