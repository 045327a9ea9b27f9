"""Indications that are read through fluid lines: direct gauges, and senders at the end of a hose."""

from __future__ import annotations

from collections.abc import Iterator

from ...dataclass import dataclass
from ...graph import Indication
from ...graph.indications import measure_of
from ...graph.media import Feed
from ...model.devices import InputSpec
from ...model.fields import Measure
from ..fluid.facts import media
from ..study import Study, once
from .direct_budget import direct_gauges


@dataclass(frozen=True, slots=True, eq=False)
class ReadThrough:
    """One indication with the way by which its medium comes.

    Attributes:
        name: as an indication is named.
        indicator, spec: id of the indicator, and the input.
        measure: what it is of.
        feels: what the line leads to: the gauge, or the sender.
        feed: the way from the tap.
        indication: its wiring; ``None`` for a direct gauge.
    """

    name: str
    indicator: str
    spec: InputSpec
    measure: Measure | None
    feels: str
    feed: Feed
    indication: Indication | None

    @property
    def lines(self) -> tuple[str, ...]:
        """Ids of the lines of the way, from the tap on."""
        return tuple(dict.fromkeys(h.edge.ident for h in self.feed.hops if h.edge.kind == "fluid line"))

    @property
    def medium(self) -> str:
        """What comes through."""
        return self.feed.source.medium


@once
def read_through(study: Study) -> tuple[ReadThrough, ...]:
    """Every indication that at least one line leads to, once for each source that reaches it."""
    return tuple(one for one in (*_direct(study), *_senders(study)) if one.lines)


def _direct(study: Study) -> Iterator[ReadThrough]:
    for gauge in direct_gauges(study):
        for feed in gauge.feeds:
            yield ReadThrough(gauge.name, gauge.ident, gauge.spec, gauge.measure, gauge.ident, feed, None)


def _senders(study: Study) -> Iterator[ReadThrough]:
    for one in study.indications:
        measure = measure_of(study.graph, one)
        if one.section != "senders" or measure is None or not ("pressure" in measure or measure == "vacuum"):
            continue
        for port in study.model.senders[one.source].spec.ports or ("P",):
            for feed in media(study).feeds(f"{one.source}.{port}"):
                yield ReadThrough(one.name, one.indicator, one.spec, measure, one.source, feed, one)
