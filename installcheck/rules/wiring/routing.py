"""How wires are bent, held and led: judged once for a bundle, or for a run that lies alone."""

from __future__ import annotations

from collections.abc import Iterator

from ...analysis import missing
from ...analysis.routing import Carrier, carrier_length, carrier_zones, carriers
from ...analysis.study import Study
from ...model.comparing import at_least, at_most
from ...model.edits import Edit, Put
from ...model.quantities import Quantity, in_unit, plain_number
from ...model.wiring import Bundle
from ...physics.conductors import least_bend_radius
from ..verdicts import Verdict
from ..vocabulary import Subject, rule

_SPAN_IN = 24.0
"""Largest distance between supports outside ducts: AC 43.13-1B 11-96a."""
_JUMPER_M = 6 * 0.0254
"""6 in: a wire between neighbouring terminals has no bend to measure."""
_MOST_WIRES, _MOST_IN = 75, 2.0
"""Practical size of a bundle: FAA-H-8083-31."""
_POOR_SUPPORTS = {"ties": "ties alone", "tape": "tape alone", "fluid line": "a fluid line"}


def _held(study: Study) -> Iterator[Carrier]:
    """Every bundle that holds runs."""
    return (c for c in carriers(study, "bend_radius") if c.is_bundle)


@rule(
    "wire-bend",
    title="A wire or bundle is bent to no less than ten times the thickest wire in it",
    why="A tight bend thins the insulation outside it and works the strands.",
    source="TM 1-1500-204-23-4 item 27; coaxial cable: FAA-H-8083-31 (recalled)",
    formula="smallest bend radius >= 10 x outside diameter of the thickest wire; coaxial 6 x",
    example="0.30 in cable: 3.0 in",
    over=lambda study: carriers(study, "bend_radius"),
)
def wire_bend(study: Study, subject: Subject, carrier: Carrier) -> Verdict | None:
    """Every bundle, and every run of more than 6 in that lies alone."""
    radius = carrier.said.bend_radius
    if radius is None:
        length = carrier_length(study, carrier)
        jumper = not carrier.is_bundle and length is not None and at_most(length, _JUMPER_M)
        return None if jumper else subject.lacks(missing.CARRIER_BEND)
    least, bound, unsaid = _least(study, carrier)
    if unsaid and at_least(radius, least):
        if not (bound and at_least(radius, bound)):
            return subject.along(*unsaid).lacks(missing.WIRE_DIAMETER)
        least = bound
    got, need = in_unit(radius, "in", "length"), in_unit(least, "in", "length")
    eased = in_unit(max(least, bound if unsaid else 0.0), "in", "length")
    return subject.field("bend_radius").at_least(
        got,
        need,
        "in",
        f"{carrier.name} is bent to {plain_number(got)} in, {plain_number(need)} in being the least",
        remedy=f"ease the bend to {plain_number(eased)} in",
        cure=lambda: [_eased(subject, eased, radius)],
    )


def _eased(subject: Subject, inches: float, now: Quantity) -> Edit:
    ident, path = subject.ident, (*subject.path, "bend_radius")
    text = f"{plain_number(inches)} in"
    words = f"ease the bend of {ident} to {text}, in place of {now.text}"
    return Edit((Put(path, text),), words, f"the bend radius of {ident} is {now.text}")


