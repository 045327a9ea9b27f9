"""The height a gauge or sender is said to stand above its tap, against what the lines between them rise."""

from __future__ import annotations

from collections.abc import Iterator

from ...graph import total_length
from ...graph.media import Feed
from ...model.comparing import at_most
from ...model.devices import Indicator, Sender
from ...model.quantities import Quantity, show
from ..fluid.facts import listed, media
from ..study import Study
from .pairs import Field, Pair, rounding

_FITTING_M = 0.0381
"""Height a fitting can add of its own: an elbow or adapter of size -4 is 1.5 in long at the most (assumed)."""


def heights(study: Study) -> Iterator[Pair]:
    """Gauges and senders that tell their height above the one source that reaches them by lines."""
    for ident, indicator in study.model.indicators.items():
        ports = [port for _, spec in study.inputs(ident) for port in spec.ports or ("P",)]
        yield from _of(study, "indicators", ident, indicator, ports)
    for ident, sender in study.model.senders.items():
        yield from _of(study, "senders", ident, sender, sender.spec.ports or ["P"])


def _of(
    study: Study, section: str, ident: str, thing: Indicator | Sender, ports: list[str]
) -> Iterator[Pair]:
    if thing.elevation is None:
        return
    feeds = [f for port in dict.fromkeys(ports) for f in media(study).feeds(f"{ident}.{port}") if f.hops]
    if len(feeds) == 1:
        yield from _along(section, ident, thing, feeds[0])


def _along(section: str, ident: str, thing: Indicator | Sender, feed: Feed) -> Iterator[Pair]:
    """The height against the way: each line that tells its rise, and no more than the length of one that does not."""
    height = thing.elevation
    lines = [(hop, hop.edge.line) for hop in feed.hops if hop.edge.line is not None]
    if height is None or not lines:
        return
    told, spare, allowed = 0.0, 0.0, rounding(height)
    for hop, line in lines:
        length = total_length(line)
        if line.rise is not None:
            told += float(line.rise) if hop.near == hop.edge.a else -float(line.rise)
            allowed += rounding(line.rise)
        elif length is not None:
            spare += length
        else:
            return
    fittings = {hop.edge.ident for hop in feed.hops if hop.edge.section == "fittings"}
    allowed += spare + _FITTING_M * (len(fittings) + 1)
    names = [hop.edge.ident for hop, _ in lines]
    fields: list[Field] = [(section, ident, "elevation"), *(("fluid_lines", name, "rise") for name in names)]
    yield Pair(
        ident,
        (section, ident, "elevation"),
        at_most(abs(float(height) - told), allowed),
        f"{ident} is said to be {_above(height)} {feed.source.ident}, and {_way(names, told, spare, height.unit)}",
        "measure it, and correct the height or the rise",
        beside=(feed.source.ident, *names),
        instead=() if spare else (((section, ident, "elevation"), show(told, height.unit, "length")),),
        open=tuple(fields),
    )


def _above(height: Quantity) -> str:
    return f"{height.text} above" if height >= 0 else f"{height.text.lstrip('-')} below"


def _way(names: list[str], told: float, spare: float, unit: str) -> str:
    """What the lines do between the two."""
    one = "s" if len(names) == 1 else ""
    if told or not spare:
        way = f"{listed(names)} {'rise' if told >= 0 else 'fall'}{one} {show(abs(told), unit, 'length')} from there"
        return f"{way}, {show(spare, unit, 'length')} of it untold" if spare else way
    verb = "is" if one else "are together"
    return f"{listed(names)}, by which it reads, {verb} {show(spare, unit, 'length')} long"
