"""The one convention by which two figures are compared.

Two figures that agree to a millionth are the same figure: 24 in and 2 ft, 3 in and 76.2 mm differ only in the last bits
of a conversion. Whatever is compared with a limit is compared by these functions.
"""

from __future__ import annotations

from math import isclose

SAME = 1e-6
"""Largest share by which two figures that are the same differ [-]: above the error of any conversion of units, below
anything a person measures."""


def same(value: float, other: float) -> bool:
    """Whether two figures are the same.

    >>> same(24 * 0.0254, 2 * 0.3048)
    True
    """
    return isclose(value, other, rel_tol=SAME, abs_tol=1e-12)


def room_below(value: float, limit: float) -> float:
    """How far a value is below a limit that it may not exceed: 0 where they are the same, negative where it exceeds it.

    >>> room_below(76.2 / 25.4, 3.0)
    0.0
    """
    return 0.0 if same(value, limit) else limit - value


def room_above(value: float, limit: float) -> float:
    """How far a value is above a limit that it may not fall short of: 0 where they are the same."""
    return 0.0 if same(value, limit) else value - limit


def at_most(value: float, limit: float) -> bool:
    """Whether a value is no more than a limit."""
    return room_below(value, limit) >= 0


def at_least(value: float, limit: float) -> bool:
    """Whether a value is no less than a limit."""
    return room_above(value, limit) >= 0
