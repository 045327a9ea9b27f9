"""Tests that give a gauge or a sender something known: a resistor, a short wire, boiling water, a pressure by hand."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ..analysis.sender_curves import output, output_kind
from ..analysis.study import Study
from ..model.quantities import show
from .channels import Channel, stated_truth
from .looks import STOPPED, Observation, Setup, Show, Volts
from .offered import Test, gauge_ends, made, noise_ends, place_of
from .states import usual
from .wires import structure

_BOILING_C = 100.0
"""degC of boiling water at 1013.25 hPa (ITS-90: 99.97)."""


def in_bath(study: Study, channel: Channel) -> Iterator[Test]:
    """A probe or sender of temperature in boiling water, where that is on the dial: nothing is left but it, its leads and its gauge."""
    dial, own = channel.spec.scale, channel.source
    wired = own in study.model.probes or own in study.model.senders
    if not wired or len(channel.sources) > 1 or dial is None or dial.lowest.kind != "temperature":
        return
    if float(dial.lowest) < _BOILING_C < float(dial.highest):
        yield made(
            study,
            Setup(STOPPED, bathed=((own, _BOILING_C),)),
            channel.show,
            f"take {own} out, still connected, and hold it in boiling water (212 degF at sea level, 1.8 degF less for each 1000 ft of "
            f"elevation), master on: look at {channel.show}",
            "in a bath",
            channel,
            own,
        )


def stirring_of(channel: Channel) -> str:
    """How what a probe or sender feels is moved on the ground; empty where it cannot be."""
    measure = channel.measure or ""
    if "temperature" in measure:
        return f"warm {channel.source} alone with a hot-air gun or in hot oil"
    if measure in ("oil pressure", "fuel pressure", "hydraulic pressure"):
        return f"put a pressure on {channel.source} with a hand pump and a test gauge"
    if measure == "fuel quantity":
        return f"move the float of {channel.source}, or put a known quantity into the tank"
    if measure in ("manifold pressure", "vacuum"):
        return f"put a suction on {channel.source} with a hand pump and a test gauge"
    return ""


def on_bench(study: Study, channel: Channel) -> Iterator[Test]:
    """A transducer given a known pressure or temperature where it is, and its output read by a voltmeter at the gauge."""
    sender = study.model.senders.get(channel.source)
    curve = None if sender is None else sender.spec.curve or channel.spec.curve
    dial, ends, stir = channel.spec.scale, gauge_ends(study, channel), stirring_of(channel)
    if curve is None or output_kind(curve) != "voltage" or dial is None or not ends or not stir:
        return
    value = float(dial.lowest) + _OF_DIAL * (float(dial.highest) - float(dial.lowest))
    signal = next(
        (n for pair in ends for n in pair if study.graph.nodes[n].get("terminal") == _signal(channel)),
        ends[0][0],
    )
    ground = structure(study)
    if ground is not None:
        told = show(value, dial.highest.unit, dial.highest.kind)
        yield made(
            study,
            Setup(STOPPED, known=((channel.source, value),)),
            Volts(signal, ground),
            f"master on, engine stopped: {stir}, to {told}; volts from {signal} to {ground}",
            "on the engine",
            channel,
            channel.source,
            signal,
        )


def _signal(channel: Channel) -> str:
    """The terminal of a gauge that a transducer's output comes to: the second of three, between its feed and its ground."""
    names = channel.spec.terminals or ("",)
    return names[1] if len(names) > 2 else names[0]


_OF_DIAL = 0.6
"""Share of the dial a transducer is brought to."""


def leads_off(study: Study, channel: Channel, seen: Sequence[Observation]) -> Iterator[Test]:
    """With what made it misbehave on, and its leads off at the gauge: whether what comes with a load comes in by the leads."""
    ends = noise_ends(study, channel)
    ill = [o for o in seen if isinstance(o.look, Show) and o.result.word == "erratic"]
    for load in dict.fromkeys(name for o in ill for name, on in o.at.loads if on):
        if not ends:
            return
        if channel.way == "couple":
            at = Setup(STOPPED, ((load, True),), joined=((ends[0], ends[1], 0.0),))
            words = f"lift the leads at {ends[0]} and {ends[1]} and join the two terminals by a short wire"
        else:
            at = Setup(STOPPED, ((load, True),), lifted=ends)
            words = f"lift the lead at {ends[0]}"
        yield made(
            study,
            at,
            channel.show,
            f"{words}, master on, engine stopped, switch {load} on: does {channel.show} still jump? If not, it comes in by the leads: look at "
            f"their way beside the wires of {load}, and at their screen and its ground",
            "lift at the panel",
            channel,
            *ends,
        )


def at_gauge(study: Study, channel: Channel) -> Iterator[Test]:
    """What the gauge itself makes of an open, a joined or a known input."""
    assert channel.indication is not None
    ends = gauge_ends(study, channel)
    rest = STOPPED
    if not ends:
        return
    a, b = ends[0]
    if channel.way == "couple":
        yield made(
            study,
            Setup(rest, joined=((a, b, 0.0),)),
            channel.show,
            f"join {a} and {b} at {channel.indicator} by a short wire, master on: it should show the temperature of its terminals",
            "at the panel",
            channel,
            a,
        )
        return
    yield made(
        study,
        Setup(rest, lifted=(a,)),
        channel.show,
        f"lift the lead at {a}, master on: look at {channel.show}",
        "lift at the panel",
        channel,
        a,
    )
    first = next((s for leg in channel.indication.legs for s in leg.steps if s.near == a), None)
    ground = structure(study)
    if first is not None and ground is not None and not study.graph.is_ground(first.far):
        yield made(
            study,
            Setup(rest, lifted=(a,)),
            Volts(first.far, ground),
            f"lift the lead at {a}, master on: volts from that lead to {ground}",
            "lift at the panel",
            channel,
            a,
        )
    ohms = _resistor(study, channel)
    if ohms is not None:
        yield made(
            study,
            Setup(rest, lifted=(a,), joined=((a, b, ohms),)),
            channel.show,
            f"lift the lead at {a} and put {show(ohms, 'ohm', 'resistance')} from {a} to {b}, master on: look at {channel.show}",
            "lift at the panel",
            channel,
            a,
        )
        yield made(
            study,
            Setup(rest, replaced=((channel.source, ohms),)),
            channel.show,
            f"put {show(ohms, 'ohm', 'resistance')} in the place of {channel.source} at its leads, master on: look at {channel.show}",
            place_of(study, channel.source),
            channel,
            channel.source,
        )


def _resistor(study: Study, channel: Channel) -> float | None:
    """A resistor of the usual series nearest to what the sender gives at the usual point [ohm]."""
    sender = study.model.senders.get(channel.source)
    curve = channel.spec.curve or (sender.spec.curve if sender is not None else None)
    truth = stated_truth(study, channel, usual(study))
    if curve is None or output_kind(curve) != "resistance" or truth is None:
        return None
    try:
        ohms = output(curve, truth)
    except ValueError:
        return None
    return min(_E24, key=lambda r: abs(r - ohms))


_E24 = tuple(
    m * 10.0**k
    for k in range(5)
    for m in (
        1.0,
        1.1,
        1.2,
        1.3,
        1.5,
        1.6,
        1.8,
        2.0,
        2.2,
        2.4,
        2.7,
        3.0,
        3.3,
        3.6,
        3.9,
        4.3,
        4.7,
        5.1,
        5.6,
        6.2,
        6.8,
        7.5,
        8.2,
        9.1,
    )
)
"""ohm, resistors of the E24 series (IEC 60063)."""
