"""What moves: flexible lengths to the engine, hose slack and straight ends, and tubes that are not strained."""

from __future__ import annotations

from collections.abc import Iterator

from ...analysis.fluid.facts import (
    FLAMMABLE,
    KIND,
    LENGTH,
    ROUTE,
    Part,
    carried,
    highest_pressure,
    lines,
    listed,
    runs,
    zones_of,
)
from ...analysis.study import Study
from ...graph import total_length
from ...model.fluid import FluidLine
from ...model.quantities import in_unit, plain_number
from ...physics.hoses import (
    LEAST_SLACK,
    MOST_SLACK,
    SHRINK_UNDER_PRESSURE,
    STRAIGHT_AT_END,
)
from ..verdicts import (
    Verdict,
    advisory,
    discrepancy,
    meets,
    undetermined,
)
from ..vocabulary import rule
from .part_23 import breach
from .ratings import hose_row

VIBRATES = "movement of the zone with the engine ('vibrates: yes' or 'no')"


@rule(
    "flexible-length",
    title="A line from the engine to the airframe is flexible where it leaves the engine",
    why="The engine rocks on its mounts. A rigid tube between it and the airframe works until its flare or its nut cracks: a "
    "rigid copper sensor line failed so in about three flight hours.",
    source="14 CFR 23.993(b), (c) (sister sections 27.993, 29.993); NTSB ERA22FA261",
    formula="a line with one end in a zone that moves with the engine and the other in one that does not is a hose",
    example="a 1/4 in tube from the oil gallery to the firewall: a hose of the same size replaces it",
    over="fluid_lines",
)
def flexible_length(study: Study) -> Iterator[Verdict]:
    """Every line that runs through more than one zone, or whose route is not known."""
    for part in runs(study):
        zones = zones_of(study, part.line)
        at, kind = (part.ident,), part.line.spec.kind
        if kind == "hose":
            yield meets(at, part.path, f"line {part.ident} is a hose")
            continue
        if zones is None:
            yield undetermined(at, part.path, ROUTE)
            continue
        moving = [study.model.zones[z].vibrates for z in zones]
        if len(zones) == 1 or set(moving) <= {False} or set(moving) == {True}:
            continue
        if None in moving and not {True, False} <= set(moving):
            unsaid = zones[moving.index(None)]
            yield undetermined(at, ("zones", unsaid), VIBRATES)
        elif kind is None:
            yield undetermined(at, part.path, KIND)
        else:
            yield _rigid(study, part, [z for z in zones if study.model.zones[z].vibrates], zones)


def _rigid(study: Study, part: Part, moving: list[str], zones: tuple[str, ...]) -> Verdict:
    spec, at = part.line.spec, (part.ident,)
    still = [z for z in zones if study.model.zones[z].vibrates is False]
    text = f"{spec.kind} {part.ident} is rigid from the {listed(moving)}, which moves with the engine, to the {listed(still)}"
    size = f" -{round(spec.outside_diameter / 0.0254 * 16)}" if spec.outside_diameter is not None else ""
    remedy = f"fit a hose{size} from the engine to the first fixed point, with 5 to 8 % slack and its far end clamped"
    if carried(study, part.ident) and not carried(study, part.ident) & FLAMMABLE:
        return advisory(at, part.path, f"{text}: it will crack and the reading is lost", remedy=remedy)
    return breach(study, at, part.path, text, remedy=remedy)


@rule(
    "hose-slack",
    title="A hose has 5 to 8 % slack",
    why="A hose shrinks by up to 4 % under pressure: one without slack pulls at its ends. One with much slack chafes.",
    source="FAA-H-8083-30 fluid lines chapter and NAVEDTRA 14105 (5 to 8 %); AC 43.13-1B figure 9-9 (+2 to -4 % under pressure)",
    formula="slack/(length - slack) from 5 % to 8 %; less than 4 % pulls tight",
    example="18 in between fittings: a hose of 18.9 to 19.44 in",
    over=lambda study: [p.ident for p in lines(study) if p.line.spec.kind == "hose"],
)
def hose_slack(study: Study) -> Iterator[Verdict]:
    """Every hose."""
    for part in lines(study):
        if part.line.spec.kind != "hose":
            continue
        at = (part.ident,)
        length, slack = total_length(part.line), part.line.slack
        lacking = [w for w, v in ((LENGTH, length), ("slack of the hose", slack)) if v is None]
        if length is None or slack is None:
            yield undetermined(at, part.path, lacking)
        elif slack >= length:
            yield discrepancy(
                at, (*part.path, "slack"), f"hose {part.ident} cannot have more slack than length"
            )
        else:
            yield _slack(study, part, length, float(slack))


