"""Extra indicators are told from required ones."""

from __future__ import annotations

from collections.abc import Iterator

from ...analysis.fluid.facts import amateur_built
from ...analysis.required import (
    asked,
    open_questions,
    required_inputs,
    serving,
)
from ...analysis.shown import Shown, listed, shown
from ...analysis.study import Study
from ..verdicts import Verdict, meets, undetermined
from ..vocabulary import rule

_NAMED = 6
"""Indicators named in a message; more are counted."""
STANDING = "standing of the indicator: required or an extra ('required')"


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
def indicator_standing(study: Study) -> Iterator[Verdict]:
    """Every indicator."""
    needed = required_inputs(study)
    unsure = bool(open_questions(study.model.aircraft)) and not amateur_built(study)
    inputs: dict[str, list[Shown]] = {}
    for one in shown(study):
        inputs.setdefault(one.indicator, []).append(one)
    rivals = _rivals(study)
    for ident, ones in inputs.items():
        at, path = (ident,), ("indicators", ident)
        said = ones[0].item.required
        by = list(dict.fromkeys(a.by for one in ones for a in needed.get(one.name, ())))
        if said is not None:
            word = f"required ({listed(by)})" if said and by else "required" if said else "an extra"
            yield meets(at, (*path, "required"), f"{ident} is {word}")
        elif ident in rivals:
            yield undetermined(
                at,
                path,
                STANDING,
                f"{_some(rivals[ident])} show the same: say which is the required one",
            )
        elif by:
            yield meets(
                at, path, f"{ident} is the only one for what {listed(by)} asks, and counts as required"
            )
        elif unsure:
            yield undetermined(at, path, STANDING)
        else:
            yield meets(at, path, f"{ident} is an extra: no rule in the list asks for it")


def _rivals(study: Study) -> dict[str, list[str]]:
    """Indicators of which the document does not say which one is required, with all that show the same."""
    found: dict[str, list[str]] = {}
    for one in asked(study):
        may = list(dict.fromkeys(s.indicator for s in serving(study, one) if s.item.required is not False))
        if len(may) > 1 and not any(study.model.indicators[i].required for i in may):
            for ident in may:
                found.setdefault(ident, may)
    return found


def _some(names: list[str]) -> str:
    more = [f"{len(names) - _NAMED} more"] if len(names) > _NAMED else []
    return listed([*names[:_NAMED], *more])
