"""What has had its time: a new one in its place, which must be fitted before its date can be written."""

from __future__ import annotations

from collections.abc import Iterator

from ...analysis.study import Study
from ...model.edits import Edit, Put


def hoses(study: Study, ident: str) -> Iterator[Edit]:
    """A new hose, its life counted from the date of the document."""
    line, date = study.model.fluid_lines[ident], study.model.installation.date
    if line.fitted is None or date is None:
        return
    yield Edit(
        (Put(("fluid_lines", ident, "fitted"), date),),
        f"fit a new hose as {ident}, and write the date on which it was fitted",
        f"{ident} is of {line.fitted}",
        must_measure=True,
    )
