"""Terminals with nothing on them, wires that end in nothing, and what is left of wires taken out."""

from __future__ import annotations

from collections.abc import Iterator

from ...analysis.fluid.facts import listed
from ...analysis.study import Study
from ...document.source import DocPath
from ...model.devices import Indicator, Probe, Sender
from ...model.installation import inputs_of, is_one_point, terminals_of
from ...model.power import Load, Supply
from ...model.wiring import Junction
from ..verdicts import (
    Verdict,
    advisory,
    discrepancy,
    meets,
    undetermined,
)
from ..vocabulary import rule

_SECTIONS = ("senders", "indicators", "probes", "loads", "supplies", "junctions")


def _joined(study: Study) -> dict[str, int]:
    """How many conductors, shields and bonds end at each node."""
    return study.memo("joined ends", _count_ends)


def _count_ends(study: Study) -> dict[str, int]:
    count: dict[str, int] = {}
    for edge in study.graph.edges:
        if edge.kind in ("conductor", "bond"):
            count[edge.a] = count.get(edge.a, 0) + 1
            count[edge.b] = count.get(edge.b, 0) + 1
    for run in study.model.wire_runs.values():
        for end in (run.shield.from_, run.shield.to) if run.shield is not None else ():
            if end is not None and end != "open":
                node = study.graph.node_of(end)
                count[node] = count.get(node, 0) + 1
    return count


def _concerned(study: Study) -> list[str]:
    return [ident for section in _SECTIONS for ident in study.model.section(section)]


@rule(
    "terminals-connected",
    title="Every terminal is wired, or declared spare, and no wire ends in nothing",
    why="A terminal left open is an indication that never works, or a wire forgotten in the plan and added later by guess.",
    source="plain physics; AC 43.13-1B 11-174: every conductor ends in a terminal that is secured",
    formula="each terminal of a thing has a conductor, unless its pin is marked spare; each joint has two conductors or more",
    example="a gauge with its signal wired and its ground left open",
    over=_concerned,
)
def terminals_connected(study: Study) -> Iterator[Verdict]:
    """Every device and joint whose terminals are named; one verdict each."""
    joined = _joined(study)
    for section in _SECTIONS:
        for ident, thing in study.model.section(section).items():
            if isinstance(thing, Junction):
                verdict = _joint(ident, thing, joined)
            elif isinstance(thing, Indicator):
                verdict = _indicator(ident, thing, joined)
            elif isinstance(thing, (Sender, Probe, Load, Supply)):
                verdict = _device(section, ident, thing, joined)
            else:
                verdict = None
            if verdict is not None:
                yield verdict


def _electrical(section: str, thing: Sender | Indicator | Probe | Load | Supply | Junction) -> list[str]:
    """Terminals a wire can end at: ports and the case left out."""
    ports = set(thing.spec.ports or ())
    if isinstance(thing, Indicator):
        for one in (thing.spec.inputs or {}).values():
            ports.update(one.ports or ())
    return [t for t in terminals_of(section, thing) or () if t not in ports and t != "case"]


def _open(ident: str, names: list[str], joined: dict[str, int]) -> list[str]:
    return [name for name in names if f"{ident}.{name}" not in joined]


def _device(
    section: str, ident: str, thing: Sender | Probe | Load | Supply, joined: dict[str, int]
) -> Verdict | None:
    if isinstance(thing, Load) and thing.connected_at is not None:
        return None
    if isinstance(thing, Supply) and thing.spec.kind == "bus":
        return None
    names = _electrical(section, thing)
    if not names:
        return None
    at, path = (ident,), (section, ident)
    lacking = _open(ident, names, joined)
    if (
        getattr(thing, "grounding", None) is not None
        and len(lacking) == 1
        and lacking[0] in ("-", "G", "ground")
    ):
        lacking = []
    if not lacking:
        return meets(at, path, f"every terminal of {ident} is wired")
    text = f"{_terminals(ident, lacking)} not wired"
    if len(lacking) == len(names):
        remedy = (
            "draw its wires, or name the bus that feeds it ('connected_at')"
            if section == "loads"
            else "draw its wires"
        )
        return advisory(at, path, f"{ident} is not wired at all", remedy=remedy)
    if isinstance(thing, Supply) and thing.spec.kind != "battery":
        return advisory(
            at, path, text, remedy=f"wire {listed(lacking)}, or say in its notes what it is kept for"
        )
    return discrepancy(at, path, text, remedy=f"wire {listed(lacking)}")


