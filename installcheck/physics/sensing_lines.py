"""What a fluid line does to the reading at its end: head, lag, trapped liquid, heat, and what it holds."""

from collections.abc import Sequence
from math import log

from .flow import Segment
from .friction import bore_area, laminar_resistance
from .validity import finite, not_negative, positive, within

STANDARD_GRAVITY = 9.80665
"""Standard acceleration of gravity [m/s2]: NIST SP 330, exact."""


def head_pressure(density: float, height: float) -> float:
    """Pressure [Pa] of a liquid column: rho g h. A gauge `height` [m] above its tap reads low by this.

    density [kg/m3]; a negative height, the gauge below the tap, gives the negative: it reads high. The same
    for a slug of condensate or fuel that stands in a vertical run of a manifold-pressure line.

    >>> round(head_pressure(720, 0.6) / 6894.757, 3)  # psi
    0.614
    """
    return positive("density", density, "kg/m3") * STANDARD_GRAVITY * finite("height", height, "m")


def pneumatic_lag(
    line: Sequence[Segment], instrument_volume: float, pressure: float, dynamic_viscosity: float
) -> float:
    """Time constant [s] of a gas-filled line: laminar resistance times the gas fed, over p.

    line from the tap to the gauge, instrument_volume [m3], absolute pressure p [Pa], dynamic_viscosity [Pa
    s] of the gas. A segment feeds half of its own volume and all behind it; changes are slow enough to stay
    at one temperature. For one bore this is 128 mu L (V + V_line/2) / (pi d^4 p). Background: NACA TN 2793.
    """
    not_negative("instrument volume", instrument_volume, "m3")
    positive("pressure", pressure, "Pa")
    fed = instrument_volume
    lag = 0.0
    for segment in reversed(line):
        own = bore_area(segment.bore) * segment.length
        lag += (
            laminar_resistance(segment.bore, segment.length, dynamic_viscosity) * (fed + own / 2) / pressure
        )
        fed += own
    return lag


def liquid_lag(line: Sequence[Segment], displacement: float, dynamic_viscosity: float) -> float:
    """Time constant [s] of a direct gauge behind a liquid-filled line: laminar resistance times displacement.

    displacement [m3/Pa] is the volume the gauge takes in per pressure, dynamic_viscosity [Pa s] that of the
    coldest oil in the line. For one bore this is (128 mu L / (pi d^4)) dV/dp.
    """
    positive("displacement of the gauge", displacement, "m3/Pa")
    return displacement * sum(
        laminar_resistance(segment.bore, segment.length, dynamic_viscosity) for segment in line
    )


def time_to_show(time_constant: float, fraction: float) -> float:
    """Time [s] until a gauge of `time_constant` [s] shows a `fraction` [-] of a step."""
    not_negative("time constant", time_constant, "s")
    within("fraction shown", fraction, 0, 0.999999, "of the step")
    return -time_constant * log(1 - fraction)


def acoustic_delay(length: float, speed_of_sound: float) -> float:
    """Time [s] a pressure change needs at least to run a line's `length` [m] at the speed_of_sound [m/s]."""
    return not_negative("length", length, "m") / positive("speed of sound", speed_of_sound, "m/s")


def line_inventory(line: Sequence[Segment]) -> float:
    """Volume [m3] a line holds, which still drains after its source is shut."""
    return sum(bore_area(segment.bore) * segment.length for segment in line)


def thermal_growth(expansion: float, length: float, temperature_rise: float) -> float:
    """Growth [m] of a tube: alpha L dT.

    expansion [1/K], length [m], temperature_rise [K], negative when cooled.
    """
    positive("thermal expansion", expansion, "1/K")
    return expansion * not_negative("length", length, "m") * finite("temperature rise", temperature_rise, "K")


def thermal_lock_pressure(expansion: float, bulk_modulus: float, temperature_rise: float) -> float:
    """Pressure rise [Pa] of liquid blocked in a rigid line: beta K dT.

    expansion [1/K] of volume, bulk_modulus [Pa], temperature_rise [K]. The tube's own give is left out, so
    the true rise is a little lower.
    """
    positive("thermal expansion", expansion, "1/K")
    positive("bulk modulus", bulk_modulus, "Pa")
    return expansion * bulk_modulus * not_negative("temperature rise", temperature_rise, "K")
