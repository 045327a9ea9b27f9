"""Tables of the papers in the terminal."""

from __future__ import annotations

from rich.console import Console
from rich.table import Table as Shown

from ...files.names import visible
from ...papers.tables import Table, cell_text
from .words import seen


def print_table(table: Table, console: Console) -> None:
    """One table in the terminal, without the columns that are empty; piped, no line is folded."""
    kept = [
        at
        for at, name in enumerate(table.columns)
        if name in table.blank or any(row[at] not in (None, "") for row in table.rows)
    ]
    shown = Shown(box=None, pad_edge=False, header_style="bold")
    width = 0
    for at in kept:
        cells = [visible(cell_text(row[at])) for row in table.rows]
        number = all(not isinstance(row[at], str) for row in table.rows)
        shown.add_column(seen(table.columns[at]), justify="right" if number else "left", overflow="fold")
        width += 2 + max(len(text) for text in (table.columns[at], *cells))
    for row in table.rows:
        shown.add_row(*(seen(cell_text(row[at])) for at in kept))
    if not console.is_terminal:
        console.width = max(console.width, width)
    console.print(seen(table.name, style="bold"))
    console.print(shown)
    for note in table.notes:
        console.print(seen(note, style="dim"))
    console.print()
