"""What a line is said to be for, against what hangs on it."""

from __future__ import annotations

from ...analysis.fluid.facts import Part, lines, listed, readers
from ...analysis.fluid.purposes import INSTRUMENT, purpose
from ...analysis.study import Study
from ..verdicts import Verdict
from ..vocabulary import Subject, rule


@rule(
    "line-purpose",
    title="A line is for what the document says it is for",
    why="What a line is for decides what is asked of it: a restrictor belongs at the source of a gauge line, and would starve the "
    "engine in a feed.",
    source="plain physics: fluid flows through a line only if it goes on beyond it",
    formula="a line from which nothing goes on but to gauges and senders serves them; one past a flow pick-up, from a tank or pump, or "
    "to a carburettor is a feed",
    example="'purpose: feed' on a line that ends at the oil pressure gauge: it is an instrument line",
    over=lines,
)
def line_purpose(study: Study, subject: Subject, part: Part) -> Verdict | None:
    """A line that says what it is for."""
    told = purpose(study, part.ident)
    if not told.stated:
        return None
    subject = subject.field("purpose")
    if not told.at_odds:
        return subject.meets(f"line {part.ident} is said to be for: {told.stated}")
    if told.shown == INSTRUMENT:
        ends = [ident for _, ident, _ in readers(study, part.ident)]
        found = f"nothing goes on from it but to {listed(ends)}"
    else:
        found = "it carries what the engine uses"
    return subject.discrepancy(
        f"line {part.ident} is said to be for: {told.stated}, but {found}",
        remedy="say what the line is for, or what else is joined to it",
    )
