"""What the way from a source to its bus loses at rated current."""

from __future__ import annotations

from collections.abc import Iterator

from ...analysis.circuit.assembly import CONTACT
from ...analysis.circuit.drop_paths import hot_ohms, way_to
from ...analysis.circuit.leads import SPLIT, ZONE_TEMPERATURE, conductor_ohms
from ...analysis.circuit.solved import circuit
from ...analysis.study import Point, Study
from ...graph import Edge
from ...model.quantities import plain_number
from ...physics.conductors import feeder_drop_limit
from ..verdicts import (
    Verdict,
    discrepancy,
    meets,
    undetermined,
)
from ..vocabulary import rule
from .voltage_drop import OVER, WHOLE_RISE

RATED = "rated current of the source"


@rule(
    "feeder-drop",
    title="From source to bus no more than 2 percent of the regulated voltage is lost at rated current",
    why="What the feeder loses every load loses, before its own wires lose anything.",
    source="FAA-H-8083-31, wire size selection",
    formula="rated current x hot resistance of the way from the source to its bus <= 0.02 x regulated voltage",
    example="60 A through 0.003 ohm: 0.18 V against 0.28 V of 14 V, margin 0.10 V",
    over=lambda study: [
        i for i, s in study.model.supplies.items() if s.spec.kind in ("alternator", "generator")
    ],
)
def feeder_drop(study: Study) -> Iterator[Verdict]:
    """One verdict per alternator and generator."""
    for ident, supply in study.model.supplies.items():
        if supply.spec.kind not in ("alternator", "generator"):
            continue
        at, path = (ident,), ("supplies", ident)
        edge = next(
            (e for e in study.graph.by_thing.get(("supplies", ident), ()) if e.kind == "supply"), None
        )
        if edge is None:
            yield undetermined(at, path, "terminals of the source")
            continue
        way = way_to(study, edge.a, edge, _is_bus)
        lacking = [
            w
            for w, v in (
                ("wire runs from the source to a bus", way),
                (RATED, supply.spec.rated_current),
                ("voltage of the supply", supply.spec.voltage),
            )
            if v is None
        ]
        if way is None or supply.spec.rated_current is None or supply.spec.voltage is None:
            yield undetermined(at, path, lacking)
            continue
        yield _fed(study, ident, way[1], float(supply.spec.rated_current), float(supply.spec.voltage))


def _is_bus(study: Study, node: str) -> bool:
    supply = study.model.supplies.get(node)
    return supply is not None and supply.spec.kind == "bus"


def _fed(study: Study, ident: str, way: tuple[Edge, ...], current: float, volts: float) -> Verdict:
    at = (ident, *dict.fromkeys(e.ident for e in way if e.kind == "conductor"))
    limit = feeder_drop_limit(volts)
    worst, where, missing = 0.0, study.points[0].name, tuple[str, ...]()
    for point in study.points:
        drop, lacking = _feeder_at(study, way, point, current)
        missing = tuple(dict.fromkeys((*missing, *lacking)))
        if drop > worst:
            worst, where = drop, point.name
    told = (
        f"{ident} loses {plain_number(worst)} V on its way to the bus at its rated {plain_number(current)} A ({where}); "
        f"{plain_number(limit)} V, 2 percent of {plain_number(volts)} V, is allowed"
    )
    numbers = {"value": worst, "limit": limit, "margin": limit - worst, "unit": "V"}
    if worst > limit * (1 + OVER):
        run = max(
            (e for e in way if e.kind == "conductor"),
            key=lambda e: conductor_ohms(e, study.points[0]).cold or 0,
        )
        return discrepancy(
            at,
            ("wire_runs", run.ident, "gauge"),
            told,
            remedy=f"use thicker wire in run {run.ident}: the way may have {plain_number(limit / current * 1000)} milliohm",
            **numbers,
        )
    hot = [m for m in missing if m in (SPLIT, ZONE_TEMPERATURE) and worst * WHOLE_RISE <= limit]
    unsettled = [m for m in missing if m not in hot and m != CONTACT]
    return (
        undetermined(at, ("supplies", ident), unsettled)
        if unsettled
        else meets(at, ("supplies", ident), told, **numbers)
    )


def _feeder_at(
    study: Study, way: tuple[Edge, ...], point: Point, current: float
) -> tuple[float, tuple[str, ...]]:
    net = circuit(study, point)
    total = 0.0
    for edge in way:
        if edge.kind == "conductor":
            number = net.branch_of.get(edge)
            joints = float(net.parts.contact[number]) if number is not None else 0.0
            total += current * ((hot_ohms(study, edge, point, current) or 0.0) + joints)
        else:
            total += current * (net.resistance(edge) or 0.0)
    return total, net.lacking(way)
