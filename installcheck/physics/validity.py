"""Guards that keep NaN, infinity and impossible values out of a formula, and say what would be right."""

from math import isfinite

ABSOLUTE_ZERO = -273.15
"""Zero kelvin [degC]."""


def finite(name: str, value: float, unit: str) -> float:
    """Return `value` [unit] if it is a finite number.

    >>> finite("height", float("nan"), "m")
    Traceback (most recent call last):
    ValueError: height must be a finite number of m, not nan
    """
    if not isfinite(value):
        raise ValueError(f"{name} must be a finite number of {unit}, not {value}")
    return value


def positive(name: str, value: float, unit: str) -> float:
    """Return `value` [unit] if it is finite and more than zero."""
    if finite(name, value, unit) <= 0:
        raise ValueError(f"{name} must be more than 0 {unit}, not {value:g}")
    return value


def not_negative(name: str, value: float, unit: str) -> float:
    """Return `value` [unit] if it is finite and zero or more."""
    if finite(name, value, unit) < 0:
        raise ValueError(f"{name} must be 0 {unit} or more, not {value:g}")
    return value


def within(name: str, value: float, low: float, high: float, unit: str) -> float:
    """Return `value` [unit] if it is finite and lies from `low` to `high` [unit], both included."""
    if not low <= finite(name, value, unit) <= high:
        raise ValueError(f"{name} must be from {low:g} to {high:g} {unit}, not {value:g}")
    return value


def kelvin(name: str, temperature: float) -> float:
    """Return `temperature` [degC] in kelvin [K], refusing absolute zero and below."""
    if finite(name, temperature, "degC") <= ABSOLUTE_ZERO:
        raise ValueError(f"{name} must be above {ABSOLUTE_ZERO} degC, not {temperature:g}")
    return temperature - ABSOLUTE_ZERO
