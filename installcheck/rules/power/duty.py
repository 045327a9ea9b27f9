"""Duty: a load called intermittent is on for a short time."""

from __future__ import annotations

from ...analysis import missing
from ...analysis.study import Study
from ...model.power import Load
from ...model.quantities import in_unit, plain_number
from ..verdicts import Verdict
from ..vocabulary import Subject, rule

_LONGEST_MIN = 2.0
"""min, that the intermittent conductor chart of AC 43.13-1B (figure 11-3) is drawn for (recalled)."""


@rule(
    "intermittent-duty",
    title="A load called intermittent is on for no longer than two minutes",
    why="The larger drop and the smaller share of the source that it is allowed are for loads that cool between.",
    source="AC 43.13-1B figure 11-3, intermittent flow: at most 2 minutes (recalled)",
    formula="longest time on <= 2 min",
    example="a landing light of 10 min: continuous, and judged so",
    over="loads",
)
def intermittent_duty(study: Study, subject: Subject, load: Load) -> Verdict | None:
    """An intermittent load that says how long it is on."""
    if load.duty != "intermittent":
        return None
    if load.on_time is None:
        unknown = study.document.declared_unknown((*subject.path, "on_time"))
        return subject.lacks(missing.LOAD_ON_TIME) if unknown else None
    minutes = in_unit(load.on_time, "min", "time")
    return subject.field("on_time").at_most(
        minutes,
        _LONGEST_MIN,
        "min",
        f"{subject.ident} is on for {plain_number(minutes)} min at most",
        broken=f"{subject.ident} is called intermittent and is on for {plain_number(minutes)} min",
        remedy="give it 'duty: continuous', and judge its wire, its drop and its source by that",
        practice=True,
    )
