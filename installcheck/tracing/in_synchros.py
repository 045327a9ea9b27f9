"""Remote synchros: the wires that excite their rotors, and what is left of an indication with one of them off or exchanged.

A receiver whose rotor, or whose transmitter's, is not excited has no torque that holds it to the transmitter and stays about
where it stood. Exchanged stator or rotor leads put it on another angle, and an odd exchange of stator leads turns it the other
way (US Navy NEETS module 15, tables 1-6 and 1-7); which figure of the dial that is, the document does not say.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import combinations

from ..analysis.study import Study
from ..graph import Edge
from ..graph.walk import Walk
from ..model.installation import terminals_of
from .changes import Cut, Reached
from .channels import Channel, channels
from .hypotheses import Hypothesis, of_one

_CARRY = frozenset(("conductor", "joint", "contact"))


def rotor_wires(study: Study, channel: Channel) -> tuple[tuple[Edge, str], ...]:
    """Wires at the rotor terminals of receiver and transmitter, each with its terminal; none for what is no synchro pair."""
    if channel.spec.principle != "synchro receiver" or channel.source not in study.model.senders:
        return ()
    gauge = list(channel.spec.terminals or ())
    sender = list(terminals_of("senders", study.model.senders[channel.source]) or ())
    nodes = [f"{channel.indicator}.{t}" for t in gauge[3:5]] + [f"{channel.source}.{t}" for t in sender[3:5]]
    return tuple(
        (e, n) for n in nodes if n in study.graph.nodes for e in study.graph.at(n) if e.kind == "conductor"
    )


def in_synchros(study: Study, bad: Sequence[Channel]) -> Iterator[Hypothesis]:
    """Stator leads exchanged, rotor leads exchanged or open, and no excitation at all."""
    for channel in bad:
        rotors = rotor_wires(study, channel)
        if not rotors or channel.indication is None:
            continue
        stators = [(leg.steps[0].edge, leg.steps[0].near) for leg in channel.indication.legs[:3] if leg.steps]
        for pair in combinations([s for s in stators if s[0].kind == "conductor"], 2):
            yield _crossed(study, channel, "", *pair)
        for ident in (channel.indicator, channel.source):
            mine = [(e, n) for e, n in rotors if n.partition(".")[0] == ident]
            for pair in combinations(mine, 2):
                if pair[0][1] != pair[1][1]:
                    yield _crossed(study, channel, "rotor ", *pair)
        for edge, node in rotors:
            yield of_one(
                "open",
                (edge.label,),
                f"rotor wire {edge.label} ({edge.a} to {edge.b}) is broken, or off at an end: {node} is not excited",
                (Cut(edge),),
                edge.path,
                study.graph.zone_of(node) or "",
            )
        yield from _unexcited(study, [e for e, _ in rotors])


def _crossed(
    study: Study, channel: Channel, what: str, one: tuple[Edge, str], other: tuple[Edge, str]
) -> Hypothesis:
    (first, a), (second, b) = one, other
    return of_one(
        "leads exchanged",
        (first.label, second.label),
        f"{what}leads {first.label} and {second.label} are in each other's place at {a} and {b}",
        (Reached(((first, a, b), (second, b, a))),),
        channel.path,
        study.graph.zone_of(a) or "",
    )


def _unexcited(study: Study, rotors: Sequence[Edge]) -> Iterator[Hypothesis]:
    """The inverter or generator that excites a rotor, with every other synchro on it."""

    def leaving(node: str) -> Iterator[Edge]:
        return (e for e in study.graph.at(node) if e.kind in _CARRY)

    reached = set(Walk([n for e in rotors for n in (e.a, e.b)], leaving, stops=study.graph.is_ground))
    for ident, one in study.model.supplies.items():
        if one.spec.kind != "inverter" or not any(n.partition(".")[0] == ident for n in reached):
            continue
        fed = [
            e for c in channels(study) for e, _ in rotor_wires(study, c) if e.a in reached or e.b in reached
        ]
        yield of_one(
            "dead supply",
            (ident,),
            f"{ident} gives no excitation, itself or for want of its own feed",
            tuple(Cut(e) for e in dict.fromkeys(fed)),
            ("supplies", ident),
            one.zone or "",
        )
