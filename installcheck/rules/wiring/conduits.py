"""Conduits wires lie in: wide enough to draw them through, and made to be where they are."""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil

from ...analysis import missing
from ...analysis.routing import Carrier, carriers, hottest_of
from ...analysis.study import Study
from ...model.comparing import at_least
from ...model.edits import Edit, Put
from ...model.quantities import Quantity, in_unit, plain_number
from ...model.routes import Conduit
from ...model.wiring import Bundle
from ..verdicts import Verdict
from ..vocabulary import Subject, rule

_OVER = 1.25
"""Bore of a conduit over the greatest diameter of what lies in it: AC 43.13-1B 11-249."""


def _in_conduit(study: Study) -> Iterator[Carrier]:
    """What says that it lies in a conduit, by that word or by what holds it."""
    return (
        c
        for c in carriers(study, "conduit")
        if c.said.conduit is not None or c.said.supported_by == "conduit"
    )


@rule(
    "conduit-bore",
    title="A conduit is a quarter wider than the wires in it",
    why="Wires forced into a tight tube are skinned as they go in, and nothing can be drawn through it after.",
    source="AC 43.13-1B 11-249",
    formula="bore >= 1.25 x outside diameter of the bundle, or of the wire that lies alone",
    example="a bundle of 0.5 in: 0.625 in of bore",
    over=_in_conduit,
)
def conduit_bore(_: Study, subject: Subject, carrier: Carrier) -> Verdict:
    """Every bundle or run in conduit."""
    conduit = carrier.said.conduit
    if conduit is None:
        return subject.lacks(missing.CARRIER_CONDUIT)
    wide = _diameter(subject, carrier)
    if conduit.bore is None or wide is None:
        bore = (missing.CARRIER_CONDUIT_BORE,) if conduit.bore is None else ()
        across = missing.CARRIER_DIAMETER if carrier.is_bundle else missing.WIRE_DIAMETER
        return subject.lacks(*bore, *((across,) if wide is None else ()))
    got, across_in = in_unit(conduit.bore, "in", "length"), in_unit(wide, "in", "length")
    text = f"the conduit of {carrier.name} has a bore of {plain_number(got)} in, for {plain_number(across_in)} in of wire"
    return subject.field("conduit", "bore").at_least(
        got,
        _OVER * across_in,
        "in",
        text,
        remedy=f"fit one of {plain_number(_OVER * across_in)} in or more",
        cure=lambda: Edit(
            (Put((*subject.path, "conduit", "bore"), f"{plain_number(ceil(80 * across_in) / 64)} in"),),
            f"lead {carrier.name} in a conduit of {plain_number(ceil(80 * across_in) / 64)} in",
            f"the conduit of {carrier.name} is too narrow",
        ),
        practice=at_least(got, across_in),
    )


def _diameter(subject: Subject, carrier: Carrier) -> Quantity | None:
    if isinstance(carrier.said, Bundle):
        return carrier.said.outside_diameter
    return subject.study.model.wire_runs[carrier.ident].spec.outside_diameter


@rule(
    "conduit-kind",
    title="A conduit is made for wiring, and bears the heat of where it lies",
    why="Water pipe and electrician's pipe soften, burn and smoke as no conduit may; inside, the wire has no other support.",
    source="14 CFR 23.1365(b) (recalled): what would overheat is at least flame resistant; AC 43.13-1B 11-249 for its size",
    formula="metal, or nonmetallic with a temperature rating >= the hottest zone it passes; household pipe is neither",
    example="household plastic pipe round a main feeder: an aluminium conduit, or a rated nonmetallic one",
    over=_in_conduit,
)
def conduit_kind(study: Study, subject: Subject, carrier: Carrier) -> Verdict:
    """Every bundle or run in conduit."""
    conduit = carrier.said.conduit
    if conduit is None or conduit.kind is None:
        return subject.lacks(missing.CARRIER_CONDUIT)
    at_kind = subject.field("conduit", "kind")
    if conduit.kind == "household pipe":
        return at_kind.advisory(
            f"{carrier.name} lies in household pipe, which nothing shows to bear heat or resist flame",
            remedy="put it in metal conduit, or in nonmetallic conduit rated for the zone",
        )
    if conduit.kind == "metal":
        return at_kind.meets(f"{carrier.name} lies in metal conduit")
    return _rated(study, subject, carrier, conduit)


def _rated(study: Study, subject: Subject, carrier: Carrier, conduit: Conduit) -> Verdict:
    found = [hottest_of(study, ident) for ident in carrier.runs]
    lacking = list(dict.fromkeys(fact for _, facts in found for fact in facts))
    if conduit.temperature_rating is None:
        lacking.insert(0, missing.CARRIER_CONDUIT_RATING)
    if conduit.temperature_rating is None or lacking:
        return subject.lacks(*lacking)
    hottest = max(at for at, _ in found if at is not None)
    unit = "degC"
    got, limit = (in_unit(t, unit, "temperature") for t in (hottest, conduit.temperature_rating))
    return subject.field("conduit", "temperature_rating").at_most(
        got,
        limit,
        unit,
        f"the conduit of {carrier.name} gets to {plain_number(got)} degC, rated for {plain_number(limit)} degC",
        remedy="fit metal conduit, or one rated above the hottest zone it passes",
        cure=lambda: Edit(
            (Put((*subject.path, "conduit"), _of_metal(conduit)),),
            f"lead {carrier.name} in metal conduit",
            f"the conduit of {carrier.name} does not bear the heat",
        ),
    )


def _of_metal(conduit: Conduit) -> dict[str, str]:
    bore = {"bore": conduit.bore.text} if conduit.bore is not None else {}
    return {"kind": "metal", **bore}
