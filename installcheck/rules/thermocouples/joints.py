"""Joints of a thermocouple lead and its reference junction: what counts is the temperature of their ends."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from ...analysis.study import Point, Study
from ...analysis.thermocouple.circuits import (
    JOINT_METAL,
    ONE_PLACE,
    REFERENCE,
    Loop,
    Side,
    loops,
    probes_read,
)
from ...analysis.thermocouple.points import TRUE_VALUE, scale_of, true_values
from ...analysis.thermocouple.readings import (
    Shown,
    circuit_emf,
    read_scale,
    reference_c,
    right_emf,
)
from ...document.source import DocPath
from ...model.wiring import Junction
from ..verdicts import (
    Verdict,
    discrepancy,
    meets,
    undetermined,
)
from ..vocabulary import rule
from .materials import lead_limit_k

ISOTHERMAL = (
    "whether all pins of the joint share one temperature ('isothermal'), or the difference across them"
)
_NOTHING_K = 0.005


def _joints(study: Study) -> list[tuple[Loop, str]]:
    return [
        (loop, ident)
        for loop in loops(study)
        for ident in dict.fromkeys(p.ident for p in loop.pieces if p.sort == "joint")
    ]


@rule(
    "thermocouple-joints",
    title="A joint in a thermocouple lead is of the couple's metals, or its ends share one temperature",
    why="Copper pins or brass screws do no harm where both their ends are equally warm. Through a hot wall, or in a plug with "
    "the engine on one side, they read wrong by the difference.",
    source="law of intermediate metals; ASTM E230",
    formula="error = -(E(T_a) - E(T_b)) for one third metal in both legs between T_a and T_b",
    example="copper pins in both legs of type K, 60 and 50 degC at their ends, true 205 degC: 194.7 degC",
    over=lambda study: [ident for _, ident in _joints(study)],
)
def joints(study: Study) -> Iterator[Verdict]:
    """Every joint of every thermocouple lead."""
    for loop, ident in _joints(study):
        yield _joint(study, loop, ident, study.model.junctions[ident])


def _joint(study: Study, loop: Loop, ident: str, junction: Junction) -> Verdict:
    at, path = (ident, loop.probe_id, loop.indication.indicator), ("junctions", ident)
    here = [p for p in loop.pieces if p.sort == "joint" and p.ident == ident]
    if all(p.metal == p.right for p in here):
        return meets(at, path, f"{ident} is of the metals of type {loop.kind}")
    zones = {study.graph.zone_of(n) for p in here for n in (p.hot, p.meter)}
    if junction.spec.kind in ONE_PLACE and len(zones) == 1:
        text = f"both wires of each leg meet at one point of {ident}; keep its two legs at one temperature"
        return meets(at, path, text)
    told = junction.isothermal or junction.pin_temperature_difference is not None or len(zones) > 1
    if not told:
        return undetermined(at, path, ISOTHERMAL)
    worst = _worst(study, loop, ident)
    if isinstance(worst, tuple):
        lacking = (JOINT_METAL,) if any(p.metal is None for p in here) else worst
        return undetermined(at, path, lacking)
    point, shown, right = worst.point, worst.shown, worst.right
    scale, limit = scale_of(study, loop), lead_limit_k(loop.kind)
    if shown.c is None:
        return discrepancy(
            at,
            path,
            f"{ident} drives {loop.name} {shown.beyond} its scale at {point.name}",
            remedy=_remedy(loop),
        )
    error = shown.c - right
    numbers = {
        "value": scale.number(abs(error)),
        "limit": scale.number(limit),
        "margin": scale.number(limit - abs(error)),
        "unit": scale.unit,
    }
    if abs(error) < _NOTHING_K:
        return meets(at, path, f"the ends of {ident} share one temperature: no error", **numbers)
    metal = ", ".join(dict.fromkeys(str(p.metal) for p in here if p.metal != p.right))
    text = (
        f"{ident} has {metal} between unequal temperatures: {loop.name} shows {scale.at(shown.c)} where "
        f"{scale.at(right)} is right, {scale.off(error)}, at {point.name}"
    )
    if abs(error) <= limit:
        return meets(at, path, text, **numbers)
    return discrepancy(at, path, text, remedy=_remedy(loop), **numbers)


def _remedy(loop: Loop) -> str:
    return f"fit contacts of the couple's own metals (type {loop.kind}), or move the joint to where both ends are equally warm"


@dataclass(frozen=True, slots=True)
class _Worst:
    """The joint's own effect at the point where it is largest."""

    point: Point
    shown: Shown
    right: float

    @property
    def size(self) -> float:
        return float("inf") if self.shown.c is None else abs(self.shown.c - self.right)


