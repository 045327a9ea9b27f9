"""Senders at their true value and the inputs that read them, laid into the direct-current network."""

from __future__ import annotations

from ...dataclass import dataclass
from ...graph import Edge, Indication
from ...graph.indications import measure_of
from ...model.devices import Curve, Indicator, InputSpec, Sender
from ...model.fields import Measure
from ...physics.network_parts import SMALLEST_RESISTANCE, DrawKind
from ..missing import Missing
from ..sender_curves import output, output_carried, output_kind
from ..study import Point, Study, once
from ..true_value import Truth, truth
from .assembly import Assembly, wired
from .measuring_inputs import (
    CURVE,
    REACH,
    SENDER_SUPPLY,
    Follower,
    InputCircuit,
    Inputs,
    LaidInput,
    Measuring,
    Sensed,
    volts_of,
)

READ_BY_CIRCUIT = frozenset(
    ("electronic resistance", "ratio meter", "series meter", "bridge", "voltage", "current loop")
)
"""Principles whose indication follows from the solved network."""


@once
def read_by_circuit(study: Study) -> tuple[Indication, ...]:
    """Indications of senders that follow from the solved network."""
    return tuple(
        i for i in study.indications if i.section == "senders" and i.spec.principle in READ_BY_CIRCUIT
    )


@dataclass(frozen=True, slots=True)
class _Sending:
    """A sender that is read by a circuit, as far as it is alike at every operating point.

    Attributes:
        indication: the first that reads it.
        sender, curve: it, and the curve it is read by.
        element, supply: its edges.
        fed: whether its supply is wired.
        nominal: V its output is in proportion to; ``None`` where it is not.
    """

    indication: Indication
    measure: Measure | None
    sender: Sender
    curve: Curve | None
    element: Edge | None
    supply: Edge | None
    fed: bool
    nominal: float | None


@dataclass(frozen=True, slots=True)
class _Circuits:
    """The measuring circuits of a study, each input followed by the sender it reads, where that is new; and as in :class:`Inputs`."""

    every: tuple[tuple[LaidInput | None, _Sending | None], ...]
    tied: tuple[str, ...]
    loose: tuple[str, ...]


@once
def _circuits(study: Study) -> _Circuits:
    made, inputs, senders = Inputs(), set(), set()
    every: list[tuple[LaidInput | None, _Sending | None]] = []
    for one in read_by_circuit(study):
        indicator = study.model.indicators[one.indicator]
        key, laid, sending = (one.indicator, one.input), None, None
        if key not in inputs:
            inputs.add(key)
            laid = InputCircuit(study, made, one.indicator, indicator, one.input, one.spec).found()
        if one.source not in senders:
            senders.add(one.source)
            sending = _sending(study, one, indicator)
        every.append((laid, sending))
    return _Circuits(tuple(every), tuple(made.tied), tuple(made.loose))


def _sending(study: Study, one: Indication, indicator: Indicator) -> _Sending:
    sender = study.model.senders[one.source]
    unsaid = study.document.declared_unknown(("senders", one.source, "curve"))
    edges = study.graph.by_thing.get(("senders", one.source), ())
    supply = next((e for e in edges if e.kind == "load"), None)
    return _Sending(
        one,
        measure_of(study.graph, one),
        sender,
        sender.spec.curve or (None if unsaid else one.spec.curve),
        next((e for e in edges if e.kind == "element"), None),
        supply,
        supply is not None and wired(study, supply.a),
        _transducer_supply(one.spec, indicator) if one.spec.ratiometric else None,
    )


def lay(assembly: Assembly) -> Measuring:
    """Lay every measuring circuit that is read from a sender, and every sender's element."""
    circuits = _circuits(assembly.study)
    made = Measuring(circuits.tied, circuits.loose)
    for laid, sending in circuits.every:
        if laid is not None:
            laid.lay(assembly, made)
        if sending is not None:
            made.senders[sending.indication.source] = _sender(assembly, made, sending)
    return made


@once
def _sendings(study: Study) -> dict[str, _Sending]:
    return {one.indication.source: one for _, one in _circuits(study).every if one is not None}


@once
def _sends(
    study: Study, source: str, point: Point, carried: bool
) -> tuple[Truth, float | None, tuple[Missing, ...]]:
    """The true value at a sender that has a curve, what it puts out there if that is known, and what is missing of it."""
    one = _sendings(study)[source]
    assert one.curve is not None
    told = truth(study, point, one.measure, one.sender, one.indication.spec, one.curve)
    if one.element is None:
        return told, None, (CURVE,)
    try:
        return told, output(one.curve, told.value), ()
    except ValueError:
        return told, output_carried(one.curve, told.value) if carried else None, (REACH,)


def _sender(assembly: Assembly, made: Measuring, one: _Sending) -> Sensed:
    curve, element, supply = one.curve, one.element, one.supply
    if curve is None:
        return Sensed(None, None, None, (CURVE,))
    told, out, lacking = _sends(assembly.study, one.indication.source, assembly.point, assembly.carried)
    if element is None or out is None:
        return Sensed(told, None, curve, lacking)
    what = output_kind(curve)
    if what == "resistance":
        assembly.branch(element.a, element.b, element, fixed=max(out, SMALLEST_RESISTANCE))
    elif what == "current":
        assembly.draw(element.a, element.b, out, DrawKind.CURRENT_LOAD, element, sensing=True)
    else:
        impedance = float(one.sender.spec.output_impedance or 0.0)
        number = assembly.branch(
            element.b, element.a, element, fixed=max(impedance, SMALLEST_RESISTANCE), emf=out
        )
        if supply is not None and not one.fed:
            lacking = (SENDER_SUPPLY,)
        elif supply is not None and one.nominal is not None:
            plus, minus = assembly.node(supply.a), assembly.node(supply.b)
            made.followers.append(Follower(number, plus, minus, out, one.nominal))
    return Sensed(told, out, curve, lacking)


def _transducer_supply(spec: InputSpec, indicator: Indicator) -> float | None:
    """Voltage an indicator gives its transducers: its excitation, or that a terminal is named for."""
    if spec.excitation is not None:
        return float(spec.excitation)
    named = (volts_of(t) for t in (*(spec.terminals or ()), *(indicator.spec.terminals or ())))
    return next((v for v in named if v), None)
