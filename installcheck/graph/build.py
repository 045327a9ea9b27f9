"""Typed model -> one multigraph of terminals and ports, joined by conductors, lines and the insides of devices."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from functools import cached_property

import networkx as nx

from ..document.installation import Installation, Thing, inputs_of, is_one_point, split_end, terminals_of
from ..document.items import Fitting, Ground, Indicator, Junction, Load, Probe, Sender, Supply
from ..document.source import DocPath
from .edges import ELECTRICAL, Edge, EdgeKind

_PASSES = frozenset(
    (
        "tee",
        "cross",
        "manifold",
        "cock",
        "check valve",
        "restrictor",
        "bulkhead fitting",
        "union",
        "elbow",
        "adapter",
        "damper",
        "separator",
    )
)
GROUND_KINDS = frozenset(("structure", "engine case", "stud", "bus"))


@dataclass(eq=False)
class Graph:
    """The installation as a graph.

    Attributes:
        model: the installation it was built from.
        multigraph: the multigraph. Nodes are ends (``oil bulb.A``; ``airframe`` for what is one point), with attributes
            ``section``, ``ident``, ``terminal`` and ``zone``; each edge carries its :class:`Edge` as ``edge``.
        edges: all edges in document order.
    """

    model: Installation
    multigraph: nx.MultiGraph[str]
    edges: list[Edge] = field(default_factory=list)
    by_thing: dict[tuple[str, str], list[Edge]] = field(default_factory=dict)

    def add(self, edge: Edge) -> None:
        """Add an edge and the nodes it needs."""
        for node in (edge.a, edge.b):
            self.node(node)
        self.multigraph.add_edge(edge.a, edge.b, edge=edge)
        self.edges.append(edge)
        self.by_thing.setdefault((edge.section, edge.ident), []).append(edge)

    def node(self, name: str) -> str:
        """Add a node by its end, with its thing and zone."""
        if name not in self.multigraph:
            ident, terminal = split_end(name)
            found = self.model.find(ident)
            section, thing = found if found else ("", None)
            self.multigraph.add_node(
                name, section=section, ident=ident, terminal=terminal, zone=getattr(thing, "zone", None)
            )
        return name

    def node_of(self, end: str) -> str:
        """The node an end stands for: one per terminal, or one per thing where the thing is one point.

        Raises:
            KeyError: the end names nothing in the document.
        """
        ident, terminal = split_end(end)
        found = self.model.find(ident)
        if found is None:
            raise KeyError(end)
        section, thing = found
        if is_one_point(thing):
            return ident
        if not terminal:
            names = terminals_of(section, thing)
            terminal = names[0] if names else ""
        return f"{ident}.{terminal}" if terminal else ident

    def at(self, node: str) -> Iterator[Edge]:
        """Edges that meet at a node."""
        if node in self.multigraph:
            for _, _, data in self.multigraph.edges(node, data=True):
                yield data["edge"]

    def zone_of(self, node: str) -> str | None:
        """Zone of the thing a node belongs to."""
        zone: str | None = self.multigraph.nodes[node]["zone"] if node in self.multigraph else None
        return zone

    def is_ground(self, node: str) -> bool:
        """Whether a node is a ground point, structure or engine case."""
        return node in self.model.grounds

    @cached_property
    def ground_links(self) -> dict[str, list[Edge]]:
        """For each ground point, the straps, joints and wires that lead from it to another ground point."""
        links: dict[str, list[Edge]] = {}
        for edge in self.edges:
            if edge.kind in ("bond", "conductor") and self.is_ground(edge.a) and self.is_ground(edge.b):
                links.setdefault(edge.a, []).append(edge)
                links.setdefault(edge.b, []).append(edge)
        return links

    @cached_property
    def circuit(self) -> nx.MultiGraph[str]:
        """The circuit view: every edge that can carry current."""
        return self._view(ELECTRICAL)

    @cached_property
    def fluid(self) -> nx.MultiGraph[str]:
        """The fluid view: lines and the passages of fittings."""
        return self._view(frozenset(("fluid line", "passage")))

    def _view(self, kinds: Iterable[str]) -> nx.MultiGraph[str]:
        chosen: nx.MultiGraph[str] = nx.MultiGraph()
        wanted = frozenset(kinds)
        for edge in self.edges:
            if edge.kind in wanted:
                chosen.add_edge(edge.a, edge.b, edge=edge)
        return chosen

    @cached_property
    def crossings(self) -> dict[str, list[Crossing]]:
        """The zone view: for each barrier, what crosses it and by what."""
        found: dict[str, list[Crossing]] = {b: [] for b in self.model.barriers}
        for section in ("wire_runs", "fluid_lines"):
            for ident, run in getattr(self.model, section).items():
                for i, step in enumerate(run.route or ()):
                    if step.barrier is not None and step.barrier in found:
                        before = next((s.zone for s in reversed(run.route[:i]) if s.zone), None)
                        after = next((s.zone for s in run.route[i + 1 :] if s.zone), None)
                        crossing = Crossing(
                            section,
                            ident,
                            step.barrier,
                            i,
                            step.through,
                            step.fitting,
                            before,
                            after,
                            (section, ident, "route", i),
                        )
                        found[step.barrier].append(crossing)
        return found


@dataclass(frozen=True, slots=True)
class Crossing:
    """A run or line that crosses a barrier."""

    section: str
    ident: str
    barrier: str
    step: int
    through: str | None
    fitting: str | None
    before: str | None
    after: str | None
    path: DocPath


def build(model: Installation) -> Graph:
    """The graph of an installation; removed things are left out. Cost: linear in its size."""
    graph = Graph(model, nx.MultiGraph())
    builder = _Builder(graph)
    for section, ident, thing in model.things():
        if getattr(thing, "status", None) == "removed":
            continue
        builder.thing(section, ident, thing)
    builder.runs()
    return graph


class _Builder:
    def __init__(self, graph: Graph) -> None:
        self.graph, self.model = graph, graph.model

    def gone(self, end: str) -> bool:
        """Whether an end belongs to something this change removes."""
        found = self.model.find(split_end(end)[0])
        return found is None or getattr(found[1], "status", None) == "removed"

    def inner(
        self,
        kind: EdgeKind,
        section: str,
        ident: str,
        a: str,
        b: str,
        name: str = "",
        resistance: float | None = None,
        *,
        closed: bool = True,
        at: DocPath = (),
    ) -> None:
        self.graph.add(
            Edge(
                kind,
                section,
                ident,
                name,
                f"{ident}.{a}",
                f"{ident}.{b}",
                (section, ident, *at),
                resistance,
                closed,
            )
        )

    def thing(self, section: str, ident: str, thing: Thing) -> None:
        if is_one_point(thing):
            self.graph.node(ident)
        else:
            for terminal in terminals_of(section, thing) or ():
                self.graph.node(f"{ident}.{terminal}")
        grounding = getattr(thing, "grounding", None)
        if grounding is not None and not self.gone(grounding.to):
            edge = Edge(
                "bond",
                section,
                ident,
                "case",
                f"{ident}.case",
                self.graph.node_of(grounding.to),
                (section, ident, "grounding"),
                grounding.resistance,
            )
            self.graph.add(edge)
        if isinstance(thing, (Sender, Fitting)):
            self.ports(section, ident, thing)
        if isinstance(thing, Sender):
            self.sender(ident, thing)
        elif isinstance(thing, Indicator):
            self.indicator(ident, thing)
        elif isinstance(thing, Probe):
            a, b = (thing.spec.terminals or ["+", "-"])[:2]
            self.inner("couple", section, ident, a, b, resistance=thing.spec.resistance)
            if grounding is not None:
                self.inner("joint", section, ident, b, "case", "junction", 0.0)
        elif isinstance(thing, Supply):
            self.supply(ident, thing)
        elif isinstance(thing, Load):
            a, b = ((thing.spec.terminals or ["+", "-"]) + ["case"])[:2]
            self.inner("load", section, ident, a, b)
        elif isinstance(thing, Ground):
            self.ground(ident, thing)
        elif isinstance(thing, Junction):
            self.junction(ident, thing)
        elif isinstance(thing, Fitting):
            self.fitting(ident, thing)

    def ports(self, section: str, ident: str, thing: Sender | Fitting) -> None:
        """The port a thing is screwed into, and the way through a flow pick-up."""
        names = list(thing.spec.ports or ())
        if isinstance(thing, Sender) and thing.spec.principle == "pulse pick-up" and len(names) >= 2:
            self.inner("passage", section, ident, names[0], names[1])
        if thing.screwed_into is not None and not self.gone(thing.screwed_into):
            if isinstance(thing, Fitting):
                names = names or list(terminals_of(section, thing) or ("in",))
            own, other = f"{ident}.{(names or ['P'])[0]}", self.graph.node_of(thing.screwed_into)
            self.graph.add(
                Edge("passage", section, ident, "thread", own, other, (section, ident, "screwed_into"))
            )

    def sender(self, ident: str, sender: Sender) -> None:
        spec = sender.spec
        names = list(spec.terminals or terminals_of("senders", sender) or ())
        if spec.case_return and "case" not in names:
            names.append("case")
        if len(names) < 2:
            return
        if spec.principle in ("synchro transmitter", "tachometer generator"):
            self.star(
                "senders",
                ident,
                names,
                float(spec.winding_resistance) if spec.winding_resistance is not None else None,
            )
            return
        if spec.principle == "pressure transducer":
            if len(names) >= 3:
                self.inner("load", "senders", ident, names[0], names[2], "supply")
                self.inner("element", "senders", ident, names[1], names[2])
            else:
                self.inner("element", "senders", ident, names[0], names[1])
            return
        self.inner("element", "senders", ident, names[0], names[1])
        if spec.principle == "resistance bulb" and len(names) >= 3:
            self.inner("joint", "senders", ident, names[1], names[2], "third lead", 0.0)

    def star(self, section: str, ident: str, names: list[str], between: float | None) -> None:
        """Three windings from a star point; the figure between two leads is that of two windings in series."""
        for lead in names[:3]:
            self.inner(
                "winding", section, ident, lead, "star", lead, None if between is None else between / 2
            )
        if len(names) >= 5:
            self.inner("winding", section, ident, names[3], names[4], "rotor")

    def indicator(self, ident: str, indicator: Indicator) -> None:
        spec = indicator.spec
        for name, one in inputs_of(indicator):
            names = list(one.terminals or ())
            if one.principle in ("synchro receiver", "synchronous tachometer"):
                if len(names) >= 3:
                    self.star(
                        "indicators",
                        ident,
                        names,
                        float(one.winding_resistance) if one.winding_resistance is not None else None,
                    )
            elif len(names) >= 3 and one.principle in ("voltage", "pulse counter"):
                self.inner("coil", "indicators", ident, names[1], names[2], name, one.inner_resistance)
            elif len(names) >= 2:
                self.inner("coil", "indicators", ident, names[0], names[1], name, one.inner_resistance)
            elif names and one.principle == "series meter" and spec.supply_terminals is not None:
                self.inner("coil", "indicators", ident, spec.supply_terminals[0], names[0], name, one.inner_resistance)
            elif names and (back := return_terminal(indicator)) is not None:
                self.inner("coil", "indicators", ident, names[0], back, name, one.inner_resistance)
        if spec.supply_terminals is not None:
            self.inner("load", "indicators", ident, *spec.supply_terminals, name="supply")
        if indicator.grounding is not None and spec.supply_terminals and spec.supply_terminals[1] != "case":
            self.inner("joint", "indicators", ident, spec.supply_terminals[1], "case", "case", 0.0)

    def supply(self, ident: str, supply: Supply) -> None:
        kind = supply.spec.kind
        names = list(supply.spec.terminals or terminals_of("supplies", supply) or ())
        if kind in ("battery", "alternator", "generator") and len(names) >= 2:
            self.inner(
                "supply", "supplies", ident, names[0], names[1], resistance=supply.spec.inner_resistance
            )
        elif kind in ("breaker", "fuse", "current limiter", "switch", "contactor") and len(names) >= 2:
            self.inner(
                "contact", "supplies", ident, names[0], names[1], resistance=supply.spec.inner_resistance
            )
            if kind == "contactor" and len(names) >= 4:
                self.inner("load", "supplies", ident, names[2], names[3], "coil")

    def ground(self, ident: str, ground: Ground) -> None:
        path: DocPath = ("grounds", ident)
        if ground.kind in ("strap", "bond"):
            if (
                ground.from_ is not None
                and ground.to is not None
                and not (self.gone(ground.from_) or self.gone(ground.to))
            ):
                self.graph.add(
                    Edge(
                        "bond",
                        "grounds",
                        ident,
                        "",
                        self.graph.node_of(ground.from_),
                        self.graph.node_of(ground.to),
                        path,
                        ground.resistance,
                    )
                )
        elif ground.joins is not None and not self.gone(ground.joins):
            self.graph.add(
                Edge(
                    "bond",
                    "grounds",
                    ident,
                    "",
                    ident,
                    self.graph.node_of(ground.joins),
                    path,
                    ground.resistance,
                )
            )

    def junction(self, ident: str, junction: Junction) -> None:
        spec = junction.spec
        names = list(terminals_of("junctions", junction) or ())
        if spec.kind in ("spool", "shunt", "resistor"):
            a, b = (names or ["in", "out"])[:2]
            self.inner("spool", "junctions", ident, a, b, resistance=spec.resistance)
            if spec.kind == "shunt" and len(names) >= 4:
                self.inner("joint", "junctions", ident, a, names[2], "sense", 0.0)
                self.inner("joint", "junctions", ident, b, names[3], "sense", 0.0)
        elif spec.kind == "selector switch":
            poles = {n.split()[-1] for n in names if n.startswith("common")}
            for name in names:
                position, _, pole = name.rpartition(" ")
                if position != "common" and pole in poles:
                    self.inner(
                        "contact",
                        "junctions",
                        ident,
                        f"common {pole}",
                        name,
                        position,
                        spec.contact_resistance,
                        closed=junction.selected == position,
                    )
        elif spec.kind == "averaging block":
            for name in names:
                position, _, pole = name.rpartition(" ")
                if position != "out" and f"out {pole}" in names:
                    self.inner(
                        "joint", "junctions", ident, f"out {pole}", name, position, spec.contact_resistance
                    )
        if junction.mates is not None and junction.mates in self.model.junctions:
            self.mate(ident, junction)

    def mate(self, ident: str, junction: Junction) -> None:
        """Pins of one name meet; ``cavities`` says where they do not."""
        other = self.model.junctions[junction.mates or ""]
        pins = list(terminals_of("junctions", junction) or ())
        there = set(terminals_of("junctions", other) or pins)
        for pin in pins:
            met = (junction.cavities or {}).get(pin, pin)
            if met in there:
                edge = Edge(
                    "joint",
                    "junctions",
                    ident,
                    pin,
                    f"{ident}.{pin}",
                    f"{junction.mates}.{met}",
                    ("junctions", ident),
                    junction.spec.contact_resistance,
                )
                self.graph.add(edge)

    def fitting(self, ident: str, fitting: Fitting) -> None:
        spec = fitting.spec
        if spec.kind not in _PASSES:
            return
        ports = list(spec.ports or spec.terminals or terminals_of("fittings", fitting) or ("in", "out"))
        if spec.kind == "check valve":
            a, b = fitting.flow or (ports[0], ports[-1])
            self.inner("passage", "fittings", ident, a, b)
            return
        closed = spec.kind == "cock" and fitting.position == "closed"
        for port in ports[1:]:
            self.inner("passage", "fittings", ident, ports[0], port, closed=not closed)

    def runs(self) -> None:
        for ident, run in self.model.wire_runs.items():
            if run.status == "removed":
                continue
            if run.from_ is not None and run.to is not None:
                self.conductor(ident, "", run.from_, run.to, ("wire_runs", ident))
            for name, conductor in (run.conductors or {}).items():
                self.conductor(
                    ident, name, conductor.from_, conductor.to, ("wire_runs", ident, "conductors", name)
                )
            shield = run.shield
            if shield is not None:
                ends = [
                    self.graph.node_of(e)
                    for e in (shield.from_, shield.to)
                    if e is not None and e != "open" and not self.gone(e)
                ]
                if len(ends) == 2:
                    self.graph.add(
                        Edge(
                            "shield",
                            "wire_runs",
                            ident,
                            "shield",
                            ends[0],
                            ends[1],
                            ("wire_runs", ident, "shield"),
                            run=run,
                        )
                    )
        for ident, line in self.model.fluid_lines.items():
            if line.status != "removed" and not (self.gone(line.from_) or self.gone(line.to)):
                a, b = self.graph.node_of(line.from_), self.graph.node_of(line.to)
                self.graph.add(
                    Edge("fluid line", "fluid_lines", ident, "", a, b, ("fluid_lines", ident), line=line)
                )

    def conductor(self, ident: str, name: str, a: str, b: str, path: DocPath) -> None:
        if self.gone(a) or self.gone(b):
            return
        run = self.model.wire_runs[ident]
        conductor = (run.conductors or {}).get(name)
        self.graph.add(
            Edge(
                "conductor",
                "wire_runs",
                ident,
                name,
                self.graph.node_of(a),
                self.graph.node_of(b),
                path,
                run=run,
                conductor=conductor,
            )
        )


def return_terminal(indicator: Indicator) -> str | None:
    """The terminal through which a one-terminal input takes its return: supply ground, else the case."""
    if indicator.spec.supply_terminals is not None:
        return indicator.spec.supply_terminals[1]
    return "case" if indicator.grounding is not None else None
