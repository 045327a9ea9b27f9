"""Figures that are told twice, or that bound each other: loads, bundles, tubes and limits."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from ...model.aircraft import Limit
from ...model.comparing import at_least, at_most, same
from ...model.quantities import Quantity, plain_number
from ..missing import RUN_BUNDLE
from ..routing import bundled, run_ends, run_zones
from ..study import Study
from .engines import engines
from .pairs import Field, Pair, rises, rounding

_IN_LINE = frozenset(("breaker", "fuse", "current limiter", "switch"))
"""Supplies a wire goes into and another comes out of."""
_VOLTS = {14.0: (9.0, 15.15), 28.0: (18.0, 30.3)}
"""Lowest and highest volts a 14 V and a 28 V system gives a load, abnormal service included (RTCA DO-160 16, recalled)."""


def loads(study: Study) -> Iterator[Pair]:
    """Loads that give amperes and watts: their quotient is a voltage the system can have."""
    system = study.model.aircraft.system_voltage
    spans = [s for nominal, s in _VOLTS.items() if system is None or same(system, nominal)] or [
        *_VOLTS.values()
    ]
    low, high = min(s[0] for s in spans), max(s[1] for s in spans)
    for ident, load in study.model.loads.items():
        watts, amperes = load.spec.power, load.spec.current
        if watts is None or amperes is None or amperes <= 0:
            continue
        volts = watts / amperes
        least = (watts - rounding(watts)) / (amperes + rounding(amperes))
        spare = amperes - rounding(amperes)
        most = (watts + rounding(watts)) / spare if spare > 0 else float("inf")
        yield Pair(
            ident,
            ("loads", ident, "power"),
            at_most(least, high) and at_least(most, low),
            f"{ident} draws {amperes.text} and {watts.text}, which is {plain_number(volts)} V",
            f"correct one of them: the system gives it {plain_number(low)} to {plain_number(high)} V",
            open=(("loads", ident, "spec", "current"), ("loads", ident, "spec", "power")),
        )


def bundles(study: Study) -> Iterator[Pair]:
    """Bundles that give their number of wires: it is no less than the runs that lie in it side by side, in one zone."""
    unplaced = tuple(
        i for i in study.model.wire_runs if study.document.declared_unknown(("wire_runs", i, "bundle"))
    )
    yield from alone(study)
    for ident, members in bundled(study).items():
        bundle = study.model.bundles.get(ident)
        if bundle is None or bundle.wires is None:
            continue
        zone, most = fullest(study, members)
        perhaps = unplaced if bundle.wires < most + len(unplaced) else ()
        where = f", {most} of them side by side in the {zone}" if most else ""
        yield Pair(
            ident,
            ("bundles", ident, "wires"),
            bundle.wires >= most,
            f"bundle {ident} holds {bundle.wires} wires, and {len(members)} runs lie in it{where}",
            "count its wires, and correct 'wires' or the bundle of the runs",
            beside=perhaps if bundle.wires >= most else (),
            open=(("bundles", ident, "wires"), ("bundles", ident, "load_share")),
            lacks=(RUN_BUNDLE,) if perhaps else (),
        )


def alone(study: Study) -> Iterator[Pair]:
    """Runs in a bundle that are said to lie alone in free air."""
    for ident, run in study.model.wire_runs.items():
        if run.bundle is None or run.free_air is None:
            continue
        yield Pair(
            ident,
            ("wire_runs", ident, "free_air"),
            not run.free_air,
            f"{ident} lies in {run.bundle}"
            + (", and is said to run alone in free air" if run.free_air else ""),
            "see how it lies, and take out one of the two",
            beside=(run.bundle,),
            taken=((("wire_runs", ident, "free_air"), None),),
        )


def fullest(study: Study, runs: Sequence[str]) -> tuple[str, int]:
    """The zone in which most of some runs lie side by side, and how many do at the least."""
    by_zone: dict[str, list[str]] = {}
    for run in runs:
        for zone in run_zones(study, run) or ():
            by_zone.setdefault(zone, []).append(run)
    beside = {zone: _side_by_side(study, zone, there) for zone, there in by_zone.items()}
    return max(beside.items(), key=lambda one: one[1], default=("", 0))


def _side_by_side(study: Study, zone: str, runs: list[str]) -> int:
    """How many runs lie side by side in a zone, at the least: at a joint in it each run but the first can follow another."""
    met: dict[str, int] = {}
    for run in runs:
        for end in run_ends(study.model.wire_runs[run]):
            joint = _joint(study, end, zone)
            if joint is not None:
                met[joint] = met.get(joint, 0) + 1
    return max(1, len(runs) - sum(count // 2 for count in met.values()))


def _joint(study: Study, end: str, zone: str) -> str | None:
    """What an end meets others in within a zone, one name for all that meet there; ``None`` where it ends at a device."""
    ident, _, pin = end.partition(".")
    joint = study.model.junctions.get(ident)
    if joint is not None and joint.zone in (zone, None):
        mate = next((i for i, j in study.model.junctions.items() if j.mates == ident), None)
        return f"{min(ident, joint.mates or mate or ident)}.{pin}" if pin else ident
    supply = study.model.supplies.get(ident)
    if supply is not None and supply.zone in (zone, None) and supply.spec.kind in _IN_LINE:
        return ident
    return None


def tubes(study: Study) -> Iterator[Pair]:
    """Tubes and hoses whose wall, bore and outside diameter bound each other."""
    for ident, line in study.model.fluid_lines.items():
        spec = line.spec
        outside, wall, bore = spec.outside_diameter, spec.wall, spec.bore
        if outside is None or (wall is None and bore is None):
            continue
        fields: tuple[Field, ...] = tuple(
            ("fluid_lines", ident, "spec", word) for word in ("outside_diameter", "wall", "bore")
        )
        parts = [f"{outside.text} outside"]
        parts += [f"{wall.text} of wall"] if wall is not None else []
        parts += [f"{bore.text} of bore"] if bore is not None else []
        yield Pair(
            ident,
            ("fluid_lines", ident, "wall" if wall is not None else "bore"),
            _fits(outside, wall, bore),
            f"{ident} has {', '.join(parts[:-1])} and {parts[-1]}",
            "measure the tube, and correct its size",
            open=fields,
        )


def ratings(study: Study) -> Iterator[Pair]:
    """Lines that give a working and a burst pressure: a line bears more than it is rated to work at.

    Neither is left open: a line is judged by the safer of the two.
    """
    for ident, line in study.model.fluid_lines.items():
        rated, burst = line.spec.rated_pressure, line.spec.burst_pressure
        if rated is None or burst is None:
            continue
        yield Pair(
            ident,
            ("fluid_lines", ident, "burst_pressure"),
            at_least(burst, rated),
            f"{ident} is rated {rated.text} and bursts at {burst.text}",
            "look both up in the maker's data, and correct the one that is wrong",
        )


def _fits(outside: Quantity, wall: Quantity | None, bore: Quantity | None) -> bool:
    """Whether a wall and a bore leave room for each other: the bore is the outside diameter less two walls."""
    if wall is None or bore is None:
        inner = 2 * wall if wall is not None else bore
        return inner is not None and inner < outside
    allowed = rounding(outside) + 2 * rounding(wall) + rounding(bore)
    return 2 * wall < outside and at_most(abs(outside - 2 * wall - bore), allowed)


_WITHIN = ("caution_low", "caution_high", "normal_low", "normal_high")
_RISING = (
    ("minimum", "maximum"),
    *(("minimum", word) for word in _WITHIN),
    *((word, "maximum") for word in _WITHIN),
    ("caution_low", "caution_high"),
    ("normal_low", "normal_high"),
    ("lowest", "highest"),
)
"""Figures of a limit or of an arc of which the first is the lower."""


def limits(study: Study) -> Iterator[Pair]:
    """Engine limits that bound each other, and arcs on dials: the lower is below the higher."""
    for engine, its in study.model.engines.items():
        for measure, limit in (its.limits or {}).items():
            path: Field = ("engines", engine, "limits", measure)
            yield from _ordered(engine, f"{measure} of {engine}", path, _figures(limit))
        band = its.exhaust_probe_band
        if band is not None:
            told = {"lowest": band[0], "highest": band[1]}
            path = ("engines", engine, "exhaust_probe_band")
            yield from _ordered(engine, f"exhaust probe band of {engine}", path, told, (path,))
    for ident, indicator in study.model.indicators.items():
        for i, mark in enumerate(indicator.spec.markings or ()):
            figures = {"lowest": mark.lowest, "highest": mark.highest}
            told = {word: figure for word, figure in figures.items() if figure is not None}
            path = ("indicators", ident, "markings", i)
            fields: tuple[Field, ...] = (("indicators", ident, "spec", "markings"),)
            yield from _ordered(ident, f"{mark.colour} arc of {ident}", path, told, fields)


def spans(study: Study) -> Iterator[Pair]:
    """Senders that give their full scale and a curve by points: the curve ends where the scale does.

    That of a resistive sender may be told in part, by the pressures at which its ohms were read; two points are its ends.
    """
    for ident, sender in study.model.senders.items():
        full, curve = sender.spec.full_scale, sender.spec.curve
        if (
            full is None
            or curve is None
            or curve.points is None
            or "pressure" not in (sender.spec.measures or "")
        ):
            continue
        end = curve.points[-1][0]
        if end.kind != full.kind:
            continue
        in_part = sender.spec.principle == "resistive" and len(curve.points) > 2
        apart = end - full if in_part else abs(full - end)
        yield Pair(
            ident,
            ("senders", ident, "full_scale"),
            at_most(apart, rounding(full) + rounding(end)),
            f"{ident} senses up to {full.text}, and its curve ends at {end.text}",
            "read both off its plate or sheet, and correct the one that is wrong",
            open=(("senders", ident, "spec", "full_scale"), ("senders", ident, "spec", "curve")),
        )


def taps(study: Study) -> Iterator[Pair]:
    """Taps that give their normal and their highest pressure: the normal one is no higher."""
    for ident, tap in study.model.taps.items():
        if tap.pressure is None or tap.max_pressure is None:
            continue
        yield Pair(
            ident,
            ("taps", ident, "max_pressure"),
            rises(tap.pressure, tap.max_pressure),
            f"{ident} gives {tap.pressure.text} in normal use, and {tap.max_pressure.text} at the most",
            "correct one of them from the papers of the engine",
            open=(("taps", ident, "pressure"), ("taps", ident, "max_pressure")),
        )


def ranges(study: Study) -> Iterator[Pair]:
    """All that rises in its order: limits, arcs, the pressures of taps, the curves of senders, and figures of engines."""
    yield from limits(study)
    yield from taps(study)
    yield from spans(study)
    yield from engines(study)


def _figures(limit: Limit) -> dict[str, Quantity]:
    words = ("minimum", *_WITHIN, "maximum")
    return {word: figure for word in words if (figure := getattr(limit, word)) is not None}


def _ordered(
    ident: str, what: str, path: Field, figures: Mapping[str, Quantity], fields: tuple[Field, ...] = ()
) -> Iterator[Pair]:
    """One pair for figures of one kind that bound each other; ``fields`` where they are not held by their words."""
    bound = [pair for pair in _RISING if pair[0] in figures and pair[1] in figures]
    if not bound or len({figure.kind for figure in figures.values()}) > 1:
        return
    wrong = next(((a, b) for a, b in bound if not rises(figures[a], figures[b])), None)
    if wrong is None:
        yield Pair(ident, path, True, f"the limits of {what} rise in their order")
        return
    low, high = wrong
    yield Pair(
        ident,
        (*path, low),
        False,
        f"{what}: {low.replace('_', ' ')} ({figures[low].text}) is above {high.replace('_', ' ')} ({figures[high].text})",
        "correct them from the papers of the engine",
        open=fields or ((*path, low), (*path, high)),
    )
