"""What an indicator takes its sender for in the solved network, and where that puts the pointer."""

from __future__ import annotations

from dataclasses import replace
from math import inf, isfinite

import numpy as np
from numpy.typing import NDArray

from ...dataclass import dataclass
from ...graph import Edge, Indication
from ...model.devices import Curve
from ...physics.bulbs import bridge_apparent_ohm
from ...physics.network_faults import ChangeResistance, play_fault
from ...physics.network_parts import in_bounds
from ...physics.network_system import driven_otherwise
from ...physics.networks import voltages
from ...physics.scale import OffScaleError
from ..circuit.measuring_inputs import Meter, Sensed
from ..circuit.solved import Circuit, circuit
from ..sender_curves import falls, output, output_kind, shown
from ..study import Point, Study

FloatArray = NDArray[np.float64]

_OPEN = 1e-7
"""Share of the largest sensing current below which a circuit is open [-]: what flows is leakage of the loose ties."""


_DEAD = 1e-3
"""V below which nothing feeds a sensing circuit."""


class DeadError(ValueError):
    """The indicator or its sensing circuit has no supply."""


@dataclass(frozen=True, slots=True)
class Shown:
    """What a pointer shows in SI (degC); ``None`` when it is driven ``beyond`` its scale, or is ``dead``."""

    value: float | None
    beyond: str = ""
    dead: bool = False


def signal(meter: Meter, voltage: FloatArray, *, sag: bool = True) -> float:
    """Resistance [ohm], voltage [V] or current [A] the input takes its sender for; infinite when the circuit is open.

    ``sag`` off takes the scale to be drawn for the supply voltage there is.

    Raises:
        DeadError: nothing feeds the circuit.
    """
    v = voltage
    low = float(v[meter.low])
    if meter.how == "voltage":
        return _known(float(v[meter.high]) - low)
    if meter.how == "current":
        return _known((float(v[meter.high]) - low) / meter.series)
    supply = _known(float(v[meter.feed]) - low)
    if supply <= _DEAD:
        raise DeadError("nothing feeds the sensing circuit")
    scale = meter.scale if sag and meter.scale is not None else supply
    if meter.how == "bridge":
        assert meter.bridge is not None
        drawn = replace(meter.bridge, scale_supply_v=scale)
        try:
            ohm = bridge_apparent_ohm(drawn, (float(v[meter.high]) - float(v[meter.other])) / meter.series)
        except OffScaleError as off:
            return inf if off.side == "above" else 0.0
        return ohm - meter.allowance
    if meter.how == "divider":
        volts = _known(float(v[meter.high]) - low)
        if volts >= min(scale, supply) * (1 - _OPEN):
            return inf
        return meter.series * volts / (scale - volts) - meter.allowance
    current = _known((float(v[meter.feed]) - float(v[meter.high])) / meter.series)
    if current <= _OPEN * supply / meter.series:
        return inf
    return scale / current - meter.series - meter.allowance


def _known(value: float) -> float:
    if not isfinite(value):
        raise DeadError("the circuit floats")
    return value


def read(meter: Meter, curve: Curve, voltage: FloatArray, *, sag: bool = True) -> Shown:
    """What the pointer shows."""
    try:
        out = signal(meter, voltage, sag=sag)
    except DeadError:
        return Shown(None, dead=True)
    if out == inf:
        return Shown(None, "below" if falls(curve) else "above")
    try:
        return Shown(shown(curve, out))
    except OffScaleError as off:
        return Shown(None, off.side)
    except ValueError:
        return Shown(None, "above" if falls(curve) else "below")


def curve_read(study: Study, indication: Indication) -> Curve | None:
    """The curve the dial is drawn for: the input's own, else that of its sender."""
    if indication.spec.curve is not None:
        return indication.spec.curve
    sender = study.model.senders.get(indication.source)
    return sender.spec.curve if sender is not None else None


def indicated(study: Study, indication: Indication, point: Point, true: float) -> Shown:
    """What an indication shows at a point for a true value in SI (degC), everything else as it is there.

    Raises:
        ValueError: beyond the sender's curve, or the circuit cannot be laid.
    """
    net = circuit(study, point)
    sensed, curve = net.senders.get(indication.source), curve_read(study, indication)
    meter = net.meters.get((indication.indicator, indication.input))
    if sensed is None or sensed.curve is None or curve is None or meter is None or meter.needed:
        raise ValueError(f"{indication.name}: its circuit is not described")
    return read(meter, curve, voltages_with(net, indication.source, sensed, output(sensed.curve, true)))


def voltages_with(net: Circuit, sender: str, sensed: Sensed, out: float) -> FloatArray:
    """Node voltages with another output of one sender.

    Raises:
        ValueError: it is not part of the network.
    """
    assert sensed.curve is not None
    element = element_of(net.study, sender)
    network = net.solution.network
    if element is None:
        raise ValueError(f"{sender} has no terminals")
    number = net.branch_of.get(element)
    if number is None:
        draw = net.draw_of.get(element)
        if draw is None:
            raise ValueError(f"{sender} is not part of the network")
        value = network.draw_value.copy()
        value[draw] = out
        return voltages(driven_otherwise(net.solution.system, network.with_figures(draw_value=value)))
    if output_kind(sensed.curve) == "resistance":
        return play_fault(net.solution, ChangeResistance(number, in_bounds(out))).voltage
    emf = network.emf.copy()
    emf[number] *= out / sensed.output if sensed.output else 0.0
    return voltages(driven_otherwise(net.solution.system, network.with_figures(emf=emf)))


def element_of(study: Study, sender: str) -> Edge | None:
    """What a sender puts into its circuit; ``None`` if it has no terminals."""
    return next((e for e in study.graph.by_thing.get(("senders", sender), ()) if e.kind == "element"), None)
