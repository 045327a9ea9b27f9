"""How far wires keep from lines that burn, asked alike of the wires and of the line."""

from __future__ import annotations

from typing import Literal, NamedTuple

from ...model.comparing import at_least
from .. import missing
from ..missing import Missing

_FAR_IN, _NEAR_IN, _LEAST_IN = 6.0, 2.0, 0.5
"""Inch: normal, with both clamped (AC 43.13-1B 11-96), positively held apart (a military wiring specification,
second-hand)."""

Case = Literal["far", "least", "drip", "loose", "clamped"]


class Apart(NamedTuple):
    """What is asked of a distance between wires and a line that burns.

    Attributes:
        limit: inches.
        case: 'far', 'least' (nearer than anything allows), 'drip' (the wires lie below the line), 'loose' (not both
            clamped) or 'clamped'.
        practice: whether a distance below the limit is only against good practice.
    """

    limit: float
    case: Case
    practice: bool = False


def apart(inches: float, wires: str | None, clamped: bool | None) -> Apart | Missing:
    """The limit for a distance, or what is missing to know it.

    Args:
        inches: smallest distance.
        wires: where the wires are, seen from the line; ``None`` if not said.
        clamped: whether both are held so that they cannot touch; ``None`` if not said.
    """
    if at_least(inches, _FAR_IN):
        return Apart(_FAR_IN, "far")
    if not at_least(inches, _LEAST_IN):
        return Apart(_NEAR_IN, "least")
    if wires == "below":
        return Apart(_FAR_IN, "drip")
    if clamped is None:
        return missing.CLAMPING
    if not clamped:
        return Apart(_FAR_IN, "loose")
    if wires is None:
        return missing.LINE_POSITION
    return Apart(_NEAR_IN, "clamped", practice=True)
