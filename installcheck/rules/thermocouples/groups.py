"""Probes that share an indicator: leads of equal resistance, both poles switched, probes that may be joined."""

from __future__ import annotations

from collections.abc import Iterator

from ...analysis.study import Study
from ...analysis.thermocouple.circuits import Loop, loops
from ...analysis.thermocouple.points import scale_of
from ...analysis.thermocouple.readings import branch_ohms, cold_missing
from ...document.source import DocPath
from ...model.quantities import plain_number
from ..verdicts import (
    Verdict,
    advisory,
    discrepancy,
    meets,
    undetermined,
)
from ..vocabulary import rule
from .loop_resistance import ASSUMED_TOLERANCE_OHM

_SPREAD_K = 100 / 1.8
"""K, 100 degF: spread of cylinder temperatures for which the error of unequal averaging leads is told when none is known."""
_EVEN_K = 0.5


def groups(study: Study) -> list[tuple[Loop, ...]]:
    """Circuits that share one input, through a selector or averaged."""
    found: dict[tuple[str, str], list[Loop]] = {}
    for loop in loops(study):
        if loop.indication.position is not None or loop.indication.averaged:
            found.setdefault((loop.indication.indicator, loop.indication.input), []).append(loop)
    return [tuple(g) for g in found.values() if len(g) > 1]


def _sharing(study: Study) -> list[str]:
    return [g[0].indication.indicator for g in groups(study)]


@rule(
    "thermocouple-leads-matched",
    title="Leads of probes that share an indicator are equal in resistance",
    why="A moving-coil indicator is right for one loop only, so behind a selector every loop must be that one. Couples in "
    "parallel weigh by their conductance: the probe with the long lead counts least.",
    source="FAA-H-8083-31 ch. 10; law of couples in parallel: V = sum(E/R)/sum(1/R)",
    formula="largest branch - smallest branch; averaged: error = sum of (weight - 1/n) of the branches above it x spread",
    example="four type K at 600 to 750 degC, one branch of twice the resistance: 664.1 for 674.7 degC",
    over=_sharing,
)
def leads_matched(study: Study) -> Iterator[Verdict]:
    """Every input that several probes share."""
    for group in groups(study):
        first = group[0]
        at = (first.indication.indicator, *(loop.probe_id for loop in group))
        path = first.indication.path
        if not first.indication.averaged and first.spec.principle == "electronic thermocouple":
            text = f"{first.indication.name} draws no current: its leads need not be equal"
            yield meets(at, path, text)
            continue
        ohms = [branch_ohms(study, loop, study.points[0]) for loop in group]
        sizes = [o.cold for o in ohms if o.cold is not None]
        if len(sizes) < len(group):
            yield undetermined(at, path, cold_missing(ohms))
            continue
        yield (
            _averaged(study, group, at, path, sizes)
            if first.indication.averaged
            else _selected(group, at, path, sizes)
        )


