"""Flexible hose: its ratings, and the length it needs between two fittings."""

from functools import cache

from ..dataclass import dataclass
from .tables import INCH, optional_number, read_table
from .tubes import PSI
from .validity import positive, within

LEAST_SLACK = 0.05
"""Least slack [share of the distance]: FAA-H-8083-30 fluid lines chapter; NAVEDTRA 14105."""

MOST_SLACK = 0.08
"""Most slack [share of the distance], same sources."""

GROWTH_UNDER_PRESSURE = 0.02
"""Most that a hose grows under pressure [share of its length]: AC 43.13-1B figure 9-9."""

SHRINK_UNDER_PRESSURE = 0.04
"""Most that a hose shrinks under pressure [share of its length]: AC 43.13-1B figure 9-9."""

STRAIGHT_AT_END = 2.0
"""Straight length [outside diameters] a hose keeps at each end fitting: FAA-H-8083-30, fluid lines chapter."""

SUPPORT_SPACING = 24 * INCH
"""Greatest distance [m] between hose supports: AC 43.13-1B 9-30(d)(3), NAVEDTRA 14105."""


@dataclass(frozen=True, slots=True)
class HoseRating:
    """A hose size: diameters [m], operating, burst and proof pressure [Pa], bend radius [m], temperatures [degC]."""

    dash: int
    tube_outside_diameter: float
    bore: float
    outside_diameter: float
    operating: float
    burst: float
    proof: float | None
    bend_radius: float
    lowest: float
    highest: float


@cache
def mil_h_8794_hoses() -> dict[int, HoseRating]:
    """Single-wire-braid rubber hose to MIL-H-8794 by dash number: AC 43.13-1B table 9-3.

    Greatest pressure and greatest temperature must not come together.
    """
    hoses = {}
    for row in read_table("hose_mil_h_8794"):
        proof = optional_number(row["proof_psi"])
        hoses[int(row["dash"])] = HoseRating(
            dash=int(row["dash"]),
            tube_outside_diameter=float(row["tube_od_in"]) * INCH,
            bore=float(row["hose_id_in"]) * INCH,
            outside_diameter=float(row["hose_od_in"]) * INCH,
            operating=float(row["operating_psi"]) * PSI,
            burst=float(row["burst_psi"]) * PSI,
            proof=None if proof is None else proof * PSI,
            bend_radius=float(row["bend_radius_in"]) * INCH,
            lowest=(float(row["lowest_F"]) - 32) / 1.8,
            highest=(float(row["highest_F"]) - 32) / 1.8,
        )
    return hoses


def hose_length(distance: float, slack: float = LEAST_SLACK) -> float:
    """Length [m] of a hose for a `distance` [m] between fittings with `slack` [share of the distance].

    >>> round(hose_length(18), 2)  # inch in, inch out
    18.9
    """
    within("slack", slack, 0, 1, "of the distance")
    return positive("distance between fittings", distance, "m") * (1 + slack)


def hose_slack(length: float, distance: float) -> float:
    """Slack [share of the distance] of a hose of `length` [m] over a `distance` [m]; negative when too short."""
    return positive("length", length, "m") / positive("distance between fittings", distance, "m") - 1


def shortest_under_pressure(length: float) -> float:
    """Length [m] to which a hose of `length` [m] may shrink under pressure."""
    return positive("length", length, "m") * (1 - SHRINK_UNDER_PRESSURE)


def longest_under_pressure(length: float) -> float:
    """Length [m] to which a hose of `length` [m] may grow under pressure."""
    return positive("length", length, "m") * (1 + GROWTH_UNDER_PRESSURE)
