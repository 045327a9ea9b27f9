"""A table of a paper: named columns, rows of text and numbers, and the notes that belong under it."""

from __future__ import annotations

from typing import TypeAlias

from ..dataclass import dataclass
from ..model.quantities import plain_number
from .figures import Figure

Cell: TypeAlias = str | float | int | None


@dataclass(frozen=True, slots=True)
class Table:
    """One paper.

    Attributes:
        name: short name: 'wire list'.
        columns: headings; a unit stands in brackets.
        rows: one tuple a row, as long as ``columns``; ``None`` where the document does not say. A ``Figure`` shows its text.
        notes: what a reader must know: allowances, temperatures, how totals are made.
        blank: columns meant to be filled in by hand.
    """

    name: str
    columns: tuple[str, ...]
    rows: tuple[tuple[Cell, ...], ...]
    notes: tuple[str, ...] = ()
    blank: tuple[str, ...] = ()


def cell_text(value: Cell) -> str:
    """A cell in words; empty where the document does not say."""
    if value is None:
        return ""
    if isinstance(value, Figure):
        return value.text
    return plain_number(value, 6) if isinstance(value, float) else str(value)


def rounded(value: float | None, digits: int = 4) -> float | None:
    """A number kept to ``digits`` significant digits, for a cell."""
    return None if value is None else float(f"{value:.{digits}g}")
