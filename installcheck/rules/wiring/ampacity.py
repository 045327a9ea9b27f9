"""Heat in wires: the current a run carries against what it may, alone and beside another, and the heat of its zones."""

from __future__ import annotations

from collections.abc import Iterator
from math import inf

from ...analysis import missing
from ...analysis.fluid.facts import listed
from ...analysis.missing import Missing
from ...analysis.power.bypasses import taking_out
from ...analysis.power.feeds import branches
from ...analysis.power.run_currents import carries_power, run_current
from ...analysis.power.wire_limits import chart_amps, described, sizes, smallest_gauge, wire_limit
from ...analysis.routing import hottest_of, is_thermocouple, reached_by, thinnest, wires
from ...analysis.study import Study, once
from ...dataclass import dataclass
from ...document.source import DocPath
from ...model.comparing import at_most
from ...model.quantities import Gauge, in_unit, plain_number
from ...model.wiring import WireRun
from ...physics.ampacity import MARGIN, MOST_WIRES
from ...physics.conductors import compliance_temperature, conductor
from ..verdicts import Verdict
from ..vocabulary import Subject, rule

_PLATING = {
    metal: float(conductor(metal).highest or 0.0)
    for metal in ("tin-plated copper", "silver-plated copper", "nickel-plated copper")
} | {
    "high-strength copper alloy": float(conductor("silver-plated high-strength copper alloy").highest or 0.0)
}
"""degC each plating lasts to; the alloy is silver-plated."""
_SILVER_C = _PLATING["silver-plated copper"]
_COOLEST_PLATING_C = 105.0
"""degC: below this every plating and bare copper lasts; the lowest limit of a plating is 150 degC (tin)."""


@rule(
    "wire-ampacity",
    title="A wire carries no more current than its bundle, its heat and its height allow",
    why="A wire that runs too hot hardens and cracks its insulation, and then that of its neighbours.",
    source="AC 43.13-1B 11-66 to 11-69, table 11-9; its curves read through formulas that lie up to 15 percent below them",
    formula="free-air current K sqrt(rating - hottest zone) x bundle factor x altitude factor >= all loads behind the wire",
    example="6 wires of 22 AWG, 150 degC, all loaded, 70 degC, 12500 ft: 5.74 A",
    over="wire_runs",
    at_worst=("ceiling", "wires", "load_share"),
)
def wire_ampacity(study: Study, subject: Subject, run: WireRun) -> Verdict | None:
    """A power run; one that states too little is taken at its worst, and passes if it passes so."""
    ident, gauge = subject.ident, thinnest(run)
    if not carries_power(study, ident):
        return None
    amps = run_current(study, ident)
    if amps.value is None and not amps.missing:
        return None
    limit = wire_limit(study, ident, gauge)
    share = next((len(group.runs) for group in parallel(study) if ident in group.runs), 1)
    value = (amps.value if amps.value is not None else amps.least) / share
    basis = amps.basis if share == 1 else f"its share, {share} wires being in parallel"
    settled = amps.value is not None and (not limit.missing or limit.amps == limit.best)
    passes = amps.value is not None and limit.amps is not None and at_most(value, limit.amps)
    most, around = (limit.amps, limit.around) if passes else (limit.best, limit.best_around)
    close = most is not None and not limit.sure and at_most(value, most * (1 + MARGIN))
    if most is None or around is None or not (passes or settled or not close):
        because = f"run {ident} cannot be judged: {limit.why}" if limit.why else ""
        return subject.lacks(*(*amps.missing, *limit.missing) or (missing.RUN_LIMIT,), because=because)
    at_best = "" if settled or passes else " at best"
    if missing.BUNDLE_SHARE_AGREE in limit.missing:
        at_best += ", the runs of its bundle using more than the share it states,"
    if around.wires == MOST_WIRES and missing.bundle_limit_beyond(MOST_WIRES) in limit.missing:
        at_best += f", even with {MOST_WIRES} wires beside each other, the most its curve goes to,"
    broken = (
        f"run {ident} of {gauge} AWG carries {plain_number(value)} A ({basis}); "
        f"{plain_number(most)} A is its limit{at_best} at {', '.join(described(around))}"
    )
    return subject.field("gauge").at_most(
        value,
        most,
        "A",
        f"run {ident} carries {value:.3g} A of {most:.3g} A",
        broken=f"{broken}: check against the published curve" if close else broken,
        remedy=lambda: taking_out(study, ident) or _heavier(study, ident, value),
        practice=close,
    )


