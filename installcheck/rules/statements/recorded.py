"""What was fitted or altered, and its entry in the records."""

from __future__ import annotations

from collections.abc import Iterator

from ...analysis import missing
from ...analysis.study import Study
from ...model.installation import JOINABLE
from ...model.things import Placed
from ..verdicts import Verdict
from ..vocabulary import Subject, rule

_SECTIONS = (*JOINABLE, "wire_runs", "fluid_lines")


def _entered(study: Study) -> Iterator[tuple[str, str, Placed]]:
    """Things that name the record of their fitting."""
    for section in _SECTIONS:
        for ident, thing in study.model.section(section).items():
            if isinstance(thing, Placed) and thing.record is not None:
                yield section, ident, thing


@rule(
    "alteration-recorded",
    title="What names a record of its fitting is entered with a date that can be",
    why="An entry without its date cannot be found again, and one dated after the drawing belongs to another change.",
    source="record entries carry the date of completion: 14 CFR 43.9(a)(2); plain logic",
    formula="fitted is told, and is not after the date of the document",
    example="record: 'log page 41', fitted 2026-03-04, document of 2026-05-20",
    over=lambda study: [ident for _, ident, _ in _entered(study)],
)
def alteration_recorded(study: Study) -> Iterator[Verdict]:
    """Every thing that names its record; one that names none is not asked."""
    now = study.model.installation.date
    for section, ident, thing in _entered(study):
        subject = Subject(study, (ident,), (section, ident))
        if thing.fitted is None:
            yield subject.lacks(missing.RECORD_DATE)
        elif now is None:
            yield subject.lacks(missing.DOCUMENT_DATE)
        elif thing.fitted > now:
            yield subject.field("fitted").discrepancy(
                f"{ident} is entered ({thing.record}) as fitted on {thing.fitted}, after the document of {now}",
                remedy="correct the date of one of them",
            )
        else:
            yield subject.field("record").meets(f"{ident} was fitted on {thing.fitted}: {thing.record}")
