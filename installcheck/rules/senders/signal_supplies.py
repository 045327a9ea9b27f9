"""What feeds a sender suits it: transducers, pick-ups and two-wire loops."""

from __future__ import annotations

from collections import deque
from collections.abc import Iterator
from dataclasses import dataclass

from ...analysis.circuit.measuring_inputs import volts_of
from ...analysis.shown import number, text, width
from ...analysis.study import Study
from ...document.source import DocPath
from ...graph.edges import CARRIES_SIGNAL
from ...graph.indications import Indication
from ...model.devices import InputSpec, Sender
from ...model.installation import inputs_of, split_end
from ...model.quantities import Quantity, plain_number
from ..verdicts import (
    Verdict,
    discrepancy,
    meets,
    undetermined,
)
from ..vocabulary import rule

SUPPLY = "wiring of the sender's supply"
EXCITATION = "voltage the indicator feeds its sender with ('excitation')"
SYSTEM = "system voltage of the aircraft"
LOOP = "inner resistance and excitation of the loop input"

_LOOP_A = 0.020
"""Full-scale current of a 4-20 mA loop [A]."""


def _supplied(study: Study) -> list[tuple[str, Sender]]:
    return [
        (i, s)
        for i, s in study.model.senders.items()
        if s.spec.supply_voltage is not None and s.spec.terminals
    ]


@dataclass(frozen=True, slots=True)
class _Feed:
    """What feeds a sender: volts, in words what does, or what is missing; ``dead`` where the wire ends nowhere."""

    volts: float | None
    words: str
    missing: str = ""
    dead: bool = False


@rule(
    "sender-supply",
    title="A sender gets the supply it is made for",
    why="A 5 V transducer on the 14 V bus is burnt; a loop transmitter with too little voltage left cannot drive full scale.",
    source="the sender's own limits; for a two-wire loop V = excitation - 20 mA x inner resistance",
    formula="lowest supply <= volts at the sender <= highest supply",
    example="14 V through 250 ohm at 20 mA: 9 V left, against 9 V needed",
    over=lambda study: [i for i, _ in _supplied(study)],
)
def sender_supply(study: Study) -> Iterator[Verdict]:
    """Every sender that states the supply it needs."""
    readers: dict[str, Indication] = {}
    for one in study.indications:
        readers.setdefault(one.source, one)
    for ident, sender in _supplied(study):
        needs = sender.spec.supply_voltage
        if needs is None:
            continue
        at, path = (ident,), ("senders", ident)
        reader = readers.get(ident)
        loop = reader is not None and reader.spec.principle == "current loop"
        feed = _loop(study, reader) if reader is not None and loop else _feed(study, ident, sender)
        if feed.dead:
            yield discrepancy(
                at,
                path,
                f"{ident} is dead: its supply terminal {(sender.spec.terminals or ['+'])[0]} reaches no source",
                remedy=f"feed it {text(needs.lowest, needs.lowest)} to {text(needs.highest, needs.highest)}",
            )
        elif feed.volts is None:
            yield undetermined(at, path, feed.missing)
        else:
            yield _volts(at, (*path, "supply_voltage"), ident, needs.lowest, needs.highest, feed)


def _volts(
    at: tuple[str, ...], path: DocPath, ident: str, lowest: Quantity, highest: Quantity, feed: _Feed
) -> Verdict:
    volts = feed.volts or 0.0
    low, high = volts - lowest, highest - volts
    end, room = (lowest, low) if low < high else (highest, high)
    figures = {
        "value": number(volts, end),
        "limit": number(end, end),
        "margin": width(room, end),
        "unit": end.unit,
    }
    span = f"{text(lowest, end)} to {text(highest, end)}"
    told = f"{ident} gets {text(volts, end)} from {feed.words}, and needs {span}"
    # The last digit of a nominal voltage is not held against it.
    if room >= -1e-6:
        return meets(at, path, told, **figures)
    return discrepancy(at, path, told, remedy=f"feed it {span}, as the indicator made for it does", **figures)


def _loop(study: Study, one: Indication) -> _Feed:
    system = study.model.aircraft.system_voltage
    drives = one.spec.excitation if one.spec.excitation is not None else system
    inner = one.spec.inner_resistance
    if drives is None or inner is None:
        return _Feed(None, "", LOOP)
    return _Feed(
        float(drives) - _LOOP_A * float(inner),
        f"{one.name} at 20 mA through {plain_number(float(inner))} ohm",
    )


def _feed(study: Study, ident: str, sender: Sender) -> _Feed:
    start = f"{ident}.{(sender.spec.terminals or ['+'])[0]}"
    end = _reaches(study, start)
    if end is None:
        wired = any(e.kind == "conductor" for e in study.graph.at(start))
        return _Feed(None, "", SUPPLY, dead=wired)
    there, terminal = split_end(end)
    if there in study.model.indicators:
        named = volts_of(terminal)
        stated = next(
            (s.excitation for s in _inputs(study, there, terminal) if s.excitation is not None), None
        )
        volts = float(stated) if stated is not None else named
        return _Feed(volts, f"{there}.{terminal}", "" if volts is not None else EXCITATION)
    supply = study.model.supplies[there]
    system = study.model.aircraft.system_voltage
    given = system if system is not None else supply.spec.voltage
    return _Feed(float(given) if given is not None else None, there, "" if given is not None else SYSTEM)


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
