"""Whether each device gets a voltage it works on."""

from __future__ import annotations

from ...analysis import missing
from ...analysis.power.fed import Fed, Got, fed, voltages
from ...analysis.shown import number, text
from ...analysis.study import Study
from ..verdicts import Verdict
from ..vocabulary import Subject, rule, worst_over


@rule(
    "fed-within-range",
    title="An indicator or load gets a voltage it works on, at every operating point",
    why="A 12 V gauge on 28 V burns; one that gets too little reads low or goes blank, and a radio falls silent.",
    source="the device's own limits; Kirchhoff's laws",
    formula="lowest supply <= (supply terminal - ground terminal) in the solved network <= highest supply; the lowest not while an "
    "engine is started",
    example="gauge for 10 to 16 V at 27.6 V: 11.6 V too much",
    over=fed,
)
def fed_within_range(study: Study, subject: Subject, one: Fed) -> Verdict | None:
    """An indicator whose supply is drawn, or a load that says the lowest voltage it works on."""
    if not one.told:
        return subject.lacks(missing.INDICATOR_SUPPLY_RANGE)
    return worst_over(voltages(study, one), lambda got: _judged(subject, one, got))


def _judged(subject: Subject, one: Fed, got: Got) -> Verdict | None:
    low, high = one.lowest, one.highest
    ends = [e for e in (low, high) if e is not None]
    span = " to ".join(text(e, e) for e in ends) + ("" if high is not None else " or more")
    told = f"{one.ident} gets {text(got.volts, ends[0])} ({got.where}), and works on {span}"
    remedy = f"feed it {span}, or fit one made for this supply"
    near_low = low is not None and (high is None or got.volts - low <= high - got.volts)
    subject = subject.field("supply_voltage" if one.consumer.section == "indicators" else "min_voltage")
    if near_low and low is not None:
        if got.starting:
            return None
        return subject.at_least(number(got.volts, low), number(low, low), low.unit, told, remedy=remedy)
    assert high is not None
    return subject.at_most(number(got.volts, high), number(high, high), high.unit, told, remedy=remedy)
