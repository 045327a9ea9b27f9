"""Fuel, oil or mixture brought by an instrument line to where people sit."""

from __future__ import annotations

from collections.abc import Iterator

from ...analysis.fluid.facts import (
    FLAMMABLE,
    LIQUID,
    MEDIUM,
    ROUTE,
    Part,
    carried,
    gauges,
    highest_pressure,
    is_supply_line,
    lines,
    listed,
    media,
    stretches,
)
from ...analysis.fluid.leaks import USUAL_BORE, Leak, leaks
from ...analysis.fluid.losses import (
    duration,
    explosive_after,
    oil_lasts,
    rate,
    spilled,
    volume,
)
from ...analysis.study import Study
from ...model.fields import Medium
from ...model.quantities import in_unit, plain_number, show
from ...physics.spill import litres_per_minute
from ..verdicts import (
    Verdict,
    advisory,
    meets,
    undetermined,
)
from ..vocabulary import rule
from .part_23 import breach

OCCUPIED = "use of the zone ('occupied: yes' or 'no')"
_ELECTRIC_RANGES_PSI = (15, 30, 50, 100, 150)
"""psi: ranges of the transducers in the part library."""


@rule(
    "fluid-into-cabin",
    title="No instrument line brings fuel, oil or other flammable fluid into an occupied zone",
    why="A line that breaks behind the panel leaks onto the pilot and what is hot or sparks there. A restrictor slows the "
    "leak; it does not make it safe. A remote sender on the engine side keeps the fluid out altogether.",
    source="14 CFR 23.1337(a)(2), (a)(3) and 23.863, as before amendment 23-64; no section forbids such a line outright",
    formula="leak Q from dp = (f L/D + 1.5) rho v^2/2 + (rho/2)(Q/(0.8 A))^2, the line broken where it enters the zone; "
    "time to the lower explosive limit = LEL V p M/(R T rho)/Q",
    example="fuel at 25 psi in 1.5 m of 1/4 x 0.035 tube leaks 7.6 L/min, and through a 0.040 in hole of Cd 0.61 0.65 L/min: "
    "a closed cabin of 2 m3 reaches its explosive limit in 14 s",
    over="fluid_lines",
)
def fluid_into_cabin(study: Study) -> Iterator[Verdict]:
    """Every instrument line, by what it carries and where it runs."""
    for part in lines(study):
        if not is_supply_line(study, part.ident):
            yield from _judge(study, part)


def _judge(study: Study, part: Part) -> Iterator[Verdict]:
    at = (part.ident,)
    where = stretches(study, part.line)
    told = carried(study, part.ident)
    burning = told & FLAMMABLE
    if told and not burning:
        yield meets(at, part.path, f"line {part.ident} carries {listed(sorted(told))}, which does not burn")
        return
    if where is None:
        yield undetermined(at, part.path, ROUTE)
        return
    zones = dict.fromkeys(zone for zone, _ in where)
    occupied = [z for z in zones if study.model.zones[z].occupied]
    unsaid = [z for z in zones if study.model.zones[z].occupied is None]
    if not occupied and unsaid:
        yield undetermined(at, ("zones", unsaid[0]), OCCUPIED)
    elif not occupied:
        yield meets(at, part.path, f"line {part.ident} stays out of occupied zones")
    elif not told:
        yield undetermined(at, part.path, MEDIUM)
    elif burning & LIQUID:
        yield _liquid(study, part, burning & LIQUID, occupied)
    else:
        yield _vapour(study, part, occupied)


def _ends_at(study: Study, part: Part) -> tuple[tuple[str, ...], str]:
    found = gauges(study, part.ident)
    word = f" to the direct-reading {listed(found)}" if found else ""
    return (part.ident, *found), word


def _path(part: Part, zones: list[str]) -> tuple[str | int, ...]:
    for i, step in enumerate(part.line.route or ()):
        if step.zone in zones:
            return (*part.path, "route", i)
    return part.path