def _least(study: Study, carrier: Carrier) -> tuple[float, float, list[str]]:
    """Least radius in metres for the thickest wire that is told, and for a wire as thick as the bundle; the untold runs.

    A wire whose diameter is not told is no thicker than its bundle; that radius is 0 where the bundle's is not told either.
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
    thick = carrier.said.outside_diameter if isinstance(carrier.said, Bundle) else None
    return worst, (least_bend_radius(float(thick)) if thick is not None else 0.0), unsaid


@rule(
    "wire-supports",
    title="Wires are held every 24 in at most, by clamps on structure",
    why="A long free span works its ends; a tie or tape alone lets go with age, and a fluid line is no bracket.",
    source="AC 43.13-1B 11-96a, 11-96o; fluid lines: Navy aviation electrician's training text, chapter 2",
    formula="distance between supports <= 24 in; primary support not by tape, tie or a fluid line",
    example="30 in between clamps: 6 in too far",
    over=lambda study: carriers(study, "support_spacing"),
)
def wire_supports(study: Study, subject: Subject, carrier: Carrier) -> Verdict:
    """Every bundle, and every run that lies alone, longer than one span or held by the wrong thing."""
    said = carrier.said
    if said.supported_by in _POOR_SUPPORTS:
        return subject.field("supported_by").discrepancy(
            f"{carrier.name} is held by {_POOR_SUPPORTS[said.supported_by]}",
            remedy="hold it in cushioned clamps on structure, 24 in apart at most",
        )
    length = carrier_length(study, carrier)
    inches = in_unit(length, "in", "length") if length is not None else None
    if inches is not None and at_most(inches, _SPAN_IN):
        return subject.meets(f"{carrier.name} is {plain_number(inches)} in long, within one span")
    if said.supported_by == "conduit":
        return subject.meets(f"{carrier.name} lies in conduit")
    if said.support_spacing is None:
        return subject.lacks(missing.CARRIER_SUPPORT_SPACING)
    if said.supported_by is None:
        return subject.lacks(missing.CARRIER_SUPPORT)
    got = in_unit(said.support_spacing, "in", "length")
    text = f"{carrier.name} is held every {plain_number(got)} in"
    return subject.field("support_spacing").at_most(
        got,
        _SPAN_IN,
        "in",
        text,
        broken=f"{text}, 24 in being the most",
        remedy="add clamps so that none are more than 24 in apart",
    )


@rule(
    "drip-loop",
    title="A bundle drops below a connector it enters from above, where water can reach it",
    why="Water runs down the wires into the plug.",
    source="AC 43.13-1B 11-96x",
    formula="'drip_loop: yes' on every bundle that runs through a zone nobody sits in",
    example="a harness that comes down the firewall into a plug with no loop",
    over=_held,
)
def drip_loop(study: Study, subject: Subject, carrier: Carrier) -> Verdict | None:
    """Every bundle outside the cabin, and any that says it has none."""
    assert isinstance(carrier.said, Bundle)
    told, drips = carrier.said.drip_loop, subject.field("drip_loop")
    if told:
        return drips.meets(f"{carrier.name} has a drip loop")
    zones = carrier_zones(study, carrier)
    wet = None if zones is None else [z for z in sorted(zones) if not study.model.zones[z].occupied]
    if told is False:
        if wet == []:
            return drips.meets(f"{carrier.name} stays in the cabin")
        return drips.advisory(
            f"{carrier.name} has no drip loop{f' in the {wet[0]}' if wet else ''}",
            remedy="let it drop below each connector, block or box it enters from above",
        )
    if wet is None:
        return subject.lacks(missing.RUN_ROUTE)
    return subject.lacks(missing.BUNDLE_DRIP_LOOP) if wet else None


@rule(
    "bundle-size",
    title="A bundle holds at most 75 wires and is at most 2 in thick",
    why="A thicker bundle runs hot inside, and nobody can mend a wire in the middle of it.",
    source="FAA-H-8083-31, wire bundles (a practical limit)",
    formula="wires <= 75; outside diameter <= 2 in",
    example="90 wires: 15 too many",
    over=_held,
)
def bundle_size(study: Study, subject: Subject, carrier: Carrier) -> Verdict:
    """Every bundle that holds runs; the runs drawn count where the number is not told."""
    assert isinstance(carrier.said, Bundle)
    bundle, ident = carrier.said, carrier.ident
    if bundle.outside_diameter is not None:
        thick = in_unit(bundle.outside_diameter, "in", "length")
        if not at_most(thick, _MOST_IN):
            return subject.field("outside_diameter").at_most(
                thick,
                _MOST_IN,
                "in",
                f"bundle {ident} is {plain_number(thick)} in thick; 2 in is the practical most",
                remedy="part it in two",
                practice=True,
            )
    drawn = len(carrier.runs)
    if bundle.wires is None and drawn <= _MOST_WIRES:
        return subject.lacks(missing.BUNDLE_SIZE)
    count = bundle.wires if bundle.wires is not None else drawn
    text = f"bundle {ident} holds {count} wires"
    return subject.at_most(
        count,
        _MOST_WIRES,
        "wires",
        text,
        broken=f"{text}; 75 is the practical most",
        remedy="part it in two",
        practice=True,
    )
