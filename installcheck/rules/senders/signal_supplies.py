"""What feeds a sender suits it: transducers, pick-ups and two-wire loops."""

from __future__ import annotations

from ...analysis import missing
from ...analysis.circuit.measuring_inputs import volts_of
from ...analysis.circuit.solved import circuit
from ...analysis.circuit.supplied import across
from ...analysis.missing import Missing
from ...analysis.power.fed import off_on_purpose
from ...analysis.power.wiring import system_voltage
from ...analysis.sender_pairs import Pair, carries_on, pairs
from ...analysis.shown import number, text
from ...analysis.study import Study
from ...dataclass import dataclass
from ...graph.walk import Walk
from ...model.devices import InputSpec, Sender
from ...model.installation import inputs_of, split_end
from ...model.power import SOURCES
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
    formula="lowest supply <= volts at the sender in the solved network <= highest supply",
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
    return _Feed(left, f"{pair.name} at 20 mA through {plain_number(float(inner))} ohm")


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
    needs = sender.spec.supply_voltage
    solved = _solved(study, ident)
    if solved and needs is not None:
        volts, where = min(solved, key=lambda got: min(got[0] - needs.lowest, needs.highest - got[0]))
        return _Feed(volts, f"{there} ({where})")
    given = system_voltage(study)
    return _Feed(
        given if given is not None else study.model.supplies[there].spec.voltage,
        there,
        missing.SYSTEM_VOLTAGE,
    )


def _solved(study: Study, ident: str) -> list[tuple[float, str]]:
    """Volts across a sender's supply at every point but while an engine is started or a supply is dead, with its name."""
    edge = next((e for e in study.graph.by_thing.get(("senders", ident), ()) if e.kind == "load"), None)
    if edge is None:
        return []
    points = [p for p in study.points if not off_on_purpose(p)]
    found = [(across(circuit(study, p), edge), p.name) for p in points]
    return [(volts, name) for volts, name in found if volts is not None and volts > 0]


def _inputs(study: Study, indicator: str, terminal: str) -> list[InputSpec]:
    """Inputs that hold a terminal; all of an indicator whose terminals are shared by its inputs."""
    all_of = [spec for _, spec in inputs_of(study.model.indicators[indicator])]
    return [s for s in all_of if terminal in (s.terminals or ())] or all_of


def _reaches(study: Study, start: str) -> str | None:
    """The terminal of an indicator that feeds a sender, or the source, that the sender's supply terminal reaches."""
    return Walk([start], study.graph.at, lambda e, there: carries_on(study, e, there)).first(
        lambda node: _feeds(study, node)
    )


def _feeds(study: Study, node: str) -> bool:
    ident, terminal = split_end(node)
    indicator = study.model.indicators.get(ident)
    if indicator is not None:
        return terminal not in (indicator.spec.supply_terminals or ())
    supply = study.model.supplies.get(ident)
    return supply is not None and supply.spec.kind in ("bus", *SOURCES)
