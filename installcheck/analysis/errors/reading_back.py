"""What every resistive, voltage and current indication shows in the solved network, and how its error splits by cause.

Causes are switched off one after another in the whole network, in the order supply sag, ground offset, contact
resistance, lead heating, lead resistance; each amounts to what its going takes away, so together they make up the error.
"""

from __future__ import annotations

from ...graph import Indication
from ...graph.indications import measure_of
from ...model.comparing import same
from ...physics.bulbs import self_heating_c
from .. import missing
from ..circuit.measuring import READ_BY_CIRCUIT, read_by_circuit
from ..circuit.measuring_inputs import Meter, Sensed
from ..circuit.solved import Circuit, circuit
from ..missing import Missing
from ..sender_curves import kind_of
from ..study import Point, Study, once
from .error_budget import Cause, ErrorBudget, tolerance
from .ground_offsets import measured_shift, shared_segments
from .line_head import HEAD, feeds_of, head_causes
from .reading import curve_read, element_of, read

SAG, GROUND, CONTACTS, HEATING, LEADS = (
    "supply sag",
    "ground offset",
    "contact resistance",
    "lead heating",
    "lead resistance",
)

MEASURED_GROUND = "measured ground offset"

_NOTHING = 1e-9
"""Share of the true value below which a cause is rounding [-]."""
_MOVED = 1e-6
"""Share of the reading that one ampere of another device may move it by and count as nothing [-]."""
_LEAKS = 1e-9
"""A, sensing current below which a circuit is open: what flows is leakage of the loose ties."""
_LIVE = 0.5
"""V at its supply terminals below which an indicator is switched off."""


def returns_through_ground(study: Study, indication: Indication) -> bool:
    """Whether the sensing current returns through ground points, so that what else flows there moves the reading."""
    sender = study.model.senders[indication.source]
    return (
        len(indication.spec.terminals or ()) < 2
        or bool(sender.spec.case_return)
        or any(leg.through_ground for leg in indication.legs)
    )


@once
def electrical_budgets(study: Study) -> list[ErrorBudget]:
    """The error budget of every such indication at every operating point."""
    return [
        budget
        for indication in read_by_circuit(study)
        for point in study.points
        if (budget := budget_at(study, indication.key, point)) is not None
    ]


def budgets_of(study: Study, indication: Indication) -> list[ErrorBudget]:
    """The budgets of one indication, at all points."""
    if indication.section != "senders" or indication.spec.principle not in READ_BY_CIRCUIT:
        return []
    at = (budget_at(study, indication.key, point) for point in study.points)
    return [budget for budget in at if budget is not None]


@once
def budget_at(study: Study, key: tuple[str, str, str, str], point: Point) -> ErrorBudget | None:
    """The error budget of the indication of a key at an operating point; ``None`` if it has no supply there."""
    indication = study.indication(key)
    net = circuit(study, point)
    meter = net.meters[(indication.indicator, indication.input)]
    sensed, curve = net.senders[indication.source], curve_read(study, indication)
    told = sensed.truth
    known = told is not None and curve is not None
    data = _lacks(study, indication, net, meter, sensed) if known else sensed.missing

    def made(
        value: float | None, causes: tuple[Cause, ...], beyond: str = "", more: tuple[Missing, ...] = ()
    ) -> ErrorBudget:
        return ErrorBudget(
            indication.name,
            indication.source,
            measure_of(study.graph, indication),
            point.name,
            indication.path,
            told.kind if told is not None else "",
            told.unit if told is not None else "",
            told.value if told is not None else 0.0,
            value,
            causes,
            beyond,
            tuple(dict.fromkeys((*data, *more))),
        )

    if told is None or curve is None or sensed.output is None or meter.needed:
        return made(None, ())
    if kind_of(curve) != told.kind:
        return made(None, (), more=(missing.SENDER_OF_KIND,))
    if indication.position is not None and not _selected(indication):
        return made(None, (), more=(missing.SELECTOR_POSITION,))
    full = read(meter, curve, net.solution.voltage)
    if full.dead:
        return None if _fed_nowhere(net, meter) else made(None, (), more=(missing.SENDER_RETURN,))
    if full.value is None:
        return made(None, (), full.beyond, () if _joined(net, indication) else (missing.SENDER_RETURN,))
    steps = (
        (SAG, net.solution.voltage),
        (GROUND, net.without(others=True)),
        (CONTACTS, net.without(others=True, contacts=True)),
        (HEATING, net.without(others=True, contacts=True, heating=True)),
        (LEADS, net.without(others=True, contacts=True, heating=True, leads=True)),
    )
    causes, before = [], full.value
    for name, voltage in steps:
        after = read(meter, curve, voltage, sag=False).value
        if after is None:
            return made(None, (), full.beyond, (missing.SENDER_RETURN,))
        if abs(before - after) > _NOTHING * max(1.0, abs(told.value)):
            causes.append(
                Cause(name, before - after, at=_shared_at(net, indication) if name == GROUND else "")
            )
        before = after
    if not same(before, told.value):
        causes.append(Cause(_rest_name(study, indication, meter), before - told.value))
    warmed = _self_heating(net, indication, sensed)
    if warmed:
        causes.append(Cause("self-heating", warmed))
    offset, where = measured_shift(net, indication, meter, curve, full.value)
    if offset:
        causes.append(Cause(MEASURED_GROUND, offset, at=where))
    causes += sensed_off(study, indication)
    shown = full.value + warmed + offset + sum(c.amount for c in causes if c.name == HEAD)
    return made(shown, (*causes, *tolerances(study, indication)))


