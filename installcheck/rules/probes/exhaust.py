"""Exhaust probes sit at one distance from their ports, within the band the papers allow."""

from __future__ import annotations

from collections.abc import Iterator
from statistics import median

from ...analysis.shown import (
    engine_id,
    number,
    text,
    width_text,
)
from ...analysis.study import Study
from ...model.aircraft import Engine
from ...model.devices import Probe
from ...model.quantities import Quantity, plain_number
from ..verdicts import (
    Verdict,
    advisory,
    discrepancy,
    meets,
    undetermined,
)
from ..vocabulary import rule

DISTANCE = "distance of the probe from the exhaust port"
_NEAREST_M, _FARTHEST_M = 2 * 0.0254, 8 * 0.0254
"""2 to 8 in: widest band published in instrument and engine manuals, which disagree within it."""
_SPREAD_M = 0.5 * 0.0254
"""0.5 in between the probes of one engine: our choice, as no source states a figure."""
_SAYS = {
    "band": "its papers allow",
    "distance": "its papers name a distance, and half an inch either way is",
    "manuals": "manuals at large allow",
}
_SLIP = 1e-6
"""m, rounding of lengths written in inches."""


def _probes(study: Study) -> Iterator[tuple[str, Probe]]:
    for ident, probe in study.model.probes.items():
        if probe.measures != "exhaust temperature":
            continue
        if probe.mount in (None, "exhaust pipe"):
            yield ident, probe


@rule(
    "exhaust-probe-distance",
    title="Exhaust probes sit within the stated band from the port",
    why="Too near, the flame tires the probe; too far, or past a slip joint, it reads low. Manuals name distances from 1.5 to 8 in.",
    source="papers of the engine or probe; without them 2 to 8 in, as instrument and engine manuals that disagree allow",
    formula="nearest <= distance <= farthest; a single stated distance is held to 0.5 in",
    example="a probe at 9 in where the papers allow 2 to 8 in: 1 in too far",
    over=lambda study: [i for i, _ in _probes(study)],
)
def exhaust_probe_distance(study: Study) -> Iterator[Verdict]:
    """Every exhaust probe in a pipe."""
    for ident, probe in _probes(study):
        at, path = (ident,), ("probes", ident)
        if probe.distance is None:
            yield undetermined(at, path, DISTANCE)
            continue
        found = study.model.engine_of(probe)
        low, high, declared = _band(found[1] if found is not None else None)
        wrong = probe.distance < low - _SLIP or probe.distance > high + _SLIP
        limit = low if probe.distance < (low + high) / 2 else high
        margin = probe.distance - low if limit == low else high - probe.distance
        what = f"{ident} sits {text(probe.distance, probe.distance)} from the port"
        near, far = plain_number(number(low, probe.distance)), text(high, probe.distance)
        band = f"{_SAYS[declared]} {near} to {far}"
        verdict = meets(at, (*path, "distance"), f"{what}; {band}") if not wrong else None
        if verdict is None:
            make = discrepancy if declared == "band" else advisory
            verdict = make(at, (*path, "distance"), f"{what}, but {band}")
            verdict.remedy = f"move it {width_text(abs(margin), probe.distance)}, to {text(limit, probe.distance)} or within"
        verdict.value, verdict.limit = number(probe.distance, probe.distance), number(limit, probe.distance)
        verdict.margin, verdict.unit = number(margin, probe.distance), probe.distance.unit
        yield verdict


def _band(engine: Engine | None) -> tuple[float, float, str]:
    """Nearest and farthest [m], and who says so."""
    if engine is not None and engine.exhaust_probe_band is not None:
        low, high = sorted(float(x) for x in engine.exhaust_probe_band)
        return low, high, "band"
    if engine is not None and engine.exhaust_probe_distance is not None:
        middle = float(engine.exhaust_probe_distance)
        return (
            max(middle - _SPREAD_M, 0.0),
            middle + _SPREAD_M,
            "distance",
        )
    return _NEAREST_M, _FARTHEST_M, "manuals"


@rule(
    "exhaust-probes-even",
    title="The exhaust probes of an engine sit at one distance",
    why="The gas cools along the pipe. Probes at unequal distances show differences that are not mixture; their peaks can still be "
    "compared with themselves.",
    source="instrument and engine manuals: same distance on every cylinder; no source gives degrees for each inch",
    formula="largest less smallest distance <= 0.5 in (our choice)",
    example="2.65, 2.7, 2.6 and 3.5 in: 0.9 in apart, cylinder 4 stands out",
    over="engines",
)
def exhaust_probes_even(study: Study) -> Iterator[Verdict]:
    """Engines with two exhaust probes or more."""
    engines: dict[str, list[tuple[str, Probe]]] = {}
    for ident, probe in _probes(study):
        engines.setdefault(engine_id(study, probe), []).append((ident, probe))
    for engine, probes in engines.items():
        known = [(i, p, p.distance) for i, p in probes if p.distance is not None]
        if len(probes) < 2 or not known:
            continue
        at = (engine or probes[0][0], *(i for i, _ in probes))
        if len(known) < len(probes):
            unknown = next(i for i, p in probes if p.distance is None)
            yield undetermined(at, ("probes", unknown), DISTANCE)
            continue
        yield _even(at, known)


def _even(at: tuple[str, ...], known: list[tuple[str, Probe, Quantity]]) -> Verdict:
    distances = [float(d) for _, _, d in known]
    middle = median(distances)
    ident, probe, out = max(known, key=lambda k: abs(k[2] - middle))
    spread = max(distances) - min(distances)
    figures = {
        "value": number(spread, out),
        "limit": number(_SPREAD_M, out),
        "margin": number(_SPREAD_M - spread, out),
        "unit": out.unit,
    }
    told = f"the exhaust probes sit {width_text(spread, out)} apart in distance from their ports"
    if spread <= _SPREAD_M + _SLIP:
        return meets(at, ("probes", ident, "distance"), told, **figures)
    where = f"cylinder {probe.cylinder}" if probe.cylinder is not None else ident
    return advisory(
        at,
        ("probes", ident, "distance"),
        f"{told}: {where} stands out at {text(out, out)}, the middle is {text(middle, out)}; compare each only with itself",
        remedy=f"move {ident} to {text(middle, out)}, or take no absolute value across cylinders",
        **figures,
    )
