"""What flows where: labels against what reaches a line, media that meet, and the primer kept apart."""

from __future__ import annotations

from collections.abc import Iterator

from ...analysis.fluid.facts import (
    MANIFOLD,
    MEDIUM,
    Part,
    lines,
    listed,
    media,
    readers,
)
from ...analysis.study import Study
from ...graph.media import Feed
from ...model.fields import Medium
from ..verdicts import (
    Verdict,
    advisory,
    discrepancy,
    meets,
    undetermined,
)
from ..vocabulary import rule

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
    over="fluid_lines",
)
def line_medium(study: Study) -> Iterator[Verdict]:
    """Every line: its label, and each medium that reaches it."""
    flooded = media(study)
    for part in lines(study, capillaries=True):
        reached = flooded.in_line(part.ident)
        label = part.line.medium
        if not reached:
            yield _unfed(part)
        elif label is None:
            yield meets(
                (part.ident,),
                part.path,
                f"line {part.ident} is not labelled and carries {listed(sorted(reached))}",
            )
        elif strange := sorted(m for m in reached if not _covered(label, m)):
            yield _mislabelled(study, part, label, strange)
        else:
            yield meets(
                (part.ident,),
                (*part.path, "medium"),
                f"line {part.ident} is labelled {label}, and nothing else reaches it",
            )


def _unfed(part: Part) -> Verdict:
    what = MEDIUM if part.line.medium is None else "tap the line takes its medium from"
    return undetermined((part.ident,), part.path, what)


def _mislabelled(study: Study, part: Part, label: Medium, strange: list[Medium]) -> Verdict:
    flooded = media(study)
    ways: dict[Medium, Feed] = {}
    for _, feed in flooded.into_line(part.ident):
        ways.setdefault(feed.source.medium, feed)
    told = [f"{m} reaches it {_by(ways[m])}" for m in strange if m in ways]
    sources = [ways[m].source.ident for m in strange if m in ways]
    return discrepancy(
        (part.ident, *sources),
        (*part.path, "medium"),
        f"line {part.ident} is labelled {label}, but {listed(told)}",
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
def media_joined(study: Study) -> Iterator[Verdict]:
    """Every tap with a line or fitting on it, by the media that reach it."""
    flooded = media(study)
    for ident, tap in study.model.taps.items():
        if not any(e.kind in ("fluid line", "passage") for e in study.graph.at(ident)):
            continue
        strange = [
            feed
            for feed in flooded.feeds(ident)
            if not _may_meet(tap.medium, feed.source.medium)
            and not _primer_and_manifold(tap.medium, feed.source.medium)
        ]
        if not strange:
            yield meets((ident,), ("taps", ident), f"nothing but {tap.medium} reaches {ident}")
            continue
        first = strange[0]
        yield discrepancy(
            (ident, first.source.ident),
            ("taps", ident),
            f"{first.source.medium} reaches the {tap.medium} tap {ident} {_by(first)}",
            remedy=f"part {ident} from {first.source.ident}: give each its own line, and cap the port that joins them",
        )


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
    over=lambda study: [
        i for i, t in study.model.taps.items() if t.medium in ("primer fuel", "fuel-air mixture")
    ],
)
def primer_apart(study: Study) -> Iterator[Verdict]:
    """Every primer tap with a line on it, and every manifold tap."""
    flooded = media(study)
    reached: dict[str, dict[str, None]] = {}
    for part in lines(study):
        for _, feed in flooded.into_line(part.ident):
            if feed.source.medium == "primer fuel":
                found = reached.setdefault(feed.source.ident, {})
                found.update(dict.fromkeys(i for _, i, _ in readers(study, part.ident)))
    for ident, tap in study.model.taps.items():
        if tap.medium == "primer fuel" and ident in reached:
            others = [
                i
                for i, t in study.model.taps.items()
                if t.medium in MANIFOLD and any(f.source.ident == ident for f in flooded.feeds(i))
            ]
            yield _primer(ident, list(reached[ident]), others)
        elif tap.medium == "fuel-air mixture" and tap.location is not None:
            yield _manifold_port(ident, tap.location)


def _primer(ident: str, instruments: list[str], taps: list[str]) -> Verdict:
    shared = [*instruments, *taps]
    if not shared:
        return meets((ident,), ("taps", ident), f"no instrument shares a fitting with {ident}")
    return discrepancy(
        (ident, *shared),
        ("taps", ident),
        f"liquid fuel from {ident} reaches {listed(shared)}",
        remedy="give the instrument its own port, and cap the fitting it shares with the primer",
    )


def _manifold_port(ident: str, location: str) -> Verdict:
    path = ("taps", ident, "location")
    if location != "primer port":
        return meets((ident,), path, f"{ident} is no primer port")
    return advisory(
        (ident,),
        path,
        f"{ident} takes manifold pressure at a primer port: liquid fuel stands there after priming",
        remedy="take manifold pressure from the plenum or from a port of a cylinder that has no primer nozzle",
    )
