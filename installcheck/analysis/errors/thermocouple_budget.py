"""Thermocouple indications: what the pointer shows at each operating point, and the error by cause."""

from __future__ import annotations

from collections.abc import Iterator

from ...graph.edges import Edge
from ...model.fields import ThermocoupleType
from ...physics.scale import OffScaleError, Side
from ...physics.thermocouple_limits import extension_limit_mv, limit_of_error_c, limits
from ...physics.thermocouple_wire import TABLE_DOUBT
from ...physics.thermocouples import seebeck_mv_per_c
from .. import missing
from ..circuit.leads import Ohms
from ..missing import Missing
from ..study import Point, Study, once
from ..thermocouple.circuits import Loop, loop_numbered, loops
from ..thermocouple.grounds import ground_offset, leg_ground, leg_grounded, tip_grounded, with_offset
from ..thermocouple.groups import group_of
from ..thermocouple.points import true_values, unit_of
from ..thermocouple.readings import (
    Emf,
    Shown,
    external_ohms,
    measured_ohms,
    piece_ohms,
    read_scale,
    right_emf,
    source_emf,
    through_resistance,
)
from .error_budget import Cause, ErrorBudget

_STANDARDS = {
    "standard": ("ASTM E230", "standard"),
    "special": ("ASTM E230", "special"),
    "IEC class 1": ("IEC 60584-1", "class 1"),
    "IEC class 2": ("IEC 60584-1", "class 2"),
}
_EVEN_K = 1.0
"""A lead whose ends are nearer than this in temperature makes no emf worth a tolerance."""
_NOTHING_K = 1e-6


@once
def thermocouple_budgets(study: Study) -> list[ErrorBudget]:
    """A budget for each thermocouple indication at each operating point; one for each probe of an averaged input."""
    return list(_budgets(study))


def _budgets(study: Study) -> Iterator[ErrorBudget]:
    for number in range(len(loops(study))):
        yield from _of_loop(study, number)


@once
def _of_loop(study: Study, number: int) -> tuple[ErrorBudget, ...]:
    """The budgets of one circuit, by its number, at all points."""
    loop = loop_numbered(study, number)
    return tuple(
        thermocouple_budget(study, loop, point, true_c) for point, true_c in true_values(study, loop)
    )


def thermocouple_budget(study: Study, loop: Loop, point: Point, true_c: float) -> ErrorBudget:
    """The budget of one indication at one operating point with its junction at ``true_c`` degC."""
    scale = loop.spec.thermocouple
    if scale is None:
        return _made(study, loop, point, true_c, Shown(None, missing=(missing.INDICATOR_COUPLE,)), ())
    ohms = external_ohms(study, loop, point)
    real = source_emf(study, loop, point, true_c)
    shown, causes = _ladder(study, loop, point, true_c, scale, ohms, real)
    if shown.c is None:
        return _made(study, loop, point, true_c, shown, ())
    dial = loop.spec.scale
    if dial is not None and not dial.lowest <= shown.c <= dial.highest:
        side: Side = "below" if shown.c < dial.lowest else "above"
        return _made(study, loop, point, true_c, Shown(None, side, shown.missing), tuple(causes))
    lacking = list(shown.missing)
    causes += _tolerances(study, loop, point, true_c, shown.c, scale, ohms, real, lacking)
    return _made(study, loop, point, true_c, Shown(shown.c, missing=tuple(lacking)), tuple(causes))


def _made(
    study: Study, loop: Loop, point: Point, true_c: float, shown: Shown, causes: tuple[Cause, ...]
) -> ErrorBudget:
    return ErrorBudget(
        loop.indication.name,
        loop.probe_id,
        loop.measure,
        point.name,
        loop.indication.path,
        "temperature",
        unit_of(study, loop),
        true_c,
        shown.c,
        causes,
        shown.beyond or "",
        tuple(dict.fromkeys(shown.missing)),
    )


