"""Where a further indication goes in a document: beside its like, or where zones, walls and supplies say."""

from __future__ import annotations

from collections import Counter, deque
from collections.abc import Callable, Iterator

from ..document import Document
from ..document.source import Plain
from ..model.installation import JOINABLE, Installation, is_one_point, split_end
from ..model.wiring import WireRun
from .kits import Spot

_MOST_ON_A_STUD = 4
"""Terminals on one stud: AC 43.13-1B paragraph 11-174b."""


class NoSpotError(ValueError):
    """What a document does not say that is needed; the message says how to tell."""


def spot_in(document: Document, measure: str, engine: str | None = None, cylinder: int | None = None) -> Spot:
    """Where an indication goes.

    Args:
        document: what it is added to.
        measure: the indication.
        engine: the engine it serves, where there is more than one.
        cylinder: of a probe, if known.

    Raises:
        NoSpotError: with what is missing.
    """
    model = document.installation.live
    if engine is not None and engine not in model.engines:
        raise NoSpotError(f"there is no engine '{engine}'; there are {', '.join(model.engines) or 'none'}")
    if engine is None and len(model.engines) > 1:
        raise NoSpotError(f"say which engine it serves: {', '.join(model.engines)}")
    if cylinder is not None:
        _require_cylinder(model, engine, cylinder)
    panel = _panel(model)
    hot = _on_engine(model, engine)
    cold = _forward(model, engine, hot, panel)
    served = model.engines.get(engine) if engine is not None else next(iter(model.engines.values()), None)
    limits = (served.limits or {}) if served is not None else {}
    reference = served.fuel_pressure_reference if served is not None else None
    again = any(
        measure in (i.spec.measures, *(one.measures for one in (i.spec.inputs or {}).values()))
        for i in model.indicators.values()
    )
    power = _fed_from(model, 0) if not again else None
    volts = float(model.aircraft.system_voltage) if model.aircraft.system_voltage is not None else 14.0
    return Spot(
        engine_zone=hot,
        near_zone=cold,
        panel_zone=panel,
        route=lambda zone: _route(model, zone, hot, panel),
        power=power or _bus(model),
        protected=power is not None,
        ground=_fed_from(model, 1) or _ground(model),
        structure=_ground(model),
        named=_names(document.installation),
        volts=volts,
        engine=engine,
        cylinder=cylinder,
        limits={m: limit.maximum for m, limit in limits.items() if limit.maximum is not None},
        fuel_reference=reference or "carburettor inlet",
        marked_new=any(getattr(thing, "status", None) == "new" for _, _, thing in model.things()),
        shared=_of_all(document),
    )


def _of_all(document: Document) -> dict[str, Plain]:
    """What every run of the document says of itself: how this shop marks, and whether a change is told as one."""
    model = document.installation.live
    said: dict[str, Plain] = (
        {"status": "new"} if any(r.status == "new" for r in model.wire_runs.values()) else {}
    )
    for word in ("marked", "mark_spacing"):
        paths = [("wire_runs", ident, word) for ident in model.wire_runs]
        if len(paths) > 1 and all(document.holds(path) for path in paths):
            values = {str(document.written(path)) for path in paths}
            if len(values) == 1 and values != {"unknown"}:
                said[word] = values.pop()
    return said


def _require_cylinder(model: Installation, engine: str | None, cylinder: int) -> None:
    found = model.engines.get(engine) if engine is not None else next(iter(model.engines.values()), None)
    most = found.cylinders if found is not None and found.cylinders is not None else 36
    if not 1 <= cylinder <= most:
        raise NoSpotError(f"there is no cylinder {cylinder}: the engine has {most}")


def _commonest(found: Iterator[str | None]) -> str | None:
    counted = Counter(one for one in found if one is not None)
    return counted.most_common(1)[0][0] if counted else None


def _panel(model: Installation) -> str:
    """The zone most indicators sit in, else an occupied one."""
    zone = _commonest(i.zone for i in model.indicators.values())
    zone = zone or next((name for name, z in model.zones.items() if z.occupied), None)
    if zone is None:
        raise NoSpotError("no zone is known to hold the panel: give one 'occupied: yes'")
    return zone


def _on_engine(model: Installation, engine: str | None) -> str:
    """The zone most probes, or else taps, of the engine sit in, else one that vibrates."""
    zone = _commonest(p.zone for p in model.probes.values() if engine in (None, p.engine))
    zone = zone or _commonest(t.zone for t in model.taps.values() if engine in (None, t.engine))
    zone = zone or _commonest(
        s.zone for s in model.senders.values() if s.mounted_on == "engine" and engine in (None, s.engine)
    )
    zone = zone or next((name for name, z in model.zones.items() if z.vibrates), None)
    if zone is None:
        raise NoSpotError("no zone is known to be on the engine: give one 'vibrates: yes'")
    return zone


