"""What the liquid standing in a fluid line does to the reading of the gauge or sender at its end."""

from __future__ import annotations

from collections.abc import Iterator

from ...graph import total_length
from ...graph.media import Feed
from ...model.devices import Indicator, Sender
from ...physics.sensing_lines import head_pressure
from .. import missing
from ..fluid.facts import LIQUID, media
from ..fluid.leaks import fluid_of
from ..missing import Missing
from ..study import Study
from .error_budget import Cause

HEAD = "head of the line"
_OF_GAS = frozenset(("manifold pressure", "vacuum"))


def feeds_of(study: Study, ident: str, ports: list[str] | None) -> tuple[Feed, ...]:
    """The ways by which a medium reaches the ports of a gauge or sender."""
    return tuple(feed for port in ports or ("P",) for feed in media(study).feeds(f"{ident}.{port}"))


def head_causes(
    study: Study, thing: Indicator | Sender, feeds: tuple[Feed, ...], lacks: list[Missing]
) -> Iterator[Cause]:
    """The error [Pa] by the liquid of each way; what the document does not say of it goes to ``lacks``.

    A height over a tap that is not drawn is the height of a liquid nobody has told, but of air and vacuum.
    """
    if not feeds and thing.elevation and thing.spec.measures not in _OF_GAS:
        lacks.append(missing.SENDER_TAP)
    for feed in feeds:
        low = _low(study, thing, feed, lacks)
        if low:
            yield Cause(HEAD, -low)


def _low(study: Study, thing: Indicator | Sender, feed: Feed, lacks: list[Missing]) -> float:
    """Pascal by which the liquid in the line makes it read low; 0 for a gas."""
    tap = study.model.taps.get(feed.source.ident)
    if (
        tap is None
        or tap.medium not in LIQUID
        or (thing.elevation is not None and float(thing.elevation) == 0.0)
    ):
        return 0.0
    fluid = fluid_of(study, feed.source.ident)
    if fluid is None:
        lacks.append(missing.TAP_TEMPERATURE)
        return 0.0
    if thing.elevation is not None:
        return head_pressure(fluid.density, float(thing.elevation))
    lines = [h.edge.line for h in feed.hops if h.edge.line is not None]
    if any(total_length(line) != 0.0 for line in lines):
        lacks.append(missing.PORT_ELEVATION)
    return 0.0
