"""Manifold pressure lines: trapped liquid, lag, and what the gauge shows with the engine stopped."""

from __future__ import annotations

from collections.abc import Iterator

from ...analysis import missing
from ...analysis.evidence.at_rest import manifold_input
from ...analysis.fluid.facts import LIQUID, MANIFOLD, Part, carried, lines, listed, media
from ...analysis.missing import Missing
from ...analysis.study import Study
from ...dataclass import dataclass
from ...document.source import DocPath
from ...graph import total_length
from ...graph.media import Feed, line_bore
from ...model.devices import Indicator, Sender
from ...model.quantities import in_unit, plain_number, show
from ...physics.capillaries import isa_pressure_pa
from ...physics.flow import Segment
from ...physics.media import air_viscosity, liquid_density
from ...physics.media import medium as liquid_called
from ...physics.sensing_lines import head_pressure, pneumatic_lag
from ..verdicts import Verdict
from ..vocabulary import Subject, rule

_MANIFOLD_GAUGE_M3 = 30e-6
"""m3 inside a direct manifold pressure gauge: assumed."""
_MANIFOLD_SHOWS_S = 0.5
"""s of lag a pilot does not notice when he moves the throttle: practice."""
_MANIFOLD_PA = 50_000.0
"""Pa absolute in the manifold at low power, where the lag is largest: assumed."""
_HOLE_LENGTHS = 3.0
"""Bores that a drilled restrictor is long: assumed."""
_WEATHER_PA = 3386.389
"""Pa, 1 inHg: what the weather moves the barometer from standard."""
_GAUGE_PA = 0.5 * 3386.389
"""Pa, 0.5 inHg: what a gauge may be off where it does not say."""


def _manifold_lines(study: Study) -> Iterator[Part]:
    for part in lines(study):
        told = carried(study, part.ident)
        if told & MANIFOLD and not told & LIQUID:
            yield part


@rule(
    "manifold-line-drain",
    title="A manifold pressure line cannot trap liquid",
    why="Water and fuel condense in it. What stands in a rise holds the pointer off by its weight, and freezes.",
    source="practice; plain physics for the error: dp = rho g h",
    formula="a slug of water as high as the rise: rho g h",
    example="150 mm of water: 0.43 inHg",
    over=_manifold_lines,
)
def manifold_line_drain(study: Study, subject: Subject, part: Part) -> Verdict:
    """Whether a line that carries manifold pressure is drained, and what trapped water does where it is not."""
    drained, rise = part.line.low_point_drain, part.line.rise
    if drained is None:
        return subject.lacks(missing.LINE_DRAIN)
    subject = subject.field("low_point_drain")
    if drained:
        return subject.meets(f"line {part.ident} rises all the way or is drained")
    text = f"line {part.ident} has a low point without a drain"
    remedy = "let the line rise all the way from the engine, or put a drain or trap at its low point"
    if rise is None or float(rise) == 0:
        return subject.advisory(text, remedy=remedy)
    weight = head_pressure(liquid_density(liquid_called("water"), 20), abs(float(rise)))
    error = in_unit(weight, "inHg", "pressure")
    text += f": water over its {rise.text} holds the reading off by up to {plain_number(error, 2)} inHg"
    return subject.at_most(error, 0.0, "inHg", text, remedy=remedy, practice=True)


@dataclass(frozen=True, slots=True)
class _Reading:
    """A gauge or sender with the way that manifold pressure takes to it."""

    ident: str
    path: DocPath
    feed: Feed


def _readings(study: Study) -> Iterator[_Reading]:
    for section in ("indicators", "senders"):
        for ident, thing in study.model.section(section).items():
            if isinstance(thing, Indicator):
                ports = [port for _, spec in study.inputs(ident) for port in spec.ports or ()]
            else:
                ports = list(thing.spec.ports or ()) if isinstance(thing, Sender) else []
            for node in (f"{ident}.{port}" for port in ports):
                feeds = list(media(study).feeds(node))
                if any(feed.source.medium in LIQUID for feed in feeds):
                    continue
                for feed in feeds:
                    if feed.source.medium in MANIFOLD and any(h.edge.line is not None for h in feed.hops):
                        yield _Reading(ident, (section, ident), feed)