def _ladder(
    study: Study, loop: Loop, point: Point, true_c: float, scale: ThermocoupleType, ohms: Ohms, real: Emf
) -> tuple[Shown, list[Cause]]:
    """The reading with one cause more at each step; what a step adds is that cause's share. ``real`` is the emf as wired."""
    even = all(one.with_right_metal("joint") == one for one in group_of(study, loop))
    rungs: list[tuple[str, Emf, bool]] = [
        ("probe and indicator of different couples", right_emf(study, loop, point, true_c), True),
        (
            "metal and polarity of the lead",
            real if even else source_emf(study, loop, point, true_c, "joint"),
            True,
        ),
        ("metal of a joint with unequal ends", real, True),
        ("reference junction", real, False),
    ]
    lacking: list[Missing] = list(real.missing)
    lacking += _unsaid_grounds(study, loop)
    offset = ground_offset(study, loop, point)
    if offset is not None:
        lacking += offset.missing
        real = with_offset(real, offset)
        rungs.append(("ground offset of the couple", real, False))
    if loop.spec.compensation is None:
        lacking.append(missing.INDICATOR_REFERENCE)
    elif loop.spec.compensation == "none" and loop.spec.reference_temperature is None:
        lacking.append(missing.INDICATOR_SCALE_REFERENCE)
    inner = loop.spec.inner_resistance
    moving = loop.spec.principle == "moving-coil thermocouple"
    calibrated = not moving or loop.spec.loop_resistance is not None
    if moving and not calibrated:
        lacking.append(missing.INDICATOR_LOOP_RESISTANCE)
    if inner is not None and calibrated:
        for name, ohm in (("lead resistance", ohms.cold), ("lead heating", ohms.hot)):
            if ohm is not None and ohm > 0:
                rungs.append((name, through_resistance(loop, real, ohm, float(inner)), False))
    if moving:
        lacking += [*ohms.missing, *([missing.INDICATOR_INNER] if inner is None else [])]
    causes: list[Cause] = []
    at = true_c
    shown = Shown(None)
    for name, emf, ideal in rungs:
        got = read_scale(study, loop, point, emf, scale, ideal=ideal)
        if got.missing:
            continue
        shown = got
        if got.c is not None:
            if abs(got.c - at) > _NOTHING_K:
                causes.append(Cause(name, got.c - at))
            at = got.c
    if real.mv is None:
        return Shown(None, missing=tuple(lacking)), []
    return Shown(shown.c, shown.beyond, tuple(lacking)), causes


def _unsaid_grounds(study: Study, loop: Loop) -> Iterator[Missing]:
    """What decides whether a ground offset enters, where one end is grounded and the other does not say."""
    if tip_grounded(loop):
        if loop.spec.input_grounding is None and leg_ground(study, loop) is None:
            yield missing.INDICATOR_INPUT_GROUNDING
    elif loop.probe.spec.junction is None and leg_grounded(study, loop):
        yield missing.PROBE_JUNCTION


def _tolerances(
    study: Study,
    loop: Loop,
    point: Point,
    true_c: float,
    shown_c: float,
    scale: ThermocoupleType,
    ohms: Ohms,
    emf: Emf,
    lacking: list[Missing],
) -> Iterator[Cause]:
    """What can fall either way; what it takes to know more goes to ``lacking``."""
    slope = seebeck_mv_per_c(scale, shown_c)
    grade = loop.probe.spec.grade
    if grade is None:
        lacking.append(missing.PROBE_GRADE)
    else:
        try:
            couple_k = limit_of_error_c(*_STANDARDS[grade], loop.kind, true_c)
            yield Cause("couple tolerance", couple_k * seebeck_mv_per_c(loop.kind, true_c) / slope, True)
        except OffScaleError:
            lacking.append(missing.PROBE_TEMPERATURE_LIMITS)
    lead_mv = _lead_limit_mv(study, loop, point, lacking)
    if lead_mv:
        yield Cause("lead tolerance", lead_mv / slope, True)
    if emf.doubt_mv:
        yield Cause("emf of one leg of a type J pair", emf.doubt_mv / slope, True)
    yield from _resistance_doubt(study, loop, point, emf, scale, ohms)
    accuracy = loop.spec.accuracy
    if accuracy is None:
        lacking.append(missing.INDICATOR_ACCURACY)
    else:
        yield Cause("indicator accuracy", float(accuracy), True)


