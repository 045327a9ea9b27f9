"""How hot the ends of extension and compensating lead may be."""

from __future__ import annotations

from ...analysis import missing
from ...analysis.study import Study
from ...graph import Edge
from ...model.comparing import at_least, at_most
from ...model.quantities import plain_number
from ...model.wiring import WireRun
from ...physics.thermocouple_limits import limits
from ..verdicts import Verdict
from ..vocabulary import Subject, rule

_COMPENSATING = {"K": (0.0, 100.0)}
"""degC at the ends of a copper/constantan compensating pair: IEC 60584-3 type KCB, by a supplier's table."""


@rule(
    "extension-lead-range",
    title="Both ends of an extension or compensating lead are within the range of its grade",
    why="Extension wire follows its couple only over a modest range; beyond it, its error has no limit anybody gives.",
    source="ASTM E230: extension grade 0 to 200 degC (T 0 to 100 by later tables, the safer; -60 to 100 by the older edition); IEC 60584-3: "
    "compensating KCB 0 to 100 degC",
    formula="lowest temperature of grade <= temperature at each end <= highest temperature of grade",
    example="extension lead K joined at 230 degC: 30 degC above its range",
    over="wire_runs",
)
def extension_range(study: Study, subject: Subject, run: WireRun) -> Verdict | None:
    """Every thermocouple lead that is not of thermocouple grade."""
    kind, grade = run.spec.thermocouple, run.spec.grade
    if kind is None or grade == "thermocouple" or _within_one_node(study, subject.ident):
        return None
    if grade is None:
        return subject.lacks(missing.LEAD_GRADE)
    span = _range(kind, grade)
    if span is None:
        return subject.lacks(missing.LEAD_RANGE)
    ends = _end_temperatures(study, study.edges(subject.ident))
    known = [float(t) for t in ends if t is not None]
    low, high = span
    # One end beyond the range settles it, whatever another does not say.
    beyond = bool(known) and not (at_most(max(known), high) and at_least(min(known), low))
    if not known or (len(known) < len(ends) and not beyond):
        return subject.lacks(missing.ZONE_TEMPERATURE, missing.JOINT_ZONE)
    coldest, hottest = min(known), max(known)
    text = (
        f"the ends of {subject.ident} are at {plain_number(coldest)} to {plain_number(hottest)} degC, and {grade} lead "
        f"of type {kind} is good from {plain_number(low)} to {plain_number(high)} degC"
    )
    remedy = f"use thermocouple-grade lead for {subject.ident}"
    if hottest - high >= low - coldest:
        return subject.at_most(hottest, high, "degC", text, remedy=remedy)
    return subject.at_least(coldest, low, "degC", text, remedy=remedy)


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
    """Temperatures of the ends of a run at every operating point, and the highest of their zones; ``None`` for what is not said."""
    found: list[float | None] = []
    for node in dict.fromkeys(n for e in edges for n in (e.a, e.b)):
        at_points = [study.node_temperature(node, point) for point in study.points]
        zone = study.graph.zone_of(node)
        own = any(
            t is not None and p.joints.get(node, p.joints.get(node.partition(".")[0])) == t
            for t, p in zip(at_points, study.points, strict=True)
        )
        found += [*at_points, *([] if own or zone is None else [study.hottest(zone)])]
    return found
