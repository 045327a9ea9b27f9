"""Current a wire may carry in its bundle and at its altitude, and the protector that keeps it there.

The published curves are read as formulas that give no more than the points known of them; see each function. They fall
short of those points by up to `MARGIN`, so a current that little above its limit deserves a look at the published curve.
"""

from collections.abc import Callable, Iterable
from functools import cache
from math import exp, sqrt

import numpy as np
from numpy.typing import NDArray

from ..dataclass import dataclass
from .conductors import TIN_PLATED, conductor, gauge_number
from .tables import optional_number, read_table, unknown
from .validity import finite, not_negative, positive, within

FloatArray = NDArray[np.float64]

MARGIN = 0.15
"""Share by which the published curves may lie above a formula's answer [-]: 11 percent in free air (20 AWG: 19.3 for 21.5 A),
and 4 percent in a bundle."""

MOST_WIRES = 40
"""Largest bundle for which the bundle factor has data [wires]: the printed points reach 35."""

HIGHEST = 60_000 * 0.3048
"""Highest altitude of the altitude curve [m]: 60,000 ft."""

TABLE_AMBIENT = 70.0
"""Ambient of AC 43.13-1B table 11-9 [degC], note 1."""

TABLE_LOAD = 0.20
"""Share of the harness capacity in use of AC 43.13-1B table 11-9 [-], note 1."""

BUNDLE_WEIGHT, BUNDLE_EXPONENT = 0.52, -0.46
"""Constants of the bundle factor [-]: the pair in steps of 0.01 that comes closest to the 95 points read from the bundle
curves of MIL-W-5088L (1 to 19 wires, 20 to 100 percent; secondary) from below: it is at most 4 percent under them and
above none, nor above 0.6 at 8 wires and 60 percent (AC 43.13-1B example 2) and 0.52 at 35 wires and 20 percent (recalled)."""

RADIATED = 0.48
"""Share of a wire's heat lost without the help of air [-]: fitted to 0.91 at 20,000 ft (AC 43.13-1B example 2, verified)
and 0.79 at 60,000 ft (recalled)."""


@dataclass(frozen=True, slots=True)
class Derating:
    """How a wire's current came about: `free_air` [A], `bundle` and `altitude` factors [-], `current` [A]."""

    free_air: float
    bundle: float
    altitude: float
    current: float


@dataclass(frozen=True, slots=True)
class ChartRating:
    """Largest `breaker` and `fuse` [A] of AC 43.13-1B table 11-3, None where the chart is blank, and its `status`."""

    breaker: float | None
    fuse: float | None
    status: str


@cache
def _constants() -> dict[str, tuple[float, float]]:
    return {
        row["awg"]: (float(row["k_min"]), float(row["k_mean"])) for row in read_table("free_air_constants")
    }


def free_air_current(gauge: str, rating: float, ambient: float, mean: bool = False) -> float:
    """Current [A] of one copper wire in free air at sea level: k (rating - ambient)^0.5.

    rating: of the wire, 105 to 260 [degC]. ambient: [degC]. mean: the middle constant, for display; the default is the
    least, for judging. Heating by I^2 R balances a loss nearly proportional to the rise. AC 43.13-1B figures 11-4a
    and b, through constants derived from table 11-9.

    >>> round(free_air_current("14", 200, 50, mean=True), 1)  # the AC reads 47 from its curve
    47.7
    """
    constants = _constants()
    if gauge not in constants:
        raise unknown("free-air current for size", gauge, constants)
    within("wire rating", rating, 105, 260, "degC")
    if finite("ambient temperature", ambient, "degC") >= rating:
        raise ValueError(f"a wire rated {rating:g} degC carries nothing in {ambient:g} degC")
    return constants[gauge][mean] * sqrt(rating - within("ambient temperature", ambient, -100, 260, "degC"))


