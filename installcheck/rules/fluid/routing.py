"""How a line runs: its bends and its supports."""

from __future__ import annotations

from collections.abc import Set

from ...analysis import missing
from ...analysis.fluid.facts import Part, carried, runs
from ...analysis.fluid.stock import hose_row, is_mil_h_8794, metal_of
from ...analysis.study import Study
from ...graph import total_length
from ...model.comparing import at_least, at_most, same
from ...model.fluid import FluidLine
from ...model.installation import split_end
from ...model.quantities import in_unit, plain_number
from ...physics.hoses import SUPPORT_SPACING
from ...physics.tubes import least_bend_radius
from ...physics.vibration import support_spacing, supports_between
from ..verdicts import Verdict
from ..vocabulary import Subject, rule

_SMALLEST_M, _LARGEST_M, _LARGEST_STEEL_M = 0.125 * 0.0254, 1.0 * 0.0254, 1.5 * 0.0254
"""Outside diameters of the support table."""
_SEEN_STEEL_M = 0.25 * 0.0254
"""Steel tube from which the table was seen in the specification; below it is recalled."""
_CARRIED = frozenset(("union", "tee", "cross"))
"""Fittings that hang on the tube between its clamps, unless they are fixed in a wall or screwed into something."""
_HALF_INCH_M, _HALF_INCH_FUEL_M = 0.5 * 0.0254, 16 * 0.0254
"""Half-inch rigid fuel line and its distance: an examination key, which is stricter than either table; the safer is advised."""


@rule(
    "line-bend",
    title="A hose or tube is not bent tighter than its limit",
    why="A tube bent too tight flattens and cracks; a hose kinks, and its lining separates.",
    source="hose: its own limit, AC 43.13-1B table 9-3; tube: AC 43.13-1B table 9-2 (recalled)",
    formula="smallest bend radius >= least radius of the part; to the centreline for a tube",
    example="1/4 in aluminium tube bent to 3/8 in radius: 9/16 in is the least",
    over=runs,
)
def line_bend(study: Study, subject: Subject, part: Part) -> Verdict | None:
    """A hose, or a tube with a bend."""
    line = part.line
    if line.spec.kind is None:
        return subject.lacks(missing.LINE_KIND)
    if line.bends == 0 and line.bend_radius is None:
        return None
    if line.bend_radius is None:
        return subject.lacks(missing.LINE_BEND)
    least, firm = _least_radius(line)
    if line.spec.min_bend_radius is None and study.document.declared_unknown((*part.path, "min_bend_radius")):
        return subject.lacks(missing.LINE_LEAST_BEND)
    if least is None:
        told = metal_of(line) is not None and line.spec.outside_diameter is not None
        return subject.lacks(missing.LINE_LEAST_BEND if told else missing.LINE_LEAST_BEND_OR_SIZE)
    got, need = in_unit(line.bend_radius, "in", "length"), in_unit(least, "in", "length")
    return subject.field("bend_radius").at_least(
        got,
        need,
        "in",
        f"{line.spec.kind} {part.ident} is bent to {plain_number(got)} in, {plain_number(need)} in being the least",
        remedy=f"bend to {plain_number(need)} in or more, or turn by an elbow",
        practice=not firm,
    )


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


@rule(
    "line-supports",
    title="A line is held often enough, and by the airframe or engine it runs on",
    why="A long free span shakes at a frequency the engine drives, and cracks at the flare.",
    source="steel from 1/4 in, a fifth less with a union or tee: MIL-H-8891A table II; hose: AC 43.13-1B 9-30(d)(3) (24 in); "
    "aluminium and smaller steel: recalled; half-inch fuel line 16 in: an examination key (second-hand)",
    formula="distance between supports <= table by outside diameter, 0.8 of it where the tube carries a union or tee; copper 0.84 "
    "of aluminium; hose 24 in",
    example="60 in of 1/4 in aluminium tube: at most 13.5 in apart, 4 clamps between its fittings",
    over=runs,
)
def line_supports(study: Study, subject: Subject, part: Part) -> Verdict | None:
    """A hose or tube longer than one span, or of unknown length."""
    line, length = part.line, total_length(part.line)
    carries = _carries(study, line)
    limit, firm = _span(line, carries, carried(study, part.ident))
    if limit is None:
        short = length is not None and at_most(length, _shortest_span())
        return None if short else subject.lacks(missing.LINE_SIZE)
    if length is not None and at_most(length, limit):
        return subject.meets(
            f"line {part.ident} is {_inches(length)} in long and needs no support between its fittings"
        )
    if line.supported_by in ("ties", "tape", "fluid line"):
        return subject.field("supported_by").advisory(
            f"line {part.ident} is held by {line.supported_by}",
            remedy="hold it in cushioned clamps on structure",
        )
    if line.support_spacing is None:
        return subject.lacks(missing.LINE_SUPPORT_SPACING)
    got, most = in_unit(line.support_spacing, "in", "length"), in_unit(limit, "in", "length")
    with_it = f" with {carries} on it" if carries and limit < (_span(line, "", set())[0] or limit) else ""
    clamps = f"{supports_between(length, limit)} clamps" if length is not None else "clamps"
    return subject.field("support_spacing").at_most(
        got,
        most,
        "in",
        f"line {part.ident} is held every {plain_number(got)} in, {plain_number(most)} in being the most{with_it}",
        remedy=f"put {clamps} between its fittings, at most {plain_number(most)} in apart",
        practice=not firm,
    )


def _shortest_span() -> float:
    """Metres of the smallest span of the table, for the thinnest copper tube: no shorter line needs a support."""
    return support_spacing(_SMALLEST_M, "copper")


def _carries(study: Study, line: FluidLine) -> str:
    """A union or tee that hangs on the line; empty if none does."""
    for end in (line.from_, line.to):
        ident = split_end(end)[0]
        fitting = study.model.fittings.get(ident)
        if fitting is None or fitting.spec.kind not in _CARRIED:
            continue
        if fitting.barrier is None and fitting.screwed_into is None:
            return ident
    return ""


def _span(line: FluidLine, carries: str, media: Set[str]) -> tuple[float | None, bool]:
    """Greatest distance between supports in metres, and whether the source is verified.

    ``carries`` is a fitting that hangs on the line, ``media`` what flows in it.
    """
    spec = line.spec
    if spec.support_spacing is not None:
        return float(spec.support_spacing), spec.kind == "hose"
    if spec.kind == "hose":
        return SUPPORT_SPACING, True
    metal = metal_of(line)
    if metal is None or spec.outside_diameter is None:
        return None, False
    diameter = float(spec.outside_diameter)
    steel = metal.family == "steel"
    if not (at_least(diameter, _SMALLEST_M) and at_most(diameter, _LARGEST_STEEL_M if steel else _LARGEST_M)):
        return None, False
    spacing = support_spacing(diameter, metal.family, bool(carries))
    if "fuel" in media and same(diameter, _HALF_INCH_M) and not at_most(spacing, _HALF_INCH_FUEL_M):
        return _HALF_INCH_FUEL_M, False
    return spacing, steel and at_least(diameter, _SEEN_STEEL_M)


def _inches(metres: float) -> str:
    return plain_number(in_unit(metres, "in", "length"))
