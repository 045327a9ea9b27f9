"""Thermocouple leads: the metal of each leg unbroken from the junction to the indicator, and the right way round."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from ...analysis.study import Point, Study
from ...analysis.thermocouple.circuits import (
    METAL,
    Broken,
    Loop,
    Piece,
    broken,
    loops,
    probes_read,
)
from ...analysis.thermocouple.points import TRUE_VALUE, scale_of, true_values
from ...analysis.thermocouple.readings import (
    Shown,
    circuit_emf,
    read_scale,
    right_emf,
)
from ...document.source import DocPath
from ...model.installation import split_end
from ...physics.thermocouple_limits import limits
from ...physics.thermocouples import LEGS
from ..verdicts import (
    Verdict,
    advisory,
    discrepancy,
    meets,
    undetermined,
)
from ..vocabulary import rule

_NOTHING_K = 0.05
"""An effect below this shows on no dial."""


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing wrong with the metal of a circuit: what, where, who, and the way out."""

    text: str
    path: DocPath
    at: tuple[str, ...]
    remedy: str
    pieces: tuple[Piece, ...]


@dataclass(frozen=True, slots=True)
class Effect:
    """What a fault does at one operating point: shown and right reading in degC."""

    point: Point
    true: float
    shown: Shown
    right: float

    @property
    def error(self) -> float:
        """Shown minus right in K; without end where the pointer leaves the scale."""
        if self.shown.c is None:
            return float("-inf") if self.shown.beyond == "below" else float("inf")
        return self.shown.c - self.right


@rule(
    "thermocouple-leg-material",
    title="Each leg of a thermocouple lead is of its couple's metal, and joined the right way round, from junction to indicator",
    why="A piece of another metal is a thermocouple of its own between its two ends. It reads wrong by what those ends differ in "
    "temperature, however short it is, and with everything cold it reads right.",
    source="FAA-H-8083-31 ch. 10: each lead is of the metal of the couple side it joins; ASTM E230; law of intermediate metals",
    formula="E = sum over each leg of [e(hot end) - e(indicator end)], positive less negative leg; reading = T(E + E(T_ref))",
    example="type K at 205 degC, copper in both legs from 82 to 25 degC: 146.3 degC",
    over=probes_read,
)
def leg_material(study: Study) -> Iterator[Verdict]:
    """Every probe that an indicator reads."""
    for one in broken(study):
        yield _broken(one)
    for loop in loops(study):
        yield _judge(study, loop)


def _broken(one: Broken) -> Verdict:
    at = (one.probe_id, one.indication.indicator)
    if one.missing:
        return undetermined(at, one.indication.path, one.missing)
    name = one.indication.name
    if len(one.open_terminals) > 1:
        text = f"both terminals of {name} lead to one leg of {one.probe_id}: the loop is shorted"
    else:
        text = f"terminal {one.open_terminals[0]} of {name} does not lead to {one.probe_id}: the loop is open"
    return discrepancy(
        at,
        one.indication.path,
        text,
        remedy=f"join each terminal of {name} to its own leg of {one.probe_id}",
    )


def _judge(study: Study, loop: Loop) -> Verdict:
    faults = [*crossings(loop), *wrong_metals(loop)]
    if not faults:
        if any(p.metal is None and p.sort in ("lead", "ground") for p in loop.pieces):
            return undetermined(loop.at, loop.indication.path, METAL)
        plus, minus = LEGS[loop.kind]
        text = f"the legs of {loop.name} are {plus} and {_word(minus)} from {loop.probe_id} to the indicator"
        return meets(loop.at, loop.indication.path, text)
    effects = worst_first(study, loop)
    at = (*loop.at, *(ident for f in faults for ident in f.at if ident not in loop.at))
    path, wrong = faults[0].path, "; ".join(f.text for f in faults)
    remedy = "; ".join(dict.fromkeys(f.remedy for f in faults))
    if not effects:
        return _unsized(study, loop, faults, at, wrong, remedy)
    scale, worst = scale_of(study, loop), effects[0]
    limit = lead_limit_k(loop.kind)
    numbers = {
        "value": None if worst.shown.c is None else scale.number(abs(worst.error)),
        "limit": scale.number(limit),
        "margin": None if worst.shown.c is None else scale.number(limit - abs(worst.error)),
        "unit": scale.unit,
    }
    if worst.shown.c is None:
        seen = f"{loop.name} is driven {worst.shown.beyond} its scale where {scale.at(worst.right)} is right"
    else:
        seen = (
            f"{loop.name} shows {scale.at(worst.shown.c)} where {scale.at(worst.right)} is right, "
            f"{scale.off(worst.error)}"
        )
    text = f"{wrong}: {seen}, at {worst.point.name}"
    if abs(worst.error) > limit:
        return discrepancy(at, path, text, remedy=remedy, **numbers)
    if abs(worst.error) < _NOTHING_K and _in_one_place(study, faults):
        whole = f"{wrong}, but its ends share one zone, and {loop.name} reads right"
        return meets(at, path, whole, **numbers)
    return advisory(at, path, text, remedy=remedy, **numbers)


