"""Grounded junctions: which inputs can take one, and which cannot take two."""

from __future__ import annotations

from ...analysis import missing
from ...analysis.study import Study
from ...analysis.thermocouple.circuits import Loop, loops
from ...analysis.thermocouple.grounds import Offset, ground_offset, leg_ground, tip_grounded, with_offset
from ...analysis.thermocouple.points import scale_of, true_values
from ...analysis.thermocouple.readings import read_scale, source_emf
from ...model.quantities import show
from ...physics.thermocouples import seebeck_mv_per_c, temperature_range_c
from ..verdicts import Verdict
from ..vocabulary import Subject, rule

_NOTHING_K = 0.05
"""An effect below this shows on no dial."""
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
    over=loops,
)
def isolation(study: Study, subject: Subject, loop: Loop) -> Verdict:
    """Every probe that an indicator reads."""
    junction, grounding = loop.probe.spec.junction, loop.spec.input_grounding
    at_input = subject.along(loop.indication.indicator)
    at_probe = at_input.placed("probes", loop.probe_id)
    subject = at_probe.field("junction")
    if junction == "isolated":
        return subject.meets(f"the junction of {loop.probe_id} is isolated")
    wired = leg_ground(study, loop)
    if wired is not None and tip_grounded(loop):
        return _twice(
            study,
            subject.along(wired),
            loop,
            f"a wire grounds a leg of {loop.name} again at {wired}",
            f"take the wire to {wired} off the leg: its one ground is the junction",
        )
    others = _grounded_beside(study, loop)
    if wired is None and grounding == "isolated" and (not others or not loop.indication.averaged):
        return subject.meets(f"the input of {loop.name} is isolated, and so may take a grounded junction")
    if junction is None and not tip_grounded(loop):
        return at_probe.lacks(missing.PROBE_JUNCTION)
    if grounding is None:
        return at_input.lacks(missing.INDICATOR_INPUT_GROUNDING)
    if grounding == "common negative" and not others:
        return subject.meets(
            f"{loop.probe_id} is the only grounded junction on the common negative of {loop.indication.indicator}"
        )
    remedy = (
        f"fit a probe with an isolated junction for {loop.probe_id}, or an indicator with isolated inputs"
    )
    if grounding == "grounded negative":
        return _twice(study, subject, loop, f"{loop.name} grounds its negative leg again", remedy)
    text = f"{loop.probe_id} and {', '.join(others)} are grounded and share the negative of {loop.indication.indicator}"
    return subject.along(*others).discrepancy(f"{text}: {_size(study, loop)}", remedy=remedy)


def _twice(study: Study, subject: Subject, loop: Loop, again: str, remedy: str) -> Verdict:
    """Both ends grounded: wrong by what stands between the grounds, at the point where that is most."""
    text = f"{loop.probe_id} is grounded at the engine and {again}"
    worst: tuple[float, str, Offset] | None = None
    for point, true_c in true_values(study, loop):
        offset = ground_offset(study, loop, point)
        if offset is None or offset.volts is None:
            continue
        emf, scale = source_emf(study, loop, point, true_c), loop.spec.thermocouple or loop.kind
        right = read_scale(study, loop, point, emf, scale, ideal=True)
        shown = read_scale(study, loop, point, with_offset(emf, offset), scale, ideal=True)
        if right.c is not None and shown.c is not None:
            error = shown.c - right.c
            if worst is None or abs(error) > abs(worst[0]):
                worst = error, point.name, offset
    if worst is None or abs(worst[0]) < _NOTHING_K:
        return subject.discrepancy(f"{text}: {_size(study, loop)}", remedy=remedy)
    error, name, offset = worst
    words = scale_of(study, loop)
    over = f" over {offset.shared[0]}" if offset.shared else ""
    how = "were measured" if offset.measured else "stand"
    return subject.along(*offset.shared[:1]).at_most(
        words.number(abs(error)),
        0.0,
        words.unit,
        f"{text}: at {name} the two grounds {how} {show(abs(offset.volts or 0.0), 'mV', 'voltage')} apart{over}, and it "
        f"reads {words.off(error)}",
        remedy=remedy,
    )


def _grounded_beside(study: Study, loop: Loop) -> list[str]:
    """Other probes of the same indicator with a grounded junction."""
    found = (
        one.probe_id
        for one in loops(study)
        if tip_grounded(one) and one.indication.indicator == loop.indication.indicator
    )
    return [p for p in dict.fromkeys(found) if p != loop.probe_id]


def _size(study: Study, loop: Loop) -> str:
    low, high = temperature_range_c(loop.kind)
    seen = [true_c for _, true_c in true_values(study, loop)] or [20.0]
    per_mv = 1 / seebeck_mv_per_c(loop.kind, min(max(seen[0], low + _STEP_K), high))
    return f"each millivolt between engine and panel ground shows as {scale_of(study, loop).apart(per_mv)}"
