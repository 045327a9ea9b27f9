"""Probes that share an indicator: leads of equal resistance, both poles switched, probes that may be joined."""

from __future__ import annotations

from collections.abc import Iterator

from ...analysis import missing
from ...analysis.study import Study
from ...analysis.thermocouple.circuits import Loop
from ...analysis.thermocouple.groups import Group, groups
from ...analysis.thermocouple.points import scale_of
from ...analysis.thermocouple.readings import LOOP_TOLERANCE_OHM, branch_ohms, cold_missing
from ...document.source import DocPath
from ...model.comparing import at_most
from ...model.quantities import plain_number
from ..verdicts import Verdict
from ..vocabulary import Subject, rule

_SPREAD_K = 100 / 1.8
"""K, 100 degF: spread of cylinder temperatures for which the error of unequal averaging leads is told when none is known."""
_EVEN_K = 0.5


@rule(
    "thermocouple-leads-matched",
    title="Leads of probes that share an indicator are equal in resistance",
    why="A moving-coil indicator is right for one loop only, so behind a selector every loop must be that one. Couples in "
    "parallel weigh by their conductance: the probe with the long lead counts least.",
    source="FAA-H-8083-31 ch. 10; law of couples in parallel: V = sum(E/R)/sum(1/R)",
    formula="largest branch - smallest branch; averaged: error = sum of (weight - 1/n) of the branches above it x spread",
    example="four type K at 600 to 750 degC, one branch of twice the resistance: 664.1 for 674.7 degC",
    over=groups,
)
def leads_matched(study: Study, subject: Subject, group: Group) -> Verdict:
    """Every input that several probes share."""
    subject = subject.along(*group.probes)
    if not group.averaged and group.loops[0].spec.principle == "electronic thermocouple":
        return subject.meets(f"{group.name} draws no current: its leads need not be equal")
    ohms = [branch_ohms(study, loop, study.points[0]) for loop in group.loops]
    sizes = [o.cold for o in ohms if o.cold is not None]
    if len(sizes) < len(ohms):
        return subject.lacks(*cold_missing(ohms))
    return _averaged(study, subject, group, sizes) if group.averaged else _selected(subject, group, sizes)


