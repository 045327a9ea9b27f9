"""Colours of thermocouple leads against the code the document states, so that a swapped pair is seen."""

from __future__ import annotations

from collections.abc import Iterator

from ...analysis import missing
from ...analysis.study import Study
from ...analysis.thermocouple.circuits import lead_metal
from ...document.source import DocPath
from ...graph import Edge
from ...model.fields import ThermocoupleType
from ...model.wiring import WireRun
from ...physics.thermocouple_wire import Colours, colours, meanings
from ...physics.thermocouples import LEGS
from ..verdicts import Verdict
from ..vocabulary import Subject, rule


@rule(
    "thermocouple-colours",
    title="Each leg has the colour its code gives it",
    why="Red is the negative leg of every US lead, the reverse of other wiring; white is positive in one code and negative in another. "
    "A colour on the wrong metal is a swapped pair, or soon will be.",
    source="ASTM E230 (US); IEC 60584-3; US military aircraft leads",
    formula="colour of the conductor = colour of its metal in the stated code",
    example="type K by the US code: chromel yellow, alumel red",
    over="wire_runs",
)
def leg_colours(study: Study, subject: Subject, run: WireRun) -> Iterator[Verdict]:
    """Every conductor of a thermocouple lead, by its own code where it says one, else by that of the installation."""
    kind = run.spec.thermocouple
    scheme = run.thermocouple_colours or study.model.installation.thermocouple_colours
    if kind is not None:
        for edge in study.edges(subject.ident):
            yield _judge(subject.placed(*_path(edge)), edge, kind, scheme)


def _judge(subject: Subject, edge: Edge, kind: ThermocoupleType, scheme: str | None) -> Verdict:
    if scheme is None:
        return subject.lacks(missing.COLOUR_CODE)
    try:
        code = colours(scheme, kind)
    except ValueError:
        return subject.advisory(
            f"the {scheme} code has no colours for type {kind}", remedy="mark both ends of each leg"
        )
    sign = _sign(edge, kind)
    if sign is None:
        return subject.lacks(missing.LEAD_METAL)
    colour = _colour(edge, scheme)
    if colour is None:
        return subject.lacks(missing.LEAD_COLOUR)
    if colour == (code.positive, code.negative)[sign]:
        leg = ("positive", "negative")[sign]
        return subject.meets(f"the {leg} leg of {edge.ident} is {colour}, as the {scheme} code has it")
    return _wrong(subject, scheme, code, sign, colour)


def _sign(edge: Edge, kind: str) -> int | None:
    """0 for a conductor of the positive metal, 1 for the negative: by its metal, else by its name."""
    metal, legs = lead_metal(edge, kind), LEGS[kind]
    if metal in legs:
        return legs.index(metal)
    return "+-".index(edge.name) if edge.name in ("+", "-") else None


def _colour(edge: Edge, scheme: str) -> str | None:
    if edge.colour is not None:
        return edge.colour.strip().lower()
    leg = edge.leg
    if leg is None:
        return None
    by_code = {"US": leg.colour_us, "IEC": leg.colour_iec, "military": leg.colour_military}[scheme]
    return by_code.strip().lower() if by_code is not None else None


def _path(edge: Edge) -> DocPath:
    if edge.conductor is not None and edge.conductor.colour is not None:
        return (*edge.path, "colour")
    return (
        ("wire_runs", edge.ident, "colour")
        if edge.run is not None and edge.run.colour is not None
        else edge.path
    )


def _wrong(subject: Subject, scheme: str, code: Colours, sign: int, colour: str) -> Verdict:
    leg, due = ("positive", "negative")[sign], (code.positive, code.negative)[sign]
    text = f"the {leg} leg of {subject.ident} is {colour}, and {due} in the {scheme} code"
    if colour == (code.negative, code.positive)[sign]:
        # Colours of some types in military leads are recalled only.
        judge = subject.advisory if code.recalled and scheme == "military" else subject.discrepancy
        return judge(
            f"{text}: {colour} is its {('negative', 'positive')[sign]} leg, so the pair looks swapped",
            remedy=f"find the metals by magnet or ohmmeter, put {due} on the {leg} leg, or correct the drawing",
        )
    elsewhere = [f"type {kind} {end} ({name})" for name, kind, end in meanings(colour)]
    more = f"; elsewhere {colour} is {', '.join(elsewhere)}" if elsewhere else ""
    return subject.advisory(
        text + more, remedy=f"mark the leg {due} at both ends, or state the code it is made to"
    )