def _unsized(
    study: Study, loop: Loop, faults: list[Fault], at: tuple[str, ...], wrong: str, remedy: str
) -> Verdict:
    """A fault whose effect cannot be worked out: still a fault where its ends can differ in temperature."""
    missing: tuple[str, ...] = (TRUE_VALUE,)
    for point, true_c in true_values(study, loop)[:1]:
        missing = circuit_emf(study, loop.with_right_metal("joint"), point, true_c).missing or missing
    if _in_one_place(study, faults):
        return undetermined(at, faults[0].path, missing, f"{wrong}: how far it reads off cannot be told")
    return discrepancy(
        at,
        faults[0].path,
        f"{wrong}: {loop.name} reads wrong by about what the ends of that piece differ in temperature",
        remedy=remedy,
    )


def _in_one_place(study: Study, faults: list[Fault]) -> bool:
    zones = {study.graph.zone_of(n) for f in faults for p in f.pieces for n in (p.hot, p.meter) if n}
    return (
        len(zones) == 1 and None not in zones and not any(p.sort == "probe" for f in faults for p in f.pieces)
    )


def lead_limit_k(kind: str) -> float:
    """Limit of error of standard extension lead of a couple in K: what a lead may be off anyway."""
    return next(
        r.limit_c
        for r in limits("extension_limits")
        if (r.standard, r.grade, r.type) == ("ASTM E230", "standard", kind)
    )


def worst_first(study: Study, loop: Loop) -> list[Effect]:
    """What the metals and polarity of the leads do at each operating point, joints taken as right; the worst first."""
    scale = loop.spec.thermocouple or loop.kind
    found = []
    for point, true_c in true_values(study, loop):
        emf = circuit_emf(study, loop.with_right_metal("joint"), point, true_c)
        shown = read_scale(study, loop, point, emf, scale, ideal=True)
        right = read_scale(study, loop, point, right_emf(study, loop, point, true_c), scale, ideal=True)
        if not shown.missing and right.c is not None:
            found.append(Effect(point, true_c, shown, right.c))
    return sorted(found, key=lambda e: -abs(e.error))


def crossings(loop: Loop) -> list[Fault]:
    """Places where the two legs change sides."""
    plus, minus = LEGS[loop.kind]
    if not all(
        any(p.metal == other for p in side if p.right != p.metal)
        for side, other in ((loop.positive, minus), (loop.negative, plus))
    ):
        return []
    kept = [p for p in loop.positive if p.sort in ("probe", "lead")]
    turned = [p.metal == minus and p.right == plus for p in kept] + [False]
    nodes = [p.meter for p in kept]
    places = [node for node, a, b in zip(nodes, turned, turned[1:], strict=False) if a != b]
    names = list(dict.fromkeys(split_end(n)[0] for n in places))
    where = " and again at ".join(names)
    pieces = tuple(p for p, t in zip(kept, turned, strict=False) if t)
    first = next((p for p in pieces if p.sort == "lead"), pieces[0])
    path = first.path if first.sort == "lead" else loop.indication.path
    return [
        Fault(
            f"the legs are crossed at {where}",
            path,
            tuple(dict.fromkeys((*(p.ident for p in pieces), *names))),
            f"exchange the two conductors at {' and at '.join(names)}",
            pieces,
        )
    ]


def wrong_metals(loop: Loop) -> list[Fault]:
    """Conductors of a metal that belongs to neither leg, or that runs where only the other leg belongs."""
    crossed = bool(crossings(loop))
    pair = set(LEGS[loop.kind])
    wrong = [
        p
        for p in loop.pieces
        if p.sort == "lead" and p.metal not in (p.right, None) and not (crossed and p.metal in pair)
    ]
    by_run: dict[str, list[Piece]] = {}
    for piece in wrong:
        by_run.setdefault(piece.ident, []).append(piece)
    return [_fault(loop, ident, tuple(pieces)) for ident, pieces in by_run.items()]


def _fault(loop: Loop, ident: str, pieces: tuple[Piece, ...]) -> Fault:
    metals = [str(p.metal) for p in pieces]
    types = [kind for kind, legs in LEGS.items() if tuple(metals) == legs]
    belongs = [_word(p.right) for p in pieces]
    if len(pieces) == 1:
        leg = "positive" if pieces[0] in loop.positive else "negative"
        text = f"the {leg} leg of {ident} is {_word(metals[0])} where {belongs[0]} belongs"
    elif types:
        text = f"{ident} is a type {types[0]} lead in a type {loop.kind} circuit"
    elif metals[0] == metals[1]:
        text = f"both conductors of {ident} are {_word(metals[0])} where {' and '.join(belongs)} belong"
    else:
        text = f"the conductors of {ident} are {' and '.join(map(_word, metals))} where {' and '.join(belongs)} belong"
    if belongs == ["copper", "copper"]:
        remedy = f"run {ident} in copper beyond the reference junction, or take the reference at the indicator's terminals"
    else:
        remedy = f"use {' and '.join(dict.fromkeys(belongs))} (type {loop.kind} lead) for {ident}"
    return Fault(text, pieces[0].path, (ident,), remedy, pieces)


def _word(metal: str) -> str:
    return metal.replace("J constantan", "constantan")
