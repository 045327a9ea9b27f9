"""How wires are bent, held and led: judged once for a bundle, or for a run that lies alone."""

from __future__ import annotations

from collections.abc import Iterator

from ...analysis.routing import (
    ROUTE,
    Carrier,
    bundled,
    carrier_ids,
    carrier_length,
    carrier_zones,
    carriers,
)
from ...analysis.study import Study
from ...model.quantities import in_unit, plain_number
from ...model.wiring import Bundle
from ...physics.conductors import least_bend_radius
from ..verdicts import (
    Verdict,
    advisory,
    discrepancy,
    meets,
    undetermined,
)
from ..vocabulary import rule

_SPAN_M = 24 * 0.0254
"""24 in between supports outside ducts: AC 43.13-1B 11-96a."""
_JUMPER_M = 6 * 0.0254
"""6 in: a wire between neighbouring terminals has no bend to measure."""
_MOST_WIRES, _MOST_IN = 75, 2.0
"""Practical size of a bundle: FAA-H-8083-31."""


@rule(
    "wire-bend",
    title="A wire or bundle is bent to no less than ten times the thickest wire in it",
    why="A tight bend thins the insulation outside it and works the strands.",
    source="TM 1-1500-204-23-4 item 27; coaxial cable: FAA-H-8083-31 (recalled)",
    formula="smallest bend radius >= 10 x outside diameter of the thickest wire; coaxial 6 x",
    example="0.30 in cable: 3.0 in",
    over=carrier_ids,
)
def wire_bend(study: Study) -> Iterator[Verdict]:
    """Every bundle, and every run of more than 6 in that lies alone."""
    for carrier in carriers(study, "bend_radius"):
        radius = carrier.said.bend_radius
        length = carrier_length(study, carrier)
        if radius is None and length is not None and length <= _JUMPER_M and not carrier.is_bundle:
            continue
        if radius is None:
            yield undetermined(
                (carrier.ident,), carrier.path, "smallest bend radius of the run or its bundle"
            )
            continue
        least, unsaid = _least(study, carrier)
        if unsaid and not (least and radius >= least * 0.999):
            yield undetermined((carrier.ident, *unsaid), carrier.path, "outside diameter of the wire")
            continue
        got, need = in_unit(radius, "in", "length"), in_unit(least, "in", "length")
        text = f"{carrier.name} is bent to {plain_number(got)} in, {plain_number(need)} in being the least"
        numbers = {"value": got, "limit": need, "margin": got - need, "unit": "in"}
        path = (*carrier.path, "bend_radius")
        if radius >= least * 0.999:
            yield meets((carrier.ident,), path, text, **numbers)
        else:
            yield discrepancy(
                (carrier.ident,), path, text, remedy=f"ease the bend to {plain_number(need)} in", **numbers
            )


def _least(study: Study, carrier: Carrier) -> tuple[float, list[str]]:
    """Least radius in metres for the thickest wire of a carrier, and the runs whose diameter is not told.

    A wire whose diameter is not told is no thicker than its bundle; the radius is 0 where that is not told either.
    """
    worst = 0.0
    unsaid: list[str] = []
    for ident in carrier.runs:
        spec = study.model.wire_runs[ident].spec
        if spec.outside_diameter is None:
            unsaid.append(ident)
        else:
            place = "coaxial" if spec.kind == "coaxial cable" else "general"
            worst = max(worst, least_bend_radius(float(spec.outside_diameter), place))
    if not unsaid:
        return worst, unsaid
    thick = carrier.said.outside_diameter if isinstance(carrier.said, Bundle) else None
    return (least_bend_radius(float(thick)) if thick is not None else 0.0), unsaid