def _liquid(study: Study, part: Part, carrying: frozenset[Medium], zones: list[str]) -> Verdict:
    at, gauge = _ends_at(study, part)
    found = leaks(study, part)
    leak = found.into(zones)
    label = listed(sorted(carrying))
    bare = any(
        media(study).unrestricted(study.graph.node_of(end), m) is not None
        for end in (part.line.from_, part.line.to)
        for m in carrying
    )
    guard = ", with no restrictor at its source" if bare else ", behind a restrictor"
    if carrying == {"primer fuel"}:
        # Under pressure only while it is pumped: no restrictor is asked for.
        guard = ""
    message = f"line {part.ident} brings {label} into the {listed(zones)}{gauge}{guard}"
    if part.line.shrouded:
        message += " and in a drained shroud"
    if leak is not None:
        message += f": {_effect(study, leak, carrying)}"
    elif found.missing:
        message += f"; the leak cannot be computed without the {' and the '.join(found.missing)}"
    value = litres_per_minute(leak.flow) if leak is not None else None
    numbers = {} if value is None else {"value": value, "limit": 0.0, "margin": -value, "unit": "L/min"}
    if part.line.shrouded and not bare:
        # A drained shroud is one way to show that an escape is no hazard, 23.1337(a)(2)(ii).
        return advisory(at, _path(part, zones), message, remedy=_remedy(leak, carrying), **numbers)
    return breach(study, at, _path(part, zones), message, remedy=_remedy(leak, carrying), **numbers)


def _effect(study: Study, leak: Leak, carrying: frozenset[Medium]) -> str:
    """The leak in numbers, and what it does to oil or air, as it is and without restrictors."""
    text = f"a break there at {show(leak.pressure, 'psi', 'pressure')} leaks {rate(leak.flow)}"
    if leak.bare > leak.flow * 1.001:
        text += f", and {rate(leak.bare)} without the restrictor"
    elif not leak.restrictors and carrying != {"primer fuel"}:
        text += f", and {rate(leak.flow_with(USUAL_BORE))} if a restrictor of 0.040 in stood at the source"
    if "oil" in carrying and (lasts := oil_lasts(study, leak, leak.flow)) is not None:
        text += f"; the oil is {lasts[1]} in {duration(lasts[0])}"
    if carrying & {"fuel", "primer fuel"}:
        out = spilled(study, leak, leak.flow)
        if out is not None:
            text += f"; {volume(out)} runs out before it is shut and drained"
        after = explosive_after(study, leak, leak.flow)
        if after is not None:
            text += (
                f"; the closed air of the {leak.zone} reaches its lower explosive limit in {duration(after)}"
            )
    return text


def _remedy(leak: Leak | None, carrying: frozenset[Medium]) -> str:
    size = ""
    if leak is not None:
        psi = in_unit(leak.pressure, "psi", "pressure")
        fit = next((r for r in _ELECTRIC_RANGES_PSI if r >= psi * 0.999), None)
        size = f" of {plain_number(fit)} psi range" if fit is not None else ""
    kind = "pressure" if len(carrying) != 1 else f"{next(iter(carrying)).split()[0]} pressure"
    return (
        f"fit an electric {kind} sender{size} on the engine side of the firewall, with a restrictor at the tap and a flexible "
        "hose to it, and its indicator in the panel; cap the tap and the port of what is taken out. If the line is part of "
        "the type design, name its approved data in a deviation"
    )


def _vapour(study: Study, part: Part, zones: list[str]) -> Verdict:
    at, gauge = _ends_at(study, part)
    most, _ = highest_pressure(study, part.ident)
    how = (
        f"at up to {most.text} above the cabin, so a break blows it in"
        if most is not None and most > 0
        else "it is at suction, so a break draws cabin air in"
    )
    return advisory(
        at,
        _path(part, zones),
        f"line {part.ident} brings fuel-air mixture into the {listed(zones)}{gauge}: {how}, and the line can hold liquid fuel "
        "after priming or a backfire",
        remedy="fit an electric manifold pressure sender on the engine side of the firewall, or let the line rise all the way to "
        "the gauge and share no fitting with the primer",
        source="inference from 14 CFR 23.1337(a) and 23.863; such lines are common in type designs",
    )
