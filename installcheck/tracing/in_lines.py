"""Hypotheses of fluid lines: leaking, blocked, with liquid in it, off, exchanged, without its restrictor."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ..analysis.errors.read_through import read_through
from ..analysis.study import Study
from ..graph.media import Feed
from ..model.fields import Measure
from ..physics.sensing_lines import head_pressure
from .changes import Feels, FeelsOther, Holds, Jumps, World
from .channels import Channel
from .hypotheses import Hypothesis, of_one, of_sizes
from .predict import Predictor

_LEAKING = (0.97, 0.93, 0.88, 0.8, 0.7, 0.55, 0.4, 0.2, 0.05)
"""Shares of the way from what surrounds the gauge to what is true that a leaking line leaves."""
_RISES = (0.1, 0.25, 0.5, 0.75, 1.0)
_LIQUID_KG_M3 = 1000.0
"""kg/m3 of water, the densest that stands in such a line; oil and fuel are 0.7 to 0.9 of it."""
_BEATING: frozenset[Measure] = frozenset(
    ("oil pressure", "fuel pressure", "manifold pressure", "hydraulic pressure", "vacuum")
)
"""Measures that beat with the engine or with a pump on it."""
_LEAST_RISE_M = 0.3
"""m, taken for the rise of a line that tells none."""


def in_lines(predictor: Predictor, bad: Sequence[Channel]) -> Iterator[Hypothesis]:
    """Every fault of the lines that lead to the gauges and senders that misbehave."""
    study = predictor.study
    for channel in bad:
        for feed in feeds_of(study, channel):
            yield from _of_line(study, predictor, channel, feed)


def feeds_of(study: Study, channel: Channel) -> list[Feed]:
    """The ways by which a medium reaches the port of a gauge, or of a sender that is fed by a line."""
    return [
        one.feed
        for one in read_through(study)
        if one.name == channel.show.name and one.feels == channel.feels
    ]


def _of_line(study: Study, predictor: Predictor, channel: Channel, feed: Feed) -> Iterator[Hypothesis]:
    feels, lines = channel.feels, [h.edge for h in feed.hops if h.edge.kind == "fluid line"]
    if not lines:
        return
    names = tuple(dict.fromkeys(e.ident for e in lines))
    told = " and ".join(names)
    path = ("fluid_lines", names[0])
    where = study.graph.zone_of(lines[0].a) or ""
    yield of_sizes(
        "line leaking",
        names,
        f"{told} leaks",
        _LEAKING,
        lambda share: (Feels(feels, share),),
        ("ratio", "%"),
        path,
        where,
    )
    yield of_one("hose off", names, f"{told} is off or burst", (Feels(feels, 0.0),), path, where)
    stops = f" or its restrictor {' or '.join(feed.restrictors)}" if feed.restrictors else ""
    yield of_one("line blocked", names, f"{told}{stops} is blocked", (Holds(feels),), path, where)
    gas = study.model.taps[feed.source.ident].medium if feed.source.ident in study.model.taps else ""
    if gas in ("manifold air", "fuel-air mixture", "air", "vacuum"):
        rise = sum(abs(float(e.line.rise)) for e in lines if e.line is not None and e.line.rise is not None)
        most = head_pressure(_LIQUID_KG_M3, rise or _LEAST_RISE_M)

        def trapped(offset: float) -> World:
            return (Feels(feels, 1.0, offset),)

        sizes = [-s * most for s in reversed(_RISES)] + [s * most for s in _RISES]
        yield of_sizes(
            "line holds liquid",
            names,
            f"liquid stands in {told}",
            sizes,
            trapped,
            ("pressure", "inHg"),
            path,
            where,
        )
    if feed.restrictors:
        yield of_one(
            "restrictor missing",
            feed.restrictors,
            f"restrictor {' and '.join(feed.restrictors)} is missing or bored out: the pointer beats with the engine",
            (Jumps(channel.show.name, "pressure"),),
            ("fittings", feed.restrictors[0]),
            where,
        )
    elif channel.way == "line" and channel.measure in _BEATING:
        yield of_one(
            "restrictor missing",
            names,
            f"nothing in {told} damps the beat of the engine or its pump: the pointer follows it",
            (Jumps(channel.show.name, "pressure"),),
            path,
            where,
        )
    exchanged: dict[tuple[str, ...], list[Channel]] = {}
    for other in predictor.channels:
        theirs = [h.edge for f in feeds_of(study, other) for h in f.hops if h.edge.kind == "fluid line"]
        if other is not channel and other.feels != feels and theirs and not set(theirs) & set(lines):
            exchanged.setdefault(tuple(dict.fromkeys(e.ident for e in theirs)), []).append(other)
    for hoses, others in exchanged.items():  # all that one hose feeds feel what belongs to the other
        first = max(others, key=lambda c: c.spec.scale is not None)
        felt = [FeelsOther(c.feels, feels) for c in others]
        yield of_one(
            "hoses exchanged",
            (*names, *hoses),
            f"the lines of {channel.show} and {' and '.join(str(c.show) for c in others)} are exchanged",
            (FeelsOther(feels, first.feels), *felt),
            path,
            where,
        )
