"""A sender and the input that reads it, looked at together."""

from __future__ import annotations

from ..dataclass import dataclass
from ..document.source import DocPath
from ..graph.edges import CARRIES_SIGNAL, Edge
from ..graph.indications import Indication, measure_of
from ..model.aircraft import Engine
from ..model.devices import InputSpec, Sender, SenderSpec
from ..model.installation import split_end, terminals_of
from ..physics.synchros import LEADS, Connection
from .study import Study, once


@dataclass(frozen=True, slots=True, eq=False)
class Pair:
    """An indication that reads a sender.

    Attributes:
        indication, sender: both ends.
        engine_id, engine: the engine it is of; empty and ``None`` where the document does not say.
    """

    indication: Indication
    sender: Sender
    engine_id: str
    engine: Engine | None

    @property
    def ident(self) -> str:
        """Id of the indicator."""
        return self.indication.indicator

    @property
    def name(self) -> str:
        """Name of the indication: the indicator with its input."""
        return self.indication.name

    @property
    def path(self) -> DocPath:
        """Where the document tells of the input."""
        return self.indication.path

    @property
    def source(self) -> str:
        """Id of the sender."""
        return self.indication.source

    @property
    def reads(self) -> InputSpec:
        """The input."""
        return self.indication.spec

    @property
    def gives(self) -> SenderSpec:
        """The sender's spec."""
        return self.sender.spec


@once
def pairs(study: Study) -> tuple[Pair, ...]:
    """Every indication by wire of a sender."""
    model, found = study.model, []
    for one in study.indications:
        if one.section == "senders":
            sender = model.senders[one.source]
            of = model.engine_of(sender) or model.engine_of(model.indicators[one.indicator])
            found.append(Pair(one, sender, *(of or ("", None))))
    return tuple(found)


def synchros(study: Study) -> list[Pair]:
    """Synchro receivers that read a synchro transmitter."""
    return [
        p
        for p in pairs(study)
        if p.reads.principle == "synchro receiver" and p.gives.principle == "synchro transmitter"
    ]


def tachometers(study: Study, principle: str) -> list[Pair]:
    """Indications of engine speed by inputs of a principle."""
    return [
        p
        for p in pairs(study)
        if p.reads.principle == principle and measure_of(study.graph, p.indication) == "engine speed"
    ]


def carries_on(study: Study, edge: Edge, there: str) -> bool:
    """Whether a signal goes on by an edge: through metal and closed contacts, and not into a ground."""
    return edge.kind in CARRIES_SIGNAL and edge.closed and not study.graph.is_ground(there)


def lead_order(pair: Pair) -> Connection | None:
    """Where leads 1 to 3 of the sender go on the indicator, as S1 to S3; ``None`` unless each goes to one of its own."""
    theirs = list(terminals_of("senders", pair.sender) or ())
    ours = list(pair.reads.terminals or ())[:3]
    reached = {split_end(leg.reaches)[1]: leg.terminal for leg in pair.indication.legs}
    went = [reached.get(name) for name in theirs[:3]]
    found = [LEADS[ours.index(t)] for t in went if t is not None and t in ours]
    return (found[0], found[1], found[2]) if len(found) == 3 and len(set(found)) == 3 else None
