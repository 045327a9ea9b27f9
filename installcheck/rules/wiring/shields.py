"""Shields: grounded at one end for what is slow and small, and never carrying a signal themselves."""

from __future__ import annotations

from collections.abc import Iterator

from ...analysis import missing
from ...analysis.ignition import is_ignition_lead
from ...analysis.landed import conductors_at
from ...analysis.routing import sensing_runs
from ...analysis.standing import standing
from ...analysis.study import Study
from ...graph import Edge, Walk
from ...model.installation import split_end
from ...model.wiring import Shield, WireRun
from ..verdicts import Verdict
from ..vocabulary import Subject, rule

_RADIO = frozenset(("coaxial cable", "ignition lead"))
"""Cable and leads whose shield is grounded at both ends for its high frequency."""


def _shielded(study: Study, run: WireRun) -> bool:
    return (
        (run.shield is not None or bool(run.spec.shielded))
        and run.spec.kind not in _RADIO
        and not is_ignition_lead(study, run)
    )


@rule(
    "shield-grounded-once",
    title="The shield of a signal run is grounded at one end: not at two, not at none",
    why="Grounded twice it carries the difference between the grounds along the signal; grounded nowhere it couples what it should "
    "keep out.",
    source="single-point ground: AC 43.13-1B 11-186f; one end for slow signals: general practice (recalled)",
    formula="grounds the shield reaches, through plugs, drain wires and ground terminals of devices, = 1; no live terminal",
    example="from: open, to: signal stud",
    over="wire_runs",
)
def shield_grounded_once(study: Study, subject: Subject, run: WireRun) -> Verdict | None:
    """Every shielded signal run; shields joined through a plug are one shield."""
    if not _shielded(study, run):
        return None
    shield = run.shield
    if shield is None or shield.from_ is None or shield.to is None:
        return subject.lacks(missing.SHIELD_ENDS)
    ident, ends = subject.ident, _ends(study, shield)
    stands = {node: standing(study, node) for node in ends}
    for node, at_what in stands.items():
        if at_what in ("live", "signal"):
            return (
                subject.along(split_end(node)[0])
                .field("shield")
                .discrepancy(
                    f"the shield of run {ident} is joined to {node}, a {at_what} terminal and no ground",
                    remedy=f"take it off {node}, and ground it at the indicator's end, on the ground the indicator uses",
                )
            )
    grounds = [node for node in ends if stands[node] == "ground"]
    unsure = [node for node in ends if stands[node] is None]
    if unsure and len(grounds) < 2:
        return subject.along(split_end(unsure[0])[0]).lacks(
            missing.SHIELD_TO_GROUND,
            because=f"the shield of run {ident} is joined to {unsure[0]}, which the document joins to no ground",
        )
    at = subject.along(*sorted({split_end(g)[0] for g in grounds})).field("shield")
    count = len(grounds)
    if count == 0:
        return at.at_least(
            0,
            1,
            "grounds",
            f"the shield of run {ident} is grounded nowhere",
            remedy="ground it at the indicator's end, on the ground the indicator uses",
            practice=True,
        )
    if count > 1 and ident not in sensing_runs(study):
        return at.meets(f"the shield of run {ident}, which carries no slow signal, is grounded {count} times")
    where = " and ".join(grounds)
    return at.at_most(
        count,
        1,
        "grounds",
        f"the shield of run {ident} is grounded once, at {where}",
        broken=f"the shield of run {ident} is grounded {count} times, at {where}: their difference flows along it",
        remedy="lift it at the engine's end, and insulate the end",
        practice=True,
    )


@rule(
    "shield-carries-nothing",
    title="A shield is no signal or power return",
    why="Current in the shield drops a voltage along it, and whatever it keeps out is then in the signal.",
    source="plain physics; AC 43.13-1B 11-186f",
    formula="an end of the shield on a terminal that is the return of a device at both ends, or live at one and grounded at the other",
    example="shield from the sender's G to the gauge's G in place of a second wire",
    over="wire_runs",
)
def shield_carries_nothing(study: Study, subject: Subject, run: WireRun) -> Verdict | None:
    """Every shield with both ends told."""
    shield = run.shield
    if not _shielded(study, run) or shield is None or shield.from_ is None or shield.to is None:
        return None
    live = [node for node in _ends(study, shield) if standing(study, node) in ("live", "signal")]
    devices = [node for node in _nodes(study, shield) if _is_device(study, node)]
    alone = [node for node in devices if not conductors_at(study)[node]]
    if len(devices) == 2 and alone:
        return subject.field("shield").discrepancy(
            f"the shield of run {subject.ident} is the only conductor to {alone[0]}: it carries the return",
            remedy="use a cable with one core more for the return, and ground the shield at one end",
        )
    if live:
        return _at_live(study, subject, shield, live[0])
    return subject.field("shield").meets(f"the shield of run {subject.ident} carries no return")


def _at_live(study: Study, subject: Subject, shield: Shield, live: str) -> Verdict | None:
    """What flows in a shield at a live terminal: nothing if its other end is open, which another rule judges."""
    grounds = [node for node in _ends(study, shield) if standing(study, node) == "ground"]
    if not grounds:
        return None
    return subject.field("shield").discrepancy(
        f"the shield of run {subject.ident} joins {live} to {grounds[0]}: it carries what that terminal gives",
        remedy=f"take it off {live}",
    )


def _is_device(study: Study, node: str) -> bool:
    ident, terminal = split_end(node)
    model = study.model
    return terminal != "case" and any(
        ident in s for s in (model.senders, model.indicators, model.probes, model.loads)
    )


def _nodes(study: Study, shield: Shield) -> list[str]:
    """The nodes a shield is joined to; one at a thing this change takes out is open."""
    return study.graph.nodes_of(end for end in (shield.from_, shield.to) if end is not None)


def _ends(study: Study, shield: Shield) -> list[str]:
    """Grounds, and terminals of devices and supplies, at which a shield and those joined to it end."""
    starts = _nodes(study, shield)
    if len(starts) == 2 and starts[0] == starts[1]:
        return starts

    def leaving(node: str) -> Iterator[Edge]:
        # On from a joint by drain wires; a device's own terminal ends the search.
        drained = split_end(node)[0] in study.model.junctions
        for edge in study.graph.at(node):
            joined = edge.kind == "joint" and edge.section == "junctions"
            on = edge.kind == "shield" and edge.run is not None and _shielded(study, edge.run)
            if joined or on or (drained and edge.kind in ("conductor", "bond")):
                yield edge

    def is_end(node: str) -> bool:
        return (
            study.graph.is_ground(node)
            or _is_device(study, node)
            or node.endswith(".case")
            or split_end(node)[0] in study.model.supplies
        )

    return sorted(node for node in Walk(starts, leaving, stops=is_end) if is_end(node))
