"""Where a further indication goes in a document: beside its like, or where zones, walls and supplies say."""

from __future__ import annotations

from collections import Counter, deque
from collections.abc import Callable, Iterator

from ..document import Document
from ..document.source import Plain, mapping
from ..model.installation import JOINABLE, Installation
from .kit import OF_AIRCRAFT, Bus, NoSpotError, Spot
from .supplied import bus_of, fed_from, feed_of, ground_of, ground_of_engine


def spot_in(
    document: Document,
    measure: str,
    engine: str | None = None,
    cylinder: int | None = None,
    *,
    as_usual: bool = False,
) -> Spot:
    """Where an indication goes.

    Args:
        document: what it is added to.
        measure: the indication.
        engine: the engine it serves, where there is more than one.
        cylinder: of a probe, if known.
        as_usual: whether routes by name and the bundle of an engine's signals hold for what is added.

    Raises:
        NoSpotError: with what is missing.
    """
    model = document.installation.live
    if engine is not None and engine not in model.engines:
        raise NoSpotError(f"there is no engine '{engine}'; there are {', '.join(model.engines) or 'none'}")
    if engine is None and len(model.engines) > 1 and measure not in OF_AIRCRAFT:
        raise NoSpotError(f"say which engine it serves: {', '.join(model.engines)}")
    if cylinder is not None:
        _require_cylinder(model, engine, cylinder)
    several = engine if len(model.engines) > 1 else None
    panel = _panel(model)
    hot = _on_engine(model, engine)
    cold = _forward(model, engine, hot, panel)
    served = model.engines.get(engine) if engine is not None else next(iter(model.engines.values()), None)
    limits = (served.limits or {}) if served is not None else {}
    reference = served.fuel_pressure_reference if served is not None else None
    again = any(
        measure in (i.spec.measures, *(one.measures for one in (i.spec.inputs or {}).values()))
        for i in model.indicators.values()
        if several in (None, i.engine)
    )
    power = fed_from(model, 0, several) if not again else None
    bus = next((ident for ident, s in model.supplies.items() if s.spec.kind == "bus"), None)
    volts = float(model.aircraft.system_voltage) if model.aircraft.system_voltage is not None else 14.0
    return Spot(
        engine_zone=hot,
        near_zone=cold,
        panel_zone=panel,
        route=lambda zone: _route(model, zone, hot, panel),
        power=power or bus_of(model),
        protected=power is not None,
        ground=fed_from(model, 1, several) or ground_of(model, f"{several} " if several else ""),
        structure=ground_of(model),
        named=_names(document.installation, f"{several} " if several else ""),
        volts=volts,
        engine=engine,
        cylinder=cylinder,
        limits={m: limit.maximum for m, limit in limits.items() if limit.maximum is not None},
        fuel_reference=reference or "carburettor inlet",
        marked_new=any(getattr(thing, "status", None) == "new" for _, _, thing in model.things()),
        shared=_of_all(document) if not as_usual else {},
        ways=_ways(document, panel) if as_usual else {},
        bundle=_harness(model, several) if as_usual else None,
        feeders=_feeders(model, several) if as_usual else None,
        several=several is not None,
        feed=feed_of(model, bus, engine),
        bus=Bus(bus, model.supplies[bus].spec.voltage is not None) if bus is not None else None,
        engine_ground=ground_of_engine(model, hot),
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


def _ways(document: Document, panel: str) -> dict[str, str]:
    """Names of the routes to the panel, by the zone they begin in."""
    found: dict[str, str] = {}
    for name, steps in mapping(document.whole.get("routes")).items():
        zones = (
            [mapping(step).get("zone") for step in steps if isinstance(step, dict)]
            if isinstance(steps, list)
            else []
        )
        told = [zone for zone in zones if isinstance(zone, str)]
        if told and told[-1] == panel:
            found.setdefault(told[0], name)
    return found


def _harness(model: Installation, engine: str | None) -> str | None:
    """The bundle of the signals of one of several engines."""
    named = f"{engine} harness"
    return named if engine is not None and named in model.bundles else None


def _feeders(model: Installation, engine: str | None) -> str | None:
    """The bundle of the feeds behind the panel; of what serves no one engine the first there is."""
    named = [i for i in model.bundles if i.endswith("feeders") and i.startswith(engine or "")]
    return next(iter(named), None)


def _names(model: Installation, before: str = "") -> Callable[[str], str]:
    """Makes ids that are free, each once; those of one of several engines begin with its name."""
    used = {
        i for section in (*JOINABLE, "wire_runs", "fluid_lines", "bundles") for i in model.section(section)
    }

    def named(word: str) -> str:
        word = word.removeprefix(before)
        ident, number = f"{before}{word}", 2
        while ident in used:
            ident, number = f"{before}{word} {number}", number + 1
        used.add(ident)
        return ident

    return named
