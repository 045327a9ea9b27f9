"""What a broken line leaks in each zone it runs through, as it is and without its restrictors."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from ..document.items import Engine, Tap
from ..document.quantities import in_unit, plain_number
from ..graph import total_length
from ..graph.media import Feed, line_bore
from ..physics.flow import Restrictor, Segment, line_flow
from ..physics.media import Medium as Liquid
from ..physics.media import kinematic_viscosity, liquid_density
from ..physics.media import medium as liquid_called
from ..physics.sensing_lines import line_inventory
from ..physics.spill import litres_per_minute, quarts_per_minute, time_to_explosive_limit, time_to_lose
from .case import Case
from .fluid_facts import BORE, LENGTH, LIQUID, PRESSURE, ROUTE, Part, media, stretches, working_pressure

OIL_TEMPERATURE = "temperature of the oil at the tap"
RESTRICTOR_BORE = "bore of the restrictor"
_FUEL_C = 20.0
"""degC taken for a fuel whose temperature is not given: between -40 and 50 degC its density changes by 9 percent."""
_EXPLOSIVE_AT_C = 20.0
"""degC of the cabin air when fuel evaporates in it, where the zone gives no temperature."""


@dataclass(frozen=True, slots=True)
class Fluid:
    """The liquid a tap gives: its figures, density [kg/m3] and kinematic viscosity [m2/s]."""

    figures: Liquid
    density: float
    viscosity: float


@dataclass(frozen=True, slots=True)
class Way:
    """From one source to the break: the bores passed, the pressure [Pa] behind them, and the liquid."""

    parts: tuple[Segment | Restrictor, ...]
    pressure: float
    fluid: Fluid

    def flow(self, restrictor: float | None = None, *, bare: bool = False) -> float:
        """m3/s that leaks; ``bare`` leaves its restrictors out, ``restrictor`` puts one of that bore [m] at the source."""
        parts: list[Segment | Restrictor] = [] if restrictor is None else [Restrictor(restrictor)]
        parts += [p for p in self.parts if isinstance(p, Segment) or not bare]
        return line_flow(parts, self.pressure, self.fluid.density, self.fluid.viscosity)


@dataclass(frozen=True, slots=True)
class Leak:
    """A line broken clean through where it enters a zone.

    Attributes:
        zone: the zone it leaks into; ``None`` if the document does not say.
        flow: m3/s that leaks, all sources together.
        bare: m3/s that would leak without any restrictor.
        ways: from each source to the break.
        holds: m3 that the line up to there still drains once it is shut.
        taps: ids of the sources.
        restrictors: ids of the restrictors passed.
    """

    zone: str | None
    flow: float
    bare: float
    ways: tuple[Way, ...]
    holds: float
    taps: tuple[str, ...]
    restrictors: tuple[str, ...]

    @property
    def pressure(self) -> float:
        """Pa, the highest of the sources."""
        return max(way.pressure for way in self.ways)

    def flow_with(self, restrictor: float) -> float:
        """m3/s that would leak with one restrictor of that bore [m] at each source."""
        return sum(way.flow(restrictor, bare=True) for way in self.ways)

    @property
    def words(self) -> str:
        """``0.65 L/min (0.69 US qt/min)``."""
        return rate(self.flow)


@dataclass(frozen=True, slots=True)
class Leaks:
    """The leaks of a line, worst first, or what is missing to know them."""

    each: tuple[Leak, ...]
    missing: tuple[str, ...] = ()

    def into(self, zones: Iterable[str]) -> Leak | None:
        """The worst leak into one of some zones."""
        wanted = set(zones)
        return next((leak for leak in self.each if leak.zone in wanted), None)


def rate(flow: float) -> str:
    """A flow in m3/s in both units a mechanic may want."""
    litres, quarts = plain_number(litres_per_minute(flow), 2), plain_number(quarts_per_minute(flow), 2)
    return f"{litres} L/min ({quarts} US qt/min)"


def fluid_of(case: Case, tap: Tap) -> Fluid | None:
    """The liquid of a tap at its temperature; ``None`` for oil whose temperature nothing tells.

    The oil of the table is SAE 50 and the fuel avgas unless the grade says Jet A: representative figures. A temperature
    outside those of the table is taken at its end.
    """
    name = _figures(tap)
    if name is None:
        return None
    figures = liquid_called(name)
    temperature = float(tap.temperature) if tap.temperature is not None else None
    if temperature is None and tap.medium in ("fuel", "primer fuel"):
        temperature = _FUEL_C
    if temperature is None and tap.medium == "oil":
        temperature = _hottest_oil(case, tap)
    if temperature is None:
        return None
    lowest = max(figures.lowest, figures.pour_point if figures.pour_point is not None else figures.lowest)
    within = min(max(temperature, lowest), figures.highest)
    return Fluid(figures, liquid_density(figures, within), kinematic_viscosity(figures, within))


def _figures(tap: Tap) -> str | None:
    if tap.medium in ("fuel", "primer fuel"):
        grade = (tap.grade or "").lower()
        return "Jet A" if "jet" in grade or "diesel" in grade else "avgas"
    return {"oil": "SAE 50 oil", "hydraulic fluid": "MIL-H-5606"}.get(tap.medium)


def _hottest_oil(case: Case, tap: Tap) -> float | None:
    found = case.model.engine_of(tap)
    limit = (found[1].limits or {}).get("oil temperature") if found is not None else None
    return float(limit.maximum) if limit is not None and limit.maximum is not None else None


def upstream(case: Case, feed: Feed) -> tuple[list[Segment | Restrictor], tuple[str, ...]]:
    """The segments and restrictors from a source to a node, and what is missing to know them."""
    parts: list[Segment | Restrictor] = []
    missing: dict[str, None] = {}
    for hop in feed.hops:
        line = hop.edge.line
        if line is not None:
            length, bore = total_length(line), line_bore(line)
            missing.update(dict.fromkeys(w for w, v in ((LENGTH, length), (BORE, bore)) if v is None))
            if length is not None and bore is not None:
                parts.append(Segment(bore, length))
        elif hop.edge.ident in feed.restrictors and hop.edge.name != "thread":
            hole = case.model.fittings[hop.edge.ident].spec.bore
            if hole is None:
                missing[RESTRICTOR_BORE] = None
            else:
                parts.append(Restrictor(float(hole)))
    return parts, tuple(missing)


def leaks(case: Case, part: Part) -> Leaks:
    """What a line leaks in each zone, broken at the place in it that is nearest to the source."""
    known: dict[str, Leaks] = case.memo("fluid leaks", lambda _: {})
    if part.ident not in known:
        known[part.ident] = _leaks(case, part)
    return known[part.ident]


def _leaks(case: Case, part: Part) -> Leaks:
    bore = line_bore(part.line)
    missing: dict[str, None] = {}
    if bore is None:
        missing[BORE] = None
    by_zone: dict[str | None, list[Leak]] = {}
    for node, feed in media(case).into_line(part.ident):
        tap = case.model.taps.get(feed.source.ident)
        if tap is None or tap.medium not in LIQUID:
            continue
        pressure, fluid = working_pressure(tap), fluid_of(case, tap)
        before, lacking = upstream(case, feed)
        missing.update(dict.fromkeys(lacking))
        if pressure is None:
            missing[PRESSURE] = None
        if fluid is None:
            missing[OIL_TEMPERATURE] = None
        if pressure is None or fluid is None or bore is None or lacking or pressure <= 0:
            continue
        starts, split = _starts(case, part, node)
        if not split:
            missing[ROUTE] = None
        open_way = [p for p in before if isinstance(p, Segment)]
        for zone, start in starts.items():
            way = Way((*before, Segment(bore, start)), float(pressure), fluid)
            flow = way.flow()
            bare = way.flow(bare=True) if feed.restrictors else flow
            holds = line_inventory([*open_way, Segment(bore, total_length(part.line) or start)])
            one = Leak(zone, flow, bare, (way,), holds, (feed.source.ident,), feed.restrictors)
            by_zone.setdefault(zone, []).append(one)
    found = sorted((_together(them) for them in by_zone.values()), key=lambda leak: -leak.flow)
    return Leaks(tuple(found), tuple(missing))


def _starts(case: Case, part: Part, node: str) -> tuple[dict[str | None, float], bool]:
    """Metres from the end a medium enters by to each zone, and whether the document splits the length by zone."""
    where = stretches(case, part.line)
    if where is None:
        return {None: 0.0}, False
    ordered = where if node == case.graph.node_of(part.line.from_) else tuple(reversed(where))
    starts: dict[str | None, float] = {}
    passed, split = 0.0, True
    for i, (zone, length) in enumerate(ordered):
        starts.setdefault(zone, passed)
        if length is None:
            # Unknown lengths count as none: the break is then nearer to the source, and leaks more.
            split = split and i == len(ordered) - 1
        else:
            passed += length
    return starts, split


def _together(them: list[Leak]) -> Leak:
    """Leaks of one break fed from several sources: their sum, which is the most it can be."""
    first = them[0]
    if len(them) == 1:
        return first
    return Leak(
        first.zone,
        sum(leak.flow for leak in them),
        sum(leak.bare for leak in them),
        tuple(way for leak in them for way in leak.ways),
        sum(leak.holds for leak in them),
        tuple(dict.fromkeys(t for leak in them for t in leak.taps)),
        tuple(dict.fromkeys(r for leak in them for r in leak.restrictors)),
    )


def engine_of(case: Case, leak: Leak) -> Engine | None:
    """The engine whose system leaks."""
    found = case.model.engine_of(case.model.taps[leak.taps[0]])
    return found[1] if found is not None else None


def oil_lasts(case: Case, leak: Leak, flow: float) -> tuple[float, str] | None:
    """Seconds until a leak takes the oil below its minimum, and what is then left, in words.

    ``None`` where the oil carried is not given; without a minimum, the time until none is left.
    """
    engine = engine_of(case, leak)
    if engine is None or engine.oil_quantity is None or flow <= 0:
        return None
    least = engine.oil_minimum
    usable = float(engine.oil_quantity) - (float(least) if least is not None else 0.0)
    if usable <= 0:
        return None
    left = f"below the {least.text} minimum" if least is not None else "gone"
    return time_to_lose(usable, flow), left


def shut_time(case: Case, leak: Leak) -> float | None:
    """Seconds until every source of a leak is shut; ``None`` if one does not say."""
    times = [case.model.taps[t].shutoff_time for t in leak.taps]
    return max(float(t) for t in times if t is not None) if None not in times else None


def spilled(case: Case, leak: Leak, flow: float) -> float | None:
    """Cubic metres that leave before the source is shut and the line has drained."""
    seconds = shut_time(case, leak)
    return None if seconds is None else flow * seconds + leak.holds


def explosive_after(case: Case, leak: Leak, flow: float) -> float | None:
    """Seconds until a fuel leak brings the closed air of its zone to the lower explosive limit."""
    zone = case.model.zones.get(leak.zone) if leak.zone is not None else None
    fluid = fluid_of(case, case.model.taps[leak.taps[0]])
    if zone is None or zone.volume is None or fluid is None or flow <= 0:
        return None
    lel, mass = fluid.figures.lower_explosive_limit, fluid.figures.molar_mass
    if lel is None or mass is None:
        return None
    usual = zone.temperature.normal if zone.temperature is not None else None
    air = float(usual) if usual is not None else _EXPLOSIVE_AT_C
    return time_to_explosive_limit(flow, lel, float(zone.volume), fluid.density, mass, air)


def duration(seconds: float) -> str:
    """A time as a person says it: ``14 s``, ``4.1 min``."""
    return f"{plain_number(seconds, 2)} s" if seconds < 120 else f"{plain_number(seconds / 60, 2)} min"


def volume(cubic_metres: float) -> str:
    """A spill in both units: ``0.22 L (0.23 US qt)``."""
    quarts = in_unit(cubic_metres, "qt", "volume")
    return f"{plain_number(cubic_metres * 1000, 2)} L ({plain_number(quarts, 2)} US qt)"
