"""Manifold pressure lines: trapped liquid, lag, and what the gauge shows with the engine stopped."""

from __future__ import annotations

from collections.abc import Iterator

from ...analysis.fluid.facts import (
    BORE,
    LENGTH,
    LIQUID,
    MANIFOLD,
    Part,
    carried,
    lines,
    readers,
)
from ...analysis.study import Study
from ...document.source import DocPath
from ...graph import total_length
from ...graph.media import line_bore
from ...model.fluid import FluidLine
from ...model.installation import inputs_of
from ...model.quantities import in_unit, plain_number, show
from ...physics.capillaries import isa_pressure_pa
from ...physics.flow import Segment
from ...physics.media import air_viscosity, liquid_density
from ...physics.media import medium as liquid_called
from ...physics.sensing_lines import head_pressure, pneumatic_lag
from ..verdicts import (
    Verdict,
    advisory,
    discrepancy,
    meets,
    undetermined,
)
from ..vocabulary import rule

_MANIFOLD_GAUGE_M3 = 30e-6
"""m3 inside a direct manifold pressure gauge: assumed."""
_MANIFOLD_SHOWS_S = 0.5
"""s of lag a pilot does not notice when he moves the throttle: practice."""
_MANIFOLD_PA = 50_000.0
"""Pa absolute in the manifold at low power, where the lag is largest: assumed."""
_WEATHER_PA = 3386.389
"""Pa, 1 inHg: what the weather moves the barometer from standard."""
_GAUGE_PA = 0.5 * 3386.389
"""Pa, 0.5 inHg: what a gauge may be off where it does not say."""


def _manifold_lines(study: Study) -> Iterator[Part]:
    for part in lines(study):
        told = carried(study, part.ident)
        if told & MANIFOLD and not told & LIQUID:
            yield part


@rule(
    "manifold-line-drain",
    title="A manifold pressure line cannot trap liquid",
    why="Water and fuel condense in it. What stands in a rise holds the pointer off by its weight, and freezes.",
    source="practice; plain physics for the error: dp = rho g h",
    formula="a slug of water as high as the rise: rho g h",
    example="150 mm of water: 0.43 inHg",
    over="fluid_lines",
)
def manifold_line_drain(study: Study) -> Iterator[Verdict]:
    """Every line that carries manifold pressure."""
    for part in _manifold_lines(study):
        at, drained = (part.ident,), part.line.low_point_drain
        if drained is None:
            yield undetermined(
                at, part.path, "drain of the line, or its rise all the way ('low_point_drain: yes' or 'no')"
            )
        elif drained:
            yield meets(
                at, (*part.path, "low_point_drain"), f"line {part.ident} rises all the way or is drained"
            )
        else:
            yield _trap(part.ident, part.line, (*part.path, "low_point_drain"))


def _trap(ident: str, line: FluidLine, path: DocPath) -> Verdict:
    text = f"line {ident} has a low point without a drain"
    numbers: dict[str, object] = {}
    if line.rise is not None and abs(float(line.rise)) > 0:
        water = liquid_called("water")
        error = in_unit(head_pressure(liquid_density(water, 20), abs(float(line.rise))), "inHg", "pressure")
        text += (
            f": water over its {line.rise.text} holds the reading off by up to {plain_number(error, 2)} inHg"
        )
        numbers = {"value": error, "limit": 0.0, "margin": -error, "unit": "inHg"}
    return advisory(
        (ident,),
        path,
        text,
        remedy="let the line rise all the way from the engine, or put a drain or trap at its low point",
        **numbers,
    )


