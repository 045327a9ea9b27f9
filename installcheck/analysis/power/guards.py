"""Which protectors stand before each power wire, and how much wire lies bare between a source and the first of them."""

from __future__ import annotations

from collections.abc import Iterable
from heapq import heappop, heappush

from ...dataclass import dataclass
from ...document.source import DocPath
from ...graph import Edge, total_length
from ...model.comparing import at_most
from ...model.quantities import Gauge
from ..routing import is_sheathed
from ..study import Study, once
from .feeds import Branch, branches
from .wire_limits import chart_amps, sizes, table_amps, wire_limit
from .wiring import PROTECTORS, Key, feed_side, protector_of, starts

TAP_M = 7 * 0.0254
"""7 in: bare wire from a source or bus to its protector. AC 43.13-1B 11-47 says 'as close as possible' and gives no figure; this
is the one of the small-craft standard ABYC E-11 (second-hand)."""
BATTERY_M = 72 * 0.0254
"""72 in: bare wire from a battery post, in a sheath all the way; ABYC E-11 (second-hand)."""
SHEATHED_M = 40 * 0.0254
"""40 in: bare wire from any other source or bus, in a sheath all the way; ABYC E-11 (second-hand)."""
NEAR = (
    "AC 43.13-1B 11-47 (as close to the source as possible); 7 in, or in a sheath all the way 72 in from a battery post and 40 in "
    "from elsewhere: small-craft standard ABYC E-11 (second-hand)"
)
_ASKED = 5
"""Most runs of one bare way that are asked for their sheath."""


_Way = tuple[float, bool, bool, tuple[str, ...], str]
"""Metres of bare wire, whether some are not known, whether some lie in no sheath, runs that do not say, and the node reached."""


@dataclass(frozen=True, slots=True)
class Guard:
    """What protects one power conductor.

    Attributes:
        protectors: protectors between the battery and it that come first before it; empty if there is none.
        near, far: its nodes, the one nearer the battery first.
        bare: metres of wire, its own length included, that no protector before it is small enough for; 0 if one is;
            ``None`` if a length is not given.
        exposed: whether some of that bare wire is said to lie in no sheath or conduit.
        unsaid: the first runs of that bare wire that do not say whether they lie in one.
        origin: supply that drives it, 'unknown' where the wiring before its first protector is not described.
    """

    protectors: tuple[str, ...]
    near: str
    far: str
    bare: float | None
    exposed: bool
    unsaid: tuple[str, ...]
    origin: str


@dataclass(frozen=True, slots=True)
class PowerWire:
    """One power conductor with what protects it, and what hangs behind it.

    Attributes:
        ident, name: its run, and its name in the run.
        guard: its guard; ``None`` where no battery, bus or protector that is drawn feeds it.
        branch: what hangs behind it; ``None`` likewise.
        gauge: its own gauge, else that of its run.
    """

    ident: str
    name: str
    guard: Guard | None
    branch: Branch | None
    gauge: Gauge | None

    @property
    def path(self) -> DocPath:
        """Where the document tells of it."""
        return ("wire_runs", self.ident)


@once
def power_wires(study: Study) -> list[PowerWire]:
    """Every conductor of the feed side with something behind it, then those that feed a load from nothing that is drawn."""
    known, hung = guards(study), branches(study)
    found = [_power_wire(study, key, guard, hung[key]) for key, guard in known.items() if key in hung]
    unfed: dict[Key, None] = {}
    for load in study.graph.of("load"):
        if load.section in ("loads", "indicators"):
            for edge in study.graph.at(load.a):
                if edge.kind == "conductor" and (edge.ident, edge.name) not in known:
                    unfed[edge.ident, ""] = None
    return found + [_power_wire(study, key, None, None) for key in unfed]


def _power_wire(study: Study, key: Key, guard: Guard | None, branch: Branch | None) -> PowerWire:
    run = study.model.wire_runs[key[0]]
    one = (run.conductors or {}).get(key[1])
    gauge = one.gauge if one is not None and one.gauge is not None else run.gauge
    return PowerWire(*key, guard, branch, gauge)


@once
def guards(study: Study) -> dict[Key, Guard]:
    """The guard of every conductor on the feed side. Cost: linear, but for the sort of a heap."""
    walk = _Walk(study)
    for roots in starts(study, feed_side(study)):
        walk.begin(roots)
    return walk.found


def _origin(study: Study, node: str) -> str:
    """What drives the wiring that begins at a node: a supply's id, or 'unknown' for the near side of a protector."""
    ident = node.partition(".")[0]
    supply = study.model.supplies.get(ident)
    return "unknown" if supply is None or supply.spec.kind in PROTECTORS else ident


def suits(study: Study, run: str, gauge: Gauge | None, protectors: Iterable[str]) -> bool | None:
    """Whether a wire bears the protectors before it, by the tables or by its own limit; ``None`` if it cannot be told.

    A wire good for more where it lies is let off by one size: the protector table 11-3 gives the next thicker wire.
    """
    names = tuple(protectors)
    if not names:
        return False
    if gauge is None:
        return None
    rating, kind = together(study, names)
    if rating is None:
        return None
    listed = listed_amps(study, run, gauge, kind)
    if listed is not None and at_most(rating, listed):
        return True
    thicker = next((size for size in sizes() if Gauge(size).number < gauge.number), None)
    relief = chart_amps(thicker, kind) if thicker is not None else None
    if relief is None or not at_most(rating, relief):
        return False
    limit = wire_limit(study, run, gauge)
    if limit.amps is not None and at_most(rating, limit.amps):
        return True
    certain = not limit.missing or (limit.best is not None and not at_most(rating, limit.best))
    return False if certain else None


