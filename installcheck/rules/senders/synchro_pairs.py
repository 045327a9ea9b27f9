"""Synchro pairs: excited alike from one source, and joined lead for lead."""

from __future__ import annotations

from ...analysis.excitation import opposed, unsaid, wrong
from ...analysis.sender_pairs import Pair, lead_order, synchros
from ...analysis.shown import listed
from ...analysis.study import Study
from ...model.quantities import plain_number
from ...physics.synchros import Sense, synchro_law
from ..verdicts import Verdict
from ..vocabulary import Subject, rule


@rule(
    "synchro-excitation",
    title="Transmitter and receiver of a synchro are excited alike, from one source",
    why="Rotors on different voltages, frequencies or phases pull the pointer off, turn it round by half a circle, or heat the windings.",
    source="data of both; US Navy NEETS module 15",
    formula="voltage and frequency of both rotors and of their source equal; R1 and R2 of both the same way round, one end live and the other at the return",
    example="26 V 400 Hz transmitter with a 115 V receiver: no true indication",
    over=synchros,
)
def synchro_excitation(study: Study, subject: Subject, pair: Pair) -> Verdict:
    """A synchro pair."""
    subject = subject.along(pair.source)
    found = wrong(study, pair)
    if found is not None:
        if found.half_circle:
            return subject.along(*found.runs).at_most(180.0, 0.0, "deg", found.told, remedy=found.remedy)
        return (subject.placed(*found.path) if found.path else subject).discrepancy(
            found.told, remedy=found.remedy
        )
    fact, feeds = unsaid(study, pair)
    if fact is not None:
        return (subject.placed("supplies", feeds) if feeds else subject).lacks(fact)
    return subject.meets(f"both rotors of {pair.name} are fed by {feeds}, the same way round")


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
    turned_round = opposed(study, pair)
    zero = (law.zero + 180.0 * turned_round) % 360
    runs = pair.indication.runs
    leads = f"S1, S2, S3 of {pair.source} go to {', '.join(order)} of {one.name} by {listed(list(runs))}"
    if law.zero == 0 and law.sense is Sense.COUNTERCLOCKWISE:
        return subject.at_most(0.0, 0.0, "deg", leads)
    turned = "backwards" if law.sense is Sense.CLOCKWISE else "the right way"
    also = ", the rotors being the other way round" if turned_round else ""
    found = subject.along(*runs).discrepancy(
        f"{leads}{also}: the pointer turns {turned}, from {plain_number(zero)} degrees",
        remedy="join S1 to S1, S2 to S2 and S3 to S3, unless the data of the pair ask for this order",
    )
    found.value, found.unit = zero, "deg"
    return found
