"""Heat in wires: the current a run carries against what it may, alone and beside another, and the heat of its zones."""

from __future__ import annotations

from collections.abc import Iterator

from ...analysis.fluid.facts import listed
from ...analysis.power.feeds import branches
from ...analysis.power.run_currents import carries_power, run_current
from ...analysis.power.wire_limits import (
    RATING,
    Limit,
    chart_amps,
    described,
    sizes,
    smallest_gauge,
    wire_limit,
)
from ...analysis.routing import (
    GAUGE,
    hottest_of,
    is_thermocouple,
    thinnest,
    wires,
)
from ...analysis.study import Study
from ...document.source import DocPath
from ...model.quantities import Gauge, in_unit, plain_number
from ...physics.ampacity import MARGIN
from ...physics.conductors import compliance_temperature, conductor
from ..verdicts import (
    Verdict,
    advisory,
    discrepancy,
    meets,
    undetermined,
)
from ..vocabulary import rule

_CURVE = "check against the published curve"
_PLATING = {
    metal: float(conductor(metal).highest or 0.0)
    for metal in ("tin-plated copper", "silver-plated copper", "nickel-plated copper")
} | {
    "high-strength copper alloy": float(conductor("silver-plated high-strength copper alloy").highest or 0.0)
}
"""degC each plating lasts to; the alloy is silver-plated."""
_SILVER_C = _PLATING["silver-plated copper"]
_COOLEST_PLATING_C = 105.0
"""degC: below this every plating and bare copper lasts; the lowest limit of a plating is 150 degC (tin, recalled)."""


def power_runs(study: Study) -> list[str]:
    """Runs that can carry more than a signal."""
    return study.memo("power runs", lambda c: [i for i in c.model.wire_runs if carries_power(c, i)])


@rule(
    "wire-ampacity",
    title="A wire carries no more current than its bundle, its heat and its height allow",
    why="A wire that runs too hot hardens and cracks its insulation, and then that of its neighbours.",
    source="AC 43.13-1B 11-66 to 11-69, table 11-9; its curves read through fitted formulas, good to about 10 percent",
    formula="free-air current K sqrt(rating - hottest zone) x bundle factor x altitude factor >= all loads behind the wire",
    example="6 wires of 22 AWG, 150 degC, all loaded, 70 degC, 12500 ft: 5.62 A",
    over=power_runs,
)
def wire_ampacity(study: Study) -> Iterator[Verdict]:
    """Every power run; one that states too little is taken at its worst, and passes if it passes so."""
    sharers = {ident: len(group) for group in _parallel(study) for ident in group}
    for ident in power_runs(study):
        amps = run_current(study, ident)
        run = study.model.wire_runs[ident]
        path: DocPath = ("wire_runs", ident)
        if amps.value is None:
            if amps.missing:
                yield undetermined((ident,), path, amps.missing)
            continue
        limit = wire_limit(study, ident, thinnest(run))
        share = sharers.get(ident, 1)
        if limit.amps is None:
            yield undetermined(
                (ident,),
                path,
                limit.missing or "current limit of the wire, from its own sheet",
                f"run {ident} cannot be judged: {limit.why}" if limit.why else "",
            )
        else:
            basis = amps.basis if share == 1 else f"its share, {share} wires being in parallel"
            yield _ampacity(study, ident, amps.value / share, basis, limit)


def _ampacity(study: Study, ident: str, amps: float, basis: str, limit: Limit) -> Verdict:
    run = study.model.wire_runs[ident]
    assert limit.amps is not None
    assert limit.around is not None
    allowed = limit.amps
    near = not limit.sure and abs(amps - allowed) <= MARGIN * allowed
    path: DocPath = ("wire_runs", ident, "gauge")
    numbers = {"value": amps, "limit": allowed, "margin": allowed - amps, "unit": "A"}
    if amps <= allowed and not near:
        return meets((ident,), path, f"run {ident} carries {amps:.3g} A of {allowed:.3g} A", **numbers)
    if limit.worst:
        return undetermined((ident,), path, limit.missing)
    text = (
        f"run {ident} of {thinnest(run)} AWG carries {plain_number(amps)} A ({basis}); "
        f"{plain_number(allowed)} A is its limit at {', '.join(described(limit.around))}"
    )
    better = smallest_gauge(study, ident, amps, MARGIN)
    remedy = f"use {better} AWG" if better else "move it to a cooler way or a smaller bundle"
    if amps <= allowed:
        return advisory(
            (ident,), path, f"{text}, within 10 % of it: {_CURVE}", remedy=f"{remedy}, or {_CURVE}", **numbers
        )
    if near:
        return advisory((ident,), path, f"{text}: {_CURVE}", remedy=remedy, **numbers)
    return discrepancy((ident,), path, text, remedy=remedy, **numbers)


