"""What a line is said to be for, against what hangs on it."""

from __future__ import annotations

from collections.abc import Iterator

from ...analysis.fluid.facts import Part, carried, lines, listed, media, readers, working_pressure
from ...analysis.fluid.leaks import Way, fluid_of
from ...analysis.fluid.losses import rate
from ...analysis.fluid.purposes import FEED, INSTRUMENT, purpose
from ...analysis.study import Study
from ...model.comparing import at_least
from ...physics.flow import Restrictor
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


def _feeds(study: Study) -> Iterator[Part]:
    return (part for part in lines(study) if purpose(study, part.ident).word == FEED)


@rule(
    "feed-open",
    title="What feeds the engine passes no restrictor",
    why="A restrictor belongs in the line to an instrument. In a feed it starves the engine at full power, when the flow is largest.",
    source="plain physics; 14 CFR 23.1337(a)(2)(i) as before amendment 23-64 asks a restrictor of instrument lines only",
    formula="fittings of kind restrictor on the way from the source; what they pass to the open air, against the largest fuel flow",
    example="0.040 in at 8 psi passes 0.49 L/min at most: an engine at 10 gph takes 0.63 L/min",
    over=_feeds,
)
def feed_open(study: Study, subject: Subject, part: Part) -> Verdict | None:
    """A line that is stated to be a feed, or shown to be one."""
    fittings = study.model.fittings
    found = {
        r: feed.source.ident
        for _, feed in media(study).into_line(part.ident)
        for r in feed.restrictors
        if fittings[r].spec.kind == "restrictor"
    }
    if not found:
        return subject.meets(f"line {part.ident} feeds the engine past no restrictor")
    text = f"line {part.ident} feeds the engine past the restrictor {listed(list(found))}"
    remedy = "take the restrictor out of the feed, and put one in the line to the instrument alone"
    subject = subject.along(*found)
    passed = [flow for hole, tap in found.items() if (flow := _passes(study, hole, tap)) is not None]
    most = sum(passed) if len(passed) == len(found) and "fuel" in carried(study, part.ident) else None
    flows = [(p.readings or {}).get("fuel flow") for p in study.model.operating_points.values()]
    needs = max((q for q in flows if q is not None and q.kind == "flow"), default=None)
    if most is None or needs is None:
        return subject.advisory(f"{text}: whether enough passes is not known", remedy=remedy)
    text += f", which passes {rate(most)} at most; the engine takes up to {needs.text}"
    if at_least(most, float(needs)):
        return subject.advisory(text, remedy=remedy)
    return subject.discrepancy(f"{text}: it starves", remedy=remedy)


def _passes(study: Study, restrictor: str, tap: str) -> float | None:
    """m3/s that a restrictor passes to the open air, the most it can; ``None`` if not known."""
    bore = study.model.fittings[restrictor].spec.bore
    if bore is None or tap not in study.model.taps:
        return None
    pressure, fluid = working_pressure(study, tap), fluid_of(study, tap)
    if pressure is None or fluid is None or pressure <= 0:
        return None
    return Way((Restrictor(float(bore)),), float(pressure), fluid).flow()
