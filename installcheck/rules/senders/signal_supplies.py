"""What feeds a sender suits it: transducers, pick-ups and two-wire loops."""

from __future__ import annotations

from collections import deque
from dataclasses import dataclass

from ...analysis import missing
from ...analysis.circuit.measuring_inputs import volts_of
from ...analysis.missing import Missing
from ...analysis.sender_pairs import Pair, pairs
from ...analysis.shown import number, text
from ...analysis.study import Study
from ...graph.edges import CARRIES_SIGNAL
from ...model.devices import InputSpec, Sender
from ...model.installation import inputs_of, split_end
from ...model.quantities import plain_number
from ..verdicts import Verdict
from ..vocabulary import Subject, rule

_LOOP_A = 0.020
"""Full-scale current of a 4-20 mA loop [A]."""


@dataclass(frozen=True, slots=True)
class _Feed:
    """What feeds a sender: volts, in words what does, or what is missing; ``dead`` where the wire ends nowhere."""

    volts: float | None
    words: str
    missing: Missing = missing.SENDER_SUPPLY
    dead: bool = False


@rule(
    "sender-supply",
    title="A sender gets the supply it is made for",
    why="A 5 V transducer on the 14 V bus is burnt; a loop transmitter with too little voltage left cannot drive full scale.",
    source="the sender's own limits; for a two-wire loop V = excitation - 20 mA x inner resistance",
    formula="lowest supply <= volts at the sender <= highest supply",
    example="14 V through 250 ohm at 20 mA: 9 V left, against 9 V needed",
    over="senders",
)
def sender_supply(study: Study, subject: Subject, sender: Sender) -> Verdict | None:
    """A sender that states the supply it needs."""
    needs, ident = sender.spec.supply_voltage, subject.ident
    if needs is None or not sender.spec.terminals:
        return None
    reader = next((p for p in pairs(study) if p.source == ident), None)
    loop = reader is not None and reader.reads.principle == "current loop"
    feed = _loop(study, reader) if reader is not None and loop else _feed(study, ident, sender)
    span = f"{text(needs.lowest, needs.lowest)} to {text(needs.highest, needs.highest)}"
    if feed.dead:
        return subject.discrepancy(
            f"{ident} is dead: its supply terminal {sender.spec.terminals[0]} reaches no source",
            remedy=f"feed it {span}",
        )
    if feed.volts is None:
        return subject.lacks(feed.missing)
    low = feed.volts - needs.lowest < needs.highest - feed.volts
    end = needs.lowest if low else needs.highest
    subject = subject.field("supply_voltage")
    compare = subject.at_least if low else subject.at_most
    return compare(
        number(feed.volts, end),
        number(end, end),
        end.unit,
        f"{ident} gets {text(feed.volts, end)} from {feed.words}, and needs {span}",
        remedy=f"feed it {span}, as the indicator made for it does",
    )


def _loop(study: Study, pair: Pair) -> _Feed:
    system, inner = study.model.aircraft.system_voltage, pair.reads.inner_resistance
    drives = pair.reads.excitation if pair.reads.excitation is not None else system
    if drives is None or inner is None:
        return _Feed(None, "", missing.INDICATOR_LOOP)
    left = float(drives) - _LOOP_A * float(inner)
    return _Feed(left, f"{pair.ident} at 20 mA through {plain_number(float(inner))} ohm")


def _feed(study: Study, ident: str, sender: Sender) -> _Feed:
    start = f"{ident}.{(sender.spec.terminals or ['+'])[0]}"
    end = _reaches(study, start)
    if end is None:
        return _Feed(None, "", dead=any(e.kind == "conductor" for e in study.graph.at(start)))
    there, terminal = split_end(end)
    if there in study.model.indicators:
        stated = next(
            (s.excitation for s in _inputs(study, there, terminal) if s.excitation is not None), None
        )
        volts = float(stated) if stated is not None else volts_of(terminal)
        return _Feed(volts, f"{there}.{terminal}", missing.INDICATOR_EXCITATION)
    system = study.model.aircraft.system_voltage
    given = system if system is not None else study.model.supplies[there].spec.voltage
    return _Feed(None if given is None else float(given), there, missing.SYSTEM_VOLTAGE)


def _inputs(study: Study, indicator: str, terminal: str) -> list[InputSpec]:
    """Inputs that hold a terminal; all of an indicator whose terminals are shared by its inputs."""
    all_of = [spec for _, spec in inputs_of(study.model.indicators[indicator])]
    return [s for s in all_of if terminal in (s.terminals or ())] or all_of


def _reaches(study: Study, start: str) -> str | None:
    """The terminal of an indicator, or the source, that a sender's supply terminal reaches."""
    seen, queue = {start}, deque([start])
    while queue:
        here = queue.popleft()
        ident = split_end(here)[0]
        if ident in study.model.indicators:
            return here
        supply = study.model.supplies.get(ident)
        if supply is not None and supply.spec.kind in ("bus", "battery", "alternator", "generator"):
            return here
        for edge in study.graph.at(here):
            there = edge.other(here)
            if (
                edge.kind in CARRIES_SIGNAL
                and edge.closed
                and there not in seen
                and not study.graph.is_ground(there)
            ):
                seen.add(there)
                queue.append(there)
    return None
