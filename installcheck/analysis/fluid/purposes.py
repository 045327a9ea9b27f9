"""What a line is for: as stated, and as the network leaves no doubt."""

from __future__ import annotations

from ...dataclass import dataclass
from ...graph.edges import Edge
from ...graph.joining import groups
from ...model.devices import Indicator, Sender
from ...model.fluid import Fitting, Tap
from ...model.installation import split_end
from ..study import Study, once
from .facts import media

INSTRUMENT = "instrument"
FEED = "feed"
OTHER_THAN_INSTRUMENT = frozenset((FEED, "return", "drain", "vent", "primer", "accumulator"))
_READING = ("instrument", "gauge", "indicat", "sens", "sender")
"""Beginnings of words by which an owner says that a line serves an instrument."""
_DEAD_ENDS = frozenset(("cap", "plug", "drain", "damper"))
"""Fittings that end a line: nothing goes on from them."""
_SUPPLIES = frozenset(("tank", "pump outlet", "sump"))
_CONSUMES = frozenset(("carburettor inlet", "servo inlet", "divider"))


@dataclass(frozen=True, slots=True)
class Purpose:
    """What a line is for.

    Attributes:
        stated: the document's own word, in small letters; empty if it gives none.
        shown: 'instrument', 'feed' or 'primer' where the network leaves no doubt, else empty.
    """

    stated: str
    shown: str

    @property
    def at_odds(self) -> bool:
        """Whether what is stated cannot be."""
        if self.shown == INSTRUMENT:
            return self.stated in OTHER_THAN_INSTRUMENT
        return self.shown != "" and self.stated.startswith(_READING)

    @property
    def word(self) -> str | None:
        """'instrument', or what else it is for; ``None`` where that is not known, or two statements of it disagree."""
        if self.at_odds:
            return None
        if self.shown == INSTRUMENT or self.stated.startswith(_READING):
            return INSTRUMENT
        return self.stated or self.shown or None

    @property
    def may_be_instrument(self) -> bool:
        """Whether it serves an instrument, or could."""
        return self.word in (INSTRUMENT, None)


def purpose(study: Study, ident: str) -> Purpose:
    """What a line is for."""
    stated = (study.model.fluid_lines[ident].purpose or "").strip().lower()
    if ident in _trimmed(study).lines:
        return Purpose(stated, INSTRUMENT)
    if ident in _feeds(study):
        return Purpose(stated, FEED)
    return Purpose(stated, "primer" if media(study).in_line(ident) == {"primer fuel"} else "")


def taken_from(study: Study, ident: str) -> str | None:
    """Where the branch that a line to instruments lies in leaves what is not for instruments alone.

    The tap, where the branch is all that leaves it; else the port of its first line. ``None`` for any other line.
    """
    trimmed = _trimmed(study)
    port = node = trimmed.lines.get(ident)
    while node in trimmed.toward:
        node, edge = trimmed.toward[node]
        if edge.line is not None:
            port = node
    alone = node in study.model.taps and len(list(study.graph.at(node))) == 1
    return node if alone else port


@dataclass(frozen=True, slots=True)
class _Trimmed:
    """What fell away when the network was trimmed from its dead ends.

    Attributes:
        lines: the lines that serve gauges and senders alone, by the port towards their source.
        toward: for each port that fell away, the next one towards the source and what leads there.
    """

    lines: dict[str, str]
    toward: dict[str, tuple[str, Edge]]


@once
def _trimmed(study: Study) -> _Trimmed:
    """The branches from which nothing goes on but to gauges, senders and closed ends.

    A port where the document does not say what goes on keeps everything up to it.
    """
    left = study.graph.fluid
    gone: set[str] = set()
    degrees = {node: left.degree(node) for node in left}
    reads = {node: isinstance(_thing(study, node), (Indicator, Sender)) for node in left}
    ends = [node for node in left if degrees[node] == 1 and _is_dead_end(study, node)]
    found = _Trimmed({}, {})
    while ends:
        node = ends.pop()
        if degrees[node] != 1:
            continue
        edge = next(e for e in left.at(node) if e.other(node) not in gone)
        near = edge.other(node)
        gone.add(node)
        degrees[node], degrees[near] = 0, degrees[near] - 1
        found.toward[node] = near, edge
        reads[near] = reads[near] or reads[node]
        if edge.line is not None and reads[node]:
            found.lines[edge.ident] = near
        if degrees[near] == 1 and not isinstance(_thing(study, near), Tap):
            ends.append(near)
    return found


