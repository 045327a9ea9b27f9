"""How far what is seen may lie from what is predicted: tolerances of sender, gauge and tester, and how well the truth is known.

A doubt is a standard deviation with the name of what it comes from; two looks share those of one name, so that reading one
gauge twice proves no more of its sender than reading it once.
"""

from __future__ import annotations

from math import hypot, inf, sqrt

from ..analysis.circuit.solved import circuit
from ..analysis.errors.error_budget import Cause
from ..analysis.errors.reading import curve_read
from ..analysis.errors.reading_back import tolerances
from ..analysis.evidence.spans import SOURCE_SPREAD
from ..analysis.sender_curves import kind_of, output_carried, output_kind, reach
from ..analysis.study import Point, Study
from ..dataclass import dataclass
from ..model.quantities import Quantity
from .channels import Channel, channel_of, channels, stated_truth
from .expected import Expect
from .feeling import true_of
from .looks import STOPPED, Look, Ohms, Setup, Show, TrueValue, Volts
from .states import known_at_rest, point_of, stopped
from .weights import Weights

_OF_SOURCE = frozenset(("sender tolerance", "couple tolerance", "emf of one leg of a type J pair"))
_SHARED, _OWN = 0.8, 0.6
"""Shares of a tolerance that stay the same along the dial, and that differ from one reading to the next: their squares make one."""
_SMALL_V = 0.2
"""V, below which a meter is on its millivolt range, and what is read is the drop of a joint."""
_DROP_SHARE = 0.15
"""Share a drop of millivolts may be off: the loads are not what they are taken for to a few per cent."""


@dataclass(frozen=True, slots=True)
class Frame:
    """What a look's result is set against.

    Attributes:
        low, high: ends of what can be seen, in SI.
        true: what is true, for an indication; what a sound aircraft has, for volts.
        seen: how well its result is read [SI].
        margin: how far an indication may be off and still be called right.
        doubts: standard deviations by the name of what they come from.
        law: ends of the law by which it reads its sender, beyond which nothing tells where its pointer stands.
    """

    low: float
    high: float
    true: float | None
    seen: float
    margin: float
    doubts: tuple[tuple[str, float], ...]
    law: tuple[float, float] = (-inf, inf)

    @property
    def stops(self) -> tuple[float, float]:
        """Between what the pointer can stand: its dial's ends, or those of what its sender's law tells."""
        return max(self.low, self.law[0]), min(self.high, self.law[1])

    @property
    def span(self) -> float:
        """From end to end."""
        return self.high - self.low

    def doubts_at(self, look: Look, expect: Expect, weights: Weights) -> tuple[tuple[str, float], ...]:
        """The doubts of one prediction: those of a meter follow its value."""
        value = expect.value or 0.0
        d = weights.doubts
        if isinstance(look, Volts):
            if abs(value) < _SMALL_V:
                return (
                    ("noise", hypot(self.seen, d["volts share"] * value)),
                    (f"loads {look}", _DROP_SHARE * abs(value)),
                )
            if self.doubts:  # what a sender gives, which no load moves
                return (("noise", hypot(d["volts"], d["volts share"] * value)), *self.doubts)
            sound = self.true or 0.0
            return (
                ("noise", hypot(d["volts"], d["volts share"] * value)),
                ("bus", d["bus share"] * max(abs(value), abs(sound))),
                (f"loads {look}", _DROP_SHARE * min(abs(value), abs(value - sound))),
            )
        if isinstance(look, Ohms):
            noise = hypot(d["ohms"], d["ohms share"] * value)
            own = (*((name, share * abs(value)) for name, share in self.doubts), ("unlike", expect.unsure))
            return (("noise", noise), ("wire", min(d["wire share"] * abs(value), 1.0)), *own)
        if expect.fixed:
            return tuple((n, s) for n, s in self.doubts if n == "noise" or n.startswith("gauge"))
        unsure = (("place", expect.unsure),) if expect.unsure else ()
        return (*(_come_out(name, sd, expect) for name, sd in self.doubts), *unsure)


def _come_out(name: str, sd: float, expect: Expect) -> tuple[str, float]:
    """A doubt as it comes out on the dial, under the name of what is really felt."""
    if name.startswith("source"):
        return name, sd * expect.spread
    if not name.startswith("truth"):
        return name, sd
    felt = f"truth|{expect.felt}|{name.split('|', 2)[2]}" if expect.felt else name
    return felt, sd * expect.spread * expect.follows


