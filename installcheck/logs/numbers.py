"""Cells of a recorder log as numbers: blanks, 'NA' and words missing, decimal points or commas, a unit behind
the value."""

import re
from collections.abc import Iterable, Sequence
from math import isfinite, nan

import numpy as np
from numpy.typing import NDArray

from .cells import Cells
from .columns import unit_word

Floats = NDArray[np.float64]

_MISSING = frozenset(
    ("", "na", "n/a", "#n/a", "nan", "null", "none", "-", "--", "---", "----", "*", "**", "***", "?", "x")
)
_PLAIN = re.compile(r" *[-+]?[0-9]{1,12}(?:\.[0-9]{1,12})? *")
_SIGN = re.compile(r"\s*\"?[-+]?[0-9]+([.,])[0-9]+(?:[eE][-+]?[0-9]+)?[^0-9.,:]*")
_VALUE = re.compile(r"([-+]?)([0-9][0-9.,]*|[.,][0-9]+)(?:[eE]([-+]?[0-9]{1,3}))?\s*([^0-9]{0,12})")


def median(values: Sequence[float] | Floats) -> float:
    """The middle one of some values, the mean of the two middle ones of an even number; NaN if one is.

    ``numpy.median`` gives the same and loads the masked arrays first, which takes longer than a short log.
    """
    ordered = np.sort(np.asarray(values, dtype=np.float64))
    low, high = ordered[(len(ordered) - 1) // 2], ordered[len(ordered) // 2]
    return nan if np.isnan(ordered[-1]) else float((low + high) / 2)


def at_share(values: Floats, share: float) -> float:
    """The value below which a share (0 to 1) of some values lies, between two of them in proportion."""
    place = (len(values) - 1) * share
    low = int(place)
    high = min(low + 1, len(values) - 1)
    ordered = np.partition(values, (low, high))
    return float(ordered[low] + (ordered[high] - ordered[low]) * (place - low))


def medians(rows: Floats) -> Floats:
    """The median of each column, of those of its values that are not NaN; each column has one at least."""
    ordered = np.sort(rows, axis=0)
    known = (~np.isnan(rows)).sum(axis=0)
    low, high = (np.take_along_axis(ordered, at[None], axis=0)[0] for at in ((known - 1) // 2, known // 2))
    middle: Floats = (low + high) / 2
    return middle


class Numbers:
    """Reads the texts of a column as numbers.

    `decimal` is the decimal sign of the log; the other sign only counts where it groups thousands. `bad`
    are texts that are no number, `units` the unit words found behind values.
    """

    def __init__(self, decimal: str) -> None:
        self.decimal = decimal
        self.bad: list[str] = []
        self.units: set[str] = set()

    def read(self, text: str) -> float:
        """The number a text stands for; NaN for a missing value."""
        cell = text.strip().strip('"').strip()
        if cell.casefold() in _MISSING:
            return nan
        match = _VALUE.fullmatch(cell) if len(cell) <= 64 else None
        digits = None if match is None else self._plain(match[2])
        if match is None or digits is None:
            self.bad.append(text)
            return nan
        if match[4]:
            self.units.add(unit_word(match[4]))
        value = float(f"{match[1]}{digits}e{match[3] or 0}")
        if not isfinite(value):
            self.bad.append(text)
            return nan
        return value

    def _plain(self, digits: str) -> str | None:
        """`digits` with a decimal point and no grouping, or None where the signs make no sense."""
        group = "," if self.decimal == "." else "."
        whole, _, part = digits.partition(self.decimal)
        if group in part or self.decimal in part:
            return None
        if group in whole:
            if not re.fullmatch(rf"[0-9]{{1,3}}(?:{re.escape(group)}[0-9]{{3}})+", whole):
                return None
            whole = whole.replace(group, "")
        return f"{whole or 0}.{part or 0}"


def decimal_sign(cells: Iterable[str]) -> str:
    """The decimal sign that most of `cells` use; a point where none uses either."""
    signs = {".": 0, ",": 0}
    for cell in cells:
        match = _SIGN.fullmatch(cell, 0, 64)
        if match:
            signs[match[1]] += 1
    return "," if signs[","] > signs["."] else "."


def column_numbers(cells: Cells, decimal: str) -> tuple[Floats, Numbers]:
    """A column of `cells` as an array, NaN where a value is missing, and what was met on the way."""
    numbers = Numbers(decimal)
    plain, point = _PLAIN.fullmatch, decimal == "."
    read = [float(text) if point and plain(text) else numbers.read(text) for text in cells.texts]
    values = np.array(read, dtype=np.float64)
    return values[cells.codes], numbers


def division(values: Floats) -> float:
    """The smallest step between any two values of a channel: what its recorder resolves. 0 for a constant."""
    steps = np.diff(np.sort(values[np.isfinite(values)]))
    steps = steps[steps > 1e-6]
    return float(steps.min()) if len(steps) else 0.0