def _terminals(ident: str, names: list[str]) -> str:
    return f"{ident}.{names[0]} is" if len(names) == 1 else f"{listed(names)} of {ident} are"


def _indicator(ident: str, thing: Indicator, joined: dict[str, int]) -> Verdict | None:
    """An indicator input by input: an input not used at all is told, one half wired is a fault."""
    at, path = (ident,), ("indicators", ident)
    names = _electrical("indicators", thing)
    if not names:
        return None
    unused: list[str] = []
    faults: list[str] = []
    supply = list(thing.spec.supply_terminals or ())
    for name, one in inputs_of(thing):
        own = list(one.terminals or ())
        lacking = _open(ident, own, joined)
        if own and len(lacking) == len(own):
            unused.append(name or "its input")
        else:
            faults += lacking
    lacking = _open(ident, supply, joined)
    if thing.grounding is not None and supply and lacking == [supply[1]]:
        lacking = []
    faults += lacking
    if faults:
        return discrepancy(
            at, path, f"{_terminals(ident, faults)} not wired", remedy=f"wire {listed(faults)}"
        )
    if unused:
        return advisory(
            at,
            path,
            f"{listed(unused)} of {ident} {'is' if len(unused) == 1 else 'are'} not wired",
            remedy="wire it, or leave it out of the inputs and say so on the placard",
        )
    return meets(at, path, f"every terminal of {ident} is wired")


def _joint(ident: str, thing: Junction, joined: dict[str, int]) -> Verdict | None:
    at, path = (ident,), ("junctions", ident)
    kind = thing.spec.kind
    if is_one_point(thing):
        count = joined.get(ident, 0)
        if count >= 2:
            return meets(at, path, f"{ident} joins {count} conductors")
        return discrepancy(
            at,
            path,
            f"{ident} joins {'one conductor' if count else 'nothing'}: a wire that ends there goes nowhere",
            remedy="draw the wire that goes on from it, or take it out",
        )
    names = _electrical("junctions", thing)
    if not names:
        return None
    pins = thing.spec.pins or {}
    dead = [n for n in names if joined.get(f"{ident}.{n}") == 1] if kind == "terminal block" else []
    if dead:
        return discrepancy(
            at,
            path,
            f"{_terminals(ident, dead)} the end of one wire, and nothing goes on from there",
            remedy="draw the wire or the link that goes on",
        )
    lacking = [n for n in _open(ident, names, joined) if not (n in pins and pins[n].spare)]
    if lacking:
        return advisory(
            at,
            path,
            f"{_terminals(ident, lacking)} neither wired nor declared spare",
            remedy=f"add `pins: {{'{lacking[0]}': {{spare: yes}}}}` if it is meant to stay empty",
        )
    return meets(at, path, f"every terminal of {ident} is wired or declared spare")


@rule(
    "removed-ends",
    title="The ends a removed wire leaves are capped or tied back",
    why="A bare end left behind is live when its switch is, and touches what it likes.",
    source="plain physics; AC 43.13-1B 11-96: unused wires are dead-ended",
    formula="state of the ends of each removed run",
    example="an old sender wire cut at the firewall and left open: cap both ends and tie them back",
    over=lambda study: [
        *study.taken_out("wire_runs"),
        *(i for i, r in study.model.removed.items() if r.kind == "wire"),
    ],
)
def removed_ends(study: Study) -> Iterator[Verdict]:
    """Every run marked removed, and every wire under ``removed``."""
    for ident in study.taken_out("wire_runs"):
        state = study.whole.wire_runs[ident].connected_to
        yield _left(ident, state, ("wire_runs", ident), "connected_to")
    for ident, one in study.model.removed.items():
        if one.kind == "wire":
            yield _left(ident, one.left, ("removed", ident), "left")


def _left(ident: str, state: str | None, path: DocPath, field: str) -> Verdict:
    if state is None:
        return undetermined((ident,), path, f"state of the ends of the removed wire ('{field}')")
    if state in ("left open", "open"):
        return discrepancy(
            (ident,),
            (*path, field),
            f"the ends of the removed wire {ident} are left open",
            remedy="take the wire out whole, or cap both ends and tie them back",
        )
    return meets((ident,), (*path, field), f"the ends of the removed wire {ident} are {state}")
