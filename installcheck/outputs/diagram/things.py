"""Things of a document -> devices, blocks, joints, barriers and fittings of a drawing sheet."""

from __future__ import annotations

from collections.abc import Collection

from ...drawing.kinds import Change, DeviceKind, JointKind
from ...drawing.sheet import Barrier, Block, Device, Fitting, Joint, Terminal
from ...graph import Graph
from ...model.devices import Probe, Sender
from ...model.fluid import Fitting as FluidFitting
from ...model.installation import Thing, terminals_of
from ...model.power import Ground, Supply
from ...model.wiring import Junction
from .lines import Lines
from .parts import Parts, zone_band
from .words import change_of, folded_on, thing_words

_SECTION_KIND = {"senders": DeviceKind.SENDER, "probes": DeviceKind.PROBE, "indicators": DeviceKind.DIAL}
_PROTECTS = frozenset(("breaker", "fuse", "current limiter"))
_SWITCHES = frozenset(("switch", "contactor"))
_BLOCKS = frozenset(("terminal block", "plug"))
_TEES = frozenset(("tee", "cross", "manifold"))


class Things:
    """Draws what stands in a zone or in a barrier; ``used`` are the terminals that are drawn, by thing."""

    def __init__(
        self, graph: Graph, circuits: dict[tuple[str, str], str], removed: Collection[tuple[str, str]]
    ) -> None:
        self.graph, self.model, self.circuits = graph, graph.whole, circuits
        self.removed = removed
        self.lines = Lines(graph)
        self.parts = Parts()
        self.used: dict[str, dict[str, None]] = {}

    def change(self, section: str, ident: str, thing: object) -> Change:
        """What the alteration does to a thing."""
        return Change.REMOVED if (section, ident) in self.removed else change_of(thing)

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
            group=self.group(thing),
        )
        self.parts.target[ident] = name
        for fitting, _ in folded_on(self.model, ident):
            self.parts.target[fitting] = name

    def group(self, thing: object) -> tuple[str, ...]:
        """The engine of a source, what it measures and the bank of its cylinder, as far as they are told."""
        if not isinstance(thing, Probe | Sender):
            return ()
        ident, engine = self.model.engine_of(thing) or ("", None)
        measure = thing.measures if isinstance(thing, Probe) else thing.spec.measures
        cylinder = thing.cylinder if isinstance(thing, Probe) else None
        bank = engine.bank_of(cylinder) if engine is not None and cylinder is not None else ""
        return tuple(word for word in (ident, measure, bank) if word)

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

    def bulkhead(self, ident: str) -> str:
        fitting = self.model.fittings[ident]
        name = f"crossing {ident}"
        self.parts.fittings[name] = Fitting(
            name, ident, self.barrier(fitting.barrier or ""), self.change("fittings", ident, fitting)
        )
        self.parts.target.setdefault(ident, name)
        return name

    def barrier(self, ident: str) -> str:
        name = f"barrier {ident}"
        if name not in self.parts.barriers:
            first = min(self.model.barriers[ident].between, key=self.model.zones_abreast.index)
            self.parts.barriers[name] = Barrier(name, ident, self.band(first))
            for zone in self.model.barriers[ident].between:
                self.band(zone)
        return name

    def layout(self) -> None:
        """Barriers between zones that are drawn, whether anything crosses them or not."""
        for ident, barrier in self.model.barriers.items():
            if all(f"zone {zone}" in self.parts.bands for zone in barrier.between):
                self.barrier(ident)


def _own_order(section: str, thing: Thing, names: list[str]) -> list[str]:
    """Terminals in the order of the thing itself, so that crossed leads are drawn crossed; pins by their numbers."""
    own = terminals_of(section, thing)
    if own is not None:
        order = {name: number for number, name in enumerate(own)}
        return sorted(names, key=lambda name: order.get(name, len(order)))
    return sorted(names, key=lambda name: (not name.isdecimal(), int(name) if name.isdecimal() else 0))
