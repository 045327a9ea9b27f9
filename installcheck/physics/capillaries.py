"""Capillary temperature gauges: vapour-pressure and liquid-filled systems, and the run of the capillary.

Pressure in Pa absolute unless it says otherwise, temperature in degC, length and height in m.
"""

from collections.abc import Iterable
from functools import cache
from math import exp, log, pi

from ..dataclass import dataclass
from .scale import on_scale
from .tables import read_table, unknown
from .validity import ABSOLUTE_ZERO, finite, not_negative, positive, within

GRAVITY = 9.80665
"""Standard gravity [m/s^2]: NIST SP 811, appendix B.8."""

SEA_LEVEL_PA = 101_325.0
"""Standard sea-level pressure [Pa]: ISO 2533."""


@dataclass(frozen=True, slots=True)
class VapourFill:
    """ln p = a - b / (T + c), p [kPa absolute], T [K], from `t_low_c` to `t_high_c` [degC]; liquid `density`
    [kg/m3]."""

    a: float
    b: float
    c: float
    t_low_c: float
    t_high_c: float
    density: float


@cache
def vapour_fill(name: str) -> VapourFill:
    """The fill of a vapour-pressure bulb by its name: diethyl ether or sulfur dioxide, good to a few
    percent."""
    rows = read_table("capillary_fills")
    for row in rows:
        if row["fill"] == name:
            return VapourFill(
                *(float(row[column]) for column in ("a", "b", "c", "t_low_c", "t_high_c", "density"))
            )
    raise unknown("capillary fill", name, [row["fill"] for row in rows])


def vapour_pressure_pa(fill: VapourFill, t_c: float) -> float:
    """Pressure [Pa absolute] in the bulb at `t_c` [degC].

    >>> round(vapour_pressure_pa(vapour_fill("diethyl ether"), 80), -2)
    402900.0
    """
    on_scale("temperature of vapour-pressure bulb", t_c, fill.t_low_c, fill.t_high_c, "degC")
    return 1000 * exp(fill.a - fill.b / (t_c - ABSOLUTE_ZERO + fill.c))


def vapour_temperature_c(fill: VapourFill, pressure_pa: float) -> float:
    """Temperature [degC] at which the bulb has `pressure_pa` [Pa absolute]."""
    lowest, highest = (vapour_pressure_pa(fill, t) for t in (fill.t_low_c, fill.t_high_c))
    on_scale("vapour pressure", pressure_pa, lowest, highest, "Pa")
    return fill.b / (fill.a - log(pressure_pa / 1000)) - fill.c + ABSOLUTE_ZERO


def vapour_indicated_c(
    fill: VapourFill,
    t_bulb_c: float,
    ambient_pa: float = SEA_LEVEL_PA,
    calibrated_pa: float = SEA_LEVEL_PA,
    bulb_above_gauge_m: float = 0.0,
) -> float:
    """Reading [degC] of a vapour-pressure gauge.

    The Bourdon tube feels bulb pressure less the pressure round it, `ambient_pa` [Pa] (that in its case,
    where sealed), and its scale supposes `calibrated_pa` [Pa]: the reading is high at altitude.
    `bulb_above_gauge_m` [m] counts only where liquid fills the capillary, that is where the bulb is the
    hotter end; else leave it 0.
    """
    positive("ambient pressure", ambient_pa, "Pa")
    positive("calibration pressure", calibrated_pa, "Pa")
    head = head_pa(fill.density, bulb_above_gauge_m)
    return vapour_temperature_c(fill, vapour_pressure_pa(fill, t_bulb_c) + head + calibrated_pa - ambient_pa)


def head_pa(density: float, bulb_above_gauge_m: float) -> float:
    """Pressure [Pa] a capillary full of liquid of `density` [kg/m3] adds at the gauge; negative for a bulb
    below it."""
    return positive("density", density, "kg/m3") * GRAVITY * finite("height", bulb_above_gauge_m, "m")


def isa_pressure_pa(altitude_m: float) -> float:
    """Pressure [Pa] of the standard atmosphere at `altitude_m` [m], -1000 to 11000: ISO 2533.

    >>> round(isa_pressure_pa(3048), -2)  # 10 000 ft
    69700.0
    """
    within("altitude", altitude_m, -1000, 11_000, "m")
    return SEA_LEVEL_PA * float((1 - 2.25577e-5 * altitude_m) ** 5.25588)


def liquid_filled_error_c(
    bulb_m3: float,
    parts: Iterable[tuple[float, float]],
    t_calibrated_c: float,
    compensated_share: float = 0.0,
) -> float:
    """Error [degC] of a liquid-filled gauge from the warmth of its capillary and Bourdon tube.

    `parts` are volume [m3] and temperature [degC] of each length of capillary and of the Bourdon tube,
    `bulb_m3` the volume of the bulb [m3]. Liquid there expands as that in the bulb does, so each part errs by
    its share of the bulb's volume times its departure from `t_calibrated_c` [degC]. `compensated_share` is
    what a case compensator takes away.

    >>> round(liquid_filled_error_c(2e-6, [(0.1e-6, 80)], 20), 6)
    3.0
    """
    positive("bulb volume", bulb_m3, "m3")
    finite("calibration temperature", t_calibrated_c, "degC")
    within("compensated share", compensated_share, 0, 1, "of the error")
    excess = sum(
        not_negative("volume", volume, "m3") * (finite("temperature", t, "degC") - t_calibrated_c)
        for volume, t in parts
    )
    return (1 - compensated_share) * excess / bulb_m3


def capillary_volume_m3(bore_m: float, length_m: float) -> float:
    """Volume [m3] of a capillary of bore `bore_m` [m] and `length_m` [m]."""
    return pi / 4 * positive("bore", bore_m, "m") ** 2 * not_negative("length", length_m, "m")


def spare_length_m(capillary_m: float, route_m: float) -> float:
    """Length [m] of capillary left over on a route; negative: too short, and it cannot be spliced."""
    return positive("capillary length", capillary_m, "m") - not_negative("route length", route_m, "m")


def coil_turns(spare_m: float, radius_m: float) -> float:
    """Turns that `spare_m` [m] of capillary makes at a coil radius of `radius_m` [m]."""
    return not_negative("spare length", spare_m, "m") / (2 * pi * positive("coil radius", radius_m, "m"))


@cache
def least_bend_radius_m(metal: str) -> float:
    """Smallest bend radius [m] of a capillary of `metal`: stainless steel, copper, or default where no
    maker's figure is known. Industrial figures; the gauge maker's own come first."""
    rows = read_table("capillary_bends")
    for row in rows:
        if row["metal"] == metal:
            return float(row["radius_mm"]) / 1000
    raise unknown("capillary metal", metal, [row["metal"] for row in rows])
