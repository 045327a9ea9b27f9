"""Wires that lead round a protector, switch or contactor, so that it interrupts nothing."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from ...dataclass import dataclass
from ...graph import Edge
from ...graph.edges import EdgeKind
from ...graph.joining import Joined
from ...graph.walk import Step, Walk, between
from ...model.edits import Drop, Edit
from ..fluid.facts import listed
from ..study import Study, once
from .wiring import protector_of

_METAL: Final[tuple[EdgeKind, ...]] = ("conductor", "joint")
"""What joins two ends for good; a resistor or shunt between them is no bypass."""


@dataclass(frozen=True, slots=True)
class Breaking:
    """A protector, switch or contactor that is wired on both sides.

    Attributes:
        ident: its id.
        round: the runs of which one leads round it; empty where none does.
        chain: it and what stands in series with it, all of which are led round together.
    """

    ident: str
    round: tuple[str, ...]
    chain: tuple[str, ...]

    @property
    def path(self) -> tuple[str, str]:
        """Where the document tells of it."""
        return ("supplies", self.ident)


@once
def breaking(study: Study) -> tuple[Breaking, ...]:
    """Every protector, switch and contactor that is wired on both sides. Cost: linear."""
    return tuple(
        Breaking(c.ident, *_round(study, c))
        for c in _contacts(study)
        if _wired(study, c.a) and _wired(study, c.b)
    )


def taken_out(study: Study, one: Breaking) -> Edit | None:
    """The run that leads round a protector or switch, taken out; ``None`` where it can be one of several."""
    if len(one.round) != 1:
        return None
    (ident,) = one.round
    run = study.model.wire_runs[ident]
    ends = f" between {run.from_} and {run.to}" if run.from_ is not None and run.to is not None else ""
    return Edit(
        (Drop(("wire_runs", ident)),),
        f"take {ident} out{ends}",
        f"{ident} leads round {listed(list(one.chain))}",
    )


def to_take_out(one: Breaking) -> str:
    """What to take out, in words."""
    which = one.round[0] if len(one.round) == 1 else f"one of {listed(list(one.round))}"
    return f"take out {which}, which leads round {listed(list(one.chain))}"


def taking_out(study: Study, run: str) -> str:
    """That a run is to be taken out, in words, where it leads round a protector or switch; else empty."""
    return next((to_take_out(one) for one in breaking(study) if run in one.round), "")


def leads_round(study: Study, node: str) -> Iterator[Breaking]:
    """The protectors that are led round, and of whose net a node is, with no other protector between."""
    for one, a, b in _led_round(study):
        nets = _nets(study)
        if nets[node] in (nets[a], nets[b]):
            yield one


@once
def _led_round(study: Study) -> tuple[tuple[Breaking, str, str], ...]:
    """The protectors that are led round, with their ends."""
    ends = {edge.ident: edge for edge in _contacts(study) if protector_of(study, edge) is not None}
    return tuple(
        (one, ends[one.ident].a, ends[one.ident].b)
        for one in breaking(study)
        if one.round and one.ident in ends
    )


def _contacts(study: Study) -> list[Edge]:
    return [edge for edge in study.graph.of("contact") if edge.section == "supplies"]


def _wired(study: Study, node: str) -> bool:
    return any(edge.kind in _METAL for edge in study.graph.at(node))


@once
def _metal(study: Study) -> Joined[str]:
    joined: Joined[str] = Joined()
    for edge in study.graph.of(*_METAL):
        joined.union(edge.a, edge.b)
    return joined


@once
def _nets(study: Study) -> Joined[str]:
    """What hangs together with no protector between."""
    joined: Joined[str] = Joined()
    for edge in study.graph.of(*_METAL, "contact", "spool"):
        if protector_of(study, edge) is None:
            joined.union(edge.a, edge.b)
    return joined


@once
def _between(study: Study) -> dict[str, list[Edge]]:
    """The two contacts at each piece of metal that joins nothing else: they stand in series."""
    joined = _metal(study)
    met: dict[str, list[Edge]] = {}
    for edge in _contacts(study):
        for node in (edge.a, edge.b):
            met.setdefault(joined[node], []).append(edge)
    busy = {
        joined[node]
        for edge in study.graph.edges
        if edge.kind not in _METAL
        for node in (edge.a, edge.b)
        if edge.section != "supplies" or edge.kind != "contact"
    }
    busy |= {
        joined[load.connected_at] for load in study.model.loads.values() if load.connected_at is not None
    }
    busy |= {joined[ident] for ident, one in study.model.supplies.items() if one.spec.kind == "bus"}
    return {piece: edges for piece, edges in met.items() if len(edges) == 2 and piece not in busy}


def _round(study: Study, contact: Edge) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """The runs of which one leads round a contact, and what stands in series with it between their ends."""
    joined, series = _metal(study), _between(study)
    chain, ends = [contact], [contact.a, contact.b]
    for side in (0, 1):
        while joined[ends[0]] != joined[ends[1]] and (pair := series.get(joined[ends[side]])):
            beyond = next((edge for edge in pair if edge not in chain), None)
            if beyond is None:
                break
            chain.append(beyond)
            at = joined[ends[side]]
            ends[side] = beyond.b if joined[beyond.a] == at else beyond.a
    names = tuple(edge.ident for edge in chain)
    if joined[ends[0]] != joined[ends[1]]:
        return (), (contact.ident,)
    return _cuts(study, ends[0], ends[1], names), names


def _cuts(study: Study, start: str, end: str, chain: tuple[str, ...]) -> tuple[str, ...]:
    """The runs of the shortest way between two ends that, taken out, leave something on both sides; else of one contact all."""
    links = {node: [e for e in study.graph.at(node) if e.kind in _METAL] for node in _piece(study, start)}
    way = [step for step in between(links, start, end) or () if step.edge.run is not None]
    good = [step for step in way if _parts(study, step, chain)] or (way if len(chain) == 1 else [])
    return tuple(dict.fromkeys(step.edge.ident for step in good))


def _piece(study: Study, start: str, without: Edge | None = None) -> set[str]:
    """What metal joins to a node."""
    walk = Walk([start], study.graph.at, lambda edge, _: edge.kind in _METAL and edge != without)
    return set(walk)


def _parts(study: Study, step: Step, chain: tuple[str, ...]) -> bool:
    near, far = _piece(study, step.near, step.edge), _piece(study, step.far, step.edge)
    return step.far in near or all(
        any(node.partition(".")[0] not in chain for node in side) for side in (near, far)
    )
