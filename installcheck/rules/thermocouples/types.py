"""Probe and indicator: the same couple, within its range, on an input made for a couple."""

from __future__ import annotations

from collections.abc import Iterator

from ...analysis.study import Study
from ...analysis.thermocouple.circuits import (
    COUPLE,
    PRINCIPLES,
    SCALE,
    Loop,
    loops,
    probes_read,
)
from ...analysis.thermocouple.points import (
    TRUE_VALUE,
    limit_of,
    scale_of,
    true_values,
)
from ...analysis.thermocouple.readings import read_scale, right_emf
from ...graph import Indication
from ...physics.thermocouple_limits import limits
from ..verdicts import (
    Verdict,
    discrepancy,
    meets,
    undetermined,
)
from ..vocabulary import rule


def _concerned(study: Study) -> list[Indication]:
    """Indications with a probe on one end or a thermocouple input on the other."""
    return [i for i in study.indications if i.section == "probes" or i.spec.principle in PRINCIPLES]


@rule(
    "thermocouple-type-match",
    title="Probe and indicator are made for the same couple",
    why="The scale of an indicator is drawn for one pair of metals. Another pair gives another emf, and nothing looks wrong.",
    source="ASTM E230; NIST ITS-90 reference functions (NIST Monograph 175)",
    formula="reading = T_indicator[E_probe(T) - E_probe(T_ref) + E_indicator(T_ref)]",
    example="type J probe at 205 degC on a type K indicator at 25 degC: 265.3 degC",
    over=lambda study: [i.source for i in _concerned(study)],
)
def type_match(study: Study) -> Iterator[Verdict]:
    """Every probe that is read, and every sender on a thermocouple input."""
    known = {id(loop.indication): loop for loop in loops(study)}
    for one in _concerned(study):
        at = (one.source, one.indicator)
        if one.section != "probes":
            yield discrepancy(
                at,
                one.path,
                f"{one.name} is made for a thermocouple and {one.source} is a sender",
                remedy=f"fit an indicator made for {one.source}, or a probe made for {one.indicator}",
            )
            continue
        couple, scale = study.model.probes[one.source].spec.thermocouple, one.spec.thermocouple
        if one.spec.principle is not None and one.spec.principle not in PRINCIPLES:
            yield discrepancy(
                at,
                one.path,
                f"{one.source} is a thermocouple and {one.name} is a {one.spec.principle} input",
                remedy="fit an indicator made for a thermocouple",
            )
        elif couple is None or scale is None:
            words = [w for w, v in ((COUPLE, couple), (SCALE, scale)) if v is None]
            yield undetermined(at, one.path, words)
        elif couple == scale:
            yield meets(at, one.path, f"{one.source} and {one.name} are both type {couple}")
        else:
            yield _mismatch(study, one, known.get(id(one)))


def _mismatch(study: Study, one: Indication, loop: Loop | None) -> Verdict:
    at, probe = (one.source, one.indicator), study.model.probes[one.source]
    scale = one.spec.thermocouple
    text = f"{one.source} is type {probe.spec.thermocouple} and {one.name} is drawn for type {scale}"
    remedy = (
        f"fit a type {scale} probe and type {scale} lead, or an indicator for type {probe.spec.thermocouple}"
    )
    path = (*one.path, "thermocouple")
    worst: tuple[float, str, dict[str, object]] | None = None
    for point, true_c in true_values(study, loop) if loop is not None and scale is not None else ():
        assert loop is not None
        assert scale is not None
        got = read_scale(study, loop, point, right_emf(study, loop, point, true_c), scale, ideal=True)
        words = scale_of(study, loop)
        if got.beyond:
            seen = f"at {point.name} it is driven {got.beyond} its scale at a true {words.at(true_c)}"
            worst = (float("inf"), seen, {"unit": words.unit, "limit": 0.0})
        elif got.c is not None and (worst is None or abs(got.c - true_c) > worst[0]):
            error = got.c - true_c
            seen = f"at {point.name} it shows {words.at(got.c)} for a true {words.at(true_c)}, {words.off(error)}"
            value = words.number(abs(error))
            worst = (abs(error), seen, {"value": value, "limit": 0.0, "margin": -value, "unit": words.unit})
    if worst is None:
        return discrepancy(at, path, text, remedy=remedy)
    return discrepancy(at, path, f"{text}: {worst[1]}", remedy=remedy, **worst[2])


@rule(
    "thermocouple-range",
    title="A couple is used within the range its limits of error are given for",
    why="Beyond it nothing is promised of the reading, and iron rusts away: a type J probe does not last in an exhaust.",
    source="ASTM E230 table of limits of error: J to 760, K and N to 1260, E to 870, T to 370 degC",
    formula="highest true value or limit <= highest temperature of the couple",
    example="1650 degF (899 degC) on type J: 139 degC above its range",
    over=probes_read,
)
def couple_range(study: Study) -> Iterator[Verdict]:
    """Every probe that an indicator reads."""
    for loop in loops(study):
        words, path = scale_of(study, loop), ("probes", loop.probe_id)
        limit = limit_of(study, loop)
        seen = [true_c for _, true_c in true_values(study, loop)] + (
            [float(limit)] if limit is not None else []
        )
        if not seen:
            yield undetermined(loop.at, path, TRUE_VALUE)
            continue
        rows = [r for r in limits("thermocouple_limits") if (r.standard, r.type) == ("ASTM E230", loop.kind)]
        most, top = max(r.t_high_c for r in rows), max(seen)
        text = f"{loop.probe_id} sees up to {words.at(top)}, and type {loop.kind} is good to {words.at(most)}"
        numbers = {
            "value": words.degrees(top),
            "limit": words.degrees(most),
            "margin": words.number(most - top),
            "unit": words.unit,
        }
        if top <= most:
            yield meets(loop.at, path, text, **numbers)
        else:
            yield discrepancy(loop.at, path, text, remedy="fit a type K probe, lead and indicator", **numbers)
