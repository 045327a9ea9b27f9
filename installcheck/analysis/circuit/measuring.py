"""Senders at their true value and the inputs that read them, laid into the direct-current network."""

from __future__ import annotations

from ...graph import Indication
from ...graph.indications import measure_of
from ...model.devices import Curve, Indicator, InputSpec, Sender
from ...physics.network_parts import SMALLEST_RESISTANCE, DrawKind
from ..missing import Missing
from ..sender_curves import output, output_carried, output_kind
from ..study import Study, once
from ..true_value import Truth, truth
from .assembly import Assembly, wired
from .measuring_inputs import CURVE, REACH, SENDER_SUPPLY, Follower, InputCircuit, Measuring, Sensed, volts_of

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


def lay(assembly: Assembly) -> Measuring:
    """Lay every measuring circuit that is read from a sender, and every sender's element."""
    made = Measuring()
    study = assembly.study
    for indication in read_by_circuit(study):
        indicator = study.model.indicators[indication.indicator]
        key = (indication.indicator, indication.input)
        if key not in made.meters:
            made.meters[key] = InputCircuit(
                assembly, made, indication.indicator, indicator, indication.input, indication.spec
            ).lay()
        if indication.source not in made.senders:
            sender = study.model.senders[indication.source]
            unsaid = study.document.declared_unknown(("senders", indication.source, "curve"))
            curve = sender.spec.curve or (None if unsaid else indication.spec.curve)
            told = (
                truth(
                    study, assembly.point, measure_of(study.graph, indication), sender, indication.spec, curve
                )
                if curve is not None
                else None
            )
            nominal = _transducer_supply(indication.spec, indicator) if indication.spec.ratiometric else None
            made.senders[indication.source] = _sender(
                assembly, made, indication.source, sender, curve, told, nominal
            )
    return made


def _sender(
    assembly: Assembly,
    made: Measuring,
    ident: str,
    sender: Sender,
    curve: Curve | None,
    told: Truth | None,
    nominal: float | None,
) -> Sensed:
    edges = assembly.study.graph.by_thing.get(("senders", ident), ())
    element = next((e for e in edges if e.kind == "element"), None)
    if curve is None or told is None or element is None:
        return Sensed(told, None, curve, (CURVE,))
    try:
        out = output(curve, told.value)
        lacking: tuple[Missing, ...] = ()
    except ValueError:
        if not assembly.carried:
            return Sensed(told, None, curve, (REACH,))
        out, lacking = output_carried(curve, told.value), (REACH,)
    what = output_kind(curve)
    if what == "resistance":
        assembly.branch(element.a, element.b, element, fixed=max(out, SMALLEST_RESISTANCE))
    elif what == "current":
        assembly.draw(element.a, element.b, out, DrawKind.CURRENT_LOAD, element, sensing=True)
    else:
        impedance = float(sender.spec.output_impedance or 0.0)
        number = assembly.branch(
            element.b, element.a, element, fixed=max(impedance, SMALLEST_RESISTANCE), emf=out
        )
        supply = next((e for e in edges if e.kind == "load"), None)
        if supply is not None and not wired(assembly.study, supply.a):
            lacking = (SENDER_SUPPLY,)
        elif supply is not None and nominal is not None:
            plus, minus = assembly.node(supply.a), assembly.node(supply.b)
            made.followers.append(Follower(number, plus, minus, out, nominal))
    return Sensed(told, out, curve, lacking)


def _transducer_supply(spec: InputSpec, indicator: Indicator) -> float | None:
    """Voltage an indicator gives its transducers: its excitation, or that a terminal is named for."""
    if spec.excitation is not None:
        return float(spec.excitation)
    named = (volts_of(t) for t in (*(spec.terminals or ()), *(indicator.spec.terminals or ())))
    return next((v for v in named if v), None)
