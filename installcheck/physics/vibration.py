"""Supports of a line and what shakes: spans of tube, senders on a stem, and the engine that drives them."""

from math import ceil, pi, sqrt

from .tables import INCH, read_table
from .tubes import Family
from .validity import not_negative, positive, within

WITH_FITTINGS = 0.8
"""Share [-] of the support distance where a tube carries unions or tees: MIL-H-8891A."""

COPPER_SHARE = 0.84
"""Share [-] of the aluminium distance at which copper has the same frequency: fourth root of its E/density."""


def support_spacing(outside_diameter: float, family: Family, carries_fittings: bool = False) -> float:
    """Greatest distance [m] between supports of a rigid tube of outside_diameter [m].

    From MIL-H-8891A table II (steel, 1/4 to 1 1/2 inch) and a maintenance handbook (recalled: aluminium, 1/8 to 1 inch, and
    smaller steel); a size between two rows is judged by the smaller. Copper, in neither, gets the aluminium distance shortened to the same frequency.
    """
    largest = 1.5005 if family == "steel" else 1.0005
    within("outside diameter", outside_diameter, 0.1245 * INCH, largest * INCH, "m")
    column = "steel_in" if family == "steel" else "aluminium_in"
    # Half a thousandth of an inch: what a decimal written for a fraction may lack.
    fitting = [
        float(row[column])
        for row in read_table("tube_supports")
        if row[column] and float(row["od_in"]) * INCH <= outside_diameter + 0.0005 * INCH
    ]
    return (
        max(fitting)
        * INCH
        * (WITH_FITTINGS if carries_fittings else 1)
        * (COPPER_SHARE if family == "copper" else 1)
    )


def supports_between(run: float, spacing: float) -> int:
    """Clamps needed between the two end fittings of a `run` [m] when none may be more than `spacing` [m] apart.

    >>> supports_between(60, 13.5)  # inch
    4
    """
    spans = not_negative("run", run, "m") / positive("spacing", spacing, "m")
    # A run of exactly so many spans must not need one more for a rounding.
    return max(0, ceil(spans * (1 - 1e-12)) - 1)


def second_moment(outside_diameter: float, bore: float) -> float:
    """Second moment of area [m4] of a round tube or stem, pi (D^4 - d^4) / 64, of diameters [m]."""
    positive("outside diameter", outside_diameter, "m")
    within("bore", bore, 0, outside_diameter, "m")
    return positive("second moment of area", pi / 64 * (outside_diameter**4 - bore**4), "m4")


def span_frequency(
    elastic_modulus: float, second_moment: float, mass_per_length: float, span: float
) -> float:
    """First natural frequency [Hz] of a span between two clamps: (pi/2) sqrt(E I / (m L^4)).

    elastic_modulus E [Pa], second_moment I [m4], mass_per_length m [kg/m] with its fluid, span L [m].
    Clamps are taken as pins; a stiff clamp raises it up to 2.27 times. Source: Blevins, Formulas for
    Natural Frequency, 8-1.
    """
    positive("elastic modulus", elastic_modulus, "Pa")
    positive("second moment of area", second_moment, "m4")
    positive("mass per length", mass_per_length, "kg/m")
    return pi / 2 * sqrt(elastic_modulus * second_moment / mass_per_length) / positive("span", span, "m") ** 2


def span_for_frequency(
    elastic_modulus: float, second_moment: float, mass_per_length: float, frequency: float
) -> float:
    """Longest span [m] whose first natural frequency is `frequency` [Hz]; the inverse of `span_frequency`."""
    unit_span = span_frequency(elastic_modulus, second_moment, mass_per_length, 1.0)
    return sqrt(unit_span / positive("frequency", frequency, "Hz"))


def firing_frequency(revolutions_per_minute: float, cylinders: int) -> float:
    """Firings per second [Hz] of a four-stroke engine: each cylinder fires every second turn.

    >>> firing_frequency(2700, 4)
    90.0
    """
    within("cylinders", cylinders, 1, 36, "(count)")
    return not_negative("engine speed", revolutions_per_minute, "rpm") / 60 * cylinders / 2


def stem_frequency(elastic_modulus: float, second_moment: float, mass: float, arm: float) -> float:
    """First natural frequency [Hz] of a sender at the end of a stem: sqrt(3 E I / (m L^3)) / (2 pi).

    elastic_modulus E [Pa], second_moment I [m4] at the root, mass m [kg], arm L [m] from the root to the
    sender's centre of mass. The stem's own mass and the give of the boss are left out, so the true one is
    lower.
    """
    positive("elastic modulus", elastic_modulus, "Pa")
    positive("second moment of area", second_moment, "m4")
    positive("mass", mass, "kg")
    return sqrt(3 * elastic_modulus * second_moment / (mass * positive("arm", arm, "m") ** 3)) / (2 * pi)


def stem_stress(mass: float, acceleration: float, arm: float, outside_diameter: float, bore: float) -> float:
    """Bending stress [Pa] at the root of a sender's stem: m a L c / I.

    mass [kg], acceleration [m/s2], arm [m], root outside_diameter and bore [m]. Without resonance and
    without the notch of a thread, which multiplies it two to three times.
    """
    positive("mass", mass, "kg")
    not_negative("acceleration", acceleration, "m/s2")
    moment = mass * acceleration * positive("arm", arm, "m")
    return moment * outside_diameter / 2 / second_moment(outside_diameter, bore)


def resonance_gain(frequency_ratio: float, damping: float) -> float:
    """Times [-] by which a shake is magnified: 1 / sqrt((1 - r^2)^2 + (2 zeta r)^2).

    frequency_ratio r [-] of the shake to the natural frequency, damping zeta [-] of critical; 1 / (2 zeta)
    at r = 1.
    """
    not_negative("frequency ratio", frequency_ratio, "(no unit)")
    positive("damping", within("damping", damping, 0, 1, "of critical"), "of critical")
    return 1 / sqrt((1 - frequency_ratio**2) ** 2 + (2 * damping * frequency_ratio) ** 2)
