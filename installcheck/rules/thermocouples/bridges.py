"""What joins a thermocouple circuit beside its own legs: a wire across a leg or between the legs, a second indicator."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from ...analysis import missing
from ...analysis.missing import Missing
from ...analysis.study import Study
from ...analysis.thermocouple.circuits import Loop, Piece, lead_metal, loops, loops_of
from ...analysis.thermocouple.effects import Effect, effects, lead_limit_k, told
from ...analysis.thermocouple.points import scale_of, true_values
from ...analysis.thermocouple.readings import Emf, external_ohms, read_scale, source_emf, through_resistance
from ...dataclass import dataclass
from ...graph import Edge
from ...graph.walk import Step, Walk
from ..verdicts import Verdict
from ..vocabulary import Subject, rule

_METAL = frozenset(("conductor", "joint", "contact", "spool"))


@dataclass(frozen=True, slots=True)
class Bridge:
    """Metal that joins two places of one circuit beside its legs."""

    steps: tuple[Step, ...]

    @property
    def ends(self) -> tuple[str, str]:
        """The two nodes it joins."""
        return self.steps[0].near, self.steps[-1].far

    @property
    def runs(self) -> tuple[str, ...]:
        """Ids of what it is made of, wire runs first."""
        ordered = sorted(self.steps, key=lambda step: step.edge.kind != "conductor")
        return tuple(dict.fromkeys(step.edge.ident for step in ordered))


def bridges(study: Study, loop: Loop) -> list[Bridge]:
    """Every way of metal between two nodes of a circuit that is no part of it."""
    own = {p.edge for p in loop.pieces if p.edge is not None}
    nodes = {n for p in loop.pieces for n in (p.hot, p.meter) if n}
    found: dict[frozenset[str], Bridge] = {}
    for start in sorted(nodes):

        def leaving(node: str, start: str = start) -> Iterable[Edge]:
            if node in nodes and node != start:
                return ()
            return (e for e in study.graph.at(node) if e.kind in _METAL and e.closed and e not in own)

        walk = Walk((start,), leaving)
        for node in walk:
            if node in nodes and node != start:
                found.setdefault(frozenset((start, node)), Bridge(walk.way(node)))
    return list(found.values())


@rule(
    "thermocouple-not-bridged",
    title="Nothing bridges a leg of a thermocouple circuit, or joins its two legs",
    why="A wire beside a leg carries the loop's current past it, and what the couple gives between its ends is lost to the "
    "better conductor. A wire between the legs is a junction of its own, and the pointer follows that place.",
    source="plain physics: couples in parallel, V = sum(E/R)/sum(1/R); law of intermediate metals",
    formula="no way of metal between two places of the circuit but its own legs",
    example="copper beside the chromel leg from 80 to 25 degC: the leg counts as copper there, about 30 degC off",
    over=loops,
)
def not_bridged(study: Study, subject: Subject, loop: Loop) -> Verdict:
    """Every circuit."""
    subject = subject.along(loop.indication.indicator)
    found = bridges(study, loop)
    if not found:
        return subject.meets(f"nothing bridges the legs of {loop.name}")
    first = found[0]
    subject = subject.along(*first.runs).placed(*first.steps[0].edge.path)
    name, (one, other) = first.runs[0], first.ends
    remedy = f"take {name} out between {one} and {other}"
    sides = [{n for p in side for n in (p.hot, p.meter)} for side in (loop.positive, loop.negative)]
    if not any(one in side and other in side for side in sides):
        return subject.discrepancy(
            f"{name} joins the two legs of {loop.name} between {one} and {other}: it is a junction there, and the pointer "
            "follows the temperature of that place",
            remedy=remedy,
        )
    metal = _metal(first, loop)
    leg = "positive" if one in sides[0] and other in sides[0] else "negative"
    text = f"{name} bridges the {leg} leg of {loop.name} from {one} to {other}"
    worst = _as_bridge(study, loop, first, metal) if metal is not None else None
    if worst is None or worst.shown.c is None:
        return subject.discrepancy(f"{text}: what the leg gives between them is lost to it", remedy=remedy)
    scale, limit = scale_of(study, loop), lead_limit_k(loop.kind)
    value = scale.number(abs(worst.error))
    if abs(worst.error) <= limit:
        return subject.advisory(
            f"{text}: as far as the points say it does no harm, its ends being equally warm", remedy=remedy
        )
    return subject.at_most(
        value,
        scale.number(limit),
        scale.unit,
        f"{text}: with the {metal} alone there {told(study, loop, worst)}",
        remedy=remedy,
    )


def _metal(bridge: Bridge, loop: Loop) -> str | None:
    """The one metal of the runs of a bridge; a thermocouple lead without a stated metal is not told from the leg."""
    found = {lead_metal(step.edge, loop.kind) for step in bridge.steps if step.edge.kind == "conductor"}
    return found.pop() if len(found) == 1 else None


def _as_bridge(study: Study, loop: Loop, bridge: Bridge, metal: str | None) -> Effect | None:
    """The worst reading with the bridged pieces of the metal of the bridge, which is the worst it can do."""
    ends = set(bridge.ends)

    def bridged(side: tuple[Piece, ...]) -> tuple[Piece, ...]:
        at = [i for i, p in enumerate(side) if p.meter in ends or p.hot in ends]
        nodes = [p.hot for p in side] + [side[-1].meter]
        if not ends <= set(nodes) or not at:
            return side
        low, high = sorted(nodes.index(end) for end in ends)
        return tuple(replace(p, metal=metal) if low <= i < high else p for i, p in enumerate(side))

    made = replace(loop, positive=bridged(loop.positive), negative=bridged(loop.negative))
    found, _ = effects(study, made.with_right_metal("joint"), loop.spec.thermocouple or loop.kind)
    return found[0] if found else None


@rule(
    "thermocouple-one-indicator",
    title="A couple that drives a pointer feeds no second indicator",
    why="A moving-coil indicator takes its current from the couple. A second one on the same leads takes as much again through "
    "the same resistance, and both read low while the engine is hotter than shown.",
    source="FAA-H-8083-31 ch. 10: leads are of the resistance one indicator is made for; plain physics",
    formula="E_terminals = E R_p/(R_p + R_ext), R_p the indicators in parallel; E_shown = E_terminals (R_cal + R_m)/R_m",
    example="8 ohm loop, two indicators of 20 ohm on one type K couple at 700 degC: 10/18 for 20/28, 22 percent low",
    over=loops,
)
def one_indicator(study: Study, subject: Subject, loop: Loop) -> Verdict | None:
    """Every circuit whose couple another input reads too."""
    others = [
        one
        for one in loops_of(study).get(loop.indication.source, ())
        if one.probe_id == loop.probe_id
        and (one.indication.indicator, one.indication.input)
        != (loop.indication.indicator, loop.indication.input)
    ]
    if not others or loop.indication.averaged:
        return None
    subject = subject.along(loop.indication.indicator, *(one.indication.indicator for one in others))
    names = ", ".join(one.name for one in others)
    lacking = _unsaid(study, loop, others)
    if lacking:
        return subject.lacks(*lacking)
    text = f"{loop.probe_id} feeds {loop.name} and {names}"
    worst = _loaded(study, loop, others)
    if worst is None:
        return subject.lacks(missing.POINT_READING)
    error, point = worst
    scale, limit = scale_of(study, loop), lead_limit_k(loop.kind)
    return subject.at_most(
        scale.number(abs(error)),
        scale.number(limit),
        scale.unit,
        f"{text}, which take {scale.apart(error)} from its reading at {point}",
        broken=f"{text}: what {names} takes through the same leads makes {loop.name} read {scale.off(error)} at {point}",
        remedy="fit a probe of two couples, or a probe of its own for the second indicator",
    )


def _unsaid(study: Study, loop: Loop, others: list[Loop]) -> list[Missing]:
    lacking: list[Missing] = []
    if any(one.spec.inner_resistance is None for one in (loop, *others)):
        lacking.append(missing.INDICATOR_INNER)
    ohms = external_ohms(study, loop, study.points[0])
    if ohms.cold is None:
        lacking += ohms.missing
    return lacking


def _loaded(study: Study, loop: Loop, others: list[Loop]) -> tuple[float, str] | None:
    """Largest change in K that the other inputs make, and the point; they are taken to share the whole of the leads."""
    own = float(loop.spec.inner_resistance or 0.0)
    joined = 1 / (1 / own + sum(1 / float(one.spec.inner_resistance or 1.0) for one in others))
    worst: tuple[float, str] | None = None
    for point, true_c in true_values(study, loop):
        external = external_ohms(study, loop, point)
        ohm = external.hot if external.hot is not None else external.cold
        emf, scale = source_emf(study, loop, point, true_c), loop.spec.thermocouple or loop.kind
        if ohm is None or emf.mv is None:
            continue
        alone = through_resistance(loop, emf, ohm, own)
        share = (joined / (joined + ohm)) / (own / (own + ohm))
        both = Emf(alone.mv * share if alone.mv is not None else None)
        right = read_scale(study, loop, point, alone, scale, ideal=True)
        shown = read_scale(study, loop, point, both, scale, ideal=True)
        if right.c is not None and shown.c is not None:
            error = shown.c - right.c
            if worst is None or abs(error) > abs(worst[0]):
                worst = error, point.name
    return worst