def _forward(model: Installation, engine: str | None, hot: str, panel: str) -> str:
    """The zone of what is kept off the engine, forward of the firewall."""
    zone = _commonest(
        s.zone
        for s in model.senders.values()
        if s.mounted_on == "firewall" and s.zone != panel and engine in (None, s.engine)
    )
    if zone is not None:
        return zone
    for barrier in model.barriers.values():
        if barrier.stops_fire and panel in barrier.between:
            return next(z for z in barrier.between if z != panel)
    return hot


def _route(model: Installation, zone: str, hot: str, panel: str) -> list[Plain]:
    """As a run that goes the same way, else through the fewest walls; every length to be told."""
    for run in model.wire_runs.values():
        steps = run.route or ()
        zones = [s.zone for s in steps if s.zone is not None]
        if len(zones) < 2 or panel not in (zones[0], zones[-1]) or zone not in (zones[0], zones[-1]):
            continue
        way = steps if zones[0] == zone else steps[::-1]
        return [_step(s.zone, s.barrier, _through(model, s.barrier)) for s in way if s.zone or s.barrier]
    found = _through_walls(model, zone, panel)
    if not found and zone == hot:
        for barrier in model.barriers.values():
            if panel in barrier.between:
                side = next(z for z in barrier.between if z != panel)
                found = [_step(hot, None, ""), *_through_walls(model, side, panel)]
                break
    return found or [_step(zone, None, ""), _step(panel, None, "")]


def _step(zone: str | None, barrier: str | None, through: str) -> Plain:
    if zone is not None:
        return {"zone": zone, "length": "unknown"}
    return {"barrier": barrier, **({"through": through} if through else {})}


def _through(model: Installation, barrier: str | None) -> str:
    found = model.barriers.get(barrier) if barrier is not None else None
    return "fireproof grommet" if found is not None and found.stops_fire else "grommet"


def _through_walls(model: Installation, zone: str, panel: str) -> list[Plain]:
    """The way with the fewest walls (breadth first); empty if the walls told join them not."""
    came: dict[str, tuple[str, str]] = {}
    queue = deque([zone])
    while queue:
        here = queue.popleft()
        for name, barrier in model.barriers.items():
            if here in barrier.between:
                there = next((z for z in barrier.between if z != here), here)
                if there not in came and there != zone:
                    came[there] = here, name
                    queue.append(there)
    if panel != zone and panel not in came:
        return []
    steps = [_step(panel, None, "")]
    while panel != zone:
        panel, wall = came[panel]
        steps = [_step(panel, None, ""), _step(None, wall, _through(model, wall)), *steps]
    return steps


def _fed_from(model: Installation, which: int) -> str | None:
    """The end from which most indicators are fed (0) or grounded (1); of a block's terminals the least used."""
    terminals = {
        f"{ident}.{gauge.spec.supply_terminals[which]}"
        for ident, gauge in model.indicators.items()
        if gauge.spec.supply_terminals and len(gauge.spec.supply_terminals) > which
    }
    found: Counter[str] = Counter()
    used: Counter[str] = Counter()
    for run in model.wire_runs.values():
        used.update(end for end in _ends(run) if end)
        for one, other in ((run.from_, run.to), (run.to, run.from_)):
            if one in terminals and other is not None and other not in terminals:
                found[other] += 1
    if not found:
        return None
    block = Counter({split_end(end)[0]: 0 for end in found})
    for end, count in found.items():
        block[split_end(end)[0]] += count
    best, count = block.most_common(1)[0]
    supply = model.supplies.get(best)
    if count == 1 and supply is not None and supply.spec.kind in ("breaker", "fuse"):
        return None  # each has its own
    if (supply is not None and is_one_point(supply)) or (
        best in model.grounds and model.grounds[best].kind == "bus"
    ):
        return best
    end = min((end for end in found if split_end(end)[0] == best), key=lambda end: used[end])
    landing = 2 if which else 1  # a shield lands on the ground as well
    return end if used[end] + landing <= _MOST_ON_A_STUD else None


def _ends(run: WireRun) -> Iterator[str | None]:
    yield from (run.from_, run.to)
    for conductor in (run.conductors or {}).values():
        yield from (conductor.from_, conductor.to)


def _bus(model: Installation) -> str:
    for ident, supply in model.supplies.items():
        if supply.spec.kind == "bus":
            return ident
    raise NoSpotError("no bus is told from which it could be fed: add one under 'supplies'")


def _ground(model: Installation) -> str:
    for kind in ("bus", "stud", "structure"):
        for ident, ground in model.grounds.items():
            if ground.kind == kind:
                return ident
    raise NoSpotError("no ground is told: add the structure under 'grounds'")


def _names(model: Installation) -> Callable[[str], str]:
    """Makes ids that are free, each once."""
    used = {
        i for section in (*JOINABLE, "wire_runs", "fluid_lines", "bundles") for i in model.section(section)
    }

    def named(word: str) -> str:
        ident, number = word, 2
        while ident in used:
            ident, number = f"{word} {number}", number + 1
        used.add(ident)
        return ident

    return named
