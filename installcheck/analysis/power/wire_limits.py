"""What a run may carry: in its bundle, at its altitude, in the heat of its zones; by the charts; and as if alone."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from functools import lru_cache

from ...dataclass import dataclass
from ...graph.joining import groups
from ...model.comparing import at_most
from ...model.installation import split_end
from ...model.quantities import Gauge
from ...model.wiring import WireRun
from ...physics.ampacity import (
    HIGHEST,
    MOST_WIRES,
    bundle_factor,
    bundle_total,
    chart_rating,
    derated_current,
    table_applies,
    table_current,
)
from ...physics.conductors import gauges
from .. import missing
from ..missing import Missing
from ..routing import Wire, bundled, hottest_of, reached_by, run_ends, run_zones, thinnest, wires
from ..study import Study, once
from .run_currents import run_branches, run_current

COPPER = frozenset(
    (
        "copper",
        "tin-plated copper",
        "silver-plated copper",
        "nickel-plated copper",
        "high-strength copper alloy",
    )
)


@dataclass(frozen=True, slots=True)
class Surroundings:
    """What derates a wire: ``ambient`` degC, ``wires`` in its bundle of which ``share`` is in use, ``altitude`` m."""

    ambient: float
    wires: int
    share: float
    altitude: float


@dataclass(frozen=True, slots=True)
class Limit:
    """The current a run may carry.

    Attributes:
        amps: ampere in its surroundings, what the document leaves open taken at its worst; ``None`` if that has no bound.
        around: those surroundings.
        best, best_around: the same with what it leaves open taken at its best; more than ``best`` fails whatever it is.
        sure: whether it stands in the published table as it is, rather than being read from a fitted curve.
        missing: data to add; empty where ``amps`` and ``best`` are one.
        why: why a figure that is complete still has no answer.
    """

    amps: float | None
    around: Surroundings | None = None
    best: float | None = None
    best_around: Surroundings | None = None
    sure: bool = False
    missing: tuple[Missing, ...] = ()
    why: str = ""


_BEST_RATING_C, _MILD_C = 260.0, 20.0
"""degC: best wire, and a place that gets no hotter than a mild day, for what cannot pass anywhere."""


@once
def wire_limit(study: Study, ident: str, gauge: Gauge | None) -> Limit:
    """Current one conductor of a run may carry, by AC 43.13-1B 11-67 to 11-69.

    What the document leaves open is taken at its worst and at its best, and named in ``missing``: a current that passes
    at the worst needs no more, and one that fails at the best fails for certain.
    """
    run = study.model.wire_runs[ident]
    if run.spec.metal is not None and run.spec.metal not in COPPER:
        return Limit(None, missing=(missing.run_limit_of(run.spec.metal),))
    if gauge is None:
        return Limit(None, missing=(missing.RUN_GAUGE,))
    rating = run.spec.temperature_rating
    ambient, lacking = hottest_of(study, ident)
    if rating is None:
        lacking = (*lacking, missing.RUN_RATING)
    reached = ambient if ambient is not None else reached_by(study, ident)
    worst, best, open_points = _surroundings(study, run, float(reached) if reached is not None else _MILD_C)
    lacking = (*lacking, *open_points)
    beyond = best.wires > MOST_WIRES
    if beyond:  # a wire among more carries less: what fails in the largest bundle of the curve fails here
        best = replace(best, wires=MOST_WIRES)
        lacking = (*lacking, missing.bundle_limit_beyond(MOST_WIRES))
    most, sure, why = limit_in(str(gauge), float(rating) if rating is not None else _BEST_RATING_C, best)
    if beyond:
        return Limit(None, None, most, best, missing=lacking, why=why)
    if rating is None or ambient is None:
        return Limit(None, None, most, best, missing=lacking, why=why)
    amps, sure, why = limit_in(str(gauge), float(rating), worst)
    return Limit(amps, worst, most, best, sure, lacking, why)


def _surroundings(
    study: Study, run: WireRun, ambient: float
) -> tuple[Surroundings, Surroundings, tuple[Missing, ...]]:
    """The worst and the best surroundings a run can have by what is said of it, and what is left open."""
    ceiling = study.model.aircraft.ceiling
    lacking = [] if ceiling is not None else [missing.CEILING]
    high, low = (float(ceiling), float(ceiling)) if ceiling is not None else (HIGHEST, 0.0)
    most, least, full, idle = MOST_WIRES, 1, 1.0, 0.0
    bundle = study.model.bundles.get(run.bundle) if run.bundle is not None else None
    if bundle is not None and run.bundle is not None:
        least = max(1, len(_side_by_side(study, run.bundle)))
        if bundle.wires is None:
            lacking.append(missing.BUNDLE_WIRES)
        elif bundle.wires < least:
            lacking.append(missing.BUNDLE_WIRES_AGREE)
        else:
            most = least = bundle.wires
        used = _share_used(study, run.bundle)
        if bundle.load_share is None:
            lacking.append(missing.BUNDLE_SHARE)
        elif not at_most(used, bundle.load_share):
            lacking.append(missing.BUNDLE_SHARE_AGREE)
            idle = used
        else:
            full = idle = float(bundle.load_share)
    elif run.free_air:
        most = 1
    else:
        lacking.append(missing.BUNDLE_WIRES)
    return (
        Surroundings(ambient, max(most, least), full, high),
        Surroundings(ambient, least, idle, low),
        tuple(lacking),
    )


@once
def _share_used(study: Study, bundle: str) -> float:
    """Share of a bundle's current capacity its runs use at least, all their loads on (AC 43.13-1B 11-69).

    The share at which the currents come to what :func:`bundle_total` allows; 1 where that is less even so. It is 0 where a
    wire of the bundle is not listed, or its size is not known, since its part of the capacity is not known then.
    """
    members = _side_by_side(study, bundle)
    free = [_free_air(study, i, wire.gauge) for i, wire in members]
    if any(one is None for one in free) or (study.model.bundles[bundle].wires or 0) > len(members):
        return 0.0
    drawn = sum(_steady(study, i) for i in dict.fromkeys(ident for ident, _ in members))

    def short(share: float) -> float:
        factor = bundle_factor(len(members), share)
        return drawn - bundle_total((one * factor for one in free if one is not None), share)

    if len(members) > MOST_WIRES or drawn <= 0:
        return 0.0
    return 1.0 if short(1.0) > 0 else _crossing(short)


def _crossing(falling: Callable[[float], float]) -> float:
    """Where a function that falls from above zero at 0 to zero or below at 1 crosses zero, to the last digit but one.

    By halving: the library that has better ways takes longer to load than a document takes to judge.
    """
    low, high = 0.0, 1.0
    for _ in range(50):
        middle = (low + high) / 2
        if falling(middle) > 0:
            low = middle
        else:
            high = middle
    return high


def _steady(study: Study, ident: str) -> float:
    """Current [A] a run carries at least with all its loads on: 0 where it is not known, or other ways share it."""
    shared = not all(branch.alone for branch in run_branches(study, ident))
    intermittent = study.model.wire_runs[ident].duty == "intermittent"
    return 0.0 if shared or intermittent else run_current(study, ident).value or 0.0


@once
def _side_by_side(study: Study, bundle: str) -> list[tuple[str, Wire]]:
    """Wires of a bundle that lie side by side for certain, in the zone with most of them: run and wire.

    Runs that end at one device may follow each other along the bundle; of such a chain the run with the least current counts.
    """
    runs = bundled(study)[bundle]
    links: list[tuple[tuple[str, str], tuple[str, str]]] = [
        (("run", i), ("at", split_end(end)[0])) for i in runs for end in run_ends(study.model.wire_runs[i])
    ]
    chains = [[i for i in runs if ("run", i) in chain] for chain in groups(links)]
    zones = {zone for i in runs for zone in run_zones(study, i) or ()}
    best: list[tuple[str, Wire]] = []
    for zone in sorted(zones):
        here = [[i for i in chain if zone in (run_zones(study, i) or ())] for chain in chains]
        least = [
            chain[0] if len(chain) == 1 else min(chain, key=lambda i: _steady(study, i))
            for chain in here
            if chain
        ]
        best = max(best, [(i, wire) for i in least for wire in wires(study.model.wire_runs[i])], key=len)
    return best


def _free_air(study: Study, ident: str, gauge: Gauge | None) -> float | None:
    """Current [A] of a wire alone in free air at the ceiling; ``None`` where something of it is not known."""
    ceiling, rating = study.model.aircraft.ceiling, study.model.wire_runs[ident].spec.temperature_rating
    ambient = hottest_of(study, ident)[0]
    if ceiling is None or rating is None or ambient is None or gauge is None:
        return None
    return limit_in(str(gauge), float(rating), Surroundings(float(ambient), 1, 0.0, float(ceiling)))[0]


@lru_cache(maxsize=4096)
def limit_in(gauge: str, rating: float, around: Surroundings) -> tuple[float | None, bool, str]:
    """Ampere of a copper wire in its surroundings, whether the published table says so itself, and why there is none."""
    if around.ambient >= rating:
        return 0.0, False, ""
    try:
        amps = derated_current(
            gauge, rating, around.ambient, around.wires, min(around.share, 1.0), around.altitude
        ).current
    except ValueError as bad:
        return None, False, str(bad)
    try:
        if table_applies(gauge, around.ambient, around.wires, around.share, around.altitude):
            listed = table_current(gauge, rating)
            if listed >= amps:
                return listed, True, ""
    except ValueError:
        pass  # the table does not list every gauge and rating; the curve stands alone then
    return amps, False, ""


def smallest_gauge(study: Study, ident: str, amps: float) -> str | None:
    """Smallest gauge that carries ``amps`` where this run lies and is heavier than its own; ``None`` if none is known."""
    gauge = thinnest(study.model.wire_runs[ident])
    for size in sizes():
        limit = wire_limit(study, ident, Gauge(size))
        if limit.amps is not None and at_most(amps, limit.amps):
            return size if gauge is None or Gauge(size).number < gauge.number else None
    return None


@lru_cache(maxsize=1)
def sizes() -> tuple[str, ...]:
    """Gauges of general aircraft wire, thinnest first; 22 is the least."""
    return tuple(sorted((g for g in gauges() if Gauge(g).number <= 22), key=lambda g: -Gauge(g).number))


@lru_cache(maxsize=512)
def chart_amps(gauge: str, kind: str) -> float | None:
    """Largest breaker, fuse or limiter of AC 43.13-1B table 11-3 for a copper wire; ``None`` where the chart is blank."""
    try:
        row = chart_rating(gauge)
    except ValueError:
        return None
    return row.breaker if kind == "breaker" else row.fuse


@lru_cache(maxsize=512)
def table_amps(gauge: str, rating: float) -> float | None:
    """Ampere of AC 43.13-1B table 11-9 for a copper wire of a temperature rating; ``None`` where it gives none."""
    try:
        return table_current(gauge, rating)
    except ValueError:
        return None


def described(around: Surroundings) -> Iterator[str]:
    """The surroundings in words: '85 degC', '20 wires with 20 % in use', '14000 ft'."""
    yield f"{around.ambient:.0f} degC"
    if around.wires == 1:
        yield "free air"
    else:
        yield f"a bundle of {around.wires} with {around.share * 100:.3g} % in use"
    yield f"{around.altitude / 0.3048:.0f} ft"
