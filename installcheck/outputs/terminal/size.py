"""Chosen gauges and protectors in the terminal: what each was, what it becomes, and the rule that binds it."""

from __future__ import annotations

from rich.console import Console
from rich.table import Table

from ...document import Document
from ...model.quantities import in_unit, plain_number
from ...sizing.size import Sizing
from ..wording import CAUTION
from .words import seen

THINNEST = "thinnest its part and terminals allow"
SMALLEST = "smallest rating stocked"


def weight_text(kilograms: float) -> str:
    """A weight in pounds: ``0.092 lb``."""
    return f"{plain_number(in_unit(kilograms, 'lb', 'mass'))} lb"


def print_sizing(document: Document, sizing: Sizing, console: Console) -> None:
    """Runs, protectors, the weight, what no size cures, and what was left as it is."""
    header = document.installation.installation
    console.print(seen(f"{header.name}: wire and protection", style="bold") + seen(f"  ({document.name})"))
    table = Table(box=None, pad_edge=False)
    for column in ("run", "was", "gauge", "weight", "bound by"):
        table.add_column(column, overflow="fold", justify="right" if column == "weight" else "left")
    for run in sizing.runs:
        bound = ", ".join(run.binding) or THINNEST
        if run.unjudged:
            bound += f"; cannot be judged: {', '.join(run.unjudged)}"
        was = f"{run.was} AWG" if run.was is not None else ""
        table.add_row(*(seen(t) for t in (run.run, was, f"{run.gauge} AWG", weight_text(run.weight), bound)))
    for one in sizing.protectors:
        was = f"{one.was:g} A" if one.was is not None else ""
        bound = ", ".join(one.binding) or SMALLEST
        table.add_row(*(seen(t) for t in (one.protector, was, f"{one.rating:g} A", "", bound)))
    console.print(table)
    told = f"wire chosen here: {weight_text(sizing.weight)}"
    if sizing.weight_before is not None:
        told += f", was {weight_text(sizing.weight_before)}"
    console.print()
    console.print(seen(told, style="bold"))
    if sizing.unmet:
        console.print()
        console.print(seen("NO SIZE CURES", style="bold"))
        for verdict in sizing.unmet:
            console.print(seen(f"  {verdict.message} ({verdict.rule})"))
    if sizing.left:
        console.print()
        console.print(seen("LEFT AS IT IS", style="bold"))
        for ident, why in sizing.left:
            console.print(seen(f"  {ident}: {why}"))
    console.print()
    console.print(seen(CAUTION, style="dim"))
