"""What a broken line leaks in each zone it runs through, as it is and without its restrictors."""

from __future__ import annotations

from collections.abc import Iterable
from math import floor

from ...dataclass import dataclass
from ...graph import total_length
from ...graph.media import Feed, Hop, line_bore
from ...model.comparing import SAME
from ...model.fluid import Tap
from ...physics.flow import Restrictor, Segment, line_flow
from ...physics.media import Medium as Liquid
from ...physics.media import kinematic_viscosity, liquid_density
from ...physics.media import medium as liquid_called
from ...physics.sensing_lines import line_inventory
from .. import missing
from ..missing import Missing
from ..study import Study, once
from .facts import LIQUID, Part, media, stretches, working_pressure

USUAL_BORE = 0.040 * 0.0254
"""0.040 in, a No. 60 drill: practice (recalled); no rule found names a bore."""
_STEP = 0.001 * 0.0254
"""Bores are named to a thousandth of an inch."""
_FUEL_C = 20.0
"""degC taken for a fuel whose temperature is not given: between -40 and 50 degC its density changes by 9 percent."""


def restricting_bore(*lines: float) -> float:
    """Bore in metres of a restrictor for lines of these bores: the usual one, and never over half of the smallest line.

    >>> round(restricting_bore(0.061 * 0.0254) / 0.0254, 3)
    0.03
    """
    half = floor(0.5 * min(lines) / _STEP + SAME) * _STEP if lines else USUAL_BORE
    return min(USUAL_BORE, half)


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
        holds: m3 that the line up to there still drains once it is shut; ``None`` where its length is not given.
        taps: ids of the sources.
        restrictors: ids of the restrictors passed.
    """

    zone: str | None
    flow: float
    bare: float
    ways: tuple[Way, ...]
    holds: float | None
    taps: tuple[str, ...]
    restrictors: tuple[str, ...]

    @property
    def pressure(self) -> float:
        """Pa, the highest of the sources."""
        return max(way.pressure for way in self.ways)

    def flow_with(self, restrictor: float) -> float:
        """m3/s that would leak with one restrictor of that bore [m] at each source."""
        return sum(way.flow(restrictor, bare=True) for way in self.ways)


@dataclass(frozen=True, slots=True)
class Leaks:
    """The leaks of a line, worst first, or what is missing to know them."""

    each: tuple[Leak, ...]
    missing: tuple[Missing, ...] = ()

    def into(self, zones: Iterable[str]) -> Leak | None:
        """The worst leak into one of some zones."""
        wanted = set(zones)
        return next((leak for leak in self.each if leak.zone in wanted), None)


def fluid_of(study: Study, ident: str) -> Fluid | None:
    """The liquid of a tap at its temperature; ``None`` for oil whose temperature nothing tells, or one said to be unknown.

    The oil of the table is SAE 50 and the fuel avgas unless the grade says Jet A: representative figures. A temperature
    outside those of the table is taken at its end.
    """
    tap = study.model.taps[ident]
    name = _figures(tap)
    if name is None or study.document.declared_unknown(("taps", ident, "temperature")):
        return None
    figures = liquid_called(name)
    temperature = float(tap.temperature) if tap.temperature is not None else None
    if temperature is None and tap.medium in ("fuel", "primer fuel"):
        temperature = _FUEL_C
    if temperature is None and tap.medium == "oil":
        temperature = _hottest_oil(study, tap)
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


def _hottest_oil(study: Study, tap: Tap) -> float | None:
    found = study.model.engine_of(tap)
    limit = (found[1].limits or {}).get("oil temperature") if found is not None else None
    return float(limit.maximum) if limit is not None and limit.maximum is not None else None


@dataclass(frozen=True, slots=True)
class Upstream:
    """The segments and restrictors from a source to a node, and what is missing to know them."""

    parts: tuple[Segment | Restrictor, ...] = ()
    missing: tuple[Missing, ...] = ()

    def segment(self, bore: float | None, length: float | None) -> Upstream:
        """The same with one more line; lines of one bore are one segment."""
        if bore is None or length is None:
            lacking = (missing.LINE_LENGTH,) * (length is None) + (missing.LINE_BORE,) * (bore is None)
            return self._lacking(*lacking)
        last = self.parts[-1] if self.parts else None
        if isinstance(last, Segment) and last.bore == bore:
            return Upstream((*self.parts[:-1], Segment(bore, last.length + length)), self.missing)
        return Upstream((*self.parts, Segment(bore, length)), self.missing)

    def restrictor(self, bore: float | None) -> Upstream:
        """The same with one more restrictor."""
        if bore is None:
            return self._lacking(missing.FITTING_BORE)
        return Upstream((*self.parts, Restrictor(bore)), self.missing)

    def _lacking(self, *more: Missing) -> Upstream:
        return Upstream(self.parts, tuple(dict.fromkeys((*self.missing, *more))))


@once
def _upstream_known(study: Study) -> dict[tuple[str, str, str], Upstream]:
    """What :func:`upstream` has found: by source, medium and node."""
    return {}


def upstream(study: Study, feed: Feed) -> Upstream:
    """What lies between a source and a node; what was found for a node before it is used again."""
    known = _upstream_known(study)
    source, medium = feed.source.ident, feed.source.medium
    ahead: list[tuple[str, Hop]] = []
    at: Feed | None = feed
    found = Upstream()
    while at is not None:
        if (source, medium, at.node) in known:
            found = known[source, medium, at.node]
            break
        hop = at.last
        if hop is None:
            break
        ahead.append((at.node, hop))
        at = at.before(hop)
    for node, hop in reversed(ahead):
        line, restricts = hop.edge.line, media(study).restricts(hop.edge)
        if line is not None:
            found = found.segment(line_bore(line), total_length(line))
        elif restricts:
            hole = study.model.fittings[hop.edge.ident].spec.bore
            found = found.restrictor(float(hole) if hole is not None else None)
        known[source, medium, node] = found
    return found


def leaks(study: Study, part: Part) -> Leaks:
    """What a line leaks in each zone, broken at the place in it that is nearest to the source."""
    return _leaks(study, part.ident)


@once
def _leaks(study: Study, ident: str) -> Leaks:
    part = Part(ident, study.model.fluid_lines[ident], ("fluid_lines", ident))
    bore = line_bore(part.line)
    lacking: dict[Missing, None] = {}
    if bore is None:
        lacking[missing.LINE_BORE] = None
    by_zone: dict[str | None, list[Leak]] = {}
    for node, feed in media(study).into_line(part.ident):
        tap = study.model.taps.get(feed.source.ident)
        if tap is None or tap.medium not in LIQUID:
            continue
        pressure, fluid = working_pressure(study, feed.source.ident), fluid_of(study, feed.source.ident)
        before = upstream(study, feed)
        lacking.update(dict.fromkeys(before.missing))
        if pressure is None:
            lacking[missing.TAP_PRESSURE] = None
        if fluid is None:
            lacking[missing.TAP_TEMPERATURE] = None
        if pressure is None or fluid is None or bore is None or before.missing or pressure <= 0:
            continue
        starts, split = _starts(study, part, node)
        if not split:
            lacking[missing.LINE_ROUTE] = None
        open_way = [p for p in before.parts if isinstance(p, Segment)]
        for zone, start in starts.items():
            way = Way(before.segment(bore, start).parts, float(pressure), fluid)
            try:
                flow = way.flow()
                bare = way.flow(bare=True) if feed.restrictors else flow
            except ValueError:
                lacking[missing.LINE_IN_REACH] = None
                continue
            whole = total_length(part.line)
            holds = line_inventory([*open_way, Segment(bore, whole)]) if whole is not None else None
            one = Leak(zone, flow, bare, (way,), holds, (feed.source.ident,), feed.restrictors)
            by_zone.setdefault(zone, []).append(one)
    found = sorted((_together(them) for them in by_zone.values()), key=lambda leak: -leak.flow)
    return Leaks(tuple(found), tuple(lacking))


def _starts(study: Study, part: Part, node: str) -> tuple[dict[str | None, float], bool]:
    """Metres from the end a medium enters by to each zone, and whether the document splits the length by zone."""
    where = stretches(study, part.line)
    if where is None:
        return {None: 0.0}, False
    ordered = where if node == study.graph.node_of(part.line.from_) else tuple(reversed(where))
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
        sum(known)
        if len(known := [h for leak in them if (h := leak.holds) is not None]) == len(them)
        else None,
        tuple(dict.fromkeys(t for leak in them for t in leak.taps)),
        tuple(dict.fromkeys(r for leak in them for r in leak.restrictors)),
    )
