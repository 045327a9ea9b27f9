"""Resistance outside a moving-coil indicator: the loop it is calibrated for, the spool that trims it."""

from __future__ import annotations

from collections.abc import Iterator

from ...analysis import missing
from ...analysis.circuit.leads import Ohms, half_joint, ohm_per_metre
from ...analysis.study import Point, Study
from ...analysis.thermocouple.circuits import Loop, Piece
from ...analysis.thermocouple.groups import Group, by_input
from ...analysis.thermocouple.points import scale_of, true_values
from ...analysis.thermocouple.readings import (
    LOOP_TOLERANCE_OHM,
    cold_missing,
    external_ohms,
    measured_ohms,
    parts_ohms,
    read_scale,
    source_emf,
    through_resistance,
)
from ...dataclass import dataclass
from ...document.source import DocPath
from ...graph import total_length
from ...model.comparing import at_most
from ...model.edits import Change, Edit, Put
from ...model.quantities import plain_number, show
from ...physics.moving_coil import length_to_cut_m
from ..verdicts import Verdict
from ..vocabulary import Subject, rule

_HEAVIER = (22, 20, 18, 16, 14)
_GAUGE_RATIO = 92 ** (2 / 39)
"""Ratio of resistance from one gauge to the next: the area of AWG n goes with 92^((36 - n) 2/39) (ASTM B258)."""
_SPOOL_OHM = 0.01
"""ohm: less than this needs no spool."""
_REACH = 0.25
"""Share of a lead's length in a zone that it needs to reach where it leads, whatever of it lies coiled up [judgement]."""


@rule(
    "thermocouple-loop-resistance",
    title="The external resistance of a moving-coil indicator is what it is calibrated for",
    why="The couple drives the pointer with its own current. Too much resistance outside reads low while the engine is hotter "
    "than shown; lead may not be cut, lengthened or replaced without making good the change.",
    source="FAA-H-8083-31 ch. 10; TB 9-6695-281-35 para 11 (loops of 2 and 8 ohm); TM 55-4920-401-13&P",
    formula="R = couple + leads + spool + joints at 20 degC; spool = R_cal - the rest; E_shown = E (R_cal + R_m)/(R + R_m)",
    example="2 ohm type J, 2.6 ohm outside, R_m 10 ohm, true 230 degC: 220.4 degC",
    over=lambda study: [
        g for g in by_input(study) if g.loops[0].spec.principle == "moving-coil thermocouple"
    ],
)
def loop_resistance(study: Study, subject: Subject, shared: Group) -> Iterator[Verdict]:
    """Every moving-coil input: one verdict for the probes whose loops are alike."""
    alike: dict[float | None, list[Loop]] = {}
    for loop in shared.loops:
        cold = external_ohms(study, loop, study.points[0]).cold
        alike.setdefault(None if cold is None else round(cold, 3), []).append(loop)
    for group in alike.values():
        others = [one for one in shared.loops if one not in group]
        at = subject.along(*(one.probe_id for one in group))
        yield _judge(study, at, group, frozenset(p.ident for one in others for p in one.pieces))