def _parallel(study: Study) -> list[list[str]]:
    """Groups of single power wires that join the same two points."""
    return study.memo("parallel wires", _find_parallel)


def _find_parallel(study: Study) -> list[list[str]]:
    groups: dict[frozenset[str], list[str]] = {}
    for (ident, name), branch in branches(study).items():
        if branch.alone:
            continue
        for edge in study.edges(ident):
            if edge.name == name:
                groups.setdefault(frozenset((edge.a, edge.b)), []).append(ident)
    return [group for group in groups.values() if len(group) > 1]


@rule(
    "parallel-wires",
    title="Each of several wires side by side can carry the whole current alone",
    why="One of two parallel wires that comes off is not noticed, and the other then carries everything.",
    source="plain physics; limits of AC 43.13-1B table 11-3 and 11-66 to 11-69",
    formula="current of all loads behind <= limit of each wire, and <= its entry in table 11-3",
    example="two 12 AWG to a bus with 32.5 A: 16.25 A each, 32.5 A with one open; 12 AWG is good for 30 A, 10 AWG for 40 A",
    over=lambda study: [i for group in _parallel(study) for i in group],
)
def parallel_wires(study: Study) -> Iterator[Verdict]:
    """Every group of runs between the same two terminals that feed a load or return from one."""
    for group in _parallel(study):
        at, path = tuple(group), ("wire_runs", group[0])
        amps = run_current(study, group[0])
        gauges = {ident: thinnest(study.model.wire_runs[ident]) for ident in group}
        weakest = max(gauges, key=lambda i: gauge.number if (gauge := gauges[i]) is not None else 99)
        gauge = gauges[weakest]
        if amps.value is None or gauge is None:
            if missing := (*amps.missing, *((GAUGE,) if gauge is None else ())):
                yield undetermined(at, path, missing)
            continue
        limit = wire_limit(study, weakest, gauge)
        chart = chart_amps(str(gauge), "breaker")
        here = None if limit.worst else limit.amps
        known = [one for one in (chart, here) if one is not None]
        if not known:
            yield undetermined(at, path, limit.missing or RATING)
            continue
        yield _one_open(study, group, (weakest, gauge), amps.value, min(known))


def _one_open(
    study: Study, group: list[str], weakest: tuple[str, Gauge], amps: float, allowed: float
) -> Verdict:
    ident, gauge = weakest
    path: DocPath = ("wire_runs", ident, "gauge")
    numbers = {"value": amps, "limit": allowed, "margin": allowed - amps, "unit": "A"}
    text = (
        f"runs {listed(group)} lie in parallel, {plain_number(amps / len(group))} A in each if they share alike; with the others "
        f"open, {ident} of {gauge} AWG carries {plain_number(amps)} A, {plain_number(allowed)} A being its limit"
    )
    if amps <= allowed:
        return meets(tuple(group), path, text, **numbers)
    better = _alone(study, ident, amps)
    remedy = f"use {better} AWG for each, or one wire of it in their place" if better else "use heavier wire"
    return discrepancy(tuple(group), path, text, remedy=remedy, **numbers)


def _alone(study: Study, ident: str, amps: float) -> str | None:
    """Smallest gauge that passes the chart, and this run's surroundings where they are known."""
    for gauge in sizes():
        chart = chart_amps(gauge, "breaker")
        limit = wire_limit(study, ident, Gauge(gauge))
        if chart is not None and chart >= amps and (limit.worst or limit.amps is None or limit.amps >= amps):
            return gauge
    return None


