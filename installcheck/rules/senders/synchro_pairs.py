"""Synchro pairs: excited alike from one source, and joined lead for lead."""

from __future__ import annotations

from ...analysis import missing
from ...analysis.circuit.assembly import wired
from ...analysis.sender_pairs import Pair, carries_on, lead_order, synchros
from ...analysis.shown import listed, text
from ...analysis.study import Study
from ...graph.walk import Walk
from ...model.comparing import at_most
from ...model.installation import split_end, terminals_of
from ...model.quantities import plain_number
from ...physics.synchros import Sense, synchro_law
from ..verdicts import Verdict
from ..vocabulary import Subject, rule

_EXCITED_ALIKE = 0.02
"""Share by which excitation may differ from what the synchro is made for: our choice."""
_AC_KINDS = frozenset(("inverter", "alternator", "generator"))


def _alike(given: float, made: float) -> bool:
    return at_most(abs(given - made), _EXCITED_ALIKE * made)


@rule(
    "synchro-excitation",
    title="Transmitter and receiver of a synchro are excited alike, from one source",
    why="Rotors on different voltages, frequencies or phases pull the pointer off, turn it round by half a circle, or heat the windings.",
    source="data of both; US Navy NEETS module 15",
    formula="voltage and frequency of both rotors and of their source equal; R1 and R2 of both the same way round",
    example="26 V 400 Hz transmitter with a 115 V receiver: no true indication",
    over=synchros,
)
def synchro_excitation(study: Study, subject: Subject, pair: Pair) -> Verdict:
    """A synchro pair."""
    gives, reads, source, name = pair.gives, pair.reads, pair.source, pair.name
    subject = subject.along(source)
    pairs = (
        (gives.excitation_voltage, reads.excitation_voltage),
        (gives.excitation_frequency, reads.excitation_frequency),
    )
    for a, b in pairs:
        if a is None or b is None:
            return subject.lacks(missing.SENDER_ROTOR)
        if not _alike(a, b):
            return subject.discrepancy(
                f"the rotor of {source} is made for {text(a, b)}, and that of {name} for {text(b, b)}",
                remedy="fit a transmitter and a receiver of one excitation",
            )
    for ident, terminals in _rotor_ends(pair):
        end = _open_end(study, ident, terminals)
        if end is not None:
            return subject.discrepancy(
                f"the rotor of {ident} has no circuit: no wire meets {end}",
                remedy=f"join {end} to the source",
            )
    rotors = _rotors(study, pair)
    if rotors is None:
        return subject.lacks(missing.ROTOR_WIRING)
    theirs, ours = rotors
    if theirs[0] != ours[0]:
        return subject.discrepancy(
            f"the rotor of {source} is fed by {theirs[0]}, and that of {name} by {ours[0]}: not in step",
            remedy="feed both rotors from one source",
        )
    fed = study.model.supplies[ours[0]].spec
    for given, made in ((fed.voltage, gives.excitation_voltage), (fed.frequency, gives.excitation_frequency)):
        if given is not None and made is not None and not _alike(given, made):
            return subject.placed("supplies", ours[0]).discrepancy(
                f"{ours[0]} gives {text(given, made)}, and the rotors are made for {text(made, made)}",
                remedy=f"feed the rotors {text(made, made)}",
            )
    if theirs[1] != ours[1]:
        return subject.at_most(
            180.0,
            0.0,
            "deg",
            f"the rotor leads of {source} and {name} are the other way round: the pointer stands half a circle off",
            remedy="exchange R1 and R2 at one of the two",
        )
    if fed.voltage is None or fed.frequency is None:
        return subject.placed("supplies", ours[0]).lacks(missing.EXCITATION_SOURCE)
    return subject.meets(f"both rotors of {name} are fed by {ours[0]}, the same way round")


