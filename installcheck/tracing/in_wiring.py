"""Hypotheses of wires, joints, plugs, grounds and supplies: what in the wiring bears on an indication, and how it fails."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ..analysis.circuit.solved import circuit
from ..analysis.study import Study
from ..graph import Edge
from .changes import Adds, Cut, Jumps, World
from .channels import Channel
from .hypotheses import SIZES_OHM, Hypothesis, of_one, of_sizes
from .in_others import beside, outside
from .in_places import exchanged, neighbours
from .in_shared import behind, harnesses, plugs, supplies_of
from .looks import Setup
from .predict import Predictor
from .states import point_of
from .wires import differs, ends_of, shorts

_CARRIES = frozenset(("conductor", "joint", "contact", "bond", "spool"))


def in_wiring(predictor: Predictor, bad: Sequence[Channel], setups: Sequence[Setup]) -> Iterator[Hypothesis]:
    """Every fault of the wiring that bears on one of the indications that misbehave."""
    study = predictor.study
    concerned = _concerned(predictor, bad, setups)
    own = [h for edge in concerned for h in _of_edge(study, edge, bad)]
    own += behind(study, concerned)
    yield from own
    for edge in concerned:
        yield from _loose(study, edge, bad, predictor.channels)
    yield from outside(predictor, bad, setups, {(h.kind, at) for h in own for at in h.at})
    yield from beside(predictor, bad, setups)
    yield from plugs(study, concerned)
    yield from harnesses(study, concerned)
    yield from neighbours(study, predictor, bad)
    yield from exchanged(study, predictor, bad)
    yield from supplies_of(predictor, bad, setups)


def _concerned(predictor: Predictor, bad: Sequence[Channel], setups: Sequence[Setup]) -> list[Edge]:
    """Edges of the legs, and those whose loss moves the reading in one of the states looked at."""
    study = predictor.study
    found = dict.fromkeys(e for c in bad for e in c.edges if e.kind in _CARRIES)
    electric = [c for c in bad if c.way != "line" and c.spec.principle != "capillary"]
    for setup in dict.fromkeys(Setup(s.point, s.loads) for s in setups):
        net = circuit(study, point_of(study, setup))
        tried = [
            e
            for e, n in net.branch_of.items()
            if e.kind in _CARRIES and not net.solution.network.is_open[n] and e not in found
        ]
        worlds: list[World] = [(), *((Cut(e),) for e in tried)]
        for channel in electric:
            base, *others = predictor.expect(setup, channel.show, worlds)
            found |= dict.fromkeys(
                e for e, got in zip(tried, others, strict=True) if differs(channel, base, got)
            )
    return list(found)


def _of_edge(study: Study, edge: Edge, bad: Sequence[Channel]) -> Iterator[Hypothesis]:
    where = study.graph.zone_of(edge.a) or study.graph.zone_of(edge.b) or ""
    ohms = ("resistance", "ohm")

    def adds(r: float) -> World:
        return (Adds(edge, r),)

    if edge.kind == "conductor":
        name = f"wire {edge.label} ({ends_of(edge)})"
        yield of_one(
            "open", (edge.label,), f"{name} is broken, or off at an end", (Cut(edge),), edge.path, where
        )
        yield of_sizes(
            "bad joint",
            (edge.label,),
            f"a bad joint in {name} or at its ends",
            SIZES_OHM,
            adds,
            ohms,
            edge.path,
            where,
        )
        yield from shorts(study, edge, bad, name, where)
    elif edge.kind == "joint":
        pin = f"{edge.ident} contact {edge.name}" if edge.name else edge.ident
        yield of_one("open", (pin,), f"{pin} does not meet its mate", (Cut(edge),), edge.path, where)
        yield of_sizes(
            "bad joint", (pin,), f"a bad contact at {pin}", SIZES_OHM, adds, ohms, edge.path, where
        )
    elif edge.kind == "contact" and edge.section == "supplies":
        title = f"{edge.ident}"
        yield of_one("breaker open", (edge.ident,), f"{title} is open", (Cut(edge),), edge.path, where)
        yield of_sizes(
            "bad joint", (edge.ident,), f"burnt contacts in {title}", SIZES_OHM, adds, ohms, edge.path, where
        )
    elif edge.kind == "bond":
        own = "case" if edge.section != "grounds" else ""
        title = f"the ground of {edge.ident}" if own else f"ground {edge.ident}"
        yield of_one("lost ground", (edge.ident,), f"{title} is off", (Cut(edge),), edge.path, where)
        yield of_sizes(
            "bad ground", (edge.ident,), f"resistance in {title}", SIZES_OHM, adds, ohms, edge.path, where
        )
    else:
        yield of_one(
            "open",
            (edge.ident,),
            f"{edge.ident} {edge.name} is open".replace("  ", " "),
            (Cut(edge),),
            edge.path,
            where,
        )
        yield of_sizes(
            "bad joint", (edge.ident,), f"a bad contact in {edge.ident} {edge.name}".rstrip(), SIZES_OHM, adds, ohms,
            edge.path, where,
        )  # fmt: skip


def _loose(
    study: Study, edge: Edge, bad: Sequence[Channel], every: Sequence[Channel]
) -> Iterator[Hypothesis]:
    """A joint that makes and breaks: what is read through it jumps about, and it may measure right at rest."""
    names = (
        dict.fromkeys(str(c.show) for c in every if edge in c.edges)
        if any(edge in c.edges for c in bad)
        else {}
    )
    if names:
        places = _felt_at(study, edge)
        yield of_one(
            "loose joint",
            (edge.label if edge.kind == "conductor" else edge.ident,),
            f"a joint of {edge.label if edge.kind == 'conductor' else edge.ident} makes and breaks ({ends_of(edge)})",
            tuple(Jumps(name, "joint", places) for name in names),
            edge.path,
            study.graph.zone_of(edge.a) or "",
        )


_ITSELF, _BESIDE = 0.8, 0.1
"""Probability that a person who moves the leads by hand names the loose place itself, and all that lies beside it."""


def _felt_at(study: Study, edge: Edge) -> tuple[tuple[str, float], ...]:
    """Places a person would name: it, or what it ends at, which moves with it."""
    wire = edge.kind == "conductor"
    mine = edge.label if wire else edge.ident
    ends = (edge.a, edge.b)
    beside = [n.partition(".")[0] for n in ends]
    if not wire:
        beside = [e.label for n in ends for e in study.graph.at(n) if e.kind == "conductor"]
    near = [name for name in dict.fromkeys(beside) if name != mine]
    return ((mine, _ITSELF), *((name, _BESIDE / len(near)) for name in near))
