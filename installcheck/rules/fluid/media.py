"""What flows where: labels against what reaches a line, media that meet, and the primer kept apart."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from ...analysis import missing
from ...analysis.fluid.facts import MANIFOLD, Part, lines, listed, media, readers
from ...analysis.study import Study, once
from ...dataclass import dataclass
from ...document.source import DocPath
from ...graph.media import Feed
from ...model.edits import Edit, Swap
from ...model.fields import Measure, Medium
from ...model.fluid import Tap
from ...model.installation import split_end
from ..verdicts import Verdict
from ..vocabulary import Subject, rule

_COVERS: dict[Medium, frozenset[Medium]] = {
    "fuel": frozenset(("primer fuel",)),
    "primer fuel": frozenset(("fuel", "fuel-air mixture")),
    "fuel-air mixture": frozenset(("manifold air", "air", "vacuum")),
    "manifold air": frozenset(("air", "vacuum")),
    "air": frozenset(("vacuum", "manifold air")),
    "vacuum": frozenset(("air", "manifold air")),
}
"""Media that a label covers beside its own: the same fluid by another name, or one that is no worse."""


def _covered(label: Medium, medium: Medium) -> bool:
    return medium == label or medium in _COVERS.get(label, ())


def _may_meet(one: Medium, other: Medium) -> bool:
    return _covered(one, other) or _covered(other, one)


def _by(feed: Feed) -> str:
    """``from gallery by L1, tee and L2``."""
    way = list(dict.fromkeys(h.edge.ident for h in feed.hops))
    return f"from {feed.source.ident}" + (f" by {listed(way)}" if way else "")


@rule(
    "line-medium",
    title="A line is labelled for what can reach it",
    why="A mechanic opens a line marked air with a lamp in his hand. A tee or a cock left open brings fuel to it all the same.",
    source="plain physics: a fluid reaches every port that is not closed to it; labels AC 43.13-1B chapter 9 (recalled)",
    formula="media of all sources flooded through tees, open cocks and fittings, against the label",
    example="a line labelled air that tees into the fuel line: fuel reaches it",
    over=lambda study: lines(study, capillaries=True),
)
def line_medium(study: Study, subject: Subject, part: Part) -> Verdict:
    """Its label, against each medium that reaches it."""
    reached, label = media(study).in_line(part.ident), part.line.medium
    if not reached:
        return subject.lacks(missing.LINE_MEDIUM if label is None else missing.LINE_TAP)
    if label is None:
        return subject.meets(f"line {part.ident} is not labelled and carries {listed(sorted(reached))}")
    subject = subject.field("medium")
    if strange := sorted(m for m in reached if not _covered(label, m)):
        return _mislabelled(subject, label, strange)
    return subject.meets(f"line {part.ident} is labelled {label}, and nothing else reaches it")


def _mislabelled(subject: Subject, label: Medium, strange: list[Medium]) -> Verdict:
    ways: dict[Medium, Feed] = {}
    for _, feed in media(subject.study).into_line(subject.ident):
        ways.setdefault(feed.source.medium, feed)
    told = [f"{m} reaches it {_by(ways[m])}" for m in strange if m in ways]
    sources = [ways[m].source.ident for m in strange if m in ways]
    return subject.along(*sources).discrepancy(
        f"line {subject.ident} is labelled {label}, but {listed(told)}",
        remedy=f"label the line {strange[0]}, or part it from {listed(sources)}",
    )


@rule(
    "media-joined",
    title="Two different fluids are not joined",
    why="What one system holds is pressed or drawn into the other: oil thinned by fuel, fuel in an air line, a gauge that reads "
    "the wrong system.",
    source="plain physics",
    formula="media that reach a tap, less its own and what is the same or no worse",
    example="a fuel tap and an oil tap on one tee: fuel reaches the oil tap",
    over="taps",
)
def media_joined(study: Study, subject: Subject, tap: Tap) -> Verdict | None:
    """A tap with a line or fitting on it, by the media that reach it."""
    ident = subject.ident
    if not any(e.kind in ("fluid line", "passage") for e in study.graph.at(ident)):
        return None
    for feed in media(study).feeds(ident):
        source = feed.source
        if _may_meet(tap.medium, source.medium) or _primer_and_manifold(tap.medium, source.medium):
            continue
        return subject.along(source.ident).discrepancy(
            f"{source.medium} reaches the {tap.medium} tap {ident} {_by(feed)}",
            remedy=f"part {ident} from {source.ident}: give each its own line, and cap the port that joins them",
        )
    return subject.meets(f"nothing but {tap.medium} reaches {ident}")


def _primer_and_manifold(one: Medium, other: Medium) -> bool:
    return "primer fuel" in (one, other) and bool({one, other} & MANIFOLD)


_OF: Mapping[Measure, frozenset[Medium]] = {
    "oil pressure": frozenset(("oil",)),
    "oil temperature": frozenset(("oil",)),
    "oil quantity": frozenset(("oil",)),
    "fuel pressure": frozenset(("fuel",)),
    "fuel flow": frozenset(("fuel",)),
    "fuel quantity": frozenset(("fuel",)),
    "hydraulic pressure": frozenset(("hydraulic fluid",)),
    "coolant temperature": frozenset(("coolant", "water")),
    "manifold pressure": MANIFOLD | {"air", "vacuum", "primer fuel"},
    "vacuum": frozenset(("vacuum", "air")),
}
"""What an indication of a fluid is taken from; that primer fuel stays out of a manifold gauge is a rule of its own."""


@dataclass(frozen=True, slots=True)
class Wetted:
    """A sender or gauge with ports, what it measures, and the media that reach it, each with its way."""

    section: str
    ident: str
    measures: tuple[Measure, ...]
    reached: Mapping[Medium, Feed]

    @property
    def path(self) -> DocPath:
        """Where the document tells of it."""
        return self.section, self.ident


def wetted(study: Study) -> Iterator[Wetted]:
    """Senders and direct gauges that a tap reaches and that measure something of a fluid."""
    nodes: dict[str, list[str]] = {}
    for node in study.graph.fluid:
        nodes.setdefault(split_end(node)[0], []).append(node)
    measured: list[tuple[str, str, list[Measure | None]]] = [
        ("senders", i, [s.spec.measures, *(s.serves or ())]) for i, s in study.model.senders.items()
    ]
    measured += [
        ("indicators", i, [spec.measures for _, spec in study.inputs(i)]) for i in study.model.indicators
    ]
    for section, ident, measures in measured:
        told = tuple(m for m in measures if m is not None and m in _OF)
        feeds = [f for node in nodes.get(ident, ()) for f in media(study).feeds(node)]
        reached = {f.source.medium: f for f in feeds if f.source.section == "taps"}
        if told and reached:
            yield Wetted(section, ident, told, reached)


@rule(
    "indication-medium",
    title="A sender or gauge takes its pressure or flow from the fluid it is said to measure",
    why="Two lines of one thread change places at a firewall easily: the oil pressure gauge then shows fuel, and oil stands in "
    "the fuel transducer.",
    source="plain physics; 14 CFR 23.1301: labelled as to its function",
    formula="media of the taps that reach its ports, against what it measures",
    example="a fuel pressure transducer on the oil gallery",
    over=wetted,
)
def indication_medium(study: Study, subject: Subject, one: Wetted) -> Verdict:
    """A sender or direct gauge that measures something of a fluid, by the taps that reach it."""
    wanted = _wanted(one)
    words = listed(list(dict.fromkeys(one.measures)))
    strange = sorted(m for m in one.reached if m not in wanted)
    if not strange or (len(one.reached) > len(strange) and set(strange) <= MANIFOLD | {"air", "vacuum"}):
        return subject.meets(f"{one.ident} measures {words} and is joined to {listed(sorted(one.reached))}")
    told = [f"{m} reaches it {_by(one.reached[m])}" for m in strange]
    return subject.along(*(one.reached[m].source.ident for m in strange)).discrepancy(
        f"{one.ident} measures {words}, but {listed(told)}",
        remedy=f"join {one.ident} to a tap of {' or '.join(sorted(wanted - {'primer fuel'}))}",
        cure=lambda: _exchange(study, one),
    )


def _wanted(one: Wetted) -> frozenset[Medium]:
    return frozenset().union(*(_OF[m] for m in one.measures))


def _exchange(study: Study, one: Wetted) -> Edit | None:
    """The lines of two that each stand in what the other measures, changed over."""
    for other in wetted(study):
        mine, theirs = one.reached.keys() & _wanted(other), other.reached.keys() & _wanted(one)
        if other.ident == one.ident or not mine or not theirs:
            continue
        here, there = _end(one.reached[min(mine)]), _end(other.reached[min(theirs)])
        if here is not None and there is not None:
            names = f"{here[1]} and {there[1]} at {one.ident} and {other.ident}"
            return Edit((Swap(here, there),), f"exchange {names}", wrong=f"{names} are exchanged")
    return None


def _end(feed: Feed) -> tuple[str, str, str] | None:
    """Which end of the last line of a way leads to its port."""
    last = next((hop for hop in reversed(feed.hops) if hop.edge.line is not None), None)
    if last is None or last.edge.line is None:
        return None
    return "fluid_lines", last.edge.ident, "to" if last.far == last.edge.b else "from"


@rule(
    "primer-apart",
    title="Priming fuel and instruments share no fitting, and no port",
    why="A tee between primer and gauge line puts liquid fuel under hand pressure behind the panel, and the gauge line bleeds "
    "air into the primer.",
    source="inference from 14 CFR 23.1337(a) and 23.863: the branch carries liquid fuel",
    formula="instruments and manifold taps that primer fuel reaches",
    example="manifold pressure line teed into the primer line: liquid fuel at its gauge",
    over="taps",
)
def primer_apart(study: Study, subject: Subject, tap: Tap) -> Verdict | None:
    """A primer tap with a line on it, by what it reaches; a manifold tap, by the port it is."""
    if tap.medium == "fuel-air mixture" and tap.location is not None:
        return _manifold_port(subject.field("location"), tap.location)
    if tap.medium != "primer fuel":
        return None
    ident = subject.ident
    wet = _primed(study).get(ident)
    if wet is None:
        return None
    reached = (i for line in wet for _, i, _ in readers(study, line))
    manifold = (
        i
        for i, other in study.model.taps.items()
        if other.medium in MANIFOLD and any(f.source.ident == ident for f in media(study).feeds(i))
    )
    shared = list(dict.fromkeys((*reached, *manifold)))
    if not shared:
        return subject.meets(f"no instrument shares a fitting with {ident}")
    return subject.along(*shared).discrepancy(
        f"liquid fuel from {ident} reaches {listed(shared)}",
        remedy="give the instrument its own port, and cap the fitting it shares with the primer",
    )


@once
def _primed(study: Study) -> dict[str, list[str]]:
    """The lines that each primer tap reaches."""
    found: dict[str, list[str]] = {}
    for part in lines(study):
        feeds = (feed.source for _, feed in media(study).into_line(part.ident))
        for tap in {source.ident: None for source in feeds if source.medium == "primer fuel"}:
            found.setdefault(tap, []).append(part.ident)
    return found


def _manifold_port(subject: Subject, location: str) -> Verdict:
    if location != "primer port":
        return subject.meets(f"{subject.ident} is no primer port")
    return subject.advisory(
        f"{subject.ident} takes manifold pressure at a primer port: liquid fuel stands there after priming",
        remedy="take manifold pressure from the plenum or from a port of a cylinder that has no primer nozzle",
    )