@rule(
    "wire-temperature",
    title="A wire is rated for the heat of every zone it runs through",
    why="Insulation above its rating turns brittle, and the rating must leave room for the wire's own heat.",
    source="AC 43.13-1B 11-66, 11-76: the rating is the highest conductor temperature; wire specification of the part",
    formula="hottest zone of the run <= temperature rating of the wire",
    example="wire of 105 degC in an engine zone of 110 degC: over by 5 degC",
    over="wire_runs",
)
def wire_temperature(study: Study) -> Iterator[Verdict]:
    """Every run that stays."""
    for ident, run in study.model.wire_runs.items():
        rating = run.spec.temperature_rating
        ambient, missing = hottest_of(study, ident)
        path: DocPath = ("wire_runs", ident)
        if ambient is None or rating is None:
            yield undetermined((ident,), path, missing if rating is not None else (*missing, RATING))
            continue
        unit = rating.unit
        got, most = in_unit(ambient, unit, "temperature"), in_unit(rating, unit, "temperature")
        numbers = {"value": got, "limit": most, "margin": most - got, "unit": unit}
        text = f"run {ident} is rated {rating.text} and sees {got:.4g} {unit}"
        if ambient < rating:
            yield meets((ident,), path, text, **numbers)
        else:
            yield discrepancy(
                (ident,),
                (*path, "route") if run.route else path,
                text,
                remedy="use wire of 200 degC or more (AS22759/41, /43), or keep it out of that zone"
                if ambient < _SILVER_C
                else "keep it out of that zone",
                **numbers,
            )


@rule(
    "conductor-plating",
    title="The plating of a conductor lasts at the temperature it reaches",
    why="Tin diffuses into the copper and oxidises above its limit, and the strands turn brittle and resistive.",
    source="general wiring practice (recalled): tin plate 150 degC, silver 200 degC, nickel 260 degC",
    formula="hottest zone, and the AC's estimate of the conductor's temperature under load, <= limit of the plating",
    example="nickel-plated wire rated 260 degC at 180 degC: 80 degC to spare; tin plate there is 30 degC over",
    over=lambda study: [i for i in study.model.wire_runs if _hot(study, i)],
)
def conductor_plating(study: Study) -> Iterator[Verdict]:
    """Every copper run in a zone above 105 degC; below that any plating lasts."""
    for ident, run in study.model.wire_runs.items():
        if not _hot(study, ident):
            continue
        ambient = hottest_of(study, ident)[0]
        assert ambient is not None
        path: DocPath = ("wire_runs", ident)
        metals = {w.metal for w in wires(run)}
        if None in metals:
            yield undetermined((ident,), path, "metal and plating of the conductor")
            continue
        for metal in sorted(m for m in metals if m in _PLATING):
            yield _plated(study, ident, metal, float(ambient), path)


def _hot(study: Study, ident: str) -> bool:
    if is_thermocouple(study.model.wire_runs[ident]):
        return False
    ambient = hottest_of(study, ident)[0]
    return ambient is not None and ambient > _COOLEST_PLATING_C


def _plated(study: Study, ident: str, metal: str, ambient: float, path: DocPath) -> Verdict:
    highest = _PLATING[metal]
    reached = max(ambient, _conductor_temperature(study, ident, ambient))
    text = f"the {metal} of run {ident} reaches {reached:.0f} degC; its plating lasts to {highest:.0f} degC"
    numbers = {"value": reached, "limit": highest, "margin": highest - reached, "unit": "degC"}
    if reached <= highest:
        return meets((ident,), path, text, **numbers)
    better = "nickel-plated" if reached > _SILVER_C else "silver- or nickel-plated"
    return advisory((ident,), path, text, remedy=f"use {better} wire", **numbers)


def _conductor_temperature(study: Study, ident: str, ambient: float) -> float:
    """Conductor temperature in degC by the AC's estimate; the ambient where the current is a signal's or not known."""
    rating = study.model.wire_runs[ident].spec.temperature_rating
    if rating is None or not carries_power(study, ident):
        return ambient
    amps = run_current(study, ident).value
    limit = wire_limit(study, ident, thinnest(study.model.wire_runs[ident]))
    if amps is None or not limit.amps or limit.worst or amps > limit.amps or rating <= ambient:
        return ambient
    return compliance_temperature(ambient, float(rating), amps, limit.amps)
