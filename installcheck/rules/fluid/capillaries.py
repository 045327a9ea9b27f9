"""The capillary of a sealed temperature system as a line: whole, long enough, not kinked, its excess coiled."""

from __future__ import annotations

from collections.abc import Iterator

from ...analysis.fluid.facts import Part, lines, sealed
from ...analysis.study import Study
from ...graph import total_length
from ...model.devices import Sender
from ...model.installation import split_end
from ...model.quantities import in_unit, plain_number
from ...physics.capillaries import coil_turns, least_bend_radius_m, spare_length_m
from ..verdicts import (
    Verdict,
    advisory,
    discrepancy,
    meets,
    undetermined,
)
from ..vocabulary import rule

_CLIPPED_M = 0.15
"""Spare length that needs no coil: about the slack at the gauge."""
_SYSTEMS = frozenset(("vapour-pressure bulb", "liquid-filled bulb"))


def _capillaries(study: Study) -> Iterator[tuple[Part, str | None, Sender | None]]:
    """Each capillary with the bulb it is made on."""
    for part in lines(study, capillaries=True):
        if not (part.is_capillary or sealed(study, part.ident)):
            continue
        bulb = next(
            (
                i
                for i in (split_end(e)[0] for e in (part.line.from_, part.line.to))
                if i in study.model.senders and study.model.senders[i].spec.principle in _SYSTEMS
            ),
            None,
        )
        yield part, bulb, study.model.senders[bulb] if bulb is not None else None


@rule(
    "capillary-whole",
    title="A capillary runs whole from bulb to gauge, and is long enough",
    why="Bulb, capillary and gauge are one sealed system. It is never cut, joined or lengthened: a cut is the end of it.",
    source="an industrial capillary manual: an interruption is a permanent failure; length of the system as made",
    formula="spare = length as made - route; no fitting between bulb and gauge",
    example="a 10 ft capillary on a route of 11 ft 6 in is 18 in short",
    over=lambda study: [p.ident for p, _, _ in _capillaries(study)],
)
def capillary_whole(study: Study) -> Iterator[Verdict]:
    """Every capillary."""
    for part, bulb, sender in _capillaries(study):
        at = (part.ident, bulb) if bulb is not None else (part.ident,)
        joined = [
            i for i in (split_end(e)[0] for e in (part.line.from_, part.line.to)) if i in study.model.fittings
        ]
        if joined:
            yield discrepancy(
                (part.ident, *joined),
                part.path,
                f"capillary {part.ident} ends at the fitting {joined[0]}: it is never cut or joined",
                remedy="fit a system whose capillary is long enough, and pass the barrier by its own split grommet",
            )
            continue
        if sender is None or bulb is None:
            yield undetermined(at, part.path, "bulb the capillary is made on")
            continue
        made, route = sender.spec.capillary_length, total_length(part.line)
        missing = [
            w
            for w, v in (("length of the capillary as made", made), ("length of the line", route))
            if v is None
        ]
        if made is None or route is None or made <= 0:
            yield undetermined(at, part.path, missing or ["length of the capillary as made"])
            continue
        yield _length(part, at, float(made), route + float(part.line.coiled or 0.0))


def _length(part: Part, at: tuple[str, ...], made: float, route: float) -> Verdict:
    spare = in_unit(spare_length_m(made, route), "in", "length")
    need, have = in_unit(route, "in", "length"), in_unit(made, "in", "length")
    numbers = {"value": have, "limit": need, "margin": spare, "unit": "in"}
    if spare < 0:
        return discrepancy(
            at,
            part.path,
            f"capillary {part.ident} is {plain_number(-spare)} in too short for its way of {plain_number(need)} in",
            remedy=f"fit a system with a capillary of {plain_number(need)} in or more; it cannot be spliced",
            **numbers,
        )
    return meets(
        at, part.path, f"capillary {part.ident} is whole and has {plain_number(spare)} in to spare", **numbers
    )


@rule(
    "capillary-bend",
    title="A capillary is not bent or coiled tighter than its limit",
    why="A kink closes the bore or cracks the tube, and the gauge stays where it was.",
    source="limit of the part; else an industrial capillary manual (50 mm for stainless, 5 mm for copper), 50 mm by default",
    formula="bend radius and coil radius >= least radius; turns = spare/(2 pi r)",
    example="36 in of excess on a 50 mm radius: 2.9 turns",
    over=lambda study: [p.ident for p, _, _ in _capillaries(study)],
)
def capillary_bend(study: Study) -> Iterator[Verdict]:
    """Every capillary, by its bends and by the coil of what is left over."""
    for part, bulb, sender in _capillaries(study):
        at = (part.ident, bulb) if bulb is not None else (part.ident,)
        own = sender.spec.min_bend_radius if sender is not None else None
        least = own if own is not None else part.line.spec.min_bend_radius
        limit = float(least) if least is not None else _least(part)
        if part.line.bend_radius is None:
            yield undetermined(at, part.path, "smallest bend radius of the line")
        else:
            yield _radius(part, at, float(part.line.bend_radius), limit, "is bent to", "bend_radius")
        excess = _excess(part, sender)
        if excess is None or excess <= _CLIPPED_M:
            continue
        if part.line.coil_radius is None:
            yield undetermined(at, part.path, "radius of the coil that takes up the spare capillary")
            continue
        turns = coil_turns(excess, float(part.line.coil_radius))
        how = f"takes up {plain_number(in_unit(excess, 'in', 'length'))} in in {plain_number(turns, 2)} turns of"
        yield _radius(part, at, float(part.line.coil_radius), limit, how, "coil_radius")


def _excess(part: Part, sender: Sender | None) -> float | None:
    if part.line.coiled is not None:
        return float(part.line.coiled)
    made = sender.spec.capillary_length if sender is not None else None
    route = total_length(part.line)
    return made - route if made is not None and route is not None else None


def _least(part: Part) -> float:
    made = {"304 stainless": "stainless steel", "copper": "copper"}.get(
        part.line.spec.material or "", "default"
    )
    return least_bend_radius_m(made)


def _radius(part: Part, at: tuple[str, ...], radius: float, limit: float, how: str, field: str) -> Verdict:
    got, need = in_unit(radius, "mm", "length"), in_unit(limit, "mm", "length")
    path = (*part.path, field)
    text = (
        f"capillary {part.ident} {how} {plain_number(got)} mm radius, {plain_number(need)} mm being the least"
    )
    numbers = {"value": got, "limit": need, "margin": got - need, "unit": "mm"}
    if radius >= limit * 0.999:
        return meets(at, path, text, **numbers)
    # No aircraft figure was found: the industrial one is good practice.
    return advisory(
        at, path, text, remedy=f"lead it in loops of {plain_number(need)} mm radius or more", **numbers
    )
