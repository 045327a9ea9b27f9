"""Electrical load table: what each bus feeds in each phase of flight, and the margin of the source."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from ..document.installation import Installation
from ..rules.case import Case
from .tables import Cell, Table, rounded

PHASES = ("ground", "start", "take-off", "climb", "cruise", "descent", "landing", "emergency")


@dataclass(frozen=True, slots=True)
class Draw:
    """One load: amps, duty, the phases it is on, the bus that feeds it, and whether it stays on when the source is lost."""

    ident: str
    amps: float | None
    duty: str
    phases: tuple[str, ...]
    bus: str
    essential: bool | None


def draws(case: Case) -> Iterator[Draw]:
    """Every load and every indicator's own supply."""
    model = case.model
    buses = _buses(case)
    nominal = float(model.aircraft.system_voltage) if model.aircraft.system_voltage is not None else None
    for ident, load in model.loads.items():
        if load.status == "removed":
            continue
        spec = load.spec
        amps = float(spec.current) if spec.current is not None else None
        if amps is None and nominal is not None and spec.power is not None:
            amps = float(spec.power) / nominal
        elif amps is None and nominal is not None and spec.resistance is not None and spec.resistance > 0:
            amps = nominal / float(spec.resistance)
        bus = load.connected_at or buses.get(ident, "")
        yield Draw(ident, amps, load.duty or "duty not given", tuple(load.phases or ()), bus, load.essential)
    for ident, indicator in model.indicators.items():
        if indicator.status != "removed" and indicator.spec.supply_terminals is not None:
            own = indicator.spec.supply_current
            yield Draw(
                ident,
                float(own) if own is not None else None,
                "continuous",
                (),
                buses.get(ident, ""),
                indicator.required,
            )


def _buses(case: Case) -> dict[str, str]:
    """Thing -> the bus that feeds it, followed through wires and closed contacts from each bus."""
    model = case.model
    found: dict[str, str] = {}
    for ident, supply in model.supplies.items():
        if supply.spec.kind != "bus":
            continue
        seen = {ident}
        queue = [ident]
        while queue:
            here = queue.pop()
            for edge in case.graph.at(here):
                there = edge.other(here)
                if (
                    edge.kind not in ("conductor", "joint", "contact", "spool")
                    or there in seen
                    or case.graph.is_ground(there)
                ):
                    continue
                seen.add(there)
                name = there.partition(".")[0]
                if name in model.loads or name in model.indicators:
                    found.setdefault(name, ident)
                elif model.supplies.get(name) is None or model.supplies[name].spec.kind not in (
                    "bus",
                    "battery",
                    "alternator",
                    "generator",
                ):
                    queue.append(there)
    return found


def phases_used(model: Installation, found: list[Draw]) -> list[str]:
    """Phases the document speaks of, in order of flight; one column for all when it speaks of none."""
    named = {p for d in found for p in d.phases} | {
        p.phase for p in model.operating_points.values() if p.phase is not None
    }
    return [p for p in PHASES if p in named] or ["any"]


def load_table(case: Case) -> Table:
    """Amps of each load by phase, totals by bus, and the margin to 80 percent of the source rating."""
    found = list(draws(case))
    phases = phases_used(case.model, found)
    rows: list[tuple[Cell, ...]] = []
    for bus in dict.fromkeys(d.bus for d in found):
        members = [d for d in found if d.bus == bus]
        for one in members:
            by_phase = [
                rounded(one.amps) if not one.phases or phase in one.phases or phase == "any" else 0.0
                for phase in phases
            ]
            rows.append((bus or "bus not known", one.ident, one.duty, *by_phase))
        for duty in ("continuous", "intermittent"):
            sums = [
                rounded(
                    sum(
                        d.amps or 0.0
                        for d in members
                        if d.duty == duty and (not d.phases or phase in d.phases or phase == "any")
                    )
                )
                for phase in phases
            ]
            rows.append((bus or "bus not known", f"total {duty}", duty, *sums))
    rating = sum(
        float(s.spec.rated_current)
        for s in case.model.supplies.values()
        if s.spec.kind in ("alternator", "generator")
        and s.spec.rated_current is not None
        and s.status != "removed"
    )
    notes = []
    if rating:
        whole = [
            sum(
                d.amps or 0.0
                for d in found
                if d.duty != "intermittent" and (not d.phases or phase in d.phases or phase == "any")
            )
            for phase in phases
        ]
        rows.append(("all", "continuous of all buses", "continuous", *(rounded(w) for w in whole)))
        rows.append(("all", "margin to 80 % of the sources", "", *(rounded(0.8 * rating - w) for w in whole)))
        notes.append(
            f"Sources give {rating:g} A; 80 percent is the rule of thumb of AC 43.13-1B 11-35a where no placard or monitor keeps the load down."
        )
    unknown = [d.ident for d in found if d.amps is None]
    if unknown:
        notes.append(f"Current not given, not in the totals: {', '.join(unknown)}.")
    return Table(
        "load table", ("bus", "load", "duty", *(f"{p} [A]" for p in phases)), tuple(rows), tuple(notes)
    )
