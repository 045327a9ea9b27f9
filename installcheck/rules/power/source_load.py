"""What the alternator must give in each state of the aircraft, and how long the battery lasts without it."""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil, inf

from ...analysis import missing
from ...analysis.fluid.facts import listed
from ...analysis.power.draws import Draw, draws
from ...analysis.power.unfed import cut_off, gives_nothing
from ...analysis.study import Study
from ...dataclass import dataclass
from ...model.aircraft import OperatingPoint
from ...model.comparing import at_most
from ...model.power import Supply
from ...model.quantities import in_unit, plain_number
from ...physics.sources import SOURCE_SHARE, battery_endurance, continuous_load_limit
from ..verdicts import Verdict
from ..vocabulary import Subject, rule

_USABLE = 0.75
"""Share of its capacity an aged, cold battery can be counted on for, where the document gives none: the lower figure of
common practice (recalled)."""
_LEAST_MIN, _HIGH_MIN, _HIGH_M = 30.0, 60.0, 25_000 * 0.3048
"""Minutes on battery, and above 25000 ft: 14 CFR 23.1353(h) from amendment 23-62; the minutes recalled."""
_SECONDS = 3600.0
_LOWEST_SHARE = 18.0 / 25.2
"""Share of a battery's voltage below which no equipment need work: 18 V of 25.2 V, RTCA DO-160 section 16 (recalled)."""


def _in_flight(study: Study) -> list[Draw]:
    """What draws current once a source runs."""
    return [one for one in draws(study) if not one.starter]


def _on(study: Study, point: OperatingPoint) -> Iterator[Draw]:
    """What draws current at an operating point; everything of its phase when it does not say."""
    named = set(point.loads_on) if point.loads_on is not None else None
    gauges = named is not None and not named.isdisjoint(study.model.indicators)
    for one in _in_flight(study):
        if named is not None and (one.section == "loads" or (one.section == "indicators" and gauges)):
            if one.ident in named:
                yield one
        elif not one.phases or point.phase is None or point.phase in one.phases:
            yield one


def _of_kind(study: Study, *kinds: str) -> dict[str, Supply]:
    return {i: s for i, s in study.model.supplies.items() if s.spec.kind in kinds}


@dataclass(frozen=True, slots=True)
class State:
    """One state of the aircraft: what its sources give, and what is drawn from them."""

    name: str
    alive: tuple[str, ...]
    rating: float
    continuous: float
    peak: float
    lacking: tuple[Draw, ...]


def _states(study: Study, sources: dict[str, Supply]) -> Iterator[State]:
    """Every operating point at which a source runs, every phase that loads name and no point is of, else everything on."""
    points = {name: p for name, p in study.model.operating_points.items() if p.phase != "start"}
    phases = dict.fromkeys(phase for one in _in_flight(study) for phase in one.phases)
    known = {"start", "emergency", *(p.phase for p in points.values())}
    states: dict[str, list[Draw]] = {name: list(_on(study, point)) for name, point in points.items()}
    for phase in phases if points else ():
        if phase not in known:
            states[phase] = [one for one in _in_flight(study) if not one.phases or phase in one.phases]
    for name, on in states.items() or (("everything on", _in_flight(study)),):
        dead = set(points[name].dead_supplies or ()) if name in points else set()
        opened = (points[name].open_switches or ()) if name in points else ()
        alive = tuple(i for i in sources if i not in dead and not cut_off(study, i, opened))
        if not alive:
            continue
        rating = sum(float(sources[i].spec.rated_current or 0.0) for i in alive)
        steady = sum(one.amps or 0.0 for one in on if not one.intermittent)
        short = sum(one.amps or 0.0 for one in on if one.intermittent)
        yield State(name, alive, rating, steady, steady + short, tuple(one for one in on if one.amps is None))