@rule(
    "manifold-line-lag",
    title="A manifold pressure line is quick enough to follow the throttle",
    why="A very thin or very long line lags: the pilot sets power by what was, not by what is.",
    source="laminar resistance times gas volume, background NACA TN 2793; 0.5 s is practice",
    formula="tau = 128 mu L (V + V_line/2)/(pi d^4 p), V = 30 cm3, p = 50 kPa (assumed)",
    example="2 m of 0.061 in bore: 0.12 s at 71 kPa; of 0.180 in: 2 ms",
    over="fluid_lines",
)
def manifold_line_lag(study: Study) -> Iterator[Verdict]:
    """Every line that carries manifold pressure, by itself."""
    for part in _manifold_lines(study):
        at = (part.ident,)
        if not readers(study, part.ident):
            continue
        length, bore = total_length(part.line), line_bore(part.line)
        missing = [w for w, v in ((LENGTH, length), (BORE, bore)) if v is None]
        if length is None or bore is None:
            yield undetermined(at, part.path, missing)
            continue
        tau = pneumatic_lag([Segment(bore, length)], _MANIFOLD_GAUGE_M3, _MANIFOLD_PA, air_viscosity(20))
        text = f"line {part.ident} lags by {plain_number(tau, 2)} s"
        numbers = {
            "value": tau,
            "limit": _MANIFOLD_SHOWS_S,
            "margin": _MANIFOLD_SHOWS_S - tau,
            "unit": "s",
        }
        if tau <= _MANIFOLD_SHOWS_S:
            yield meets(at, part.path, text, **numbers)
        else:
            need = bore * (tau / _MANIFOLD_SHOWS_S) ** 0.25
            yield advisory(
                at,
                part.path,
                text,
                remedy=f"use a bore of {show(need, 'in', 'length')} or more",
                **numbers,
            )


def _ambient(study: Study) -> float | None:
    elevation = study.model.aircraft.field_elevation
    return isa_pressure_pa(min(float(elevation), 11_000.0)) if elevation is not None else None


@rule(
    "manifold-gauge-engine-off",
    title="With the engine stopped, manifold pressure reads the barometer",
    why="A gauge that does not return to ambient has a blocked or leaking line, or is broken: one stood at 16 inHg for years.",
    source="plain physics; standard atmosphere ISO 2533, weather 1 inHg",
    formula="|reading - ambient| <= 1 inHg (weather, where the barometer was not read) + budget of the gauge, else 0.5 inHg",
    example="16 inHg against 29.9 inHg at sea level: 13.9 inHg low",
    over=lambda study: [
        str(i) for i, m in enumerate(study.model.measured) if m.what == "engine-off indication"
    ],
)
def manifold_gauge_engine_off(study: Study) -> Iterator[Verdict]:
    """Every engine-off indication of a manifold pressure gauge."""
    for i, measured in enumerate(study.model.measured):
        value = measured.value
        if measured.what != "engine-off indication" or isinstance(value, str) or value.kind != "pressure":
            continue
        ident = (measured.of or "").partition(".")[0]
        indicator = study.model.indicators.get(ident)
        if indicator is None:
            continue
        specs = [s for _, s in inputs_of(indicator) if s.measures == "manifold pressure"]
        if not specs:
            continue
        at, path = (ident,), ("measured", i)
        ambient = float(measured.true_value) if measured.true_value is not None else _ambient(study)
        if ambient is None:
            yield undetermined(
                at, path, "barometer at the time ('true_value'), or the elevation of the field"
            )
            continue
        budget = specs[0].budget if specs[0].budget is not None else specs[0].accuracy
        allowed = float(budget) if budget is not None else _GAUGE_PA
        allowed += 0.0 if measured.true_value is not None else _WEATHER_PA
        unit = value.unit
        off = in_unit(float(value) - ambient, unit, "pressure")
        most = in_unit(allowed, unit, "pressure")
        text = (
            f"{ident} reads {value.text} with the engine stopped, {plain_number(abs(off))} {unit} "
            f"{'below' if off < 0 else 'above'} the {show(ambient, unit, 'pressure')} of the air"
        )
        numbers = {"value": abs(off), "limit": most, "margin": most - abs(off), "unit": unit}
        if abs(off) <= most:
            yield meets(at, path, text, **numbers)
        else:
            yield discrepancy(
                at,
                path,
                text,
                remedy="look for a blocked, corroded or leaking line and fitting, then have the gauge checked",
                **numbers,
            )
