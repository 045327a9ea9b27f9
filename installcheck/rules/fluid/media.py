"""What flows where: labels against what reaches a line, media that meet, and the primer kept apart."""

from __future__ import annotations

from ...analysis import missing
from ...analysis.fluid.facts import MANIFOLD, Part, lines, listed, media, readers
from ...analysis.study import Study, once
from ...graph.media import Feed
from ...model.fields import Medium
from ...model.fluid import Tap
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