def _rotor_ends(pair: Pair) -> list[tuple[str, list[str]]]:
    """Transmitter and receiver with their terminals, the rotor's after those of the stator."""
    theirs = list(terminals_of("senders", pair.sender) or ())
    return [(pair.source, theirs), (pair.indication.indicator, list(pair.reads.terminals or ()))]


def _rotors(study: Study, pair: Pair) -> tuple[tuple[str, bool], tuple[str, bool]] | None:
    """What feeds the rotors of transmitter and receiver, and whether their first leads go to its live side."""
    theirs, ours = (_rotor(study, ident, terminals) for ident, terminals in _rotor_ends(pair))
    return None if theirs is None or ours is None else (theirs, ours)


def _rotor(study: Study, ident: str, terminals: list[str]) -> tuple[str, bool] | None:
    """The source a rotor is fed by, and whether its first lead goes to the live side."""
    if len(terminals) < 5:
        return None
    for first, terminal in zip((True, False), terminals[3:5], strict=True):
        end = _ac(study, f"{ident}.{terminal}")
        if end is not None and end[1]:
            return end[0], first
    return None


def _ac(study: Study, start: str) -> tuple[str, bool] | None:
    """Source of alternating current a terminal reaches, and whether at its live side."""
    reached = Walk([start], study.graph.at, lambda e, there: carries_on(study, e, there)).first(
        lambda node: _is_source(study, node)
    )
    if reached is None:
        return None
    ident, terminal = split_end(reached)
    return ident, terminal in ("out", "+")


def _is_source(study: Study, node: str) -> bool:
    supply = study.model.supplies.get(split_end(node)[0])
    return supply is not None and supply.spec.kind in _AC_KINDS


def _open_end(study: Study, ident: str, terminals: list[str]) -> str | None:
    """An end of a rotor that no wire meets while one meets the other; ``None`` if both or neither are wired."""
    ends = [f"{ident}.{t}" for t in terminals[3:5]]
    bare = [end for end in ends if not wired(study, end)]
    return bare[0] if len(ends) == 2 and len(bare) == 1 else None


@rule(
    "synchro-leads",
    title="The stator leads of a synchro go to the terminals of their own names",
    why="Exchanged leads reverse the pointer, or turn it by a third of a circle.",
    source="US Navy NEETS module 15, tables 1-6 and 1-7",
    formula="reading = zero + angle, or zero - angle, by the order of S1, S2, S3; rotors the other way round add half a circle to zero",
    example="S1 and S3 exchanged: the pointer turns backwards; all moved on by one: 120 degrees off",
    over=synchros,
)
def synchro_leads(study: Study, subject: Subject, pair: Pair) -> Verdict:
    """A synchro pair."""
    subject, order, one = subject.along(pair.source), lead_order(pair), pair.indication
    if order is None:
        joined = len({leg.terminal for leg in one.legs if leg.terminal in (pair.reads.terminals or ())[:3]})
        return subject.discrepancy(
            f"{joined} of three stator leads of {pair.source} reach {one.name}: the pointer cannot follow",
            remedy="join S1, S2 and S3",
        )
    law = synchro_law(order)
    rotors = _rotors(study, pair)
    opposed = rotors is not None and rotors[0][1] != rotors[1][1]
    zero = (law.zero + 180.0 * opposed) % 360
    runs = pair.indication.runs
    leads = f"S1, S2, S3 of {pair.source} go to {', '.join(order)} of {one.name} by {listed(list(runs))}"
    if law.zero == 0 and law.sense is Sense.COUNTERCLOCKWISE:
        return subject.at_most(0.0, 0.0, "deg", leads)
    turned = "backwards" if law.sense is Sense.CLOCKWISE else "the right way"
    also = ", the rotors being the other way round" if opposed else ""
    found = subject.along(*runs).discrepancy(
        f"{leads}{also}: the pointer turns {turned}, from {plain_number(zero)} degrees",
        remedy="join S1 to S1, S2 to S2 and S3 to S3, unless the data of the pair ask for this order",
    )
    found.value, found.unit = zero, "deg"
    return found