@rule(
    "source-load",
    title="The continuous load stays within 80 percent of what the alternators give, and the peak within all of it",
    why="An alternator near its limit cannot recharge the battery, and runs hot; past it the battery runs down in flight.",
    source="AC 43.13-1B 11-35a (a rule of thumb, not a load analysis)",
    formula="sum of continuous loads <= 0.8 x rating, or the rating where it is placarded or monitored; with intermittent ones <= "
    "rating",
    example="37.2 A on a 60 A alternator: 10.8 A below the 48 A limit; 48.2 A fails",
    over=lambda study: list(_of_kind(study, "alternator", "generator")),
)
def source_load(study: Study) -> Iterator[Verdict]:
    """All alternators together, in the state in which they carry most; continuous and peak."""
    sources = _of_kind(study, "alternator", "generator")
    if not sources:
        return
    subject = Subject(study, tuple(sources), ("supplies", next(iter(sources))))
    if any(s.spec.rated_current is None for s in sources.values()):
        yield subject.lacks(missing.ALTERNATOR_RATING)
        return
    for ident in sources:
        if gives_nothing(study, ident) and not all(gives_nothing(study, other) for other in sources):
            yield Subject(study, (ident,), ("supplies", ident, "rated_current")).discrepancy(
                f"{ident} is rated 0 A: it gives nothing",
                remedy="read the output on its plate, and put it right",
            )
    states = list(_states(study, sources))
    if not states:
        return
    lacking = [one for state in states for one in state.lacking]
    if lacking:
        yield _unknown(subject, lacking)
        return
    yield _continuous(subject, max(states, key=lambda s: _share(s.continuous, s)))
    yield _peak(subject, max(states, key=lambda s: _share(s.peak, s)))


def _share(amps: float, state: State) -> float:
    return amps / state.rating if state.rating > 0 else inf


def _unknown(subject: Subject, lacking: list[Draw]) -> Verdict:
    at = subject.along(*(one.ident for one in lacking)).placed(*lacking[0].path)
    return at.lacks(*(one.lacking for one in lacking))


def _continuous(subject: Subject, worst: State) -> Verdict:
    monitored = subject.study.model.aircraft.load_monitored
    limit = continuous_load_limit(worst.rating, bool(monitored)) if worst.rating > 0 else 0.0
    amps = worst.continuous
    text = f"{_carry(worst.alive, f'of {plain_number(worst.rating)} A')} {plain_number(amps)} A continuously at {worst.name}"
    if monitored is None and not at_most(amps, limit) and at_most(amps, worst.rating):
        return subject.placed("aircraft").lacks(
            missing.LOAD_MONITORED,
            because=f"{text}, over 80 percent: allowed only where a placard or a monitor limits it",
        )
    return subject.at_most(
        amps,
        limit,
        "A",
        text,
        broken=f"{text}; {plain_number(limit)} A is the most{'' if monitored else ' without a placard or monitor'}",
        remedy=f"take {plain_number(amps - limit)} A off, or fit {ceil(amps / SOURCE_SHARE)} A or more",
    )


def _carry(sources: tuple[str, ...], told: str = "") -> str:
    verb = "carries" if len(sources) == 1 else "together carry"
    return " ".join(filter(None, (listed(list(sources)), told, verb)))


def _peak(subject: Subject, worst: State) -> Verdict:
    text = f"{_carry(worst.alive, f'of {plain_number(worst.rating)} A')} {plain_number(worst.peak)} A at the peak at {worst.name}"
    over = plain_number(worst.peak - worst.rating)
    battery = bool(_of_kind(subject.study, "battery"))
    return subject.at_most(
        worst.peak,
        worst.rating,
        "A",
        text,
        broken=f"{text}: the battery gives the other {over} A"
        if battery
        else f"{text}, with no battery to help",
        remedy=f"do not use loads of {over} A together"
        if battery
        else f"fit a battery, or take {over} A off",
        practice=battery,
    )


