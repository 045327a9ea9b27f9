"""Graph edges -> the parts of a drawing sheet: devices, joints, wires, lines and crossings in words to print."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import dataclass, field
from functools import cached_property

from ...drawing.sheet import (
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
from ...graph import Edge, Graph, total_length
from ...model.fluid import Fitting as FluidFitting
from ...model.installation import Installation, Thing, terminals_of
from ...model.power import Ground, Supply
from ...model.routes import RouteStep
from ...model.wiring import Junction, WireRun
from .lines import Chain, Lines
from .words import (
    change_of,
    folded_on,
    is_thermocouple,
    length_text,
    line_words,
    ohms_words,
    thing_words,
    wire_words,
)

UNPLACED = "zone not given"
_SECTION_KIND = {"senders": DeviceKind.SENDER, "probes": DeviceKind.PROBE, "indicators": DeviceKind.DIAL}
_PROTECTS = frozenset(("breaker", "fuse", "current limiter"))
_SWITCHES = frozenset(("switch", "contactor"))
_BLOCKS = frozenset(("terminal block", "plug"))
_LINE_KINDS = {"hose": LineKind.HOSE, "capillary": LineKind.CAPILLARY}
LONGEST_BOND = 17
"""Letters of the name of a joint to ground that a flag has room for."""
_TEES = frozenset(("tee", "cross", "manifold"))


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


def collect(
    graph: Graph,
    edges: Iterable[Edge],
    circuits: dict[tuple[str, str], str],
    removed: Collection[tuple[str, str]] = (),
    *,
    number_bonds: bool = True,
) -> Parts:
    """The parts that draw some edges of the graph.

    ``circuits`` names the circuit of a run or line; ``removed`` holds section and id of what the alteration takes out.
    ``number_bonds`` gives joints to ground with long names a number.
    """
    collector = _Collector(graph, circuits, removed)
    collector.number_bonds = number_bonds
    return collector.collect(list(edges))


def place_alone(parts: Parts, graph: Graph, section: str, ident: str, thing: object) -> None:
    """Draw a thing that nothing joins."""
    alone = _Collector(graph, {}, ())
    alone.parts = parts
    if isinstance(thing, (Junction, FluidFitting)):
        alone.thing(section, ident, thing, [""])
    else:
        alone.thing(section, ident, thing, [])
    alone.layout()


def draw_barriers(parts: Parts, graph: Graph) -> None:
    """Draw the barriers between the zones of some parts."""
    between = _Collector(graph, {}, ())
    between.parts = parts
    between.layout()


def zone_band(parts: Parts, model: Installation, zone: str | None) -> str:
    """The id of a zone's band, made if need be."""
    name = zone if zone in model.zones else UNPLACED
    ident = f"zone {name}"
    if ident not in parts.bands:
        title = model.zones[name].title if name in model.zones else None
        parts.bands[ident] = Band(ident, name, title if title and title != name else "")
        order = [f"zone {z}" for z in model.zones] + [f"zone {UNPLACED}"]
        parts.bands = {b: parts.bands[b] for b in order if b in parts.bands}
    return ident


def _own_order(section: str, thing: Thing, names: list[str]) -> list[str]:
    """Terminals in the order of the thing itself, so that crossed leads are drawn crossed; pins by their numbers."""
    own = terminals_of(section, thing)
    if own is not None:
        order = {name: number for number, name in enumerate(own)}
        return sorted(names, key=lambda name: order.get(name, len(order)))
    return sorted(names, key=lambda name: (not name.isdecimal(), int(name) if name.isdecimal() else 0))


