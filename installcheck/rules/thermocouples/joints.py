"""Joints of a thermocouple lead and its reference junction: what counts is the temperature of their ends."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from ...analysis import missing
from ...analysis.missing import Missing
from ...analysis.study import Point, Study
from ...analysis.thermocouple.circuits import ONE_PLACE, Loop, Side, loops
from ...analysis.thermocouple.effects import effects, lead_limit_k, told
from ...analysis.thermocouple.points import scale_of, true_values
from ...analysis.thermocouple.readings import read_scale, reference_c, right_emf
from ...dataclass import dataclass
from ...document.source import DocPath
from ...model.comparing import at_most
from ..verdicts import Verdict
from ..vocabulary import Subject, rule

_NOTHING_K = 0.005
_USUAL_REFERENCES_C = (0.0, (75 - 32) / 1.8)
"""degC of the cold end that uncompensated scales are drawn for: ice, as the tables of emf are, or a room of 75 degF."""


@dataclass(frozen=True, slots=True)
class Joint:
    """A joint in one thermocouple circuit."""

    ident: str
    loop: Loop

    @property
    def path(self) -> DocPath:
        """Where the document tells of it."""
        return "junctions", self.ident


def _joints(study: Study) -> Iterator[Joint]:
    for loop in loops(study):
        for ident in dict.fromkeys(p.ident for p in loop.pieces if p.sort == "joint"):
            yield Joint(ident, loop)


@rule(
    "thermocouple-joints",
    title="A joint in a thermocouple lead is of the couple's metals, or its ends share one temperature",
    why="Copper pins or brass screws do no harm where both their ends are equally warm. Through a hot wall, or in a plug with "
    "the engine on one side, they read wrong by the difference.",
    source="law of intermediate metals; ASTM E230",
    formula="error = -(E(T_a) - E(T_b)) for one third metal in both legs between T_a and T_b",
    example="copper pins in both legs of type K, 60 and 50 degC at their ends, true 205 degC: 194.7 degC",
    over=_joints,
)
def joints(study: Study, subject: Subject, item: Joint) -> Verdict:
    """Every joint of every thermocouple lead."""
    loop, ident = item.loop, item.ident
    junction = study.model.junctions[ident]
    subject = subject.along(loop.probe_id, loop.indication.indicator)
    here = [p for p in loop.pieces if p.sort == "joint" and p.ident == ident]
    if all(p.metal == p.right for p in here):
        return subject.meets(f"{ident} is of the metals of type {loop.kind}")
    zones = {study.graph.zone_of(n) for p in here for n in (p.hot, p.meter)}
    uneven = junction.isothermal is False or bool(junction.pin_temperature_difference)
    if junction.spec.kind in ONE_PLACE and len(zones) == 1 and not uneven:
        return subject.meets(
            f"both wires of each leg meet at one point of {ident}; keep its two legs at one temperature"
        )
    if not (junction.isothermal or junction.pin_temperature_difference is not None or len(zones) > 1):
        return subject.lacks(missing.JOINT_ISOTHERMAL)
    alone = replace(
        loop, positive=_all_else_right(loop.positive, ident), negative=_all_else_right(loop.negative, ident)
    )
    found, lacking = effects(study, alone, loop.kind)
    if not found:
        return subject.lacks(*([missing.JOINT_METAL] if any(p.metal is None for p in here) else lacking))
    worst = found[0]
    remedy = (
        f"fit contacts of the couple's own metals (type {loop.kind}), or move the joint to where both ends are "
        "equally warm"
    )
    if worst.shown.c is None:
        return subject.discrepancy(
            f"{ident} drives {loop.name} {worst.shown.beyond} its scale at {worst.point.name}", remedy=remedy
        )
    scale = scale_of(study, loop)
    metal = ", ".join(dict.fromkeys(str(p.metal) for p in here if p.metal != p.right))
    text = f"{ident} has {metal} between unequal temperatures: {told(study, loop, worst)}"
    if abs(worst.error) < _NOTHING_K:
        text = f"the ends of {ident} share one temperature: no error"
    return subject.at_most(
        scale.number(abs(worst.error)), scale.number(lead_limit_k(loop.kind)), scale.unit, text, remedy=remedy
    )


def _all_else_right(side: Side, ident: str) -> Side:
    return tuple(p if p.ident == ident else replace(p, metal=p.right, spread=0.0) for p in side)


@rule(
    "thermocouple-reference",
    title="The indicator takes its reference temperature where the couple's metals end",
    why="The reading is the difference between the hot junction and the place where copper begins. If the indicator believes "
    "another temperature there, it is off by the difference.",
    source="NIST Monograph 175 (reference junction); plain physics",
    formula="reading = T[E(T_J) - E(T_end) + E(T_believed)]",
    example="copper begins at 45 degC, 30 degC believed, type K, true 205 degC: 189.6 degC",
    over=loops,
)
def reference(study: Study, subject: Subject, loop: Loop) -> Verdict:
    """Every probe that an indicator reads."""
    spec = loop.spec
    subject = subject.along(loop.indication.indicator)
    if spec.compensation is None or (spec.compensation == "elsewhere" and spec.compensated_at is None):
        return subject.lacks(missing.INDICATOR_REFERENCE)
    stated = subject.field("compensation")
    if spec.compensation == "at its terminals":
        return stated.meets(f"{loop.name} takes its reference temperature at its terminals")
    place = (spec.compensated_at or "").partition(".")[0]
    if spec.compensation == "elsewhere" and any(p.ident == place for p in loop.pieces):
        return _block(study, subject.along(place).placed("junctions", place), loop, place)
    found, lacking = _misbelieved(study, loop)
    if not found:
        return subject.lacks(lacking)
    limit, scale = lead_limit_k(loop.kind), scale_of(study, loop)
    if spec.compensation == "none" and spec.reference_temperature is None:
        return _undrawn(study, stated, loop)
    error, at_point, true_c = max(found, key=lambda f: abs(f[0]))
    remedy = "use an indicator that takes the reference at its terminals"
    if place:
        remedy = f"end the couple's metals at {place} and run copper from there, or {remedy}"
    takes = f"takes its reference temperature at {place}" if place else _drawn_for(study, loop)
    return stated.at_most(
        scale.number(abs(error)),
        scale.number(limit),
        scale.unit,
        f"{loop.name} {takes}, and its lead ends at its terminals: at {at_point} it reads {scale.off(error)} at "
        f"{scale.at(true_c)}",
        remedy=remedy,
    )


def _drawn_for(study: Study, loop: Loop) -> str:
    scale, drawn = scale_of(study, loop), float(loop.spec.reference_temperature or 0.0)
    return (
        f"does not follow the temperature of its cold end, its scale being drawn for {scale.at(drawn)} there"
    )


def _undrawn(study: Study, stated: Subject, loop: Loop) -> Verdict:
    """An uncompensated scale of which nobody says what cold end it is drawn for: wrong for certain where every usual one is."""
    limit, scale = lead_limit_k(loop.kind), scale_of(study, loop)
    worst = []
    for drawn in _USUAL_REFERENCES_C:
        spec = loop.spec.model_copy(update={"reference_temperature": drawn})
        told = replace(loop, indication=replace(loop.indication, spec=spec))
        found, _ = _misbelieved(study, told)
        worst.append((max(found, key=lambda f: abs(f[0])), drawn))
    (error, at_point, true_c), drawn = min(worst, key=lambda w: abs(w[0][0]))
    name, said = loop.name, "state the temperature its dial or papers say ('reference_temperature')"
    if at_most(abs(error), limit):
        usual = " or ".join(scale.at(c) for c in _USUAL_REFERENCES_C)
        return stated.lacks(
            missing.INDICATOR_SCALE_REFERENCE,
            because=f"{name} does not follow the temperature of its cold end, and whether its scale is drawn for {usual} "
            "there is not said",
        )
    return stated.at_most(
        scale.number(abs(error)),
        scale.number(limit),
        scale.unit,
        f"{name} does not follow the temperature of its cold end; what its scale is drawn for is not said: with "
        f"{scale.at(drawn)} there, the best case, at {at_point} it reads {scale.off(error)} at {scale.at(true_c)}",
        remedy=f"use an indicator that takes the reference at its terminals; {said} for the error of this one",
    )


def _misbelieved(study: Study, loop: Loop) -> tuple[list[tuple[float, str, float]], Missing]:
    """Error in K, point and true value in degC where the reference believed is not that at the end of the lead."""
    found = []
    lacking: Missing = missing.POINT_READING
    for point, true_c in true_values(study, loop):
        believed, why = reference_c(study, loop, point)
        if believed is None or study.node_temperature(loop.terminals[0], point) is None:
            lacking = why or missing.ZONE_TEMPERATURE
            continue
        error = _believing(study, loop, point, true_c)
        if error is not None:
            found.append((error, point.name, true_c))
    return found, lacking


def _believing(study: Study, loop: Loop, point: Point, true_c: float) -> float | None:
    """Error in K of a circuit of the right metals to the terminals, read with the reference the indicator believes."""
    at_terminals = replace(
        loop.indication, spec=loop.spec.model_copy(update={"compensation": "at its terminals"})
    )
    emf = right_emf(study, replace(loop, indication=at_terminals), point, true_c)
    shown = read_scale(study, loop, point, emf, loop.kind)
    return None if shown.c is None else shown.c - true_c


def _block(study: Study, subject: Subject, loop: Loop, place: str) -> Verdict:
    block = study.model.junctions.get(place)
    apart = block.pin_temperature_difference if block is not None else None
    if block is not None and block.isothermal is None and apart is None:
        return subject.lacks(missing.JOINT_ISOTHERMAL)
    scale = scale_of(study, loop)
    error = 0.0 if block is None or block.isothermal or apart is None else float(apart)
    text = f"{loop.name} takes its reference temperature at {place}, where its lead ends"
    return subject.at_most(
        scale.number(error),
        scale.number(lead_limit_k(loop.kind)),
        scale.unit,
        text,
        broken=f"{text}, but its pins differ by {scale.apart(error)}, and so may the reading",
        remedy=f"put {place} on one block of metal, out of the draught",
    )
