"""Signal terminals of indicators: none joined to what feeds the aircraft."""

from __future__ import annotations

from ...analysis.sender_pairs import carries_on
from ...analysis.study import Study
from ...dataclass import dataclass
from ...document.source import DocPath
from ...graph.walk import Walk
from ...model.devices import InputSpec, Sender
from ...model.installation import split_end
from ...model.power import SOURCES
from ..verdicts import Verdict
from ..vocabulary import Subject, rule

_AT_THE_BUS = frozenset(("bus voltage", "load current"))
"""Measures whose input is meant to be joined to the bus: of the voltage itself, or of a shunt in the feed."""
_LIVE = frozenset(("bus", *SOURCES))


@dataclass(frozen=True, slots=True)
class Signal:
    """An input of an indicator, and its terminals that take a signal."""

    indicator: str
    name: str
    terminals: tuple[str, ...]

    @property
    def ident(self) -> str:
        """Id of the indicator."""
        return self.indicator

    @property
    def path(self) -> DocPath:
        """Where the document tells of it."""
        return ("indicators", self.indicator, *(("inputs", self.name) if self.name else ()))


def _signals(study: Study) -> list[Signal]:
    """Every input by wire but warning lights, synchro receivers and what is meant to be joined to the bus."""
    found = []
    for ident, indicator in study.model.indicators.items():
        supply = indicator.spec.supply_terminals or ()
        for name, spec in study.inputs(ident):
            taken = tuple(t for t in _signal_terminals(spec) if t not in supply)
            if taken and spec.measures not in _AT_THE_BUS:
                found.append(Signal(ident, name, taken))
    return found


def _signal_terminals(spec: InputSpec) -> list[str]:
    """Terminals of an input that take a signal; of a voltage input or a loop the first may feed the sender."""
    names = list(spec.terminals or ())
    if spec.principle in (None, "warning light", "synchro receiver"):
        return []
    if spec.principle == "voltage":
        return names[1:] if len(names) > 2 else names
    if spec.principle == "current loop":
        return names[1:2] if len(names) > 1 else names
    return names


@rule(
    "signal-off-the-bus",
    title="No signal terminal of an indicator is joined to a bus, a battery or an alternator",
    why="The whole voltage of the aircraft on a signal terminal burns the input, or holds the pointer at its stop.",
    source="plain physics; inputs are made for the signal of a sender",
    formula="no way through wires, joints and closed contacts from a signal terminal to a bus or the positive of a source",
    example="feed of the next gauge taken from the S stud of an oil pressure gauge",
    over=_signals,
)
def signal_off_the_bus(study: Study, subject: Subject, signal: Signal) -> Verdict | None:
    """An input that a wire meets."""
    wired = False
    for terminal in signal.terminals:
        start = f"{signal.indicator}.{terminal}"
        walk = Walk([start], study.graph.at, lambda e, there: carries_on(study, e, there))
        wired = wired or any(e.kind == "conductor" for e in study.graph.at(start))
        live = walk.first(lambda node: _is_live(study, node))
        if live is not None:
            runs = dict.fromkeys(s.edge.ident for s in walk.way(live) if s.edge.kind == "conductor")
            told = f"the signal terminal {terminal} of {f'{signal.indicator} {signal.name}'.strip()} is joined to {live}"
            return subject.along(*runs).discrepancy(
                told, remedy=f"take {terminal} off {live}, and join it to its sender alone"
            )
    name = f"{signal.indicator} {signal.name}".strip()
    return subject.meets(f"no signal terminal of {name} is joined to a supply") if wired else None


_PASSIVE = frozenset(("resistive", "thermistor", "resistance bulb"))
"""Senders that are fed through their indicator alone."""


@rule(
    "sender-off-the-bus",
    title="No resistive sender or bulb is joined to a bus, a battery or an alternator",
    why="A sender is made for the few milliamperes of its indicator: the whole voltage of the aircraft burns its element, and the "
    "indicator beside it reads nothing.",
    source="plain physics; a sender stands in series with its indicator",
    formula="no way through wires, joints and closed contacts from a terminal of the sender to a bus or the positive of a source",
    example="the lead of an oil temperature sender put on the power stud of its gauge",
    over="senders",
)
def sender_off_the_bus(study: Study, subject: Subject, sender: Sender) -> Verdict | None:
    """A resistive sender, a thermistor or a bulb that a wire meets."""
    if sender.spec.principle not in _PASSIVE:
        return None
    nodes = [f"{subject.ident}.{t}" for t in sender.spec.terminals or ()]
    wired = [n for n in nodes if any(e.kind == "conductor" for e in study.graph.at(n))]
    for start in wired:
        walk = Walk([start], study.graph.at, lambda e, there: carries_on(study, e, there))
        live = walk.first(lambda node: _is_live(study, node))
        if live is not None:
            runs = dict.fromkeys(s.edge.ident for s in walk.way(live) if s.edge.kind == "conductor")
            return subject.along(*runs).discrepancy(
                f"{start} is joined to {live}, with no indicator between",
                remedy=f"take {start} off {live}, and join it to the signal terminal of its indicator",
            )
    return subject.meets(f"no terminal of {subject.ident} is joined to a supply") if wired else None


def _is_live(study: Study, node: str) -> bool:
    ident, terminal = split_end(node)
    supply = study.model.supplies.get(ident)
    if supply is None or supply.spec.kind not in _LIVE:
        return False
    return supply.spec.kind == "bus" or terminal == (supply.spec.terminals or ["+"])[0]
