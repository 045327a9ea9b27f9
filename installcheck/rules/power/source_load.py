"""What the alternator must give in each state of the aircraft, and how long the battery lasts without it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil

from ...analysis.fluid.facts import listed
from ...analysis.power.wiring import LOAD_CURRENT, is_starter, load_amps
from ...analysis.study import Study
from ...document.source import DocPath
from ...model.aircraft import OperatingPoint
from ...model.power import Supply
from ...model.quantities import in_unit, plain_number
from ...physics.sources import SOURCE_SHARE, battery_endurance, continuous_load_limit
from ..verdicts import (
    Verdict,
    advisory,
    discrepancy,
    meets,
    undetermined,
)
from ..vocabulary import rule

_USABLE = 0.75
"""Share of its capacity an aged, cold battery can be counted on for, where the document gives none: the lower figure of
common practice (recalled)."""
_LEAST_MIN, _HIGH_MIN, _HIGH_M = 30.0, 60.0, 25_000 * 0.3048
"""Minutes on battery, and above 25000 ft: 14 CFR 23.1353(h) as before amendment 23-64 (recalled)."""
_SECONDS = 3600.0
_RATED = "rated current of the alternator"
_MONITORED = "placard or monitor that keeps the load within the rating ('load_monitored: yes' or 'no')"
_ESSENTIAL = "standing of the load when the alternator is lost ('essential: yes' or 'no')"


@dataclass(frozen=True, slots=True)
class Drawn:
    """One thing that draws current: ampere if known, and when."""

    ident: str
    path: DocPath
    amps: float | None
    missing: str
    intermittent: bool = False
    essential: bool | None = True
    phases: frozenset[str] | None = None


def drawn(study: Study) -> list[Drawn]:
    """Loads, indicators, coils and inverters of the aircraft; starters, which run before the alternator does, are left out."""
    return study.memo("drawn", lambda c: list(_drawn(c)))


def _drawn(study: Study) -> Iterator[Drawn]:
    model = study.model
    for ident, load in model.loads.items():
        if is_starter(ident, load):
            continue
        phases = frozenset(load.phases) if load.phases is not None else None
        short = load.duty == "intermittent"
        yield Drawn(
            ident, ("loads", ident), load_amps(study, load), LOAD_CURRENT, short, load.essential, phases
        )
    for ident, indicator in model.indicators.items():
        spec = indicator.spec
        if spec.supply_terminals is None:
            continue
        amps = (
            None
            if spec.supply_current is None
            else float(spec.supply_current) + float(spec.lamp_current or 0.0)
        )
        yield Drawn(ident, ("indicators", ident), amps, "supply current of the indicator")
    for ident, supply in model.supplies.items():
        words = f"{ident} {supply.title or ''} {supply.part or ''}".lower()
        if supply.spec.kind == "contactor" and "starter" not in words:
            coil = supply.spec.coil_current
            yield Drawn(ident, ("supplies", ident), _amps(coil), "coil current of the contactor")
        elif supply.spec.kind == "inverter":
            yield Drawn(
                ident,
                ("supplies", ident),
                _amps(supply.spec.max_current),
                "current the inverter draws ('max_current')",
            )


def _amps(stated: float | None) -> float | None:
    return None if stated is None else float(stated)


def _on(study: Study, point: OperatingPoint | None) -> Iterator[Drawn]:
    """What draws current in one state of the aircraft; everything when it does not say."""
    named = set(point.loads_on) if point is not None and point.loads_on is not None else None
    gauges = named is not None and not named.isdisjoint(study.model.indicators)
    for one in drawn(study):
        section = one.path[0]
        if named is not None and (section == "loads" or (section == "indicators" and gauges)):
            if one.ident in named:
                yield one
        elif one.phases is None or point is None or point.phase is None or point.phase in one.phases:
            yield one


def _sources(study: Study) -> dict[str, Supply]:
    return {
        ident: supply
        for ident, supply in study.model.supplies.items()
        if supply.spec.kind in ("alternator", "generator")
    }


@dataclass(frozen=True, slots=True)
class State:
    """One state of the aircraft: what its sources give, and what is drawn from them."""

    name: str
    rating: float
    continuous: float
    peak: float
    lacking: tuple[Drawn, ...]


def _states(study: Study, sources: dict[str, Supply]) -> Iterator[State]:
    """Every operating point at which a source runs; one with everything on where there is none."""
    points = {name: p for name, p in study.model.operating_points.items() if p.phase != "start"}
    for name, point in points.items() or (("everything on", None),):
        dead = set(point.dead_supplies or ()) if point is not None else set()
        rating = sum(float(s.spec.rated_current or 0.0) for i, s in sources.items() if i not in dead)
        if rating <= 0:
            continue
        on = list(_on(study, point))
        steady = sum(one.amps or 0.0 for one in on if not one.intermittent)
        short = sum(one.amps or 0.0 for one in on if one.intermittent)
        yield State(name, rating, steady, steady + short, tuple(one for one in on if one.amps is None))


@rule(
    "source-load",
    title="The continuous load stays within 80 percent of what the alternators give, and the peak within all of it",
    why="An alternator near its limit cannot recharge the battery, and runs hot; past it the battery runs down in flight.",
    source="AC 43.13-1B 11-35a (a rule of thumb, not a load analysis)",
    formula="sum of continuous loads <= 0.8 x rating, or the rating where it is placarded or monitored; with intermittent ones <= "
    "rating",
    example="37.2 A on a 60 A alternator: 10.8 A below the 48 A limit; 48.2 A fails",
    over=lambda study: list(_sources(study)),
)
def source_load(study: Study) -> Iterator[Verdict]:
    """All alternators together, in the state in which they carry most; continuous and peak."""
    sources = _sources(study)
    if not sources:
        return
    at = tuple(sources)
    path: DocPath = ("supplies", at[0])
    if any(s.spec.rated_current is None for s in sources.values()):
        yield undetermined(at, path, _RATED)
        return
    states = list(_states(study, sources))
    if not states:
        return
    lacking = {one.ident: one for state in states for one in state.lacking}
    if lacking:
        missing = tuple(dict.fromkeys(one.missing for one in lacking.values()))
        yield undetermined((*at, *lacking), next(iter(lacking.values())).path, missing)
        return
    yield _continuous(study, at, path, max(states, key=lambda s: s.continuous / s.rating))
    yield _peak(study, at, path, max(states, key=lambda s: s.peak / s.rating))


def _continuous(study: Study, at: tuple[str, ...], path: DocPath, worst: State) -> Verdict:
    monitored = study.model.aircraft.load_monitored
    limit = continuous_load_limit(worst.rating, bool(monitored))
    amps = worst.continuous
    numbers = {"value": amps, "limit": limit, "margin": limit - amps, "unit": "A"}
    text = f"{listed(list(at))} of {plain_number(worst.rating)} A {_carry(at)} {plain_number(amps)} A continuously at {worst.name}"
    if amps <= limit:
        return meets(at, path, text, **numbers)
    if monitored is None and amps <= worst.rating:
        return undetermined(
            at,
            ("aircraft",),
            _MONITORED,
            f"{text}, over 80 percent: allowed only where a placard or a monitor limits it",
        )
    return discrepancy(
        at,
        path,
        f"{text}; {plain_number(limit)} A is the most{'' if monitored else ' without a placard or monitor'}",
        remedy=f"take {plain_number(amps - limit)} A off, or fit {ceil(amps / SOURCE_SHARE)} A or more",
        **numbers,
    )


def _carry(at: tuple[str, ...]) -> str:
    return "carries" if len(at) == 1 else "together carry"


def _peak(study: Study, at: tuple[str, ...], path: DocPath, worst: State) -> Verdict:
    numbers = {
        "value": worst.peak,
        "limit": worst.rating,
        "margin": worst.rating - worst.peak,
        "unit": "A",
    }
    text = f"{listed(list(at))} of {plain_number(worst.rating)} A {_carry(at)} {plain_number(worst.peak)} A at the peak at {worst.name}"
    if worst.peak <= worst.rating:
        return meets(at, path, text, **numbers)
    battery = any(s.spec.kind == "battery" for s in study.model.supplies.values())
    over = plain_number(worst.peak - worst.rating)
    if battery:
        return advisory(
            at,
            path,
            f"{text}: the battery gives the other {over} A",
            remedy=f"do not use loads of {over} A together",
            **numbers,
        )
    return discrepancy(
        at, path, f"{text}, with no battery to help", remedy=f"fit a battery, or take {over} A off", **numbers
    )


@rule(
    "battery-endurance",
    title="The battery carries the essential loads for 30 minutes after the alternator is lost",
    why="The minutes left are the minutes to the nearest field.",
    source="14 CFR 23.1353(h) as before amendment 23-64 (recalled): 30 min, 60 min above 25000 ft",
    formula="capacity x usable share / current of the essential loads",
    example="24 Ah, 80 percent, 12 A: 96 min",
    over=lambda study: [i for i, s in study.model.supplies.items() if s.spec.kind == "battery"],
)
def battery_endures(study: Study) -> Iterator[Verdict]:
    """All batteries together, beside an alternator or alone."""
    batteries = {i: s for i, s in study.model.supplies.items() if s.spec.kind == "battery"}
    kept = [one for one in drawn(study) if not one.intermittent and one.essential is not False]
    if not batteries or not drawn(study):
        return
    at = tuple(batteries)
    path: DocPath = ("supplies", at[0])
    if any(s.spec.capacity is None for s in batteries.values()):
        yield undetermined(at, path, "capacity of the battery")
        return
    lacking = {one.ident: one for one in kept if one.amps is None}
    if lacking:
        missing = tuple(dict.fromkeys(one.missing for one in lacking.values()))
        yield undetermined((*at, *lacking), next(iter(lacking.values())).path, missing)
        return
    usable = sum(
        in_unit(s.spec.capacity or 0.0, "Ah", "charge") * _SECONDS * float(s.spec.usable or _USABLE)
        for s in batteries.values()
    )
    unsaid = [one for one in kept if one.essential is None]
    yield _endurance(study, at, usable, kept, unsaid)


def _endurance(
    study: Study, at: tuple[str, ...], usable: float, kept: list[Drawn], unsaid: list[Drawn]
) -> Verdict:
    path: DocPath = ("supplies", at[0])
    ceiling = study.model.aircraft.ceiling
    least = _HIGH_MIN if ceiling is not None and ceiling > _HIGH_M else _LEAST_MIN
    amps = sum(one.amps or 0.0 for one in kept)
    whole = sum(one.amps or 0.0 for one in drawn(study) if not one.intermittent)
    if amps <= 0:
        return meets(at, path, f"{listed(list(at))} {_carry(at)} no essential load")
    minutes = battery_endurance(usable, 1.0, amps) / 60
    numbers = {"value": minutes, "limit": least, "margin": minutes - least, "unit": "min"}
    assumed = (
        ""
        if all(study.model.supplies[i].spec.usable is not None for i in at)
        else " (75 percent taken as usable)"
    )
    text = (
        f"{listed(list(at))} {_carry(at)} the essential {plain_number(amps)} A for {minutes:.0f} min{assumed}"
    )
    if whole > amps:
        text += f", and {battery_endurance(usable, 1.0, whole) / 60:.0f} min if nothing is shed"
    if minutes >= least:
        return meets(at, path, text, **numbers)
    if unsaid:
        return undetermined((*at, *(one.ident for one in unsaid)), unsaid[0].path, _ESSENTIAL)
    allowed = usable / (least * 60)
    return advisory(
        at,
        path,
        f"{text}; {least:.0f} min is the least",
        remedy=f"shed to {plain_number(allowed)} A, or fit {ceil(amps * least / 60 / _USABLE)} Ah or more",
        **numbers,
    )
