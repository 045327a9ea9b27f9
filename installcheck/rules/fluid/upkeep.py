"""Marking, age of hoses, and ports that nothing closes."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date, timedelta

from ...analysis import missing
from ...analysis.fluid.facts import (
    FLAMMABLE,
    LIQUID,
    MANIFOLD,
    Part,
    carried,
    hoses,
    listed,
    media,
    runs,
)
from ...analysis.study import Study
from ...graph import total_length
from ...model.comparing import at_most
from ...model.fields import Medium
from ...model.fluid import Fitting
from ...model.installation import split_end
from ...model.quantities import plain_number
from ..verdicts import Verdict
from ..vocabulary import Subject, rule

_BANDS = {
    "fuel": "red, marked FLAM",
    "primer fuel": "red, marked FLAM",
    "oil": "yellow",
    "hydraulic fluid": "blue and yellow",
    "air": "orange and grey",
    "coolant": "blue",
}
_ONE_BAND_M = 24 * 0.0254
"""24 in: a shorter line within one compartment needs one band."""
_YEAR_S = 365.25 * 86400
_USUAL_LIFE_YEARS = 5
"""Years, or engine overhaul: one maintenance manual, quoted in NTSB MIA05LA046."""


@rule(
    "line-marked",
    title="A fluid line is marked with what it carries",
    why="The marking is what tells the next mechanic which line he opens.",
    source="FAA-H-8083-30 fluid lines chapter and US Army TM 1-1500-204-23-1; colours MIL-STD-1247 (recalled)",
    formula="one band at each end and in each compartment, on both sides of a bulkhead; one band for 24 in or less",
    example="oil hose through the firewall: yellow band at each end and on both faces",
    over=runs,
)
def line_marked(study: Study, subject: Subject, part: Part) -> Verdict:
    """Its marking, and the bands it should carry."""
    if part.line.marked is None:
        return subject.lacks(missing.LINE_MARKING)
    subject = subject.field("marked")
    if part.line.marked:
        return subject.meets(f"line {part.ident} is marked")
    colour = next((_BANDS[m] for m in sorted(carried(study, part.ident)) if m in _BANDS), "")
    length = total_length(part.line)
    bands = "one band" if length is not None and at_most(length, _ONE_BAND_M) else "a band at each end"
    what = f" in {colour}" if colour else ""
    return subject.advisory(
        f"line {part.ident} carries no mark",
        remedy=f"put {bands} 1 in wide{what} on it, and one on both sides of each bulkhead",
    )


@rule(
    "hose-age",
    title="A hose is within its life",
    why="Rubber hardens with age, cracks inside and out, and lets go at the fitting: a line of about twelve years did so.",
    source="life from the hose's papers; without them 5 years or engine overhaul (a maintenance manual in NTSB MIA05LA046)",
    formula="date of the document less date fitted, against its life",
    example="fitted 2012-04-01, document of 2026-05-20: 14.1 years against 5",
    over=hoses,
)
def hose_age(study: Study, subject: Subject, part: Part) -> Verdict:
    """Its age at the date of the document, against its life."""
    now, fitted = _date(study.model.installation.date), _date(part.line.fitted)
    if now is None or fitted is None:
        needs = ((missing.HOSE_FITTED, fitted), (missing.DOCUMENT_DATE, now))
        return subject.lacks(*(w for w, v in needs if v is None))
    subject = subject.field("fitted")
    years = (now - fitted).total_seconds() / _YEAR_S
    if years < 0:
        return subject.discrepancy(f"hose {part.ident} is dated {fitted}, after the document of {now}")
    life = part.line.life
    limit = float(life) / _YEAR_S if life is not None else float(_USUAL_LIFE_YEARS)
    stated = life.text if life is not None else "5 years of usual practice"
    text = f"hose {part.ident} is {plain_number(years)} years old, its life being {stated}"
    return subject.at_most(
        years,
        limit,
        "years",
        f"{text} ({_due(fitted, limit)})",
        broken=text,
        remedy="replace the hose, and state its life from its papers",
        practice=life is None,
    )


def _date(text: str | None) -> date | None:
    try:
        return date.fromisoformat(text) if text is not None else None
    except ValueError:
        return None


def _due(fitted: date, years: float) -> str:
    try:
        return f"due {fitted + timedelta(days=years * 365.25)}"
    except OverflowError:
        return "due never"


@rule(
    "port-closed",
    title="Every port that a removed line or instrument leaves is capped",
    why="An open port on the engine is an oil leak at the first start; a tee with an open branch is one too. A test gauge left in "
    "a fuel line burned an aircraft.",
    source="14 CFR 43.13(b) (recalled); NTSB 20001212X22555",
    formula="each port of a tap, tee or manifold is joined, or closed by a cap or plug",
    example="old oil-gauge line removed, its tee left: cap the branch with an AN929 of its size",
    over=lambda study: [*study.model.removed, *study.model.taps, *study.model.fittings],
)
def port_closed(study: Study) -> Iterator[Verdict]:
    """What is removed, the ports it leaves, and the open ports of what stays."""
    closed, opened = _told_of(study)
    yield from _removed(study)
    for ident in study.taken_out("fluid_lines"):
        yield from _left(study, ident, closed)
    for ident, fitting in study.model.fittings.items():
        yield from _ports(study, ident, fitting, closed, opened)


def _told_of(study: Study) -> tuple[frozenset[str], frozenset[str]]:
    """Ends that the document says are closed, and ends that it says are left open."""
    closed: set[str] = set()
    opened: set[str] = set()
    for gone in study.model.removed.values():
        if gone.left is not None:
            (closed if gone.left in ("capped", "blanked") else opened).update(gone.ends or ())
    for ident in study.taken_out("fluid_lines"):
        line = study.whole.fluid_lines[ident]
        if line.open_ends is not None:
            (closed if line.open_ends == "capped" else opened).update((line.from_, line.to))
    return frozenset(closed), frozenset(opened)


def _removed(study: Study) -> Iterator[Verdict]:
    for ident, gone in study.model.removed.items():
        ends = list(gone.ends or ())
        if gone.kind == "wire" or (gone.kind != "fluid line" and not _was_wet(study, ends)):
            continue
        subject = Subject(study, (ident, *ends), ("removed", ident))
        text = f"what the removed {gone.kind} {ident} leaves is {gone.left}"
        if gone.left is None:
            yield subject.lacks(missing.REMOVED_CLOSING)
        elif gone.left in ("capped", "blanked"):
            yield subject.field("left").meets(text)
        else:
            remedy = f"cap or plug {listed(ends) or 'each port it leaves'}"
            yield subject.field("left").discrepancy(text, remedy=remedy)


def _was_wet(study: Study, ends: Iterable[str]) -> bool:
    """Whether one of some ends is a fluid port of what stays."""
    return any(split_end(e)[0] in study.model.taps or split_end(e)[0] in study.model.fittings for e in ends)


def _left(study: Study, ident: str, closed: frozenset[str]) -> Iterator[Verdict]:
    """The taps a removed line leaves; ports of fittings are judged with their fitting."""
    line = study.whole.fluid_lines[ident]
    for end in (line.from_, line.to):
        name = split_end(end)[0]
        tap = study.model.taps.get(name)
        if tap is None:
            continue
        subject = Subject(study, (name, ident), ("taps", name))
        leaves = f"{name}, which the removed line {ident} leaves, is"
        joined = any(e.kind in ("fluid line", "passage") for e in study.graph.at(name))
        if joined or tap.capped or end in closed:
            yield subject.meets(f"{leaves} {'in use' if joined else 'capped'}")
        elif tap.capped is False or line.open_ends == "open":
            plug = f"close it with a plug{f' of {tap.thread}' if tap.thread else ''}"
            yield subject.discrepancy(f"{leaves} open", remedy=plug)
        else:
            yield subject.lacks(missing.TAP_CLOSING)


def _ports(
    study: Study, ident: str, fitting: Fitting, closed: frozenset[str], opened: frozenset[str]
) -> Iterator[Verdict]:
    if fitting.spec.kind not in ("tee", "cross", "manifold", "separator"):
        return
    nodes = [f"{ident}.{p}" for p in fitting.spec.ports or ()]
    wet = {m for n in nodes for m in media(study).at(n)}
    if not wet:
        return
    free = [n for n in nodes if not _is_joined(study, ident, n)]
    subject = Subject(study, (ident,), ("fittings", ident))
    for node in free:
        at_port = subject.along(node)
        if node in closed:
            yield at_port.meets(f"{node} is capped")
        elif node in opened:
            yield _open(at_port, fitting, node, wet)
        else:
            yield at_port.lacks(missing.FITTING_PORTS)
    if not free:
        yield subject.meets(f"every port of {ident} is joined or closed")


def _open(subject: Subject, fitting: Fitting, node: str, wet: set[Medium]) -> Verdict:
    made = (fitting.spec.ends or {}).get(split_end(node)[1], "")
    text = f"{node} stands open since its line was removed, and {listed(sorted(wet))} reaches it"
    remedy = f"close it with a cap{f' for a {made}' if made else ''}"
    judge = subject.discrepancy if wet & (FLAMMABLE | LIQUID | MANIFOLD) else subject.advisory
    return judge(text, remedy=remedy)


def _is_joined(study: Study, ident: str, node: str) -> bool:
    """Whether a line, or something screwed in, stands on a port."""
    return any(
        (e.kind == "fluid line" or (e.kind == "passage" and (e.name == "thread" or e.ident != ident)))
        for e in study.graph.at(node)
    )
