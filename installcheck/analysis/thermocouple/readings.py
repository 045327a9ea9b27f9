"""What a thermocouple circuit gives and what its indicator makes of it: emf, resistance and reading at one state."""

from __future__ import annotations

from collections.abc import Iterable

from ...dataclass import dataclass
from ...model.comparing import same
from ...model.fields import ThermocoupleType
from ...model.records import Measurement
from ...physics.moving_coil import ParallelCouples, parallel_couples, shown_emf_mv
from ...physics.scale import OffScaleError, Side
from ...physics.thermocouple_loop import Segment, loop_emf, reading, side
from ...physics.thermocouples import UnknownLegError, emf_mv
from .. import missing
from ..circuit.leads import Ohms, conductor_ohms, ends_ohms, loop_ohms, ohm_per_metre, series
from ..missing import Missing
from ..study import Point, Study
from .circuits import ONE_PLACE, Loop, Piece, Sort
from .groups import group_of

LOOP_TOLERANCE_OHM = 0.05
"""ohm: one graduation of the resistance meter of TM 55-4920-401-13&P; as a limit for the loop it is recalled only."""
_SAME_K = 1e-6


@dataclass(frozen=True, slots=True)
class Emf:
    """Emf of a circuit at the indicator's terminals in mV with its doubt, or what is missing to know it."""

    mv: float | None
    doubt_mv: float = 0.0
    missing: tuple[Missing, ...] = ()


@dataclass(frozen=True, slots=True)
class Shown:
    """What an indicator shows in degC, or why that is not known: beyond its tables, or data missing."""

    c: float | None
    beyond: Side | None = None
    missing: tuple[Missing, ...] = ()


def _temperature(study: Study, node: str, point: Point) -> tuple[float | None, Missing | None]:
    t_c = study.node_temperature(node, point)
    if t_c is not None:
        return t_c, None
    return None, missing.ZONE_TEMPERATURE if study.graph.zone_of(node) is not None else missing.JOINT_ZONE


def _known(*words: Missing | None) -> tuple[Missing, ...]:
    return tuple(word for word in words if word is not None)


def _segments(
    study: Study, pieces: tuple[Piece, ...], point: Point, true_c: float
) -> tuple[tuple[Segment, ...], list[Missing]]:
    """Pieces as metals between temperatures. A joint with a stated difference is taken hotter on the probe's side."""
    lacking: list[Missing] = []
    ends: list[tuple[str, float]] = []
    t_c = true_c
    for i, piece in enumerate(pieces):
        t_end, why = _temperature(study, piece.meter, point)
        if why is not None:
            lacking.append(why)
        if _maybe_uneven(study, piece):
            lacking.append(missing.JOINT_ISOTHERMAL)
        if t_end is None:
            continue
        if piece.spread:
            t_end = _middle(study, piece, point, t_end) - piece.spread / 2
        elif i + 1 < len(pieces) and pieces[i + 1].spread:
            t_end = _middle(study, pieces[i + 1], point, t_end) + pieces[i + 1].spread / 2
        if piece.metal is not None:
            ends.append((piece.metal, t_end))
        elif abs(t_end - t_c) > _SAME_K:
            lacking.append(missing.JOINT_METAL if piece.sort == "joint" else missing.LEAD_METAL)
        t_c = t_end
    return (() if lacking else side(true_c, ends)), lacking


def _maybe_uneven(study: Study, piece: Piece) -> bool:
    """Whether a joint of another metal may have its two ends at different temperatures, by what is not said of it."""
    joint = study.model.junctions.get(piece.ident) if piece.sort == "joint" else None
    if joint is None or piece.metal is None or piece.metal == piece.right:
        return False
    zones = {study.graph.zone_of(piece.hot), study.graph.zone_of(piece.meter)}
    at_one = joint.spec.kind in ONE_PLACE or len(zones) > 1
    return joint.isothermal is None and joint.pin_temperature_difference is None and not at_one


def _middle(study: Study, piece: Piece, point: Point, meter_c: float) -> float:
    hot_c = study.node_temperature(piece.hot, point)
    return (hot_c + meter_c) / 2 if hot_c is not None else meter_c