def bundle_factor(wires: int, load: float) -> float:
    """Share of its free-air current [-] a wire keeps in a bundle of `wires` of which `load` [0-1] of capacity is in use.

    (1 + 0.52 load (wires - 1))^-0.46, for up to 40 wires.

    >>> round(bundle_factor(8, 0.6), 2), round(bundle_factor(35, 0.2), 2), round(bundle_factor(12, 1.0), 2)
    (0.59, 0.5, 0.42)
    """
    within("share of bundle capacity in use", load, 0, 1, "(no unit)")
    if not 1 <= wires <= MOST_WIRES:
        raise ValueError(f"the bundle factor has data for 1 to {MOST_WIRES} wires, not {wires}")
    return float((1 + BUNDLE_WEIGHT * load * (wires - 1)) ** BUNDLE_EXPONENT)


def pressure_ratio(altitude: float) -> float:
    """Pressure at an `altitude` [m] over that at sea level [-]: ISO 2533 standard atmosphere, up to 20,000 m.

    >>> round(pressure_ratio(20_000 * 0.3048), 4)
    0.4595
    """
    within("altitude", altitude, -2000, 20_000, "m")
    if altitude <= 11_000:
        return float((1 - 0.0065 * altitude / 288.15) ** 5.25588)
    return pressure_ratio(11_000) * exp(-(altitude - 11_000) / 6341.62)


def altitude_factor(altitude: float) -> float:
    """Share of its sea-level current [-] a wire keeps at an `altitude` [m], up to 18,288 m; 1 below sea level.

    (0.48 + 0.52 (p/p0)^0.5)^0.5: about half the heat is radiated, half carried off by air in proportion to the root of
    its pressure.

    >>> round(altitude_factor(20_000 * 0.3048), 2), round(altitude_factor(60_000 * 0.3048), 2)
    (0.91, 0.79)
    """
    if finite("altitude", altitude, "m") > HIGHEST:
        raise ValueError(f"the altitude curve ends at {HIGHEST:.0f} m (60,000 ft), not {altitude:g} m")
    return min(1.0, sqrt(RADIATED + (1 - RADIATED) * sqrt(pressure_ratio(altitude))))


def derated_current(
    gauge: str,
    rating: float,
    ambient: float,
    wires: int = 1,
    load: float = 1.0,
    altitude: float = 0.0,
    mean: bool = False,
) -> Derating:
    """Current of a copper wire in its bundle at its altitude: AC 43.13-1B 11-67 to 11-69, in that order.

    Arguments as in `free_air_current`, `bundle_factor` and `altitude_factor`.

    >>> round(derated_current("22", 150, 70, wires=6, altitude=12_500 * 0.3048).current, 2)
    5.74
    """
    free = free_air_current(gauge, rating, ambient, mean)
    bundle, height = bundle_factor(wires, load), altitude_factor(altitude)
    return Derating(free, bundle, height, free * bundle * height)


def bundle_total(currents: Iterable[float], load: float) -> float:
    """Total current [A] allowed in a bundle: the sum of the derated `currents` [A] times `load` [0-1].

    AC 43.13-1B 11-69, recalled.

    >>> round(bundle_total([6.6] * 25 + [8.8] * 10, 0.2), 1)
    50.6
    """
    within("share of bundle capacity in use", load, 0, 1, "(no unit)")
    return load * sum(not_negative("derated current", current, "A") for current in currents)


@cache
def table_current(gauge: str, rating: float, kind: str = TIN_PLATED) -> float:
    """Current [A] of AC 43.13-1B table 11-9 (11-10 for aluminium) in the column of the wire's `rating` [degC] or below.

    Only under the table's conditions, which `table_applies` checks.

    >>> table_current("20", 150), table_current("20", 199)
    (7.0, 7.0)
    """
    finite("wire rating", rating, "degC")
    conductor(kind)  # refuses an unknown kind
    table = "aluminium_wire" if kind == "aluminium" else "copper_wire"
    for row in read_table(table):
        if row["awg"] == gauge:
            columns = [
                (limit, amps)
                for limit in (105, 150, 200)
                if (amps := optional_number(row.get(f"amps_{limit}c", ""))) is not None and limit <= rating
            ]
            if not columns:
                raise ValueError(
                    f"the table gives no current for {kind} of size {gauge} rated {rating:g} degC"
                )
            return max(columns)[1]
    raise unknown(f"current for {kind} of size", gauge, [row["awg"] for row in read_table(table)])