def frame_of(study: Study, at: Setup, look: Look, weights: Weights) -> Frame:
    """What a look's result is set against."""
    if isinstance(look, Show):
        channel = channel_of(study, look)
        if channel is not None:
            return _of_indication(study, at, channel, weights)
    if isinstance(look, TrueValue):
        channel = next((c for c in channels(study) if look.source in (*c.sources, c.indicator)), None)
        if channel is not None:
            base = _of_indication(study, at, channel, weights)
            noise = weights.doubts["known of span"] * base.span
            truth = tuple(x for x in base.doubts if x[0].startswith("truth"))
            return Frame(base.low, base.high, base.true, noise, base.margin, (("noise", noise), *truth))
    if isinstance(look, Ohms):
        return Frame(0.0, 1e5, None, weights.doubts["ohms"], 0.0, _elements(study, look, weights))
    if isinstance(look, Volts):
        if at.known:
            fine = weights.doubts["millivolts"]
            return Frame(-30.0, 30.0, None, fine, 0.0, _of_output(study, at.known[0], weights))
        net = circuit(study, point_of(study, at))
        ends = net.voltage(look.a), net.voltage(look.b)
        sound = None if ends[0] is None or ends[1] is None else ends[0] - ends[1]
        fine = weights.doubts["stray volts" if at.lifted else "millivolts"]
        return Frame(-30.0, 30.0, sound, fine, 0.0, ())
    return Frame(0.0, 1.0, None, 0.1, 0.0, ())


def _elements(study: Study, look: Ohms, weights: Weights) -> tuple[tuple[str, float], ...]:
    """Shares by which the senders and probes an ohmmeter may look through differ from what is taken of them."""
    ends = {look.a.partition(".")[0], look.b.partition(".")[0]}
    found: dict[str, float] = {}
    for channel in channels(study):
        if channel.source and ends & {channel.source, channel.indicator, *_passed(channel)}:
            share = SOURCE_SPREAD / 2
            if channel.section == "senders":
                share = _of_curve(study, channel, weights)
            found[f"source {channel.source}"] = share
    return tuple(found.items())[:1]


def _of_output(study: Study, known: tuple[str, float], weights: Weights) -> tuple[tuple[str, float], ...]:
    """V by which a sound transducer may be off at a value it is given."""
    source, value = known
    channel = next((c for c in channels(study) if source in c.sources), None)
    sender = study.model.senders.get(source)
    curve = None if channel is None or sender is None else sender.spec.curve or channel.spec.curve
    if channel is None or sender is None or curve is None:
        return (("bus", weights.doubts["volts"]),)
    dial, tolerance = channel.spec.scale, sender.spec.tolerance
    span = float(dial.highest) - float(dial.lowest) if dial is not None else abs(value)
    off = weights.doubts["sender of span"] * span
    if isinstance(tolerance, Quantity):
        off = max(weights.doubts["tolerance share"] * float(tolerance), off)
    moved = abs(output_carried(curve, value + off) - output_carried(curve, value - off)) / 2
    return ((f"source {source}", moved),)


def _passed(channel: Channel) -> set[str]:
    return {n.partition(".")[0] for e in channel.edges if e.kind != "bond" for n in (e.a, e.b)}


def _of_curve(study: Study, channel: Channel, weights: Weights) -> float:
    """Share by which a sender at rest may differ: by its tolerance, and by what nobody measured of the day."""
    sender = study.model.senders[channel.source]
    curve = sender.spec.curve or channel.spec.curve
    truth = stated_truth(study, channel, stopped(study))
    if curve is None or truth is None or output_kind(curve) != "resistance":
        return SOURCE_SPREAD / 2
    warm = kind_of(curve) == "temperature"
    tolerance = sender.spec.tolerance
    dial = channel.spec.scale
    span = float(dial.highest) - float(dial.lowest) if dial is not None else 0.0
    off = [weights.doubts["rest temperature"] if warm else 0.0]
    if not known_at_rest(channel.measure):
        off.append(weights.doubts["truth of span"] * span)
    off.append(
        weights.doubts["tolerance share"] * float(tolerance) if isinstance(tolerance, Quantity) else 0.0
    )
    base = output_carried(curve, truth)
    moved = [max(abs(output_carried(curve, truth + s * d) - base) for s in (-1, 1)) for d in off]
    return max(hypot(*moved) / max(base, 1.0), SOURCE_SPREAD / 5)