def _judge(study: Study, subject: Subject, group: list[Loop], common: frozenset[str]) -> Verdict:
    """``common``: what probes with another loop go through as well, which is not the place to mend this one."""
    loop = group[0]
    wanted, stated = loop.spec.loop_resistance, loop.spec.loop_tolerance
    point = _hottest(study, loop)
    ohms = external_ohms(study, loop, point)
    if wanted is None or ohms.cold is None:
        loop_ohms = [missing.INDICATOR_LOOP_RESISTANCE] if wanted is None else []
        return subject.lacks(*loop_ohms, *cold_missing([ohms]))
    tolerance = float(stated) if stated is not None else LOOP_TOLERANCE_OHM
    error = ohms.cold - wanted
    how = "is measured at" if measured_ohms(study, loop) is not None else "works out at"
    text = (
        f"the loop of {_names(group)} {how} {plain_number(ohms.cold)} ohm where {plain_number(float(wanted))} ohm belong, "
        f"{plain_number(tolerance)} ohm either way, outside the indicator"
    )
    kept = at_most(abs(error), tolerance)
    spool = _spool(loop, common)
    at, place = ((), subject.path) if kept else _place(loop, spool, subject.path)
    judged = (
        subject.along(*at)
        .placed(*place)
        .at_most(
            abs(error),
            tolerance,
            "ohm",
            text,
            broken=text if kept else text + _effect(study, loop, point, ohms.cold),
            remedy=lambda: (
                _defect(study, loop, point, tolerance)
                or _remedy(loop, spool, error, common) + _warmed(ohms, point)
            ),
            cure=lambda: _cures(loop, spool, error, common),
            practice=stated is None,
        )
    )
    # What is told is the resistance and what it should be; the room is that of the difference.
    judged.value, judged.limit = ohms.cold, float(wanted)
    return judged


def _names(group: list[Loop]) -> str:
    positions = [loop.indication.position for loop in group if loop.indication.position is not None]
    name = group[0].indication.name
    return f"{name} at {', '.join(positions)}" if positions else name


def _hottest(study: Study, loop: Loop) -> Point:
    found = true_values(study, loop)
    return max(found, key=lambda f: f[1])[0] if found else study.points[0]


def _leads(loop: Loop) -> list[Piece]:
    return [p for p in loop.pieces if p.sort == "lead"]


def _spool(loop: Loop, common: frozenset[str]) -> Piece | None:
    spools = (p for p in loop.pieces if p.edge is not None and p.edge.kind == "spool")
    return next((p for p in spools if p.ident not in common), None)


def _place(loop: Loop, spool: Piece | None, path: DocPath) -> tuple[tuple[str, ...], DocPath]:
    """Where the resistance is put right: at the spool, else in the first lead."""
    if spool is not None:
        return (spool.ident,), (*spool.path, "resistance")
    leads = _leads(loop)
    return ((leads[0].ident,), ("wire_runs", leads[0].ident)) if leads else ((), path)


def _effect(study: Study, loop: Loop, point: Point, ohm: float) -> str:
    """What the wrong resistance does to the reading at the hottest point, in words."""
    scale, inner = loop.spec.thermocouple or loop.kind, loop.spec.inner_resistance
    true_c = max((t for p, t in true_values(study, loop) if p is point), default=None)
    if true_c is None or ohm <= 0:
        return ""
    emf = source_emf(study, loop, point, true_c)
    supposed = read_scale(study, loop, point, emf, scale, ideal=True)
    real = through_resistance(loop, emf, ohm, float(inner or 0.0))
    shown = read_scale(study, loop, point, real, scale, ideal=True)
    if supposed.c is None or shown.c is None:
        return ""
    words = scale_of(study, loop)
    off = words.off(shown.c - supposed.c)
    if inner is None:
        return f": at {words.at(true_c)} it reads up to {off}; how much exactly takes the {missing.INDICATOR_INNER}"
    return f": at {words.at(true_c)} it reads {off}"


def _warmed(ohms: Ohms, point: Point) -> str:
    """How far the loop stands from its cold resistance at work, for who sets the spool on a warm engine."""
    if ohms.cold is None or ohms.hot is None or abs(ohms.hot - ohms.cold) < _SPOOL_OHM:
        return ""
    return (
        f"; that is with all at 20 degC: at '{point.name}' the loop should measure "
        f"{plain_number(abs(ohms.hot - ohms.cold))} ohm {'more' if ohms.hot > ohms.cold else 'less'}"
    )


