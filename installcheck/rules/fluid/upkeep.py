"""Marking, and the age of hoses."""

from __future__ import annotations

from datetime import date, timedelta

from ...analysis import missing
from ...analysis.fluid.facts import Part, carried, hoses, runs
from ...analysis.study import Study
from ...graph import total_length
from ...model.comparing import at_most
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
    if life is None and study.document.declared_unknown((*part.path, "life")):
        return subject.lacks(missing.HOSE_LIFE)
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
