"""What each load, indicator and coil draws from which bus, in which phase of flight."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from ..study import Study

ANY_PHASE = "any phase"
_SOURCES = ("battery", "alternator", "generator")


@dataclass(frozen=True, slots=True)
class Draw:
    """One load: amps, duty, the phases it is on, the bus that feeds it, and whether it stays on when the source is lost."""

    ident: str
    amps: float | None
    duty: str
    phases: tuple[str, ...]
    bus: str
    essential: bool | None

    def amps_in(self, phase: str) -> float:
        """Amps in a phase; 0 when it is off then or its current is not given."""
        if phase == "emergency" and self.essential is False:
            return 0.0
        on = phase == ANY_PHASE or not self.phases or phase in self.phases
        return (self.amps or 0.0) if on else 0.0


def draws(study: Study) -> Iterator[Draw]:
    """Every load, every indicator's own supply, every inverter and every contactor's coil."""
    model = study.whole
    buses = _buses(study)
    nominal = float(model.aircraft.system_voltage) if model.aircraft.system_voltage is not None else None
    for ident, load in model.loads.items():
        if load.status == "removed":
            continue
        spec = load.spec
        amps = float(spec.current) if spec.current is not None else None
        if amps is None and nominal and spec.power is not None:
            amps = float(spec.power) / nominal
        elif amps is None and nominal and spec.resistance is not None and spec.resistance > 0:
            amps = nominal / float(spec.resistance)
        bus = load.connected_at or buses.get(ident, "")
        yield Draw(ident, amps, load.duty or "duty not given", tuple(load.phases or ()), bus, load.essential)
    for ident, indicator in model.indicators.items():
        if indicator.status != "removed" and indicator.spec.supply_terminals is not None:
            own = indicator.spec.supply_current
            amps = float(own) if own is not None else None
            yield Draw(ident, amps, "continuous", (), buses.get(ident, ""), indicator.required)
    for ident, supply in model.supplies.items():
        own = {"inverter": supply.spec.max_current, "contactor": supply.spec.coil_current}.get(
            supply.spec.kind or ""
        )
        fed = buses.get(ident, "")
        if supply.status == "removed" or supply.spec.kind not in ("inverter", "contactor"):
            continue
        if supply.spec.kind == "contactor" and own is None:
            continue
        yield Draw(ident, float(own) if own is not None else None, "continuous", (), fed, supply.essential)


def _buses(study: Study) -> dict[str, str]:
    """Thing -> the bus that feeds it, or the source where no bus does, followed through wires and contacts."""
    model = study.whole
    found: dict[str, str] = {}
    starts = [i for i, s in model.supplies.items() if s.spec.kind == "bus"]
    starts += [f"{i}.+" for i, s in model.supplies.items() if s.spec.kind in _SOURCES]
    for start in starts:
        seen = {start}
        queue = [start]
        while queue:
            here = queue.pop()
            for edge in study.graph.at(here):
                there = edge.other(here)
                passes = edge.kind in ("conductor", "joint", "contact", "spool")
                if not passes or there in seen or study.graph.is_ground(there):
                    continue
                seen.add(there)
                name = there.partition(".")[0]
                supply = model.supplies.get(name)
                takes = supply is not None and (
                    supply.spec.kind == "inverter" or there.partition(".")[2] == "coil +"
                )
                if name in model.loads or name in model.indicators or takes:
                    found.setdefault(name, start.partition(".")[0])
                elif supply is None or supply.spec.kind not in ("bus", "inverter", *_SOURCES):
                    queue.append(there)
    return found
