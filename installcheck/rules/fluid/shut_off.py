"""Gauges and senders that something on their way shuts off from what they measure."""

from __future__ import annotations

from collections import deque
from collections.abc import Iterator

from ...analysis.fluid.facts import listed, media
from ...analysis.study import Study, once
from ...dataclass import dataclass
from ...document.source import DocPath
from ...graph.edges import FLUID
from ...model.fluid import Fitting
from ...model.installation import split_end
from ..verdicts import Verdict
from ..vocabulary import Subject, rule

_CLOSED = frozenset(("cap", "plug", "drain"))


@dataclass(frozen=True, slots=True)
class Port:
    """A port of a gauge or sender with a line on it or a thread into something.

    Attributes:
        ident, path: the gauge or sender, and where the document tells of it.
        node: the port.
    """

    ident: str
    path: DocPath
    node: str


def _ports(study: Study) -> Iterator[Port]:
    for ident in study.model.indicators:
        ports = [
            p
            for _, spec in study.inputs(ident)
            if spec.principle == "direct pressure"
            for p in spec.ports or ("P",)
        ]
        yield from (Port(ident, ("indicators", ident), f"{ident}.{port}") for port in dict.fromkeys(ports))
    for ident, sender in study.model.senders.items():
        if "pressure" in (sender.spec.measures or ""):
            ports = sender.spec.ports or ["P"]
            yield from (Port(ident, ("senders", ident), f"{ident}.{port}") for port in ports)


@rule(
    "sensing-line-open",
    title="Nothing on the way from a tap to its gauge or sender is closed",
    why="A gauge behind a cap, a closed cock or a check valve the wrong way round stands still, whatever the engine does.",
    source="plain physics: what is closed passes no pressure",
    formula="a way from a tap to the port with no cap, plug or closed cock on it, and each check valve passed as it flows",
    example="a check valve fitted the wrong way round in place of the restrictor",
    over=_ports,
)
def sensing_line_open(study: Study, subject: Subject, port: Port) -> Verdict | None:
    """Every port of a direct gauge or pressure sender that fittings and lines join to a tap."""
    if any(feed.source.section == "taps" for feed in media(study).feeds(port.node)):
        return subject.meets(f"nothing on the way to {port.ident} is closed")
    way = _way(study, port.node)
    shut = [ident for ident in way if (one := study.model.fittings.get(ident)) is not None and _shuts(one)]
    if not way or not shut:
        return None
    return subject.along(*shut, way[-1]).discrepancy(
        f"{listed([_told(study, ident) for ident in shut])} {'shuts' if len(shut) == 1 else 'shut'} {port.ident} off from {way[-1]}",
        remedy=f"open {listed(shut)}, or fit what passes the pressure on",
    )


def _shuts(fitting: Fitting) -> bool:
    kind = fitting.spec.kind
    return kind in _CLOSED or kind == "check valve" or (kind == "cock" and fitting.position == "closed")


def _told(study: Study, ident: str) -> str:
    fitting = study.model.fittings[ident]
    closed = "closed " if fitting.position == "closed" else ""
    return f"{ident}, a {closed}{fitting.spec.kind},"


@once
def _nodes_of(study: Study) -> dict[str, list[str]]:
    """The ports of every fitting."""
    found: dict[str, list[str]] = {}
    for node in study.graph.fluid:
        ident = split_end(node)[0]
        if ident in study.model.fittings:
            found.setdefault(ident, []).append(node)
    return found


def _way(study: Study, start: str) -> list[str]:
    """Ids from a port to the nearest tap, as if every fitting passed everything; empty where none is joined to it."""
    came: dict[str, str | None] = {start: None}
    ahead = deque((start,))
    while ahead:
        here = ahead.popleft()
        ident = split_end(here)[0]
        if ident in study.model.taps:
            way: list[str] = []
            step: str | None = here
            while step is not None:
                way.append(split_end(step)[0])
                step = came[step]
            return list(dict.fromkeys(reversed(way)))
        near = [edge.other(here) for edge in study.graph.at(here) if edge.kind in FLUID]
        for there in (*near, *_nodes_of(study).get(ident, ())):
            if there not in came:
                came[there] = here
                ahead.append(there)
    return []
