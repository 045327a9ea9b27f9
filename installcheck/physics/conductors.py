"""Resistance of aircraft wire, cold and hot, the voltage it drops, and how far it may run.

Gauges are written as on the spool: '22', '0', '2/0'. Resistances are the most the source allows, so drops err high.
"""

from functools import cache
from math import sqrt

from ..dataclass import dataclass
from .tables import optional_number, read_table, unknown
from .validity import finite, not_negative, positive, within

FOOT = 0.3048
"""One foot [m], exact: NIST SP 811, appendix B.8."""

TIN_PLATED = "tin-plated copper"
"""The conductor of most general-purpose aircraft wire."""

COLDEST, HOTTEST = -100.0, 400.0
"""Range [degC] in which the straight line of resistance against temperature stays within 3 percent of copper's."""

COPPER_DENSITY = 8890.0
"""Density of copper [kg/m3]: annealed copper standard, 8.89 g/cm3 at 20 degC."""

CIRCULAR_MIL = 5.067075e-10
"""One circular mil [m2], the area of a circle 0.001 in across: NIST SP 811, appendix B.8."""

FEEDER_DROP_SHARE = 0.02
"""Share of the regulated voltage that source or battery to bus may drop [-]: FAA-H-8083-31, wire size selection."""


@dataclass(frozen=True, slots=True)
class Conductor:
    """A kind of conductor: inferred `zero` [degC below 0] of its resistance, `highest` temperature [degC] or None."""

    kind: str
    zero: float
    highest: float | None
    status: str
    ohm_per_metre: dict[str, float]


@dataclass(frozen=True, slots=True)
class WireType:
    """Wire of one specification sheet: working `voltage` [V], temperature `rating` [degC]."""

    name: str
    conductor: str
    insulation: str
    voltage: float
    rating: float
    status: str


@dataclass(frozen=True, slots=True)
class DropLimit:
    """Allowable drop of AC 43.13-1B table 11-6: `system` [V], `drop` [V], `status` verified or recalled."""

    system: float
    drop: float
    status: str


@cache
def conductor(kind: str = TIN_PLATED) -> Conductor:
    """A kind of conductor by name: `tin-plated copper`, `nickel-plated copper`, `aluminium` and so on."""
    rows = read_table("conductor_kinds")
    for row in rows:
        if row["kind"] == kind:
            return Conductor(
                kind,
                float(row["zero_c"]),
                optional_number(row["highest_c"]),
                row["status"],
                {r["awg"]: float(r["ohm_per_1000ft"]) / (1000 * FOOT) for r in read_table(row["table"])},
            )
    raise unknown("conductor", kind, [row["kind"] for row in rows])


def conductor_kinds() -> tuple[str, ...]:
    """Names of the conductors known."""
    return tuple(row["kind"] for row in read_table("conductor_kinds"))


@cache
def wire_types() -> dict[str, WireType]:
    """Wire types by name."""
    return {
        row["type"]: WireType(
            row["type"],
            row["conductor"],
            row["insulation"],
            float(row["volts"]),
            float(row["rating_c"]),
            row["status"],
        )
        for row in read_table("wire_types")
    }


def gauge_number(gauge: str) -> int:
    """A gauge as a number that falls as the wire grows: 22, 0, -1 for 2/0.

    >>> sorted(["2/0", "22", "8", "0"], key=gauge_number, reverse=True)
    ['22', '8', '0', '2/0']
    """
    return 1 - int(gauge.removesuffix("/0")) if gauge.endswith("/0") else int(gauge)


def gauges(kind: str = TIN_PLATED) -> tuple[str, ...]:
    """Gauges in which a conductor is made, thinnest first."""
    return tuple(conductor(kind).ohm_per_metre)


def resistance_at(resistance: float, temperature: float, kind: str = TIN_PLATED) -> float:
    """Resistance [ohm] at a `temperature` [degC] of a conductor of `resistance` [ohm] at 20 degC.

    R = R20 (z + T) / (z + 20), z 234.5 for copper and 238.1 for aluminium: AC 43.13-1B 11-66, where the same relation
    is written for the length.

    >>> round(resistance_at(0.11856, 85.0), 5)
    0.14884
    """
    zero = conductor(kind).zero
    within("conductor temperature", temperature, COLDEST, HOTTEST, "degC")
    return not_negative("resistance", resistance, "ohm") * (zero + temperature) / (zero + 20)


def wire_resistance(gauge: str, length: float, temperature: float = 20.0, kind: str = TIN_PLATED) -> float:
    """Resistance [ohm] of a wire of `length` [m] at a `temperature` [degC]: AC 43.13-1B table 11-9.

    >>> round(wire_resistance("20", 12 * FOOT), 5)
    0.11856
    """
    made = conductor(kind).ohm_per_metre
    if gauge not in made:
        raise ValueError(f"no resistance for {kind} of size {gauge}; known: {', '.join(made)}")
    return resistance_at(made[gauge] * not_negative("wire length", length, "m"), temperature, kind)


