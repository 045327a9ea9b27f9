"""Rigid tubes: sizes, strength under pressure and when held fast, bends and flare nuts."""

from functools import cache
from math import pi
from typing import Literal

from ..dataclass import dataclass
from .tables import INCH, optional_number, read_table, unknown
from .validity import finite, not_negative, positive, within

PSI = 6894.757293168361
"""One pound-force per square inch [Pa]: NIST SP 811, appendix B.8."""

POUND_INCH = 0.1129848290276167
"""One pound-force inch [N m]: NIST SP 811, appendix B.8."""

BURST_OVER_WORKING = 4.0
"""Least burst pressure over working pressure [-]: common practice, recalled."""

ROUNDNESS_IN_BEND = 0.75
"""Share of the outside diameter [-] that a bend must keep: FAA-H-8083-30, fluid lines."""

Family = Literal["aluminium", "steel", "copper"]


@dataclass(frozen=True, slots=True)
class TubeMaterial:
    """A metal: ultimate and yield strength [Pa], density [kg/m3], expansion [1/K], elastic_modulus [Pa],
    melting [degC], and what `fire` it bears as a line.
    """

    name: str
    family: Family
    ultimate: float
    yields_at: float
    density: float
    expansion: float
    elastic_modulus: float
    melting: float
    fire: str


@dataclass(frozen=True, slots=True)
class TorqueRange:
    """Nut torque [N m] that every source allows; `disputed` where the sources differ, `source` names them."""

    least: float
    most: float
    disputed: bool
    source: str


@cache
def tube_materials() -> dict[str, TubeMaterial]:
    """Every metal of the table, by its name."""
    families: dict[str, Family] = {"aluminium": "aluminium", "steel": "steel", "copper": "copper"}
    return {
        row["material"]: TubeMaterial(
            name=row["material"],
            family=families[row["family"]],
            ultimate=float(row["ultimate_psi"]) * PSI,
            yields_at=float(row["yield_psi"]) * PSI,
            density=float(row["density_kgm3"]),
            expansion=float(row["expansion_per_K"]),
            elastic_modulus=float(row["elastic_GPa"]) * 1e9,
            melting=float(row["melting_C"]),
            fire=row["fire"],
        )
        for row in read_table("tube_materials")
    }


def tube_material(name: str) -> TubeMaterial:
    """The metal called `name`."""
    try:
        return tube_materials()[name]
    except KeyError:
        raise unknown("tube material", name, tube_materials()) from None


def row_for_size(table: str, outside_diameter: float) -> dict[str, str] | None:
    """The row of a table for a tube of outside_diameter [m], None where the table does not have the size."""
    positive("outside diameter", outside_diameter, "m")
    for row in read_table(table):
        # Half a thousandth of an inch: what a decimal written for a fraction may lack.
        if abs(float(row["od_in"]) * INCH - outside_diameter) <= 0.0005 * INCH:
            return row
    return None


def outside_diameter_of_dash(dash: int) -> float:
    """Outside diameter [m] of a tube of dash number `dash` (sixteenths of an inch).

    >>> round(outside_diameter_of_dash(4) * 1000, 2)
    6.35
    """
    return within("dash number", dash, 1, 64, "sixteenths of an inch") / 16 * INCH


def drawn_walls(outside_diameter: float) -> tuple[float, ...]:
    """Walls [m] in which a tube of outside_diameter [m] is drawn; empty for a size the table does not have."""
    row = row_for_size("tube_walls", outside_diameter)
    return () if row is None else tuple(float(wall) * INCH for wall in row["walls_in"].split())


def tube_bore(outside_diameter: float, wall: float) -> float:
    """Bore [m] of a tube of outside_diameter [m] and `wall` [m]."""
    positive("wall", wall, "m")
    bore = positive("outside diameter", outside_diameter, "m") - 2 * wall
    if bore <= 0:
        raise ValueError(f"a wall of {wall:g} m leaves no bore in a tube of {outside_diameter:g} m")
    return bore


def barlow_pressure(strength: float, outside_diameter: float, wall: float) -> float:
    """Pressure [Pa] at which the hoop stress reaches `strength` [Pa]: 2 S t / D, on the outside diameter.

    outside_diameter [m], wall [m]. With the ultimate strength it is the burst pressure. It is never above
    Lame's, so it holds for thick walls too.

    >>> round(barlow_pressure(25000, 0.250, 0.035))  # psi in, psi out: 5052-O tube
    7000
    """
    tube_bore(outside_diameter, wall)
    return 2 * positive("strength", strength, "Pa") * wall / outside_diameter