def _shared_at(net: Circuit, indication: Indication) -> str:
    """The joint that offsets the return most."""
    shared = shared_segments(net, indication)
    return shared[0].edge.label if shared else ""


def sensed_off(study: Study, indication: Indication, lacks: list[Missing] | None = None) -> list[Cause]:
    """By how much a pressure sender senses less than its tap has, for the liquid in its line; what is not said goes to ``lacks``."""
    sender = study.model.senders[indication.source]
    unsaid: list[Missing] = [] if lacks is None else lacks
    curve = curve_read(study, indication)
    if curve is None or kind_of(curve) != "pressure":
        return []
    return list(head_causes(study, sender, feeds_of(study, indication.source, sender.spec.ports), unsaid))


def tolerances(study: Study, indication: Indication, lacks: list[Missing] | None = None) -> list[Cause]:
    """What sender and indicator may be off by their own papers, either way; what they do not say goes to ``lacks``."""
    curve = curve_read(study, indication)
    kind = kind_of(curve) if curve is not None else ""
    unsaid: list[Missing] = [] if lacks is None else lacks
    sender = study.model.senders[indication.source].spec
    return [
        *tolerance("sender tolerance", sender.tolerance, kind, missing.SENDER_TOLERANCE, unsaid),
        *tolerance("indicator accuracy", indication.spec.accuracy, kind, missing.INDICATOR_ACCURACY, unsaid),
    ]


def lacking(study: Study, indication: Indication, point: Point) -> tuple[Missing, ...]:
    """What the document lacks, and the error of an indication at an operating point depends on, its true value apart."""
    net = circuit(study, point)
    meter = net.meters[(indication.indicator, indication.input)]
    sensed = net.senders[indication.source]
    known = sensed.truth is not None and curve_read(study, indication) is not None
    if not known:
        return sensed.missing
    data = _lacks(study, indication, net, meter, sensed)
    return tuple(m for m in data if m != missing.POINT_READING)


def _rest_name(study: Study, indication: Indication, meter: Meter) -> str:
    """What an error is called that stays when leads, contacts and other currents are gone."""
    if meter.allowance:
        return "lead allowance"
    own = indication.spec.curve
    same = own is None or own == study.model.senders[indication.source].spec.curve
    return "load of the inputs" if same else "sender mismatch"


def _self_heating(net: Circuit, indication: Indication, sensed: Sensed) -> float:
    sender = net.study.model.senders[indication.source]
    element = element_of(net.study, indication.source)
    current = net.current(element) if element is not None else None
    if sender.spec.dissipation is None or not current or not sensed.output:
        return 0.0
    return self_heating_c(current, sensed.output, float(sender.spec.dissipation))


def _selected(indication: Indication) -> bool:
    return all(s.edge.closed for leg in indication.legs for s in leg.steps if s.edge.kind == "contact")


def _fed_nowhere(net: Circuit, meter: Meter) -> bool:
    """Whether the indicator has no supply at this point, so that it shows nothing and there is no error to tell."""
    if meter.power is None:
        return False
    plus, minus = (float(net.solution.voltage[n]) for n in meter.power)
    return not plus - minus > _LIVE


def _joined(net: Circuit, indication: Indication) -> bool:
    element = element_of(net.study, indication.source)
    current = net.current(element) if element is not None else None
    return current is not None and abs(current) > _LEAKS


def _moved_by_undrawn(study: Study, indication: Indication, net: Circuit, meter: Meter) -> list[Missing]:
    """What is missing of the devices whose currents move the reading, over the supply or over ground."""
    curve = curve_read(study, indication)
    if curve is None or meter.needed:
        return []
    before = read(meter, curve, net.solution.voltage).value
    return [
        figure
        for figure, added in net.undrawn
        if (after := read(meter, curve, net.solution.voltage + added).value) != before
        and not (
            before is not None and after is not None and abs(after - before) <= _MOVED * max(1.0, abs(before))
        )
    ]


def _lacks(
    study: Study, indication: Indication, net: Circuit, meter: Meter, sensed: Sensed
) -> tuple[Missing, ...]:
    """What the document lacks and the reading depends on."""
    data: list[Missing] = [*sensed.missing, *meter.needed]
    if indication.spec.curve is None:
        data.append(missing.INDICATOR_CURVE)
    tolerances(study, indication, data)
    sensed_off(study, indication, data)
    if sensed.truth is not None and sensed.truth.basis == "middle":
        data.append(missing.POINT_READING)
    edges = [s.edge for leg in indication.legs for s in leg.steps]
    through_ground = returns_through_ground(study, indication)
    data += [
        m
        for m in net.lacking(edges)
        if m != missing.JOINT_CONTACT and (m != missing.SENDER_BODY or through_ground)
    ]
    data += [
        m
        for m in meter.assumed
        if not (
            m in (missing.INDICATOR_INNER, missing.INDICATOR_PULL_UP)
            and meter.scale is None
            and not through_ground
        )
        and not (m == missing.INDICATOR_SUPPLY and meter.scale is None)
        and not (m == missing.INDICATOR_GROUND and not through_ground)
    ]
    data += _moved_by_undrawn(study, indication, net, meter)
    return tuple(dict.fromkeys(m for m in data if m != missing.SENDER_SUPPLY_CURRENT))
