"""What the way from a source to its bus loses at rated current."""

from __future__ import annotations

from collections.abc import Iterator

from ..document.quantities import plain_number
from ..graph import Edge
from ..physics.conductors import feeder_drop_limit
from .assembly import CONTACT
from .case import Case, Point
from .circuit import circuit
from .drop_paths import hot_ohms, way_to
from .leads import SPLIT, ZONE_TEMPERATURE, conductor_ohms
from .verdicts import Verdict, discrepancy, meets, rule, undetermined
from .voltage_drop import OVER, WHOLE_RISE

RATED = "rated current of the source"


@rule(
    "feeder-drop",
    title="From source to bus no more than 2 percent of the regulated voltage is lost at rated current",
    why="What the feeder loses every load loses, before its own wires lose anything.",
    source="FAA-H-8083-31, wire size selection",
    formula="rated current x hot resistance of the way from the source to its bus <= 0.02 x regulated voltage",
    example="60 A through 0.003 ohm: 0.18 V against 0.28 V of 14 V, margin 0.10 V",
    over=lambda case: [
        i for i, s in case.model.supplies.items() if s.spec.kind in ("alternator", "generator")
    ],
)
def feeder_drop(case: Case) -> Iterator[Verdict]:
    """One verdict per alternator and generator."""
    for ident, supply in case.model.supplies.items():
        if supply.spec.kind not in ("alternator", "generator") or supply.status == "removed":
            continue
        at, path = (ident,), ("supplies", ident)
        edge = next((e for e in case.graph.by_thing.get(("supplies", ident), ()) if e.kind == "supply"), None)
        if edge is None:
            yield undetermined(at, path, "terminals of the source")
            continue
        way = way_to(case, edge.a, edge, _is_bus)
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
        yield _fed(case, ident, way[1], float(supply.spec.rated_current), float(supply.spec.voltage))


def _is_bus(case: Case, node: str) -> bool:
    supply = case.model.supplies.get(node)
    return supply is not None and supply.spec.kind == "bus"


def _fed(case: Case, ident: str, way: tuple[Edge, ...], current: float, volts: float) -> Verdict:
    at = (ident, *dict.fromkeys(e.ident for e in way if e.kind == "conductor"))
    limit = feeder_drop_limit(volts)
    worst, where, missing = 0.0, case.points[0].name, tuple[str, ...]()
    for point in case.points:
        drop, lacking = _feeder_at(case, way, point, current)
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
            key=lambda e: conductor_ohms(e, case.points[0]).cold or 0,
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
    case: Case, way: tuple[Edge, ...], point: Point, current: float
) -> tuple[float, tuple[str, ...]]:
    net = circuit(case, point)
    total = 0.0
    for edge in way:
        if edge.kind == "conductor":
            number = net.branch_of.get(id(edge))
            joints = float(net.parts.contact[number]) if number is not None else 0.0
            total += current * ((hot_ohms(case, edge, point, current) or 0.0) + joints)
        else:
            total += current * (net.resistance(edge) or 0.0)
    return total, net.lacking(way)
