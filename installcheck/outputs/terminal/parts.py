"""Parts in the terminal: one line each, or one with its terminals, sizes, figures, source and the lines to paste."""

from __future__ import annotations

from collections.abc import Sequence

from rich.console import Console

from ...document.part_search import figures, lines_for, terminals
from ...document.parts import Part
from .words import seen

MOST_SIZES = 8
"""Sizes of a part shown in a list; all of them where it is shown alone."""


def print_parts(parts: Sequence[Part], console: Console) -> None:
    """One line for each part, by section."""
    for section in dict.fromkeys(part.section for part in parts):
        console.print(seen(section.replace("_", " "), style="bold"))
        for part in parts:
            if part.section == section:
                console.print(seen(f"  {part.key}" + _sizes(part)))
        console.print()


def _sizes(part: Part) -> str:
    names = part.as_written()
    if not names:
        return ""
    more = f" and {len(names) - MOST_SIZES} more" if len(names) > MOST_SIZES else ""
    return f"  ({', '.join(names[:MOST_SIZES])}{more})"


def print_part(part: Part, console: Console) -> None:
    """Everything of one part."""
    console.print(seen(part.key, style="bold") + seen(f"  {part.raw.get('title') or ''}"))
    rows = [("section", part.section)]
    ends = list(terminals(part))
    if ends:
        rows.append(("terminals", ", ".join(ends)))
    if part.sizes:
        rows.append(("sizes", ", ".join(part.as_written())))
    rows += [(w.replace("_", " "), v) for w, v in figures(part) if w not in ("terminals", "ports")]
    width = max(len(label) for label, _ in rows)
    for label, value in rows:
        console.print(seen(f"  {label:<{width}}  {value}"), soft_wrap=True)
    console.print(seen(f"  {'source':<{width}}  {part.raw.get('source') or 'not stated'}"), soft_wrap=True)
    console.print()
    console.print(seen("to paste; what stands as '...' is yours:", style="bold"))
    for line in lines_for(part):
        console.print(seen(line), soft_wrap=True)
