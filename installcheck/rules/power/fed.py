"""Whether each device gets a voltage it works on."""

from __future__ import annotations

from ...analysis import missing
from ...analysis.circuit.supplied import engine_runs, unsupplied
from ...analysis.power.fed import Fed, Got, cranks, fed, never_on, voltages
from ...analysis.power.unfed import dead_by
from ...analysis.required import required_inputs
from ...analysis.shown import listed, number, shown, text
from ...analysis.study import Point, Study
from ..verdicts import Outcome, Verdict
from ..vocabulary import Subject, rule, worst_over


@rule(
    "fed-within-range",
    title="An indicator or load gets a voltage it works on, at every operating point",
    why="A 12 V gauge on 28 V burns; one that gets too little reads low or goes blank, and a radio falls silent. A required gauge "
    "that is dead while an engine runs hides its limit, whoever opened the breaker.",
    source="the device's own limits; Kirchhoff's laws; 14 CFR 23.1301, 23.1309(a): installed equipment works as intended",
    formula="lowest supply <= (supply terminal - ground terminal) in the solved network <= highest supply; of an indicator the lowest "
    "not while an engine is started, when it may brown out; of a load where it is on, of a starter while it cranks; at a point of 'phase: emergency' a loss is looked at on purpose",
    example="gauge for 10 to 16 V at 27.6 V: 11.6 V too much",
    over=fed,
)
def fed_within_range(study: Study, subject: Subject, one: Fed) -> Verdict | None:
    """An indicator whose supply is drawn, or a load that says the lowest voltage it works on."""
    dead = [
        p for p in study.points if (one.ident, p.name) in unsupplied(study) and engine_runs(p) is not False
    ]
    if dead:
        return _dead(study, subject, one, dead)
    if not one.told:
        return subject.lacks(missing.INDICATOR_SUPPLY_RANGE)
    got = voltages(study, one)
    verdict = worst_over(got, lambda at: _judged(subject, one, at, _left_out(study, one)))
    if verdict is None and any(at.starting for at in got):
        return subject.lacks(
            missing.LOAD_POINT, because="only points at which an engine is started are given"
        )
    if (
        verdict is not None
        and verdict.outcome is Outcome.MEETS
        and cranks(study, one)
        and never_on(study, one)
    ):
        return subject.lacks(missing.LOAD_POINT, because=f"{one.ident} cranks at no operating point")
    return verdict


def _left_out(study: Study, one: Fed) -> str:
    """In words, that what an indicator gets while an engine is started is left out; whatever that is, so that it rests on nothing."""
    starts = [p.name for p in study.points if p.given is not None and p.given.phase == "start"]
    if one.section != "indicators" or one.lowest is None or not starts:
        return ""
    return f"; it may brown out while an engine is started, and {listed(starts)} is left out"


def _dead(study: Study, subject: Subject, one: Fed, dead: list[Point]) -> Verdict:
    """An indicator without supply at points at which an engine runs, or may run."""
    running = [p for p in dead if engine_runs(p)]
    told = f"{one.ident} gets no voltage ({', '.join(p.name for p in running or dead)})"
    opened = _opened(study, one, running or dead)
    if not opened:
        why, lacking = dead_by(study, one.bus or "")
        return subject.lacks(lacking, because=f"{told}: {why}")
    told += f": {listed(opened)} {'is' if len(opened) == 1 else 'are'} open or dead there"
    if not running:
        return subject.lacks(missing.POINT_PHASE, because=f"{told}, and whether an engine runs is not said")
    judge = subject.discrepancy if _is_required(study, one.ident) else subject.advisory
    return judge(
        f"{told}, and an engine runs",
        remedy=f"take {listed(opened)} out of what the point says is open or dead; 'phase: emergency' where the loss is what it looks at",
    )


def _opened(study: Study, one: Fed, points: list[Point]) -> list[str]:
    """What the points open on the way to a device, else what they open or kill at all."""
    said = [
        ident
        for p in points
        if p.given is not None
        for ident in (*(p.given.open_switches or ()), *(p.given.dead_supplies or ()))
    ]
    drawn = one.consumer
    way = {e.ident for e in (*(drawn.out or ()), *(drawn.back or ()))} if drawn is not None else set()
    return list(dict.fromkeys([i for i in said if i in way] or said))


def _is_required(study: Study, ident: str) -> bool:
    return any(s.indicator == ident and s.name in required_inputs(study) for s in shown(study))


def _judged(subject: Subject, one: Fed, got: Got, left_out: str) -> Verdict | None:
    low, high = one.lowest, one.highest
    ends = [e for e in (low, high) if e is not None]
    span = " to ".join(text(e, e) for e in ends) + ("" if high is not None else " or more")
    told = f"{one.ident} gets {text(got.volts, ends[0])} ({got.where}), and works on {span}{left_out}"
    remedy = f"feed it {span}, or fit one made for this supply"
    near_low = low is not None and (high is None or got.volts - low <= high - got.volts)
    subject = subject.field("supply_voltage" if one.section == "indicators" else "min_voltage")
    if near_low and low is not None:
        if got.starting and one.section == "indicators":
            return None
        if got.starting:
            remedy = (
                f"start with a battery of less inner resistance, and heavier or shorter cables and clean joints on the way of the "
                f"starter's current, so that {one.ident} gets {span}"
            )
        practice = got.starting and not got.on
        verdict = subject.at_least(
            number(got.volts, low), number(low, low), low.unit, told, remedy=remedy, practice=practice
        )
    else:
        assert high is not None
        verdict = subject.at_most(number(got.volts, high), number(high, high), high.unit, told, remedy=remedy)
    if verdict.outcome is Outcome.MEETS and got.starting and one.section == "indicators":
        return None
    if verdict.outcome is Outcome.MEETS and got.missing and low is not None:
        return subject.lacks(*got.missing)
    return verdict