def _worst(study: Study, loop: Loop, ident: str) -> _Worst | tuple[str, ...]:
    alone = replace(
        loop, positive=_all_else_right(loop.positive, ident), negative=_all_else_right(loop.negative, ident)
    )
    found: list[_Worst] = []
    missing: list[str] = []
    for point, true_c in true_values(study, loop):
        emf = circuit_emf(study, alone, point, true_c)
        shown = read_scale(study, loop, point, emf, loop.kind, ideal=True)
        if shown.missing:
            missing += shown.missing
            continue
        found.append(_Worst(point, shown, true_c))
    if not found:
        return tuple(dict.fromkeys(missing)) or (TRUE_VALUE,)
    return max(found, key=lambda w: w.size)


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
    over=probes_read,
)
def reference(study: Study) -> Iterator[Verdict]:
    """Every probe that an indicator reads."""
    for loop in loops(study):
        yield _reference(study, loop)


def _reference(study: Study, loop: Loop) -> Verdict:
    at, spec = loop.at, loop.spec
    path: DocPath = (*loop.indication.path, "compensation")
    if spec.compensation is None or (spec.compensation == "elsewhere" and spec.compensated_at is None):
        return undetermined(at, loop.indication.path, REFERENCE)
    if spec.compensation == "at its terminals":
        return meets(at, path, f"{loop.name} takes its reference temperature at its terminals")
    place = (spec.compensated_at or "").partition(".")[0]
    block = study.model.junctions.get(place)
    if spec.compensation == "elsewhere" and any(p.ident == place for p in loop.pieces):
        return _block(study, loop, place, block)
    worst: tuple[float, Point, float] | None = None
    missing: tuple[str, ...] = (TRUE_VALUE,)
    for point, true_c in true_values(study, loop):
        believed, why = reference_c(study, loop, point)
        terminal = study.node_temperature(loop.terminals[0], point)
        if believed is None or terminal is None:
            missing = (why or "temperature of the zone",)
            continue
        error = _believing(study, loop, point, true_c)
        if error is not None and (worst is None or abs(error) > abs(worst[0])):
            worst = error, point, true_c
    if worst is None:
        return undetermined(at, loop.indication.path, missing)
    error, point, true_c = worst
    scale, limit = scale_of(study, loop), lead_limit_k(loop.kind)
    numbers = {
        "value": scale.number(abs(error)),
        "limit": scale.number(limit),
        "margin": scale.number(limit - abs(error)),
        "unit": scale.unit,
    }
    where = f"at {place}" if place else "nowhere"
    text = (
        f"{loop.name} takes its reference temperature {where}, and its lead ends at its terminals: at {point.name} "
        f"it reads {scale.off(error)} at {scale.at(true_c)}"
    )
    if abs(error) <= limit:
        return meets(at, path, text, **numbers)
    remedy = "use an indicator that takes the reference at its terminals"
    if place:
        remedy = f"end the couple's metals at {place} and run copper from there, or {remedy}"
    return discrepancy(at, path, text, remedy=remedy, **numbers)


def _believing(study: Study, loop: Loop, point: Point, true_c: float) -> float | None:
    """Error in K of a circuit of the right metals to the terminals, read with the reference the indicator believes."""
    at_terminals = replace(
        loop.indication, spec=loop.spec.model_copy(update={"compensation": "at its terminals"})
    )
    emf = right_emf(study, replace(loop, indication=at_terminals), point, true_c)
    shown = read_scale(study, loop, point, emf, loop.kind)
    return None if shown.c is None else shown.c - true_c


def _block(study: Study, loop: Loop, place: str, block: Junction | None) -> Verdict:
    at, path = (*loop.at, place), ("junctions", place)
    apart = block.pin_temperature_difference if block is not None else None
    if block is not None and block.isothermal is None and apart is None:
        return undetermined(at, path, ISOTHERMAL)
    scale, limit = scale_of(study, loop), lead_limit_k(loop.kind)
    error = 0.0 if block is None or block.isothermal or apart is None else float(apart)
    numbers = {
        "value": scale.number(error),
        "limit": scale.number(limit),
        "margin": scale.number(limit - error),
        "unit": scale.unit,
    }
    text = f"{loop.name} takes its reference temperature at {place}, where its lead ends"
    if error <= limit:
        return meets(at, path, text, **numbers)
    return discrepancy(
        at,
        path,
        f"{text}, but its pins differ by {scale.apart(error)}, and so may the reading",
        remedy=f"put {place} on one block of metal, out of the draught",
        **numbers,
    )
