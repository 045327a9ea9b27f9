"""The power wiring as it is drawn: one side from the sources to the loads, one back to them, and what hangs at each node."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import field
from typing import Final, Literal, TypeAlias

from ...dataclass import dataclass
from ...graph import Edge
from ...graph.edges import EdgeKind
from ...graph.joining import Joined, groups
from ...model.comparing import at_most, same
from ...model.power import SOURCES, Load, Supply
from .. import missing
from ..missing import Missing
from ..of_no_kind import kind_lacking_at
from ..study import Study, once

PROTECTORS = frozenset(("breaker", "fuse", "current limiter"))
Side: TypeAlias = Literal["feed", "return"]
Key: TypeAlias = tuple[str, str]
"""Id of a run and name of the conductor in it."""

LOAD_CURRENT = missing.LOAD_CURRENT
RATING = missing.PROTECTOR_RATING
_CARRIES: Final[tuple[EdgeKind, ...]] = ("conductor", "joint", "contact", "spool")
_RETURNS: Final[tuple[EdgeKind, ...]] = (*_CARRIES, "bond")


@dataclass(slots=True)
class Hung:
    """Sums over what hangs at a node."""

    load: float = 0.0
    loads: int = 0
    sources: float = 0.0
    starter: float = 0.0
    bare: bool = False
    coil: bool = False
    protectors: tuple[str, ...] = ()
    missing: tuple[Missing, ...] = ()

    def add(self, other: Hung) -> None:
        """Take in what hangs at a node behind."""
        self.load += other.load
        self.loads += other.loads
        self.sources += other.sources
        self.starter += other.starter
        self.bare = self.bare or other.bare
        self.coil = self.coil or other.coil
        if other.protectors:
            self.protectors += other.protectors
        if other.missing:
            self.missing = tuple(dict.fromkeys((*self.missing, *other.missing)))


@dataclass(slots=True)
class Wiring:
    """One side of the power wiring: its edges by node, where the battery stands, and what hangs directly at nodes."""

    side: Side
    adjacent: dict[str, list[tuple[Edge, str]]]
    roots: list[str]
    hung: dict[str, Hung] = field(default_factory=dict)


_NO_MOTOR = frozenset(
    (
        "annunciator",
        "button",
        "coil",
        "contactor",
        "indicator",
        "lamp",
        "light",
        "relay",
        "solenoid",
        "switch",
        "vibrator",
    )
)
"""Words of what belongs to a starter and is not its motor."""


def is_starter(ident: str, load: Load) -> bool:
    """Whether a load is the motor of an engine starter, whose main circuit carries its current for seconds."""
    words = f"{ident} {load.title or ''} {load.part or ''}".lower().split()
    return (
        any("starter" in word for word in words) and _NO_MOTOR.isdisjoint(words) and load.duty != "continuous"
    )


AT_ODDS = 1.25
"""Ratio of two voltages above which they are of different systems [-]: a 12 V battery behind a 14.4 V regulator is 1.2, a 14 V
source on a 28 V bus is 2."""


def at_odds(volts: float, others: float) -> bool:
    """Whether two voltages, neither of them 0, are those of different systems."""
    return not at_most(max(volts, others), AT_ODDS * min(volts, others))


@once
def system_voltage(study: Study) -> float | None:
    """Nominal system voltage in V: as stated, else that of its alternators or generators, else that of its batteries.

    ``None`` where those differ, and where nothing is stated. Where a source is of another system than what is stated, the
    lower of the two: what is judged by it then holds for either.
    """
    of_sources = {
        kinds: [
            float(s.spec.voltage)
            for s in study.model.supplies.values()
            if s.spec.kind in kinds and s.spec.voltage is not None
        ]
        for kinds in (("alternator", "generator"), ("battery",))
    }
    stated = study.model.aircraft.system_voltage
    if stated is not None:
        rivals = [v for volts in of_sources.values() for v in volts if at_odds(v, float(stated))]
        return min(*rivals, float(stated), float(stated))
    for volts in of_sources.values():
        if volts:
            return volts[0] if all(same(v, volts[0]) for v in volts) else None
    return None


def drawn_at(load: Load, volts: float | None) -> float | None:
    """Ampere a load draws at a voltage: as stated, or from its power or resistance; ``None`` where neither can be told."""
    spec, count = load.spec, load.quantity or 1
    if spec.current is not None:
        return float(spec.current) * count
    if volts is None or volts <= 0:
        return None
    if spec.power is not None:
        return float(spec.power) / volts * count
    if spec.resistance is not None and spec.resistance > 0:
        return volts / float(spec.resistance) * count
    return None


def load_amps(study: Study, load: Load) -> float | None:
    """Ampere a load draws at the system's voltage."""
    return drawn_at(load, system_voltage(study))


