"""What lines, fittings and senders are rated for: pressure and heat."""

from __future__ import annotations

from collections.abc import Iterator

from ...analysis.fluid.facts import (
    PRESSURE,
    ROUTE,
    Part,
    highest_pressure,
    lines,
    media,
    working_pressure,
    zones_of,
)
from ...analysis.study import Study
from ...document.source import DocPath
from ...model.fluid import FluidLine
from ...model.quantities import (
    Quantity,
    in_unit,
    plain_number,
    show,
)
from ...physics.hoses import HoseRating, mil_h_8794_hoses
from ...physics.tubes import (
    BURST_OVER_WORKING,
    TubeMaterial,
    barlow_pressure,
    pressure_margin,
    proof_pressure,
    tube_material,
)
from ..verdicts import (
    Verdict,
    advisory,
    discrepancy,
    meets,
    undetermined,
)
from ..vocabulary import rule

_METALS = {
    "5052-O aluminium": "5052-O",
    "6061-T6 aluminium": "6061-T6",
    "3003-O aluminium": "3003-O",
    "304 stainless": "304 annealed",
    "copper": "copper C12200 annealed",
    "brass": "brass",
}
"""Materials of a line and the row of tube_materials.csv that gives their strength."""


def metal_of(line: FluidLine) -> TubeMaterial | None:
    """Strength and family of a line's metal; ``None`` for hose, plastic or a metal not given."""
    name = _METALS.get(line.spec.material or "")
    return tube_material(name) if name is not None else None


def is_mil_h_8794(line: FluidLine) -> bool:
    """Whether the figures of MIL-H-8794 are those of a hose."""
    return line.spec.kind == "hose" and "8794" in (line.spec.standard or "")


def hose_row(line: FluidLine) -> HoseRating | None:
    """The MIL-H-8794 hose of a hose's dash number, whatever its make."""
    dash = (line.size or line.spec.end_form or "").rpartition("-")[2]
    return mil_h_8794_hoses().get(int(dash)) if dash.isdigit() else None


@rule(
    "line-pressure",
    title="Lines bear the pressure of their source, and tubes the proof test",
    why="A line that is too weak bursts at the first cold start, when oil pressure is highest. For a gauge line the margin is "
    "wide; hose and plastic are where it fails.",
    source="14 CFR 23.993(a) (sister section 27.993); rating of the part; tube: Barlow, burst over working pressure of 4 (recalled)",
    formula="P = 2 S t/D with D the outside diameter; burst/working >= 4; yield pressure >= proof pressure, twice the working "
    "pressure and at least 100 psi (NAVEDTRA 14018)",
    example="1/4 x 0.035 tube 5052-O bursts at 7000 psi: 70 times 100 psi",
    over="fluid_lines",
)
def line_pressure(study: Study) -> Iterator[Verdict]:
    """Every line that a source presses into."""
    for part in lines(study):
        if not media(study).in_line(part.ident):
            continue
        working, tap = highest_pressure(study, part.ident)
        if working is None:
            yield undetermined((part.ident, tap) if tap else (part.ident,), ("taps", tap), PRESSURE)
        elif working > 0:
            yield _line(part, working, tap)


def _line(part: Part, working: Quantity, tap: str) -> Verdict:
    spec, at = part.line.spec, (part.ident, tap)
    rated = spec.rated_pressure if spec.rated_pressure is not None else _hose_rating(part.line)
    metal = metal_of(part.line)
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
    if yields is not None and yields < proof:
        numbers = _numbers(proof, yields, "psi")
        return discrepancy(
            at,
            part.path,
            f"line {part.ident} yields at {show(yields, 'psi', 'pressure')}, below its proof test of {show(proof, 'psi', 'pressure')}",
            remedy="use a tube of thicker wall or stronger metal",
            **numbers,
        )
    if rated is not None:
        return _against_rating(part, at, part.path, working, float(rated), burst)
    if burst is None:
        return undetermined(
            at, part.path, "rated pressure of the line, or its material, outside diameter and wall"
        )
    times = pressure_margin(burst, float(working))
    text = f"line {part.ident} bursts at {show(burst, 'psi', 'pressure')}, {plain_number(times)} times its {working.text}"
    figures = {
        "value": times,
        "limit": BURST_OVER_WORKING,
        "margin": times - BURST_OVER_WORKING,
        "unit": "times",
    }
    if times >= BURST_OVER_WORKING:
        return meets(at, part.path, text, **figures)
    return advisory(at, part.path, f"{text}; 4 times is usual", remedy="use a thicker wall", **figures)


def _numbers(value: float, limit: float, unit: str) -> dict[str, object]:
    shown = in_unit(value, unit, "pressure"), in_unit(limit, unit, "pressure")
    return {"value": shown[0], "limit": shown[1], "margin": shown[1] - shown[0], "unit": unit}


