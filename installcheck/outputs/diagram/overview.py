"""Overview sheet: devices and cables only, one line for all that runs together from a source to its indicator or load."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import replace

from ...analysis.circuit.drop_paths import consumers
from ...analysis.study import Study
from ...comparison.chains import Chain, chains
from ...drawing.kinds import DeviceKind, LineKind
from ...drawing.sheet import Device, FluidLine, Terminal, Wire
from ...graph import Edge, Indication
from ...graph.walk import between
from ...model.installation import split_end
from ...model.power import Supply
from ..wording import drawn_together
from .collect import draw_barriers
from .parts import Parts, zone_band
from .words import change_of, thing_words

_KINDS = {"senders": DeviceKind.SENDER, "probes": DeviceKind.PROBE, "indicators": DeviceKind.DIAL, "supplies": DeviceKind.SUPPLY}  # fmt: skip
_SOURCES = ("battery", "alternator", "generator")
_CARRIES = frozenset(("conductor", "contact", "joint", "spool"))
_ONE_SHEET = 16
"""Runs a sheet with their terminals holds."""


def overview(study: Study) -> Parts:
    """Sources, indicators, buses and loads, each pair joined by one line that names its runs and their bundle."""
    made = _Overview(study)
    for alike in _alike(chains(study.graph, study.indications).values()):
        made.indication(alike)
    made.power()
    draw_barriers(made.parts, study.graph)
    made.cross()
    return made.parts


class _Overview:
    def __init__(self, study: Study) -> None:
        self.study, self.graph, self.model = study, study.graph, study.model
        self.parts = Parts()
        self.read: dict[tuple[str, str], list[Indication]] = defaultdict(list)
        for one in study.indications:
            self.read[one.indicator, one.input].append(one)
        self.passed: dict[str, set[str | None]] = {}
        """Barriers that each line passes."""
        self.order = {ident: number for number, ident in enumerate(study.model.wire_runs)}
        self.line_order = {ident: number for number, ident in enumerate(study.model.fluid_lines)}

    def device(self, ident: str, others: tuple[str, ...] = ()) -> str:
        """A thing, or several of one sort in one outline, with a single place its lines come to."""
        name = f"device {ident}"
        if name not in self.parts.devices:
            found = self.model.find(ident)
            assert found is not None
            section, thing = found
            title = drawn_together((ident, *others))
            words = [] if others else [w for w in thing_words(self.model, ident, thing) if w][:1]
            if others:
                words = [f"{1 + len(others)} {section}"]
            band = zone_band(self.parts, self.model, getattr(thing, "zone", None))
            kind = _KINDS.get(section, DeviceKind.OTHER)
            self.parts.devices[name] = Device(
                name, kind, band, (title, *words), (Terminal(f"overview {ident}", ""),), change_of(thing)
            )
            for one in (ident, *others):
                self.parts.target[one] = name
        return f"overview {ident}"

    def indication(self, alike: list[Chain]) -> None:
        """The sources of inputs of one indicator that show the same by zone, a line from each zone to the indicator."""
        end = self.device(alike[0].indicator)
        by_zone: dict[str, dict[str, None]] = {}
        for source in (source for chain in alike for source in chain.sources):
            found = self.model.find(source)
            if found is not None:
                by_zone.setdefault(str(getattr(found[1], "zone", "")), {})[source] = None
        for sources in map(list, by_zone.values()):
            start = self.device(sources[0], tuple(sources[1:]))
            self.wires(start, end, self.carriers(alike, sources))
            if sources[0] in self.model.taps:
                lines = {i for chain in alike for i in chain.things if i in self.line_order}
                self.lines(start, end, sorted(lines, key=self.line_order.__getitem__))

    def carriers(self, alike: list[Chain], sources: list[str]) -> list[str]:
        """Runs of some inputs that lead to some of their sources, in the order of the document."""
        found = {
            step.edge.ident
            for chain in alike
            for one in self.read[chain.indicator, chain.input]
            if one.source in sources
            for leg in one.legs
            if not leg.through_ground
            for step in leg.steps
            if step.edge.kind == "conductor" and step.edge.ident in self.order
        }
        return sorted(found, key=self.order.__getitem__)

    def wires(self, start: str, end: str, idents: list[str], flag: tuple[str, ...] = ()) -> None:
        """One line for some runs."""
        if not idents or start == end:
            return
        runs = [self.model.wire_runs[i] for i in idents]
        bundles = dict.fromkeys(run.bundle for run in runs if run.bundle)
        name = drawn_together(idents)
        if name in self.parts.wires:
            return
        self.parts.wires[name] = Wire(name, start, end, flag=(*flag, *bundles))
        self.passed[name] = {step.barrier for run in runs for step in run.route or ()}

    def lines(self, start: str, end: str, idents: list[str]) -> None:
        """One line for the fluid lines between a tap and a gauge."""
        if not idents:
            return
        first = self.model.fluid_lines[idents[0]]
        name = idents[0] + (f" +{len(idents) - 1}" if len(idents) > 1 else "")
        if name not in self.parts.lines:
            kind = LineKind.HOSE if first.spec.kind == "hose" else LineKind.TUBE
            self.parts.lines[name] = FluidLine(name, start, end, first.medium or "medium not given", kind)
            lines = [self.model.fluid_lines[i] for i in idents]
            fittings = (
                self.model.fittings.get(split_end(end)[0]) for one in lines for end in (one.from_, one.to)
            )
            self.passed[name] = {step.barrier for one in lines for step in one.route or ()}
            self.passed[name] |= {fitting.barrier for fitting in fittings if fitting is not None}

    def cross(self) -> None:
        """Tell each line of the barriers it passes, as far as they are drawn."""
        names = {ident: f"barrier {ident}" for ident in self.model.barriers}
        drawn = {ident: name for ident, name in names.items() if name in self.parts.barriers}
        for name, passed in self.passed.items():
            crosses = tuple(drawn[ident] for ident in drawn if ident in passed)
            if name in self.parts.wires:
                self.parts.wires[name] = replace(self.parts.wires[name], crosses=crosses)
            else:
                self.parts.lines[name] = replace(self.parts.lines[name], crosses=crosses)

    def power(self) -> None:
        """Sources to their buses, and buses to their loads; what feeds an indicator is on its own sheet."""
        buses = {i: s for i, s in self.model.supplies.items() if s.spec.kind == "bus"}
        links = {node: [e for e in self.graph.at(node) if e.kind in _CARRIES] for node in self.graph.circuit}
        for ident, supply in self.model.supplies.items():
            if supply.spec.kind in _SOURCES:
                self.source(ident, buses, links)
        for one in consumers(self.study):
            if one.section == "loads" and one.bus is not None:
                way = tuple(reversed(one.out or ()))
                runs = [e.ident for e in way if e.kind == "conductor"]
                self.wires(
                    self.device(one.bus.partition(".")[0]), self.device(one.ident), runs, self.guards(way)
                )

    def source(self, ident: str, buses: dict[str, Supply], links: dict[str, list[Edge]]) -> None:
        for bus in buses:
            way = between(links, f"{ident}.+", bus)
            if way:
                edges = [step.edge for step in way]
                runs = [e.ident for e in edges if e.kind == "conductor"]
                self.wires(self.device(ident), self.device(bus), runs, self.guards(edges))
                return

    def guards(self, edges: Iterable[Edge]) -> tuple[str, ...]:
        """Protectors and switches on a way."""
        return tuple(dict.fromkeys(e.ident for e in edges if e.kind == "contact" and e.section == "supplies"))


def _alike(every: Iterable[Chain]) -> Iterable[list[Chain]]:
    """Inputs together that show the same on one indicator: the heads of a monitor, its exhausts."""
    found: dict[tuple[str, str], list[Chain]] = defaultdict(list)
    for chain in every:
        found[chain.indicator, chain.measure or chain.input].append(chain)
    return found.values()


def worth_it(parts: Parts) -> bool:
    """Whether a drawing is so full that it takes an overview: more runs than one sheet holds."""
    return len(parts.wires) + len(parts.lines) > _ONE_SHEET