def table_applies(gauge: str, ambient: float, wires: int, load: float, altitude: float) -> bool:
    """Whether table 11-9 covers a wire as it stands, with no factor: its note 1, or easier on every count.

    ambient: [degC]. wires, load: bundle and share of its capacity in use [0-1]. altitude: [m].
    """
    most = 33 if gauge_number(gauge) >= 10 else 9
    return ambient <= TABLE_AMBIENT and wires <= most and load <= TABLE_LOAD and altitude <= HIGHEST


@cache
def chart_rating(gauge: str) -> ChartRating:
    """Largest breaker and fuse for a copper wire: AC 43.13-1B table 11-3.

    >>> chart_rating("20").breaker, chart_rating("20").fuse
    (7.5, 5.0)
    """
    rows = read_table("breaker_fuse")
    for row in rows:
        if row["awg"] == gauge:
            return ChartRating(
                optional_number(row["breaker_a"]), optional_number(row["fuse_a"]), row["status"]
            )
    raise unknown("protector chart entry for size", gauge, [row["awg"] for row in rows])


@cache
def standard_ratings(kind: str) -> tuple[float, ...]:
    """Ratings [A] in which a `breaker` or `fuse` is stocked, smallest first."""
    rows = read_table("protector_ratings")
    found = tuple(float(row["rating_a"]) for row in rows if row["kind"] == kind)
    if not found:
        raise unknown("protector", kind, {row["kind"] for row in rows})
    return found


def smallest_rating(kind: str, load: float, wire_current: float) -> float | None:
    """Smallest stocked rating [A] above the `load` [A] and below the wire's current [A], or None: AC 43.13-1B 11-48.

    A thermal breaker loaded to its rating trips in a warm panel, so the rating is kept above the load.

    >>> smallest_rating("breaker", 4.0, 7.0), smallest_rating("breaker", 4.9, 5.0)
    (5.0, None)
    """
    not_negative("load", load, "A")
    positive("wire current", wire_current, "A")
    return next((rating for rating in standard_ratings(kind) if load < rating < wire_current), None)


@dataclass(frozen=True, slots=True)
class Heated:
    """Conductors settled with their own heat: temperature [degC], resistance [ohm], current [A], one entry each.

    `over_limit`: current above the limit, where no temperature is known and the rating is taken. `settled`: whether the
    temperatures came to rest.
    """

    temperature: FloatArray
    resistance: FloatArray
    current: FloatArray
    over_limit: NDArray[np.bool_]
    settled: bool


def heat_conductors(
    currents: Callable[[FloatArray], FloatArray],
    cold: FloatArray,
    ambient: FloatArray,
    rating: FloatArray,
    limit: FloatArray,
    power: float = 2.0,
    tolerance: float = 0.01,
    kind: str = TIN_PLATED,
) -> Heated:
    """Settle conductors whose current heats them and whose heat changes the current.

    currents: gives the currents [A] for resistances [ohm], as by solving a network. cold: resistance at 20 degC [ohm].
    ambient, rating: [degC]. limit: derated currents [A]. power: of the load share in the temperature rise, 2 for the
    heat balance, 0.5 for the AC's estimate (see conductors.py). tolerance: of the temperatures [degC].
    """
    if power not in (0.5, 2.0):
        raise ValueError(
            f"the temperature rise goes with the load share to the power 0.5 or 2, not {power:g}"
        )
    positive("temperature tolerance", tolerance, "degC")
    arrays = (cold, ambient, rating, limit)
    if not all(np.isfinite(array).all() for array in arrays) or (cold < 0).any() or (limit <= 0).any():
        raise ValueError(
            "resistances, temperatures and current limits must be finite, and the limits above 0 A"
        )
    if (rating <= ambient).any():
        raise ValueError("every wire must be rated above its ambient temperature")
    zero = conductor(kind).zero
    temperature = ambient.astype(np.float64)
    settled = False
    for _ in range(50):
        resistance = cold * (zero + temperature) / (zero + 20)
        current = np.abs(currents(resistance))
        hotter = ambient + (rating - ambient) * np.minimum(current / limit, 1.0) ** power
        settled = bool((np.abs(hotter - temperature) <= tolerance).all())
        temperature = hotter
        if settled:
            break
    return Heated(temperature, resistance, current, current > limit, settled)
