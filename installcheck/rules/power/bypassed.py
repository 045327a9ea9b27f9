"""Protectors, switches and contactors that interrupt what they are there to interrupt."""

from __future__ import annotations

from collections.abc import Iterator

from ...analysis.fluid.facts import listed
from ...analysis.power.bypasses import Breaking, breaking, taken_out, to_take_out
from ...analysis.power.pulling_in import Coil, coils
from ...analysis.study import Study
from ...model.edits import Edit, Put
from ..verdicts import Verdict
from ..vocabulary import Subject, rule


@rule(
    "interrupter-bypassed",
    title="No wire leads round a breaker, fuse, switch or contactor",
    why="What is led round opens nothing: a breaker that cannot trip leaves the wire to burn, a switch that is off leaves the load on.",
    source="plain physics: current takes the way that is closed; AC 43.13-1B 11-47, 11-48 for protectors",
    formula="no way of wires and joints alone from one side to the other, round it and what stands in series with it",
    example="a wire from a breaker's bus side to the far side of its switch: neither opens anything",
    over=breaking,
)
def interrupter_bypassed(study: Study, subject: Subject, one: Breaking) -> Verdict:
    """Every protector, switch and contactor that is wired on both sides."""
    if not one.round:
        return subject.meets(f"no wire leads round {one.ident}")
    with_it = [i for i in one.chain if i != one.ident]
    beside = f", with {listed(with_it)}" if with_it else ""
    return subject.along(*one.round).discrepancy(
        f"{' or '.join(one.round)} leads round {one.ident}{beside}: it opens nothing",
        remedy=to_take_out(one),
        cure=lambda: taken_out(study, one),
    )


@rule(
    "contactor-pulls-in",
    title="The coil of a contactor is fed while the contactor is open",
    why="A coil that gets its current only through its own contact never closes it: the switch is thrown, and nothing comes on.",
    source="plain physics: a contact that waits for itself stays open; an alternator gives nothing before its field is fed",
    formula="a source that needs no field current reaches both ends of the coil, its own contact open and those open that wait for it",
    example="the coil of the battery contactor fed from the main bus behind it",
    over=coils,
)
def contactor_pulls_in(study: Study, subject: Subject, coil: Coil) -> Verdict:
    """Every contactor whose coil is fed while all contacts are closed."""
    if coil.fed:
        return subject.meets(f"the coil of {coil.ident} is fed while its contact is open")
    told = f"the coil of {coil.ident} is fed only through its own contact"
    if coil.alternators:
        told += (
            f", or by {listed(list(coil.alternators))}, which gives nothing before a battery feeds its field"
        )
    return subject.along(*coil.alternators).discrepancy(
        f"{told}: it never pulls in",
        remedy=f"feed the coil of {coil.ident} from the side of its contact that the battery is on",
        cure=lambda: list(_fed_before(study, coil)),
    )


def _fed_before(study: Study, coil: Coil) -> Iterator[Edit]:
    """The wire that feeds a coil, on either side of the contact."""
    for ident, run in study.model.wire_runs.items():
        for own, other in (("from", "to"), ("to", "from")):
            ends = {"from": run.from_, "to": run.to}
            if ends[own] != coil.terminal:
                continue
            for side in coil.sides:
                if side != ends[other]:
                    words = f"join {ident} to {side} in place of {ends[other]}"
                    yield Edit(
                        (Put(("wire_runs", ident, other), side),),
                        words,
                        f"{ident} is joined to {ends[other]}",
                    )