def most_amps(study: Study, load: Load) -> float | None:
    """The most ampere a load draws: constant power, at the lowest voltage it works down to."""
    lowest, system = load.spec.min_voltage, system_voltage(study)
    if load.spec.power is None or load.spec.current is not None or lowest is None:
        return load_amps(study, load)
    return drawn_at(load, float(lowest) if system is None else min(float(lowest), system))


@once
def feed_side(study: Study) -> Wiring:
    """The wiring from the sources' positive terminals to the loads; grounds are not in it."""
    grounds = study.model.grounds
    adjacent: dict[str, list[tuple[Edge, str]]] = {}
    hung: dict[str, Hung] = {}
    for edge in study.graph.of("load", *_CARRIES):
        if edge.kind == "load":
            hung.setdefault(edge.a, Hung()).add(_drawn(study, edge))
        elif edge.a not in grounds and edge.b not in grounds:
            adjacent.setdefault(edge.a, []).append((edge, edge.b))
            adjacent.setdefault(edge.b, []).append((edge, edge.a))
    for ident, load in study.model.loads.items():
        if load.connected_at is not None:
            hung.setdefault(_feeds_at(study, load.connected_at), Hung()).add(_undrawn(study, ident, load))
    for ident, supply in study.model.supplies.items():
        if supply.spec.kind == "inverter":
            drawn = supply.spec.max_current
            lacking = (missing.INVERTER_CURRENT,) if drawn is None else ()
            post = f"{ident}.{(supply.spec.terminals or ['in'])[0]}"
            hung.setdefault(post, Hung()).add(Hung(float(drawn or 0.0), 1, bare=True, missing=lacking))
    _of_no_kind(study, adjacent, hung)
    return Wiring("feed", adjacent, list(_roots(study, adjacent, hung, 0)), hung)


def _of_no_kind(study: Study, adjacent: Mapping[str, object], hung: dict[str, Hung]) -> None:
    """Hang what is missing at the terminals of a supply or joint of no stated kind, which may pass any current on."""
    for node in adjacent:
        if (lacking := kind_lacking_at(study, node)) is not None:
            hung.setdefault(node, Hung()).add(Hung(missing=(lacking,)))


def return_side(study: Study) -> Wiring:
    """The wiring from the loads back to the sources' negative terminals, through grounds and straps."""
    feed = feed_side(study)
    roots = set(feed.roots)
    fed = roots.union(*(group for group in _parts(feed) if not roots.isdisjoint(group)))
    adjacent: dict[str, list[tuple[Edge, str]]] = {}
    hung: dict[str, Hung] = {}
    for edge in study.graph.of("load", *_RETURNS):
        if edge.kind == "load":
            drawn = _drawn(study, edge)
            drawn.bare = drawn.coil = False
            hung.setdefault(edge.b, Hung()).add(drawn)
        elif edge.a not in fed and edge.b not in fed:
            adjacent.setdefault(edge.a, []).append((edge, edge.b))
            adjacent.setdefault(edge.b, []).append((edge, edge.a))
    structure = next((i for i, g in study.model.grounds.items() if g.kind == "structure"), None)
    for ident, load in study.model.loads.items():
        if load.connected_at is not None and structure is not None:
            hung.setdefault(structure, Hung()).add(_undrawn(study, ident, load))
    _of_no_kind(study, adjacent, hung)
    return Wiring("return", adjacent, list(_roots(study, adjacent, hung, 1)), hung)


def _roots(
    study: Study, adjacent: dict[str, list[tuple[Edge, str]]], hung: dict[str, Hung], pole: Literal[0, 1]
) -> Iterator[str]:
    """Battery posts; an alternator's post hangs on them as a source, and stands for the battery where there is none."""
    posts: dict[str, list[tuple[str, Supply]]] = {}
    for ident, supply in study.model.supplies.items():
        if supply.spec.kind not in SOURCES:
            continue
        post = f"{ident}.{(supply.spec.terminals or ['+', '-'])[pole]}"
        if post in adjacent:
            posts.setdefault(supply.spec.kind, []).append((post, supply))
    batteries = posts.pop("battery", [])
    others = [one for group in posts.values() for one in group]
    for post, _ in batteries or others:
        yield post
    if batteries:
        for post, supply in others:
            rated = supply.spec.rated_current
            lacking = (missing.ALTERNATOR_RATING,) if rated is None else ()
            hung.setdefault(post, Hung()).add(Hung(sources=float(rated or 0.0), missing=lacking))


