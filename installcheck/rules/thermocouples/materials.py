"""Thermocouple leads: the metal of each leg unbroken from the junction to the indicator, and the right way round."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from ...analysis import missing
from ...analysis.shown import listed
from ...analysis.study import Study
from ...analysis.thermocouple.circuits import Broken, Loop, Piece, broken, loops
from ...analysis.thermocouple.effects import effects, lead_limit_k, told
from ...analysis.thermocouple.points import scale_of
from ...dataclass import dataclass
from ...document.source import DocPath
from ...model.comparing import at_most
from ...model.installation import split_end
from ...physics.thermocouples import LEGS
from ..verdicts import Verdict
from ..vocabulary import Subject, rule

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


def _circuits(study: Study) -> Iterator[Broken | Loop]:
    yield from broken(study)
    yield from loops(study)


@rule(
    "thermocouple-leg-material",
    title="Each leg of a thermocouple lead is of its couple's metal, and joined the right way round, from junction to indicator",
    why="A piece of another metal is a thermocouple of its own between its two ends. It reads wrong by what those ends differ in "
    "temperature, however short it is, and with everything cold it reads right.",
    source="FAA-H-8083-31 ch. 10: each lead is of the metal of the couple side it joins; ASTM E230; law of intermediate metals",
    formula="E = sum over each leg of [e(hot end) - e(indicator end)], positive less negative leg; reading = T(E + E(T_ref))",
    example="type K at 205 degC, copper in both legs from 82 to 25 degC: 146.3 degC",
    over=_circuits,
)
def leg_material(study: Study, subject: Subject, circuit: Broken | Loop) -> Verdict:
    """Every probe that an indicator reads."""
    subject = subject.along(circuit.indication.indicator)
    return _broken(subject, circuit) if isinstance(circuit, Broken) else _judge(study, subject, circuit)


def _broken(subject: Subject, one: Broken) -> Verdict:
    if one.missing:
        return subject.lacks(*one.missing)
    name = one.indication.name
    if len(one.open_terminals) > 1:
        text = f"both terminals of {name} lead to one leg of {one.probe_id}: the loop is shorted"
    else:
        text = f"terminal {one.open_terminals[0]} of {name} does not lead to {one.probe_id}: the loop is open"
    return subject.discrepancy(text, remedy=f"join each terminal of {name} to its own leg of {one.probe_id}")


def _judge(study: Study, subject: Subject, loop: Loop) -> Verdict:
    faults = [*crossings(loop), *wrong_metals(loop)]
    if not faults:
        if any(p.metal is None and p.sort in ("lead", "ground") for p in loop.pieces):
            return subject.lacks(missing.LEAD_METAL)
        plus, minus = LEGS[loop.kind]
        landed = landed_crossed(loop)
        if landed:
            where, are = " and ".join(landed), "is" if len(landed) == 1 else "are"
            return (
                subject.along(*landed)
                .placed("junctions", landed[0])
                .discrepancy(
                    f"both legs of {loop.name} land on each other's contacts of {where}, which {are} of {plus} and {_word(minus)}: "
                    f"it reads right only while those are equally warm, and who trusts their marks crosses one lead",
                    remedy=f"land {plus} on the {plus} contact of {where} and {_word(minus)} on the other, on both sides of it",
                )
            )
        return subject.meets(
            f"the legs of {loop.name} are {plus} and {_word(minus)} from {loop.probe_id} to the indicator"
        )
    subject = subject.along(*(ident for f in faults for ident in f.at)).placed(*faults[0].path)
    wrong = "; ".join(f.text for f in faults)
    remedy = "; ".join(dict.fromkeys(f.remedy for f in faults))
    found, lacking = effects(study, loop.with_right_metal("joint"), loop.spec.thermocouple or loop.kind)
    if not found:
        # A fault whose effect cannot be worked out is still a fault where its ends can differ in temperature.
        if _in_one_place(study, faults):
            return subject.lacks(*lacking, because=f"{wrong}: how far it reads off cannot be told")
        return subject.discrepancy(
            f"{wrong}: {loop.name} reads wrong by about what the ends of that piece differ in temperature",
            remedy=remedy,
        )
    scale, worst = scale_of(study, loop), found[0]
    text = f"{wrong}: {told(study, loop, worst)}"
    if worst.shown.c is None:
        return subject.discrepancy(text, remedy=remedy)
    value, limit = scale.number(abs(worst.error)), lead_limit_k(loop.kind)
    if at_most(_NOTHING_K, abs(worst.error)):
        # Within what a lead may be off anyway it is good practice to mend it.
        within = at_most(abs(worst.error), limit)
        allowed = scale.number(_NOTHING_K if within else limit)
        return subject.at_most(value, allowed, scale.unit, text, remedy=remedy, practice=within)
    if not _in_one_place(study, faults):
        return subject.advisory(text, remedy=remedy)
    reads = f"{wrong}, but its ends share one zone, and {loop.name} reads right"
    return subject.at_most(value, scale.number(limit), scale.unit, reads)


def _in_one_place(study: Study, faults: list[Fault]) -> bool:
    zones = {study.graph.zone_of(n) for f in faults for p in f.pieces for n in (p.hot, p.meter) if n}
    return (
        len(zones) == 1 and None not in zones and not any(p.sort == "probe" for f in faults for p in f.pieces)
    )


def crossings(loop: Loop) -> list[Fault]:
    """Places where the two legs change sides."""
    kept = [p for p in loop.positive if p.sort in ("probe", "lead")]
    turned = [_turned(p, loop) for p in kept] + [False]
    if not any(turned) or not any(_turned(p, loop) for p in loop.negative if p.sort in ("probe", "lead")):
        return []
    nodes = [p.meter for p in kept]
    places = [node for node, a, b in zip(nodes, turned, turned[1:], strict=False) if a != b]
    names = list(dict.fromkeys(split_end(n)[0] for n in places))
    where = " and again at ".join(names)
    pieces = tuple(p for p, t in zip(kept, turned, strict=False) if t)
    changed = [i for i, (a, b) in enumerate(pairwise(turned)) if a != b]
    beside = (next((p for p in kept[i : i + 2] if p.sort == "lead"), None) for i in changed)
    leads = list(dict.fromkeys(p.ident for p in beside if p is not None))
    first = next((p for p in pieces if p.sort == "lead"), pieces[0])
    path = first.path if first.sort == "lead" else loop.indication.path
    return [
        Fault(
            f"the legs{f' of {listed(leads)}' if leads else ''} are crossed at {where}",
            path,
            tuple(dict.fromkeys((*(p.ident for p in pieces), *leads, *names))),
            f"exchange the two conductors at {' and at '.join(names)}",
            pieces,
        )
    ]


def landed_crossed(loop: Loop) -> list[str]:
    """Joints whose contacts of the couple's two metals carry each other's leg."""
    plus, minus = (
        {p.ident for p in side if p.sort == "joint" and _turned(p, loop)}
        for side in (loop.positive, loop.negative)
    )
    return [p.ident for p in loop.positive if p.sort == "joint" and p.ident in plus & minus]


def _turned(piece: Piece, loop: Loop) -> bool:
    """Whether a piece is of the metal of the other leg."""
    pair = LEGS[loop.kind]
    return piece.metal != piece.right and piece.metal in pair and piece.right in pair


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
