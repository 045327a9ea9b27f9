"""What a run may carry: in its bundle, at its altitude, in the heat of its zones; by the charts; and as if alone."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

from ...model.comparing import at_most
from ...model.quantities import Gauge
from ...model.wiring import WireRun
from ...physics.ampacity import (
    HIGHEST,
    MOST_WIRES,
    chart_rating,
    derated_current,
    table_applies,
    table_current,
)
from ...physics.conductors import gauges
from .. import missing
from ..missing import Missing
from ..routing import (
    hottest_of,
    thinnest,
)
from ..study import Study, once

RATING = missing.RUN_RATING
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
        amps: ampere in its surroundings; ``None`` if not known.
        sure: whether it stands in the published table as it is, rather than being read from a fitted curve.
        around: the surroundings it holds in.
        worst: whether the surroundings are the worst there can be, taken because the document leaves them open.
        missing: data to add.
        why: why a figure that is complete still has no answer.
    """

    amps: float | None
    sure: bool = False
    around: Surroundings | None = None
    worst: bool = False
    missing: tuple[Missing, ...] = ()
    why: str = ""


@once
def wire_limit(study: Study, ident: str, gauge: Gauge | None) -> Limit:
    """Current one conductor of a run may carry, by AC 43.13-1B 11-67 to 11-69.

    What the document leaves open is taken at its worst, and named in ``missing``; a current that passes even so needs no more.
    """
    run = study.model.wire_runs[ident]
    ambient, lacking = hottest_of(study, ident)
    if gauge is None:
        lacking = (*lacking, missing.RUN_GAUGE)
    if run.spec.temperature_rating is None:
        lacking = (*lacking, missing.RUN_RATING)
    if ambient is None or gauge is None or run.spec.temperature_rating is None:
        return Limit(None, missing=lacking)
    if run.spec.metal is not None and run.spec.metal not in COPPER:
        return Limit(None, missing=(missing.run_limit_of(run.spec.metal),))
    around, open_points = _surroundings(study, run, float(ambient))
    if around.wires > MOST_WIRES:
        return Limit(None, around=around, missing=(missing.bundle_limit_beyond(MOST_WIRES),))
    amps, sure, why = limit_in(str(gauge), float(run.spec.temperature_rating), around)
    return Limit(amps, sure, around, bool(open_points), open_points, why)


def _surroundings(study: Study, run: WireRun, ambient: float) -> tuple[Surroundings, tuple[Missing, ...]]:
    ceiling = study.model.aircraft.ceiling
    altitude = float(ceiling) if ceiling is not None else HIGHEST
    lacking = [] if ceiling is not None else [missing.CEILING]
    bundle = study.model.bundles.get(run.bundle) if run.bundle is not None else None
    count, share = 1, 1.0
    if bundle is not None:
        count = bundle.wires if bundle.wires is not None else MOST_WIRES
        share = float(bundle.load_share) if bundle.load_share is not None else 1.0
        lacking += [missing.BUNDLE_WIRES] * (bundle.wires is None)
        lacking += [missing.BUNDLE_SHARE] * (bundle.load_share is None)
    elif not run.free_air:
        count = MOST_WIRES
        lacking.append(missing.BUNDLE_WIRES)
    return Surroundings(ambient, count, share, altitude), tuple(lacking)


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
