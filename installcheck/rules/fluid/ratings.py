"""What lines, fittings and senders are rated for: pressure and heat."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from ...analysis import missing
from ...analysis.fluid.facts import (
    Part,
    highest_pressure,
    lines,
    media,
    working_pressure,
    zones_of,
)
from ...analysis.fluid.stock import hose_row, is_mil_h_8794, is_soft, metal_of
from ...analysis.study import Study, once
from ...document.source import DocPath
from ...model.comparing import at_least, at_most
from ...model.devices import Sender
from ...model.fluid import Fitting, FluidLine
from ...model.quantities import Quantity, in_unit, plain_number, show
from ...physics.tubes import BURST_OVER_WORKING, barlow_pressure, pressure_margin, proof_pressure
from ..verdicts import Verdict
from ..vocabulary import Subject, rule


@rule(
    "line-pressure",
    title="Lines bear the pressure of their source, and tubes the proof test",
    why="A line that is too weak bursts at the first cold start, when oil pressure is highest. For a gauge line the margin is "
    "wide; hose and plastic are where it fails.",
    source="14 CFR 23.993(a) (sister section 27.993); rating of the part; tube: Barlow, burst over working pressure of 4 (recalled)",
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
    burst, yields = float(spec.burst_pressure) if spec.burst_pressure else None, None
    if (
        metal is not None
        and spec.outside_diameter is not None
        and spec.wall is not None
        and spec.outside_diameter > 2 * spec.wall
    ):
        yields = barlow_pressure(metal.yields_at, spec.outside_diameter, spec.wall)
        burst = burst or barlow_pressure(metal.ultimate, spec.outside_diameter, spec.wall)
    proof = proof_pressure(float(working))
    if yields is not None and not at_least(yields, proof):
        return subject.at_most(
            in_unit(proof, "psi", "pressure"),
            in_unit(yields, "psi", "pressure"),
            "psi",
            f"line {ident} yields at {show(yields, 'psi', 'pressure')}, below its proof test of {show(proof, 'psi', 'pressure')}",
            remedy="use a tube of thicker wall or stronger metal",
        )
    times = pressure_margin(burst, float(working)) if burst is not None else None
    if rated is not None:
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
        remedy="use a thicker wall",
        practice=True,
    )


def _hose_rating(line: FluidLine) -> float | None:
    row = hose_row(line)
    return row.operating if row is not None and is_mil_h_8794(line) else None


@rule(
    "fitting-pressure",
    title="Fittings and senders bear the pressure of their source",
    why="A sender pressed beyond its proof pressure reads wrong for ever, or bursts and is then an open line.",
    source="limit of the part; 14 CFR 23.993(a) (sister section 27.993)",
    formula="highest pressure of the taps that reach it, against its working or proof pressure",
    example="a 15 psi transducer of 30 psi proof on a 35 psi fuel pump: 5 psi over",
    over=lambda study: _under_pressure(study),
)
def fitting_pressure(study: Study, subject: Subject, one: _Pressed) -> Verdict | None:
    """A fitting that states a working pressure, or a sender, that a source presses on."""
    if isinstance(one.thing, Fitting):
        limit, what = one.thing.spec.rated_pressure, "working"
        if limit is None:
            return None
    else:
        limit, what = one.thing.spec.proof_pressure, "proof"
        if limit is None:
            return subject.lacks(missing.SENDER_PROOF_PRESSURE)
    return subject.at_most(
        in_unit(one.pressure, limit.unit, "pressure"),
        in_unit(limit, limit.unit, "pressure"),
        limit.unit,
        f"{one.ident} sees up to {one.pressure.text}; its {what} pressure is {limit.text}",
        remedy=f"fit one for {one.pressure.text} or more",
    )


@dataclass(frozen=True, slots=True)
class _Pressed:
    """A fitting or sender under pressure."""

    ident: str
    path: DocPath
    thing: Fitting | Sender
    pressure: Quantity


def _under_pressure(study: Study) -> Iterator[_Pressed]:
    most = _node_pressures(study)
    for section in ("fittings", "senders"):
        for ident, thing in study.model.section(section).items():
            if ident in most and most[ident] > 0 and isinstance(thing, (Fitting, Sender)):
                yield _Pressed(ident, (section, ident), thing, most[ident])


@once
def _node_pressures(study: Study) -> dict[str, Quantity]:
    """Highest pressure that reaches each fitting and sender; what is reached by an unstated one is left out."""
    most: dict[str, Quantity] = {}
    flooded = media(study)
    for node in study.graph.fluid:
        ident = node.partition(".")[0]
        for feed in flooded.feeds(node):
            tap = study.model.taps.get(feed.source.ident)
            pressure = working_pressure(tap) if tap is not None else None
            if pressure is not None and (ident not in most or pressure > most[ident]):
                most[ident] = pressure
    return most


@rule(
    "line-temperature",
    title="A hose or plastic line is not hotter than its rating",
    why="Hose hardens and cracks where heat in operation or after shutdown exceeds what it is made for.",
    source="14 CFR 23.993(e) (sister section 27.993); rating of the hose, AC 43.13-1B table 9-3",
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
    for _, feed in media(study).into_line(part.ident):
        tap = study.model.taps.get(feed.source.ident)
        if tap is not None and tap.temperature is not None:
            seen[f"{tap.medium} of {feed.source.ident}"] = float(tap.temperature)
    place = max(seen, key=lambda k: seen[k], default=None)
    unsaid = any(study.hottest(z) is None for z in zones)
    if place is None or (unsaid and at_most(seen[place], float(rating))):
        return subject.lacks(missing.ZONE_TEMPERATURE)
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
