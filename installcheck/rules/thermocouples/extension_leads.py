"""How hot the ends of extension and compensating lead may be."""

from __future__ import annotations

from collections.abc import Iterator

from ...analysis.circuit.leads import ZONE_TEMPERATURE
from ...analysis.study import Study
from ...analysis.thermocouple.circuits import JOINT_ZONE
from ...graph import Edge
from ...model.quantities import plain_number
from ...physics.thermocouple_limits import limits
from ..verdicts import (
    Verdict,
    discrepancy,
    meets,
    undetermined,
)
from ..vocabulary import rule

GRADE = "grade of the thermocouple lead: thermocouple, extension or compensating"
_COMPENSATING = {"K": (0.0, 100.0)}
"""degC at the ends of a copper/constantan compensating pair: IEC 60584-3 type KCB (recalled)."""


def _leads(study: Study) -> list[str]:
    return [ident for ident, run in study.model.wire_runs.items() if run.spec.thermocouple is not None]


@rule(
    "extension-lead-range",
    title="Both ends of an extension or compensating lead are within the range of its grade",
    why="Extension wire follows its couple only over a modest range; beyond it, its error has no limit anybody gives.",
    source="ASTM E230: extension grade 0 to 200 degC (T -60 to 100); IEC 60584-3: compensating KCB 0 to 100 degC (recalled)",
    formula="lowest temperature of grade <= temperature at each end <= highest temperature of grade",
    example="extension lead K joined at 230 degC: 30 degC above its range",
    over=_leads,
)
def extension_range(study: Study) -> Iterator[Verdict]:
    """Every thermocouple lead that is not of thermocouple grade."""
    for ident in _leads(study):
        run = study.model.wire_runs[ident]
        if run.spec.grade == "thermocouple" or _within_one_node(study, ident):
            continue
        if run.spec.grade is None:
            yield undetermined((ident,), ("wire_runs", ident), GRADE)
        else:
            yield _in_range(study, ident)


def _within_one_node(study: Study, ident: str) -> bool:
    """Whether a tail stays in one zone, where its ends differ in nothing."""
    zones = {study.graph.zone_of(n) for e in study.edges(ident) for n in (e.a, e.b)}
    return len(zones) == 1 and None not in zones


def _range(kind: str, grade: str) -> tuple[float, float] | None:
    if grade == "compensating":
        return _COMPENSATING.get(kind)
    row = next(
        r
        for r in limits("extension_limits")
        if (r.standard, r.grade, r.type) == ("ASTM E230", "standard", kind)
    )
    return row.t_low_c, row.t_high_c


def _end_temperatures(study: Study, edges: list[Edge]) -> list[float | None]:
    """Temperatures of the ends of a run at every operating point, and the highest of their zones."""
    found: list[float | None] = []
    for node in dict.fromkeys(n for e in edges for n in (e.a, e.b)):
        at_points = [study.node_temperature(node, point) for point in study.points]
        zone = study.graph.zone_of(node)
        own = any(
            t is not None and p.joints.get(node, p.joints.get(node.partition(".")[0])) == t
            for t, p in zip(at_points, study.points, strict=True)
        )
        hottest = study.hottest(zone) if zone is not None and not own else None
        found += [*at_points, *([hottest] if hottest is not None else [])]
    return found


def _in_range(study: Study, ident: str) -> Verdict:
    run, at, path = study.model.wire_runs[ident], (ident,), ("wire_runs", ident)
    kind, grade = run.spec.thermocouple, run.spec.grade
    assert kind is not None
    assert grade is not None
    span = _range(kind, grade)
    if span is None:
        return undetermined(at, path, "temperature range of the compensating lead")
    ends = _end_temperatures(study, study.edges(ident))
    known = [float(t) for t in ends if t is not None]
    if len(known) < len(ends) or not known:
        return undetermined(at, path, (ZONE_TEMPERATURE, JOINT_ZONE))
    low, high = span
    coldest, hottest = min(known), max(known)
    over = hottest - high >= low - coldest
    value, limit = (hottest, high) if over else (coldest, low)
    margin = high - hottest if over else coldest - low
    text = (
        f"the ends of {ident} are at {plain_number(coldest)} to {plain_number(hottest)} degC, and {grade} lead "
        f"of type {kind} is good from {plain_number(low)} to {plain_number(high)} degC"
    )
    numbers = {"value": value, "limit": limit, "margin": margin, "unit": "degC"}
    if margin >= 0:
        return meets(at, path, text, **numbers)
    return discrepancy(at, path, text, remedy=f"use thermocouple-grade lead for {ident}", **numbers)