class _Collector:
    def __init__(
        self, graph: Graph, circuits: dict[tuple[str, str], str], removed: Collection[tuple[str, str]]
    ) -> None:
        self.graph, self.model, self.circuits = graph, graph.whole, circuits
        self.removed = removed
        self.lines = Lines(graph)
        self.number_bonds = True
        self.parts = Parts()
        self.used: dict[str, dict[str, None]] = {}

    def change(self, section: str, ident: str, thing: object) -> Change:
        """What the alteration does to a thing."""
        return Change.REMOVED if (section, ident) in self.removed else change_of(thing)

    def collect(self, edges: list[Edge]) -> Parts:
        chains: dict[tuple[str, ...], Chain] = {}
        for edge in edges:
            nodes = (edge.a, edge.b)
            if edge.kind == "fluid line":
                chain = self.lines.chain(edge)
                chains.setdefault(tuple(sorted(e.ident for e in chain.lines)), chain)
                nodes = (chain.start, chain.end)
            if edge.kind in ("conductor", "bond", "fluid line", "shield"):
                for node in nodes:
                    self.use(node)
        for edge in edges:
            if edge.kind in ("element", "coil", "couple", "contact", "load", "supply", "winding", "spool"):
                for node in (edge.a, edge.b):
                    if node.partition(".")[0] in self.used and not node.endswith(".star"):
                        self.use(node)
        runs = dict.fromkeys(e.ident for e in edges if e.kind == "conductor" and e.run is not None)
        for ident in runs:
            for end in self.shield_ends(self.model.wire_runs[ident]):
                self.use(self.graph.node_of(end))
        self.things()
        for edge in edges:
            if edge.kind == "conductor":
                self.wire(edge)
            elif edge.kind == "bond":
                self.strap(edge)
        for chain in chains.values():
            self.line(chain)
        for ident in runs:
            self.shield(ident, self.model.wire_runs[ident])
        self.layout()
        return self.parts

    def use(self, node: str) -> None:
        ident, _, terminal = self.lines.fold(node).partition(".")
        self.used.setdefault(ident, {})[terminal] = None

    def band(self, zone: str | None) -> str:
        return zone_band(self.parts, self.model, zone)

    def things(self) -> None:
        for ident, terminals in self.used.items():
            found = self.model.find(ident)
            if found is not None:
                section, thing = found
                self.thing(
                    section, ident, thing, _own_order(section, thing, [t for t in terminals if t]) or [""]
                )

    def thing(self, section: str, ident: str, thing: object, names: list[str]) -> None:
        change = self.change(section, ident, thing)
        if isinstance(thing, Junction) and thing.spec.kind in _BLOCKS:
            self.block(ident, thing, names, change)
        elif isinstance(thing, Junction) and thing.spec.kind in ("splice", "stud"):
            kind = JointKind.SPLICE if thing.spec.kind == "splice" else JointKind.STUD
            self.joint(ident, ident, kind, thing.zone, ident, change)
        elif isinstance(thing, FluidFitting) and thing.spec.kind in _TEES:
            self.joint(ident, ident, JointKind.TEE, thing.zone, ident, change)
        elif isinstance(thing, FluidFitting) and self.lines.bulkhead(ident) == ident:
            if names == [""]:
                self.bulkhead(ident)
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
        lines = (ident, *thing_words(self.model, ident, thing))
        name = f"device {ident}"
        self.parts.devices[name] = Device(
            name,
            kind,
            self.band(getattr(thing, "zone", None)),
            lines,
            terminals,
            self.change(section, ident, thing),
        )
        self.parts.target[ident] = name
        for fitting, _ in folded_on(self.model, ident):
            self.parts.target[fitting] = name

    def block(self, ident: str, junction: Junction, names: list[str], change: Change) -> None:
        band = self.band(junction.zone)
        block = f"block {ident}"
        label = f"{ident} {change.value.upper()}".strip()
        self.parts.blocks[block] = Block(block, label, band)
        kind = JointKind.PIN if junction.spec.kind == "plug" else JointKind.STUD
        shown = Change.REMOVED if change is Change.REMOVED else Change.NONE
        for name in names:
            node = f"{ident}.{name}" if name else ident
            self.parts.joints[node] = Joint(node, kind, band, name, block, shown)
        self.parts.target[ident] = f"{ident}.{names[0]}" if names[0] else ident

    def joint(
        self, node: str, ident: str, kind: JointKind, zone: str | None, label: str, change: Change
    ) -> None:
        self.parts.joints[node] = Joint(node, kind, self.band(zone), label, "", change)
        self.parts.target[ident] = node

    def end(self, node: str) -> str:
        """The id on the sheet of a node."""
        node = self.lines.fold(node)
        ident = node.partition(".")[0]
        if ident in self.parts.joints:
            return ident
        return node

    def wire(self, edge: Edge) -> None:
        run = edge.run
        assert run is not None
        couple = is_thermocouple(edge)
        two = run.conductors is not None and len(run.conductors) == 2
        kind = WireKind.THERMOCOUPLE if couple else WireKind.PAIR if two else WireKind.PLAIN
        self.parts.wires[edge.label] = Wire(
            edge.label,
            self.end(edge.a),
            self.end(edge.b),
            kind,
            tuple(wire_words(edge)),
            self.through(edge.ident, run.route, run.bundle),
            f"{run.spec.thermocouple or ''}{edge.name}" if couple and run.spec.thermocouple else "",
            edge.ident if two else "",
            edge.ident if run.spec.shielded or run.shield else "",
            self.circuits.get(("wire_runs", edge.ident), ""),
            self.change("wire_runs", edge.ident, run),
        )
        self.parts.target.setdefault(edge.ident, edge.label)
        self.parts.target[edge.label] = edge.label

    def strap(self, edge: Edge) -> None:
        """A strap under its own name; the joint of a stud, or of a body that grounds itself, under what it grounds."""
        thing = self.model.section(edge.section)[edge.ident]
        grounding = getattr(thing, "grounding", None)
        if isinstance(thing, Ground):
            ident = edge.ident if thing.kind in ("strap", "bond") else self.bond(edge, "joint")
            words = [str(thing.gauge) + " AWG"] if thing.gauge is not None else []
        else:
            ident = self.bond(edge, "case")
            words = [grounding.through] if grounding is not None and grounding.through is not None else []
        flag = (*words, ohms_words(edge.resistance))
        change = self.change(edge.section, edge.ident, thing)
        self.parts.wires[ident] = Wire(
            ident, self.end(edge.a), self.end(edge.b), WireKind.STRAP, flag, change=change
        )
        self.parts.target.setdefault(edge.ident, ident)

    def bond(self, edge: Edge, word: str) -> str:
        """A name for a joint to ground: after what it grounds, or by number where that would be cut on the sheet."""
        name = f"{edge.ident} {word}"
        if len(name) <= LONGEST_BOND or not self.number_bonds:
            return name
        return f"bond {self.bonds[edge]}"

    @cached_property
    def bonds(self) -> dict[Edge, int]:
        """The number of every joint to ground of the document, alike on all sheets."""
        bonds = (e for e in self.graph.edges if e.kind == "bond")
        return {edge: number for number, edge in enumerate(bonds, start=1)}

    def line(self, chain: Chain) -> None:
        """One line, or several joined by fittings in barriers, drawn as one."""
        first = chain.lines[0]
        lines = [self.model.fluid_lines[e.ident] for e in chain.lines]
        spec = lines[0].spec
        through = [
            name
            for e, one in zip(chain.lines, lines, strict=True)
            for name in self.through(e.ident, one.route, None)
        ]
        through += [self.bulkhead(ident) for ident in chain.bulkheads]
        for ident in chain.open_ends:
            fitting = self.model.fittings[ident]
            self.joint(f"{ident} end", ident, JointKind.OPEN_END, fitting.zone, ident, change_of(fitting))
        lengths = [x for one in lines if (x := total_length(one)) is not None]
        length = length_text(sum(lengths), lines) if len(lengths) == len(lines) else ""
        words = list(line_words(lines[0]))
        for edge, one in zip(chain.lines[1:], lines[1:], strict=True):
            words += [f"+ {edge.ident}", *(w for w in line_words(one) if w not in words)]
        self.parts.lines[first.ident] = FluidLine(
            first.ident,
            self.line_end(chain.start),
            self.line_end(chain.end),
            lines[0].medium or "medium not given",
            _LINE_KINDS.get(spec.kind or "", LineKind.TUBE),
            tuple(w for w in (*words, length) if w),
            tuple(dict.fromkeys(through)),
            self.circuits.get(("fluid_lines", first.ident), ""),
            self.change("fluid_lines", first.ident, lines[0]),
        )
        for edge in chain.lines:
            self.parts.target.setdefault(edge.ident, first.ident)

    def line_end(self, node: str) -> str:
        fitting = self.lines.bulkhead(node)
        return f"{fitting} end" if fitting is not None else self.end(node)

    def bulkhead(self, ident: str) -> str:
        fitting = self.model.fittings[ident]
        name = f"crossing {ident}"
        self.parts.fittings[name] = Fitting(
            name, ident, self.barrier(fitting.barrier or ""), self.change("fittings", ident, fitting)
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

    def shield_ends(self, run: WireRun) -> list[str]:
        """Grounds and terminals a shield is joined to."""
        ends = (run.shield.from_, run.shield.to) if run.shield is not None else ()
        return [e for e in ends if e is not None and e != "open"]

    def shield(self, ident: str, run: WireRun) -> None:
        if run.shield is None or not self.shield_ends(run):
            return
        zones: list[str | None] = [s.zone for s in run.route or () if s.zone is not None] or [None]
        ends: list[str] = []
        for word, end, zone in (("from", run.shield.from_, zones[0]), ("to", run.shield.to, zones[-1])):
            if end is None or end == "open":
                node = f"{ident} shield {word} end"
                self.parts.joints[node] = Joint(node, JointKind.OPEN_END, self.band(zone), "shield")
            else:
                node = self.end(self.graph.node_of(end))
            ends.append(node)
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
            change=self.change("wire_runs", ident, run),
        )
        self.parts.target[name] = name

    def layout(self) -> None:
        """Barriers between zones that are drawn, whether anything crosses them or not."""
        for ident, barrier in self.model.barriers.items():
            if all(f"zone {zone}" in self.parts.bands for zone in barrier.between):
                self.barrier(ident)
