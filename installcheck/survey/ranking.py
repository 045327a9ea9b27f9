"""Orders the cylinders of one phase, and says how far probes and repeats bear the order out."""

from collections.abc import Mapping, Sequence

import numpy as np

from ..dataclass import dataclass
from ..physics.hottest import (
    Repeats,
    candidates,
    chance_wrong_of_several,
    probe_tolerance,
    repeats,
    worst_case_difference,
)
from ..physics.settling import Floats
from .result import Ranking, Stretch


@dataclass(frozen=True, slots=True)
class Probes:
    """The thermocouples of a survey: their `grade`, type `kind`, and the `standard` that gives the
    tolerance."""

    grade: str
    kind: str
    standard: str


def rank(values: Mapping[int, float], division: float, probes: Probes) -> Ranking:
    """Order cylinders by `values` [degC]; a difference below one `division` [degC] of the recorder is a
    tie."""
    order = sorted(values, key=lambda number: (-values[number], number))
    top = values[order[0]]
    tie = tuple(sorted(n for n in order if top - values[n] < max(division - 1e-6, 1e-9)))
    rest = [number for number in order if number not in tie]
    # Tolerances start at 0 degC; a head below that is as good as there.
    tolerance = probe_tolerance(max(top, 0.0), probes.grade, probes.kind, probes.standard)
    near = candidates([values[n] for n in order], worst_case_difference(tolerance))
    return Ranking(
        order=tuple(order),
        hottest=tie,
        next=rest[0] if rest else None,
        lead=top - values[rest[0]] if rest and len(tie) == 1 else 0.0,
        tolerance=tolerance,
        candidates=tuple(sorted(order[i] for i in near)),
        chance_wrong=chance_wrong_of_several([values[n] for n in order], tolerance)
        if len(order) > 1
        else None,
    )


def difference_repeats(
    ranking: Ranking, steady: Sequence[Stretch], passes: Sequence[Mapping[int, Floats]]
) -> tuple[Repeats | None, str]:
    """How the lead of the hottest over the next repeats: between steady stretches, else between passes
    through the phase.

    Stretches of one pass share its weather and its errors, so they show scatter only.
    """
    if ranking.next is None or len(ranking.hottest) > 1:
        return None, ""
    first, second = ranking.hottest[0], ranking.next
    settled = [
        stretch.means[first] - stretch.means[second]
        for stretch in steady
        if np.isfinite([stretch.means[first], stretch.means[second]]).all()
    ]
    if len(settled) >= 2:
        return repeats(settled), "steady stretches"
    tops = [
        float(np.nanmax(one[first]) - np.nanmax(one[second]))
        for one in passes
        if np.isfinite(one[first]).any() and np.isfinite(one[second]).any()
    ]
    return (repeats(tops), "passes") if len(tops) >= 2 else (None, "")