def circuit_emf(study: Study, loop: Loop, point: Point, true_c: float) -> Emf:
    """Emf between the indicator's terminals with the junction at ``true_c`` degC."""
    positive, one = _segments(study, loop.positive, point, true_c)
    negative, other = _segments(study, loop.negative, point, true_c)
    lacking = tuple(dict.fromkeys([*one, *other]))
    if lacking:
        return Emf(None, missing=lacking)
    try:
        got = loop_emf(true_c, positive, negative)
    except UnknownLegError:
        return Emf(None, missing=(missing.LEAD_METAL_OF_PUBLISHED_EMF,))
    except OffScaleError:
        return Emf(None, missing=(missing.LEAD_TEMPERATURES_IN_TABLES,))
    return Emf(got.emf_mv, got.uncertainty_mv)


def reference_c(
    study: Study, loop: Loop, point: Point, *, ideal: bool = False
) -> tuple[float | None, Missing | None]:
    """Temperature in degC the indicator takes its reference junction to have; ``ideal``: that it would have to take.

    Without compensation it is the temperature the scale is drawn for; ice, where nobody says.
    """
    how = loop.spec.compensation
    if how == "none" and not ideal:
        return float(loop.spec.reference_temperature or 0.0), None
    if how == "elsewhere":
        place = loop.spec.compensated_at
        return _temperature(study, place, point) if place is not None else (None, missing.INDICATOR_REFERENCE)
    if how is None and not ideal:
        return None, missing.INDICATOR_REFERENCE
    return _temperature(study, loop.terminals[0], point)


def right_emf(study: Study, loop: Loop, point: Point, true_c: float) -> Emf:
    """Emf of the circuit as it should be: the probe's own metals as far as the reference junction, copper beyond it."""
    t_c, why = reference_c(study, loop, point, ideal=True)
    if t_c is None:
        return Emf(None, missing=_known(why))
    try:
        return Emf(emf_mv(loop.kind, true_c) - emf_mv(loop.kind, t_c))
    except OffScaleError:
        return Emf(None, missing=(missing.LEAD_TEMPERATURES_IN_TABLES,))


def read_scale(
    study: Study, loop: Loop, point: Point, emf: Emf, scale: ThermocoupleType, *, ideal: bool = False
) -> Shown:
    """What a scale of a couple shows for an emf at its terminals."""
    t_c, why = reference_c(study, loop, point, ideal=ideal)
    if emf.mv is None or t_c is None:
        return Shown(None, missing=(*emf.missing, *_known(why)))
    try:
        got = reading(emf.mv, scale, t_c)
    except OffScaleError:
        return Shown(None, missing=(missing.LEAD_TEMPERATURES_IN_TABLES,))
    return Shown(got.indicated_c, got.beyond)


def piece_ohms(study: Study, loop: Loop, piece: Piece, point: Point) -> Ohms:
    """Resistance of a piece, with half of each joint at its ends."""
    if piece.sort == "probe":
        return Ohms(0.0, 0.0)
    if piece.edge is None:
        return Ohms(0.0, 0.0)
    if piece.sort != "lead":
        ohm = piece.edge.resistance
        if ohm is None and piece.edge.kind == "spool":
            return Ohms(None, None, (missing.SPOOL_RESISTANCE,))
        return Ohms(float(ohm or 0.0), float(ohm or 0.0))
    return series((_lead_ohms(study, loop, piece, point), ends_ohms(study, piece.edge)))


def _lead_ohms(study: Study, loop: Loop, piece: Piece, point: Point) -> Ohms:
    edge = piece.edge
    assert edge is not None
    assert edge.run is not None
    if ohm_per_metre(edge) is not None or edge.run.spec.loop_length_resistance is None:
        return conductor_ohms(study, edge, point)
    legs = [p for p in loop.pieces if p.sort == "lead" and p.ident == piece.ident]
    if len(legs) < 2:
        return Ohms(None, None, (missing.LEAD_LEG_RESISTANCE,))
    # The figure is for both legs together: it counts once.
    return loop_ohms(edge, point) if legs[0] is piece else Ohms(0.0, 0.0)


def couple_ohms(loop: Loop) -> Ohms:
    """Resistance of the probe with its own lead."""
    stated = loop.probe.spec.resistance
    return (
        Ohms(None, None, (missing.PROBE_RESISTANCE,))
        if stated is None
        else Ohms(float(stated), float(stated))
    )


def measured_ohms(study: Study, loop: Loop) -> Measurement | None:
    """The external resistance measured at the indicator's terminals, if somebody did."""
    if loop.indication.position is not None or loop.indication.averaged:
        return None
    ends = set(loop.terminals)
    for one in study.model.measured:
        open_there = one.between is not None and set(one.between) == ends and not one.connected
        ohms = not isinstance(one.value, str) and one.value.kind == "resistance"
        if open_there and ohms and one.what in (None, "resistance"):
            return one
    return None


