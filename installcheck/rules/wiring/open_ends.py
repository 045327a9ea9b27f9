"""Terminals with nothing on them, wires that end in nothing, and what is left of wires taken out."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from ...analysis import missing
from ...analysis.fluid.facts import listed
from ...analysis.landed import joined_at
from ...analysis.missing import Missing
from ...analysis.routing import run_ends
from ...analysis.study import Study
from ...graph import Walk
from ...model.devices import Indicator, Probe, Sender
from ...model.installation import is_one_point, split_end, terminals_of
from ...model.power import Load, Supply
from ...model.wiring import Junction, WireRun
from ..verdicts import Verdict
from ..vocabulary import Subject, rule

_METAL = frozenset(("conductor", "joint", "spool"))
_SECTIONS = ("senders", "indicators", "probes", "loads", "supplies", "junctions")

Joined = Mapping[str, int]


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
    joined = joined_at(study)
    for section in _SECTIONS:
        for ident, thing in study.model.section(section).items():
            subject = Subject(study, (ident,), (section, ident))
            if isinstance(thing, Junction):
                verdict = _joint(subject, thing, joined)
            elif isinstance(thing, Indicator):
                verdict = _indicator(subject, thing, joined)
            elif isinstance(thing, (Sender, Probe, Load, Supply)):
                verdict = _device(subject, section, thing, joined)
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


def _open(ident: str, names: list[str], joined: Joined) -> list[str]:
    return [name for name in names if not joined.get(f"{ident}.{name}")]


def _device(
    subject: Subject, section: str, thing: Sender | Probe | Load | Supply, joined: Joined
) -> Verdict | None:
    ident = subject.ident
    if isinstance(thing, Load) and thing.connected_at is not None:
        return None
    if isinstance(thing, Supply) and thing.spec.kind is None:
        return subject.field("kind").lacks(missing.SUPPLY_KIND)
    if isinstance(thing, Supply) and thing.spec.kind == "bus":
        return None
    names = _electrical(section, thing)
    if not names:
        return None
    lacking = _open(ident, names, joined)
    grounded = getattr(thing, "grounding", None) is not None
    if grounded and len(lacking) == 1 and lacking[0] in ("-", "G", "ground"):
        lacking = []
    if not lacking:
        return subject.meets(f"every terminal of {ident} is wired")
    if len(lacking) == len(names):
        bus = ", or name the bus that feeds it ('connected_at')" if section == "loads" else ""
        return subject.advisory(f"{ident} is not wired at all", remedy=f"draw its wires{bus}")
    text = f"{_terminals(ident, lacking)} not wired"
    if isinstance(thing, Supply) and thing.spec.kind not in ("battery", "inverter"):
        return subject.advisory(
            text, remedy=f"wire {listed(lacking)}, or say in its notes what it is kept for"
        )
    return subject.discrepancy(text, remedy=f"wire {listed(lacking)}")


def _terminals(ident: str, names: list[str]) -> str:
    return f"{ident}.{names[0]} is" if len(names) == 1 else f"{listed(names)} of {ident} are"


def _indicator(subject: Subject, thing: Indicator, joined: Joined) -> Verdict | None:
    """An indicator input by input: an input not used at all is told, one half wired is a fault."""
    ident = subject.ident
    if not _electrical("indicators", thing):
        return None
    unused: list[str] = []
    faults: list[str] = []
    for name, one in subject.study.inputs(ident):
        own = list(one.terminals or ())
        lacking = _open(ident, own, joined)
        if own and len(lacking) == len(own):
            unused.append(name or "its input")
        else:
            faults += lacking
    supply = list(thing.spec.supply_terminals or ())
    lacking = _open(ident, supply, joined)
    if not (thing.grounding is not None and supply and lacking == [supply[1]]):
        faults += lacking
    if faults:
        return subject.discrepancy(f"{_terminals(ident, faults)} not wired", remedy=f"wire {listed(faults)}")
    if unused == ["its input"] and any(joined.get(f"{ident}.{name}") for name in supply):
        signal = list(thing.spec.terminals or ())
        return subject.discrepancy(
            f"{ident} has its supply and no signal: {_terminals(ident, signal)} not wired",
            remedy=f"wire {listed(signal)} to its sender",
        )
    if unused:
        return subject.advisory(
            f"{listed(unused)} of {ident} {'is' if len(unused) == 1 else 'are'} not wired",
            remedy="wire it, or leave it out of the inputs and say so on the placard",
        )
    return subject.meets(f"every terminal of {ident} is wired")


def _joint(subject: Subject, thing: Junction, joined: Joined) -> Verdict | None:
    ident = subject.ident
    if thing.spec.kind is None:
        return subject.field("kind").lacks(missing.JOINT_KIND)
    if is_one_point(thing):
        count = joined.get(ident, 0)
        if thing.spec.kind == "spark plug":
            led = f"a lead goes to {ident}"
            return (
                subject.meets(led)
                if count
                else subject.advisory(f"no lead goes to {ident}", remedy="draw its lead")
            )
        if count >= 2:
            return subject.meets(f"{ident} joins {count} conductors")
        return subject.discrepancy(
            f"{ident} joins {'one conductor' if count else 'nothing'}: a wire that ends there goes nowhere",
            remedy="draw the wire that goes on from it, or take it out",
        )
    names = _electrical("junctions", thing)
    if not names:
        return None
    kind = thing.spec.kind
    dead = [n for n in names if kind == "terminal block" and joined.get(f"{ident}.{n}") == 1]
    alone = kind == "plug" and not _is_mated(subject.study, ident, thing)
    if alone and _carries_signal(subject.study, [f"{ident}.{name}" for name in names]):
        return subject.lacks(missing.PLUG_MATE)
    if dead:
        return subject.discrepancy(
            f"{_terminals(ident, dead)} the end of one wire, and nothing goes on from there",
            remedy="draw the wire or the link that goes on",
        )
    pins = thing.spec.pins or {}
    lacking = [n for n in _open(ident, names, joined) if not (n in pins and pins[n].spare)]
    if kind == "shunt" and len([n for n in lacking if n.startswith("sense")]) == 1:
        return subject.discrepancy(
            f"{_terminals(ident, lacking)} not wired, and its other sense terminal is: what reads it sees no drop",
            remedy=f"wire {listed(lacking)}",
        )
    if lacking:
        return subject.advisory(
            f"{_terminals(ident, lacking)} neither wired nor declared spare",
            remedy=f"add `pins: {{'{lacking[0]}': {{spare: yes}}}}` if it is meant to stay empty",
        )
    return subject.meets(f"every terminal of {ident} is wired or declared spare")


def _is_mated(study: Study, ident: str, thing: Junction) -> bool:
    return thing.mates is not None or any(j.mates == ident for j in study.model.junctions.values())


def _carries_signal(study: Study, nodes: list[str]) -> bool:
    """Whether a wire of a plug leads to a sender, a probe or an indicator: its loop is open if the plug meets nothing."""
    graph = study.graph
    here = [node for node in nodes if node in graph.nodes]
    walk = Walk(here, graph.at, lambda edge, there: edge.kind in _METAL and not graph.is_ground(there))
    return any(graph.nodes[node]["section"] in ("senders", "probes", "indicators") for node in walk)


@rule(
    "removed-ends",
    title="The ends a removed wire leaves, and those that a removed thing leaves of a wire, are capped or tied back",
    why="A bare end left behind is live when its switch is, and touches what it likes.",
    source="plain physics; AC 43.13-1B 11-96: unused wires are dead-ended",
    formula="state of the ends of each removed run",
    example="an old sender wire cut at the firewall and left open: cap both ends and tie them back",
    over=lambda study: [
        *study.taken_out("wire_runs"),
        *(i for i, r in study.model.removed.items() if r.kind == "wire"),
        *(
            i
            for i, r in study.model.wire_runs.items()
            if any(_is_out(study, split_end(e)[0]) for e in run_ends(r))
        ),
    ],
)
def removed_ends(study: Study) -> Iterator[Verdict]:
    """Every run marked removed, every wire under ``removed``, and every run that stays but ends at what is taken out."""
    for ident in study.taken_out("wire_runs"):
        subject = Subject(study, (ident,), ("wire_runs", ident))
        state = study.whole.wire_runs[ident].connected_to
        yield _left(subject, "connected_to", state, missing.REMOVED_RUN_ENDS)
    for ident, one in study.model.removed.items():
        if one.kind == "wire":
            yield _left(Subject(study, (ident,), ("removed", ident)), "left", one.left, missing.REMOVED_LEFT)
    for ident, run in study.model.wire_runs.items():
        gone = [
            name for name in dict.fromkeys(split_end(end)[0] for end in run_ends(run)) if _is_out(study, name)
        ]
        if gone:
            yield _loose(Subject(study, (ident, *gone), ("wire_runs", ident)), run, listed(gone))


def _is_out(study: Study, ident: str) -> bool:
    """Whether a run ends at a thing that this change takes out."""
    return study.model.find(ident) is None


def _loose(subject: Subject, run: WireRun, gone: str) -> Verdict:
    text = f"run {subject.ident} stays and ends at {gone}, which is taken out"
    if run.connected_to in ("capped", "tied back"):
        return subject.field("connected_to").meets(f"{text}; its end is {run.connected_to}")
    return subject.discrepancy(
        f"{text}: its end is loose",
        remedy="take the run out as well, join it anew, or cap its end and tie it back",
    )


def _left(subject: Subject, word: str, state: str | None, unsaid: Missing) -> Verdict:
    if state is None:
        return subject.lacks(unsaid)
    text = f"the ends of the removed wire {subject.ident} are"
    if state in ("left open", "open"):
        return subject.field(word).discrepancy(
            f"{text} left open", remedy="take the wire out whole, or cap both ends and tie them back"
        )
    return subject.field(word).meets(f"{text} {state}")
