"""Friction of a fluid in a smooth round bore, laminar and turbulent, erring toward the larger flow."""

from functools import cache
from math import log10, pi

from .validity import not_negative, positive, within

CRITICAL_ZONE_END = 4000.0
"""Reynolds number [-] from which flow is surely turbulent: Moody, Trans. ASME 66 (1944)."""

CLIMB_START = 3500.0
"""Reynolds number [-] where friction starts to climb from the laminar to the turbulent law."""

HIGHEST_REYNOLDS = 1e8
"""Reynolds number [-] at which the friction chart of Moody (1944) ends."""


def bore_area(bore: float) -> float:
    """Area [m2] of a round `bore` [m]."""
    return pi / 4 * positive("bore", bore, "m") ** 2


def reynolds_number(flow: float, bore: float, kinematic_viscosity: float) -> float:
    """Reynolds number [-] of `flow` [m3/s] in a round `bore` [m] of a fluid of kinematic_viscosity [m2/s]."""
    not_negative("flow", flow, "m3/s")
    positive("kinematic viscosity", kinematic_viscosity, "m2/s")
    return 4 * flow / (pi * positive("bore", bore, "m") * kinematic_viscosity)


def friction_factor(reynolds: float) -> float:
    """Darcy friction factor [-] of a smooth round bore at Reynolds number `reynolds` [-], up to 1e8.

    Laminar 64/Re and turbulent Colebrook without roughness. In the critical zone, 2000 to 4000, flow may be
    either. The laminar friction, which is the smaller, is kept to 3500 and then climbs in a straight line
    to the turbulent value at 4000: so neither friction nor leak jumps, and a leak is never understated; it
    may be overstated by up to two thirds there. Source: Moody, Trans. ASME 66 (1944).

    >>> round(friction_factor(1e5), 4)
    0.018
    """
    positive("Reynolds number", reynolds, "(no unit)")
    return friction_factor_unguarded(within("Reynolds number", reynolds, 0, HIGHEST_REYNOLDS, "(no unit)"))


def friction_factor_unguarded(reynolds: float) -> float:
    """The same without its guards, for a solver that has checked its numbers once."""
    if reynolds <= CLIMB_START:
        return 64 / reynolds
    if reynolds >= CRITICAL_ZONE_END:
        return _colebrook_smooth(reynolds)
    start = 64 / CLIMB_START
    share = (reynolds - CLIMB_START) / (CRITICAL_ZONE_END - CLIMB_START)
    return start + share * (_critical_zone_end_friction() - start)


def _colebrook_smooth(reynolds: float) -> float:
    # x = 1/sqrt(f) solves x = -2 log10(2.51 x / Re); from Re 4000 each step shrinks the error fivefold.
    x = 7.0
    while True:
        following = -2 * log10(2.51 * x / reynolds)
        if abs(following - x) < 1e-13 * x:
            return 1 / (following * following)
        x = following


@cache
def _critical_zone_end_friction() -> float:
    return _colebrook_smooth(CRITICAL_ZONE_END)


def laminar_resistance(bore: float, length: float, dynamic_viscosity: float) -> float:
    """Pressure per flow [Pa s/m3] in laminar flow: 128 mu L / (pi d^4).

    bore [m], length [m], dynamic_viscosity mu [Pa s]. Source: White, Fluid Mechanics, section 6.4.
    """
    not_negative("length", length, "m")
    positive("dynamic viscosity", dynamic_viscosity, "Pa s")
    return 128 * dynamic_viscosity * length / (pi * positive("bore", bore, "m") ** 4)


def hagen_poiseuille_flow(
    bore: float, length: float, pressure_drop: float, dynamic_viscosity: float
) -> float:
    """Laminar flow [m3/s] through a bore: Q = pi d^4 dp / (128 mu L), its ends not counted.

    bore [m], length [m], pressure_drop [Pa], dynamic_viscosity [Pa s]. Above Reynolds number 2300 it
    overstates.
    """
    not_negative("pressure drop", pressure_drop, "Pa")
    resistance = laminar_resistance(bore, positive("length", length, "m"), dynamic_viscosity)
    return pressure_drop / positive("resistance of the line", resistance, "Pa s/m3")