def _key(piece: Piece) -> tuple[str, str, str]:
    return piece.ident, piece.hot, piece.meter


def branch_ohms(study: Study, loop: Loop, point: Point) -> Ohms:
    """Resistance of one circuit up to where it meets the others of its group: the whole loop where there are none."""
    others = [
        {_key(p) for p in other.pieces} for other in group_of(study, loop) if other.probe_id != loop.probe_id
    ]
    own = [p for p in loop.pieces if p.sort != "probe" and not any(_key(p) in keys for keys in others)]
    return series((couple_ohms(loop), *(piece_ohms(study, loop, p, point) for p in own)))


def common_ohms(study: Study, loop: Loop, point: Point) -> Ohms:
    """Resistance of what the circuits of a group share; nothing where there is one alone."""
    others = [
        {_key(p) for p in other.pieces} for other in group_of(study, loop) if other.probe_id != loop.probe_id
    ]
    shared = [p for p in loop.pieces if p.sort != "probe" and any(_key(p) in keys for keys in others)]
    return series(piece_ohms(study, loop, p, point) for p in shared)


def parts_ohms(study: Study, loop: Loop, point: Point) -> Ohms:
    """Resistance outside the indicator, cold and at the point, as its parts come to."""
    branches = [branch_ohms(study, one, point) for one in group_of(study, loop)]
    return series((_parallel(branches), common_ohms(study, loop, point)))


def external_ohms(study: Study, loop: Loop, point: Point) -> Ohms:
    """Resistance outside the indicator, cold and at the point: measured if the document says so, else worked out."""
    whole = parts_ohms(study, loop, point)
    measured = measured_ohms(study, loop)
    if measured is None:
        return whole
    cold = float(measured.value)
    warmed = whole.hot - whole.cold if whole.hot is not None and whole.cold is not None else 0.0
    return Ohms(cold, cold + warmed)


def cold_missing(ohms: Iterable[Ohms]) -> tuple[Missing, ...]:
    """What is missing to know resistances at 20 degC, for which no temperature and no split of lengths is needed."""
    words = (word for one in ohms if one.cold is None for word in one.missing)
    return tuple(
        dict.fromkeys(word for word in words if word not in (missing.RUN_ROUTE, missing.ZONE_TEMPERATURE))
    )


def _parallel(branches: list[Ohms]) -> Ohms:
    if len(branches) == 1:
        return branches[0]
    lacking = tuple(dict.fromkeys(word for one in branches for word in one.missing))

    def joined(values: list[float | None]) -> float | None:
        known = [v for v in values if v is not None and v > 0]
        return 1 / sum(1 / v for v in known) if len(known) == len(values) else None

    return Ohms(joined([b.cold for b in branches]), joined([b.hot for b in branches]), lacking)


def source_emf(study: Study, loop: Loop, point: Point, true_c: float, *mended: Sort) -> Emf:
    """Emf of all circuits that feed the input, each by its weight, every junction at ``true_c`` degC.

    ``mended``: sorts of pieces that are taken to be of the right metal.
    """
    group = group_of(study, loop)
    emfs = [circuit_emf(study, one.with_right_metal(*mended), point, true_c) for one in group]
    if len(group) == 1:
        return emfs[0]
    known = [e.mv for e in emfs if e.mv is not None]
    lacking = tuple(dict.fromkeys(word for e in emfs for word in e.missing))
    if len(known) < len(emfs):
        return Emf(None, missing=lacking)
    doubt = max(e.doubt_mv for e in emfs)
    if same(max(known), min(known)):
        return Emf(known[0], doubt)
    ohms = [branch_ohms(study, one, point) for one in group]
    sizes = [o.hot if o.hot is not None else o.cold for o in ohms]
    if any(s is None or s <= 0 for s in sizes):
        return Emf(None, missing=tuple(dict.fromkeys(word for o in ohms for word in o.missing)))
    joined: ParallelCouples = parallel_couples(known, [s for s in sizes if s is not None])
    return Emf(joined.emf_mv, doubt)


def through_resistance(loop: Loop, emf: Emf, external: float, inner: float) -> Emf:
    """The emf at which the pointer stands, for an external and an inner resistance in ohm.

    An electronic input supposes no resistance outside; a moving-coil one that it is calibrated for.
    """
    if emf.mv is None:
        return emf
    supposed = (
        float(loop.spec.loop_resistance or 0.0) if loop.spec.principle == "moving-coil thermocouple" else 0.0
    )
    return Emf(shown_emf_mv(emf.mv, supposed, external, inner), emf.doubt_mv)
