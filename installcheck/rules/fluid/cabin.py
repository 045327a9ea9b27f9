"""Fuel, oil or mixture brought by an instrument line to where people sit."""

from __future__ import annotations

from collections.abc import Iterator

from ...analysis import missing
from ...analysis.fluid.facts import (
    FLAMMABLE,
    LIQUID,
    Part,
    carried,
    gauges,
    highest_pressure,
    lines,
    listed,
    media,
    stretches,
)
from ...analysis.fluid.leaks import USUAL_BORE, Leak, leaks
from ...analysis.fluid.losses import duration, explosive_after, oil_lasts, rate, spilled, volume
from ...analysis.fluid.purposes import purpose, taken_from
from ...analysis.study import Study
from ...model.comparing import at_least, same
from ...model.fields import Medium
from ...model.quantities import in_unit, plain_number, show
from ...physics.spill import litres_per_minute
from ..part_23 import breach
from ..verdicts import Verdict
from ..vocabulary import Subject, rule

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
    over=lambda study: _instrument_lines(study),
)
def fluid_into_cabin(study: Study, subject: Subject, part: Part) -> Verdict:
    """What an instrument line carries, and where it runs."""
    where = stretches(study, part.line)
    told = carried(study, part.ident)
    burning = told & FLAMMABLE
    if told and not burning:
        return subject.meets(f"line {part.ident} carries {listed(sorted(told))}, which does not burn")
    if where is None:
        return subject.lacks(missing.LINE_ROUTE)
    zones = dict.fromkeys(zone for zone, _ in where)
    occupied = [z for z in zones if study.model.zones[z].occupied]
    unsaid = [z for z in zones if study.model.zones[z].occupied is None]
    if not occupied and unsaid:
        return subject.placed("zones", unsaid[0]).lacks(missing.ZONE_OCCUPIED)
    if not occupied:
        return subject.meets(f"line {part.ident} stays out of occupied zones")
    if not told:
        return subject.lacks(missing.LINE_MEDIUM)
    if purpose(study, part.ident).word is None:
        return subject.lacks(missing.LINE_PURPOSE)
    read_by = gauges(study, part.ident)
    gauge = f" to the direct-reading {listed(read_by)}" if read_by else ""
    step = next((i for i, step in enumerate(part.line.route or ()) if step.zone in occupied), None)
    subject = subject.along(*read_by) if step is None else subject.along(*read_by).field("route", step)
    if burning & LIQUID:
        return _liquid(subject, part, burning & LIQUID, occupied, gauge)
    return _vapour(subject, occupied, gauge)


def _instrument_lines(study: Study) -> Iterator[Part]:
    return (part for part in lines(study) if purpose(study, part.ident).may_be_instrument)


def _liquid(
    subject: Subject, part: Part, carrying: frozenset[Medium], zones: list[str], gauge: str
) -> Verdict:
    study = subject.study
    found = leaks(study, part)
    leak = found.into(zones)
    bare = any(
        media(study).unrestricted(study.graph.node_of(end), m) is not None
        for end in (part.line.from_, part.line.to)
        for m in carrying
    )
    guard = ", with no restrictor at its source" if bare else ", behind a restrictor"
    if carrying == {"primer fuel"}:
        # Under pressure only while it is pumped: no restrictor is asked for.
        guard = ""
    message = f"line {part.ident} brings {listed(sorted(carrying))} into the {listed(zones)}{gauge}{guard}"
    if part.line.shrouded:
        message += " and in a drained shroud"
    if leak is not None:
        message += f": {_effect(study, leak, carrying)}"
    elif found.missing:
        message += f"; the leak cannot be computed without the {' and the '.join(found.missing)}"
    remedy = _remedy(subject, leak, carrying)
    if part.line.shrouded and not bare:
        # A drained shroud is one way to show that an escape is no hazard, 23.1337(a)(2)(ii).
        verdict = subject.advisory(message, remedy=remedy)
    elif part.line.status == "existing" and not bare:
        verdict = subject.advisory(
            f"{message}; it is an existing line, and an inspection item",
            remedy="at each inspection look for chafe, cracks and leaks over its whole length, and see that its restrictor is "
            f"in place; when the line or its gauge is next changed, {remedy}",
        )
    else:
        verdict = breach(subject, message, remedy=remedy)
    if leak is not None:
        verdict.value, verdict.limit, verdict.unit = litres_per_minute(leak.flow), 0.0, "L/min"
        verdict.margin = -verdict.value
    return verdict


def _effect(study: Study, leak: Leak, carrying: frozenset[Medium]) -> str:
    """The leak in numbers, and what it does to oil or air, as it is and without restrictors."""
    text = f"a break there at {show(leak.pressure, 'psi', 'pressure')} leaks {rate(leak.flow)}"
    if leak.restrictors and not same(leak.bare, leak.flow):
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


def _remedy(subject: Subject, leak: Leak | None, carrying: frozenset[Medium]) -> str:
    size = ""
    if leak is not None:
        psi = in_unit(leak.pressure, "psi", "pressure")
        fit = next((r for r in _ELECTRIC_RANGES_PSI if at_least(r, psi)), None)
        size = f" of {plain_number(fit)} psi range" if fit is not None else ""
    kind = "pressure" if len(carrying) != 1 else f"{next(iter(carrying)).split()[0]} pressure"
    port = taken_from(subject.study, subject.ident)
    return (
        f"fit an electric {kind} sender{size} on the engine side of the firewall, by a flexible hose behind a restrictor where "
        f"the line is taken off{f' ({port})' if port else ''}, and its indicator in the panel; take the line out of the cabin and cap "
        "each port it leaves there and in the firewall. If the line is part of the type design, name its approved data in a "
        "deviation"
    )


def _vapour(subject: Subject, zones: list[str], gauge: str) -> Verdict:
    most, _ = highest_pressure(subject.study, subject.ident)
    how = (
        f"at up to {most.text} above the cabin, so a break blows it in"
        if most is not None and most > 0
        else "it is at suction, so a break draws cabin air in"
    )
    return subject.advisory(
        f"line {subject.ident} brings fuel-air mixture into the {listed(zones)}{gauge}: {how}, and the line can hold liquid fuel "
        "after priming or a backfire",
        remedy="fit an electric manifold pressure sender on the engine side of the firewall, or let the line rise all the way to "
        "the gauge and share no fitting with the primer",
        source="inference from 14 CFR 23.1337(a) and 23.863; such lines are common in type designs",
    )
