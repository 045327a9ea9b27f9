"""Synchro pairs: excited alike from one source, and joined lead for lead."""

from __future__ import annotations

from collections import deque
from collections.abc import Iterator

from ...analysis.shown import text
from ...analysis.study import Study
from ...graph.edges import CARRIES_SIGNAL
from ...graph.indications import Indication
from ...model.devices import SenderSpec
from ...model.installation import split_end, terminals_of
from ...model.quantities import plain_number
from ...physics.synchros import Sense, synchro_law
from ..verdicts import (
    Verdict,
    discrepancy,
    meets,
    undetermined,
)
from ..vocabulary import rule
from .tachometers import lead_order

ROTOR = "rotor excitation of the synchro, voltage and frequency"
ROTOR_WIRING = "wiring of the rotor to its source"

_SAME = 0.02
"""Share by which excitation may differ from what the synchro is made for: our choice."""
_AC_KINDS = frozenset(("inverter", "alternator", "generator"))


def _synchros(study: Study) -> list[Indication]:
    return [
        i
        for i in study.indications
        if i.section == "senders"
        and i.spec.principle == "synchro receiver"
        and study.model.senders[i.source].spec.principle == "synchro transmitter"
    ]


@rule(
    "synchro-excitation",
    title="Transmitter and receiver of a synchro are excited alike, from one source",
    why="Rotors on different voltages, frequencies or phases pull the pointer off, turn it round by half a circle, or heat the windings.",
    source="data of both; US Navy NEETS module 15",
    formula="voltage and frequency of both rotors and of their source equal; R1 and R2 of both the same way round",
    example="26 V 400 Hz transmitter with a 115 V receiver: no true indication",
    over=lambda study: [i.name for i in _synchros(study)],
)
def synchro_excitation(study: Study) -> Iterator[Verdict]:
    """Every synchro pair."""
    for one in _synchros(study):
        at, sender = (one.name, one.source), study.model.senders[one.source].spec
        pairs = (
            (sender.excitation_voltage, one.spec.excitation_voltage),
            (sender.excitation_frequency, one.spec.excitation_frequency),
        )
        if any(v is None for pair in pairs for v in pair):
            yield undetermined(at, one.path, ROTOR)
            continue
        apart = [(a, b) for a, b in pairs if a is not None and b is not None and abs(a - b) > _SAME * b]
        if apart:
            a, b = apart[0]
            yield discrepancy(
                at,
                one.path,
                f"the rotor of {one.source} is made for {text(a, b)}, and that of {one.name} for {text(b, b)}",
                remedy="fit a transmitter and a receiver of one excitation",
            )
            continue
        yield _from_one_source(study, one, sender)


def _from_one_source(study: Study, one: Indication, sender: SenderSpec) -> Verdict:
    at = (one.name, one.source)
    theirs = _rotor(study, one.source, list(terminals_of("senders", study.model.senders[one.source]) or ()))
    ours = _rotor(study, one.indicator, list(one.spec.terminals or ()))
    if theirs is None or ours is None:
        return undetermined(at, one.path, ROTOR_WIRING)
    if theirs[0] != ours[0]:
        return discrepancy(
            at,
            one.path,
            f"the rotor of {one.source} is fed by {theirs[0]}, and that of {one.name} by {ours[0]}: not in step",
            remedy="feed both rotors from one source",
        )
    source = study.model.supplies[ours[0]].spec
    wanted, needed = sender.excitation_voltage, sender.excitation_frequency
    for given, made in ((source.voltage, wanted), (source.frequency, needed)):
        if given is not None and made is not None and abs(given - made) > _SAME * made:
            return discrepancy(
                at,
                ("supplies", ours[0]),
                f"{ours[0]} gives {text(given, made)}, and the rotors are made for {text(made, made)}",
                remedy=f"feed the rotors {text(made, made)}",
            )
    if theirs[1] != ours[1]:
        return discrepancy(
            at,
            one.path,
            f"the rotor leads of {one.source} and {one.name} are the other way round: the pointer stands half a circle off",
            remedy="exchange R1 and R2 at one of the two",
            value=180.0,
            limit=0.0,
            margin=-180.0,
            unit="deg",
        )
    if source.voltage is None or source.frequency is None:
        return undetermined(at, ("supplies", ours[0]), "voltage and frequency of the source of excitation")
    return meets(at, one.path, f"both rotors of {one.name} are fed by {ours[0]}, the same way round")


def _rotor(study: Study, ident: str, terminals: list[str]) -> tuple[str, bool] | None:
    """The source a rotor is fed by, and whether its first lead goes to the live side."""
    if len(terminals) < 5:
        return None
    ends = [_ac(study, f"{ident}.{t}") for t in terminals[3:5]]
    if ends[0] is None and ends[1] is None:
        return None
    for i, end in enumerate(ends):
        if end is not None and end[1]:
            return end[0], i == 0
    return None


def _ac(study: Study, start: str) -> tuple[str, bool] | None:
    """Source of alternating current a terminal reaches, and whether at its live side."""
    seen, queue = {start}, deque([start])
    while queue:
        here = queue.popleft()
        ident, terminal = split_end(here)
        supply = study.model.supplies.get(ident)
        if supply is not None and supply.spec.kind in _AC_KINDS:
            return ident, terminal in ("out", "+")
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


@rule(
    "synchro-leads",
    title="The stator leads of a synchro go to the terminals of their own names",
    why="Exchanged leads reverse the pointer, or turn it by a third of a circle.",
    source="US Navy NEETS module 15, tables 1-6 and 1-7",
    formula="reading = zero + angle, or zero - angle, by the order of S1, S2, S3",
    example="S1 and S3 exchanged: the pointer turns backwards; all moved on by one: 120 degrees off",
    over=lambda study: [i.name for i in _synchros(study)],
)
def synchro_leads(study: Study) -> Iterator[Verdict]:
    """Every synchro pair."""
    for one in _synchros(study):
        at = (one.name, one.source)
        order = lead_order(one, list(terminals_of("senders", study.model.senders[one.source]) or ()))
        if order is None:
            joined = len({leg.terminal for leg in one.legs if leg.terminal in (one.spec.terminals or ())[:3]})
            yield discrepancy(
                at,
                one.path,
                f"{joined} of three stator leads of {one.source} reach {one.name}: the pointer cannot follow",
                remedy="join S1, S2 and S3",
            )
            continue
        law = synchro_law(order)
        leads = f"S1, S2, S3 of {one.source} go to {', '.join(order)} of {one.name}"
        if law.zero == 0 and law.sense is Sense.COUNTERCLOCKWISE:
            yield meets(at, one.path, leads, value=0.0, limit=0.0, margin=0.0, unit="deg")
            continue
        turned = "backwards" if law.sense is Sense.CLOCKWISE else "the right way"
        yield discrepancy(
            at,
            one.path,
            f"{leads}: the pointer turns {turned}, from {plain_number(law.zero)} degrees",
            remedy="join S1 to S1, S2 to S2 and S3 to S3, unless the data of the pair ask for this order",
            value=law.zero,
            limit=0.0,
            margin=-min(law.zero, 360 - law.zero) if law.zero else None,
            unit="deg",
        )
