"""Extra indicators are told from required ones."""

from __future__ import annotations

from ...analysis import missing
from ...analysis.fluid.facts import amateur_built
from ...analysis.required import asked, open_questions, required_inputs, serving
from ...analysis.shown import listed, shown_on
from ...analysis.study import Study, once
from ...model.devices import Indicator
from ..verdicts import Verdict
from ..vocabulary import Subject, rule

_NAMED = 6
"""Indicators named in a message; more are counted."""


@rule(
    "indicator-standing",
    title="Required indicators are told from extras",
    why="What is required governs removal, backups and what may be flown with; an instrument that supplements leaves the required "
    "one in place.",
    source="14 CFR part 43 appendix A (a)(2)(iv): removal of listed required equipment is a major alteration",
    formula="asked for by a rule or the papers: required; else an extra",
    example="exhaust temperature of an engine without a turbocharger: an extra",
    over="indicators",
)
def indicator_standing(study: Study, subject: Subject, indicator: Indicator) -> Verdict:
    """Every indicator."""
    ident, said = subject.ident, indicator.required
    by = list(
        dict.fromkeys(
            a.by for one in shown_on(study).get(ident, ()) for a in required_inputs(study).get(one.name, ())
        )
    )
    rivals = _rivals(study).get(ident)
    if said is not None:
        word = f"required ({listed(by)})" if said and by else "required" if said else "an extra"
        return subject.field("required").meets(f"{ident} is {word}")
    if rivals is not None:
        return subject.lacks(
            missing.INDICATOR_STANDING,
            because=f"{_some(rivals)} show the same: say which is the required one",
        )
    if by:
        of_tank = " of its tank" if indicator.spec.measures == "fuel quantity" else ""
        return subject.meets(
            f"{ident} is the only one{of_tank} for what {listed(by)} asks, and counts as required"
        )
    if open_questions(study.model.aircraft) and not amateur_built(study):
        return subject.lacks(missing.INDICATOR_STANDING)
    return subject.meets(f"{ident} is an extra: no rule in the list asks for it")


@once
def _rivals(study: Study) -> dict[str, list[str]]:
    """Indicators of which the document does not say which one is required, with all that show the same."""
    found: dict[str, list[str]] = {}
    for one in asked(study):
        may = list(dict.fromkeys(s.indicator for s in serving(study, one) if s.item.required is not False))
        if one.measures == ("fuel quantity",) and _each_of_its_own_tank(study, may):
            continue
        if len(may) > 1 and not any(study.model.indicators[i].required for i in may):
            for ident in may:
                found.setdefault(ident, may)
    return found


def _each_of_its_own_tank(study: Study, indicators: list[str]) -> bool:
    """Whether each gauge reads senders that no other reads: each tank has its own (14 CFR 23.1337(b))."""
    read = [{s.source for s in study.indications if s.indicator == i} for i in indicators]
    return all(read) and len(set().union(*read)) == sum(map(len, read))


def _some(names: list[str]) -> str:
    more = [f"{len(names) - _NAMED} more"] if len(names) > _NAMED else []
    return listed([*names[:_NAMED], *more])