def _against_rating(
    part: Part, at: tuple[str, ...], path: DocPath, working: Quantity, rated: float, burst: float | None
) -> Verdict:
    limit = show(rated, "psi", "pressure")
    text = f"line {part.ident} sees up to {working.text} and is rated {limit}"
    numbers = _numbers(float(working), rated, "psi")
    if working <= rated:
        if burst is not None:
            text += f"; it bursts at {plain_number(pressure_margin(burst, float(working)))} times that"
        return meets(at, path, text, **numbers)
    return discrepancy(at, path, text, remedy=f"use a line rated for {working.text} or more", **numbers)


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
    over=lambda study: [*study.model.fittings, *study.model.senders],
)
def fitting_pressure(study: Study) -> Iterator[Verdict]:
    """Every fitting that states a working pressure, and every sender that a source presses on."""
    most = study.memo("fluid node pressure", _node_pressures)
    for ident, fitting in study.model.fittings.items():
        rated = fitting.spec.rated_pressure
        pressure = most.get(ident)
        if rated is not None and pressure is not None and pressure > 0:
            yield _part(ident, ("fittings", ident), pressure, rated, "working")
    for ident, sender in study.model.senders.items():
        pressure = most.get(ident)
        if pressure is None or pressure <= 0:
            continue
        proof = sender.spec.proof_pressure
        if proof is None:
            yield undetermined((ident,), ("senders", ident), "proof pressure of the sender")
        else:
            yield _part(ident, ("senders", ident), pressure, proof, "proof")


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


def _part(ident: str, path: DocPath, pressure: Quantity, limit: Quantity, what: str) -> Verdict:
    text = f"{ident} sees up to {pressure.text}; its {what} pressure is {limit.text}"
    numbers = _numbers(float(pressure), float(limit), limit.unit)
    if pressure <= limit:
        return meets((ident,), path, text, **numbers)
    return discrepancy((ident,), path, text, remedy=f"fit one for {pressure.text} or more", **numbers)


@rule(
    "line-temperature",
    title="A hose or plastic line is not hotter than its rating",
    why="Hose hardens and cracks where heat in operation or after shutdown exceeds what it is made for.",
    source="14 CFR 23.993(e) (sister section 27.993); rating of the hose, AC 43.13-1B table 9-3",
    formula="highest temperature of its zones and of what it carries, against its rating",
    example="a zone of 300 degF against a rubber hose of 250 degF: 50 degF over",
    over=lambda study: [p.ident for p in lines(study) if p.line.spec.kind == "hose" or _soft(p.line)],
)
def line_temperature(study: Study) -> Iterator[Verdict]:
    """Every hose and plastic line, by the hottest of its zones and taps."""
    for part in lines(study):
        if part.line.spec.kind != "hose" and not _soft(part.line):
            continue
        at, rating = (part.ident,), part.line.spec.temperature_rating
        zones = zones_of(study, part.line)
        if rating is None:
            yield undetermined(at, part.path, "temperature rating of the line")
            continue
        if zones is None:
            yield undetermined(at, part.path, ROUTE)
            continue
        seen = {f"zone {z}": float(t) for z in zones if (t := study.hottest(z)) is not None}
        for _, feed in media(study).into_line(part.ident):
            tap = study.model.taps.get(feed.source.ident)
            if tap is not None and tap.temperature is not None:
                seen[f"{tap.medium} of {feed.source.ident}"] = float(tap.temperature)
        place = max(seen, key=lambda k: seen[k], default=None)
        if place is not None and seen[place] > rating:
            yield _too_hot(part, place, seen[place])
        elif any(study.hottest(z) is None for z in zones):
            yield undetermined(at, part.path, "temperature of the zone")
        elif place is not None:
            hot, limit = _shown(part, seen[place]), _shown(part, float(rating))
            yield meets(
                at,
                part.path,
                f"line {part.ident} sees at most {plain_number(hot)} {rating.unit} ({place}) and is rated {rating.text}",
                value=hot,
                limit=limit,
                margin=limit - hot,
                unit=rating.unit,
            )


def _soft(line: FluidLine) -> bool:
    return line.spec.material in ("rubber", "PTFE", "nylon")


def _shown(part: Part, celsius: float) -> float:
    rating = part.line.spec.temperature_rating
    return in_unit(celsius, rating.unit if rating is not None else "degF", "temperature")


def _too_hot(part: Part, place: str, celsius: float) -> Verdict:
    rating = part.line.spec.temperature_rating
    assert rating is not None
    hot, limit = _shown(part, celsius), _shown(part, float(rating))
    return discrepancy(
        (part.ident,),
        part.path,
        f"line {part.ident} sees {plain_number(hot)} {rating.unit} ({place}) and is rated {rating.text}",
        value=hot,
        limit=limit,
        margin=limit - hot,
        unit=rating.unit,
        remedy=f"use a line rated for {plain_number(hot)} {rating.unit} or more: PTFE hose goes to 450 degF",
    )
