"""What a document says once and means of many things, in the terminal: each with whom it counts for and where it was said."""

from __future__ import annotations

from collections.abc import Mapping

from rich.console import Console

from ...document import Document, Place
from ...document.expansion import SAID_ONCE
from ...document.flow import value_at
from .words import seen

_SHOWN = 12
"""Things named of those a usual field counts for."""


def print_implied(document: Document, console: Console) -> None:
    """Every value things do not write themselves, gathered by where it was said; nothing if there is none."""
    found: dict[tuple[Place, str, str, str, str], list[str]] = {}
    for section, things in document.expansion.whole.items():
        if section in SAID_ONCE or not isinstance(things, dict):
            continue
        for ident, raw in things.items():
            full = document.expansion.item(section, ident, raw)
            for word, value in full.items() if isinstance(full, Mapping) else ():
                path = (section, ident, word)
                said = document.said(path)
                if said is not None and said[0]:
                    told = said[1], said[0], section, word, value_at(document.declared_unknown, value, path)
                    found.setdefault(told, []).append(ident)
    if not found:
        return
    console.print()
    console.print(seen(f"SAID ONCE ({len(found)})", style="bold"))
    for (place, words, section, word, value), idents in sorted(found.items()):
        more = f" and {len(idents) - _SHOWN} more" if len(idents) > _SHOWN else ""
        console.print(seen(f"  {word}: {value}"), soft_wrap=True)
        console.print(
            seen(f"      {words}, {place}; {section}: {', '.join(idents[:_SHOWN])}{more}", style="dim"),
            soft_wrap=True,
        )
