"""What each thing adds to the graph: the inside of a sender, gauge, plug or tee, and how it reaches ground."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping

from ..document.source import DocPath
from ..model.devices import Indicator, Probe, Sender
from ..model.fluid import Fitting
from ..model.installation import (
    Installation,
    Thing,
    inputs_of,
    is_one_point,
    split_end,
    switched,
    terminals_of,
)
from ..model.power import SOURCES, Ground, Load, Supply
from ..model.things import Grounding
from ..model.wiring import Junction
from .edges import Edge, EdgeKind
from .multigraph import node_of

_CLOSED_FITTINGS = frozenset(("cap", "plug", "drain"))
"""Fittings that let nothing through; one of unknown kind is taken to let everything through."""
_THREE_WIRE = frozenset(("pressure transducer", "pulse pick-up"))
"""Senders whose three terminals are supply, signal and return."""


class Insides:
    """The insides of things.

    Args:
        model: what is in the aircraft.
        used: tells terminals that runs and lines name, of things whose own terminals the document does not name.
    """

    def __init__(self, model: Installation, used: Callable[[], Mapping[str, list[str]]]) -> None:
        self.model, self.used = model, used
        self.found: list[Edge | str] = []

    def gone(self, end: str) -> bool:
        """Whether an end belongs to something this change removes."""
        return self.model.find(split_end(end)[0]) is None

    def names(self, section: str, ident: str, thing: Thing) -> list[str]:
        """Terminals of a thing: those it names, else those that are used."""
        named = terminals_of(section, thing)
        return list(named) if named is not None else self.used().get(ident, [])

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
    ) -> None:
        """Join two terminals of one thing."""
        one, other = (f"{ident}.{t}" if t else ident for t in (a, b))
        self.found.append(Edge(kind, section, ident, name, one, other, (section, ident), resistance, closed))

    def grounding(self, thing: Thing) -> Grounding | None:
        """How the body of a thing reaches ground: as said, else by the engine case a grounded junction stands on."""
        said: Grounding | None = getattr(thing, "grounding", None)
        if said is not None or not isinstance(thing, Probe) or thing.spec.junction != "grounded":
            return said
        cases = {i: g for i, g in self.model.grounds.items() if g.kind == "engine case" and not self.gone(i)}
        near = [
            i for i, g in cases.items() if len(cases) == 1 or (g.zone is not None and g.zone == thing.zone)
        ]
        return Grounding(to=near[0]) if len(near) == 1 else None

    def of(self, section: str, ident: str, thing: Thing) -> list[Edge | str]:
        """Every node and edge one thing adds."""
        self.found = []
        self._add(section, ident, thing)
        return self.found

    def _add(self, section: str, ident: str, thing: Thing) -> None:
        if is_one_point(thing):
            self.found.append(ident)
        else:
            for terminal in terminals_of(section, thing) or ():
                self.found.append(f"{ident}.{terminal}")
        grounding = self.grounding(thing)
        if grounding is not None and not self.gone(grounding.to):
            ground, path = node_of(self.model, grounding.to), (section, ident, "grounding")
            self.found.append(
                Edge("bond", section, ident, "case", f"{ident}.case", ground, path, grounding.resistance)
            )
        if isinstance(thing, (Sender, Fitting)):
            self.ports(section, ident, thing)
        if isinstance(thing, Sender):
            self.sender(ident, thing)
        elif isinstance(thing, Indicator):
            self.indicator(ident, thing)
        elif isinstance(thing, Probe):
            self.probe(ident, thing)
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
                names = names or self.names(section, ident, thing) or ["in"]
            own, other = f"{ident}.{(names or ['P'])[0]}", node_of(self.model, thing.screwed_into)
            self.found.append(
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
            self.star("senders", ident, names, spec.winding_resistance)
        elif spec.principle in _THREE_WIRE and len(names) >= 3:
            self.inner("load", "senders", ident, names[0], names[2], "supply")
            self.inner("element", "senders", ident, names[1], names[2])
        else:
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
        spec, section = indicator.spec, "indicators"
        for name, one in inputs_of(indicator):
            names, inner = list(one.terminals or ()), one.inner_resistance
            if one.principle in ("synchro receiver", "synchronous tachometer"):
                if len(names) >= 3:
                    self.star(section, ident, names, one.winding_resistance)
            elif len(names) >= 3 and one.principle in ("voltage", "pulse counter"):
                self.inner("coil", section, ident, names[1], names[2], name, inner)
            elif len(names) >= 2:
                self.inner("coil", section, ident, names[0], names[1], name, inner)
            elif names and one.principle == "series meter" and spec.supply_terminals is not None:
                self.inner("coil", section, ident, spec.supply_terminals[0], names[0], name, inner)
            elif names and (back := return_terminal(indicator)) is not None:
                self.inner("coil", section, ident, names[0], back, name, inner)
        if spec.supply_terminals is not None:
            self.inner("load", section, ident, *spec.supply_terminals, name="supply")
        if indicator.grounding is not None and spec.supply_terminals and spec.supply_terminals[1] != "case":
            self.inner("joint", section, ident, spec.supply_terminals[1], "case", "case", 0.0)

    def probe(self, ident: str, probe: Probe) -> None:
        a, b = (*(probe.spec.terminals or ("+", "-")), "case")[:2]
        self.inner("couple", "probes", ident, a, b, resistance=probe.spec.resistance)
        if self.grounding(probe) is not None and probe.spec.junction != "isolated" and b != "case":
            self.inner("joint", "probes", ident, b, "case", "junction", 0.0)

    def supply(self, ident: str, supply: Supply) -> None:
        spec, section = supply.spec, "supplies"
        names = list(spec.terminals or terminals_of(section, supply) or ())
        if spec.kind == "bus" and spec.voltage is not None:
            self._held(ident)
        if len(names) < 2:
            return
        if spec.kind in SOURCES:
            self.inner("supply", section, ident, names[0], names[1], resistance=spec.inner_resistance)
        elif spec.kind in ("breaker", "fuse", "current limiter", "switch", "contactor"):
            self.inner("contact", section, ident, names[0], names[1], resistance=spec.inner_resistance)
            if spec.kind == "contactor" and len(names) >= 4:
                self.inner("load", section, ident, names[2], names[3], "coil")

    def _held(self, ident: str) -> None:
        """A bus of stated voltage is held at it against the structure, where the document tells of no source."""
        model = self.model
        if any(s.spec.kind in SOURCES for s in model.supplies.values()):
            return
        grounds = [i for i, g in model.grounds.items() if g.kind not in ("strap", "bond")]
        structure = next((i for i in grounds if model.grounds[i].kind == "structure"), None)
        if (ground := structure or next(iter(grounds), None)) is not None:
            self.found.append(Edge("supply", "supplies", ident, "", ident, ground, ("supplies", ident)))

    def ground(self, ident: str, ground: Ground) -> None:
        ends = [ground.from_, ground.to] if ground.kind in ("strap", "bond") else [ident, ground.joins]
        a, b = (node_of(self.model, e) if e is not None and not self.gone(e) else None for e in ends)
        if a is not None and b is not None:
            self.found.append(Edge("bond", "grounds", ident, "", a, b, ("grounds", ident), ground.resistance))

    def junction(self, ident: str, junction: Junction) -> None:
        spec, section = junction.spec, "junctions"
        names = self.names(section, ident, junction)
        if spec.kind in ("spool", "shunt", "resistor") and len(names) >= 2:
            self.inner("spool", section, ident, names[0], names[1], resistance=spec.resistance)
            if spec.kind == "shunt" and len(names) >= 4:
                self.inner("joint", section, ident, names[0], names[2], "sense", 0.0)
                self.inner("joint", section, ident, names[1], names[3], "sense", 0.0)
        elif spec.kind == "selector switch":
            for position, common, name in switched(names, "common"):
                closed = junction.selected == position
                self.inner(
                    "contact", section, ident, common, name, position, spec.contact_resistance, closed=closed
                )
        elif spec.kind == "averaging block":
            for position, out, name in switched(names, "out"):
                self.inner("joint", section, ident, out, name, position, spec.contact_resistance)
        elif spec.kind == "disconnect" and len(names) == 2 and not self.mated(ident, junction):
            self.inner("joint", section, ident, names[0], names[1], resistance=spec.contact_resistance)
        elif spec.kind == "splice" and spec.pins:
            for pole in dict.fromkeys(name.split()[-1] for name in names):
                first, *others = [name for name in names if name.split()[-1] == pole]
                for name in others:
                    self.inner("joint", section, ident, first, name, pole, spec.contact_resistance)
        self.mate(ident, junction)

    def mated(self, ident: str, junction: Junction) -> bool:
        """Whether a joint meets another, told at one of the two; a disconnect that does not is both its halves."""
        return junction.mates is not None or any(j.mates == ident for j in self.model.junctions.values())

    def mate(self, ident: str, junction: Junction) -> None:
        """Join the pins of a plug to those of its mate, told at one of the two or at both."""
        mate = self.model.junctions.get(junction.mates or "")
        if mate is None or junction.mates is None or self.gone(junction.mates):
            return
        told_twice = mate.mates == ident
        if told_twice and not junction.cavities and (mate.cavities or ident > junction.mates):
            return
        for pin, met in self.meeting(ident, junction, junction.mates, mate):
            here, there = f"{ident}.{pin}", f"{junction.mates}.{met}"
            path: DocPath = ("junctions", ident)
            self.found.append(
                Edge("joint", "junctions", ident, pin, here, there, path, junction.spec.contact_resistance)
            )

    def meeting(
        self, ident: str, junction: Junction, other: str, mate: Junction
    ) -> Iterator[tuple[str, str]]:
        """Pins that meet: those of one name, but where ``cavities`` says otherwise."""
        own, there = terminals_of("junctions", junction), terminals_of("junctions", mate)
        pins = own or there or dict.fromkeys([*self.used().get(ident, ()), *self.used().get(other, ())])
        moved = junction.cavities or {}
        for pin in dict.fromkeys([*pins, *moved]):
            met = moved.get(pin, pin)
            if pin and met is not None and (there is None or met in there):
                yield pin, met

    def fitting(self, ident: str, fitting: Fitting) -> None:
        spec, section = fitting.spec, "fittings"
        ports = list(spec.ports or spec.terminals or self.names(section, ident, fitting))
        if spec.kind in _CLOSED_FITTINGS or len(ports) < 2:
            return
        if spec.kind == "check valve":
            a, b = fitting.flow or (ports[0], ports[-1])
            self.inner("passage", section, ident, a, b)
            return
        closed = spec.kind == "cock" and fitting.position == "closed"
        for port in ports[1:]:
            self.inner("passage", section, ident, ports[0], port, closed=not closed)


def return_terminal(indicator: Indicator) -> str | None:
    """The terminal through which a one-terminal input takes its return: supply ground, else the case."""
    if indicator.spec.supply_terminals is not None:
        return indicator.spec.supply_terminals[1]
    return "case" if indicator.grounding is not None else None
