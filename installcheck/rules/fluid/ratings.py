"""What lines, fittings and senders are rated for: pressure and heat."""

from __future__ import annotations

from collections.abc import Iterator

from ...analysis import missing
from ...analysis.fluid.facts import LIQUID, Part, highest_pressure, lines, media, working_pressure, zones_of
from ...analysis.fluid.stock import hose_row, is_mil_h_8794, is_soft, metal_of
from ...analysis.study import Study, once
from ...dataclass import dataclass
from ...document.source import DocPath
from ...graph.media import size_at_odds
from ...model.comparing import at_least, at_most
from ...model.devices import Sender
from ...model.fluid import Fitting, FluidLine
from ...model.installation import split_end
from ...model.quantities import Quantity, in_unit, plain_number, show
from ...physics.tubes import BURST_OVER_WORKING, barlow_pressure, pressure_margin, proof_pressure
from ..verdicts import Verdict
from ..vocabulary import Subject, rule

_HEATED = LIQUID | {"coolant"}
"""Media that an engine or a pump heats above the air around their line."""


@rule(
    "line-pressure",
    title="Lines bear the pressure of their source, and tubes the proof test",
    why="A line that is too weak bursts at the first cold start, when oil pressure is highest. For a gauge line the margin is "
    "wide; hose and plastic are where it fails.",
    source="14 CFR 23.993(a) as before amendment 23-64; rating of the part; tube: Barlow, burst over working pressure of 4 (recalled)",
    formula="P = 2 S t/D with D the outside diameter; burst/working >= 4; yield pressure >= proof pressure, twice the working "
    "pressure and at least 100 psi (NAVEDTRA 14018)",
    example="1/4 x 0.035 tube 5052-O bursts at 7000 psi: 70 times 100 psi",
    over=lines,
)
def line_pressure(study: Study, subject: Subject, part: Part) -> Verdict | None:
    """A line that a source presses into."""
    if not media(study).in_line(part.ident):
        return None
    working, tap = highest_pressure(study, part.ident)
    if working is None:
        return (subject.along(tap) if tap else subject).placed("taps", tap).lacks(missing.TAP_PRESSURE)
    return _line(subject.along(tap), part.line, working) if working > 0 else None


def _line(subject: Subject, line: FluidLine, working: Quantity) -> Verdict:
    spec, ident = line.spec, subject.ident
    rated = spec.rated_pressure if spec.rated_pressure is not None else _hose_rating(line)
    metal = metal_of(line)
    burst, yields = float(spec.burst_pressure) if spec.burst_pressure is not None else None, None
    unknown = any(
        subject.study.document.declared_unknown(("fluid_lines", ident, word))
        for word in ("rated_pressure", "burst_pressure")
    )
    if (
        metal is not None
        and spec.outside_diameter is not None
        and spec.wall is not None
        and not size_at_odds(line)
    ):
        yields = barlow_pressure(metal.yields_at, spec.outside_diameter, spec.wall)
        if burst is None:
            burst = barlow_pressure(metal.ultimate, spec.outside_diameter, spec.wall)
    proof = proof_pressure(float(working))
    if yields is not None and not at_least(yields, proof):
        return subject.at_most(
            in_unit(proof, "psi", "pressure"),
            in_unit(yields, "psi", "pressure"),
            "psi",
            f"line {ident} yields at {show(yields, 'psi', 'pressure')}, below its proof test of {show(proof, 'psi', 'pressure')}",
            remedy="use a tube of thicker wall or stronger metal",
        )
    if size_at_odds(line):
        return subject.lacks(missing.LINE_WALL)
    if unknown:
        return subject.lacks(missing.LINE_RATED_PRESSURE)
    times = pressure_margin(burst, float(working)) if burst is not None else None
    bears = times is None or at_least(times, BURST_OVER_WORKING)
    if rated is not None and (bears or not at_most(float(working), float(rated))):
        text = f"line {ident} sees up to {working.text} and is rated {show(float(rated), 'psi', 'pressure')}"
        bursts = f"; it bursts at {plain_number(times)} times that" if times is not None else ""
        return subject.at_most(
            in_unit(working, "psi", "pressure"),
            in_unit(float(rated), "psi", "pressure"),
            "psi",
            text + bursts,
            broken=text,
            remedy=f"use a line rated for {working.text} or more",
        )
    if burst is None or times is None:
        return subject.lacks(missing.LINE_RATED_PRESSURE)
    text = f"line {ident} bursts at {show(burst, 'psi', 'pressure')}, {plain_number(times)} times its {working.text}"
    return subject.at_least(
        times,
        BURST_OVER_WORKING,
        "times",
        text,
        broken=f"{text}; 4 times is usual",
        remedy=f"use a line that bursts at {show(BURST_OVER_WORKING * working, 'psi', 'pressure')} or more",
        practice=at_least(times, 1),
    )


def _hose_rating(line: FluidLine) -> float | None:
    row = hose_row(line)
    return row.operating if row is not None and is_mil_h_8794(line) else None


