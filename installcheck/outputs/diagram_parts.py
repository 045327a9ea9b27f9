"""Graph edges -> the parts of a drawing sheet: devices, joints, wires, lines and crossings in words to print."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field

from ..document.items import Fitting as FluidFitting
from ..document.items import Ground, Junction, RouteStep, Supply, Tap, WireRun
from ..document.quantities import show
from ..graph import Edge, Graph, total_length
from .sheet import (
    Band,
    Barrier,
    Block,
    Change,
    Device,
    DeviceKind,
    Fitting,
    FluidLine,
    Joint,
    JointKind,
    LineKind,
    Terminal,
    Wire,
    WireKind,
)

UNPLACED = "zone not given"
_SECTION_KIND = {"senders": DeviceKind.SENDER, "probes": DeviceKind.PROBE, "indicators": DeviceKind.DIAL}
_PROTECTS = frozenset(("breaker", "fuse", "current limiter"))
_SWITCHES = frozenset(("switch", "contactor"))
_BLOCKS = frozenset(("terminal block", "plug"))
_TEES = frozenset(("tee", "cross", "manifold"))
_FOLDED = frozenset(("adapter", "union", "elbow", "restrictor", "damper", "cap", "plug"))
_LETTERS = {
    "chromel": "chromel",
    "alumel": "alumel",
    "iron": "iron",
    "constantan": "constantan",
    "copper": "copper",
}


@dataclass(slots=True)
class Parts:
    """What is drawn, in the order it was met; each kind of thing once."""

    bands: dict[str, Band] = field(default_factory=dict)
    barriers: dict[str, Barrier] = field(default_factory=dict)
    fittings: dict[str, Fitting] = field(default_factory=dict)
    devices: dict[str, Device] = field(default_factory=dict)
    blocks: dict[str, Block] = field(default_factory=dict)
    joints: dict[str, Joint] = field(default_factory=dict)
    wires: dict[str, Wire] = field(default_factory=dict)
    lines: dict[str, FluidLine] = field(default_factory=dict)
    target: dict[str, str] = field(default_factory=dict)
    """Id in the document -> id on the sheet that a verdict about it points to."""


def change_of(thing: object) -> Change:
    """What the alteration does to a thing."""
    status = getattr(thing, "status", None)
    return Change.NEW if status == "new" else Change.REMOVED if status == "removed" else Change.NONE


def collect(graph: Graph, edges: Iterable[Edge], circuits: dict[tuple[str, str], str]) -> Parts:
    """The parts that draw some edges of the graph; ``circuits`` names the circuit of a run or line."""
    return _Collector(graph, circuits).collect(list(edges))


class _Collector:
    def __init__(self, graph: Graph, circuits: dict[tuple[str, str], str]) -> None:
        self.graph, self.model, self.circuits = graph, graph.model, circuits
        self.parts = Parts()
        self.used: dict[str, dict[str, None]] = {}
        self.bonds = 0

    def collect(self, edges: list[Edge]) -> Parts:
        for edge in edges:
            if edge.kind in ("conductor", "bond", "fluid line", "shield"):
                for node in (edge.a, edge.b):
                    self.use(node)
        for edge in edges:
            if edge.kind in ("element", "coil", "couple", "contact", "load", "supply", "winding", "spool"):
                for node in (edge.a, edge.b):
                    if node.partition(".")[0] in self.used and not node.endswith(".star"):
                        self.use(node)
        self.things()
        for edge in edges:
            if edge.kind == "conductor":
                self.wire(edge)
            elif edge.kind == "bond":
                self.strap(edge)
            elif edge.kind == "fluid line":
                self.line(edge)
        for ident in dict.fromkeys(e.ident for e in edges if e.kind == "conductor" and e.run is not None):
            self.shield(ident, self.model.wire_runs[ident])
        self.layout()
        return self.parts

    def use(self, node: str) -> None:
        ident, _, terminal = self.fold(node).partition(".")
        self.used.setdefault(ident, {})[terminal] = None

    def fold(self, node: str) -> str:
        """The port a line really ends at: a small fitting screwed into a port is drawn as part of it."""
        seen: set[str] = set()
        while True:
            ident = node.partition(".")[0]
            fitting = self.model.fittings.get(ident)
            if (
                fitting is None
                or fitting.screwed_into is None
                or fitting.spec.kind not in _FOLDED
                or ident in seen
            ):
                return node
            seen.add(ident)
            node = self.graph.node_of(fitting.screwed_into)

    def band(self, zone: str | None) -> str:
        """The id of a zone's band, made if need be."""
        name = zone if zone in self.model.zones else UNPLACED
        ident = f"zone {name}"
        if ident not in self.parts.bands:
            title = self.model.zones[name].title if name in self.model.zones else None
            self.parts.bands[ident] = Band(ident, name, title if title and title != name else "")
        return ident

    def things(self) -> None:
        for ident, terminals in self.used.items():
            found = self.model.find(ident)
            if found is None:
                continue
            section, thing = found
            names = [t for t in terminals if t] or [""]
            if isinstance(thing, Junction) and thing.spec.kind in _BLOCKS:
                self.block(ident, thing, names)
            elif isinstance(thing, Junction) and thing.spec.kind in ("splice", "stud"):
                kind = JointKind.SPLICE if thing.spec.kind == "splice" else JointKind.STUD
                self.joint(ident, ident, kind, thing.zone, ident, thing)
            elif isinstance(thing, FluidFitting) and thing.spec.kind in _TEES:
                self.joint(ident, ident, JointKind.TEE, thing.zone, ident, thing)
            elif (
                isinstance(thing, FluidFitting)
                and thing.spec.kind == "bulkhead fitting"
                and thing.barrier is not None
            ):
                continue
            else:
                self.device(section, ident, thing, names)

    def device(self, section: str, ident: str, thing: object, names: list[str]) -> None:
        kind = _SECTION_KIND.get(section, DeviceKind.OTHER)
        spec_kind = getattr(getattr(thing, "spec", None), "kind", None)
        if isinstance(thing, Ground):
            kind = DeviceKind.GROUND
        elif isinstance(thing, Supply):
            kind = (
                DeviceKind.PROTECTION
                if spec_kind in _PROTECTS
                else DeviceKind.SWITCH
                if spec_kind in _SWITCHES
                else DeviceKind.SUPPLY
            )
        elif spec_kind == "selector switch":
            kind = DeviceKind.SWITCH
        terminals = tuple(Terminal(f"{ident}.{n}" if n else ident, n) for n in names)
        lines = (ident, *self.words(ident, thing))
        name = f"device {ident}"
        self.parts.devices[name] = Device(
            name, kind, self.band(getattr(thing, "zone", None)), lines, terminals, change_of(thing)
        )
        self.parts.target[ident] = name

    def words(self, ident: str, thing: object) -> Iterator[str]:
        """What stands under a device's name."""
        spec = getattr(thing, "spec", None)
        part = getattr(thing, "part", None)
        if isinstance(thing, Supply):
            rating = thing.spec.rating or thing.spec.rated_current or thing.spec.voltage
            yield f"{thing.spec.kind or ''} {rating.text if rating is not None else ''}".strip()
        elif isinstance(thing, Tap):
            yield f"{thing.medium}{', ' + thing.pressure.text if thing.pressure is not None else ''}"
        elif isinstance(thing, Ground):
            if thing.kind != ident:
                yield thing.kind
        elif getattr(thing, "cylinder", None) is not None:
            yield f"cylinder {getattr(thing, 'cylinder', '')}"
        elif part:
            yield str(part)
        if (
            spec is not None
            and getattr(spec, "kind", None) in ("spool", "resistor", "shunt")
            and spec.resistance is not None
        ):
            yield spec.resistance.text
        for fitting_id, fitting in self.model.fittings.items():
            if (
                fitting.spec.kind in _FOLDED
                and fitting.screwed_into is not None
                and fitting.screwed_into.partition(".")[0] == ident
            ):
                bore = (
                    f" {fitting.spec.bore.text}"
                    if fitting.spec.kind == "restrictor" and fitting.spec.bore is not None
                    else ""
                )
                yield f"{fitting.spec.kind}{bore}"
                self.parts.target[fitting_id] = f"device {ident}"

    def block(self, ident: str, junction: Junction, names: list[str]) -> None:
        band = self.band(junction.zone)
        block = f"block {ident}"
        self.parts.blocks[block] = Block(block, ident, band)
        for name in names:
            kind = JointKind.PIN if junction.spec.kind == "plug" else JointKind.STUD
            node = f"{ident}.{name}" if name else ident
            self.parts.joints[node] = Joint(node, kind, band, name, block, change_of(junction))
        self.parts.target[ident] = f"{ident}.{names[0]}" if names[0] else ident

    def joint(
        self, node: str, ident: str, kind: JointKind, zone: str | None, label: str, thing: object
    ) -> None:
        self.parts.joints[node] = Joint(node, kind, self.band(zone), label, "", change_of(thing))
        self.parts.target[ident] = node

    def end(self, node: str) -> str:
        """The id on the sheet of a node."""
        node = self.fold(node)
        ident = node.partition(".")[0]
        if ident in self.parts.joints:
            return ident
        return node

    def wire(self, edge: Edge) -> None:
        run = edge.run
        assert run is not None
        metal = edge.metal
        thermocouple = run.spec.thermocouple is not None or metal in (
            "chromel",
            "alumel",
            "iron",
            "constantan",
        )
        gauge = (
            edge.conductor.gauge
            if edge.conductor is not None and edge.conductor.gauge is not None
            else run.gauge
        )
        flag = [f"{gauge} AWG"] if gauge is not None else []
        if thermocouple and metal:
            flag.append(metal)
        elif edge.colour:
            flag.append(edge.colour)
        length = total_length(run)
        if length is not None:
            flag.append(show(length, "ft", "length"))
        ident = f"{edge.ident} {edge.name}".strip()
        kind = (
            WireKind.THERMOCOUPLE
            if thermocouple
            else WireKind.PAIR
            if run.conductors and len(run.conductors) == 2
            else WireKind.PLAIN
        )
        letters = (
            f"{run.spec.thermocouple or ''}{edge.name}" if thermocouple and run.spec.thermocouple else ""
        )
        shielded = bool(run.spec.shielded or run.shield)
        self.parts.wires[ident] = Wire(
            ident,
            self.end(edge.a),
            self.end(edge.b),
            kind,
            tuple(flag),
            self.through(edge.ident, run.route, run.bundle),
            letters,
            edge.ident if run.conductors and len(run.conductors) > 1 else "",
            edge.ident if shielded else "",
            self.circuits.get(("wire_runs", edge.ident), ""),
            change_of(run),
        )
        self.parts.target.setdefault(edge.ident, ident)

    def strap(self, edge: Edge) -> None:
        named = edge.section == "grounds" and self.model.grounds[edge.ident].kind in ("strap", "bond")
        self.bonds += 0 if named else 1
        ident = edge.ident if named else f"bond {self.bonds}"
        ohms = edge.resistance
        told = "unknown" if ohms is None else show(ohms, "ohm" if ohms >= 1 else "milliohm", "resistance")
        self.parts.wires[ident] = Wire(ident, self.end(edge.a), self.end(edge.b), WireKind.STRAP, (told,))
        self.parts.target.setdefault(edge.ident, ident)

    def line(self, edge: Edge) -> None:
        line = edge.line
        assert line is not None
        other = self.beyond(edge)
        if other == "drawn":
            return
        start, end, idents, through = (
            self.end(edge.a),
            self.end(edge.b),
            [edge.ident],
            list(self.through(edge.ident, line.route, None)),
        )
        if isinstance(other, tuple):
            joined, fitting, far = other
            near = edge.a if edge.b.partition(".")[0] == fitting else edge.b
            start, end = self.end(near), self.end(far)
            idents.append(joined.ident)
            through.append(self.bulkhead(fitting))
        ident = edge.ident
        spec = line.spec
        size = line.size or (
            show(spec.outside_diameter, "in", "length") if spec.outside_diameter is not None else ""
        )
        lengths = [total_length(self.model.fluid_lines[i]) for i in idents]
        length = (
            show(sum(x for x in lengths if x is not None), "in", "length")
            if all(x is not None for x in lengths)
            else ""
        )
        words = [w for w in (*(f"then {i}" for i in idents[1:]), spec.material or "", size, length) if w]
        kind = {"hose": LineKind.HOSE, "capillary": LineKind.CAPILLARY}.get(spec.kind or "", LineKind.TUBE)
        self.parts.lines[ident] = FluidLine(
            ident,
            start,
            end,
            line.medium or "medium not given",
            kind,
            tuple(words),
            tuple(through),
            self.circuits.get(("fluid_lines", edge.ident), ""),
            change_of(line),
        )
        for one in idents:
            self.parts.target.setdefault(one, ident)

    def beyond(self, edge: Edge) -> tuple[Edge, str, str] | str | None:
        """The line on the other side of a bulkhead fitting: it and the fitting are drawn as one line."""
        for node in (edge.a, edge.b):
            ident = node.partition(".")[0]
            fitting = self.model.fittings.get(ident)
            if fitting is None or fitting.spec.kind != "bulkhead fitting" or fitting.barrier is None:
                continue
            others = [
                e
                for e in self.graph.edges
                if e.kind == "fluid line"
                and e is not edge
                and ident in (e.a.partition(".")[0], e.b.partition(".")[0])
            ]
            if not others:
                self.joint(node, ident, JointKind.OPEN_END, fitting.zone, ident, fitting)
                return None
            other = others[0]
            if other.ident in self.parts.target:
                return "drawn"
            far = other.b if other.a.partition(".")[0] == ident else other.a
            return other, ident, far
        return None

    def bulkhead(self, ident: str) -> str:
        fitting = self.model.fittings[ident]
        name = f"crossing {ident}"
        self.parts.fittings[name] = Fitting(
            name, ident, self.barrier(fitting.barrier or ""), change_of(fitting)
        )
        self.parts.target.setdefault(ident, name)
        return name

    def through(self, ident: str, route: list[RouteStep] | None, bundle: str | None) -> tuple[str, ...]:
        """The crossings of a run, in order; runs of one bundle share a grommet."""
        made = []
        for step in route or ():
            if step.barrier is None:
                continue
            word = step.fitting or step.through or "crossing not given"
            name = f"crossing {step.barrier} {step.fitting or bundle or ident} {word}"
            self.parts.fittings.setdefault(name, Fitting(name, word, self.barrier(step.barrier)))
            made.append(name)
        return tuple(made)

    def barrier(self, ident: str) -> str:
        name = f"barrier {ident}"
        if name not in self.parts.barriers:
            zones = list(self.model.zones)
            first = min(self.model.barriers[ident].between, key=zones.index)
            self.parts.barriers[name] = Barrier(name, ident, self.band(first))
            for zone in self.model.barriers[ident].between:
                self.band(zone)
        return name

    def shield(self, ident: str, run: WireRun) -> None:
        if run.shield is None:
            return
        zones: list[str | None] = [s.zone for s in run.route or () if s.zone is not None] or [None]
        grounded = [e for e in (run.shield.from_, run.shield.to) if e is not None and e != "open"]
        ends: list[str] = []
        for word, end, zone in (("from", run.shield.from_, zones[0]), ("to", run.shield.to, zones[-1])):
            if end is None or end == "open":
                node = f"{ident} shield {word} end"
                if grounded:
                    self.parts.joints[node] = Joint(node, JointKind.OPEN_END, self.band(zone), "shield")
                ends.append(node)
            else:
                node = self.graph.node_of(end)
                if node not in self.on_sheet():
                    return
                ends.append(node)
        if grounded:
            name = f"{ident} shield"
            self.parts.wires[name] = Wire(
                name,
                ends[0],
                ends[1],
                WireKind.SHIELD,
                (),
                self.through(ident, run.route, run.bundle),
                shield=ident,
                circuit=self.circuits.get(("wire_runs", ident), ""),
            )

    def on_sheet(self) -> set[str]:
        return {t.id for d in self.parts.devices.values() for t in d.terminals} | set(self.parts.joints)

    def layout(self) -> None:
        """Put bands in the document's order; a barrier stands to the right of the first of its two zones drawn."""
        for ident, barrier in self.model.barriers.items():
            if all(f"zone {zone}" in self.parts.bands for zone in barrier.between):
                self.barrier(ident)
        order = [f"zone {z}" for z in self.model.zones] + [f"zone {UNPLACED}"]
        self.parts.bands = {b: self.parts.bands[b] for b in order if b in self.parts.bands}