def _heavier(study: Study, ident: str, amps: float) -> str:
    better = smallest_gauge(study, ident, amps)
    return f"use {better} AWG" if better else "move it to a cooler way or a smaller bundle"


@dataclass(frozen=True, slots=True)
class Parallel:
    """Single power wires that join the same two points."""

    runs: tuple[str, ...]

    @property
    def ident(self) -> str:
        return self.runs[0]

    @property
    def path(self) -> DocPath:
        return ("wire_runs", self.ident)


@once
def parallel(study: Study) -> list[Parallel]:
    """Every group of runs between the same two terminals that feed a load or return from one."""
    groups: dict[frozenset[str], list[str]] = {}
    for (ident, name), branch in branches(study).items():
        if branch.alone:
            continue
        for edge in study.edges(ident):
            if edge.name == name:
                groups.setdefault(frozenset((edge.a, edge.b)), []).append(ident)
    return [Parallel(tuple(group)) for group in groups.values() if len(group) > 1]


@rule(
    "parallel-wires",
    title="Each of several wires side by side can carry the whole current alone",
    why="One of two parallel wires that comes off is not noticed, and the other then carries everything.",
    source="plain physics; limits of AC 43.13-1B table 11-3 and 11-66 to 11-69",
    formula="current of all loads behind <= limit of each wire, and <= its entry in table 11-3",
    example="two 12 AWG to a bus with 32.5 A: 16.25 A each, 32.5 A with one open; 12 AWG is good for 30 A, 10 AWG for 40 A",
    over=parallel,
)
def parallel_wires(study: Study, subject: Subject, group: Parallel) -> Verdict | None:
    """A group, by the thinnest of its wires."""
    subject = subject.along(*group.runs)
    total = run_current(study, group.ident)
    gauges = {ident: thinnest(study.model.wire_runs[ident]) for ident in group.runs}
    weakest = max(gauges, key=lambda i: gauge.number if (gauge := gauges[i]) is not None else 99)
    gauge, amps = gauges[weakest], total.value
    if amps is None or gauge is None:
        lacking = (*total.missing, *((missing.RUN_GAUGE,) if gauge is None else ()))
        return subject.lacks(*lacking) if lacking else None
    limit = wire_limit(study, weakest, gauge)
    chart = chart_amps(str(gauge), "breaker")
    known = [one for one in (chart, limit.best) if one is not None]
    if not known:
        return subject.lacks(*(limit.missing or (missing.RUN_RATING,)))
    return subject.placed("wire_runs", weakest, "gauge").at_most(
        amps,
        min(known),
        "A",
        f"runs {listed(list(group.runs))} lie in parallel, {plain_number(amps / len(group.runs))} A in each if they share alike; "
        f"with the others open, {weakest} of {gauge} AWG carries {plain_number(amps)} A, {plain_number(min(known))} A being its limit",
        remedy=lambda: _alone(study, weakest, amps),
    )


def _alone(study: Study, ident: str, amps: float) -> str:
    """The smallest gauge that passes the chart, and this run's surroundings where they are known."""
    for gauge in sizes():
        chart = chart_amps(gauge, "breaker")
        limit = wire_limit(study, ident, Gauge(gauge))
        here = limit.best is None or at_most(amps, limit.best)
        if here and chart is not None and at_most(amps, chart):
            return f"use {gauge} AWG for each, or one wire of it in their place"
    return "use heavier wire"


