"""Resistance of bonding straps and ground joints, and returns that a removed wire took away."""

from __future__ import annotations

from typing import Final

from ...analysis import missing
from ...analysis.circuit.assembly import BONDING_JOINT, is_switch, wired
from ...analysis.evidence.spans import STRAP_OHM
from ...analysis.study import Study, once
from ...graph import Edge
from ...graph.edges import EdgeKind
from ...graph.joining import Joined
from ...model.comparing import at_most
from ...model.power import Ground
from ...model.quantities import plain_number
from ..verdicts import Verdict
from ..vocabulary import Subject, rule

_METAL: Final[tuple[EdgeKind, ...]] = ("conductor", "joint", "contact", "bond", "spool", "shield")


@rule(
    "bonding-resistance",
    title="A ground joint is at most 3 milliohm, a strap with its joints at most 5 milliohm",
    why="Alternator and starter current returns through them; what they drop moves every sender grounded at the engine.",
    source="AC 43.13-1B 11-189 (3 milliohm a joint); FAA-H-8083-32 chapter 4 (5 milliohm the whole return)",
    formula="stated resistance <= 0.003 ohm for a joint, <= 0.005 ohm for a strap with both joints",
    example="a strap of 12 milliohm against 5 milliohm: margin -7 milliohm; 40 A drop 0.48 V in it",
    over="grounds",
)
def bonding_resistance(study: Study, subject: Subject, ground: Ground) -> Verdict | None:
    """A strap, or a stud, bus or case that says what it is fastened to."""
    strap = ground.kind in ("strap", "bond")
    if not strap and ground.joins is None:
        return None
    if ground.resistance is None:
        return subject.lacks(missing.GROUND_RESISTANCE)
    ohm, most = float(ground.resistance) * 1000, (STRAP_OHM if strap else BONDING_JOINT) * 1000
    what = "strap with its joints" if strap else "joint"
    return subject.field("resistance").at_most(
        ohm,
        most,
        "milliohm",
        f"{subject.ident}: {plain_number(ohm)} milliohm; a {what} may have {plain_number(most)} milliohm",
        remedy=f"clean both faces to bright metal and measure again: {plain_number(most)} milliohm or less",
    )


def _returns(study: Study) -> list[Edge]:
    """The inside of every load, indicator and coil."""
    return [edge for edge in study.graph.of("load") if edge.section != "senders"]


@rule(
    "return-path-kept",
    title="Every load and indicator returns to ground through wire or metal, not through a sender",
    why="Take out a wire that also served as somebody's ground and the current finds another way: through a sender, which burns.",
    source="plain physics; AC 43.13-1B 11-35, 11-48 (a conductor carries no more than its rating)",
    formula="return terminal and ground joined by conductors, joints and bonds, removed things taken out",
    example="panel returns through a fuel sender of 0.1 A rating: 3 A flow in it",
    over=_returns,
)
def return_path_kept(study: Study, subject: Subject, edge: Edge) -> Verdict | None:
    """A load, indicator or coil whose return is wired in the document."""
    metal, through = _joined(study)
    grounds = _grounds(study)
    subject = subject.placed(edge.section, edge.ident)
    if not grounds or not wired(study, edge.b):
        return None
    if any(metal[edge.b] == metal[ground] for ground in grounds):
        return subject.meets(f"{edge.ident} returns to ground through metal")
    if any(through[edge.b] == through[ground] for ground in grounds):
        return _lost(study, subject, edge)
    return None


def _lost(study: Study, subject: Subject, edge: Edge) -> Verdict:
    ident, sender = edge.ident, _sender_on_the_way(study, edge.b)
    gone = list(study.taken_out("wire_runs"))
    gone += [i for i, r in study.model.removed.items() if r.kind == "wire"]
    since = f" since {', '.join(gone[:3])} was removed" if gone else ""
    spec = study.model.senders[sender].spec if sender in study.model.senders else None
    rated = spec.max_current if spec is not None else None
    current = None
    if edge.section == "loads":
        current = study.model.loads[ident].spec.current
    elif edge.section == "indicators":
        current = study.model.indicators[ident].spec.supply_current
    amps = f", {plain_number(float(current))} A of it" if current is not None else ""
    told = f"the only return of {ident}{amps} runs through {sender or 'the inside of a sender'}{since}"
    remedy = f"run a ground wire from {ident} to structure"
    subject = subject.along(sender or ident)
    if current is not None and rated is not None and not at_most(current, rated):
        return subject.at_most(float(current), float(rated), "A", told, remedy=remedy)
    return subject.discrepancy(told, remedy=remedy)


@once
def _joined(study: Study) -> tuple[Joined[str], Joined[str]]:
    """Nodes joined by metal, and nodes joined by metal and the elements of senders."""
    metal: Joined[str] = Joined()
    through: Joined[str] = Joined()
    for edge in study.graph.of(*_METAL, "element", "coil"):
        solid = (edge.kind in _METAL and edge.closed) or is_switch(study, edge)
        if solid:
            metal.union(edge.a, edge.b)
        if solid or edge.kind in ("element", "coil"):
            through.union(edge.a, edge.b)
    return metal, through


def _grounds(study: Study) -> list[str]:
    """Structure; without one, the negatives of batteries."""
    structure = [i for i, g in study.model.grounds.items() if g.kind == "structure"]
    return structure or [
        e.b for e in study.graph.of("supply") if study.model.supplies[e.ident].spec.kind == "battery"
    ]


def _sender_on_the_way(study: Study, start: str) -> str | None:
    """A sender one end of whose element hangs with ``start`` and the other with ground."""
    metal = _joined(study)[0]
    here, grounds = metal[start], {metal[ground] for ground in _grounds(study)}
    for edge in study.graph.of("element"):
        ends = (metal[edge.a], metal[edge.b])
        if here in ends and not grounds.isdisjoint(ends):
            return edge.ident
    return None