def _slack(study: Study, part: Part, length: float, slack: float) -> Verdict:
    distance = length - slack
    share = 100 * slack / distance
    at, path = (part.ident,), (*part.path, "slack")
    text = f"hose {part.ident} has {plain_number(share)} % slack over {_inches(distance)}"
    remedy = (
        f"fit a hose of {_inches(distance * (1 + LEAST_SLACK))} to {_inches(distance * (1 + MOST_SLACK))}"
    )
    least, most = 100 * LEAST_SLACK, 100 * MOST_SLACK
    low = {"value": share, "limit": least, "margin": share - least, "unit": "%"}
    # A hair of tolerance: 18.9 in over 18 in is 5 % however it is rounded.
    if share < least - 0.01:
        working, _ = highest_pressure(study, part.ident)
        if share < 100 * SHRINK_UNDER_PRESSURE and working is not None and working > 0:
            return discrepancy(
                at,
                path,
                f"{text}, and shrinks by up to 4 % under pressure: it pulls tight",
                remedy=remedy,
                **low,
            )
        return advisory(at, path, f"{text}; 5 to 8 % is wanted", remedy=remedy, **low)
    if share > most + 0.01:
        high = {"value": share, "limit": most, "margin": most - share, "unit": "%"}
        return advisory(at, path, f"{text}; more than 8 % chafes unless it is held", remedy=remedy, **high)
    return meets(at, path, text, **low)


def _inches(metres: float) -> str:
    return f"{plain_number(in_unit(metres, 'in', 'length'))} in"


@rule(
    "line-straight-at-fitting",
    title="A line meets its fitting straight and without strain",
    why="A bend at the fitting, or a tube pulled into line by its nut, loads the flare until it cracks: oil-gauge lines did so "
    "at the firewall.",
    source="FAA AD 57-10-02; FAA-H-8083-30 fluid lines chapter; AC 43.13-1B 8-31c (at least one bend between rigid ends)",
    formula="hose: straight for two outside diameters at each end; tube: not strained, at least one bend",
    example="hose of 0.52 in outside diameter: 1.04 in straight at each end",
    over="fluid_lines",
)
def line_straight_at_fitting(study: Study) -> Iterator[Verdict]:
    """Every hose by its straight ends, every tube by strain and bends."""
    for part in runs(study):
        kind = part.line.spec.kind
        if kind == "hose":
            yield _hose_ends(part)
        elif kind == "tube":
            yield from _tube_ends(part)


def _hose_ends(part: Part) -> Verdict:
    straight, outer = part.line.straight_at_fittings, _outside_diameter(part.line)
    at = (part.ident,)
    if straight is None:
        return undetermined(at, part.path, "straight length of the line at its fittings")
    if outer is None:
        return undetermined(at, part.path, "outside diameter of the hose")
    got, need = in_unit(straight, "in", "length"), in_unit(STRAIGHT_AT_END * outer, "in", "length")
    numbers = {"value": got, "limit": need, "margin": got - need, "unit": "in"}
    path = (*part.path, "straight_at_fittings")
    text = f"hose {part.ident} is straight for {plain_number(got)} in at its fittings, two diameters being {plain_number(need)} in"
    if got >= need * 0.999:
        return meets(at, path, text, **numbers)
    if part.line.spec.outside_diameter is None:
        return undetermined(at, part.path, "outside diameter of the hose")
    return advisory(at, path, text, remedy="lengthen the hose, or turn the fitting with an elbow", **numbers)


def _outside_diameter(line: FluidLine) -> float | None:
    """Outside diameter in metres; that of MIL-H-8794 rubber hose, the thicker kind, where the hose does not say."""
    if line.spec.outside_diameter is not None:
        return float(line.spec.outside_diameter)
    row = hose_row(line)
    return row.outside_diameter if row is not None else None


def _tube_ends(part: Part) -> Iterator[Verdict]:
    at, line = (part.ident,), part.line
    if line.strained:
        yield discrepancy(
            at,
            (*part.path, "strained"),
            f"tube {part.ident} is pulled into line by its nut",
            remedy="bend a new tube that meets both fittings straight, or splice in a hose",
        )
    elif line.strained is None:
        yield undetermined(at, part.path, "strain of the tube at its nuts ('strained: yes' or 'no')")
    elif line.straight_at_fittings is not None and line.straight_at_fittings <= 0:
        yield discrepancy(
            at,
            (*part.path, "straight_at_fittings"),
            f"tube {part.ident} bends right at its fitting",
            remedy="leave a straight length behind the nut, or fit an elbow",
        )
    else:
        yield meets(at, (*part.path, "strained"), f"tube {part.ident} is not strained")
    if line.bends == 0:
        yield discrepancy(
            at,
            (*part.path, "bends"),
            f"tube {part.ident} runs straight between two rigid ends: nothing takes up growth or vibration",
            remedy="put at least one bend in it, or fit a hose",
        )
    elif line.bends is None:
        yield undetermined(at, part.path, "number of bends of the tube")
    else:
        yield meets(
            at, (*part.path, "bends"), f"tube {part.ident} has {line.bends} bend{'s' * (line.bends > 1)}"
        )
