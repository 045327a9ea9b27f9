"""What every resistive, voltage and current indication shows in the solved network, and how its error splits by cause.

Causes are switched off one after another in the whole network, in the order supply sag, ground offset, contact
resistance, lead heating, lead resistance; each amounts to what its going takes away, so together they make up the error.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import inf, isfinite

import numpy as np
from numpy.typing import NDArray

from ...graph import Edge, Indication
from ...graph.indications import measure_of
from ...model.devices import Curve
from ...physics.bulbs import bridge_apparent_ohm, self_heating_c
from ...physics.network_faults import ChangeResistance, play_fault
from ...physics.network_parts import SMALLEST_RESISTANCE
from ...physics.networks import solve
from ...physics.scale import OffScaleError
from ..circuit.assembly import (
    BODY,
    CONTACT,
    LOAD_CURRENT,
    TRANSDUCER,
)
from ..circuit.measuring import READ_BY_CIRCUIT
from ..circuit.measuring_inputs import (
    INDICATOR_GROUND,
    INDICATOR_SUPPLY,
    INNER,
    PULL_UP,
    Meter,
    Sensed,
)
from ..circuit.solved import Circuit, circuit
from ..sender_curves import (
    falls,
    output,
    output_kind,
    shown,
)
from ..study import Point, Study
from ..true_value import READING
from .error_budget import Cause, ErrorBudget

FloatArray = NDArray[np.float64]

SAG, GROUND, CONTACTS, HEATING, LEADS = (
    "supply sag",
    "ground offset",
    "contact resistance",
    "lead heating",
    "lead resistance",
)
SELECTED = "position of the selector"
RETURN = "way of the sender's return"

_OPEN = 1e-7
"""Share of the largest sensing current below which a circuit is open [-]: what flows is leakage of the loose ties."""
_NOTHING = 1e-9
"""Share of the true value below which a cause is rounding [-]."""


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
    if supply <= 1e-3:
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


def concerned(study: Study) -> list[Indication]:
    """Indications of senders that follow from the solved network."""
    return [i for i in study.indications if i.section == "senders" and i.spec.principle in READ_BY_CIRCUIT]


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
    """Node voltages with another output of one sender."""
    assert sensed.curve is not None
    element = _element(net.study, sender)
    network = net.solution.network
    number = net.branch_of.get(element)
    if number is None:
        draw = net.draw_of.get(element)
        if draw is None:
            raise ValueError(f"{sender} is not part of the network")
        value = network.draw_value.copy()
        value[draw] = out
        return solve(replace(network, draw_value=value)).voltage
    if output_kind(sensed.curve) == "resistance":
        return play_fault(net.solution, ChangeResistance(number, max(out, SMALLEST_RESISTANCE))).voltage
    emf = network.emf.copy()
    emf[number] *= out / sensed.output if sensed.output else 0.0
    return solve(replace(network, emf=emf)).voltage


def _element(study: Study, sender: str) -> Edge:
    return next(e for e in study.graph.by_thing[("senders", sender)] if e.kind == "element")


def returns_through_ground(study: Study, indication: Indication) -> bool:
    """Whether the sensing current returns through ground points, so that what else flows there moves the reading."""
    sender = study.model.senders[indication.source]
    return (
        len(indication.spec.terminals or ()) < 2
        or bool(sender.spec.case_return)
        or any(leg.through_ground for leg in indication.legs)
    )


def electrical_budgets(study: Study) -> list[ErrorBudget]:
    """The error budget of every such indication at every operating point, worked out once."""
    return study.memo("electrical budgets", _budgets)


def _budgets(study: Study) -> list[ErrorBudget]:
    return [
        budget
        for indication in concerned(study)
        for point in study.points
        if (budget := _budget(study, indication, point)) is not None
    ]


def _budget(study: Study, indication: Indication, point: Point) -> ErrorBudget | None:
    net = circuit(study, point)
    meter = net.meters[(indication.indicator, indication.input)]
    sensed, curve = net.senders[indication.source], curve_read(study, indication)
    told = sensed.truth
    if told is None or curve is None:
        return ErrorBudget(
            indication.name,
            indication.source,
            measure_of(study.graph, indication),
            point.name,
            indication.path,
            "",
            "",
            0.0,
            None,
            (),
            missing=sensed.missing,
        )
    missing = _missing(study, indication, net, meter, sensed)

    def made(
        value: float | None, causes: tuple[Cause, ...], beyond: str = "", more: tuple[str, ...] = ()
    ) -> ErrorBudget:
        return ErrorBudget(
            indication.name, indication.source, measure_of(study.graph, indication), point.name, indication.path,
            told.kind, told.unit, told.value, value, causes, beyond, tuple(dict.fromkeys((*missing, *more))),
        )  # fmt: skip

    if sensed.output is None or meter.needed:
        return made(None, ())
    if indication.position is not None and not _selected(study, indication):
        return made(None, (), more=(SELECTED,))
    full = read(meter, curve, net.solution.voltage)
    if full.dead:
        return None if _fed_nowhere(net, meter) else made(None, (), more=(RETURN,))
    if full.value is None:
        return made(None, (), full.beyond, () if _joined(net, indication) else (RETURN,))
    steps = [
        (SAG, net.solution.voltage),
        (GROUND, net.without(others=True)),
        (CONTACTS, net.without(others=True, contacts=True)),
        (HEATING, net.without(others=True, contacts=True, heating=True)),
        (LEADS, net.without(others=True, contacts=True, heating=True, leads=True)),
    ]
    causes, before = [], full.value
    for name, voltage in steps:
        after = read(meter, curve, voltage, sag=False).value
        if after is None:
            return made(None, (), full.beyond, (RETURN,))
        if abs(before - after) > _NOTHING * max(1.0, abs(told.value)):
            causes.append(Cause(name, before - after))
        before = after
    rest = before - told.value
    if abs(rest) > 1e-6 * max(1.0, abs(told.value)):
        causes.append(Cause(_rest_name(study, indication, meter), rest))
    warmed = _self_heating(net, indication, sensed)
    if warmed:
        causes.append(Cause("self-heating", warmed))
    sender = study.model.senders[indication.source]
    for name, tolerance in (
        ("sender tolerance", sender.spec.tolerance),
        ("indicator accuracy", indication.spec.accuracy),
    ):
        if tolerance:
            causes.append(Cause(name, float(tolerance), tolerance=True))
    return made(full.value + warmed, tuple(causes))


def _rest_name(study: Study, indication: Indication, meter: Meter) -> str:
    """What an error is called that stays when leads, contacts and other currents are gone."""
    if meter.allowance:
        return "lead allowance"
    own = indication.spec.curve
    same = own is None or own == study.model.senders[indication.source].spec.curve
    return "load of the inputs" if same else "sender mismatch"


def _self_heating(net: Circuit, indication: Indication, sensed: Sensed) -> float:
    sender = net.study.model.senders[indication.source]
    current = net.current(_element(net.study, indication.source))
    if sender.spec.dissipation is None or not current or not sensed.output:
        return 0.0
    return self_heating_c(current, sensed.output, float(sender.spec.dissipation))


def _selected(study: Study, indication: Indication) -> bool:
    return all(s.edge.closed for leg in indication.legs for s in leg.steps if s.edge.kind == "contact")


def _fed_nowhere(net: Circuit, meter: Meter) -> bool:
    """Whether the indicator has no supply at this point, so that it shows nothing and there is no error to tell."""
    if meter.power is None:
        return False
    plus, minus = (float(net.solution.voltage[n]) for n in meter.power)
    return not plus - minus > 0.5


def _joined(net: Circuit, indication: Indication) -> bool:
    element = _element(net.study, indication.source)
    current = net.current(element)
    return current is not None and abs(current) > 1e-9


def _missing(
    study: Study, indication: Indication, net: Circuit, meter: Meter, sensed: Sensed
) -> tuple[str, ...]:
    """What the document lacks and the reading depends on."""
    data: list[str] = [*sensed.missing, *meter.needed]
    if sensed.truth is not None and sensed.truth.basis == "middle":
        data.append(READING)
    edges = [s.edge for leg in indication.legs for s in leg.steps]
    through_ground = returns_through_ground(study, indication)
    data += [m for m in net.lacking(edges) if m != CONTACT and (m != BODY or through_ground)]
    data += [
        m
        for m in meter.assumed
        if not (m in (INNER, PULL_UP) and meter.scale is None and not through_ground)
        and not (m == INDICATOR_SUPPLY and meter.scale is None)
        and not (m == INDICATOR_GROUND and not through_ground)
    ]
    if (
        through_ground
        and net.has_unknown_load
        and any(e.kind == "bond" and e.section == "grounds" for e in edges)
    ):
        data.append(LOAD_CURRENT)
    return tuple(dict.fromkeys(m for m in data if m != TRANSDUCER))
