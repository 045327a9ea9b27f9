"""How the error of each indication scatters, in the terminal."""

from __future__ import annotations

from collections.abc import Iterable

from rich.console import Console
from rich.table import Table

from ...analysis.errors.error_budget import ErrorBudget
from ...analysis.errors.scatter import Scatter
from ...analysis.true_value import difference_kind
from ...model.quantities import conversion, plain_number, show
from .words import seen


def print_scatter(
    scattered: Iterable[tuple[ErrorBudget, Scatter | None]], trials: int, console: Console
) -> None:
    """The 5, 50 and 95 percentiles of each error over seeded trials, beside the worst case."""
    table = Table(
        title=f"Errors over {trials} trials, percentiles", title_justify="left", box=None, pad_edge=False
    )
    for column in ("indication", "of", "point", "true", "5 %", "50 %", "95 %", "worst case"):
        table.add_column(column, justify="left" if column in ("indication", "of", "point") else "right")
    for budget, found in scattered:
        if found is None or budget.worst_case is None:
            continue
        factor = conversion(difference_kind(budget.kind), budget.unit)[0]
        numbers = (found.low, found.median, found.high, budget.worst_case)
        table.add_row(
            seen(budget.indication),
            seen(budget.source),
            seen(budget.point),
            seen(show(budget.true, budget.unit, budget.kind)),
            *(seen(f"{plain_number(n / factor)} {budget.unit}") for n in numbers),
        )
    console.print()
    console.print(table)