def _far(group: tuple[Loop, ...], sizes: list[float]) -> tuple[Loop, float]:
    """The branch furthest from the middle one, and what it is off."""
    middle = sorted(sizes)[len(sizes) // 2]
    loop, size = max(zip(group, sizes, strict=True), key=lambda f: abs(f[1] - middle))
    return loop, size - middle


def _own_run(loop: Loop) -> DocPath:
    lead = next((p for p in loop.pieces if p.sort == "lead"), None)
    return ("wire_runs", lead.ident) if lead is not None else loop.indication.path


def _equalise(group: tuple[Loop, ...], sizes: list[float]) -> str:
    most = max(sizes)
    short = [
        f"{plain_number(most - size)} ohm in the lead of {loop.probe_id}"
        for loop, size in zip(group, sizes, strict=True)
        if most - size > 0.01
    ]
    return f"put {', '.join(short)}, as a spool or as equal length"


def _selected(group: tuple[Loop, ...], at: tuple[str, ...], path: DocPath, sizes: list[float]) -> Verdict:
    stated = group[0].spec.loop_tolerance
    tolerance = 2 * (float(stated) if stated is not None else ASSUMED_TOLERANCE_OHM)
    spread = max(sizes) - min(sizes)
    numbers = {"value": spread, "limit": tolerance, "margin": tolerance - spread, "unit": "ohm"}
    name = group[0].indication.name
    text = f"the circuits of {name} differ by {plain_number(spread)} ohm, {plain_number(tolerance)} ohm being what its tolerance leaves"
    if spread <= tolerance * (1 + 1e-9):
        return meets(at, path, text, **numbers)
    odd, _ = _far(group, sizes)
    judge = discrepancy if stated is not None else advisory
    return judge(
        at, _own_run(odd), f"{text}; {odd.probe_id} is the odd one", remedy=_equalise(group, sizes), **numbers
    )


def _averaged(
    study: Study, group: tuple[Loop, ...], at: tuple[str, ...], path: DocPath, sizes: list[float]
) -> Verdict:
    weights = [1 / size / sum(1 / s for s in sizes) for size in sizes]
    even = 1 / len(sizes)
    spread, told = _cylinder_spread(study, group)
    # The worst case has the heavy branches hot and the light ones cold, or the other way round.
    error = spread * sum(w - even for w in weights if w > even)
    scale = scale_of(study, group[0])
    accuracy = group[0].spec.accuracy
    limit = float(accuracy) if accuracy is not None else _EVEN_K
    numbers = {
        "value": scale.number(error),
        "limit": scale.number(limit),
        "margin": scale.number(limit - error),
        "unit": scale.unit,
    }
    text = (
        f"branches of {min(sizes):.3g} to {max(sizes):.3g} ohm put the mean of {group[0].indication.name} off by up to "
        f"{scale.apart(error)} where cylinders differ by {scale.apart(spread)}{told}"
    )
    if error <= limit:
        return meets(at, path, text, **numbers)
    odd, _ = _far(group, sizes)
    return discrepancy(at, _own_run(odd), text, remedy=_equalise(group, sizes), **numbers)


def _cylinder_spread(study: Study, group: tuple[Loop, ...]) -> tuple[float, str]:
    """Spread of cylinder temperatures in K: of the survey for head temperature, else a round figure."""
    probe = group[0].probe
    if group[0].measure == "head temperature":
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
    over=_sharing,
)
def averaging(study: Study) -> Iterator[Verdict]:
    """Every averaged input."""
    for group in groups(study):
        if not group[0].indication.averaged:
            continue
        at = (group[0].indication.indicator, *(loop.probe_id for loop in group))
        path = group[0].indication.path
        grounded = [loop.probe_id for loop in group if loop.probe.spec.junction == "grounded"]
        silent = [loop.probe_id for loop in group if loop.probe.spec.junction is None]
        if grounded:
            yield discrepancy(
                at,
                ("probes", grounded[0], "junction"),
                f"{', '.join(grounded)} {'is' if len(grounded) == 1 else 'are'} grounded and joined with "
                f"{len(group) - 1} others in {group[0].indication.name}",
                remedy="fit probes with isolated junctions",
            )
        elif silent:
            yield undetermined(at, ("probes", silent[0]), "junction of the probe: grounded or isolated")
        else:
            yield meets(
                at,
                path,
                f"all {len(group)} probes of {group[0].indication.name} are isolated; an open one drops out unseen",
            )


@rule(
    "thermocouple-selector",
    title="A selector switches both legs of a thermocouple",
    why="With one leg left joined, grounded probes and their leads stay in parallel with the one selected.",
    source="plain physics: law of couples in parallel; TM 55-4920-401-13&P circuit checks",
    formula="both legs of each probe pass a contact of the same position",
    example="common + to 3 + and common - to 3 -: both legs of probe 3",
    over=_sharing,
)
def selector(study: Study) -> Iterator[Verdict]:
    """Every probe behind a selector."""
    for group in groups(study):
        for loop in group:
            if loop.indication.position is not None:
                yield _switched(group, loop)


def _switched(group: tuple[Loop, ...], loop: Loop) -> Verdict:
    at = (loop.indication.indicator, loop.probe_id)
    passed = [
        [p.edge.name for p in side if p.edge is not None and p.edge.kind == "contact"]
        for side in (loop.positive, loop.negative)
    ]
    if passed[0] == passed[1]:
        return meets(
            at, loop.indication.path, f"both legs of {loop.probe_id} are switched at position {passed[0][0]}"
        )
    if passed[0] and passed[1]:
        return discrepancy(
            at,
            _own_run(loop),
            f"the legs of {loop.probe_id} go through positions {passed[0][0]} and {passed[1][0]}: no position joins both",
            remedy=f"move one leg so that both are at {passed[0][0]}",
        )
    shared = "negative" if passed[0] else "positive"
    text = f"the {shared} leg of {loop.probe_id} is not switched"
    grounded = [g.probe_id for g in group if g.probe.spec.junction != "isolated"]
    if len(grounded) > 1:
        return discrepancy(
            at,
            _own_run(loop),
            f"{text}, and {len(grounded)} probes of {loop.indication.name} are not known to be isolated",
            remedy="use a two-pole selector, or probes with isolated junctions",
        )
    return advisory(at, _own_run(loop), text, remedy="use a two-pole selector")