def _lead_limit_mv(study: Study, loop: Loop, point: Point, lacking: list[Missing]) -> float:
    """Largest emf error of the leads: the largest of each couple and grade, since lengths of one lot add to one lead."""
    found: dict[tuple[str, str, str], float] = {}
    for piece in loop.pieces:
        edge = piece.edge
        if piece.sort != "lead" or edge is None or edge.run is None or edge.run.spec.thermocouple is None:
            continue
        hot, meter = (study.node_temperature(node, point) for node in (piece.hot, piece.meter))
        if hot is None or meter is None or abs(hot - meter) < _EVEN_K:
            continue
        standard = _lead_standard(edge)
        if standard is None:
            lacking.append(missing.LEAD_TOLERANCE)
            continue
        key = (*standard, edge.run.spec.thermocouple)
        size = _within_range(*key, hot, meter)
        if size is None:
            lacking.append(missing.LEAD_TOLERANCE)
        else:
            found[key] = max(found.get(key, 0.0), size)
    return sum(found.values())


def _lead_standard(edge: Edge) -> tuple[str, str] | None:
    spec = edge.run.spec if edge.run is not None else None
    if spec is None:
        return None
    if spec.grade == "compensating":
        return "IEC 60584-3", "class 2"
    return ("ASTM E230", spec.tolerance) if spec.tolerance is not None else None


def _within_range(standard: str, grade: str, kind: str, hot: float, meter: float) -> float | None:
    """Limit of a lead in mV with its ends no further out than the standard goes; a rule of its own tells of those."""
    rows = (r for r in limits("extension_limits") if (r.standard, r.grade, r.type) == (standard, grade, kind))
    row = next(rows, None)
    if row is None:
        return None
    low, high = row.t_low_c, row.t_high_c
    return extension_limit_mv(standard, grade, kind, min(max(hot, low), high), min(max(meter, low), high))


def _resistance_doubt(
    study: Study, loop: Loop, point: Point, emf: Emf, scale: ThermocoupleType, ohms: Ohms
) -> Iterator[Cause]:
    """How far the doubt of a table of wire, or an inner resistance nobody stated, can move a moving-coil pointer."""
    external = ohms.hot if ohms.hot is not None else ohms.cold
    if loop.spec.principle != "moving-coil thermocouple" or loop.spec.loop_resistance is None or not external:
        return
    inner = loop.spec.inner_resistance
    if inner is None:
        # No resistance of its own is the worst an indicator can have.
        supposed = read_scale(study, loop, point, emf, scale)
        worst = read_scale(study, loop, point, through_resistance(loop, emf, external, 0.0), scale)
        if supposed.c is not None and worst.c is not None:
            yield Cause("lead resistance, inner resistance not known", worst.c - supposed.c, True)
        return
    doubt = TABLE_DOUBT * table_ohms(study, loop, point)
    if doubt and measured_ohms(study, loop) is None:
        here = read_scale(study, loop, point, through_resistance(loop, emf, external, float(inner)), scale)
        there = read_scale(
            study, loop, point, through_resistance(loop, emf, external + doubt, float(inner)), scale
        )
        if here.c is not None and there.c is not None:
            yield Cause("lead resistance by table", there.c - here.c, True)


def table_ohms(study: Study, loop: Loop, point: Point) -> float:
    """The part of the loop's resistance in ohm that rests on a table of wire: leads by gauge, of a part."""
    total = 0.0
    for piece in loop.pieces:
        run = piece.edge.run if piece.edge is not None else None
        if piece.sort != "lead" or run is None or run.part is None:
            continue
        # Of leads with a figure for both legs together, only type N has it from the table; the others are made to it.
        if run.spec.loop_length_resistance is None or run.spec.thermocouple == "N":
            total += piece_ohms(study, loop, piece, point).cold or 0.0
    return total / len(group_of(study, loop)) if loop.indication.averaged else total