def _defect(study: Study, loop: Loop, point: Point, tolerance: float) -> str:
    """What to mend before any spool is touched: a joint, or what a measurement shows and the parts do not explain."""
    wanted = float(loop.spec.loop_resistance or 0.0)
    contacts = _contacts(study, loop)
    worst = max(contacts, key=lambda ident: contacts[ident], default="")
    ohms = external_ohms(study, loop, point).cold
    if (
        worst
        and ohms is not None
        and contacts[worst] > tolerance
        and at_most(ohms - sum(contacts.values()), wanted + tolerance)
    ):
        return (
            f"clean and remake {worst}, whose contacts add {plain_number(contacts[worst])} ohm; leave the spool as it is until "
            "the loop is measured again"
        )
    parts = parts_ohms(study, loop, point).cold
    if (
        measured_ohms(study, loop) is None
        or ohms is None
        or parts is None
        or at_most(abs(ohms - parts), tolerance)
    ):
        return ""
    off = f"{plain_number(abs(ohms - parts))} ohm {'more' if ohms > parts else 'less'}"
    return (
        f"find why the loop measures {off} than its parts come to ({plain_number(parts)} ohm): "
        + (
            "joints, a damaged lead or the probe"
            if ohms > parts
            else "a short between the legs, or parts other than described"
        )
        + "; set the spool only when that is mended"
    )


def _contacts(study: Study, loop: Loop) -> dict[str, float]:
    """What each joint of the loop adds by its contacts in ohm."""
    found: dict[str, float] = {}
    for piece in loop.pieces:
        if piece.sort == "lead" and piece.edge is not None:
            for node in (piece.hot, piece.meter):
                ident = node.partition(".")[0]
                found[ident] = found.get(ident, 0.0) + (half_joint(study, node) or 0.0)
        elif piece.sort == "joint" and piece.edge is not None and piece.edge.kind != "spool":
            found[piece.ident] = found.get(piece.ident, 0.0) + float(piece.edge.resistance or 0.0)
    return {ident: ohm for ident, ohm in found.items() if ohm > 0}


def _remedy(loop: Loop, spool: Piece | None, error: float, common: frozenset[str]) -> str:
    fitted = float(spool.edge.resistance or 0.0) if spool is not None and spool.edge is not None else 0.0
    trimmed = fitted - error
    if trimmed >= 0 and spool is not None:
        return f"trim {spool.ident} to {plain_number(trimmed)} ohm"
    if trimmed >= 0:
        return f"add a spool of {plain_number(trimmed)} ohm in the lead of {loop.probe_id}"
    excess = -trimmed
    text = f"no spool can take away {plain_number(excess)} ohm"
    leads = [one for one in _by_run(loop) if one.per_metre > 0 and one.length > 0 and one.ident not in common]
    if not leads:
        return f"{text}: use a heavier lead"
    longest = max(leads, key=lambda one: one.per_metre * one.length)
    heavier = _heavier(leads, excess)
    if error <= longest.per_metre * longest.length:
        cut = length_to_cut_m(error, longest.per_metre)
        heavier += f", or shorten {longest.ident} by {show(cut, 'in', 'length')}"
    return f"{text}: {heavier}"