def hot_run_length(length: float, temperature: float, kind: str = TIN_PLATED) -> float:
    """Length [m] that at a `temperature` [degC] drops what `length` [m] drops at 20 degC: AC 43.13-1B 11-66.

    >>> round(hot_run_length(15.5 * FOOT, 181.6) / FOOT, 2)
    9.48
    """
    return not_negative("wire length", length, "m") / resistance_at(1.0, temperature, kind)


def voltage_drop(resistance: float, current: float) -> float:
    """Drop [V] across a `resistance` [ohm] that carries a `current` [A]."""
    return not_negative("resistance", resistance, "ohm") * finite("current", current, "A")


def allowable_drop(nominal: float, intermittent: bool = False) -> DropLimit:
    """Allowable drop for a system of `nominal` voltage [V]: AC 43.13-1B table 11-6.

    >>> allowable_drop(28).drop, allowable_drop(12, intermittent=True).drop
    (1.0, 1.0)
    """
    positive("system voltage", nominal, "V")
    duty = "intermittent" if intermittent else "continuous"
    rows = read_table("voltage_drop_limits")
    for row in rows:
        if float(row["lowest_v"]) <= nominal <= float(row["highest_v"]):
            return DropLimit(float(row["system_v"]), float(row[f"{duty}_v"]), row[f"{duty}_status"])
    known = ", ".join(row["system_v"] for row in rows)
    raise ValueError(f"table 11-6 has no system of {nominal:g} V; known: {known} V")


def feeder_drop_limit(regulated: float) -> float:
    """Allowable drop [V] from source or battery to bus: 2 percent of the `regulated` voltage [V], FAA-H-8083-31."""
    return FEEDER_DROP_SHARE * positive("regulated voltage", regulated, "V")


def longest_run(
    gauge: str, current: float, drop: float, temperature: float = 20.0, kind: str = TIN_PLATED
) -> float:
    """Length [m], ground wire included, at which a `current` [A] drops `drop` [V]: AC 43.13-1B 11-66.

    >>> round(longest_run("22", 1.0, 0.5) / FOOT, 2)
    30.86
    """
    per_metre = wire_resistance(gauge, 1.0, temperature, kind)
    return positive("allowable drop", drop, "V") / (per_metre * positive("current", current, "A"))


def compliance_temperature(ambient: float, rating: float, current: float, limit: float) -> float:
    """Conductor temperature [degC] by the AC's estimate, T1 + (TR - T1) (I / Imax)^0.5: AC 43.13-1B 11-66.

    ambient, rating: surroundings and wire rating [degC]. current: carried [A]. limit: derated current [A].
    The AC calls it quite conservative; it holds up to the limit, where it gives the rating.

    >>> round(compliance_temperature(50, 200, 20, 26), 1)
    181.6
    """
    return ambient + (rating - ambient) * sqrt(_load_share(ambient, rating, current, limit))


def balance_temperature(ambient: float, rating: float, current: float, limit: float) -> float:
    """Conductor temperature [degC] where heating by I^2 R balances a loss that grows with the rise.

    Arguments as in `compliance_temperature`. Information only: the AC's own estimate is higher.

    >>> round(balance_temperature(50, 200, 20, 26), 1)
    138.8
    """
    return ambient + (rating - ambient) * _load_share(ambient, rating, current, limit) ** 2


def _load_share(ambient: float, rating: float, current: float, limit: float) -> float:
    finite("ambient temperature", ambient, "degC")
    if finite("wire rating", rating, "degC") <= ambient:
        raise ValueError(f"a wire rated {rating:g} degC carries nothing in {ambient:g} degC")
    positive("current limit", limit, "A")
    if not_negative("current", current, "A") > limit:
        raise ValueError(
            f"no conductor temperature is known above the current limit: {current:g} A of {limit:g} A"
        )
    return current / limit


def bare_copper_mass(gauge: str, length: float) -> float:
    """Mass [kg] of the copper alone in a wire of `length` [m]; insulation is the maker's figure to add.

    >>> round(bare_copper_mass("22", 1000 * FOOT) / 0.45359237, 2)  # lb per 1000 ft
    2.29
    """
    for row in read_table("copper_wire"):
        if row["awg"] == gauge:
            area = float(row["area_cmil"]) * CIRCULAR_MIL
            return area * COPPER_DENSITY * not_negative("wire length", length, "m")
    raise unknown("copper wire of size", gauge, gauges())


def least_bend_radius(diameter: float, place: str = "general") -> float:
    """Least bend radius [m] of a wire or cable of outside `diameter` [m]: ten times, less at a supported breakout.

    >>> round(least_bend_radius(0.30), 2)  # in, for 0.30 in
    3.0
    """
    rows = read_table("bend_radii")
    for row in rows:
        if row["place"] == place:
            return float(row["diameters"]) * positive("outside diameter", diameter, "m")
    raise unknown("bend place", place, [row["place"] for row in rows])
