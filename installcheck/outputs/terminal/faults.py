"""Single faults in the terminal: what each takes away, what falls together, and what nothing notices."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable

from rich.console import Console
from rich.table import Table

from ...document import Document
from ...faults.play import Played
from ..wording import CAUTION
from .words import seen

_ORDER = (
    "dead supply",
    "open protector",
    "lost ground",
    "open wire",
    "short to ground",
    "burst line",
    "blocked line",
)


def print_faults(
    document: Document, point: str, played: Iterable[Played], console: Console, *, every: bool
) -> None:
    """One row a fault that an indication notices, then required indications that fall together, then counts.

    ``every`` lists the faults that no indication notices as well.
    """
    faults = sorted(played, key=lambda p: _ORDER.index(p.kind))
    header = document.installation.installation
    console.print(
        seen(f"{header.name}: every single fault", style="bold") + seen(f"  ({document.name}, at '{point}')")
    )
    table = Table(box=None, pad_edge=False)
    for column in ("fault", "at", "effect"):
        table.add_column(column, overflow="fold")
    for fault in faults:
        if fault.effects or fault.note or every:
            table.add_row(seen(fault.kind), seen(fault.at), seen(_told(fault)))
    console.print(table)
    _together(faults, console)
    quiet = sum(1 for f in faults if not f.effects)
    console.print()
    console.print(
        seen(
            f"{len(faults)} faults, {len(faults) - quiet} seen on an indication, {quiet} on none",
            style="bold",
        )
    )
    console.print(seen(CAUTION, style="dim"))


def _told(fault: Played) -> str:
    by_text: dict[str, list[str]] = defaultdict(list)
    for effect in fault.effects:
        by_text[effect.text].append(effect.indication)
    parts = [f"{', '.join(names)}: {text}" for text, names in by_text.items()]
    if fault.opens:
        parts.insert(0, f"opens {fault.opens}")
    if fault.note:
        parts.append(fault.note)
    return "; ".join(parts) or "no indication moves"


def _together(faults: list[Played], console: Console) -> None:
    groups: dict[tuple[str, ...], list[str]] = defaultdict(list)
    for fault in faults:
        if fault.together:
            groups[fault.together].append(f"{fault.kind} {fault.at}")
    if not groups:
        return
    console.print()
    console.print(seen("REQUIRED INDICATIONS THAT FALL TOGETHER", style="bold"))
    for names, causes in sorted(groups.items(), key=lambda g: (-len(g[0]), g[0])):
        shown = "; ".join(causes[:8]) + (f"; and {len(causes) - 8} more" if len(causes) > 8 else "")
        console.print(seen(f"  {', '.join(names)}"))
        console.print(seen(f"      by {shown}", style="dim"))