@rule(
    "manifold-line-lag",
    title="Manifold pressure lines are quick enough to follow the throttle",
    why="A very thin or very long line lags: the pilot sets power by what was, not by what is.",
    source="laminar resistance times gas volume, background NACA TN 2793; 0.5 s is practice",
    formula="tau = sum over the way from tap to gauge of 128 mu L (V behind + V_line/2)/(pi d^4 p), V = 30 cm3, p = 50 kPa, a "
    "restrictor three bores long (assumed)",
    example="2 m of 0.061 in bore: 0.12 s at 71 kPa; of 0.180 in: 2 ms",
    over=_readings,
)
def manifold_line_lag(study: Study, subject: Subject, one: _Reading) -> Verdict:
    """A gauge or sender, by all the lines and restrictors between it and the manifold."""
    way: list[Segment] = []
    lacking: dict[Missing, None] = {}
    lines_passed: dict[str, float] = {}
    for hop in one.feed.hops:
        line = hop.edge.line
        if line is not None:
            length, bore = total_length(line), line_bore(line)
            if length is None or bore is None:
                needs = ((missing.LINE_LENGTH, length), (missing.LINE_BORE, bore))
                lacking.update(dict.fromkeys(w for w, v in needs if v is None))
            else:
                way.append(Segment(bore, length))
                lines_passed[hop.edge.ident] = bore
        elif media(study).restricts(hop.edge):
            hole = study.model.fittings[hop.edge.ident].spec.bore
            if hole is None:
                lacking[missing.FITTING_BORE] = None
            else:
                way.append(Segment(float(hole), _HOLE_LENGTHS * float(hole)))
    subject = subject.along(*(h.edge.ident for h in one.feed.hops if h.edge.line is not None))
    if lacking:
        return subject.lacks(*lacking)
    tau = pneumatic_lag(way, _MANIFOLD_GAUGE_M3, _MANIFOLD_PA, air_viscosity(20))
    thinnest = min(lines_passed, key=lambda i: lines_passed[i])
    wider = lines_passed[thinnest] * (tau / _MANIFOLD_SHOWS_S) ** 0.25
    return subject.at_most(
        tau,
        _MANIFOLD_SHOWS_S,
        "s",
        f"{one.ident} lags by {plain_number(tau, 2)} s behind {listed(list(lines_passed))}",
        remedy=lambda: (
            f"use a bore of {show(wider, 'in', 'length')} or more for {thinnest}, or a shorter way"
        ),
        practice=True,
    )


def _ambient(study: Study) -> float | None:
    elevation = study.model.aircraft.field_elevation
    return isa_pressure_pa(min(max(float(elevation), -1_000.0), 11_000.0)) if elevation is not None else None


@rule(
    "manifold-gauge-engine-off",
    title="With the engine stopped, manifold pressure reads the barometer",
    why="A gauge that does not return to ambient has a blocked or leaking line, or is broken: one stood at 16 inHg for years.",
    source="plain physics; standard atmosphere ISO 2533, weather 1 inHg",
    formula="|reading - ambient| <= 1 inHg (weather, where the barometer was not read) + budget of the gauge, else 0.5 inHg",
    example="16 inHg against 29.9 inHg at sea level: 13.9 inHg low",
    over="measured",
)
def manifold_gauge_engine_off(study: Study) -> Iterator[Verdict]:
    """Every engine-off indication of a manifold pressure gauge."""
    for i, measured in enumerate(study.model.measured):
        value, spec = measured.value, manifold_input(study, measured)
        if spec is None or isinstance(value, str):
            continue
        ident = (measured.of or "").partition(".")[0]
        subject = Subject(study, (ident,), ("measured", i))
        ambient = float(measured.true_value) if measured.true_value is not None else _ambient(study)
        if ambient is None:
            yield subject.lacks(missing.BAROMETER)
            continue
        if spec.budget is None and study.document.declared_unknown(("indicators", ident, "budget")):
            yield subject.lacks(missing.INDICATION_BUDGET)
            continue
        budget = spec.budget if spec.budget is not None else spec.accuracy
        allowed = float(budget) if budget is not None else _GAUGE_PA
        allowed += 0.0 if measured.true_value is not None else _WEATHER_PA
        unit = value.unit
        off = in_unit(float(value) - ambient, unit, "pressure")
        yield subject.at_most(
            abs(off),
            in_unit(allowed, unit, "pressure"),
            unit,
            f"{ident} reads {value.text} with the engine stopped, {plain_number(abs(off))} {unit} "
            f"{'below' if off < 0 else 'above'} the {show(ambient, unit, 'pressure')} of the air",
            remedy="look for a blocked, corroded or leaking line and fitting, then have the gauge checked",
        )
