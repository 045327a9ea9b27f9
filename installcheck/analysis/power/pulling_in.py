"""Whether a contactor can pull in: its coil is fed while its own contact, and those that wait for it, are open."""

from __future__ import annotations

from typing import Final

from ...dataclass import dataclass
from ...graph import Edge
from ...graph.edges import EdgeKind
from ...graph.joining import Joined
from ..study import Study, once

_CARRIES: Final[tuple[EdgeKind, ...]] = ("conductor", "joint", "contact", "spool", "bond")


@dataclass(frozen=True, slots=True)
class Coil:
    """The coil of a contactor that is fed while all contacts are closed.

    Attributes:
        ident: the contactor.
        fed: whether it is while those are open that must pull in first.
        terminal: the terminal of the coil that is fed.
        sides: the posts of the batteries, and the two terminals of its contact.
        alternators: those that are all that feeds it then.
    """

    ident: str
    fed: bool
    terminal: str
    sides: tuple[str, ...]
    alternators: tuple[str, ...] = ()

    @property
    def path(self) -> tuple[str, str]:
        """Where the document tells of it."""
        return ("supplies", self.ident)


@once
def coils(study: Study) -> tuple[Coil, ...]:
    """Every coil that is fed while all contacts are closed. Cost: linear, times how many contactors wait for one another."""
    drawn = [e for e in study.graph.of("load") if e.section == "supplies" and e.name == "coil"]
    if not drawn:
        return ()
    waiting = {edge.ident: edge for edge in drawn}
    sources = study.graph.of("supply")
    whole = _joined(study, {})
    joined, outside = _joined(study, waiting), _outside(study)
    standing = [edge for edge in sources if not _needs_bus(study, edge, joined)] or sources
    while True:
        brought = {joined[node] for node in outside}
        pulled = [
            ident
            for ident, coil in waiting.items()
            if _feeds(joined, coil, standing) or not brought.isdisjoint((joined[coil.a], joined[coil.b]))
        ]
        if not pulled:
            break
        for ident in pulled:
            del waiting[ident]
        for edge in study.graph.of("contact"):
            if edge.section == "supplies" and edge.ident in pulled:
                joined.union(edge.a, edge.b)
    posts = tuple(edge.a for edge in sources if study.model.supplies[edge.ident].spec.kind == "battery")
    return tuple(
        _coil(study, edge, posts, _feeds(joined, edge, sources) if edge.ident in waiting else None)
        for edge in drawn
        if _feeds(whole, edge, sources)
    )


def _coil(study: Study, edge: Edge, posts: tuple[str, ...], alone: list[Edge] | None) -> Coil:
    """A coil; ``alone`` are the sources that feed it while it waits, ``None`` where it does not."""
    own = [c for c in study.graph.by_thing["supplies", edge.ident] if c.kind == "contact"]
    sides = (*posts, *(node for contact in own for node in (contact.a, contact.b)))
    return Coil(edge.ident, alone is None, edge.a, sides, tuple(dict.fromkeys(s.ident for s in alone or ())))


def _joined(study: Study, open_: dict[str, Edge]) -> Joined[str]:
    """What hangs together while the contacts of some contactors are open."""
    joined: Joined[str] = Joined()
    for edge in study.graph.of(*_CARRIES):
        if not (edge.kind == "contact" and edge.section == "supplies" and edge.ident in open_):
            joined.union(edge.a, edge.b)
    return joined


def _needs_bus(study: Study, edge: Edge, joined: Joined[str]) -> bool:
    """Whether a source gives nothing before its bus is fed: an alternator that feeds one.

    One that stands alone behind its own contactor has its field fed from elsewhere, or magnets.
    """
    supplies = study.model.supplies
    if edge.ident not in supplies or supplies[edge.ident].spec.kind != "alternator":
        return False
    own = joined[edge.a]
    buses = {i for i, supply in supplies.items() if supply.spec.kind == "bus"}
    return any(joined[node] == own for node in study.graph.nodes if node.partition(".")[0] in buses)


def _feeds(joined: Joined[str], coil: Edge, sources: list[Edge]) -> list[Edge]:
    """The sources on whose two sides a coil hangs."""
    a, b = joined[coil.a], joined[coil.b]
    return [s for s in sources if {joined[s.a], joined[s.b]} == {a, b}]


def _outside(study: Study) -> list[str]:
    """Ends that may bring current from what is not drawn: of a plug that mates with nothing, as for ground power, or an inverter."""
    model = study.model
    mated = {j.mates for j in model.junctions.values() if j.mates is not None}
    loose = {
        i for i, j in model.junctions.items() if j.spec.kind == "plug" and j.mates is None and i not in mated
    }
    loose |= {i for i, s in model.supplies.items() if s.spec.kind in ("inverter", None)}
    return [node for node in study.graph.nodes if node.partition(".")[0] in loose] if loose else []
