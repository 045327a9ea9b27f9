"""Surveys that can be used, and cylinder numbers that mean one seat."""

from __future__ import annotations

from collections.abc import Iterator

from ...analysis.shown import engine_id, numbers
from ...analysis.study import Study
from ...analysis.surveys import (
    COUNT,
    Found,
    Unusable,
    surveys,
)
from ..verdicts import (
    Verdict,
    discrepancy,
    meets,
    undetermined,
)
from ..vocabulary import rule


@rule(
    "head-survey",
    title="A survey of head temperatures can be read and ranks every cylinder",
    why="Which cylinder is hottest is data for one aircraft, not knowledge of its type. A log that cannot be read, or a "
    "cylinder that was not measured, leaves the question open.",
    source="14 CFR 23.1043, 25.1045: temperatures of each stage, carried to the hot day",
    formula="every cylinder of the engine measured in the stage with the least margin",
    example="four heads in climb, cruise and descent: ranked; five columns of a six-cylinder engine: one not measured",
    over="survey",
)
def head_survey(study: Study) -> Iterator[Verdict]:
    """Every survey, and its log apart."""
    for one in surveys(study):
        if isinstance(one, Unusable):
            message = f"survey {one.survey} cannot be used: {one.why}"
            yield undetermined((one.survey,), one.path, one.missing, message)
            continue
        count = study.model.engines[one.engine].cylinders
        stage = one.governing
        unmeasured = [c for c in range(1, (count or 0) + 1) if c not in stage.temperatures]
        if count is None:
            yield undetermined((one.survey,), ("engines", one.engine), COUNT)
        elif unmeasured:
            yield undetermined(
                (one.survey,),
                one.path,
                "head temperature of every cylinder in the survey",
                f"{one.name} does not measure cylinder {numbers(unmeasured)}",
            )
        else:
            grade = (
                "" if one.grade_stated else "; the grade of its probes is not given, and is taken as standard"
            )
            told = f"{one.name} ranks {count} cylinders in {len(one.stages)} {'stage' if len(one.stages) == 1 else 'stages'}, cylinder {numbers(stage.ranking.hottest)} highest in '{stage.name}'"
            yield meets((one.survey,), one.path, told + grade)


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
        if ident not in used or engine.cylinders == 1:
            continue
        at, path = (ident,), ("engines", ident)
        first = ((engine.seats or {}).get(1) or "").casefold()
        wrong = {"propeller end": ("rear", "front"), "accessory end": ("front", "rear")}
        if engine.numbered_from is None:
            yield undetermined(at, path, "end at which cylinder number 1 sits")
            continue
        here, there = wrong.get(engine.numbered_from, ("", ""))
        if here and here in first and there not in first:
            yield discrepancy(
                at,
                (*path, "seats", 1),
                f"engine {ident} is numbered from the {engine.numbered_from}, but its number 1 is said to sit at the {first}",
                remedy="see the data plate drawing of the engine, and put the end or the seats right",
            )
        else:
            yield meets(at, path, f"cylinders of engine {ident} are numbered from the {engine.numbered_from}")
    yield from _seats(study)


def _seats(study: Study) -> Iterator[Verdict]:
    for ident, probe in study.model.probes.items():
        found = study.model.engine_of(probe)
        if probe.seat is None or probe.cylinder is None or found is None:
            continue
        seat = (found[1].seats or {}).get(probe.cylinder)
        at, path = (ident,), ("probes", ident, "seat")
        if seat is None:
            yield undetermined(at, path, "seat of each cylinder number of the engine")
        elif set(seat.casefold().split()) != set(probe.seat.casefold().split()):
            there = [n for n, s in (found[1].seats or {}).items() if s.casefold() == probe.seat.casefold()]
            more = f"; the {probe.seat} is number {numbers(there)}" if there else ""
            yield discrepancy(
                at,
                path,
                f"{ident} is said to be on number {probe.cylinder} at the {probe.seat}, but number {probe.cylinder} of engine "
                f"{found[0]} sits at the {seat}{more}",
                remedy="warm the head under the probe and see which channel follows, then put number or seat right",
            )
        else:
            yield meets(at, path, f"{ident} is on number {probe.cylinder}, the {seat}")
