"""Grounded junctions: which inputs can take one, and which cannot take two."""

from __future__ import annotations

from collections.abc import Iterator

from ...analysis.study import Study
from ...analysis.thermocouple.circuits import Loop, loops, probes_read
from ...analysis.thermocouple.points import scale_of, true_values
from ...physics.thermocouples import seebeck_mv_per_c, temperature_range_c
from ..verdicts import (
    Verdict,
    discrepancy,
    meets,
    undetermined,
)
from ..vocabulary import rule

JUNCTION = "junction of the probe: grounded or isolated"
INPUT = "grounding of the thermocouple input: isolated, common negative or grounded negative"

_STEP_K = 20.0
"""K above the foot of a couple's table, where its slope is still worth a figure."""


@rule(
    "thermocouple-isolation",
    title="A grounded junction stands only on an input that can take it",
    why="The engine case is not at the potential of the panel. A grounded probe on a grounded input, or two grounded probes on inputs "
    "with a common negative, put that difference in series with a few millivolts.",
    source="plain physics: a second ground closes a loop through the negative leg",
    formula="error = ground difference / Seebeck coefficient",
    example="1 mV between engine case and panel ground on type K at 205 degC: 25 degC",
    over=probes_read,
)
def isolation(study: Study) -> Iterator[Verdict]:
    """Every probe that an indicator reads."""
    grounded: dict[str, list[str]] = {}
    for loop in loops(study):
        if loop.probe.spec.junction == "grounded":
            grounded.setdefault(loop.indication.indicator, []).append(loop.probe_id)
    for loop in loops(study):
        others = [p for p in grounded.get(loop.indication.indicator, []) if p != loop.probe_id]
        yield _judge(study, loop, list(dict.fromkeys(others)))


def _judge(study: Study, loop: Loop, others: list[str]) -> Verdict:
    junction, grounding, at = loop.probe.spec.junction, loop.spec.input_grounding, loop.at
    path = ("probes", loop.probe_id, "junction")
    if junction == "isolated":
        return meets(at, path, f"the junction of {loop.probe_id} is isolated")
    if grounding == "isolated" and (not others or _apart(loop)):
        return meets(at, path, f"the input of {loop.name} is isolated, and so may take a grounded junction")
    if junction is None:
        return undetermined(at, ("probes", loop.probe_id), JUNCTION)
    if grounding is None:
        return undetermined(at, loop.indication.path, INPUT)
    if grounding == "common negative" and not others:
        return meets(
            at,
            path,
            f"{loop.probe_id} is the only grounded junction on the common negative of {loop.indication.indicator}",
        )
    remedy = (
        f"fit a probe with an isolated junction for {loop.probe_id}, or an indicator with isolated inputs"
    )
    if grounding == "grounded negative":
        text = f"{loop.probe_id} is grounded at the engine and {loop.name} grounds its negative leg again"
        return discrepancy(at, path, f"{text}: {_size(study, loop)}", remedy=remedy)
    text = f"{loop.probe_id} and {', '.join(others)} are grounded and share the negative of {loop.indication.indicator}"
    return discrepancy((*at, *others), path, f"{text}: {_size(study, loop)}", remedy=remedy)


def _apart(loop: Loop) -> bool:
    """Whether a two-pole selector, or an input of its own, keeps this probe from the other grounded ones."""
    return not loop.indication.averaged


def _size(study: Study, loop: Loop) -> str:
    low, high = temperature_range_c(loop.kind)
    seen = [true_c for _, true_c in true_values(study, loop)] or [20.0]
    per_mv = 1 / seebeck_mv_per_c(loop.kind, min(max(seen[0], low + _STEP_K), high))
    return f"each millivolt between engine and panel ground shows as {scale_of(study, loop).apart(per_mv)}"
