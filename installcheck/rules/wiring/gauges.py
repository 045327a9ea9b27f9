"""Gauges: a wire thick enough to live where it lies."""

from __future__ import annotations

from ...analysis import missing
from ...analysis.ignition import is_ignition_lead
from ...analysis.power.run_currents import carries_power
from ...analysis.routing import bundled, is_thermocouple, run_zones, thinnest, wires
from ...analysis.study import Study
from ...model.quantities import Gauge
from ...model.wiring import WireRun
from ..verdicts import Verdict
from ..vocabulary import Subject, rule

_LEAST, _THIN = 22, 26
"""Gauges: the thinnest wire of ordinary copper, and of high-strength alloy (AS50881, recalled)."""
_ALLOY = "high-strength copper alloy"
_ALUMINIUM_LEAST = 8
"""AC 43.13-1B 11-65: no aluminium below size 8."""
_DELICATE = 20
"""Below this size a wire wants company and more clamps (AC 43.13-1B 11-66, seen in a handbook's copy)."""
_COMPANY = 3


@rule(
    "wire-gauge",
    title="A wire is thick enough for the handling, vibration and clamping it gets",
    why="Thin copper breaks at the strip of the terminal; aluminium creeps and corrodes in it.",
    source="22 AWG in general, 24 and 26 of high-strength alloy: AS50881 (recalled); thinner than 20: AC 43.13-1B 11-66 "
    "(a handbook's copy); aluminium: 11-65",
    formula="gauge <= 22, or <= 26 of high-strength alloy; thinner than 20 not alone in a zone that vibrates",
    example="24 AWG of tin-plated copper: 22 AWG, or AS22759/33",
    over="wire_runs",
)
def wire_gauge(study: Study, subject: Subject, run: WireRun) -> Verdict | None:
    """The thinnest conductor of a run; the leads of a couple are of its own alloys, and only judged below 26.

    Lead of an ignition is made by its insulation, not by a gauge.
    """
    gauge = thinnest(run)
    if gauge is None and is_ignition_lead(study, run):
        return None
    metals = {wire.metal for wire in wires(run)}
    if "aluminium" in metals:
        return _aluminium(study, subject, gauge)
    if gauge is None:
        return subject.lacks(missing.RUN_GAUGE)
    if gauge.number <= _DELICATE:
        return subject.field("gauge").meets(f"run {subject.ident} is of {gauge} AWG")
    if is_thermocouple(run):
        return _thin(subject, gauge, _ALLOY)
    if gauge.number > _LEAST and None in metals:
        return subject.lacks(missing.RUN_METAL)
    plain = next((m for m in sorted(str(m) for m in metals) if m != _ALLOY), _ALLOY)
    thin = _thin(subject, gauge, plain)
    return thin if thin.remedy else _delicate(study, subject, run, gauge)


def _aluminium(study: Study, subject: Subject, gauge: Gauge | None) -> Verdict:
    signal = not carries_power(study, subject.ident)
    if gauge is None and not signal:
        return subject.lacks(missing.RUN_GAUGE)
    text = f"run {subject.ident} is of aluminium{f', {gauge} AWG' if gauge else ''}"
    if signal or (gauge is not None and gauge.number > _ALUMINIUM_LEAST):
        return subject.field("gauge").discrepancy(
            f"{text}; none thinner than 8 AWG is used, and none for signals",
            remedy="use copper, which may be two sizes thinner",
        )
    return subject.field("gauge").meets(text)


def _thin(subject: Subject, gauge: Gauge, metal: str) -> Verdict:
    least = _THIN if metal == _ALLOY else _LEAST
    other = ", or high-strength alloy of this gauge (AS22759/33)" if gauge.number <= _THIN else ""
    return subject.field("gauge").at_most(
        gauge.number,
        least,
        "AWG",
        f"run {subject.ident} is of {gauge} AWG",
        broken=f"run {subject.ident} is of {gauge} AWG; {least} AWG is the thinnest of {metal}",
        remedy=f"use 22 AWG{other}",
        practice=True,
    )


def _delicate(study: Study, subject: Subject, run: WireRun, gauge: Gauge) -> Verdict:
    text, placed = f"run {subject.ident} of {gauge} AWG", subject.field("gauge")
    if run.spec.kind == "cable" or len(run.conductors or ()) >= _COMPANY:
        return placed.meets(f"{text} is a cable")
    bundle = study.model.bundles.get(run.bundle or "")
    listed = len(bundled(study).get(run.bundle or "", ()))
    company = max((bundle.wires if bundle is not None else None) or 0, listed) - 1
    if company >= _COMPANY:
        return placed.meets(f"{text} lies with {company} others")
    zones = run_zones(study, subject.ident)
    if zones is None:
        return subject.lacks(missing.RUN_WAY)
    shaking = next((z for z in zones if study.model.zones[z].vibrates), None)
    unsaid = next((z for z in zones if study.model.zones[z].vibrates is None), None)
    if shaking is not None:
        return placed.advisory(
            f"{text} runs alone through the {shaking}, which vibrates",
            remedy="use 20 AWG, or lay it up with at least three others and clamp it close to its ends",
        )
    if unsaid is not None:
        return subject.placed("zones", unsaid).lacks(missing.ZONE_VIBRATION)
    return placed.meets(f"{text} runs alone where nothing vibrates")
