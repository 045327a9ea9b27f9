"""Marks of parts and wires against the drawing: what they give away, and the tests that read them."""

from __future__ import annotations

from collections.abc import Iterator

from ..analysis.study import Study
from .changes import Couple, Crossed, FeelsOther, Metal, OtherCurve, OtherScale, Reached, World
from .channels import Channel, channels
from .expected import Expect
from .looks import STOPPED, Compared, Marked, Setup
from .offered import FARTHER, Test, made, place_of

_NAMES = 0.9
"""Probability that all the parts or wires that are not as drawn are named."""


def parts_of(study: Study, channel: Channel) -> dict[str, str]:
    """The gauge, its sender or probe, its leads, and each plug and block on the way, with the effort to read its marks."""
    parts = {channel.indicator: "at the panel"}
    if channel.source in study.model.senders or channel.source in study.model.probes:
        parts[channel.source] = place_of(study, channel.source)
    for edge in channel.edges if channel.way == "couple" else ():
        if edge.kind == "conductor":
            parts[edge.ident] = place_of(study, edge.a)
    for ident in dict.fromkeys(n.partition(".")[0] for e in channel.edges for n in (e.a, e.b)):
        if ident in study.model.junctions:
            parts[ident] = "at a plug" if place_of(study, ident) == "at the panel" else place_of(study, ident)
    return parts


def marks(study: Study, channel: Channel) -> Iterator[Test]:
    """The marks at the gauge alone, and those of everything from there to the sender."""
    parts = parts_of(study, channel)
    yield made(
        study,
        Setup(STOPPED),
        Marked(channel.indicator),
        f"power off, read the part number of {channel.indicator}, and the marks of the wires at each of its terminals: are they those "
        "of the drawing?",
        "at the panel",
        channel,
        channel.indicator,
    )
    if len(parts) > 1:
        yield made(
            study,
            Setup(STOPPED),
            Compared(str(channel.show)),
            f"power off, read the part numbers and marks of {', '.join(parts)}, and of the wires at each terminal: which are not those of "
            "the drawing?",
            max(parts.values(), key=FARTHER.index),
            channel,
            *parts,
        )


def compared(study: Study, look: Compared, world: World) -> Expect:
    """Which parts and wires of an indication are not marked as drawn."""
    channel = next(c for c in channels(study) if str(c.show) == look.name)
    names: set[str] = set()
    for thing in parts_of(study, channel):
        one = marked(Marked(thing), world)
        if one.word is None:
            return Expect()
        if one.word == "wrong":
            names.update(one.places[0][0].split(" and ") if one.places else [thing])
    return (
        Expect(word="wrong", places=((" and ".join(sorted(names)), _NAMES),))
        if names
        else Expect(word="right")
    )


def marked(look: Marked, world: World) -> Expect:
    """Whether the marks of a thing are those of the drawing, and which wires are not."""
    thing = look.thing
    for change in world:
        if isinstance(change, FeelsOther) and thing in (change.source, change.other):
            return Expect()
        if isinstance(change, (OtherCurve, Couple)) and thing in (
            change.sender if isinstance(change, OtherCurve) else change.probe,
        ):
            return Expect(word="wrong")
        if isinstance(change, OtherScale) and f"{change.indication} ".startswith(f"{thing} "):
            return Expect(word="wrong")
        if isinstance(change, Metal) and change.edge.ident == thing:
            return Expect(word="wrong")
        if isinstance(change, Crossed) and any(e.ident == thing for e in change.edges):
            return Expect(word="wrong")
        if isinstance(change, Reached):
            found = {e.label for e, _, there in change.moves if there.partition(".")[0] == thing}
            if found:
                return Expect(word="wrong", places=((" and ".join(sorted(found)), _NAMES),))
    return Expect(word="right")