@rule(
    "battery-endurance",
    title="The battery carries the essential loads for 30 minutes after the alternator is lost",
    why="The minutes left are the minutes to the nearest field.",
    source="14 CFR 23.1353(h) from amendment 23-62: 30 min, 60 min above 25000 ft (recalled)",
    formula="capacity x usable share / current of the essential loads, watts taken at the voltage of the battery; 1 - I R / V >= "
    "18 / 25.2 within it",
    example="24 Ah, 80 percent, 12 A: 96 min",
    over=lambda study: list(_of_kind(study, "battery")),
    at_worst=("essential",),
)
def battery_endures(study: Study) -> Iterator[Verdict]:
    """All batteries together, beside an alternator or alone."""
    batteries, steady = _of_kind(study, "battery"), [d for d in _in_flight(study) if not d.intermittent]
    if not batteries or not _in_flight(study):
        return
    subject = Subject(study, tuple(batteries), ("supplies", next(iter(batteries))))
    # Only a load can be said to be shed: what an indicator or a coil takes stays.
    kept = [one for one in steady if one.section != "loads" or one.essential is not False]
    lacking = [one for one in kept if one.amps is None]
    if any(s.spec.capacity is None for s in batteries.values()):
        yield subject.lacks(missing.BATTERY_CAPACITY)
    elif any(s.spec.voltage is None for s in batteries.values()) and any(d.watts for d in kept):
        yield subject.lacks(missing.SUPPLY_VOLTAGE)
    elif lacking:
        yield _unknown(subject, lacking)
    else:
        yield _endurance(subject, batteries, kept, steady)


def _left(batteries: dict[str, Supply], amps: float) -> float | None:
    """Share of its voltage that is left at the posts of batteries side by side which give a current; ``None`` where not told."""
    told = [
        (float(s.spec.voltage), float(s.spec.inner_resistance))
        for s in batteries.values()
        if s.spec.voltage is not None and s.spec.inner_resistance is not None
    ]
    if len(told) < len(batteries) or any(volts <= 0 or ohms <= 0 for volts, ohms in told):
        return None
    volts, ohms = min(v for v, _ in told), 1 / sum(1 / r for _, r in told)
    return 1 - amps * ohms / volts


def _endurance(
    subject: Subject, batteries: dict[str, Supply], kept: list[Draw], steady: list[Draw]
) -> Verdict:
    specs = [s.spec for s in batteries.values()]
    usable = sum(
        in_unit(s.capacity or 0.0, "Ah", "charge") * _SECONDS * float(s.usable or _USABLE) for s in specs
    )
    ceiling = subject.study.model.aircraft.ceiling
    least = _HIGH_MIN if ceiling is not None and not at_most(ceiling, _HIGH_M) else _LEAST_MIN
    volts = min((float(s.voltage) for s in specs if s.voltage is not None), default=None)
    amps, whole = (sum(one.amps_at(volts) or 0.0 for one in some) for some in (kept, steady))
    if amps <= 0:
        return subject.meets(f"{_carry(subject.at)} no essential load")
    minutes = battery_endurance(usable, 1.0, amps) / 60
    text = f"{_carry(subject.at)} the essential {plain_number(amps)} A for {minutes:.0f} min"
    if any(s.usable is None for s in specs):
        text += " (75 percent taken as usable)"
    if whole > amps:
        text += f", and {battery_endurance(usable, 1.0, whole) / 60:.0f} min if nothing is shed"
    left = _left(batteries, amps)
    if left is not None and not at_most(_LOWEST_SHARE, left):
        inside = listed([s.inner_resistance.text for s in specs if s.inner_resistance is not None])
        return subject.discrepancy(
            f"{_carry(subject.at)} the essential {plain_number(amps)} A, but of its voltage {inside} inside "
            f"{'leaves' if len(specs) == 1 else 'leave'} {plain_number(max(0.0, 100 * left))} percent",
            remedy="read the inner resistance off its sheet, or fit a battery that gives that current",
        )
    unsaid = [one for one in kept if one.section == "loads" and one.essential is None]
    if unsaid and not at_most(least, minutes):
        at = subject.along(*(one.ident for one in unsaid)).placed(*unsaid[0].path)
        return at.lacks(missing.LOAD_ESSENTIAL)
    allowed = usable / (least * 60)
    return subject.at_least(
        minutes,
        least,
        "min",
        text,
        broken=f"{text}; {least:.0f} min is the least",
        remedy=f"shed to {plain_number(allowed)} A, or fit {ceil(amps * least / 60 / _USABLE)} Ah or more",
        practice=True,
    )
