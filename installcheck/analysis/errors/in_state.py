"""What an indication shows in any state of the solved network: a value, a stop, or that it is dead, frozen or erratic."""

from __future__ import annotations

from collections.abc import Iterator
from math import inf
from typing import Literal, TypeAlias

import numpy as np
from numpy.typing import NDArray

from ...dataclass import dataclass
from ...graph import Indication
from ...model.devices import Curve, InputSpec
from ...model.quantities import Quantity
from ..circuit.measuring_inputs import Follower, Meter
from ..circuit.solved import Circuit
from ..sender_curves import falls
from .reading import DeadError, Shown, curve_read, element_of, read, signal

FloatArray = NDArray[np.float64]

State: TypeAlias = Literal["value", "above", "below", "dead", "frozen", "erratic"]

GROUND_LOST = 0.5
"""V between the negative of a transducer and the indicator's ground that no lead drops: the ground is gone."""
_NO_CURRENT = 1e-6
"""A, below which a current loop is open."""


@dataclass(frozen=True, slots=True)
class Seen:
    """What a pointer shows: a ``value`` in SI (degC), or how it stands where that is none; ``open`` for an open circuit."""

    state: State
    value: float | None = None
    open: bool = False


DEAD, FROZEN, ERRATIC, ABOVE, BELOW = (
    Seen("dead"),
    Seen("frozen"),
    Seen("erratic"),
    Seen("above"),
    Seen("below"),
)


@dataclass(frozen=True, slots=True)
class Watched:
    """An indication that follows from the solved network, with where its input looks."""

    indication: Indication
    meter: Meter
    curve: Curve
    follower: Follower | None


def watched(net: Circuit) -> Iterator[Watched]:
    """Every indication whose reading in another state of the network can be told."""
    for indication in net.study.indications:
        meter = net.meters.get((indication.indicator, indication.input))
        curve = curve_read(net.study, indication)
        sensed = net.senders.get(indication.source)
        if meter is None or meter.needed or curve is None or sensed is None or sensed.output is None:
            continue
        if not all(s.edge.closed for leg in indication.legs for s in leg.steps if s.edge.kind == "contact"):
            continue
        element = element_of(net.study, indication.source)
        number = net.branch_of.get(element) if element is not None else None
        follower = next((f for f in net.followers if f.branch == number), None)
        yield Watched(indication, meter, curve, follower)


def seen(net: Circuit, one: Watched, v: FloatArray, emf: float | None = None, share: float = 1.0) -> Seen:
    """What it shows with the node voltages ``v``.

    ``emf`` [V] is what its transducer gave in that state (as solved, if left out), ``share`` how much of its nominal output
    it has there.
    """
    indication, meter, curve = one.indication, one.meter, one.curve
    if one.follower is not None:
        if not abs(v[one.follower.minus] - v[meter.low]) <= GROUND_LOST:
            if indication.spec.pull_up is not None:
                return opened(indication.spec, "below" if falls(curve) else "above")
            return ERRATIC
        v = _followed(net, one.follower, meter, v, emf, share)
    try:
        out = signal(meter, v)
    except DeadError:
        return opened(indication.spec) if meter.how == "voltage" else DEAD
    if out == inf or (meter.how == "current" and abs(out) < _NO_CURRENT):
        return opened(indication.spec, "below" if falls(curve) or meter.how == "current" else "above")
    return on_dial(indication.spec, read(meter, curve, v))


def _followed(
    net: Circuit, follower: Follower, meter: Meter, v: FloatArray, emf: float | None, share: float
) -> FloatArray:
    """The voltages with the transducer's output in proportion to the supply it has left."""
    across = float(v[follower.plus] - v[follower.minus])
    had = float(net.solution.network.emf[follower.branch]) if emf is None else emf
    moved = v.copy()
    moved[meter.high] -= had - share * follower.output * (across if across > 0 else 0.0) / follower.nominal
    return moved


def on_dial(spec: InputSpec, shown: Shown) -> Seen:
    """What a pointer shows, its dial considered: beyond it there is only the stop."""
    if shown.dead:
        return DEAD
    side = shown.beyond or off_dial(spec, shown.value)
    if side:
        return ABOVE if side == "above" else BELOW
    return Seen("value", shown.value)


def off_dial(spec: InputSpec, value: float | None) -> str:
    """The side of its dial a value lies beyond; empty if it is on it, or there is no dial."""
    if value is None or spec.scale is None:
        return ""
    if value > float(spec.scale.highest):
        return "above"
    return "below" if value < float(spec.scale.lowest) else ""


def opened(spec: InputSpec, side: str | None = None) -> Seen:
    """What an indication shows with its sensing circuit open: as its part says, else as its circuit does (``side``)."""
    told = spec.open_shows
    if isinstance(told, Quantity):
        return Seen("value", float(told), open=True)
    by_word: dict[str, State] = {
        "nothing": "dead",
        "last value": "frozen",
        "off scale high": "above",
        "off scale low": "below",
        "above": "above",
        "below": "below",
    }
    return Seen(by_word.get(told or side or "", "dead"), open=True)