@rule(
    "fitting-pressure",
    title="Fittings and senders bear the pressure of their source",
    why="A sender pressed beyond its proof pressure reads wrong for ever, or bursts and is then an open line.",
    source="limit of the part; 14 CFR 23.993(a) as before amendment 23-64",
    formula="highest pressure of the taps that reach it, against its working or proof pressure",
    example="a 15 psi transducer of 30 psi proof on a 35 psi fuel pump: 5 psi over",
    over=lambda study: _under_pressure(study),
)
def fitting_pressure(study: Study, subject: Subject, one: _Pressed) -> Verdict | None:
    """A fitting that states a working pressure, or a sender, that a source presses on."""
    if isinstance(one.thing, Fitting):
        limit, what, ask = one.thing.spec.rated_pressure, "working", missing.FITTING_PRESSURE
        if limit is None and not study.document.declared_unknown((*one.path, "rated_pressure")):
            return None
    else:
        limit, what, ask = one.thing.spec.proof_pressure, "proof", missing.SENDER_PROOF_PRESSURE
    if limit is None:
        return subject.lacks(ask)
    if one.unsaid and (one.pressure is None or at_most(float(one.pressure), float(limit))):
        return subject.along(one.unsaid).placed("taps", one.unsaid).lacks(missing.TAP_PRESSURE)
    if one.pressure is None:
        return None
    return subject.at_most(
        in_unit(one.pressure, limit.unit, "pressure"),
        in_unit(limit, limit.unit, "pressure"),
        limit.unit,
        f"{one.ident} sees up to {one.pressure.text}; its {what} pressure is {limit.text}",
        remedy=f"fit one for {one.pressure.text} or more",
    )


@dataclass(frozen=True, slots=True)
class _Pressed:
    """A fitting or sender that a source reaches.

    Attributes:
        pressure: the highest that is known of its sources.
        unsaid: a source whose pressure the document does not give; empty if all do.
    """

    ident: str
    path: DocPath
    thing: Fitting | Sender
    pressure: Quantity | None
    unsaid: str


def _under_pressure(study: Study) -> Iterator[_Pressed]:
    reached = _sources(study)
    for section in ("fittings", "senders"):
        for ident, thing in study.model.section(section).items():
            if not isinstance(thing, (Fitting, Sender)):
                continue
            if ident not in reached:
                if isinstance(thing, Sender) and (most := _limit_of(study, thing)) is not None:
                    yield _Pressed(ident, (section, ident), thing, most, "")
                continue
            pressures = {tap: working_pressure(study, tap) for tap in reached[ident]}
            known = [p for p in pressures.values() if p is not None]
            unsaid = next((tap for tap, p in pressures.items() if p is None), "")
            if unsaid or max(known) > 0:
                yield _Pressed(ident, (section, ident), thing, max(known, default=None), unsaid)


def _limit_of(study: Study, sender: Sender) -> Quantity | None:
    """The highest pressure the engine allows where a sender senses whose line is not drawn, and which states its own."""
    engine, measure = study.model.engine_of(sender), sender.spec.measures
    if engine is None or measure is None or sender.spec.proof_pressure is None:
        return None
    limit = (engine[1].limits or {}).get(measure)
    most: Quantity | None = limit.maximum if limit is not None else None
    return most if most is not None and most.kind == "pressure" and measure != "manifold pressure" else None


@once
def _sources(study: Study) -> dict[str, dict[str, None]]:
    """The taps that reach each fitting and sender."""
    found: dict[str, dict[str, None]] = {}
    for node in study.graph.fluid:
        for feed in media(study).feeds(node):
            if feed.source.ident in study.model.taps:
                found.setdefault(split_end(node)[0], {})[feed.source.ident] = None
    return found


@rule(
    "line-temperature",
    title="A hose or plastic line is not hotter than its rating",
    why="Hose hardens and cracks where heat in operation or after shutdown exceeds what it is made for.",
    source="14 CFR 23.993(e) as before amendment 23-64; rating of the hose, AC 43.13-1B table 9-3",
    formula="highest temperature of its zones and of what it carries, against its rating",
    example="a zone of 300 degF against a rubber hose of 250 degF: 50 degF over",
    over=lambda study: (p for p in lines(study) if p.line.spec.kind == "hose" or is_soft(p.line)),
)
def line_temperature(study: Study, subject: Subject, part: Part) -> Verdict | None:
    """A hose or plastic line, by the hottest of its zones and taps."""
    rating, zones = part.line.spec.temperature_rating, zones_of(study, part.line)
    if rating is None:
        return subject.lacks(missing.LINE_TEMPERATURE_RATING)
    if zones is None:
        return subject.lacks(missing.LINE_ROUTE)
    seen = {f"zone {z}": float(t) for z in zones if (t := study.hottest(z)) is not None}
    untold = ""
    for _, feed in media(study).into_line(part.ident):
        tap = study.model.taps.get(feed.source.ident)
        if tap is not None and tap.temperature is not None:
            seen[f"{tap.medium} of {feed.source.ident}"] = float(tap.temperature)
        elif tap is not None and tap.medium in _HEATED:
            untold = feed.source.ident
    place = max(seen, key=lambda k: seen[k], default=None)
    unsaid = any(study.hottest(z) is None for z in zones)
    if place is None or (unsaid and at_most(seen[place], float(rating))):
        return subject.lacks(missing.ZONE_TEMPERATURE)
    if untold and at_most(seen[place], float(rating)):
        return subject.along(untold).placed("taps", untold).lacks(missing.TAP_TEMPERATURE)
    hot, limit = (in_unit(t, rating.unit, "temperature") for t in (seen[place], float(rating)))
    shown = f"{plain_number(hot)} {rating.unit}"
    return subject.at_most(
        hot,
        limit,
        rating.unit,
        f"line {part.ident} sees at most {shown} ({place}) and is rated {rating.text}",
        broken=f"line {part.ident} sees {shown} ({place}) and is rated {rating.text}",
        remedy=f"use a line rated for {shown} or more: PTFE hose goes to 450 degF",
    )