def listed_amps(study: Study, run: str, gauge: Gauge, kind: str) -> float | None:
    """Largest protector in A that table 11-3 or table 11-9 allows a wire; ``None`` where neither has an entry."""
    rating = study.model.wire_runs[run].spec.temperature_rating
    table = table_amps(str(gauge), float(rating)) if rating is not None else None
    found = [amps for amps in (chart_amps(str(gauge), kind), table) if amps is not None]
    return max(found, default=None)


def borne_source(study: Study, gauge: Gauge | None, origin: str) -> tuple[float, float] | None:
    """Ampere a source can give, and what a wire bears, where the wire bears it all: an inverter, an alternator alone."""
    supply = study.model.supplies.get(origin)
    if supply is None or supply.spec.kind in ("battery", "bus") or gauge is None:
        return None
    amps, allowed = supply.spec.rated_current, chart_amps(str(gauge), "breaker")
    if amps is None or allowed is None or not at_most(float(amps), allowed):
        return None
    return float(amps), allowed


def left_to_itself(study: Study, wire: PowerWire, guard: Guard) -> bool:
    """Whether a bare wire before a protector is so short that it is the place of the protector that is judged, not it."""
    length = total_length(study.model.wire_runs[wire.ident])
    return length is None or at_most(length, BATTERY_M if from_battery(study, guard) else TAP_M)


def from_battery(study: Study, guard: Guard) -> bool:
    """Whether a battery drives the wire and no protector stands between."""
    origin = study.model.supplies.get(guard.origin)
    return not guard.protectors and origin is not None and origin.spec.kind == "battery"


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
        self.origin: dict[str, str] = {}
        self.found: dict[Key, Guard] = {}

    def begin(self, roots: list[str]) -> None:
        """Walk from ``roots``, and on through the protectors to the nets behind."""
        self.origin.update((root, _origin(self.study, root)) for root in roots)
        level: dict[str, list[str]] = {root: [] for root in roots}
        while level:
            level = self._level(level)

    def _level(self, entries: dict[str, list[str]]) -> dict[str, list[str]]:
        """Take the nets that ``entries`` open, each entry with the protectors that lead to it; returns the next entries."""
        nets = [self._flood(entry) for entry in entries if entry not in self.net_of]
        behind: dict[str, list[str]] = {}
        for nodes in nets:
            mine = [e for e in nodes if e in entries]
            before = tuple(sorted({p for e in mine for p in entries[e]}))
            origin = min(self.origin[e] for e in mine)
            self._measure(mine, before, origin)
            for node in nodes:
                for edge, there in self.adjacent[node]:
                    if protector_of(self.study, edge) is not None and there not in self.net_of:
                        behind.setdefault(there, []).append(edge.ident)
                        self.origin[there] = min(origin, self.origin.get(there, origin))
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
        seen: set[str] = set()
        heap: list[_Way] = [(0.0, False, False, (), entry) for entry in entries]
        while heap:
            bare, unknown, exposed, unsaid, node = heappop(heap)
            if node in seen:
                continue
            seen.add(node)
            for edge, there in self.adjacent[node]:
                if protector_of(self.study, edge) is not None:
                    continue
                more, lost = self._bare(edge, before, origin)
                along = self._cover(edge, exposed, unsaid) if more or lost else (exposed, unsaid)
                if edge.run is not None and (edge.ident, edge.name) not in self.found:
                    total = None if unknown or lost else bare + more if more else 0.0
                    self.found[edge.ident, edge.name] = Guard(before, node, there, total, *along, origin)
                if there not in seen:
                    covered = edge.run is not None and not (more or lost)
                    way = (0.0, False, False, ()) if covered else (bare + more, unknown or lost, *along)
                    heappush(heap, (*way, there))

    def _cover(self, edge: Edge, exposed: bool, unsaid: tuple[str, ...]) -> tuple[bool, tuple[str, ...]]:
        """What is known of the sheath of a bare way, with one more run to it."""
        told = is_sheathed(self.study, edge.ident)
        if told is None and len(unsaid) < _ASKED and edge.ident not in unsaid:
            unsaid = (*unsaid, edge.ident)
        return exposed or told is False, unsaid

    def _bare(self, edge: Edge, before: tuple[str, ...], origin: str) -> tuple[float, bool]:
        """Metres an edge adds to the bare wire, and whether they are not known."""
        if edge.run is None:
            return 0.0, False
        gauge = (edge.conductor.gauge if edge.conductor is not None else None) or edge.run.gauge
        if suits(self.study, edge.ident, gauge, before):
            return 0.0, False
        if not before and borne_source(self.study, gauge, origin) is not None:
            return 0.0, False
        length = total_length(edge.run)
        return (0.0, True) if length is None else (length, False)
