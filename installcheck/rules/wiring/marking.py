"""Marking: every run carries its id where a mechanic can read it."""

from __future__ import annotations

from collections.abc import Iterator

from ...analysis.study import Study
from ...graph import total_length
from ...model.quantities import in_unit, show
from ..verdicts import (
    Verdict,
    discrepancy,
    meets,
    rule,
    undetermined,
)

_NONE_NEEDED_M = 0.0762
"""3 in: no mark needed below this length (AC 43.13-1B 11-208)."""
_INTERVAL_M = 0.381
"""15 in: largest distance between marks (AC 43.13-1B 11-208)."""


@rule(
    "run-marked",
    title="Every wire run is marked at both ends and at intervals of at most 15 in",
    why="An unmarked wire is found by pulling on it. The mark is what ties the drawing to the aircraft.",
    source="AC 43.13-1B 11-208, 11-209",
    formula="mark spacing <= 15 in; a run shorter than 3 in needs none",
    example="marks 20 in apart: 20 in against 15 in, margin -5 in",
    over="wire_runs",
)
def run_marked(study: Study) -> Iterator[Verdict]:
    """Marks of every run that is not removed."""
    for ident, run in study.model.wire_runs.items():
        at, path = (ident,), ("wire_runs", ident)
        length = total_length(run)
        if length is not None and length < _NONE_NEEDED_M:
            yield meets(at, path, f"run {ident} is {show(length, 'in', 'length')} long and needs no mark")
        elif run.marked is False:
            yield discrepancy(
                at,
                (*path, "marked"),
                f"run {ident} carries no mark",
                remedy=f"mark '{ident}' at both ends and every 15 in",
            )
        elif run.mark_spacing is not None and run.mark_spacing > _INTERVAL_M * 1.0001:
            spacing = in_unit(run.mark_spacing, "in", "length")
            yield discrepancy(
                at,
                (*path, "mark_spacing"),
                f"run {ident} is marked every {spacing:.3g} in, and 15 in is the most",
                value=spacing,
                limit=15.0,
                margin=15.0 - spacing,
                unit="in",
                remedy="add marks so that none are more than 15 in apart",
            )
        elif run.marked is None:
            yield undetermined(at, path, "marking of the run ('marked: yes')")
        else:
            yield meets(at, path, f"run {ident} is marked")
