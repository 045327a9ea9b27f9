"""Gauges: a wire thick enough to live where it lies."""

from __future__ import annotations

from collections.abc import Iterator

from ...analysis.power.run_currents import carries_power
from ...analysis.routing import (
    GAUGE,
    bundled,
    is_thermocouple,
    run_zones,
    thinnest,
    wires,
)
from ...analysis.study import Study
from ...model.quantities import Gauge
from ...model.wiring import WireRun
from ..verdicts import (
    Verdict,
    advisory,
    discrepancy,
    meets,
    undetermined,
)
from ..vocabulary import rule

_LEAST, _THIN = 22, 26
"""Gauges: the thinnest wire of ordinary copper, and of high-strength alloy (AS50881, recalled)."""
_ALUMINIUM_LEAST = 8
"""AC 43.13-1B 11-65: no aluminium below size 8."""
_DELICATE = 20
"""Below this size a wire wants company and more clamps (AC 43.13-1B 11-66, recalled)."""
_COMPANY = 3


@rule(
    "wire-gauge",
    title="A wire is thick enough for the handling, vibration and clamping it gets",
    why="Thin copper breaks at the strip of the terminal; aluminium creeps and corrodes in it.",
    source="22 AWG in general, 24 and 26 of high-strength alloy: AS50881 (recalled); thinner than 20: AC 43.13-1B 11-66 "
    "(recalled); aluminium: 11-65",
    formula="gauge <= 22, or <= 26 of high-strength alloy; thinner than 20 not alone in a zone that vibrates",
    example="24 AWG of tin-plated copper: 22 AWG, or AS22759/33",
    over="wire_runs",
)
def wire_gauge(study: Study) -> Iterator[Verdict]:
    """Every run; the leads of a couple are of its own alloys, and only their gauge below 26 is judged."""
    for ident, run in study.model.wire_runs.items():
        at, path = (ident,), ("wire_runs", ident, "gauge")
        gauge = thinnest(run)
        metals = {wire.metal for wire in wires(run)}
        if "aluminium" in metals:
            yield _aluminium(study, ident, gauge)
        elif gauge is None:
            yield undetermined(at, path[:2], GAUGE)
        elif gauge.number <= _DELICATE:
            yield meets(at, path, f"run {ident} is of {gauge} AWG")
        elif is_thermocouple(run):
            yield _thin(ident, gauge, "high-strength copper alloy")
        elif gauge.number > _LEAST and None in metals:
            yield undetermined(at, path[:2], "metal of the conductor")
        else:
            plain = next(
                (m for m in sorted(str(m) for m in metals) if m != "high-strength copper alloy"), None
            )
            verdict = _thin(ident, gauge, plain or "high-strength copper alloy")
            yield verdict if verdict.remedy else _delicate(study, ident, run, gauge)


def _aluminium(study: Study, ident: str, gauge: Gauge | None) -> Verdict:
    at, path = (ident,), ("wire_runs", ident, "gauge")
    signal = not carries_power(study, ident)
    if gauge is None and not signal:
        return undetermined(at, path[:2], GAUGE)
    if signal or (gauge is not None and gauge.number > _ALUMINIUM_LEAST):
        return discrepancy(
            at,
            path,
            f"run {ident} is of aluminium{f', {gauge} AWG' if gauge else ''}; none thinner than 8 AWG is used, and none for signals",
            remedy="use copper, which may be two sizes thinner",
        )
    return meets(at, path, f"run {ident} is of aluminium, {gauge} AWG")


def _thin(ident: str, gauge: Gauge, metal: str) -> Verdict:
    at, path = (ident,), ("wire_runs", ident, "gauge")
    least = _THIN if metal == "high-strength copper alloy" else _LEAST
    numbers = {"value": gauge.number, "limit": least, "margin": least - gauge.number, "unit": "AWG"}
    if gauge.number <= least:
        return meets(at, path, f"run {ident} is of {gauge} AWG", **numbers)
    other = ", or high-strength alloy of this gauge (AS22759/33)" if gauge.number <= _THIN else ""
    return advisory(
        at,
        path,
        f"run {ident} is of {gauge} AWG; {least} AWG is the thinnest of {metal}",
        remedy=f"use 22 AWG{other}",
        **numbers,
    )


def _delicate(study: Study, ident: str, run: WireRun, gauge: Gauge) -> Verdict:
    at, path = (ident,), ("wire_runs", ident, "gauge")
    text = f"run {ident} of {gauge} AWG"
    if run.spec.kind == "cable" or len(run.conductors or ()) >= _COMPANY:
        return meets(at, path, f"{text} is a cable")
    wires_in = study.model.bundles[run.bundle].wires if run.bundle in study.model.bundles else None
    company = max(wires_in or 0, len(bundled(study).get(run.bundle or "", ()))) - 1
    if company >= _COMPANY:
        return meets(at, path, f"{text} lies with {company} others")
    zones = run_zones(study, ident)
    if zones is None:
        return undetermined(at, path[:2], "bundle of the run, or its route with the length in each zone")
    shaking = [z for z in zones if study.model.zones[z].vibrates]
    unsaid = next((z for z in zones if study.model.zones[z].vibrates is None), None)
    if shaking:
        return advisory(
            at,
            path,
            f"{text} runs alone through the {shaking[0]}, which vibrates",
            remedy="use 20 AWG, or lay it up with at least three others and clamp it close to its ends",
        )
    if unsaid is not None:
        return undetermined(at, ("zones", unsaid), "vibration of the zone ('vibrates: yes' or 'no')")
    return meets(at, path, f"{text} runs alone where nothing vibrates")