def lame_pressure(strength: float, outside_diameter: float, wall: float) -> float:
    """Pressure [Pa] at which the hoop stress at the bore of a thick wall reaches `strength` [Pa].

    outside_diameter D [m], wall [m], bore d: S (D^2 - d^2) / (D^2 + d^2), Lame. For comparison: Barlow's is
    lower.
    """
    outer = outside_diameter**2
    inner = tube_bore(outside_diameter, wall) ** 2
    return positive("strength", strength, "Pa") * (outer - inner) / (outer + inner)


def pressure_margin(capability: float, applied: float) -> float:
    """How many times [-] the applied pressure [Pa] goes into what a part can bear [Pa]."""
    return positive("pressure a part can bear", capability, "Pa") / positive(
        "applied pressure", applied, "Pa"
    )


def proof_pressure(operating: float) -> float:
    """Proof test pressure [Pa] for an operating one [Pa]: twice, at least 100 psi (NAVEDTRA 14018, chapter 6).

    >>> round(proof_pressure(25 * PSI) / PSI)
    100
    """
    return max(2 * positive("operating pressure", operating, "Pa"), 100 * PSI)


def held_fast_stress(material: TubeMaterial, temperature_rise: float) -> float:
    """Stress [Pa] in a straight tube held at both ends that warms by temperature_rise [K]: E alpha dT.

    Elastic only: beyond the yield strength the tube bows or its flare works loose, hence at least one bend.
    """
    return material.elastic_modulus * material.expansion * finite("temperature rise", temperature_rise, "K")


def least_bend_radius(outside_diameter: float, family: Family) -> float | None:
    """Least bend radius [m] to the centreline of a tube of outside_diameter [m], None where unknown.

    AC 43.13-1B table 9-2 (recalled). It has no column for copper.
    """
    row = row_for_size("tube_bends_and_flares", outside_diameter)
    if row is None or family == "copper":
        return None
    radius = optional_number(row[f"bend_{family}_in"])
    return None if radius is None else radius * INCH


def keeps_round(outside_diameter: float, least_diameter_in_bend: float) -> float:
    """Share [-] of its outside_diameter [m] that a bend keeps, to hold against ROUNDNESS_IN_BEND."""
    positive("least diameter in the bend", least_diameter_in_bend, "m")
    return least_diameter_in_bend / positive("outside diameter", outside_diameter, "m")


def least_bore_in_bend(
    outside_diameter: float, metal: Literal["6061", "hard_steel", "annealed_steel"]
) -> float | None:
    """Least bore [m] in a bend of a tube of outside_diameter [m]: NAVEDTRA 14315 table 10-14, else None."""
    row = row_for_size("tube_bore_in_bends", outside_diameter)
    return None if row is None else float(row[f"bore_{metal}_in"]) * INCH


def flare_torque(
    outside_diameter: float, nut_on: Literal["aluminium", "steel", "hose"]
) -> TorqueRange | None:
    """Torque [N m] of the flare nut on a tube of outside_diameter [m] or hose end; None where unknown.

    The range that AC 43.13-1B table 9-2 (recalled) and TM 55-1520-240-23-1 both allow.
    """
    row = row_for_size("tube_bends_and_flares", outside_diameter)
    if row is None:
        return None
    ranges = {}
    for column, document in (("ac", "AC 43.13-1B table 9-2"), ("army", "TM 55-1520-240-23-1 par. 1-13")):
        least = optional_number(row.get(f"{column}_{nut_on}_min", ""))
        most = optional_number(row.get(f"{column}_{nut_on}_max", ""))
        if least is not None and most is not None:
            ranges[document] = (least, most)
    if not ranges:
        return None
    return TorqueRange(
        least=max(least for least, _ in ranges.values()) * POUND_INCH,
        most=min(most for _, most in ranges.values()) * POUND_INCH,
        disputed=len(set(ranges.values())) > 1,
        source=" and ".join(ranges),
    )


def tube_mass_per_length(
    outside_diameter: float, wall: float, density: float, fluid_density: float = 0.0
) -> float:
    """Mass per length [kg/m] of a tube of metal `density` [kg/m3] full of a fluid of fluid_density [kg/m3]."""
    bore = tube_bore(outside_diameter, wall)
    metal = positive("density", density, "kg/m3") * (outside_diameter**2 - bore**2)
    return pi / 4 * (metal + not_negative("fluid density", fluid_density, "kg/m3") * bore**2)
