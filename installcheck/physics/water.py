"""Water, as it boils in the cup that a bulb is proved in."""

from __future__ import annotations

from math import log


def boiling_point_c(pressure_pa: float) -> float:
    """Boiling point of water in degC at a pressure in Pa, 50 to 110 kPa.

    Clausius-Clapeyron from 100 degC at 101325 Pa with 40.66 kJ/mol (textbook enthalpy of vaporisation).

    >>> round(boiling_point_c(101325.0), 1), round(boiling_point_c(84556.0), 0)
    (100.0, 95.0)
    """
    if not 50_000 <= pressure_pa <= 110_000:
        raise ValueError(f"boiling point is worked out from 50 to 110 kPa, not {pressure_pa / 1000:.1f} kPa")
    return 1 / (1 / 373.15 - 8.314 / 40_660 * log(pressure_pa / 101_325)) - 273.15
