"""Marking, age of hoses, and ports that nothing closes."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta

from ...analysis.fluid.facts import (
    FLAMMABLE,
    LIQUID,
    MANIFOLD,
    Part,
    carried,
    lines,
    listed,
    media,
    runs,
)
from ...analysis.study import Study
from ...document.source import DocPath
from ...graph import total_length
from ...model.fields import Medium
from ...model.fluid import Fitting
from ...model.installation import split_end
from ...model.quantities import plain_number
from ..verdicts import (
    Verdict,
    advisory,
    discrepancy,
    meets,
    undetermined,
)
from ..vocabulary import rule

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
    over="fluid_lines",
)
def line_marked(study: Study) -> Iterator[Verdict]:
    """Every line."""
    for part in runs(study):
        at = (part.ident,)
        if part.line.marked is None:
            yield undetermined(at, part.path, "marking of the line ('marked: yes')")
        elif part.line.marked:
            yield meets(at, (*part.path, "marked"), f"line {part.ident} is marked")
        else:
            told = sorted(carried(study, part.ident))
            colour = next((_BANDS[m] for m in told if m in _BANDS), "")
            length = total_length(part.line)
            bands = "one band" if length is not None and length <= _ONE_BAND_M else "a band at each end"
            what = f" in {colour}" if colour else ""
            yield advisory(
                at,
                (*part.path, "marked"),
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
    over=lambda study: [p.ident for p in lines(study) if p.line.spec.kind == "hose"],
)
def hose_age(study: Study) -> Iterator[Verdict]:
    """Every hose, at the date of the document."""
    for part in lines(study):
        if part.line.spec.kind == "hose":
            yield _age(study, part)


def _date(text: str | None) -> date | None:
    try:
        return date.fromisoformat(text) if text is not None else None
    except ValueError:
        return None


def _age(study: Study, part: Part) -> Verdict:
    at = (part.ident,)
    now, fitted = _date(study.model.installation.date), _date(part.line.fitted)
    missing = [
        w
        for w, v in (
            ("date the hose was fitted or cured", fitted),
            ("date of this revision of the document", now),
        )
        if v is None
    ]
    if now is None or fitted is None:
        return undetermined(at, part.path, missing)
    years = (now - fitted).total_seconds() / _YEAR_S
    path = (*part.path, "fitted")
    if years < 0:
        return discrepancy(at, path, f"hose {part.ident} is dated {fitted}, after the document of {now}")
    life = part.line.life
    limit = float(life) / _YEAR_S if life is not None else float(_USUAL_LIFE_YEARS)
    due = f" ({_due(fitted, limit)})"
    numbers = {"value": years, "limit": limit, "margin": limit - years, "unit": "years"}
    stated = life.text if life is not None else "5 years of usual practice"
    text = f"hose {part.ident} is {plain_number(years)} years old, its life being {stated}"
    if years <= limit:
        return meets(at, path, text + due, **numbers)
    judge = discrepancy if life is not None else advisory
    return judge(at, path, text, remedy="replace the hose, and state its life from its papers", **numbers)


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
        if gone.kind == "wire" or (gone.kind != "fluid line" and not _was_wet(study, gone.ends or ())):
            continue
        at, path = (ident, *(gone.ends or ())), ("removed", ident)
        if gone.left is None:
            yield undetermined(
                at, path, "closing of the ports it leaves ('left: capped', 'blanked' or 'open')"
            )
        elif gone.left in ("capped", "blanked"):
            yield meets(at, (*path, "left"), f"what the removed {gone.kind} {ident} leaves is {gone.left}")
        else:
            yield discrepancy(
                at,
                (*path, "left"),
                f"what the removed {gone.kind} {ident} leaves is {gone.left}",
                remedy=f"cap or plug {listed(list(gone.ends or ())) or 'each port it leaves'}",
            )


def _was_wet(study: Study, ends: tuple[str, ...] | list[str]) -> bool:
    """Whether one of some ends is a fluid port of what stays."""
    return any(split_end(e)[0] in study.model.taps or split_end(e)[0] in study.model.fittings for e in ends)


def _left(study: Study, ident: str, closed: frozenset[str]) -> Iterator[Verdict]:
    """The taps a removed line leaves; ports of fittings are judged with their fitting."""
    line = study.whole.fluid_lines[ident]
    for end in (line.from_, line.to):
        tap = study.model.taps.get(split_end(end)[0])
        if tap is None:
            continue
        name = split_end(end)[0]
        at: tuple[str, ...] = (name, ident)
        path: DocPath = ("taps", name)
        joined = any(e.kind in ("fluid line", "passage") for e in study.graph.at(name))
        if joined or tap.capped or end in closed:
            yield meets(
                at,
                path,
                f"{name}, which the removed line {ident} leaves, is {'in use' if joined else 'capped'}",
            )
        elif tap.capped is False or line.open_ends == "open":
            yield discrepancy(
                at,
                path,
                f"{name}, which the removed line {ident} leaves, is open",
                remedy=f"close it with a plug{f' of {tap.thread}' if tap.thread else ''}",
            )
        else:
            yield undetermined(at, path, "closing of the port ('capped: yes' or 'no')")


def _ports(
    study: Study, ident: str, fitting: Fitting, closed: frozenset[str], opened: frozenset[str]
) -> Iterator[Verdict]:
    if fitting.spec.kind not in ("tee", "cross", "manifold", "separator"):
        return
    ports = fitting.spec.ports or ()
    nodes = [f"{ident}.{p}" for p in ports]
    wet = {m for n in nodes for m in media(study).at(n)}
    if not wet:
        return
    free = [n for n in nodes if not _is_joined(study, ident, n)]
    at, path = (ident,), ("fittings", ident)
    holds = listed(sorted(wet))
    for node in free:
        if node in closed:
            yield meets((ident, node), path, f"{node} is capped")
        elif node in opened:
            text = f"{node} stands open since its line was removed, and {holds} reaches it"
            yield _open(study, (ident, node), path, text, wet, node)
        else:
            yield undetermined((ident, node), path, "line, instrument or cap on each port of the fitting")
    if not free:
        yield meets(at, path, f"every port of {ident} is joined or closed")


def _open(
    study: Study, at: tuple[str, ...], path: DocPath, text: str, wet: set[Medium], node: str
) -> Verdict:
    fitting = study.model.fittings[at[0]]
    made = (fitting.spec.ends or {}).get(split_end(node)[1], "")
    remedy = f"close it with a cap{f' for a {made}' if made else ''}"
    if wet & (FLAMMABLE | LIQUID | MANIFOLD):
        return discrepancy(at, path, text, remedy=remedy)
    return advisory(at, path, text, remedy=remedy)


def _is_joined(study: Study, ident: str, node: str) -> bool:
    """Whether a line, or something screwed in, stands on a port."""
    return any(
        (e.kind == "fluid line" or (e.kind == "passage" and (e.name == "thread" or e.ident != ident)))
        for e in study.graph.at(node)
    )