def _of_indication(study: Study, at: Setup, channel: Channel, weights: Weights) -> Frame:
    d = weights.doubts
    point = point_of(study, at)
    stated = stated_truth(study, channel, point, at.known)
    true = true_of(study, at, point, channel.feels, stated) if stated is not None else None
    if true is not None and channel.source and channel.source != channel.feels:
        true = true_of(study, at, point, channel.source, true)
    dial = channel.spec.scale
    low, high = (float(dial.lowest), float(dial.highest)) if dial is not None else _wide(true)
    span = high - low
    budget = channel.spec.budget
    stated_k, source_k = _stated(study, channel, point, true)
    share = d["tolerance share"]
    part = share * float(budget) / sqrt(2) if dial is None and isinstance(budget, Quantity) else 0.0
    gauge = share * stated_k if stated_k else part or d["gauge of span"] * span
    source = share * source_k if source_k else part or d["sender of span"] * span
    division = float(dial.division) if dial is not None and dial.division is not None else 0.0
    reading = max(division / 4, d["reading of span"] * span)
    bathed = any(s in channel.sources for s, _ in at.bathed)
    known = bathed or any(s in (channel.feels, *channel.sources) for s, _ in at.known)
    truth = d["bath"] if bathed else (d["known of span"] if known else d["truth of span"]) * span
    if at.point == STOPPED and not known and known_at_rest(channel.measure):
        cold = channel.measure is not None and "temperature" in channel.measure
        truth = d["rest temperature"] if cold else d["known of span"] * span
    source_name, felt_name = _exchanged(study, at, channel)
    of_gauge = " of a spare" if at.swapped == (channel.indicator, "") else ""
    of_taps = channel.section == "taps"
    own = hypot(reading, _OWN * gauge, 0.0 if of_taps else _OWN * source)
    doubts = [("noise", own), (f"gauge {channel.show.name}{of_gauge}", _SHARED * gauge)]
    if not of_taps:
        doubts.append((f"source {source_name}", _SHARED * source))
    doubts.append((f"truth|{felt_name}|{'bath' if bathed else at.point} {known}", truth))
    total = hypot(*(s for _, s in doubts))
    margin = max(float(budget) if isinstance(budget, Quantity) else 0.0, 2 * total)
    return Frame(low, high, true, reading, margin, tuple(doubts), _law(study, channel))


def _law(study: Study, channel: Channel) -> tuple[float, float]:
    """Ends of the law by which an indication reads its sender."""
    curve = None
    if channel.way == "network" and channel.indication is not None:
        curve = curve_read(study, channel.indication)
    return reach(curve) if curve is not None else (-inf, inf)


def _exchanged(study: Study, at: Setup, channel: Channel) -> tuple[str, str]:
    """The source it reads and what that feels, as exchanged for the test."""
    if at.swapped is None or channel.source == "":
        return channel.source, channel.feels
    one, other = at.swapped
    if channel.source in at.swapped:
        put = other if channel.source == one else one
        return put or f"{channel.source} of a spare", channel.feels
    if str(channel.show) in at.swapped:
        there = other if str(channel.show) == one else one
        found = next((c for c in channels(study) if str(c.show) == there), channel)
        return found.source, found.feels
    return channel.source, channel.feels


def _wide(true: float | None) -> tuple[float, float]:
    size = abs(true or 0.0) or 100.0
    return (true or 0.0) - 2 * size, (true or 0.0) + 2 * size


def _stated(study: Study, channel: Channel, point: Point, true: float | None) -> tuple[float, float]:
    """Stated largest errors of the gauge with its lead, and of the source."""
    causes: list[Cause] = []
    if channel.way == "network" and channel.indication is not None:  # they are the same in every state
        causes = tolerances(study, channel.indication)
    elif channel.reader is not None and true is not None:
        causes = [c for c in channel.reader.at(point, true).causes if c.tolerance]
    gauge = hypot(*(c.amount for c in causes if c.name not in _OF_SOURCE), 0.0)
    source = hypot(*(c.amount for c in causes if c.name in _OF_SOURCE), 0.0)
    return gauge, source