def _odd(group: Group, sizes: list[float]) -> Loop:
    """The branch furthest from the middle one."""
    middle = sorted(sizes)[len(sizes) // 2]
    return max(zip(group.loops, sizes, strict=True), key=lambda f: abs(f[1] - middle))[0]


def _own_run(loop: Loop) -> DocPath:
    lead = next((p for p in loop.pieces if p.sort == "lead"), None)
    return ("wire_runs", lead.ident) if lead is not None else loop.indication.path


def _equalise(group: Group, sizes: list[float]) -> str:
    most = max(sizes)
    short = [
        f"{plain_number(most - size)} ohm in the lead of {loop.probe_id}"
        for loop, size in zip(group.loops, sizes, strict=True)
        if most - size > 0.01
    ]
    return f"put {', '.join(short)}, as a spool or as equal length"


def _selected(subject: Subject, group: Group, sizes: list[float]) -> Verdict:
    stated = group.loops[0].spec.loop_tolerance
    tolerance = 2 * (float(stated) if stated is not None else LOOP_TOLERANCE_OHM)
    spread, odd = max(sizes) - min(sizes), _odd(group, sizes)
    text = f"the circuits of {group.name} differ by {plain_number(spread)} ohm, {plain_number(tolerance)} ohm being what its tolerance leaves"
    return _where(subject, odd, spread, tolerance).at_most(
        spread,
        tolerance,
        "ohm",
        text,
        broken=f"{text}; {odd.probe_id} is the odd one",
        remedy=lambda: _equalise(group, sizes),
        practice=stated is None,
    )


def _where(subject: Subject, odd: Loop, value: float, limit: float) -> Subject:
    """The input; where the limit is broken, the lead to mend."""
    return subject if at_most(value, limit) else subject.placed(*_own_run(odd))


def _averaged(study: Study, subject: Subject, group: Group, sizes: list[float]) -> Verdict:
    weights = [1 / size / sum(1 / s for s in sizes) for size in sizes]
    even = 1 / len(sizes)
    spread, told = _cylinder_spread(study, group)
    # The worst case has the heavy branches hot and the light ones cold, or the other way round.
    error = spread * sum(w - even for w in weights if w > even)
    scale = scale_of(study, group.loops[0])
    accuracy = group.loops[0].spec.accuracy
    limit = float(accuracy) if accuracy is not None else _EVEN_K
    return _where(subject, _odd(group, sizes), error, limit).at_most(
        scale.number(error),
        scale.number(limit),
        scale.unit,
        f"branches of {min(sizes):.3g} to {max(sizes):.3g} ohm put the mean of {group.name} off by up to "
        f"{scale.apart(error)} where cylinders differ by {scale.apart(spread)}{told}",
        remedy=lambda: _equalise(group, sizes),
    )


def _cylinder_spread(study: Study, group: Group) -> tuple[float, str]:
    """Spread of cylinder temperatures in K: of the survey for head temperature, else a round figure."""
    probe = group.loops[0].probe
    if group.loops[0].measure == "head temperature":
        for survey in study.model.survey.values():
            if survey.engine in (None, probe.engine):
                stages = [list(s.temperatures.values()) for s in (survey.stages or {}).values()]
                found = [max(t) - min(t) for t in stages if t]
                if found:
                    return max(found), " (survey)"
    return _SPREAD_K, " (assumed)"


@rule(
    "thermocouple-averaging",
    title="Probes joined for an average are isolated from the engine",
    why="A grounded junction ties its legs to the engine. Two of them short the others through it, and the average is of nothing.",
    source="plain physics: couples in parallel with a common ground; three public application notes state the rule",
    formula="no junction of an averaging group is grounded",
    example="six isolated probes in parallel: allowed; one grounded among them: not",
    over=groups,
)
def averaging(study: Study, subject: Subject, group: Group) -> Verdict | None:
    """Every averaged input."""
    if not group.averaged:
        return None
    subject = subject.along(*group.probes)
    grounded = [loop.probe_id for loop in group.loops if loop.probe.spec.junction == "grounded"]
    silent = [loop.probe_id for loop in group.loops if loop.probe.spec.junction is None]
    if grounded:
        return subject.placed("probes", grounded[0], "junction").discrepancy(
            f"{', '.join(grounded)} {'is' if len(grounded) == 1 else 'are'} grounded and joined with "
            f"{len(group.loops) - 1} others in {group.name}",
            remedy="fit probes with isolated junctions",
        )
    if silent:
        return subject.placed("probes", silent[0]).lacks(missing.PROBE_JUNCTION)
    return subject.meets(
        f"all {len(group.loops)} probes of {group.name} are isolated; an open one drops out unseen"
    )


@rule(
    "thermocouple-selector",
    title="A selector switches both legs of a thermocouple",
    why="With one leg left joined, grounded probes and their leads stay in parallel with the one selected.",
    source="plain physics: law of couples in parallel; TM 55-4920-401-13&P circuit checks",
    formula="both legs of each probe pass a contact of the same position",
    example="common + to 3 + and common - to 3 -: both legs of probe 3",
    over=groups,
)
def selector(study: Study, subject: Subject, group: Group) -> Iterator[Verdict]:
    """Every probe behind a selector."""
    for loop in group.loops:
        if loop.indication.position is not None:
            yield _switched(subject.along(loop.probe_id), group, loop)


def _switched(subject: Subject, group: Group, loop: Loop) -> Verdict:
    positive, negative = (
        [p.edge.name for p in side if p.edge is not None and p.edge.kind == "contact"]
        for side in (loop.positive, loop.negative)
    )
    if positive == negative:
        return subject.meets(f"both legs of {loop.probe_id} are switched at position {positive[0]}")
    subject = subject.placed(*_own_run(loop))
    if positive and negative:
        return subject.discrepancy(
            f"the legs of {loop.probe_id} go through positions {positive[0]} and {negative[0]}: no position joins both",
            remedy=f"move one leg so that both are at {positive[0]}",
        )
    text = f"the {'negative' if positive else 'positive'} leg of {loop.probe_id} is not switched"
    grounded = [g.probe_id for g in group.loops if g.probe.spec.junction != "isolated"]
    if len(grounded) > 1:
        return subject.discrepancy(
            f"{text}, and {len(grounded)} probes of {group.name} are not known to be isolated",
            remedy="use a two-pole selector, or probes with isolated junctions",
        )
    return subject.advisory(text, remedy="use a two-pole selector")
