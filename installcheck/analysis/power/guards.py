"""Which protectors stand before each power wire, and how much wire lies bare between a source and the first of them."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from heapq import heappop, heappush

from ...graph import Edge, total_length
from ...model.quantities import Gauge
from ..routing import hottest_of
from ..study import Study, once
from .wire_limits import (
    Surroundings,
    chart_amps,
    limit_in,
    table_amps,
    wire_limit,
)
from .wiring import (
    PROTECTORS,
    Key,
    feed_side,
    protector_of,
    starts,
)

_BEST_RATING_C, _MILD_C = 260.0, 20.0
"""degC: best wire and mildest place, for what cannot pass anywhere."""


@dataclass(frozen=True, slots=True)
class Guard:
    """What protects one power conductor.

    Attributes:
        protectors: protectors between the battery and it that come first before it; empty if there is none.
        near, far: its nodes, the one nearer the battery first.
        bare: metres of wire, its own length included, that no protector before it is small enough for; 0 if one is;
            ``None`` if a length is not given.
        origin: supply that drives it, 'unknown' where the wiring before its first protector is not described.
    """

    protectors: tuple[str, ...]
    near: str
    far: str
    bare: float | None
    origin: str


@once
def guards(study: Study) -> dict[Key, Guard]:
    """The guard of every conductor on the feed side. Cost: linear, but for the sort of a heap."""
    walk = _Walk(study)
    wiring = feed_side(study)
    for i, roots in enumerate(starts(study, wiring)):
        fresh = [r for r in roots if r in wiring.adjacent and r not in walk.net_of]
        if fresh:
            walk.begin(fresh, _origin(study, fresh[0]) if i or wiring.roots else "unknown")
    return walk.found


def _origin(study: Study, node: str) -> str:
    """What drives the wiring that begins at a node: a supply's id, or 'unknown' for the near side of a protector."""
    ident = node.partition(".")[0]
    supply = study.model.supplies.get(ident)
    return "unknown" if supply is None or supply.spec.kind in PROTECTORS else ident


def suits(study: Study, run: str, gauge: Gauge | None, protectors: Iterable[str]) -> bool | None:
    """Whether a wire bears the protectors before it, by the chart or by its own limit; ``None`` if it cannot be told."""
    names = tuple(protectors)
    if not names:
        return False
    if gauge is None:
        return None
    rating, kind = together(study, names)
    if rating is None:
        return None
    allowed = chart_amps(str(gauge), kind)
    if allowed is not None and rating <= allowed:
        return True
    spec = study.model.wire_runs[run].spec
    if spec.temperature_rating is not None:
        listed = table_amps(str(gauge), float(spec.temperature_rating))
        if listed is not None and rating <= listed:
            return True
    limit = wire_limit(study, run, gauge)
    if limit.amps is not None and rating <= limit.amps:
        return True
    if limit.amps is not None and not limit.worst:
        return False
    ambient = hottest_of(study, run)[0]
    best, _, _ = limit_in(
        str(gauge),
        float(spec.temperature_rating or _BEST_RATING_C),
        Surroundings(float(ambient) if ambient is not None else _MILD_C, 1, 1.0, 0.0),
    )
    return False if best is not None and rating > best else None


def together(study: Study, protectors: Iterable[str]) -> tuple[float | None, str]:
    """Ampere that protectors side by side let by, and their kind: 'breaker' only if all are."""
    total, kind = 0.0, "breaker"
    for ident in protectors:
        spec = study.model.supplies[ident].spec
        if spec.rating is None:
            return None, kind
        total += float(spec.rating)
        if spec.kind != "breaker":
            kind = "fuse"
    return total, kind


class _Walk:
    """Nets between protectors, taken in order of how many protectors lie between them and the battery."""

    def __init__(self, study: Study) -> None:
        self.study = study
        self.adjacent = feed_side(study).adjacent
        self.net_of: dict[str, int] = {}
        self.protectors: list[tuple[str, ...]] = []
        self.found: dict[Key, Guard] = {}

    def begin(self, roots: list[str], origin: str) -> None:
        """Walk from ``roots``, and on through the protectors to the nets behind."""
        level: dict[str, list[str]] = {root: [] for root in roots}
        while level:
            level = self._level(level, origin)

    def _level(self, entries: dict[str, list[str]], origin: str) -> dict[str, list[str]]:
        """Take the nets that ``entries`` open, each entry with the protectors that lead to it; returns the next entries."""
        nets = [self._flood(entry) for entry in entries if entry not in self.net_of]
        behind: dict[str, list[str]] = {}
        for nodes in nets:
            mine = [e for e in nodes if e in entries]
            before = tuple(dict.fromkeys(p for e in mine for p in entries[e]))
            self._measure(mine, before, origin)
            for node in nodes:
                for edge, there in self.adjacent[node]:
                    if protector_of(self.study, edge) is not None and there not in self.net_of:
                        behind.setdefault(there, []).append(edge.ident)
        return behind

    def _flood(self, start: str) -> list[str]:
        number = len(self.protectors)
        self.protectors.append(())
        nodes = [start]
        self.net_of[start] = number
        for node in nodes:
            for edge, there in self.adjacent[node]:
                if there not in self.net_of and protector_of(self.study, edge) is None:
                    self.net_of[there] = number
                    nodes.append(there)
        return nodes

    def _measure(self, entries: list[str], before: tuple[str, ...], origin: str) -> None:
        """Bare wire to every node of a net, the shortest way; an unknown length counts as none but is remembered."""
        best: dict[str, tuple[float, bool]] = {}
        heap = [(0.0, False, entry) for entry in entries]
        while heap:
            bare, unknown, node = heappop(heap)
            if node in best:
                continue
            best[node] = (bare, unknown)
            for edge, there in self.adjacent[node]:
                if protector_of(self.study, edge) is not None:
                    continue
                more, lost = self._bare(edge, before)
                if edge.run is not None and (edge.ident, edge.name) not in self.found:
                    total = None if unknown or lost else bare + more if more else 0.0
                    self.found[edge.ident, edge.name] = Guard(before, node, there, total, origin)
                if there not in best:
                    covered = edge.run is not None and not (more or lost)
                    heappush(heap, (0.0, False, there) if covered else (bare + more, unknown or lost, there))

    def _bare(self, edge: Edge, before: tuple[str, ...]) -> tuple[float, bool]:
        """Metres an edge adds to the bare wire, and whether they are not known."""
        if edge.run is None:
            return 0.0, False
        gauge = (edge.conductor.gauge if edge.conductor is not None else None) or edge.run.gauge
        if suits(self.study, edge.ident, gauge, before):
            return 0.0, False
        length = total_length(edge.run)
        return (0.0, True) if length is None else (length, False)
