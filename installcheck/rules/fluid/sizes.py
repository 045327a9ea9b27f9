"""Outside diameter, wall and bore of a line: three figures for two."""

from __future__ import annotations

from ...analysis.fluid.facts import Part, lines
from ...analysis.study import Study
from ...graph.media import size_at_odds
from ..verdicts import Verdict
from ..vocabulary import Subject, rule


@rule(
    "line-size",
    title="Outside diameter, wall and bore of a line go together",
    why="One of three figures is wrong: strength and leak would be those of another line.",
    source="plain geometry; a drawn wall may differ from its nominal by a tenth (assumed)",
    formula="bore = outside diameter - 2 walls, within 0.2 walls + 0.001 in; bore and two walls less than the outside diameter",
    example="1/4 in outside with a wall of 0.2 in: two walls are 0.4 in",
    over=lambda study: lines(study, capillaries=True),
)
def line_size(study: Study, subject: Subject, part: Part) -> Verdict | None:
    """A line that gives two of the three figures or more."""
    spec = part.line.spec
    given = [
        f"{what} {value.text}"
        for what, value in (
            ("outside diameter", spec.outside_diameter),
            ("wall", spec.wall),
            ("bore", spec.bore),
        )
        if value is not None
    ]
    if spec.outside_diameter is None or len(given) < 2:
        return None
    text = f"line {part.ident} is of {', '.join(given)}"
    if size_at_odds(part.line):
        return subject.discrepancy(
            f"{text}, which cannot all be true", remedy="measure the line, and put the wrong figure right"
        )
    return subject.meets(text)
