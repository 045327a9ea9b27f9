"""The voltage that a device really gets, at each operating point."""

from __future__ import annotations

from ...dataclass import dataclass
from ...model.comparing import at_most
from ...model.quantities import Quantity
from ..circuit.assembly import wired
from ..circuit.drop_paths import Consumer, consumers
from ..circuit.excited import unexcited
from ..circuit.solved import Circuit, circuit
from ..circuit.supplied import across, has_source
from ..missing import Missing
from ..study import Point, Study
from .feed_drops import drop_of
from .wiring import is_starter, system_voltage

_DEAD = 1e-3
"""V, below which nothing reaches a device: what leaks through the resistances that hold a floating circuit."""


@dataclass(frozen=True, slots=True)
class Got:
    """Volts across a device at an operating point.

    Attributes:
        volts, where: V, and the name of the point.
        starting: whether an engine is being started then.
        on: whether the document names it as a load that is on then, or it is the starter that cranks.
        missing: what else would lower the volts.
    """

    volts: float
    where: str
    starting: bool = False
    on: bool = False
    missing: tuple[Missing, ...] = ()


@dataclass(frozen=True, slots=True)
class Fed:
    """A device whose feed is drawn or said, and the range of voltage it works on.

    Attributes:
        section, ident: the device.
        consumer: its drawn feed; ``None`` for a load that is only said to be connected at a bus.
        bus: the bus or source that feeds it, if it is known.
        lowest, highest: its range; ``None`` where the document sets no end.
        told: whether the document gives the range at all.
    """

    section: str
    ident: str
    consumer: Consumer | None
    bus: str | None
    lowest: Quantity | None
    highest: Quantity | None
    told: bool

    @property
    def path(self) -> tuple[str, str]:
        """Where the document tells of it."""
        return (self.section, self.ident)


def fed(study: Study) -> list[Fed]:
    """Every indicator whose supply is drawn, and every load that says the lowest voltage it works on.

    Of synchros, whose rotors take alternating current, only those that some point leaves without it.
    """
    found = []
    for one in consumers(study):
        if one.section == "indicators" and wired(study, one.edge.a):
            span = study.model.indicators[one.ident].spec.supply_voltage
            low, high = (span.lowest, span.highest) if span is not None else (None, None)
            found.append(Fed(one.section, one.ident, one, one.bus, low, high, span is not None))
        elif one.section == "loads" and study.model.loads[one.ident].spec.min_voltage is not None:
            least = study.model.loads[one.ident].spec.min_voltage
            found.append(Fed(one.section, one.ident, one, one.bus, least, None, True))
    synchros = dict.fromkeys(ident for ident, _ in sorted(unexcited(study)))
    found += [Fed("indicators", ident, None, None, None, None, True) for ident in synchros]
    for ident, load in study.model.loads.items():
        if load.connected_at is not None and load.spec.min_voltage is not None:
            found.append(Fed("loads", ident, None, load.connected_at, load.spec.min_voltage, None, True))
    return found


def voltages(study: Study, one: Fed) -> list[Got]:
    """What a device gets at each point at which nothing is opened or dead on purpose; nominal where no source is drawn.

    A load is looked at where it is on, if it is on anywhere, and a starter where it cranks.
    Of a load that is only said to be connected at a bus it is the voltage of the bus: its own wires take some of that.
    """
    found = []
    for point in _working(study, one):
        net = circuit(study, point)
        volts = _volts(net, one)
        if volts is None or at_most(abs(volts), _DEAD):
            nominal = system_voltage(study)
            if nominal is not None and one.bus is not None and not has_source(net):
                found.append(Got(nominal, "nominal"))
            continue
        drop = _drop(study, net, one.consumer) if one.consumer is not None else 0.0
        found.append(
            Got(volts - drop, point.name, _starts(point), _named(study, one, point), _moved(net, one))
        )
    return found


def _working(study: Study, one: Fed) -> list[Point]:
    """The points at which a load is on; all where it is on nowhere, and for an indicator."""
    if one.section != "loads":
        return list(study.points)
    on = [p for p in study.points if one.ident in circuit(study, p).loads_on]
    if cranks(study, one):
        on = [p for p in on if _starts(p)] or on
    return on or list(study.points)


def cranks(study: Study, one: Fed) -> bool:
    """Whether it is the motor of an engine starter."""
    return one.section == "loads" and is_starter(one.ident, study.model.loads[one.ident])


def never_on(study: Study, one: Fed) -> bool:
    """Whether it is a load that is on at no operating point."""
    return one.section == "loads" and not any(one.ident in circuit(study, p).loads_on for p in study.points)


def _starts(point: Point) -> bool:
    return point.given is not None and point.given.phase == "start"


def _named(study: Study, one: Fed, point: Point) -> bool:
    given = point.given
    named = given is not None and one.ident in (given.loads_on or ())
    return one.section == "loads" and (
        named or (cranks(study, one) and one.ident in circuit(study, point).loads_on)
    )


def _volts(net: Circuit, one: Fed) -> float | None:
    if one.consumer is not None:
        return across(net, one.consumer.edge)
    return net.voltage(one.bus) if one.bus is not None else None


def _moved(net: Circuit, one: Fed) -> tuple[Missing, ...]:
    """What is missing of the devices whose currents lower the voltage."""
    edge = one.consumer.edge if one.consumer is not None else None
    return net.undrawn_between((edge.a, edge.b) if edge is not None else (one.bus or "", net.reference))


def _drop(study: Study, net: Circuit, consumer: Consumer) -> float:
    """Volts a feed would drop that carries nothing at the point."""
    drop = drop_of(study, consumer) if net.current(consumer.edge) in (None, 0.0) else None
    return drop.volts if drop is not None else 0.0


def off_on_purpose(point: Point) -> bool:
    """Whether a point itself opens switches, kills supplies or starts an engine."""
    given = point.given
    return given is not None and bool(given.open_switches or given.dead_supplies or given.phase == "start")
