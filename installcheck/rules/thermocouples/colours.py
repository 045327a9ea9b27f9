"""Colours of thermocouple leads against the code the document states, so that a swapped pair is seen."""

from __future__ import annotations

from collections.abc import Iterator

from ...analysis.study import Study
from ...analysis.thermocouple.circuits import lead_metal
from ...document.source import DocPath
from ...graph import Edge
from ...physics.thermocouple_wire import Colours, colours, meanings
from ...physics.thermocouples import LEGS
from ..verdicts import (
    Verdict,
    advisory,
    discrepancy,
    meets,
    undetermined,
)
from ..vocabulary import rule

SCHEME = "colour code of the thermocouple leads ('thermocouple_colours' of the installation)"


def _leads(study: Study) -> list[Edge]:
    return [
        edge
        for ident, run in study.model.wire_runs.items()
        if run.spec.thermocouple is not None
        for edge in study.edges(ident)
    ]


@rule(
    "thermocouple-colours",
    title="Each leg has the colour its code gives it",
    why="Red is the negative leg of every US lead, the reverse of other wiring; white is positive in one code and negative in another. "
    "A colour on the wrong metal is a swapped pair, or soon will be.",
    source="ASTM E230 (US); IEC 60584-3; US military aircraft leads",
    formula="colour of the conductor = colour of its metal in the stated code",
    example="type K by the US code: chromel yellow, alumel red",
    over=lambda study: [e.ident for e in _leads(study)],
)
def leg_colours(study: Study) -> Iterator[Verdict]:
    """Every conductor of every thermocouple lead."""
    scheme = study.model.installation.thermocouple_colours
    for edge in _leads(study):
        yield _judge(edge, scheme)


def _judge(edge: Edge, scheme: str | None) -> Verdict:
    run = edge.run
    assert run is not None
    kind = run.spec.thermocouple
    assert kind is not None
    at, path = (edge.ident,), _path(edge)
    if scheme is None:
        return undetermined(at, path, SCHEME)
    try:
        code = colours(scheme, kind)
    except ValueError:
        return advisory(
            at, path, f"the {scheme} code has no colours for type {kind}", remedy="mark both ends of each leg"
        )
    sign = _sign(edge, kind)
    if sign is None:
        return undetermined(at, path, "metal of each conductor of the lead (part, or 'metal')")
    due = (code.positive, code.negative)[sign]
    colour = _colour(edge, scheme)
    leg = ("positive", "negative")[sign]
    if colour is None:
        return undetermined(at, path, "colour of each conductor of the lead")
    if colour == due:
        return meets(at, path, f"the {leg} leg of {edge.ident} is {colour}, as the {scheme} code has it")
    return _wrong(edge, scheme, code, sign, colour, path)


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


def _wrong(edge: Edge, scheme: str, code: Colours, sign: int, colour: str, path: DocPath) -> Verdict:
    leg, due = ("positive", "negative")[sign], (code.positive, code.negative)[sign]
    other = (code.negative, code.positive)[sign]
    text = f"the {leg} leg of {edge.ident} is {colour}, and {due} in the {scheme} code"
    if colour == other:
        # Colours of some types in military leads are recalled only.
        judge = advisory if code.recalled and scheme == "military" else discrepancy
        return judge(
            (edge.ident,),
            path,
            f"{text}: {colour} is its {('negative', 'positive')[sign]} leg, so the pair looks swapped",
            remedy=f"find the metals by magnet or ohmmeter, put {due} on the {leg} leg, or correct the drawing",
        )
    elsewhere = [f"type {kind} {end} ({name})" for name, kind, end in meanings(colour)]
    more = f"; elsewhere {colour} is {', '.join(elsewhere)}" if elsewhere else ""
    return advisory(
        (edge.ident,),
        path,
        text + more,
        remedy=f"mark the leg {due} at both ends, or state the code it is made to",
    )