@rule(
    "wire-supports",
    title="Wires are held every 24 in at most, by clamps on structure",
    why="A long free span works its ends; a tie or tape alone lets go with age, and a fluid line is no bracket.",
    source="AC 43.13-1B 11-96a, 11-96o; fluid lines: Navy aviation electrician's training text, chapter 2",
    formula="distance between supports <= 24 in; primary support not by tape, tie or a fluid line",
    example="30 in between clamps: 6 in too far",
    over=carrier_ids,
)
def wire_supports(study: Study) -> Iterator[Verdict]:
    """Every bundle, and every run that lies alone, longer than one span or held by the wrong thing."""
    for carrier in carriers(study, "support_spacing"):
        said = carrier.said
        at = (carrier.ident,)
        if said.supported_by in ("ties", "tape", "fluid line"):
            what = {"ties": "ties alone", "tape": "tape alone", "fluid line": "a fluid line"}[
                said.supported_by
            ]
            yield discrepancy(
                at,
                (*carrier.path, "supported_by"),
                f"{carrier.name} is held by {what}",
                remedy="hold it in cushioned clamps on structure, 24 in apart at most",
            )
            continue
        length = carrier_length(study, carrier)
        if length is not None and length <= _SPAN_M * 1.001:
            inches = plain_number(in_unit(length, "in", "length"))
            yield meets(at, carrier.path, f"{carrier.name} is {inches} in long, within one span")
        elif said.supported_by == "conduit":
            yield meets(at, carrier.path, f"{carrier.name} lies in conduit")
        elif said.support_spacing is None:
            yield undetermined(at, carrier.path, "distance between supports of the run or its bundle")
        elif said.supported_by is None:
            yield undetermined(at, carrier.path, "support of the run or its bundle ('supported_by')")
        else:
            got = in_unit(said.support_spacing, "in", "length")
            numbers = {"value": got, "limit": 24.0, "margin": 24.0 - got, "unit": "in"}
            text = f"{carrier.name} is held every {plain_number(got)} in"
            path = (*carrier.path, "support_spacing")
            if said.support_spacing <= _SPAN_M * 1.001:
                yield meets(at, path, text, **numbers)
            else:
                yield discrepancy(
                    at,
                    path,
                    f"{text}, 24 in being the most",
                    remedy="add clamps so that none are more than 24 in apart",
                    **numbers,
                )


@rule(
    "drip-loop",
    title="A bundle drops below a connector it enters from above, where water can reach it",
    why="Water runs down the wires into the plug.",
    source="AC 43.13-1B 11-96x",
    formula="'drip_loop: yes' on every bundle that runs through a zone nobody sits in",
    example="a harness that comes down the firewall into a plug with no loop",
    over=lambda study: list(bundled(study)),
)
def drip_loop(study: Study) -> Iterator[Verdict]:
    """Every bundle outside the cabin, and any that says it has none."""
    for carrier in carriers(study, "bend_radius"):
        said = carrier.said
        if not isinstance(said, Bundle):
            continue
        at, path = (carrier.ident,), (*carrier.path, "drip_loop")
        if said.drip_loop:
            yield meets(at, path, f"{carrier.name} has a drip loop")
            continue
        zones = carrier_zones(study, carrier)
        wet = None if zones is None else [z for z in sorted(zones) if not study.model.zones[z].occupied]
        if said.drip_loop is False:
            if wet is None or wet:
                yield advisory(
                    at,
                    path,
                    f"{carrier.name} has no drip loop{f' in the {wet[0]}' if wet else ''}",
                    remedy="let it drop below each connector, block or box it enters from above",
                )
            else:
                yield meets(at, path, f"{carrier.name} stays in the cabin")
        elif zones is None:
            yield undetermined(at, carrier.path, ROUTE)
        elif wet:
            yield undetermined(at, carrier.path, "drip loop of the bundle ('drip_loop: yes' or 'no')")


@rule(
    "bundle-size",
    title="A bundle holds at most 75 wires and is at most 2 in thick",
    why="A thicker bundle runs hot inside, and nobody can mend a wire in the middle of it.",
    source="FAA-H-8083-31, wire bundles (a practical limit)",
    formula="wires <= 75; outside diameter <= 2 in",
    example="90 wires: 15 too many",
    over=lambda study: list(bundled(study)),
)
def bundle_size(study: Study) -> Iterator[Verdict]:
    """Every bundle that holds runs; the runs drawn count where the number is not told."""
    for ident, runs in bundled(study).items():
        bundle = study.model.bundles.get(ident)
        if bundle is None:
            continue
        at, path = (ident,), ("bundles", ident)
        if (
            bundle.outside_diameter is not None
            and in_unit(bundle.outside_diameter, "in", "length") > _MOST_IN * 1.001
        ):
            thick = in_unit(bundle.outside_diameter, "in", "length")
            yield advisory(
                at,
                (*path, "outside_diameter"),
                f"bundle {ident} is {plain_number(thick)} in thick; 2 in is the practical most",
                value=thick,
                limit=_MOST_IN,
                margin=_MOST_IN - thick,
                unit="in",
                remedy="part it in two",
            )
            continue
        count = bundle.wires
        if count is None and len(runs) <= _MOST_WIRES:
            yield undetermined(at, path, "number of wires in the bundle, those not in this document included")
            continue
        count = count if count is not None else len(runs)
        numbers = {"value": count, "limit": _MOST_WIRES, "margin": _MOST_WIRES - count, "unit": "wires"}
        if count <= _MOST_WIRES:
            yield meets(at, path, f"bundle {ident} holds {count} wires", **numbers)
        else:
            yield advisory(
                at,
                path,
                f"bundle {ident} holds {count} wires; 75 is the practical most",
                remedy="part it in two",
                **numbers,
            )
