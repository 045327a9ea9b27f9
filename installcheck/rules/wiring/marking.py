"""Marking: every run carries its id where a mechanic can read it."""

from __future__ import annotations

from ...analysis import missing
from ...analysis.study import Study
from ...graph import total_length
from ...model.comparing import at_most
from ...model.quantities import in_unit, show
from ...model.wiring import WireRun
from ..verdicts import Verdict
from ..vocabulary import Subject, rule

_NONE_NEEDED_M = 3 * 0.0254
"""3 in: a run no longer than this needs no mark (AC 43.13-1B 11-208 says shorter; the same length counts with it)."""
_INTERVAL_IN = 15.0
"""Largest distance between marks (AC 43.13-1B 11-208)."""


@rule(
    "run-marked",
    title="Every wire run is marked at both ends and at intervals of at most 15 in",
    why="An unmarked wire is found by pulling on it. The mark is what ties the drawing to the aircraft.",
    source="AC 43.13-1B 11-208, 11-209",
    formula="mark spacing <= 15 in; a run shorter than 3 in needs none",
    example="marks 20 in apart: 20 in against 15 in, margin -5 in",
    over="wire_runs",
)
def run_marked(study: Study, subject: Subject, run: WireRun) -> Verdict:
    """Its mark, which wiring that was there before may do without, and how far apart its marks are; what it leaves unsaid, its bundle says of the runs in it."""
    ident = subject.ident
    length = total_length(run)
    if length is not None and at_most(length, _NONE_NEEDED_M):
        return subject.meets(f"run {ident} is {show(length, 'in', 'length')} long and needs no mark")
    bundle = study.model.bundles.get(run.bundle or "")
    marked, mark_spacing, at = run.marked, run.mark_spacing, subject
    if marked is None and mark_spacing is None and bundle is not None:
        marked, mark_spacing = bundle.marked, bundle.mark_spacing
        at = (
            subject.along(str(run.bundle)).placed("bundles", str(run.bundle))
            if marked is not None
            else subject
        )
    if marked is False and run.status == "existing":
        return at.field("marked").advisory(
            f"run {ident}, which is existing, carries no mark",
            remedy=f"mark '{ident}' at both ends and every 15 in when it is next worked on",
        )
    if marked is False:
        return at.field("marked").discrepancy(
            f"run {ident} carries no mark", remedy=f"mark '{ident}' at both ends and every 15 in"
        )
    if mark_spacing is not None:
        spacing = in_unit(mark_spacing, "in", "length")
        spaced = at.field("mark_spacing").at_most(
            spacing,
            _INTERVAL_IN,
            "in",
            f"run {ident} is marked every {spacing:.3g} in",
            broken=f"run {ident} is marked every {spacing:.3g} in, and 15 in is the most",
            remedy="add marks so that none are more than 15 in apart",
        )
        if marked or spaced.margin is None or spaced.margin < 0:
            return spaced
    if marked is None:
        return subject.lacks(missing.RUN_MARKING)
    return subject.meets(f"run {ident} is marked")
