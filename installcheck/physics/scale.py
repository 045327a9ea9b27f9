"""Values that lie beyond the scale of an instrument or the range of a curve."""

from typing import Literal

from .validity import finite

Side = Literal["below", "above"]


class OffScaleError(ValueError):
    """A finite value beyond one end of a scale; `side` tells which end."""

    def __init__(self, message: str, side: Side) -> None:
        super().__init__(message)
        self.side: Side = side


def on_scale(name: str, value: float, low: float, high: float, unit: str) -> float:
    """Return `value` [unit] if it is finite and lies from `low` to `high` [unit], both included.

    >>> on_scale("type K emf", 57.9, -6.458, 54.886, "mV")
    Traceback (most recent call last):
    installcheck.physics.scale.OffScaleError: type K emf must be from -6.458 to 54.886 mV, not 57.9
    """
    if low <= value <= high:
        return value
    finite(name, value, unit)
    side: Side = "below" if value < low else "above"
    raise OffScaleError(f"{name} must be from {low:g} to {high:g} {unit}, not {value:g}", side)
