"""The voltage that a device really gets, at each operating point."""

from __future__ import annotations

from dataclasses import dataclass

from ...model.comparing import at_most
from ...model.quantities import Quantity
from ..circuit.assembly import wired
from ..circuit.drop_paths import Consumer, consumers
from ..circuit.solved import circuit
from ..circuit.supplied import across, has_source
from ..study import Point, Study
from .feed_drops import drop_of
from .wiring import system_voltage

_DEAD = 1e-3
"""V, below which nothing reaches a device: what leaks through the resistances that hold a floating circuit."""


@dataclass(frozen=True, slots=True)
class Got:
    """Volts across a device at an operating point, and whether an engine is being started then."""

    volts: float
    where: str
    starting: bool = False


@dataclass(frozen=True, slots=True)
class Fed:
    """A device whose feed is drawn, and the range of voltage it works on.

    Attributes:
        consumer: the device.
        lowest, highest: its range; ``None`` where the document sets no end.
        told: whether the document gives the range at all.
    """

    consumer: Consumer
    lowest: Quantity | None
    highest: Quantity | None
    told: bool

    @property
    def ident(self) -> str:
        """Id of the device."""
        return self.consumer.ident

    @property
    def path(self) -> tuple[str, str]:
        """Where the document tells of it."""
        return (self.consumer.section, self.consumer.ident)


def fed(study: Study) -> list[Fed]:
    """Every indicator whose supply is drawn, and every load that says the lowest voltage it works on."""
    found = []
    for one in consumers(study):
        if one.section == "indicators" and wired(study, one.edge.a):
            span = study.model.indicators[one.ident].spec.supply_voltage
            low, high = (span.lowest, span.highest) if span is not None else (None, None)
            found.append(Fed(one, low, high, span is not None))
        elif one.section == "loads" and study.model.loads[one.ident].spec.min_voltage is not None:
            found.append(Fed(one, study.model.loads[one.ident].spec.min_voltage, None, True))
    return found


def voltages(study: Study, one: Fed) -> list[Got]:
    """What a device gets at each point at which nothing is opened or dead on purpose; nominal where no source is drawn."""
    found = []
    for point in study.points:
        net = circuit(study, point)
        volts = across(net, one.consumer.edge)
        if volts is None or at_most(abs(volts), _DEAD):
            nominal = system_voltage(study)
            if nominal is not None and one.consumer.bus is not None and not has_source(net):
                found.append(Got(nominal, "nominal"))
            continue
        starting = point.given is not None and point.given.phase == "start"
        drop = drop_of(study, one.consumer) if net.current(one.consumer.edge) in (None, 0.0) else None
        found.append(Got(volts - (drop.volts if drop is not None else 0.0), point.name, starting))
    return found


def off_on_purpose(point: Point) -> bool:
    """Whether a point itself opens switches, kills supplies or starts an engine."""
    given = point.given
    return given is not None and bool(given.open_switches or given.dead_supplies or given.phase == "start")
