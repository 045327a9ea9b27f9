"""What can be chosen when wire and protection are sized: the gauges of each run, the ratings of each protector."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace

from ..analysis.circuit.drop_paths import consumers, way_to
from ..analysis.power.wire_sizes import WireSize, sizes_of
from ..analysis.power.wiring import is_starter
from ..analysis.study import Study
from ..dataclass import dataclass
from ..document import Document
from ..graph import total_length
from ..model.installation import Installation, split_end
from ..model.power import Supply
from ..model.quantities import Gauge, QuantityError, parse
from ..model.wiring import WireRun
from ..physics.ampacity import standard_ratings

_THINNEST, _THINNEST_ALLOY = 22, 24
"""AWG: thinnest for general use, and of high-strength alloy: AS50881, recalled."""
_SIZED_FIELDS = {
    "resistance": "resistance per length",
    "outside_diameter": "length",
    "linear_weight": "mass per length",
}
LIMITER_RATINGS = (35.0, 50.0, 60.0, 80.0, 100.0, 130.0, 150.0)
"""A, ratings in which current limiters are stocked (the trade, assumed)."""


@dataclass(frozen=True, slots=True)
class Choice:
    """A set: the size of each run by id, the rating [A] of each protector by id."""

    runs: Mapping[str, WireSize]
    ratings: Mapping[str, float]

    def with_one(self, ident: str, wanted: WireSize | float) -> Choice:
        """The set with another gauge of one run, or another rating of one protector."""
        if isinstance(wanted, WireSize):
            return replace(self, runs={**self.runs, ident: wanted})
        return replace(self, ratings={**self.ratings, ident: wanted})


def sizes_for(study: Study, ident: str) -> list[WireSize]:
    """Gauges a run may be made in, thinnest first: those of its part that its terminals and joints take."""
    run = study.model.wire_runs[ident]
    least = _THINNEST_ALLOY if run.spec.metal == "high-strength copper alloy" else _THINNEST
    lows, highs = [least], [-10]
    for one in run.terminations or ():
        if one.smallest_gauge is not None:
            lows.append(one.smallest_gauge.number)
        if one.largest_gauge is not None:
            highs.append(one.largest_gauge.number)
    for end in (run.from_, run.to):
        junction = study.model.junctions.get(split_end(end)[0]) if end is not None else None
        if junction is not None and junction.spec.smallest_gauge is not None:
            lows.append(junction.spec.smallest_gauge.number)
        if junction is not None and junction.spec.largest_gauge is not None:
            highs.append(junction.spec.largest_gauge.number)
    return [s for s in sizes_of(study, run) if max(highs) <= s.gauge.number <= min(lows)]


def ratings_for(supply: Supply) -> tuple[float, ...]:
    """Stocked ratings of a protector in A, smallest first; empty for what is no protector."""
    kind = supply.spec.kind
    if kind == "current limiter":
        return LIMITER_RATINGS
    return standard_ratings(kind) if kind in ("breaker", "fuse") else ()


def free_runs(study: Study) -> Iterator[tuple[str, str]]:
    """Every run that is not removed, with why its gauge is not for this tool to choose; an empty reason if it is."""
    cranking = starter_runs(study)
    for ident, run in study.model.wire_runs.items():
        if run.status == "removed":
            continue
        if ident in cranking:
            yield (
                ident,
                "it carries the starter's current, which no rule judges: choose it by the engine's papers",
            )
        elif run.status == "existing":
            yield ident, "in place already"
        elif run.spec.thermocouple is not None or run.spec.kind in (
            "thermocouple lead",
            "strap",
            "ignition lead",
        ):
            yield ident, "not a wire that is chosen by gauge"
        elif run.conductors is not None:
            yield ident, "a cable: its part says its gauge"
        elif total_length(run) is None:
            yield ident, "its length is not given"
        elif not sizes_of(study, run):
            yield ident, "its part comes in one size"
        elif not sizes_for(study, ident):
            yield ident, "no gauge of its part fits its terminals and joints"
        else:
            yield ident, ""


def applied(document: Document, choice: Choice) -> Document:
    """The document with a set in place of what it says."""
    model = document.installation
    runs = dict(model.wire_runs)
    for ident, size in choice.runs.items():
        runs[ident] = _with_gauge(document, ident, runs[ident], size)
    supplies = dict(model.supplies)
    for ident, rating in choice.ratings.items():
        text = f"{rating:g} A"
        spec = supplies[ident].spec.model_copy(update={"rating": parse(text, "current")})
        supplies[ident] = supplies[ident].model_copy(update={"spec": spec, "size": text})
    changed: Installation = model.model_copy(update={"wire_runs": runs, "supplies": supplies})
    return replace(document, installation=changed)


def _with_gauge(document: Document, ident: str, run: WireRun, size: WireSize) -> WireRun:
    if run.gauge == size.gauge:
        return run
    update: dict[str, object] = {}
    part = document.library.parts.get(run.part) if run.part is not None else None
    row = part.figures(str(size.gauge)) if part is not None else {}
    for name, kind in _SIZED_FIELDS.items():
        if document.holds(("wire_runs", ident, name)) and part is not None:
            continue
        try:
            update[name] = parse(str(row[name]), kind)
        except (KeyError, QuantityError):
            update[name] = None
    if update.get("resistance") is None and not document.holds(("wire_runs", ident, "resistance")):
        update["resistance"] = parse(f"{size.resistance:.9g} ohm/m", "resistance per length")
    gauge: Gauge = size.gauge
    return run.model_copy(update={"gauge": gauge, "spec": run.spec.model_copy(update=update)})


def weight_of(study: Study, ident: str, size: WireSize) -> float:
    """Weight of a run in kg."""
    return size.weight * (total_length(study.model.wire_runs[ident]) or 0.0)


def starter_runs(study: Study) -> frozenset[str]:
    """Runs that carry a starter's current: its feed and return, and the way of each battery to bus and ground."""
    starters = [
        c
        for c in consumers(study)
        if c.section == "loads" and is_starter(c.ident, study.model.loads[c.ident])
    ]
    if not starters:
        return frozenset()
    found = {e.ident for c in starters for e in (*(c.out or ()), *(c.back or ())) if e.kind == "conductor"}
    fed_from = {c.bus for c in starters if c.bus is not None}
    for edge in study.graph.edges:
        if edge.kind != "supply" or study.model.supplies[edge.ident].spec.kind != "battery":
            continue
        back = way_to(study, edge.b, edge, lambda c, n: c.graph.is_ground(n))
        out = way_to(study, edge.a, edge, lambda _, n: n in fed_from)
        for way in (back, out):
            found |= {e.ident for e in (way[1] if way is not None else ()) if e.kind == "conductor"}
    return frozenset(found)
