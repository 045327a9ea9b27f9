"""Edges of the graph -> wires, shields, straps and fluid lines of a drawing sheet."""

from __future__ import annotations

from dataclasses import replace
from functools import cached_property
from itertools import pairwise

from ...drawing.kinds import JointKind, LineKind, WireKind
from ...drawing.sheet import Fitting, FluidLine, Joint, Wire
from ...graph import Edge, total_length
from ...graph.joining import shortest
from ...model.power import Ground
from ...model.routes import RouteStep
from ...model.wiring import WireRun
from .lines import Chain
from .things import Things
from .words import change_of, is_thermocouple, length_text, line_words, ohms_words, wire_words

_LINE_KINDS = {"hose": LineKind.HOSE, "capillary": LineKind.CAPILLARY}
LONGEST_BOND = 17
"""Letters of the name of a joint to ground that a flag has room for."""


class Runs(Things):
    """Draws what joins things; ``number_bonds`` gives joints to ground with long names a number."""

    number_bonds = True

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

    def cross(self) -> None:
        """Tell straps from zone to zone of the barriers on the way, as far as these are drawn."""
        band = {t.id: d.band for d in self.parts.devices.values() for t in d.terminals}
        band |= {joint.id: joint.band for joint in self.parts.joints.values()}
        walls: dict[str, dict[str, str]] = {}
        for ident, barrier in self.model.barriers.items():
            one, other = (f"zone {zone}" for zone in barrier.between)
            walls.setdefault(one, {})[other] = walls.setdefault(other, {})[one] = f"barrier {ident}"
        for ident, wire in self.parts.wires.items():
            ends = band[wire.start], band[wire.end]
            if wire.kind is WireKind.STRAP and ends[0] != ends[1]:
                way = shortest(walls, *ends) or ()
                passed = (walls[a][b] for a, b in pairwise(way))
                crosses = tuple(name for name in passed if name in self.parts.barriers)
                self.parts.wires[ident] = replace(wire, crosses=crosses)

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
