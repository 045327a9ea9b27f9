"""Surveys that can be used, and cylinder numbers that mean one seat."""

from __future__ import annotations

from collections.abc import Iterator

from ...analysis import missing
from ...analysis.shown import engine_id, numbers
from ...analysis.study import Study
from ...analysis.surveys import Found, Surveyed, Unusable, surveys
from ...model.aircraft import Engine
from ..verdicts import Verdict
from ..vocabulary import Subject, rule


@rule(
    "head-survey",
    title="A survey of head temperatures can be read and ranks every cylinder",
    why="Which cylinder is hottest is data for one aircraft, not knowledge of its type. A log that cannot be read, or a "
    "cylinder that was not measured, leaves the question open.",
    source="14 CFR 23.1043, 25.1045: temperatures of each stage, carried to the hot day",
    formula="every cylinder of the engine measured in the stage with the least margin",
    example="four heads in climb, cruise and descent: ranked; five columns of a six-cylinder engine: one not measured",
    over=surveys,
)
def head_survey(study: Study, subject: Subject, one: Surveyed) -> Verdict:
    """Every survey, and its log apart."""
    if isinstance(one, Unusable):
        return subject.lacks(one.missing, because=f"survey {one.survey} cannot be used: {one.why}")
    count, stage = study.model.engines[one.engine].cylinders, one.governing
    if count is None:
        return subject.placed("engines", one.engine).lacks(missing.ENGINE_CYLINDERS)
    unmeasured = one.unmeasured(count)
    if unmeasured:
        return subject.lacks(
            missing.SURVEY_EVERY_CYLINDER,
            because=f"{one.name} does not measure cylinder {numbers(unmeasured)}",
        )
    stages = f"{len(one.stages)} {'stage' if len(one.stages) == 1 else 'stages'}"
    grade = (
        "" if one.grade_stated else "; how sure that is hangs on the grade of its probes, which is not given"
    )
    survey = study.model.survey[one.survey]
    how = f", by {survey.probe_kind} probes" if survey.probe_kind is not None else ""
    how += f", flown {survey.date}" if survey.date is not None else ""
    return subject.meets(
        f"{one.name} ranks {count} cylinders in {stages}, cylinder {numbers(stage.ranking.hottest)} highest in "
        f"'{stage.name}'{how}{grade}"
    )


@rule(
    "cylinder-numbering",
    title="The end cylinders are numbered from is stated, and the seats agree with it",
    why="Makers number opposed engines from either end. A probe 'on 4' by the wrong papers sits at the other end of the bank.",
    source="practice: numbering of opposed engines is not standardised; 14 CFR 33.29(a) for the marking of connections",
    formula="number 1 sits at the stated end; the seat stated for a probe is the engine's seat of that number",
    example="of four numbered from the propeller, 2 is the left front; numbered from the accessories it is the left rear",
    over="engines",
)
def cylinder_numbering(study: Study) -> Iterator[Verdict]:
    """Engines with cylinder probes or surveys, and every probe that states its seat."""
    used = {engine_id(study, p) for p in study.model.probes.values() if p.cylinder is not None}
    used |= {one.engine for one in surveys(study) if isinstance(one, Found)}
    for ident, engine in study.model.engines.items():
        if ident in used and engine.cylinders != 1:
            yield _numbered(Subject(study, (ident,), ("engines", ident)), engine)
    for ident, probe in study.model.probes.items():
        found = study.model.engine_of(probe)
        if found is not None and probe.seat is not None and probe.cylinder is not None:
            subject = Subject(study, (ident,), ("probes", ident, "seat"))
            yield _seated(subject, probe.seat, probe.cylinder, *found)


_WRONG_END = {"propeller end": ("rear", "front"), "accessory end": ("front", "rear")}


def _numbered(subject: Subject, engine: Engine) -> Verdict:
    ident = subject.ident
    if engine.numbered_from is None:
        return subject.lacks(missing.ENGINE_NUMBERED_FROM)
    first = ((engine.seats or {}).get(1) or "").casefold()
    here, there = _WRONG_END.get(engine.numbered_from, ("", ""))
    if here and here in first and there not in first:
        return subject.field("seats", 1).discrepancy(
            f"engine {ident} is numbered from the {engine.numbered_from}, but its number 1 is said to sit at the {first}",
            remedy="see the data plate drawing of the engine, and put the end or the seats right",
        )
    return subject.meets(f"cylinders of engine {ident} are numbered from the {engine.numbered_from}")


def _seated(subject: Subject, stated: str, cylinder: int, engine_ident: str, engine: Engine) -> Verdict:
    seats = engine.seats or {}
    seat = seats.get(cylinder)
    if seat is None:
        return subject.lacks(missing.ENGINE_SEATS)
    if set(seat.casefold().split()) == set(stated.casefold().split()):
        return subject.meets(f"{subject.ident} is on number {cylinder}, the {seat}")
    there = [n for n, s in seats.items() if s.casefold() == stated.casefold()]
    more = f"; the {stated} is number {numbers(there)}" if there else ""
    return subject.discrepancy(
        f"{subject.ident} is said to be on number {cylinder} at the {stated}, but number {cylinder} of engine "
        f"{engine_ident} sits at the {seat}{more}",
        remedy="warm the head under the probe and see which channel follows, then put number or seat right",
    )
