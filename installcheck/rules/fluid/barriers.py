"""Fire: how a line crosses a barrier, and what lines and fittings bear in a fire zone."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

from ...analysis.fluid.facts import (
    FLAMMABLE,
    MEDIUM,
    ROUTE,
    Part,
    carried,
    lines,
    listed,
    media,
    zones_of,
)
from ...analysis.study import Study
from ...document.source import DocPath
from ...model.fluid import Fitting, FluidLine
from ..verdicts import (
    Verdict,
    advisory,
    meets,
    undetermined,
)
from ..vocabulary import rule
from .part_23 import breach

Bears = Literal["fire", "aluminium", "nothing", "unknown"]

_COPPER_BASE = frozenset(("brass", "copper", "bronze"))
_STEEL = frozenset(("steel", "stainless steel"))
FIRE_ZONE = "fire rating of the zone ('fire_zone: yes' or 'no')"
_MATERIAL = "material of the fitting, or its fire rating ('fireproof')"


def line_bears(line: FluidLine) -> Bears:
    """What a line bears of fire: as stated, by its sleeve, or by its metal."""
    spec = line.spec
    if spec.fire in ("fire resistant", "fireproof") or line.sleeve:
        return "fire"
    if spec.material is None:
        return "unknown" if spec.fire is None else "nothing"
    if spec.material.endswith("aluminium"):
        return "aluminium"
    return (
        "fire" if spec.material in ("304 stainless", "copper", "brass") and spec.fire is None else "nothing"
    )


def fitting_bears(fitting: Fitting) -> Bears:
    """What a fitting bears of fire: as stated, else by its material."""
    spec = fitting.spec
    if spec.fireproof:
        return "fire"
    if spec.material == "aluminium":
        return "aluminium"
    if spec.material is None:
        return "unknown" if spec.fireproof is None else "nothing"
    return "fire" if spec.material in _STEEL | _COPPER_BASE else "nothing"


@rule(
    "line-through-barrier",
    title="A line crosses a firewall by a fireproof fitting",
    why="An aluminium fitting or a soft grommet melts out of the firewall in a minute and opens the way for fire and for what "
    "the line holds.",
    source="14 CFR 23.1191 as before amendment 23-64 (recalled; steel or copper-base fittings need no test); same substance in "
    "25.1191 and 125.145",
    formula="material of the fitting: steel or copper base, or stated fireproof (2000 degF for 15 min, AC 20-135)",
    example="an aluminium bulkhead union in the firewall: a steel AN832 of the same size replaces it",
    over="fluid_lines",
)
def line_through_barrier(study: Study) -> Iterator[Verdict]:
    """Every crossing of a line, every fitting fixed in a barrier, and every line that must cross but does not say how."""
    crossed: set[tuple[str, str]] = set()
    named: set[str] = set()
    for barrier, crossings in study.graph.crossings.items():
        for crossing in crossings:
            if crossing.section != "fluid_lines":
                continue
            crossed.add((crossing.ident, barrier))
            if crossing.fitting in study.model.fittings:
                named.add(str(crossing.fitting))
            yield _crossing(study, crossing.ident, barrier, crossing.through, crossing.fitting, crossing.path)
    for ident, fitting in study.model.fittings.items():
        if fitting.barrier is not None and ident not in named:
            yield _fixed(study, (ident,), fitting.barrier, ident, ("fittings", ident))
    for part in lines(study, capillaries=True):
        zones = zones_of(study, part.line) or ()
        for barrier, wall in study.model.barriers.items():
            if wall.stops_fire and set(wall.between) <= set(zones) and (part.ident, barrier) not in crossed:
                yield undetermined(
                    (part.ident, barrier),
                    part.path,
                    "barrier the line crosses in its route, and the fitting it crosses by",
                )


def _crossing(
    study: Study, ident: str, barrier: str, through: str | None, fitting: str | None, path: DocPath
) -> Verdict:
    at = (ident, barrier)
    if fitting is not None and fitting in study.model.fittings:
        return _fixed(study, (ident, barrier, fitting), barrier, fitting, path)
    wall = study.model.barriers[barrier]
    if through is None:
        return undetermined(at, path, "fitting, grommet or hole the line crosses the barrier by")
    if not wall.stops_fire:
        if through == "open hole":
            return advisory(
                at,
                path,
                f"line {ident} passes an open hole in the {barrier}: its edge chafes it",
                remedy="pass the hole in a grommet or hold the line there in a cushioned clamp",
                source="practice: grommet or cushioned clamp at a bulkhead, US Army AL0907",
            )
        return meets(at, path, f"line {ident} crosses the {barrier} by a {through}")
    if through == "bulkhead fitting":
        return undetermined(at, path, "fitting the line crosses the barrier by, with its material")
    if through in ("sealed hole", "conduit"):
        return undetermined(at, path, "seal of the hole in the barrier, and its fire rating")
    if through == "fireproof grommet":
        return _grommet(study, ident, barrier, path)
    return breach(
        study,
        at,
        path,
        f"line {ident} crosses the {barrier} by {_article(through)}, which does not stop fire",
        remedy="cross by a steel bulkhead fitting held by its nut on both faces",
    )


def _article(word: str) -> str:
    return f"an {word}" if word[0] in "aeiou" else f"a {word}"


def _grommet(study: Study, ident: str, barrier: str, path: DocPath) -> Verdict:
    line = study.model.fluid_lines[ident]
    bears = line_bears(line)
    at = (ident, barrier)
    if bears == "unknown":
        return undetermined(at, path, "material of the line, or its fire rating")
    if bears == "fire":
        return meets(at, path, f"line {ident} crosses the {barrier} by a fireproof grommet")
    return breach(
        study,
        at,
        path,
        f"line {ident} crosses the {barrier} by a fireproof grommet, but is itself of {line.spec.material or 'no fire rating'} and "
        "burns out of it",
        remedy="cross by a steel bulkhead fitting, or pass the grommet with a steel tube",
    )


def _fixed(study: Study, at: tuple[str, ...], barrier: str, ident: str, path: DocPath) -> Verdict:
    fitting = study.model.fittings[ident]
    if not study.model.barriers[barrier].stops_fire:
        return meets(at, path, f"{barrier} is crossed by the fitting {ident}")
    bears = fitting_bears(fitting)
    if bears == "fire":
        what = fitting.spec.material or "fireproof"
        return meets(at, path, f"{barrier} is crossed by the {what} fitting {ident}")
    if bears == "unknown":
        return undetermined(at, ("fittings", ident), _MATERIAL)
    size = f" {fitting.size}" if fitting.size else ""
    return breach(
        study,
        at,
        ("fittings", ident),
        f"{barrier} is crossed by the fitting {ident} of {fitting.spec.material or 'material'}, which is not fireproof",
        remedy=f"fit a steel bulkhead fitting{size} in its place",
    )


@rule(
    "fire-zone-line",
    title="A line with flammable fluid in a fire zone is at least fire resistant",
    why="A bare rubber hose burns through in seconds and feeds the fire with what it holds.",
    source="14 CFR 23.1183(a) (recalled; same substance in 33.17 and 125.157); fire resistant: AC 20-135, 14 CFR 1.1",
    formula="stated rating, fire sleeve, or metal: steel and copper base bear it; aluminium is at odds, see the message",
    example="an unsleeved MIL-H-8794 rubber hose on the engine: a TSO-C53a type D assembly replaces it",
    over="fluid_lines",
)
def fire_zone_line(study: Study) -> Iterator[Verdict]:
    """Every line that carries what burns."""
    for part in lines(study):
        told = carried(study, part.ident)
        if told and not told & FLAMMABLE:
            continue
        zones = zones_of(study, part.line)
        bears = line_bears(part.line)
        at = (part.ident,)
        if bears == "fire":
            yield meets(at, part.path, f"line {part.ident} is fire resistant as fitted")
        elif zones is None:
            yield undetermined(at, part.path, ROUTE)
        elif not (burning := [z for z in zones if study.model.zones[z].fire_zone]):
            unsaid = next((z for z in zones if study.model.zones[z].fire_zone is None), None)
            if unsaid is not None:
                yield undetermined(at, ("zones", unsaid), FIRE_ZONE)
            else:
                yield meets(at, part.path, f"line {part.ident} runs in no fire zone")
        elif not told:
            yield undetermined(at, part.path, MEDIUM)
        else:
            yield _in_fire(study, part, bears, listed(burning), listed(sorted(told & FLAMMABLE)))


def _in_fire(study: Study, part: Part, bears: Bears, zone: str, holds: str) -> Verdict:
    at, spec = (part.ident,), part.line.spec
    if bears == "unknown":
        return undetermined(at, part.path, "material of the line, its fire rating or its sleeve")
    if bears == "aluminium":
        return advisory(
            at,
            part.path,
            f"line {part.ident} of {spec.material} carries {holds} in the fire zone {zone}: the words of 14 CFR 1.1 let aluminium "
            "pass as fire resistant, but it melts near 1100 degF, far below the 2000 degF flame of AC 20-135",
            remedy="use stainless steel tube of the same size, or a fire-resistant hose assembly",
        )
    what = spec.kind or "line"
    message = f"{what} {part.ident} of {spec.material or 'no rating'} carries {holds} in the fire zone {zone} with neither rating nor sleeve"
    remedy = "fit a fire-resistant hose assembly (TSO-C53a type C or D), or a fire sleeve to its full length"
    if holds == "fuel-air mixture":
        return advisory(at, part.path, message, remedy=remedy)
    return breach(study, at, part.path, message, remedy=remedy)


@rule(
    "fire-zone-fitting",
    title="A fitting with flammable fluid in a fire zone is at least fire resistant",
    why="The fitting goes first: it is small, heated from all sides, and what it lets out feeds the fire.",
    source="14 CFR 23.1183(a) (recalled; same substance in 33.17 and 125.157)",
    formula="material: steel and copper base bear fire, plastic does not; aluminium is at odds, as for lines",
    example="a plastic tee in an oil line on the engine: a steel tee replaces it",
    over="fittings",
)
def fire_zone_fitting(study: Study) -> Iterator[Verdict]:
    """Every fitting on the fire side that a flammable liquid reaches."""
    flooded = media(study)
    for ident, fitting in study.model.fittings.items():
        if fitting.barrier is not None:
            continue
        nodes = {n for e in study.graph.by_thing.get(("fittings", ident), ()) for n in (e.a, e.b)}
        holds = {m for n in nodes for m in flooded.at(n)} & FLAMMABLE
        if not holds:
            continue
        at, path, bears = (ident,), ("fittings", ident), fitting_bears(fitting)
        zone = study.model.zones.get(fitting.zone or "")
        if bears == "fire":
            yield meets(at, path, f"fitting {ident} is of {fitting.spec.material or 'fireproof make'}")
        elif zone is None:
            yield undetermined(at, path, "zone of the fitting")
        elif zone.fire_zone is None:
            yield undetermined(at, ("zones", str(fitting.zone)), FIRE_ZONE)
        elif not zone.fire_zone:
            yield meets(at, path, f"fitting {ident} stands in no fire zone")
        elif bears == "unknown":
            yield undetermined(at, path, _MATERIAL)
        else:
            text = f"fitting {ident} of {fitting.spec.material} holds {listed(sorted(holds))} in the fire zone {fitting.zone}"
            remedy = "fit the same fitting in steel"
            if bears == "aluminium" or holds == {"fuel-air mixture"}:
                yield advisory(
                    at,
                    path,
                    f"{text}; aluminium melts near 1100 degF" if bears == "aluminium" else text,
                    remedy=remedy,
                )
            else:
                yield breach(study, at, path, text, remedy=remedy)