@rule(
    "wire-temperature",
    title="A wire is rated for the heat of every zone it runs through",
    why="Insulation above its rating turns brittle, and the rating must leave room for the wire's own heat.",
    source="AC 43.13-1B 11-66, 11-76: the rating is the highest conductor temperature; wire specification of the part",
    formula="hottest zone of the run <= temperature rating of the wire",
    example="wire of 105 degC in an engine zone of 110 degC: over by 5 degC",
    over="wire_runs",
)
def wire_temperature(study: Study, subject: Subject, run: WireRun) -> Verdict:
    """A run in the hottest of its zones."""
    rating = run.spec.temperature_rating
    hottest, lacking = hottest_of(study, subject.ident)
    ambient = hottest if hottest is not None else reached_by(study, subject.ident)
    if rating is None or ambient is None or (hottest is None and at_most(ambient, rating)):
        return subject.lacks(*lacking, *(() if rating is not None else (missing.RUN_RATING,)))
    unit = rating.unit
    got, most = in_unit(ambient, unit, "temperature"), in_unit(rating, unit, "temperature")
    return (subject.field("route") if run.route else subject).at_most(
        got,
        most,
        unit,
        f"run {subject.ident} is rated {rating.text} and sees {got:.4g} {unit}",
        remedy="use wire of 200 degC or more (AS22759/41, /43), or keep it out of that zone"
        if ambient < _SILVER_C
        else "keep it out of that zone",
    )


@rule(
    "conductor-plating",
    title="The plating of a conductor lasts at the temperature it reaches",
    why="Tin diffuses into the copper and oxidises above its limit, and the strands turn brittle and resistive.",
    source="makers' data: tin plate 150 degC, silver 200 degC; nickel 260 degC (recalled)",
    formula="hottest zone, and the AC's estimate of the conductor's temperature under load, <= limit of the plating",
    example="nickel-plated wire rated 260 degC at 180 degC: 80 degC to spare; tin plate there is 30 degC over",
    over="wire_runs",
    at_worst=("current",),
)
def conductor_plating(study: Study, subject: Subject, run: WireRun) -> Iterator[Verdict]:
    """A copper run in a zone above 105 degC; below that any plating lasts."""
    ambient = reached_by(study, subject.ident)
    if is_thermocouple(run) or ambient is None or at_most(ambient, _COOLEST_PLATING_C):
        return
    metals = {wire.metal for wire in wires(run)}
    if None in metals:
        yield subject.lacks(missing.RUN_METAL)
        return
    least, most, lacking = _conductor_temperature(study, subject.ident, float(ambient))
    for metal in sorted(m for m in metals if m in _PLATING):
        lasts = _PLATING[metal]
        reached = most if at_most(most, lasts) else least
        at_worst = "at most " if reached > least else ""
        if at_most(least, lasts) and not at_most(most, lasts):
            yield subject.lacks(*lacking)
            continue
        yield subject.at_most(
            reached,
            lasts,
            "degC",
            f"the {metal} of run {subject.ident} reaches {at_worst}{reached:.0f} degC; its plating lasts to {lasts:.0f} degC",
            remedy=f"use {'nickel-plated' if reached > _SILVER_C else 'silver- or nickel-plated'} wire",
            practice=True,
        )


def _conductor_temperature(
    study: Study, ident: str, ambient: float
) -> tuple[float, float, tuple[Missing, ...]]:
    """Least and most degC a conductor reaches by the AC's estimate, and what is missing where they differ.

    A signal's or a starter's current heats none; one that is not known heats it to the rating of its insulation at most,
    since what is more is a fault of ampacity.
    """
    rating = study.model.wire_runs[ident].spec.temperature_rating
    unknown = hottest_of(study, ident)[1]
    if unknown:
        return ambient, inf, unknown
    amps = run_current(study, ident) if carries_power(study, ident) else None
    if amps is None or (amps.value is None and not amps.missing):
        return ambient, ambient, ()
    if rating is None:
        return ambient, inf, (missing.RUN_RATING,)
    hot = max(float(rating), ambient)
    limit = wire_limit(study, ident, thinnest(study.model.wire_runs[ident]))
    if amps.value is None or limit.amps is None or limit.missing:
        return ambient, hot, (*amps.missing, *limit.missing) or (missing.RUN_LIMIT,)
    if hot == ambient or not at_most(amps.value, limit.amps):
        return hot, hot, ()
    settled = compliance_temperature(ambient, hot, amps.value, limit.amps)
    return settled, settled, ()
