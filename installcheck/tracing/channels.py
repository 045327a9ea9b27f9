"""Every indication that can be traced: what it is called, what it reads and by what way its reading is worked out."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal, TypeAlias

from ..analysis.circuit.measuring import READ_BY_CIRCUIT
from ..analysis.errors.indicated import Reader, readers
from ..analysis.errors.meter_budget import PlainMeter, plain_meters, solved_reading
from ..analysis.study import Point, Study, once
from ..analysis.thermocouple.circuits import Loop, loops
from ..analysis.thermocouple.groups import group_of
from ..analysis.true_value import truth
from ..dataclass import dataclass
from ..document.source import DocPath
from ..graph import Edge, Indication
from ..graph.indications import measure_of, source_of
from ..model.devices import InputSpec
from ..model.fields import Measure
from .looks import Show

Way: TypeAlias = Literal["network", "meter", "couple", "line", "other"]
"""How a reading is worked out: in the network, by the volts between two nodes of it, along a thermocouple circuit, through a
fluid line, or else."""


@dataclass(frozen=True, slots=True, eq=False)
class Channel:
    """One indication of one sender, probe or tap.

    Attributes:
        show: its name, and the position of its selector.
        indicator, input: id of the indicator and name of the input.
        spec: the input.
        sources: what it reads: one, or several that are averaged.
        section: of what it reads: 'senders', 'probes', 'taps', or that of a bus or a shunt.
        measure: what it is of.
        way: how its reading is worked out.
        indication: its legs; ``None`` for a direct gauge or a sealed system.
        loop: its thermocouple circuit.
        reader: what works out its error budget; ``None`` for what no budget is made for.
        meter: a voltmeter or an ammeter on its shunt, which reads no sender.
        path: where the document tells of it.
    """

    show: Show
    indicator: str
    input: str
    spec: InputSpec
    sources: tuple[str, ...]
    section: str
    measure: Measure | None
    way: Way
    indication: Indication | None
    loop: Loop | None
    reader: Reader | None
    path: DocPath
    meter: PlainMeter | None = None

    @property
    def source(self) -> str:
        """The first it reads; empty if none reaches it."""
        return self.sources[0] if self.sources else ""

    @property
    def feels(self) -> str:
        """What feels what is true: its sender or probe, or the gauge itself where a line leads to it."""
        return self.indicator if self.way == "line" else self.source

    @property
    def edges(self) -> tuple[Edge, ...]:
        """Conductors and joints of its legs, in order from the indicator."""
        if self.meter is not None:
            return tuple(dict.fromkeys(self.meter.leads))
        if self.indication is None:
            return ()
        return tuple(dict.fromkeys(s.edge for leg in self.indication.legs for s in leg.steps))

    @property
    def first_wire(self) -> tuple[Edge, str] | None:
        """The wire at the signal terminal of the indicator, and that terminal."""
        for leg in self.indication.legs if self.indication is not None else ():
            if leg.steps and leg.steps[0].edge.kind == "conductor" and not leg.through_ground:
                return leg.steps[0].edge, leg.steps[0].near
        return None

    def __str__(self) -> str:
        return str(self.show)


@once
def channels(study: Study) -> tuple[Channel, ...]:
    """Every indication, in the order of the document."""
    by_key = {(r.name, r.source): r for r in readers(study)}
    of_loop = {(loop.indication.name, loop.probe_id): loop for loop in loops(study)}
    found: list[Channel] = []
    seen: set[tuple[str, str | None]] = set()
    for one in study.indications:
        show = Show(one.name, one.position)
        if one.averaged and (show.name, show.position) in seen:
            continue
        seen.add((show.name, show.position))
        loop = of_loop.get((one.name, one.source))
        sources: tuple[str, ...] = (one.source,)
        if loop is not None and one.averaged:
            sources = tuple(other.probe_id for other in group_of(study, loop))
        by_network = one.section == "senders" and one.spec.principle in READ_BY_CIRCUIT
        way: Way = "couple" if loop is not None else "network" if by_network else "other"
        found.append(
            Channel(
                show,
                one.indicator,
                one.input,
                one.spec,
                sources,
                one.section,
                measure_of(study.graph, one),
                way,
                one,
                loop,
                by_key.get((one.name, one.source)),
                one.path,
            )
        )
    wired = {(c.show.name, c.source) for c in found}
    meters = {m.name: m for m in plain_meters(study)}
    for reader in readers(study):
        if (reader.name, reader.source) in wired or reader.name in {c.show.name for c in found}:
            continue
        indicator, _, input_ = reader.path[1], "", str(reader.path[3]) if len(reader.path) > 3 else ""
        direct = reader.spec.principle == "direct pressure"
        meter = meters.get(reader.name)
        read = study.model.find(reader.source)
        section = "taps" if direct else read[0] if meter is not None and read is not None else "senders"
        way = "line" if direct else "meter" if meter is not None else "other"
        found.append(
            Channel(
                Show(reader.name),
                str(indicator),
                input_,
                reader.spec,
                reader.sources,
                section,
                reader.measure,
                way,
                None,
                None,
                reader,
                reader.path,
                meter,
            )
        )
    return tuple(found)


@once
def _by_show(study: Study) -> dict[Show, Channel]:
    return {c.show: c for c in channels(study)}


def channel_of(study: Study, show: Show) -> Channel | None:
    """The indication of a look; without a position, the one its selector stands at."""
    found = _by_show(study).get(show)
    if found is not None or show.position is not None:
        return found
    several = [c for c in channels(study) if c.show.name == show.name]
    standing = [
        c
        for c in several
        if c.indication is not None
        and all(s.edge.closed for leg in c.indication.legs for s in leg.steps if s.edge.kind == "contact")
    ]
    return standing[0] if len(standing) == 1 else several[0] if len(several) == 1 else None


def stated_truth(
    study: Study, channel: Channel, point: Point, known: Sequence[tuple[str, float]] = ()
) -> float | None:
    """What is true of an indication at a point, as the document tells or the engine's limit stands for [SI, degC].

    Where neither does, what is ``known`` of it at the time.
    """
    reading = point.reading(channel.measure)
    if channel.meter is not None and (reading is None or point.given is None or point.given.dead_supplies):
        return solved_reading(study, channel.meter, point)
    if reading is not None:
        return float(reading)
    one = channel.indication
    if one is not None and one.section == "senders":
        sender = source_of(study.graph, one)
        curve = study.model.senders[one.source].spec.curve or one.spec.curve
        if curve is not None:
            return truth(study, point, channel.measure, sender, one.spec, curve).value
    limit = channel.reader.limit if channel.reader is not None else None
    if limit is not None:
        for value in (limit.normal_high, limit.maximum, limit.minimum, limit.normal_low):
            if value is not None:
                return float(value)
    dial = channel.spec.scale
    if dial is not None:
        return (float(dial.lowest) + float(dial.highest)) / 2
    return next((value for ident, value in known if ident in (channel.feels, *channel.sources)), None)