def _drawn(study: Study, edge: Edge) -> Hung:
    """What the load of an edge draws."""
    if edge.section == "loads":
        load = study.model.loads[edge.ident]
        return Hung() if load.connected_at is not None else _of_load(study, edge.ident, load)
    if edge.section == "indicators":
        spec = study.model.indicators[edge.ident].spec
        if spec.supply_current is None:
            return Hung(loads=1, bare=True, missing=(missing.INDICATOR_SUPPLY_CURRENT,))
        return Hung(float(spec.supply_current) + float(spec.lamp_current or 0.0), 1, bare=True)
    if edge.section == "supplies":
        coil = study.model.supplies[edge.ident].spec.coil_current
        lacking = (missing.CONTACTOR_COIL,) if coil is None else ()
        return Hung(float(coil or 0.0), 1, coil=True, missing=lacking)
    return Hung(0.0, 1, bare=True)


def _of_load(study: Study, ident: str, load: Load) -> Hung:
    amps = most_amps(study, load)
    if amps is None:
        return Hung(loads=1, bare=True, missing=(LOAD_CURRENT,))
    if is_starter(ident, load):
        return Hung(starter=amps)
    return Hung(amps, 1, bare=True)


def _undrawn(study: Study, ident: str, load: Load) -> Hung:
    """What a load draws whose wiring, protector and all, the document leaves out."""
    drawn = _of_load(study, ident, load)
    drawn.bare = False
    return drawn


def _feeds_at(study: Study, supply: str) -> str:
    """Node at which a supply gives current: a bus itself, the far side of a protector or switch."""
    one = study.model.supplies[supply]
    if one.spec.kind in PROTECTORS or one.spec.kind in ("switch", "contactor"):
        return f"{supply}.{(one.spec.terminals or ['in', 'out'])[1]}"
    return study.graph.node_of(supply)


def starts(study: Study, wiring: Wiring) -> Iterator[list[str]]:
    """Where each separate part of a side begins, nodes that begin it together in one list.

    A part begins at its battery posts; without one at what else gives current, else at its buses or protectors, those of
    them that stand behind no protector; the way back without a battery at the structure, else at its grounds.
    """
    tiers = _grounds(study) if wiring.side == "return" else _feeding(study)
    roots = set(wiring.roots)
    for part in _parts(wiring):
        first = part & roots
        for tier in () if first else tiers:
            first = _foremost(study, wiring, part.intersection(tier))
            if first:
                break
        if first:
            yield sorted(first)


def _parts(wiring: Wiring) -> list[set[str]]:
    return groups((node, there) for node, at in wiring.adjacent.items() for _, there in at)


def _grounds(study: Study) -> list[list[str]]:
    grounds = study.model.grounds
    return [[i for i, g in grounds.items() if g.kind == "structure"], list(grounds)]


def _feeding(study: Study) -> list[list[str]]:
    """Nodes that a part without a battery can be fed at, what is likeliest first."""
    posts: list[str] = []
    live: list[str] = []
    buses: list[str] = []
    before: list[str] = []
    for ident, supply in study.model.supplies.items():
        kind, names = supply.spec.kind, supply.spec.terminals
        if kind == "inverter":
            posts.append(f"{ident}.{(names or ['in', 'out', '-'])[1]}")
        elif kind in SOURCES:
            posts.append(f"{ident}.{(names or ['+'])[0]}")
        elif kind == "bus":
            (buses if supply.spec.voltage is None else live).append(ident)
        elif kind in PROTECTORS:
            before.append(f"{ident}.{(names or ['in'])[0]}")
    return [posts, live, buses, before]


def _foremost(study: Study, wiring: Wiring, nodes: set[str]) -> set[str]:
    """Those of some nodes that no protector feeds, as it is drawn; all of them where each is fed by another."""
    if len(nodes) < 2:
        return nodes
    nets: Joined[str] = Joined()
    fed = []
    for node, at in wiring.adjacent.items():
        for edge, there in at:
            if protector_of(study, edge) is None:
                nets.union(node, there)
            elif node == edge.a:
                fed.append((node, there))
    behind = {nets[out] for into, out in fed if nets[into] != nets[out]}
    return {node for node in nodes if nets[node] not in behind} or nodes


def protector_of(study: Study, edge: Edge) -> Supply | None:
    """The protector an edge is the contact of."""
    if edge.kind != "contact" or edge.section != "supplies":
        return None
    supply = study.model.supplies[edge.ident]
    return supply if supply.spec.kind in PROTECTORS else None