def _thing(study: Study, node: str) -> object:
    found = study.model.find(split_end(node)[0])
    return found[1] if found is not None else None


def _is_dead_end(study: Study, node: str) -> bool:
    """Whether nothing goes on from an end of the network: a gauge or sender that senses, a cap, a port left by a removed line."""
    thing = _thing(study, node)
    if isinstance(thing, Sender):
        return not flows_through(thing)
    if isinstance(thing, Fitting):
        return thing.spec.kind in _DEAD_ENDS or node in _left(study)
    return isinstance(thing, Indicator)


def flows_through(sender: Sender) -> bool:
    """Whether what a sender measures flows through it."""
    return sender.spec.principle == "pulse pick-up" or sender.spec.measures == "fuel flow"


@once
def _left(study: Study) -> frozenset[str]:
    """Ports that something removed leaves."""
    gone = [end for one in study.model.removed.values() for end in one.ends or ()]
    for line in study.taken_out("fluid_lines").values():
        gone += [line.from_, line.to]  # type: ignore[attr-defined]
    return frozenset(gone)


@once
def _feeds(study: Study) -> frozenset[str]:
    """The lines that something flows through: past a flow pick-up, from a tank or pump, or to a carburettor."""
    found: set[str] = set()
    served = _trimmed(study).lines
    for node in study.graph.fluid:
        tap = study.model.taps.get(node)
        if tap is None and study.graph.fluid.degree(node) != 1:
            continue
        for feed in media(study).feeds(node):
            hops = feed.hops
            source = study.model.taps.get(feed.source.ident)
            if source is None or source is tap:
                continue
            between = tap is not None and bool({tap.location, source.location} & (_SUPPLIES | _CONSUMES))
            if between or any(_is_through(hop.edge) for hop in hops):
                found.update(hop.edge.ident for hop in hops if hop.edge.line is not None)
    return frozenset(found - served.keys())


@once
def feed_cocks(study: Study) -> dict[str, bool]:
    """The cocks of lines that feed, and whether each stands closed and is the only way to what lies beyond it."""
    found = {}
    for ident, fitting in study.model.fittings.items():
        if fitting.spec.kind != "cock":
            continue
        ports = {n for e in study.graph.by_thing.get(("fittings", ident), ()) for n in (e.a, e.b)}
        lines = {e.ident for n in ports for e in study.graph.at(n) if e.line is not None}
        feeding = [line for line in lines if purpose(study, line).word == FEED]
        dry = any(not media(study).in_line(line) for line in feeding)
        cut = fitting.position == "closed" and (dry or _starves(study, ident, ports))
        if feeding or cut:
            found[ident] = cut
    return found


def _starves(study: Study, cock: str, ports: set[str]) -> bool:
    """Whether a source lies behind one port of a closed cock, and behind another what nothing else feeds."""
    fluid, taps = study.graph.fluid, study.model.taps
    links = [(node, node) for node in fluid]
    links += [
        (node, edge.other(node))
        for node in fluid
        for edge in fluid.at(node)
        if edge.ident != cock and edge.closed
    ]
    sides = [[t for t in part if t in taps] for part in groups(links) for port in ports if port in part]
    gives = [any(taps[t].location in _SUPPLIES for t in side) for side in sides]
    starved = [
        any(taps[t].location in _CONSUMES for t in side) and not given
        for side, given in zip(sides, gives, strict=True)
    ]
    return any(gives) and any(starved)


def _is_through(edge: Edge) -> bool:
    return edge.section == "senders" and edge.kind == "passage" and edge.name != "thread"
