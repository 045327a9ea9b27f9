"""Figures of the papers as a person at a bench reads and writes them: ``0.1 milliohm``, ``1 ft 3 1/4 in``."""

from __future__ import annotations

from fractions import Fraction
from math import ceil, floor, isfinite

from ..graph import total_length
from ..model.fluid import FluidLine
from ..model.quantities import in_unit, plain_number
from ..model.routes import RouteStep
from ..model.wiring import WireRun

_METRIC = frozenset(("mm", "cm", "m"))
_PARTS = 4
"""Parts of an inch a rule of the shop is read to."""
_SMALL_OHM = 0.005
"""ohm, at and below which only a milliohmmeter reads, and a person speaks of milliohms."""


class Figure(float):
    """A number in SI that a cell shows as ``text``; it sorts as the number it is."""

    __slots__ = ("text",)
    text: str

    def __new__(cls, si: float, text: str) -> Figure:
        made = super().__new__(cls, si)
        made.text = text
        return made


def ohms(value: float | None) -> Figure | None:
    """A resistance.

    >>> [ohms(r).text for r in (9.333e-05, 0.001335, 0.02628, 0.5681, 98.45, 4275.0)]
    ['0.1 milliohm', '1.3 milliohm', '0.026 ohm', '0.568 ohm', '98.5 ohm', '4275 ohm']
    """
    if value is None:
        return None
    if not isfinite(value):
        return Figure(value, "open")
    if 0 < value <= _SMALL_OHM:
        return Figure(value, f"{max(0.1, round(value * 1000, 1)):g} milliohm")
    return Figure(value, f"{plain_number(round(value, 3))} ohm")


def feet_and_inches(metres: float, *, up: bool = False) -> str:
    """A length to a quarter of an inch, the nearest or, for what is cut, the next above.

    >>> feet_and_inches(0.3848), feet_and_inches(0.3848, up=True), feet_and_inches(3.6576), feet_and_inches(0.0508)
    ('1 ft 3 1/4 in', '1 ft 3 1/4 in', '12 ft', '2 in')
    """
    inches = in_unit(metres, "in", "length") * _PARTS
    whole = ceil(round(inches, 6)) if up else floor(inches + 0.5)
    feet, parts = divmod(whole, 12 * _PARTS)
    inch, rest = divmod(parts, _PARTS)
    said = [str(inch)] if inch else []
    said += [str(Fraction(rest, _PARTS))] if rest else []
    words = ([f"{feet} ft"] if feet else []) + ([f"{' '.join(said)} in"] if said else [])
    return " ".join(words) or "0 in"


def length(metres: float | None, run: WireRun | FluidLine, *, up: bool = False) -> Figure | None:
    """A length in the system of measures in which the document gives the run's own.

    ``up`` rounds to the next above, for what is cut.
    """
    if metres is None:
        return None
    if _is_metric(run):
        millimetres = ceil(round(metres * 1000, 6)) if up else floor(metres * 1000 + 0.5)
        return Figure(metres, f"{millimetres} mm")
    return Figure(metres, feet_and_inches(metres, up=up))


def route(run: WireRun | FluidLine) -> str | None:
    """A route in one line, as a document takes it: ``engine 2 ft, firewall by grommet 1/2 in clear, cabin 1 ft 6 in``."""
    return ", ".join(_step(step, run) for step in run.route or ()) or None


def _step(step: RouteStep, run: WireRun | FluidLine) -> str:
    if step.zone is not None:
        told = length(step.length, run)
        return step.zone if told is None else f"{step.zone} {told.text}"
    words = [str(step.barrier)]
    if step.through is not None:
        words += ["by", step.through, *([step.fitting] if step.fitting else [])]
        words += [f"{step.clearance.text} clear"] if step.clearance is not None else []
    return " ".join(words)


def _is_metric(run: WireRun | FluidLine) -> bool:
    told = run.length or next((s.length for s in run.route or () if s.length is not None), None)
    return told is not None and told.unit in _METRIC and total_length(run) is not None