def _cures(loop: Loop, spool: Piece | None, error: float, common: frozenset[str]) -> Iterator[Edit]:
    """The spool trimmed; else the longest lead cut where it is longest; else heavier leads, with the spool that they leave."""
    fitted = float(spool.edge.resistance or 0.0) if spool is not None and spool.edge is not None else 0.0
    trimmed = fitted - error
    if trimmed >= 0:
        if spool is not None:
            put = _trimmed(spool, trimmed)
            yield Edit(
                (put,),
                f"trim {spool.ident} to {put.value}",
                f"{spool.ident} is of {plain_number(fitted)} ohm",
            )
        return
    every = [one for one in _by_run(loop) if one.per_metre > 0 and one.length > 0]
    leads = [one for one in every if one.ident not in common]
    for one in every:
        if one.ident in common:
            yield from _shorter(loop, one, error)
    if not leads:
        return
    yield from _shorter(loop, max(leads, key=lambda one: one.per_metre * one.length), error)
    for gauge in _HEAVIER:
        thinner = [one for one in leads if one.gauge is not None and one.gauge > gauge]
        saved = _saved(thinner, gauge)
        if not thinner or saved < -trimmed:
            continue
        changes: list[Change] = [Put(("wire_runs", one.ident, "gauge"), f"{gauge} AWG") for one in thinner]
        names = " and ".join(one.ident for one in thinner)
        words = f"make {names} of {gauge} AWG in place of {thinner[0].gauge} AWG"
        if spool is not None:
            put = _trimmed(spool, saved + trimmed)
            changes.append(put)
            words += f", and trim {spool.ident} to {put.value}"
        wrong = f"{names} {'is' if len(thinner) == 1 else 'are'} of {thinner[0].gauge} AWG"
        yield Edit(tuple(changes), words, wrong)


def _trimmed(spool: Piece, ohm: float) -> Put:
    return Put(("junctions", spool.ident, "resistance"), f"{plain_number(ohm)} ohm")


def _shorter(loop: Loop, lead: _Lead, excess: float) -> Iterator[Edit]:
    """The lead cut in the zone in which most of it lies, the spool left as it is."""
    run = next(p.edge.run for p in loop.pieces if p.edge is not None and p.ident == lead.ident)
    steps = [(i, s) for i, s in enumerate(run.route or ()) if s.length is not None] if run is not None else []
    if not steps or excess > lead.per_metre * lead.length:
        return
    index, step = max(steps, key=lambda found: float(found[1].length or 0.0))
    assert step.length is not None
    left = float(step.length) - length_to_cut_m(excess, lead.per_metre)
    if left >= _REACH * float(step.length):
        text = show(left, step.length.unit, "length")
        yield Edit(
            (Put(("wire_runs", lead.ident, "route", index, "length"), text),),
            f"cut {lead.ident} to {text} in the {step.zone}, in place of {step.length.text}",
            f"{lead.ident} is {step.length.text} long in the {step.zone}",
        )


@dataclass(frozen=True, slots=True)
class _Lead:
    """A run of the loop: ohm/m of its legs in the loop, length in m and gauge."""

    ident: str
    per_metre: float
    length: float
    gauge: int | None


def _by_run(loop: Loop) -> list[_Lead]:
    found: dict[str, _Lead] = {}
    for piece in loop.pieces:
        run = piece.edge.run if piece.sort == "lead" and piece.edge is not None else None
        if piece.edge is None or run is None:
            continue
        each, both = ohm_per_metre(piece.edge), run.spec.loop_length_resistance
        before = found[piece.ident].per_metre if piece.ident in found else 0.0
        per_metre = before + each if each is not None else float(both or 0.0)
        gauge = run.gauge.number if run.gauge is not None else None
        found[piece.ident] = _Lead(piece.ident, per_metre, total_length(run) or 0.0, gauge)
    return list(found.values())


def _saved(thinner: list[_Lead], gauge: int) -> float:
    """Ohm that leads lose in a heavier gauge."""
    return sum(
        one.per_metre * one.length * (1 - _GAUGE_RATIO ** (gauge - (one.gauge or gauge))) for one in thinner
    )


def _heavier(leads: list[_Lead], excess: float) -> str:
    """The first heavier gauge of the same metals that takes the excess away, and the spool it leaves."""
    for gauge in _HEAVIER:
        thinner = [one for one in leads if one.gauge is not None and one.gauge > gauge]
        saved = _saved(thinner, gauge)
        if thinner and saved >= excess:
            names = " and ".join(one.ident for one in thinner)
            spool = (
                f" with a spool of {plain_number(saved - excess)} ohm" if saved - excess > _SPOOL_OHM else ""
            )
            return f"run {names} in {gauge} AWG{spool}"
    return "use a heavier lead"
