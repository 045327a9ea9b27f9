"""Resistance of bonding straps and ground joints, and returns that a removed wire took away."""

from __future__ import annotations

from collections.abc import Iterator

from ...analysis.circuit.assembly import BONDING_JOINT, STRAP, wired
from ...analysis.study import Study
from ...document.source import DocPath
from ...model.quantities import plain_number
from ..verdicts import (
    Verdict,
    discrepancy,
    meets,
    undetermined,
)
from ..vocabulary import rule

_RETURN = 0.005
"""ohm, from the ground point of the source to that of any equipment: FAA-H-8083-32 chapter 4."""
METAL = frozenset(("conductor", "joint", "contact", "bond", "spool", "shield"))


@rule(
    "bonding-resistance",
    title="A ground joint is at most 3 milliohm, a strap with its joints at most 5 milliohm",
    why="Alternator and starter current returns through them; what they drop moves every sender grounded at the engine.",
    source="AC 43.13-1B 11-189 (3 milliohm a joint); FAA-H-8083-32 chapter 4 (5 milliohm the whole return)",
    formula="stated resistance <= 0.003 ohm for a joint, <= 0.005 ohm for a strap with both joints",
    example="a strap of 12 milliohm against 5 milliohm: margin -7 milliohm; 40 A drop 0.48 V in it",
    over="grounds",
)
def bonding_resistance(study: Study) -> Iterator[Verdict]:
    """One verdict per strap and per stud, bus or case that says what it is fastened to."""
    for ident, ground in study.model.grounds.items():
        strap = ground.kind in ("strap", "bond")
        if not (strap or ground.joins is not None):
            continue
        at, path = (ident,), ("grounds", ident)
        limit = _RETURN if strap else BONDING_JOINT
        if ground.resistance is None:
            yield undetermined(at, path, STRAP)
            continue
        ohm = float(ground.resistance) * 1000
        most = limit * 1000
        what = "strap with its joints" if strap else "joint"
        told = f"{ident}: {plain_number(ohm)} milliohm; a {what} may have {plain_number(most)} milliohm"
        numbers = {"value": ohm, "limit": most, "margin": most - ohm, "unit": "milliohm"}
        if ohm > most * (1 + 1e-9):
            yield discrepancy(
                at,
                (*path, "resistance"),
                told,
                remedy=f"clean both faces to bright metal and measure again: {plain_number(most)} milliohm or less",
                **numbers,
            )
        else:
            yield meets(at, path, told, **numbers)


@rule(
    "return-path-kept",
    title="Every load and indicator returns to ground through wire or metal, not through a sender",
    why="Take out a wire that also served as somebody's ground and the current finds another way: through a sender, which burns.",
    source="plain physics; AC 43.13-1B 11-35, 11-48 (a conductor carries no more than its rating)",
    formula="return terminal and ground joined by conductors, joints and bonds, removed things taken out",
    example="panel returns through a fuel sender of 0.1 A rating: 3 A flow in it",
    over=lambda study: [e.ident for e in study.graph.edges if e.kind == "load" and e.section != "senders"],
)
def return_path_kept(study: Study) -> Iterator[Verdict]:
    """One verdict per load, indicator and coil whose return is wired in the document. Cost: linear."""
    metal, through = _parts(study)
    ground = {metal(n) for n in _grounds(study)}
    grounded_by_sender = {through(n) for n in _grounds(study)}
    if not ground:
        return
    for edge in study.graph.edges:
        if edge.kind != "load" or edge.section == "senders" or not wired(study, edge.b):
            continue
        at: tuple[str, ...] = (edge.ident,)
        path: DocPath = (edge.section, edge.ident)
        if metal(edge.b) in ground:
            yield meets(at, path, f"{edge.ident} returns to ground through metal")
        elif through(edge.b) in grounded_by_sender:
            sender = _sender_on_the_way(study, edge.b, metal, ground)
            yield _lost(study, edge.ident, path, sender, edge.section)


def _lost(study: Study, ident: str, path: DocPath, sender: str | None, section: str) -> Verdict:
    gone = list(study.taken_out("wire_runs"))
    gone += [i for i, r in study.model.removed.items() if r.kind == "wire"]
    since = f" since {', '.join(gone[:3])} was removed" if gone else ""
    spec = study.model.senders[sender].spec if sender in study.model.senders else None
    rated = spec.max_current if spec is not None else None
    current = None
    if section == "loads":
        current = study.model.loads[ident].spec.current
    elif section == "indicators":
        current = study.model.indicators[ident].spec.supply_current
    amps = f", {plain_number(float(current))} A of it" if current is not None else ""
    told = f"the only return of {ident}{amps} runs through {sender or 'the inside of a sender'}{since}"
    remedy = f"run a ground wire from {ident} to structure"
    if current is not None and rated is not None:
        return discrepancy(
            (ident, sender or ident),
            path,
            told,
            remedy=remedy,
            value=float(current),
            limit=float(rated),
            margin=float(rated) - float(current),
            unit="A",
        )
    return discrepancy((ident, sender or ident), path, told, remedy=remedy)


class _Union:
    """Which nodes hang together."""

    def __init__(self) -> None:
        self.parent: dict[str, str] = {}

    def __call__(self, node: str) -> str:
        path = []
        while self.parent.setdefault(node, node) != node:
            path.append(node)
            node = self.parent[node]
        for step in path:
            self.parent[step] = node
        return node

    def join(self, a: str, b: str) -> None:
        self.parent[self(a)] = self(b)


def _parts(study: Study) -> tuple[_Union, _Union]:
    """Nodes joined by metal, and nodes joined by metal and the elements of senders."""
    metal, through = _Union(), _Union()
    for edge in study.graph.edges:
        if edge.kind in METAL and edge.closed:
            metal.join(edge.a, edge.b)
        if (edge.kind in METAL and edge.closed) or edge.kind in ("element", "coil"):
            through.join(edge.a, edge.b)
    return metal, through


def _grounds(study: Study) -> list[str]:
    """Structure; without one, the negatives of batteries."""
    grounds = study.model.grounds
    structure = [i for i, g in grounds.items() if g.kind == "structure"]
    if structure:
        return structure
    return [
        e.b
        for e in study.graph.edges
        if e.kind == "supply" and study.model.supplies[e.ident].spec.kind == "battery"
    ]


def _sender_on_the_way(study: Study, start: str, metal: _Union, ground: set[str]) -> str | None:
    """A sender one end of whose element hangs with ``start`` and the other with ground."""
    here = metal(start)
    for edge in study.graph.edges:
        if edge.kind == "element" and here in (metal(edge.a), metal(edge.b)):
            other = metal(edge.b) if metal(edge.a) == here else metal(edge.a)
            if other in ground:
                return edge.ident
    return None
