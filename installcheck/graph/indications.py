"""From each indicator input back to what it reads: the legs of the signal, joint by joint."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence

from ..dataclass import dataclass
from ..document.source import DocPath
from ..model.devices import Indicator, InputSpec, Probe, Sender
from ..model.fields import Measure
from ..model.installation import inputs_of, terminals_of
from .edges import CARRIES_SIGNAL, Edge
from .insides import return_terminal
from .multigraph import Graph
from .walk import Step, Walk
from .ways import Grounds, ground_path

_ENDS = frozenset(("senders", "probes", "indicators", "supplies", "loads"))
"""Sections whose things end a leg."""

__all__ = ["Indication", "Leg", "Step", "Unread", "indications", "measure_of", "source_of"]


@dataclass(frozen=True, slots=True)
class Leg:
    """One conductor path of an indication.

    Attributes:
        terminal: the indicator's terminal it starts at.
        reaches: node at the sender or probe it ends at.
        steps: its edges, from the indicator to the sender.
    """

    terminal: str
    reaches: str
    steps: tuple[Step, ...]

    @property
    def through_ground(self) -> bool:
        """Whether the leg runs through ground points or structure."""
        return any(s.edge.kind == "bond" for s in self.steps)


@dataclass(frozen=True, slots=True)
class Indication:
    """One sender or probe read by one input of one indicator.

    Attributes:
        indicator, input: id of the indicator and name of its input.
        spec: the input.
        section, source: ``senders`` or ``probes``, and the id of what is read.
        legs: one leg for each terminal of the input that reaches the source.
        position: selector position that connects this source, if a selector stands between.
        averaged: whether several probes feed the input together.
    """

    indicator: str
    input: str
    spec: InputSpec
    section: str
    source: str
    legs: tuple[Leg, ...]
    position: str | None = None
    averaged: bool = False

    @property
    def runs(self) -> tuple[str, ...]:
        """Ids of the runs of its legs, each once, from the indicator."""
        steps = (step.edge for leg in self.legs for step in leg.steps)
        return tuple(dict.fromkeys(edge.ident for edge in steps if edge.kind == "conductor"))

    @property
    def ident(self) -> str:
        """Id of the indicator."""
        return self.indicator

    @property
    def key(self) -> tuple[str, str, str, str]:
        """Indicator, input, section and source: no two indications have the same."""
        return self.indicator, self.input, self.section, self.source

    @property
    def name(self) -> str:
        """``head gauge``, ``monitor oil temperature``."""
        return f"{self.indicator} {self.input}".strip()

    @property
    def path(self) -> DocPath:
        """Where the document tells of the input."""
        return (
            ("indicators", self.indicator, "inputs", self.input)
            if self.input
            else ("indicators", self.indicator)
        )

    def leg_to(self, node: str) -> Leg | None:
        """The leg that reaches a terminal of the source."""
        return next((leg for leg in self.legs if leg.reaches == node), None)


@dataclass(frozen=True, slots=True)
class Unread:
    """An indicator input whose terminals reach no sender or probe."""

    indicator: str
    input: str
    spec: InputSpec
    open_terminals: tuple[str, ...]

    @property
    def path(self) -> DocPath:
        """Where the document tells of the input."""
        return (
            ("indicators", self.indicator, "inputs", self.input)
            if self.input
            else ("indicators", self.indicator)
        )


def indications(graph: Graph) -> tuple[list[Indication], list[Unread]]:
    """Every indication of the installation, and every electrical input that reads nothing.

    Cost: linear in the nets the inputs touch; ground points end a search, so a common ground is not walked.
    """
    found: list[Indication] = []
    unread: list[Unread] = []
    grounds: Grounds = {}
    for ident, indicator in graph.model.indicators.items():
        shared: dict[str, list[tuple[str, tuple[Step, ...]]]] = {}
        for name, spec in inputs_of(indicator):
            terminals = _signal_terminals(indicator, spec)
            if not terminals:
                continue
            for terminal in terminals:
                if terminal not in shared:
                    shared[terminal] = list(_walk(graph, f"{ident}.{terminal}"))
            made = list(_of_input(graph, ident, name, spec, {t: shared[t] for t in terminals}, grounds))
            found += made
            if not made:
                unread.append(Unread(ident, name, spec, tuple(terminals)))
    return found, unread


def _signal_terminals(indicator: Indicator, spec: InputSpec) -> list[str]:
    names = list(spec.terminals or ())
    if spec.principle in ("synchro receiver", "synchronous tachometer"):
        return names[:3]
    back = return_terminal(indicator)
    if len(names) == 1 and back is not None:
        names.append(back)
    return names


def _of_input(
    graph: Graph,
    ident: str,
    name: str,
    spec: InputSpec,
    walks: Mapping[str, Sequence[tuple[str, tuple[Step, ...]]]],
    grounds: Grounds,
) -> Iterator[Indication]:
    reached: dict[tuple[str, str], list[Leg]] = {}
    positions: dict[tuple[str, str], str] = {}
    for terminal, walk in walks.items():
        for node, steps in walk:
            data = graph.nodes[node]
            key = (data["section"], data["ident"])
            legs = reached.setdefault(key, [])
            if not any(leg.terminal == terminal for leg in legs):
                legs.append(Leg(terminal, node, steps))
            for step in steps:
                if step.edge.kind == "contact" and step.edge.section == "junctions":
                    positions.setdefault(key, step.edge.name)
    direct = {key for key in reached if key[0] == "probes" and key not in positions}
    sharing = Counter(leg.terminal for key in direct for leg in reached[key])
    for key, legs in reached.items():
        section, source = key
        whole = _with_return(graph, ident, list(walks), section, source, legs, grounds)
        averaged = key in direct and any(sharing[leg.terminal] > 1 for leg in legs)
        yield Indication(ident, name, spec, section, source, whole, positions.get(key), averaged)


def _walk(graph: Graph, start: str) -> Iterator[tuple[str, tuple[Step, ...]]]:
    """Terminals of senders and probes reached from ``start``, nearest first; ground points are not passed."""
    nodes = graph.nodes

    def passes(edge: Edge, there: str) -> bool:
        switched = edge.kind == "contact" and edge.section == "supplies"
        return edge.kind in CARRIES_SIGNAL and not switched and not graph.is_ground(there)

    def stops(node: str) -> bool:
        # Two wires on one terminal of another indicator are joined there, whatever is inside it.
        return node != start and nodes[node]["section"] in _ENDS and nodes[node]["section"] != "indicators"

    walk = Walk([start], graph.at, passes, stops)
    for node in walk:
        if node != start and nodes[node]["section"] in ("senders", "probes"):
            yield node, walk.way(node)


def _with_return(
    graph: Graph,
    ident: str,
    terminals: Sequence[str],
    section: str,
    source: str,
    legs: Sequence[Leg],
    grounds: Grounds,
) -> tuple[Leg, ...]:
    """The legs with the one through ground, where a terminal of the source is joined to ground and not by a leg."""
    thing = graph.model.senders[source] if section == "senders" else graph.model.probes[source]
    names = list(thing.spec.terminals or terminals_of(section, thing) or ())
    if _case_is_terminal(thing):
        names = ["case", *(n for n in names if n != "case")]
    arrived, used = {leg.reaches for leg in legs}, {leg.terminal for leg in legs}
    ends = [end for name in names if (end := f"{source}.{name}") not in arrived]
    for terminal in terminals:
        if terminal in used:
            continue
        for end in ends:
            steps = ground_path(graph, f"{ident}.{terminal}", end, grounds)
            if steps is not None:
                return (*legs, Leg(terminal, end, steps))
    return tuple(legs)


def _case_is_terminal(thing: Sender | Probe) -> bool:
    if isinstance(thing, Probe):
        return thing.grounding is not None and thing.spec.junction != "isolated"
    return bool(thing.spec.case_return)


def source_of(graph: Graph, indication: Indication) -> Sender | Probe:
    """The sender or probe an indication reads."""
    found: Sender | Probe = getattr(graph.model, indication.section)[indication.source]
    return found


def measure_of(graph: Graph, indication: Indication) -> Measure | None:
    """What an indication is of: as its input says, else its sender, else its probe."""
    if indication.spec.measures is not None:
        return indication.spec.measures
    source = source_of(graph, indication)
    return source.spec.measures if isinstance(source, Sender) else source.measures
