"""How a line runs: its bends and its supports."""

from __future__ import annotations

from collections.abc import Iterator

from ...analysis.fluid.facts import KIND, Part, runs
from ...analysis.study import Study
from ...graph import total_length
from ...model.fluid import FluidLine
from ...model.quantities import in_unit, plain_number
from ...physics.hoses import SUPPORT_SPACING
from ...physics.tubes import least_bend_radius
from ...physics.vibration import support_spacing, supports_between
from ..verdicts import (
    Verdict,
    advisory,
    discrepancy,
    meets,
    undetermined,
)
from ..vocabulary import rule
from .ratings import hose_row, is_mil_h_8794, metal_of

_SMALLEST_IN, _LARGEST_IN = 0.1245, 1.0005
"""Inch: range of the support table."""
DIAMETER = "outside diameter and material of the line, or its own limit"


@rule(
    "line-bend",
    title="A hose or tube is not bent tighter than its limit",
    why="A tube bent too tight flattens and cracks; a hose kinks, and its lining separates.",
    source="hose: its own limit, AC 43.13-1B table 9-3; tube: AC 43.13-1B table 9-2 (recalled)",
    formula="smallest bend radius >= least radius of the part; to the centreline for a tube",
    example="1/4 in aluminium tube bent to 3/8 in radius: 9/16 in is the least",
    over="fluid_lines",
)
def line_bend(study: Study) -> Iterator[Verdict]:
    """Every hose and every tube with a bend."""
    for part in runs(study):
        line, at = part.line, (part.ident,)
        if line.spec.kind is None:
            yield undetermined(at, part.path, KIND)
            continue
        if line.bends == 0 and line.bend_radius is None:
            continue
        least, firm = _least_radius(line)
        if line.bend_radius is None:
            yield undetermined(at, part.path, "smallest bend radius of the line")
        elif least is None:
            told = metal_of(line) is not None and line.spec.outside_diameter is not None
            more = "" if told else ", or its outside diameter and material"
            yield undetermined(at, part.path, f"least bend radius of the part ('min_bend_radius'){more}")
        else:
            yield _bend(part, float(line.bend_radius), least, firm)


def _least_radius(line: FluidLine) -> tuple[float | None, bool]:
    """Least bend radius in metres, and whether it is the part's own limit or a verified table."""
    spec = line.spec
    if spec.min_bend_radius is not None:
        return float(spec.min_bend_radius), spec.kind == "hose"
    if spec.kind == "hose":
        row = hose_row(line) if is_mil_h_8794(line) else None
        return (row.bend_radius, True) if row is not None else (None, False)
    metal = metal_of(line)
    if metal is None or spec.outside_diameter is None:
        return None, False
    return least_bend_radius(float(spec.outside_diameter), metal.family), False


def _bend(part: Part, radius: float, least: float, firm: bool) -> Verdict:
    got, need = in_unit(radius, "in", "length"), in_unit(least, "in", "length")
    at, path = (part.ident,), (*part.path, "bend_radius")
    text = f"{part.line.spec.kind} {part.ident} is bent to {plain_number(got)} in, {plain_number(need)} in being the least"
    numbers = {"value": got, "limit": need, "margin": got - need, "unit": "in"}
    if radius >= least * 0.999:
        return meets(at, path, text, **numbers)
    judge = discrepancy if firm else advisory
    return judge(
        at, path, text, remedy=f"bend to {plain_number(need)} in or more, or turn by an elbow", **numbers
    )


@rule(
    "line-supports",
    title="A line is held often enough, and by the airframe or engine it runs on",
    why="A long free span shakes at a frequency the engine drives, and cracks at the flare.",
    source="aluminium: AC 43.13-1B chapter 9 (recalled); steel: MIL-H-8891A table II; hose: NAVEDTRA 14105 (24 in)",
    formula="distance between supports <= table by outside diameter; copper 0.84 of aluminium; hose 24 in",
    example="60 in of 1/4 in aluminium tube: at most 13.5 in apart, 4 clamps between its fittings",
    over="fluid_lines",
)
def line_supports(study: Study) -> Iterator[Verdict]:
    """Every hose and tube longer than one span."""
    for part in runs(study):
        line, at = part.line, (part.ident,)
        limit, firm = _span(line)
        length = total_length(line)
        if limit is None:
            if length is None or length > _shortest_span():
                yield undetermined(at, part.path, DIAMETER)
            continue
        if length is not None and length <= limit:
            yield meets(
                at,
                part.path,
                f"line {part.ident} is {_inches(length)} in long and needs no support between its fittings",
            )
        elif line.supported_by in ("ties", "tape", "fluid line"):
            yield advisory(
                at,
                (*part.path, "supported_by"),
                f"line {part.ident} is held by {line.supported_by}",
                remedy="hold it in cushioned clamps on structure",
            )
        elif line.support_spacing is None:
            yield undetermined(at, part.path, "distance between supports of the line")
        else:
            yield _supports(part, float(line.support_spacing), limit, firm, length)


def _shortest_span() -> float:
    """Metres of the smallest span of the table, for the thinnest copper tube: no shorter line needs a support."""
    return support_spacing(0.125 * 0.0254, "copper")


def _span(line: FluidLine) -> tuple[float | None, bool]:
    """Greatest distance between supports in metres, and whether the source is verified."""
    spec = line.spec
    if spec.support_spacing is not None:
        return float(spec.support_spacing), spec.kind == "hose"
    if spec.kind == "hose":
        return SUPPORT_SPACING, True
    metal = metal_of(line)
    if metal is None or spec.outside_diameter is None:
        return None, False
    if not _SMALLEST_IN <= in_unit(spec.outside_diameter, "in", "length") <= _LARGEST_IN:
        return None, False
    return support_spacing(float(spec.outside_diameter), metal.family), metal.family == "steel"


def _supports(part: Part, spacing: float, limit: float, firm: bool, length: float | None) -> Verdict:
    got, most = in_unit(spacing, "in", "length"), in_unit(limit, "in", "length")
    at, path = (part.ident,), (*part.path, "support_spacing")
    text = f"line {part.ident} is held every {plain_number(got)} in, {plain_number(most)} in being the most"
    numbers = {"value": got, "limit": most, "margin": most - got, "unit": "in"}
    if spacing <= limit * 1.001:
        return meets(at, path, text, **numbers)
    clamps = f"{supports_between(length, limit)} clamps" if length is not None else "clamps"
    judge = discrepancy if firm else advisory
    return judge(
        at,
        path,
        text,
        remedy=f"put {clamps} between its fittings, at most {plain_number(most)} in apart",
        **numbers,
    )


def _inches(metres: float) -> str:
    return plain_number(in_unit(metres, "in", "length"))
